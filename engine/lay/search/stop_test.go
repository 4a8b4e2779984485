package search

import (
	"context"
	"flag"
	"math/rand/v2"
	"sort"
	"testing"
	"time"

	"slipseat/engine/lay/jobs"
)

var stops = flag.Int("stops", 0, "number of searches to stop in TestStopLatency; 0 for none")

// TestStopLatency prints how long a search goes on after it is stopped, for
// reading by eye: a test must not hang on a clock.
func TestStopLatency(t *testing.T) {
	if *stops == 0 {
		t.Skip("no searches to stop were asked for (-stops)")
	}
	type late struct {
		d      time.Duration
		n      int
		traits []string
		after  time.Duration
	}
	var all []late
	r := rand.New(rand.NewPCG(3, 3))
	for n := range *stops {
		j := jobs.New(77, n)
		start, faults := First(j.Problem)
		if len(faults) > 0 {
			continue
		}
		ctx, stop := context.WithCancel(context.Background())
		after := time.Duration(r.IntN(900)) * time.Millisecond
		var at time.Time
		timer := time.AfterFunc(after, func() { at = time.Now(); stop() })
		Improve(ctx, j.Problem, start, Options{Seed: 1, Workers: 1})
		end := time.Now()
		if timer.Stop() {
			stop()
			continue // ended by itself
		}
		all = append(all, late{end.Sub(at), n, j.Traits(), after})
	}
	sort.Slice(all, func(a, b int) bool { return all[a].d > all[b].d })
	for i, l := range all {
		if i < 25 {
			t.Logf("%v after a stop at %v: job %d %v", l.d, l.after, l.n, l.traits)
		}
	}
	if len(all) > 0 {
		t.Logf("%d searches stopped, median %v, 95th percentile %v", len(all), all[len(all)/2].d, all[len(all)/20].d)
	}
}

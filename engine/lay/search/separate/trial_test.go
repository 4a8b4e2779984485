//go:build unix

package separate

import (
	"context"
	"flag"
	"fmt"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"slipseat/engine/lay"
)

// cpuTime is the processor time this process has used.
func cpuTime() time.Duration {
	var r syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &r); err != nil {
		return 0
	}
	return time.Duration(r.Utime.Nano() + r.Stime.Nano())
}

var (
	trialNames   = flag.String("lay", "", "instances to try, comma separated")
	trialSecs    = flag.Float64("laysecs", 10, "CPU seconds of a trial on one core")
	trialEvals   = flag.Int64("layevals", 0, "evaluations of a trial, 0 for no limit")
	trialWorkers = flag.Int("layworkers", 1, "workers of a trial")
	trialSeed    = flag.Uint64("layseed", 1, "seed of a trial")
)

// TestTrial lays the instances named by -lay and prints what it reached.
func TestTrial(t *testing.T) {
	if *trialNames == "" {
		t.Skip("no instance named with -lay")
	}
	runtime.GOMAXPROCS(*trialWorkers)
	for _, name := range strings.Split(*trialNames, ",") {
		in, p := readInstance(t, name)
		ctx, cancel := context.WithCancel(context.Background())
		defer cancel()
		budget := time.Duration(*trialSecs * float64(time.Second))
		start := cpuTime()
		go func() {
			for cpuTime()-start < budget {
				time.Sleep(5 * time.Millisecond)
			}
			cancel()
		}()
		var marks []string
		next := 1.0
		var last lay.Lay
		m := newModel(p, 1)
		dens := func(l lay.Lay) float64 { return m.area / (m.bins[0].width * float64(l.Length) * perMM) * 100 }
		got := Improve(ctx, p, lay.Lay{}, Options{Seed: *trialSeed, Evaluations: *trialEvals, Workers: *trialWorkers, Report: func(l lay.Lay) {
			if sec := (cpuTime() - start).Seconds(); last.Length > 0 && sec > next {
				for ; sec > next; next *= 2 {
				}
				marks = append(marks, fmt.Sprintf("%.1fs %.2f", sec, dens(l)))
			}
			last = l
		}})
		sec := (cpuTime() - start).Seconds()
		t.Logf("%s seed %d: %.2f %% (best %.2f), %.1f M evaluations, %.2f M/s; %s", name, *trialSeed, dens(got), in.Best.Density, float64(got.Evaluations)/1e6, float64(got.Evaluations)/1e6/sec, strings.Join(marks, ", "))
	}
}

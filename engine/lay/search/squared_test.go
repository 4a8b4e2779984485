package search

import (
	"context"
	"testing"
	"time"

	"slipseat/engine/lay"
	"slipseat/engine/lay/jobs"
)

// squaredJobs are everyday jobs of squared pieces on plain goods.
func squaredJobs(n int) []jobs.Job {
	var out []jobs.Job
	for i := 0; len(out) < n; i++ {
		j := jobs.New(*seed, i)
		if !j.Shaped && !j.Patterned && !j.Flawed && !j.Sheets && !j.AtHand && !j.Locked {
			out = append(out, j)
		}
	}
	return out
}

// TestSquaredIsProved: most everyday jobs of squared pieces are proved, and
// lay, bound and proof are the same at any number of workers.
func TestSquaredIsProved(t *testing.T) {
	proved := 0
	js := squaredJobs(16)
	for _, j := range js {
		var first lay.Lay
		for i, workers := range []int{1, 2, 3, 8} {
			l := Improve(context.Background(), j.Problem, lay.Lay{}, Options{Seed: 3, Evaluations: 400_000, Workers: workers})
			if f := lay.Check(j.Problem, l); len(f) > 0 {
				t.Fatalf("%v: %v", j, f)
			}
			if i == 0 {
				first = l
				if l.Proved {
					proved++
				}
				continue
			}
			if l.Length != first.Length || l.Bound != first.Bound || l.Proved != first.Proved || l.Evaluations != first.Evaluations {
				t.Errorf("%v: %d workers %v over %v, one worker %v over %v", j, workers, l.Length, l.Bound, first.Length, first.Bound)
			}
		}
	}
	if proved < len(js)*2/3 {
		t.Errorf("only %d of %d proved", proved, len(js))
	}
}

// TestSquaredStops: a cancelled search ends soon, with a valid lay.
func TestSquaredStops(t *testing.T) {
	for _, j := range squaredJobs(4) {
		ctx, cancel := context.WithTimeout(context.Background(), 30*time.Millisecond)
		l := Improve(ctx, j.Problem, lay.Lay{}, Options{Seed: 3, Workers: 2})
		cancel()
		if f := lay.Check(j.Problem, l); len(f) > 0 {
			t.Errorf("%v: %v", j, f)
		}
	}
}

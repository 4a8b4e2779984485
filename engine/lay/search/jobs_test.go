package search

import (
	"testing"

	"slipseat/engine/lay"
	"slipseat/engine/lay/jobs"
)

// TestFirstOnEverydayJobs: every job is laid at once, and validly.
func TestFirstOnEverydayJobs(t *testing.T) {
	for n := range 150 {
		j := jobs.New(*seed, n)
		l, faults := First(j.Problem)
		if len(faults) > 0 {
			t.Errorf("%v: %v", j, faults)
			continue
		}
		if f := lay.Check(j.Problem, l); len(f) > 0 {
			t.Errorf("%v: %v", j, f)
		}
	}
}

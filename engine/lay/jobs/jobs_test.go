package jobs

import (
	"testing"
)

// TestEverydayJobs holds the distribution: at least a quarter each shaped, of
// two or more kinds, patterned, with flaws; 1 to 12 kinds, 1 to 40 pieces; all
// problems sound.
func TestEverydayJobs(t *testing.T) {
	const n = 1000
	count := map[string]int{}
	pieces := 0
	for i := range n {
		j := New(7, i)
		if f := j.Problem.Validate(); len(f) > 0 {
			t.Fatalf("%v: %v", j, f)
		}
		total := 0
		for _, k := range j.Problem.Kinds {
			total += k.Count
			if k.Count < 1 {
				t.Errorf("%v: kind %s has no pieces", j, k.ID)
			}
		}
		if total < 1 || total > 40 || len(j.Problem.Kinds) > 12 {
			t.Errorf("%v: %d kinds, %d pieces", j, len(j.Problem.Kinds), total)
		}
		pieces += total
		for _, trait := range j.Traits() {
			count[trait]++
		}
	}
	for _, trait := range []string{"shaped", "several kinds", "patterned", "flaws"} {
		if count[trait] < n/4 {
			t.Errorf("%s: %d of %d jobs, want a quarter", trait, count[trait], n)
		}
	}
	for _, trait := range []string{"sheets", "at hand", "rows", "locked"} {
		if count[trait] < n/100 {
			t.Errorf("%s: only %d of %d jobs", trait, count[trait], n)
		}
	}
	t.Logf("%d pieces on average; %v", pieces/n, count)
}

func TestJobsRepeat(t *testing.T) {
	for i := range 50 {
		a, b := New(3, i), New(3, i)
		if a.Problem.ID() != b.Problem.ID() {
			t.Fatalf("job %d differs from itself", i)
		}
		if c := New(4, i); a.Problem.ID() == c.Problem.ID() {
			t.Fatalf("job %d is the same for another seed", i)
		}
	}
}

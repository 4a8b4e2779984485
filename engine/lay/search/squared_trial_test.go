package search

import (
	"fmt"
	"testing"

	"slipseat/engine/lay/jobs"
)

// TestSquaredTrial lays everyday jobs of squared pieces on plain goods and
// prints those that are not proved.
func TestSquaredTrial(t *testing.T) {
	if *trials == 0 {
		t.Skip("a long trial: give the number of jobs with -jobs")
	}
	all, proved, evals := 0, 0, int64(0)
	for n := *trialFrom; all < *trials; n++ {
		j := jobs.New(*trialSeed, n)
		if j.Shaped || j.Patterned || j.Flawed || j.Sheets || j.AtHand || j.Locked {
			continue
		}
		o := runJob(j, *trialEvals)
		if !o.valid {
			t.Errorf("%v is not valid", o.job)
		}
		all++
		evals += o.evals
		if o.proved {
			proved++
		} else {
			pieces := 0
			for _, k := range j.Problem.Kinds {
				pieces += k.Count
			}
			fmt.Printf("%d\t%.2f %% over the bound\t%v\t%d kinds\t%d pieces\t%v of %v, gap %v\n", n, 100*o.gap, j.Traits(), len(j.Problem.Kinds), pieces, o.l.Length, o.l.Bound, j.Problem.Gap)
		}
	}
	fmt.Printf("%d of %d proved, %.1f million evaluations each\n", proved, all, float64(evals)/1e6/float64(all))
}

package search

import (
	"context"
	"flag"
	"fmt"
	"slices"
	"sort"
	"testing"
	"time"

	"slipseat/engine/lay"
	"slipseat/engine/lay/jobs"
)

var (
	trials     = flag.Int("jobs", 0, "number of everyday jobs to lay in TestTrial; 0 for none")
	trialSeed  = flag.Uint64("job-seed", 1000, "seed of the everyday jobs")
	trialFrom  = flag.Int("job-from", 0, "number of the first everyday job")
	trialEvals = flag.Int64("evaluations", 2_000_000, "budget of each job")
	trialList  = flag.Bool("list", false, "print the jobs that are not proved")
)

// outcome is what a search made of a job.
type outcome struct {
	job    jobs.Job
	first  time.Duration
	whole  time.Duration
	gap    float64 // length over the bound, as a share; sheets over their bound
	proved bool
	valid  bool
	gained float64 // share of the first lay's length saved
	evals  int64
	l      lay.Lay
}

func runJob(j jobs.Job, evaluations int64) outcome {
	o := outcome{job: j}
	began := time.Now()
	start, faults := First(j.Problem)
	o.first = time.Since(began)
	if len(faults) > 0 {
		return o
	}
	l := Improve(context.Background(), j.Problem, start, Options{Seed: 1, Evaluations: evaluations, Workers: 1})
	o.whole = time.Since(began)
	o.valid = len(lay.Check(j.Problem, l)) == 0
	o.proved, o.l, o.evals = l.Proved, l, l.Evaluations
	if j.Problem.Bins[len(j.Problem.Bins)-1].Sheets == 0 {
		o.gap = float64(l.Sheets-l.SheetBound) / float64(max(1, l.SheetBound))
		o.gained = float64(start.Sheets-l.Sheets) / float64(start.Sheets)
	} else if l.Length > 0 {
		o.gap = float64(l.Length-l.Bound) / max(1, float64(l.Bound))
		o.gained = float64(start.Length-l.Length) / float64(start.Length)
	}
	return o
}

// TestTrial lays everyday jobs and prints how many are proved shortest or come
// within a per cent of their bound, by what the jobs are like.
func TestTrial(t *testing.T) {
	if *trials == 0 {
		t.Skip("a long trial: give the number of jobs with -jobs")
	}
	byTrait := map[string][]outcome{}
	var all []outcome
	for n := range *trials {
		o := runJob(jobs.New(*trialSeed, *trialFrom+n), *trialEvals)
		if !o.valid {
			t.Errorf("%v is not valid", o.job)
		}
		all = append(all, o)
		for _, trait := range o.job.Traits() {
			byTrait[trait] = append(byTrait[trait], o)
		}
		if *trialList && !o.proved && o.gap > 0.01 {
			fmt.Printf("%d\t%.1f %%\t%v\t%v over %v, first +%.1f %%, %d kinds\n", *trialFrom+n, 100*o.gap, o.job.Traits(), o.l.Length, o.l.Bound, 100*o.gained, len(o.job.Problem.Kinds))
		}
	}
	line := func(name string, os []outcome) {
		proved, near, gap, gained := 0, 0, 0.0, 0.0
		var firsts, wholes []time.Duration
		for _, o := range os {
			if o.proved {
				proved++
			}
			if o.proved || o.gap <= 0.01 {
				near++
			}
			gap += o.gap
			gained += o.gained
			firsts = append(firsts, o.first)
			wholes = append(wholes, o.whole)
		}
		slices.Sort(firsts)
		slices.Sort(wholes)
		n := float64(len(os))
		fmt.Printf("%-14s %4d  proved %5.1f %%  proved or within 1 %% %5.1f %%  mean over bound %5.2f %%  saved on the first lay %5.2f %%  first lay p95 %v  whole median %v, most %v\n",
			name, len(os), 100*float64(proved)/n, 100*float64(near)/n, 100*gap/n, 100*gained/n, firsts[len(firsts)*95/100], wholes[len(wholes)/2].Round(time.Millisecond), wholes[len(wholes)-1].Round(time.Millisecond))
	}
	line("all", all)
	var names []string
	for name := range byTrait {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		line(name, byTrait[name])
	}
}

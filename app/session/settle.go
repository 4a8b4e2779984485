package session

import (
	"context"
	"time"

	"slipseat/app/job"
	"slipseat/engine/lay"
	"slipseat/engine/lay/search"
	"slipseat/engine/plan"
)

// DefaultEvaluations is the search's budget a lay outside the window: about
// two seconds on the machine this was measured on. It is a number and not a
// time, so that the same job prints the same everywhere.
const DefaultEvaluations = 2_000_000

// Budget bounds the search of each lay: a time when For is set, else a number
// of evaluations: DefaultEvaluations when that is 0, none beyond the first lay
// when it is negative.
type Budget struct {
	For         time.Duration
	Evaluations int64
	Workers     int
}

// Settle plans a job file without a window: its saved lays where they are as
// far on as the default budget and pass the judge, else a fresh search with
// seed 1. report is told the number of the lay that is being worked on; it may
// be nil.
func Settle(ctx context.Context, f job.File, b Budget, report func(done, total int, goods string)) *plan.Plan {
	saved := map[lay.ProblemID]lay.Lay{}
	for _, l := range f.Lays {
		saved[l.Problem] = l.Lay
	}
	lays := map[lay.ProblemID]lay.Lay{}
	get := func(id lay.ProblemID) (lay.Lay, bool) { l, ok := lays[id]; return l, ok }
	p := plan.Make(f.Job.Input(), nil, get)
	total, done := len(p.Wanted()), 0
	for _, g := range p.Goods {
		if !g.Pending {
			continue
		}
		for _, a := range g.Searches() {
			if a.Lay != nil || a.NoRoom {
				continue
			}
			if report != nil {
				report(done, total, g.ID)
			}
			done++
			if l, ok := saved[a.PID]; ok && l.Evaluations >= DefaultEvaluations && len(lay.Check(a.Problem, l)) == 0 {
				lays[a.PID] = l
			} else {
				lays[a.PID] = solve(ctx, a.Problem, b)
			}
		}
	}
	return plan.Make(f.Job.Input(), p, get)
}

// solve looks for a lay within a budget; one without places says that there is
// none.
func solve(ctx context.Context, p lay.Problem, b Budget) lay.Lay {
	l, faults := search.First(p)
	if len(faults) > 0 {
		return lay.Lay{}
	}
	o := search.Options{Seed: 1, Workers: max(1, b.Workers), Evaluations: DefaultEvaluations}
	if b.Evaluations > 0 {
		o.Evaluations = b.Evaluations
	}
	if b.For > 0 {
		o.Evaluations = 0
		one, stop := context.WithTimeout(ctx, b.For)
		defer stop()
		ctx = one
	}
	if b.Evaluations >= 0 || b.For > 0 {
		l = search.Improve(ctx, p, l, o)
	}
	if len(lay.Check(p, l)) > 0 {
		return lay.Lay{}
	}
	return l
}

package session

import (
	"context"
	"time"

	"slipseat/app/job"
	"slipseat/engine/lay"
	"slipseat/engine/lay/search"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

// DefaultEvaluations is the search's budget a lay outside the window: about
// two seconds on the machine this was measured on. It is a number and not a
// time, so that the same job prints the same everywhere.
const DefaultEvaluations = 2_000_000

// Budget bounds the search of each lay: a time when For is set, else a number
// of evaluations.
type Budget struct {
	For     time.Duration
	Workers int
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
	for i := range p.Goods {
		g := &p.Goods[i]
		if !g.Pending {
			continue
		}
		if report != nil {
			report(done, total, g.ID)
		}
		done++
		if l, ok := saved[g.PID]; ok && l.Evaluations >= DefaultEvaluations && len(lay.Check(g.Problem, l)) == 0 {
			lays[g.PID] = l
			continue
		}
		l, faults := search.First(g.Problem)
		if len(faults) > 0 {
			g.Faults = append(g.Faults, faults...)
			p.Faults = append(p.Faults, faults...)
			continue
		}
		o := search.Options{Seed: 1, Workers: max(1, b.Workers), Evaluations: DefaultEvaluations}
		one, stop := ctx, context.CancelFunc(func() {})
		if b.For > 0 {
			o.Evaluations = 0
			one, stop = context.WithTimeout(ctx, b.For)
		}
		l = search.Improve(one, g.Problem, l, o)
		stop()
		if len(lay.Check(g.Problem, l)) == 0 {
			lays[g.PID] = l
		}
	}
	faults := p.Faults
	p = plan.Make(f.Job.Input(), p, get)
	for _, f := range faults {
		if !containsFault(p.Faults, f.Code) {
			p.Faults = append(p.Faults, f)
		}
	}
	return p
}

func containsFault(list []unit.Fault, code string) bool {
	for _, f := range list {
		if f.Code == code {
			return true
		}
	}
	return false
}

package search

import (
	"context"

	"slipseat/engine/lay"
	"slipseat/engine/lay/search/separate"
)

// Options steer Improve.
type Options struct {
	Seed        uint64
	Evaluations int64 // places tried, all engines together; 0 until the context ends
	Workers     int   // goroutines at a time; the answer does not depend on it
	// Report gets every better lay as it is found, from one goroutine and never
	// after Improve returned. It may be nil.
	Report func(lay.Lay)
}

// Improve looks for a shorter lay than start until the context ends, the
// evaluations are used up or the lay is proved the shortest possible, and
// returns the best one, also when it is cancelled. Every lay it reports or
// returns passes lay.Check and carries its bound.
func Improve(ctx context.Context, p lay.Problem, start lay.Lay, o Options) lay.Lay {
	best := start
	lay.Bounded(p, &best)
	if best.Proved || p.RowsOnly {
		return best
	}
	take := func(l lay.Lay) bool {
		lay.Bounded(p, &l)
		shorter := l.Sheets < best.Sheets || l.Sheets == best.Sheets && l.Length < best.Length
		if !shorter || len(lay.Check(p, l)) > 0 {
			return false
		}
		best = l
		return true
	}
	inner, stop := context.WithCancel(ctx)
	defer stop()
	last := separate.Improve(inner, p, start, separate.Options{Seed: o.Seed, Evaluations: o.Evaluations, Workers: o.Workers, Report: func(l lay.Lay) {
		if take(l) {
			if o.Report != nil {
				o.Report(best)
			}
			if best.Proved {
				stop()
			}
		}
	}})
	take(last)
	return best
}

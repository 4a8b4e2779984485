package separate

import (
	"context"

	"slipseat/engine/lay"
)

// Options steer a search.
type Options struct {
	Seed        uint64
	Evaluations int64 // places of pieces to try, all lanes together; 0 = until the context ends
	Workers     int   // goroutines that compute at the same time; the answer does not depend on it
	// Report gets every shorter lay as it is found, from the goroutine that
	// called Improve. It may be nil.
	Report func(lay.Lay)
}

// Improve searches for a shorter lay than start and returns the shortest it
// found; an empty start is allowed. The answer depends on the problem, start,
// seed and number of evaluations only. When the context ends, the best lay of
// the last barrier is returned, less than a sweep later. A start that is not
// legal to the grid unit is first mended. When a piece does not fit the goods
// at all, start is returned as it is.
func Improve(ctx context.Context, p lay.Problem, start lay.Lay, o Options) lay.Lay {
	if len(p.Bins) == 0 || len(p.Kinds) == 0 {
		return start
	}
	m := newModelUntil(p, o.Workers, func() bool { return ctx.Err() != nil })
	if m == nil || m.free == 0 {
		return start
	}
	var best snapshot
	given := m.fits(start)
	if given {
		s := newState(m)
		if given = s.take(start); given {
			s.save(&best)
		}
	}
	for {
		own := newState(m)
		if own.firstOfPhases(o.Seed) {
			if !given || own.shorterThan(&best) {
				own.save(&best)
				given = false
			}
			break
		}
		sheets := m.bins[len(m.bins)-1].sheet + 2
		if given || sheets > m.sheetsAllowed() {
			break
		}
		m.setSheets(sheets)
	}
	if best.x == nil {
		return start
	}
	m.setSheets(best.bins[len(best.bins)-1].sheet + 1)
	t := newTeam(m, &best, o)
	h := handOut{m: m, start: start, o: o, out: start}
	if given {
		h.shortest = best
	}
	h.give(&best, 0)
	t.drive(ctx, o, func(evals int64) { h.give(&t.best, evals) })
	return h.out
}

// handOut turns arrangements into lays for the caller.
type handOut struct {
	m        *model
	start    lay.Lay
	o        Options
	shortest snapshot // what was handed out last, or the caller's start
	out      lay.Lay
}

// give compacts a copy of an arrangement and reports it when it is shorter
// than all before.
func (h *handOut) give(k *snapshot, evals int64) {
	s := newState(h.m)
	s.load(k)
	if s.compact(); !s.legal() {
		s.load(k)
	}
	if h.shortest.x != nil && !s.shorterThan(&h.shortest) {
		return
	}
	s.save(&h.shortest)
	h.out = h.m.lay(&h.shortest)
	h.out.Bound, h.out.SheetBound, h.out.Proved = h.start.Bound, h.start.SheetBound, h.start.Proved
	h.out.Seed, h.out.Evaluations = h.o.Seed, evals
	if h.o.Report != nil {
		h.o.Report(h.out)
	}
}

// drive runs the lanes from barrier to barrier. found is called when the best
// arrangement has become shorter.
func (t *team) drive(ctx context.Context, o Options, found func(evals int64)) {
	plan := newSchedule(o.Evaluations)
	t.phase, t.share, t.ended = plan.at(0)
	if t.ended {
		return
	}
	stop := context.AfterFunc(ctx, func() { t.canceled.Store(true) })
	defer stop()
	for _, l := range t.lanes {
		go l.run()
	}
	alive := len(t.lanes)
	for step := int64(1); ; step++ {
		var waiting []*lane
		for len(waiting) < alive {
			if l := <-t.arrive; l != nil {
				waiting = append(waiting, l)
			} else {
				alive--
			}
		}
		whole := alive == len(t.lanes) // else the context ended inside a slice
		if whole {
			better := false
			for _, l := range t.lanes {
				if l.best.shorterThan(&t.best) {
					t.best = l.best.clone()
					better = true
				}
			}
			if better {
				found(step * slice * lanes)
			}
			t.phase, t.share, t.ended = plan.at(step)
			if ctx.Err() != nil || t.idle() {
				t.ended = true
			}
		}
		for _, l := range waiting {
			t.resume[l.id] <- struct{}{}
		}
		if alive == 0 {
			return
		}
	}
}

// idle tells whether every lane found that nothing can be shorter.
func (t *team) idle() bool {
	for _, l := range t.lanes {
		if !l.idle {
			return false
		}
	}
	return true
}

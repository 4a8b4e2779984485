package session

import (
	"context"
	"time"

	"slipseat/engine/lay"
	"slipseat/engine/lay/search"
	"slipseat/engine/plan"
)

// replan makes the plan of the job on screen. First lays are made at once when
// final is set; during a drag they are made only while that stays quick, so
// that the hand is never waited for: the figures that hang on them are pending
// and the lay before is shown.
func (s *Session) replan(final bool) {
	in := s.Shown().Input()
	s.plan = plan.Make(in, s.plan, s.layOf)
	if final {
		s.stopSearch()
		for _, p := range s.plan.Wanted() {
			s.firstLay(p)
		}
		if s.plan.Pending {
			s.plan = plan.Make(in, s.plan, s.layOf)
		}
		s.improve()
	}
	for i := range s.plan.Goods {
		if g := &s.plan.Goods[i]; g.Lay != nil {
			if s.last == nil {
				s.last = map[string]*plan.GoodsPlan{}
			}
			s.last[g.ID] = g
		}
	}
}

func (s *Session) layOf(id lay.ProblemID) (lay.Lay, bool) { l, ok := s.lays[id]; return l, ok }

// LastLay is the last lay that was shown for goods, for showing it greyed while
// a new one is pending; nil when there was none.
func (s *Session) LastLay(goods string) *plan.GoodsPlan { return s.last[goods] }

// firstLay answers a problem at once. The judge sees every lay before it is
// shown.
func (s *Session) firstLay(p lay.Problem) {
	l, faults := search.First(p)
	if len(faults) == 0 && len(lay.Check(p, l)) == 0 {
		s.lays[p.ID()] = l
	}
}

// Searching tells whether a search is going on for goods, and Stopped whether
// the user stopped it.
func (s *Session) Searching(goods string) bool {
	g := s.plan.Find(goods)
	return g != nil && s.working[g.PID]
}

// Finished tells that the search of goods has used up its time.
func (s *Session) Finished(goods string) bool {
	g := s.plan.Find(goods)
	return g != nil && (s.best[g.PID] || g.Lay != nil && g.Lay.Proved)
}

// StopSearch ends the search; the best lay stays.
func (s *Session) StopSearch() {
	s.paused = true
	s.stopSearch()
	s.tell(TopicLays)
}

// GoOn searches on for the lays that are not proved shortest.
func (s *Session) GoOn() {
	s.paused = false
	s.best = map[lay.ProblemID]bool{}
	s.improve()
	s.tell(TopicLays)
}

func (s *Session) stopSearch() {
	if s.cancel != nil {
		s.cancel()
		s.cancel = nil
	}
	s.working = map[lay.ProblemID]bool{}
}

// improve starts the search in the background, one lay after the other.
func (s *Session) improve() {
	s.stopSearch()
	if s.paused || s.plan == nil {
		return
	}
	type task struct {
		p     lay.Problem
		id    lay.ProblemID
		start lay.Lay
	}
	var todo []task
	for _, g := range s.plan.Goods {
		if g.Lay != nil && !g.Lay.Proved && !s.best[g.PID] {
			todo = append(todo, task{g.Problem, g.PID, *g.Lay})
		}
	}
	if len(todo) == 0 {
		return
	}
	ctx, cancel := context.WithCancel(context.Background())
	s.cancel = cancel
	owner := s.Job().ID
	for _, t := range todo {
		s.working[t.id] = true
	}
	run, limit, workers := s.o.Runner, s.o.SearchFor, s.o.Workers
	run.Start(func() {
		for _, t := range todo {
			if ctx.Err() != nil {
				return
			}
			one, stop := context.WithTimeout(ctx, limit)
			var last time.Time
			report := func(l lay.Lay) {
				// At most ten a second reach the screen; the end is always told.
				if now := time.Now(); now.Sub(last) >= 100*time.Millisecond {
					last = now
					run.Post(func() { s.found(ctx, t.p, t.id, l, false) })
				}
			}
			l := search.Improve(one, t.p, t.start, search.Options{Seed: 1, Workers: workers, Report: report})
			stop()
			run.Post(func() {
				s.found(ctx, t.p, t.id, l, ctx.Err() == nil)
				if s.open && s.Job().ID == owner {
					s.report(s.o.Store.SaveLay(owner, t.id, s.lays[t.id]))
				}
			})
		}
	})
}

// found takes a better lay in. A result that comes late, for a problem that is
// no longer on screen, still goes to its own place.
func (s *Session) found(ctx context.Context, p lay.Problem, id lay.ProblemID, l lay.Lay, done bool) {
	old, had := s.lays[id]
	if len(lay.Check(p, l)) == 0 && (!had || better(l, old)) {
		s.lays[id] = l
	}
	if ctx.Err() == nil && done {
		delete(s.working, id)
		s.best[id] = true
	}
	if s.plan == nil || !s.open {
		return
	}
	s.plan = plan.Make(s.plan.In, s.plan, s.layOf)
	for i := range s.plan.Goods {
		if g := &s.plan.Goods[i]; g.Lay != nil {
			s.last[g.ID] = g
		}
	}
	s.tell(TopicLays)
}

// better tells whether a lay is worth showing in place of another.
func better(a, b lay.Lay) bool {
	switch {
	case a.Sheets != b.Sheets:
		return a.Sheets < b.Sheets
	case a.Length != b.Length:
		return a.Length < b.Length
	}
	return a.Bound > b.Bound || a.SheetBound > b.SheetBound || a.Proved && !b.Proved
}

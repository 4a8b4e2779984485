package session

import (
	"context"
	"errors"

	"slipseat/app/job"
	"slipseat/app/store"
	"slipseat/app/task"
	"slipseat/engine/lay"
	"slipseat/engine/lay/search"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

// replan makes the plan of the job on screen. First lays are made at once when
// final is set; during a drag they are made only while that stays quick, so
// that the hand is never waited for: the figures that hang on them are pending
// and the lay before is shown.
func (s *Session) replan(final bool) {
	in := s.Shown().Input()
	s.plan = plan.Make(in, s.plan, s.layOf)
	if !final {
		return
	}
	s.stopSearch()
	for i := range s.plan.Goods {
		if g := &s.plan.Goods[i]; g.Pending && len(g.Faults) == 0 {
			s.firstLay(g)
		}
	}
	if s.plan.Pending {
		s.plan = plan.Make(in, s.plan, s.layOf)
	}
	s.remember()
	s.improve()
}

// Searching tells whether a search is going on for goods, and Stopped whether
// the user stopped it.
func (s *Session) Searching(goods string) bool {
	g := s.plan.Find(goods)
	if g == nil {
		return false
	}
	for _, a := range g.Searches() {
		if s.working[a.PID] {
			return true
		}
	}
	return false
}

// Finished tells that the search of goods has used up its time.
func (s *Session) Finished(goods string) bool {
	g := s.plan.Find(goods)
	if g == nil {
		return false
	}
	for _, a := range g.Searches() {
		if !s.best[a.PID] && (a.Lay == nil || !a.Lay.Proved) {
			return false
		}
	}
	return true
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

// HoldSearch stops the search for as long as a piece is in the hand; LetSearch
// lets it go on.
func (s *Session) HoldSearch() { s.stopSearch() }

// LetSearch lets the search go on after HoldSearch.
func (s *Session) LetSearch() {
	if s.open {
		s.improve()
		s.tell(TopicLays)
	}
}

func (s *Session) stopSearch() {
	s.tasks.Cancel()
	s.working = map[lay.ProblemID]bool{}
}

// newTasks makes the runner of the search. A panic in it is a message, not the
// end of the window.
func (s *Session) newTasks() task.Runner {
	return task.New(task.Options{Post: s.o.Runner.Post, Clock: clock{s.o.Runner}, Start: s.o.Runner.Start, Crashed: func(_ uint64, c *task.Crash) {
		s.working = map[lay.ProblemID]bool{}
		s.Crashed(c.Value, c.Stack)
		s.tell(TopicLays)
	}})
}

// finding is a lay that the search came up with; ended when it took all its
// time for it.
type finding struct {
	p     lay.Problem
	id    lay.ProblemID
	l     lay.Lay
	ended bool
}

// improve starts the search in the background, one lay after the other.
func (s *Session) improve() {
	s.stopSearch()
	if s.paused || s.plan == nil {
		return
	}
	var todo []finding
	for _, g := range s.plan.Goods {
		for _, a := range g.Searches() {
			if a.Lay != nil && !a.Lay.Proved && !s.best[a.PID] {
				todo = append(todo, finding{p: a.Problem, id: a.PID, l: *a.Lay})
				s.working[a.PID] = true
			}
		}
	}
	if len(todo) == 0 {
		return
	}
	owner, limit, workers := s.Job().ID, s.o.SearchFor, s.o.Workers
	s.tasks.Start(s.history.Rev(), func(ctx context.Context, report func(func())) func(bool) {
		// A report that is overtaken is never shown, so each brings all that
		// has ended before it.
		var ended []finding
		for _, t := range todo {
			if ctx.Err() != nil {
				break
			}
			sofar := ended[:len(ended):len(ended)]
			one, stop := context.WithTimeout(ctx, limit)
			l := search.Improve(one, t.p, t.l, search.Options{Seed: 1, Workers: workers, Report: func(l lay.Lay) {
				report(func() { s.found(append(sofar, finding{t.p, t.id, l, false})) })
			}})
			stop()
			ended = append(ended, finding{t.p, t.id, l, ctx.Err() == nil})
			all := ended[:len(ended):len(ended)]
			report(func() { s.found(all) })
		}
		return func(bool) {
			s.found(ended)
			for _, f := range ended {
				s.keepLay(owner, f)
			}
		}
	})
}

// keepLay stores a lay with its job, also when another job is open by now.
func (s *Session) keepLay(owner job.ID, f finding) {
	if len(lay.Check(f.p, f.l)) > 0 {
		return
	}
	err := s.o.Store.SaveLay(owner, f.id, f.l)
	var flt unit.Fault
	if errors.As(err, &flt) && flt.Code == store.CodeNoJob {
		return // deleted meanwhile
	}
	s.report(err)
}

// found takes better lays in. One that comes late, for a problem that is no
// longer on screen, still goes to its own place.
func (s *Session) found(list []finding) {
	if !s.open {
		return
	}
	news := false
	for _, f := range list {
		old, had := s.lays[f.id]
		if (!had || better(f.l, old)) && len(lay.Check(f.p, f.l)) == 0 {
			s.lays[f.id] = f.l
			news = true
		}
		if f.ended && !s.best[f.id] {
			delete(s.working, f.id)
			s.best[f.id] = true
			news = true
		}
	}
	if !news || s.plan == nil {
		return
	}
	s.plan = plan.Make(s.plan.In, s.plan, s.layOf)
	s.remember()
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

package session_test

import (
	"testing"

	"slipseat/app/job"
	"slipseat/engine/lay"
)

// What is marked as cut stays where it lies whatever changes; the rests go to
// the shelf, and undo takes both back.
func TestMarkAsCut(t *testing.T) {
	s, _, _ := start(t)
	s.NewJob(job.UnitsInches)
	set(t, s, "count", "3")
	before := s.Job()
	cover := s.Goods(false)
	was := *s.Plan().Find(string(cover)).Lay
	c, ok := s.CutCommand(cover)
	if !ok || len(c.Locked) != 3 || len(c.Made) == 0 {
		t.Fatalf("got %+v", c)
	}
	for _, m := range c.Made {
		if m.Length.Or(0) < 8*25.4 || m.Width.Or(0) < 8*25.4 {
			t.Errorf("a rest of %s × %s", m.Length, m.Width)
		}
	}
	if f := s.Do(c); len(f) > 0 {
		t.Fatal(f)
	}
	if d := job.ShelfChanges(before, s.Job()); len(d.Put) != len(c.Made) || d.Put[0].From != before.ID {
		t.Errorf("to the shelf: %+v", d)
	}
	set(t, s, "count", "5")
	g := s.Plan().Find(string(cover))
	stayed := 0
	for _, at := range g.Lay.Places {
		for _, o := range was.Places {
			if at.Copy == o.Copy && at.Kind == o.Kind && at.Turn == o.Turn && at.At.Dist(o.At) < float64(lay.CheckTol) {
				stayed++
			}
		}
	}
	if stayed != 3 {
		t.Errorf("%d of 3 cut pieces stayed", stayed)
	}
	s.Undo()
	s.Undo()
	if d := job.ShelfChanges(before, s.Job()); !d.Empty() || s.Job().Cloths[0].CutDone {
		t.Errorf("undone: %+v", d)
	}
}

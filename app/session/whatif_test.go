package session_test

import (
	"testing"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/engine/plan"
)

// Answers come in the background, one after the other, and are looked for anew
// when the job changes; the job's own lay is not touched.
func TestWhatWouldBe(t *testing.T) {
	s, _, run := start(t)
	s.NewJob(job.UnitsInches)
	s.StopSearch() // of the job's own lays
	run.Background = true
	set(t, s, "count", "4")
	cover, seat := string(s.Goods(false)), string(s.Seat())
	buy := s.Plan().Find(cover).Buy.Length()
	news := 0
	s.OnChange(func(c session.Change) {
		if c.Has(session.TopicAnswers) {
			news++
		}
	})
	s.Ask(plan.Ask{Kind: plan.AskMore, Seat: seat, Goods: cover, N: 4}, plan.Ask{Kind: plan.AskHowMany, Seat: seat, Goods: cover, Length: 3 * buy})
	a := s.Answers()
	if len(a) != 2 || a[0].Pending || a[0].Buy.Length() <= buy || a[0].Extra < 0 || a[1].Seats < 8 || news == 0 || s.Answering() {
		t.Fatalf("got %+v after %d news", a, news)
	}
	if s.Plan().Find(cover).Buy.Length() > buy {
		t.Error("a question changed the job's lay")
	}
	set(t, s, "count", "5")
	if b := s.Answers(); len(b) != 2 || b[0].Pending || b[0].Buy.Length() < a[0].Buy.Length() {
		t.Errorf("after a change: %+v", b)
	}
	s.Ask()
	if len(s.Answers()) != 0 {
		t.Error("answers to no question")
	}
}

// A proposal that is taken over is cut as was promised, and can be undone.
func TestProposalIsTakenOver(t *testing.T) {
	s, _, run := start(t)
	s.NewJob(job.UnitsInches)
	s.StopSearch() // of the job's own lays
	run.Background = true
	foam := s.Goods(true)
	for _, c := range []edit.Command{
		edit.Set{Object: s.Seat(), Field: edit.OutlineFrontWidth, Text: "42"}, edit.Set{Object: s.Seat(), Field: edit.OutlineBackWidth, Text: "42"},
		edit.Set{Object: foam, Field: edit.FoamLength, Text: "36"}, edit.Set{Object: foam, Field: edit.FoamWidth, Text: "40"},
		edit.Set{Object: foam, Field: edit.FoamGlue, Text: "true"},
	} {
		if f := s.Do(c); len(f) > 0 {
			t.Fatal(f)
		}
	}
	s.Propose()
	list, done := s.Proposals()
	if !done || len(list) != 1 || list[0].Before != 0 || list[0].After != 1 {
		t.Fatalf("got %+v, done %v", list, done)
	}
	if f := s.Do(edit.TakeProposal{Proposal: list[0], IDs: []job.ID{"glue000001"}}); len(f) > 0 {
		t.Fatal(f)
	}
	g := s.Plan().Find(string(foam))
	if g.Lay == nil || g.Lay.Sheets != 1 || g.GlueUps() != 1 {
		t.Errorf("taken over: %+v", g)
	}
	s.Undo()
	if g := s.Plan().Find(string(foam)); g.GlueUps() != 0 {
		t.Error("undone, and still glued")
	}
}

package session_test

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/app/session/sessiontest"
	"slipseat/app/words"
	"slipseat/assets"
	"slipseat/engine/unit"
)

// bomb is a command that panics.
type bomb struct{}

func (bomb) Label(job.Job) edit.Label { return edit.Label{Code: "bomb"} }
func (bomb) Apply(job.Job) (job.Job, []unit.Fault) {
	panic("a mistake in the program")
}

// TestOwnFaults: wherever the program fails, the job is saved and stands where
// it stood, a report is written with what was done, and work goes on.
func TestOwnFaults(t *testing.T) {
	w, err := words.New(assets.WordsEN)
	if err != nil {
		t.Fatal(err)
	}
	st, run := sessiontest.NewStore(), sessiontest.NewRunner()
	var reports [][]string
	s := session.New(session.Options{Store: st, Runner: run, Random: sessiontest.Random(), Words: w,
		Report: func(value any, stack []byte, steps []string) (string, error) {
			if len(stack) == 0 || value == nil {
				t.Error("a report without a place")
			}
			reports = append(reports, steps)
			return "/reports/fault.txt", nil
		}})
	s.NewJob(job.UnitsInches)
	s.StopSearch()
	set(t, s, "count", "3")
	before, saves := s.Bytes(), st.Saves
	fine := func(what string, n int) {
		t.Helper()
		if len(reports) != n {
			t.Fatalf("%s: %d reports", what, len(reports))
		}
		if !bytes.Equal(s.Bytes(), before) || !s.IsOpen() || s.Plan() == nil {
			t.Errorf("%s: the job is another", what)
		}
		if x := s.Notice(); x == nil || x.Fault == nil || x.Fault.Code != session.CodeOwn || strings.Contains(w.Fault(*x.Fault, s.Units()), "⟨") {
			t.Errorf("%s: the message is %+v", what, x)
		}
	}
	s.Do(bomb{})
	fine("a command", 1)
	if st.Saves == saves || s.Saved().Dirty {
		t.Error("the job was not saved")
	}
	if steps := strings.Join(reports[0], "\n"); !strings.Contains(steps, "do set") || !strings.Contains(steps, "do bomb") || strings.Contains(steps, "Side chair") {
		t.Errorf("steps:\n%s", steps)
	}
	s.Preview(bomb{})
	fine("a preview", 2)
	// A view that fails while it shows a change: the change is taken back.
	armed := true
	stop := s.OnChange(func(c session.Change) {
		if armed && c.Has(session.TopicJob) {
			armed = false
			panic("a view fails")
		}
	})
	s.Do(edit.Set{Object: s.Seat(), Field: "count", Text: "9"})
	fine("a view", 3)
	stop()
	// Work that comes later.
	s.Guard(func() { panic("in a callback") })
	fine("a callback", 4)
	set(t, s, "count", "4")
	run.Advance(time.Second)
	if s.Saved().Dirty || s.Job().Seats[0].Count != 4 {
		t.Error("work does not go on")
	}
	// When it cannot be saved, that is what the message says.
	set(t, s, "count", "5")
	st.Fail = &unit.Fault{Code: "store.full", Args: []unit.Arg{unit.A("path", "x")}}
	s.Do(bomb{})
	if x := s.Notice(); x == nil || x.Fault.Code != session.CodeOwnLost {
		t.Errorf("unsaved: %+v", x)
	}
}

// TestPast: versions and entries can be looked at and brought back, and that
// can be undone.
func TestPast(t *testing.T) {
	s, _, run := start(t)
	s.NewJob(job.UnitsInches)
	s.StopSearch()
	first := job.Encode(s.Job())
	run.Advance(time.Minute)
	set(t, s, "count", "3")
	if !s.KeepVersion("as quoted") {
		t.Fatal(s.Notice())
	}
	quoted := job.Encode(s.Job())
	run.Advance(time.Minute)
	set(t, s, "count", "7")
	list := s.Past()
	if len(list) != 4 || !list[0].Current || list[1].Name != "as quoted" || list[3].Label.Code != "new-job" {
		t.Fatalf("past: %+v", list)
	}
	for i, want := range map[int][]byte{1: quoted, 2: quoted, 3: first} {
		if j, ok := s.PastJob(list[i]); !ok || !bytes.Equal(job.Encode(j), want) {
			t.Errorf("state %d is another", i)
		}
	}
	last := job.Encode(s.Job())
	s.BringBack(list[1])
	if !bytes.Equal(job.Encode(s.Job()), quoted) {
		t.Error("the version was not brought back")
	}
	s.Undo()
	if !bytes.Equal(job.Encode(s.Job()), last) {
		t.Error("bringing back cannot be undone")
	}
	s.DropVersion(list[1])
	if got := s.Past(); len(got) != 4 || got[0].Kept || got[1].Kept { // three entries and the one to be redone
		t.Errorf("after dropping the version: %+v", got)
	}
	if s.KeepVersion("x"); s.Notice() != nil {
		t.Error(s.Notice())
	}
}

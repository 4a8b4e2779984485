package session_test

import (
	"bytes"
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

func start(t *testing.T) (*session.Session, *sessiontest.Store, *sessiontest.Runner) {
	t.Helper()
	w, err := words.New(assets.WordsEN)
	if err != nil {
		t.Fatal(err)
	}
	st, run := sessiontest.NewStore(), sessiontest.NewRunner()
	return session.New(session.Options{Store: st, Runner: run, Random: sessiontest.Random(), Words: w}), st, run
}

func set(t *testing.T, s *session.Session, field, text string) {
	t.Helper()
	if f := s.Do(edit.Set{Object: s.Seat(), Field: field, Text: text}); len(f) > 0 {
		t.Fatalf("%s %q: %v", field, text, f)
	}
}

func TestANewJobIsLaidAtOnce(t *testing.T) {
	s, st, _ := start(t)
	if s.IsOpen() {
		t.Fatal("a job is open before one was made")
	}
	s.NewJob(job.UnitsInches)
	p := s.Plan()
	if !s.IsOpen() || len(p.Seats) != 1 || !p.Seats[0].OK() {
		t.Fatalf("got %v", p.Faults)
	}
	g := p.Find(string(s.Goods(false)))
	if g == nil || g.Lay == nil || g.Buy.Value() <= 0 {
		t.Fatalf("the cover is not laid: %v", p.Faults)
	}
	if st.Saves == 0 {
		t.Error("a new job is not saved")
	}
}

func TestUndoRedoRestoresEqualBytes(t *testing.T) {
	s, _, _ := start(t)
	s.NewJob(job.UnitsInches)
	first := s.Bytes()
	set(t, s, "outline.front_width", "18 1/2")
	set(t, s, "count", "6")
	last := s.Bytes()
	s.Undo()
	s.Undo()
	if !bytes.Equal(s.Bytes(), first) {
		t.Error("undo does not give the first state")
	}
	if _, ok := s.CanUndo(); ok {
		t.Error("more can be undone than was done")
	}
	s.Redo()
	s.Redo()
	if !bytes.Equal(s.Bytes(), last) {
		t.Error("redo does not give the last state")
	}
}

func TestPreviewIsNotKept(t *testing.T) {
	s, _, _ := start(t)
	s.NewJob(job.UnitsInches)
	before := s.Bytes()
	drag := edit.Handle{Seat: s.Seat(), Field: "outline.front_width", To: 500}
	if f := s.Preview(drag); len(f) > 0 {
		t.Fatal(f)
	}
	if w, _ := s.Plan().Seats[0].Outline.Size(); w < 480 {
		t.Errorf("the preview is not planned: %v", w)
	}
	s.CancelPreview()
	if !bytes.Equal(s.Bytes(), before) {
		t.Error("a cancelled drag changed the job")
	}
	s.Preview(drag)
	if f := s.Do(drag); len(f) > 0 {
		t.Fatal(f)
	}
	if _, ok := s.CanUndo(); !ok {
		t.Error("the drag is no entry of the history")
	}
	s.Undo()
	if !bytes.Equal(s.Bytes(), before) {
		t.Error("undo does not take the whole drag back")
	}
}

func TestAutosave(t *testing.T) {
	s, st, run := start(t)
	s.NewJob(job.UnitsInches)
	n := st.Saves
	set(t, s, "count", "2")
	if !s.Saved().Dirty || st.Saves != n {
		t.Error("saved before its time")
	}
	run.Advance(250 * time.Millisecond)
	if s.Saved().Dirty || st.Saves != n+1 {
		t.Errorf("not saved after 250 ms: %d saves", st.Saves-n)
	}
	// A row of changes is saved at the latest 700 ms after the first.
	for i := range 6 {
		set(t, s, "count", string(rune('3'+i)))
		run.Advance(150 * time.Millisecond)
	}
	if st.Saves == n+1 {
		t.Error("a row of changes put the save off for ever")
	}
}

func TestAFailedSaveKeepsTheJob(t *testing.T) {
	s, st, run := start(t)
	s.NewJob(job.UnitsInches)
	st.Fail = &unit.Fault{Code: "store.full"}
	set(t, s, "count", "4")
	run.Advance(time.Second)
	if sv := s.Saved(); !sv.Dirty || sv.Fault == nil || sv.Fault.Code != "store.full" {
		t.Fatalf("got %+v", sv)
	}
	st.Fail = nil
	run.Advance(10 * time.Second)
	if sv := s.Saved(); sv.Dirty || sv.Fault != nil {
		t.Errorf("not tried again: %+v", sv)
	}
	if got := st.Records[s.Job().ID].Log; got.Job().Seats[0].Count != 4 {
		t.Error("the change is lost")
	}
}

func TestAJobThatCannotBeSavedStaysOpen(t *testing.T) {
	s, st, _ := start(t)
	s.NewJob(job.UnitsInches)
	id := s.Job().ID
	st.Fail = &unit.Fault{Code: "store.full"}
	set(t, s, "count", "4")
	s.CloseJob()
	if !s.IsOpen() || s.Saved().Fault == nil {
		t.Fatal("the job was let go, and is nowhere")
	}
	s.NewJob(job.UnitsCM)
	if s.Job().ID != id || s.Job().Seats[0].Count != 4 {
		t.Fatal("another job took the place of one that is nowhere else")
	}
	st.Fail = nil
	s.CloseJob()
	if s.IsOpen() || st.Records[id].Log.Job().Seats[0].Count != 4 {
		t.Error("not closed when it could be saved again")
	}
}

func TestLostVersionsAreTold(t *testing.T) {
	s, st, _ := start(t)
	s.NewJob(job.UnitsInches)
	id := s.Job().ID
	s.CloseJob()
	r := st.Records[id]
	r.Lost = 3
	st.Records[id] = r
	s.OpenJob(id)
	if n := s.Notice(); n == nil || n.Fault == nil || n.Fault.Code != "store.versions-lost" {
		t.Errorf("got %+v", n)
	}
}

func TestReopening(t *testing.T) {
	s, _, run := start(t)
	s.NewJob(job.UnitsCM)
	id := s.Job().ID
	set(t, s, "outline.depth", "44,5")
	s.SetStage(session.Roll)
	run.Advance(time.Second)
	s.CloseJob()
	if s.IsOpen() || len(s.Jobs()) != 1 || s.Last() != id {
		t.Fatalf("got %v", s.Jobs())
	}
	s.OpenJob(id)
	if d, _ := s.Job().Get(s.Seat(), "outline.depth"); d != "44,5 cm" || s.Stage() != session.Roll {
		t.Errorf("depth %q, stage %s", d, s.Stage().Code())
	}
	if _, ok := s.CanUndo(); !ok {
		t.Error("the history is lost")
	}
}

func TestDeleteCanBeTakenBack(t *testing.T) {
	s, _, _ := start(t)
	s.NewJob(job.UnitsInches)
	id := s.Job().ID
	s.Delete(id)
	if s.IsOpen() || len(s.Jobs()) != 0 || s.Notice() == nil || s.Notice().Undo == nil {
		t.Fatal("the job is still there, or nothing offers it back")
	}
	s.Notice().Undo()
	if len(s.Jobs()) != 1 || s.Notice() != nil {
		t.Error("the job did not come back")
	}
}

func TestFaultsOfAFieldAreReturned(t *testing.T) {
	s, _, _ := start(t)
	s.NewJob(job.UnitsInches)
	before := s.Bytes()
	f := s.Do(edit.Set{Object: s.Seat(), Field: "outline.depth", Text: "deep"})
	if len(f) != 1 || f[0].Code != unit.CodeJunk || !bytes.Equal(before, s.Bytes()) {
		t.Errorf("got %v", f)
	}
}

// TestTheSearchFindsAndKeeps runs the search on the spot: its lays are taken
// in, said to be finished, and stored with the job.
func TestTheSearchFindsAndKeeps(t *testing.T) {
	w, err := words.New(assets.WordsEN)
	if err != nil {
		t.Fatal(err)
	}
	raw, run := sessiontest.NewStore(), sessiontest.NewRunner()
	run.Background = true
	s := session.New(session.Options{Store: raw, Runner: run, Random: sessiontest.Random(), Words: w, Demo: assets.Demo, Workers: 1, SearchFor: 30 * time.Millisecond})
	s.OpenDemo()
	searched := 0
	for _, g := range s.Plan().Goods {
		if g.Lay == nil || !s.Finished(g.ID) || s.Searching(g.ID) {
			t.Errorf("%s: lay %v, finished %v, searching %v", g.ID, g.Lay != nil, s.Finished(g.ID), s.Searching(g.ID))
			continue
		}
		if !g.Lay.Proved || g.Lay.Evaluations > 0 {
			searched++
		}
	}
	if kept := len(raw.LayMap[s.Job().ID]); kept == 0 || searched == 0 {
		t.Errorf("%d lays searched, %d kept", searched, kept)
	}
	if s.Notice() != nil {
		t.Errorf("notice %+v", s.Notice())
	}
}

// TestLaysTravelWithTheFile: a job saved as a file and opened elsewhere has
// its lays at once; one that does not pass the judge is left out.
func TestLaysTravelWithTheFile(t *testing.T) {
	w, err := words.New(assets.WordsEN)
	if err != nil {
		t.Fatal(err)
	}
	from := session.New(session.Options{Store: sessiontest.NewStore(), Runner: sessiontest.NewRunner(), Random: sessiontest.Random(), Words: w, Demo: assets.Demo})
	from.OpenDemo()
	data := from.Bytes()
	f, err := job.DecodeFile(data)
	if err != nil || len(f.Lays) == 0 {
		t.Fatalf("%d lays in the file: %v", len(f.Lays), err)
	}
	// Make one look better than it can be, and one further on than a first lay.
	for i := range f.Lays {
		f.Lays[i].Lay.Evaluations = 4711
	}
	cheat := f.Lays[0]
	cheat.Lay.Places = cheat.Lay.Places[1:]
	cheat.Lay.Length /= 2
	f.Lays = append(f.Lays, cheat)

	st := sessiontest.NewStore()
	to := session.New(session.Options{Store: st, Runner: sessiontest.NewRunner(), Random: sessiontest.Random(), Words: w})
	to.OpenBytes(job.EncodeFile(f))
	for i, g := range to.Plan().Goods {
		if g.Lay == nil || from.Plan().Goods[i].Lay == nil {
			t.Errorf("%s has no lay", g.ID)
		} else if g.Lay.Length != from.Plan().Goods[i].Lay.Length {
			t.Errorf("%s: the lay is %v long, was %v", g.ID, g.Lay.Length, from.Plan().Goods[i].Lay.Length)
		}
	}
	if len(st.LayMap[to.Job().ID]) == 0 {
		t.Error("the lays are not stored")
	}
	if !bytes.Equal(job.Encode(to.Job()), job.Encode(from.Job())) {
		t.Error("it is another job")
	}
	to.Duplicate(to.Job().ID)
	if to.Job().ID == from.Job().ID || len(st.LayMap[to.Job().ID]) == 0 {
		t.Error("the copy has no lays")
	}
}

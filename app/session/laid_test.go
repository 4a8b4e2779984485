package session_test

import (
	"testing"
	"time"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/app/session/sessiontest"
	"slipseat/app/words"
	"slipseat/assets"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

// demo is a session on the demo job, with or without a search.
func demo(t *testing.T, searching bool) (*session.Session, *plan.GoodsPlan) {
	t.Helper()
	w, err := words.New(assets.WordsEN)
	if err != nil {
		t.Fatal(err)
	}
	run := sessiontest.NewRunner()
	run.Background = searching
	s := session.New(session.Options{Store: sessiontest.NewStore(), Runner: run, Random: sessiontest.Random(), Words: w, Demo: assets.Demo, Workers: 1, SearchFor: 20 * time.Millisecond})
	s.OpenDemo()
	return s, cover(t, s)
}

func cover(t *testing.T, s *session.Session) *plan.GoodsPlan {
	t.Helper()
	g := s.Plan().Find(string(s.Goods(false)))
	if g == nil || g.Lay == nil {
		t.Fatalf("the cover is not laid: %v", s.Plan().Faults)
	}
	if bad := lay.Check(g.Problem, *g.Lay); len(bad) > 0 {
		t.Fatalf("the judge: %v", bad)
	}
	return g
}

func do(t *testing.T, s *session.Session, c edit.Command) {
	t.Helper()
	if f := s.Do(c); len(f) > 0 {
		t.Fatalf("%#v: %v", c, f)
	}
}

// place finds a piece by its name.
func place(t *testing.T, s *session.Session, g *plan.GoodsPlan, name string) lay.Place {
	t.Helper()
	for _, at := range g.Lay.Places {
		if g.Kinds[at.Kind].Spoiled == 0 && g.PieceName(at, s.Plan()) == name {
			return at
		}
	}
	t.Fatalf("no piece %s", name)
	return lay.Place{}
}

// held makes the command that holds a piece at a place.
func held(s *session.Session, g *plan.GoodsPlan, at lay.Place, how string) edit.Hold {
	l := job.LockOf(g.Held(s.Plan(), at))
	switch how {
	case edit.HoldCut:
		l.State = job.Cut
	case edit.HoldSpoiled:
		l.State = job.Spoiled
	}
	return edit.Hold{How: how, Piece: g.PieceName(at, s.Plan()), Lock: l}
}

func samePlaces(a, b lay.Lay) int {
	at := map[[2]int]lay.Place{}
	for _, q := range a.Places {
		at[[2]int{q.Kind, q.Copy}] = q
	}
	same := 0
	for _, q := range b.Places {
		if o := at[[2]int{q.Kind, q.Copy}]; o.Turn == q.Turn && o.At.Dist(q.At) < 1e-3 {
			same++
		}
	}
	return same
}

// Locking a piece where it lies changes nothing else, and the lay stays, unless
// looking again found a shorter one.
func TestLockingAPieceKeepsTheLay(t *testing.T) {
	s, g := demo(t, false)
	before := *g.Lay
	do(t, s, held(s, g, place(t, s, g, "B1"), edit.HoldLocked))
	now := cover(t, s)
	if now.Lay.Length < before.Length-lay.ProvedWithin {
		return
	}
	if n := samePlaces(before, *now.Lay); n != len(before.Places) {
		t.Errorf("only %d of %d pieces stayed", n, len(before.Places))
	}
	if s.OldLay(now.ID) != nil {
		t.Error("a lay like the present one is offered as an older one")
	}
}

// A piece that is moved by hand stays where it was put, also after a search;
// a piece that is cut stays as well.
func TestAMovedPieceStaysAfterTheSearch(t *testing.T) {
	s, g := demo(t, true)
	to := place(t, s, g, "A1")
	to.At = to.At.Add(geom.P(4*9*25.4, 0)) // four repeats along
	do(t, s, held(s, g, to, edit.HoldMoved))
	now := cover(t, s)
	if at := place(t, s, now, "A1"); at.At.Dist(to.At) > 1e-3 {
		t.Errorf("A1 was put at %v and lies at %v", to.At, at.At)
	}
	if !s.Finished(now.ID) {
		t.Error("the search did not run")
	}
	cut := place(t, s, now, "B2")
	do(t, s, held(s, now, cut, edit.HoldCut))
	set(t, s, "outline.front_width", "18")
	if at := place(t, s, cover(t, s), "B2"); at.At.Dist(cut.At) > 1e-3 {
		t.Errorf("B2 was cut at %v and lies at %v", cut.At, at.At)
	}
}

// A flaw is avoided at once, and the pieces that it does not touch stay where
// that makes the lay no longer than a new one.
func TestAFlawIsAvoidedAtOnce(t *testing.T) {
	s, g := demo(t, false)
	at := place(t, s, g, "A2")
	zone := g.Problem.Placed(at).Bounds()
	zone = geom.Rect{Min: zone.Center(), Max: zone.Center().Add(geom.P(60, 60))}
	do(t, s, edit.PutFlaw{Cloth: job.ID(g.ID), ID: "flaw000001", Box: zone})
	now := cover(t, s) // the judge has looked at it
	if len(now.Problem.Bins[0].Flaws) != 1 {
		t.Fatal("the flaw is not on the roll")
	}
	if old := s.OldLay(now.ID); old == nil || samePlaces(*old.Goods.Lay, *g.Lay) != len(g.Lay.Places) {
		t.Error("the lay from before the flaw is not offered")
	}
}

// The lay from before a change can be had back: by undoing, and by keeping it
// under the new input as far as it goes.
func TestTheOldLayCanBeHadBack(t *testing.T) {
	s, g := demo(t, false)
	before, id := *g.Lay, g.ID
	set(t, s, "count", "7")
	now := cover(t, s)
	old := s.OldLay(id)
	if old == nil || samePlaces(*old.Goods.Lay, before) != len(before.Places) {
		t.Fatal("no old lay")
	}
	keep, left := s.Keeping(now.ID, true)
	if left != 0 || len(keep.Locked) != len(before.Places) {
		t.Fatalf("%d pieces kept, %d cannot stay", len(keep.Locked), left)
	}
	do(t, s, keep)
	kept := cover(t, s)
	for _, q := range before.Places {
		if at := place(t, s, kept, g.PieceName(q, old.Plan)); at.At.Dist(q.At) > 1e-3 {
			t.Errorf("%s lies at %v, not at %v", g.PieceName(q, old.Plan), at.At, q.At)
		}
	}
	s.Undo()
	s.Undo()
	if n := samePlaces(before, *cover(t, s).Lay); n != len(before.Places) {
		t.Errorf("undoing gives another lay: %d of %d pieces are the same", n, len(before.Places))
	}
	if o := s.OldLay(id); o == nil {
		t.Error("after undo the other lay is not offered")
	}
}

// Pieces of the old lay that cannot lie there under the new input are left to
// the search; what is cut stays.
func TestKeepingLeavesOutWhatCannotStay(t *testing.T) {
	s, g := demo(t, false)
	a1, a2 := place(t, s, g, "A1"), place(t, s, g, "A2")
	do(t, s, held(s, g, a1, edit.HoldCut))
	zone := g.Problem.Placed(a2).Bounds()
	do(t, s, edit.PutFlaw{Cloth: job.ID(g.ID), ID: "flaw000001", Box: geom.Rect{Min: zone.Center(), Max: zone.Center().Add(geom.P(40, 40))}})
	keep, left := s.Keeping(g.ID, true)
	if left != 1 || len(keep.Locked) != len(g.Lay.Places)-2 {
		t.Fatalf("%d pieces kept, %d cannot stay, of %d", len(keep.Locked), left, len(g.Lay.Places))
	}
	do(t, s, keep)
	now := cover(t, s)
	if at := place(t, s, now, "A1"); at.At.Dist(a1.At) > 1e-3 {
		t.Errorf("the cut piece lies at %v, not at %v", at.At, a1.At)
	}
	if keep, left := s.Keeping(now.ID, false); left != 0 || len(keep.Locked) != len(now.Lay.Places)-1 {
		t.Errorf("the lay on screen: %d kept, %d cannot stay", len(keep.Locked), left)
	}
}

func TestTheOldLayIsFoundAfterARestart(t *testing.T) {
	s, g := demo(t, true)
	id, owner := g.ID, s.Job().ID
	set(t, s, "outline.depth", "19")
	if s.OldLay(id) == nil {
		t.Skip("the change made no other lay")
	}
	s.CloseJob()
	s.OpenJob(owner)
	if s.OldLay(id) == nil {
		t.Error("the old lay is not offered any more")
	}
}

// Two pieces held on one another: nothing is shown as valid, the lay before
// stays in sight and the reason is told.
func TestHeldPiecesInConflictAreTold(t *testing.T) {
	s, g := demo(t, false)
	a1, a2 := place(t, s, g, "A1"), place(t, s, g, "A2")
	first, second := held(s, g, a1, edit.HoldLocked), held(s, g, a2, edit.HoldLocked)
	second.Lock.Along, second.Lock.Over = first.Lock.Along, first.Lock.Over
	do(t, s, first)
	do(t, s, second)
	now := s.Plan().Find(g.ID)
	if now.Lay != nil || len(now.Faults) == 0 || len(s.Refused(g.ID)) == 0 || s.LastLay(g.ID) == nil {
		t.Fatalf("lay %v, faults %v, last %v", now.Lay != nil, now.Faults, s.LastLay(g.ID) != nil)
	}
	do(t, s, edit.ReleaseAll{Goods: job.ID(g.ID)})
	cover(t, s)
}

// A spoiled piece is cut again from what is left over while there is room; the
// lay grows only when there is none.
func TestASpoiledPieceUsesWhatIsLeftFirst(t *testing.T) {
	s, g := demo(t, false)
	before := g.Lay.Length
	at := place(t, s, g, "A1")
	do(t, s, held(s, g, at, edit.HoldSpoiled))
	now := cover(t, s)
	if len(now.Lay.Places) != len(g.Lay.Places)+1 || now.Pieces != g.Pieces {
		t.Fatalf("%d places, %d pieces", len(now.Lay.Places), now.Pieces)
	}
	if now.Lay.Length < before-unit.Length(lay.CheckTol) {
		t.Errorf("the lay became shorter with a piece more: %v, was %v", now.Lay.Length, before)
	}
	place(t, s, now, "A1")
}

package edit_test

import (
	"testing"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/engine/geom"
)

func cover(j job.Job, piece int, along string) job.Lock {
	return job.Lock{Goods: j.Cloths[0].ID, Seat: j.Seats[0].ID, Part: job.PartCover, Piece: piece, State: job.Locked, Along: job.Measure(along), Over: "3 in"}
}

func TestACutPieceIsNeverMoved(t *testing.T) {
	j, _ := fresh(job.UnitsInches)
	a1 := cover(j, 1, "10 in")
	j = do(t, j, edit.Hold{How: edit.HoldMoved, Piece: "A1", Lock: a1})
	a1.Along = "20 in"
	j = do(t, j, edit.Hold{How: edit.HoldMoved, Piece: "A1", Lock: a1})
	if len(j.Locked) != 1 || j.Locked[0].Along != "20 in" {
		t.Fatalf("moved twice: %+v", j.Locked)
	}
	a1.State = job.Cut
	j = do(t, j, edit.Hold{How: edit.HoldCut, Piece: "A1", Lock: a1})
	a1.Along = "508 mm" // the same place, written otherwise
	j = do(t, j, edit.Hold{How: edit.HoldCut, Piece: "A1", Lock: a1})
	a1.Along = "21 in"
	if _, f := (edit.Hold{How: edit.HoldMoved, Piece: "A1", Lock: a1}).Apply(j); len(f) != 1 || f[0].Code != edit.CodeIsCut {
		t.Errorf("a piece that is cut was moved: %v", f)
	}
	if out := do(t, j, edit.Release{Piece: "A1", Lock: a1}); len(out.Locked) != 0 {
		t.Errorf("released: %+v", out.Locked)
	}
}

// A spoiled piece leaves its place taken and is free to be cut again; taking
// the mark off gives the cut piece back, without the one that replaced it.
func TestASpoiledPieceIsCutAgain(t *testing.T) {
	j, _ := fresh(job.UnitsInches)
	gone := cover(j, 1, "10 in")
	gone.State = job.Cut
	j = do(t, j, edit.Hold{How: edit.HoldCut, Piece: "A1", Lock: gone})
	gone.State = job.Spoiled
	j = do(t, j, edit.Hold{How: edit.HoldSpoiled, Piece: "A1", Lock: gone})
	again := cover(j, 1, "40 in")
	j = do(t, j, edit.Hold{How: edit.HoldMoved, Piece: "A1", Lock: again})
	if len(j.Locked) != 2 || j.Locked[0].State != job.Spoiled || j.Locked[1].State != job.Locked {
		t.Fatalf("got %+v", j.Locked)
	}
	j = do(t, j, edit.Release{Piece: "A1", Lock: gone})
	if len(j.Locked) != 1 || j.Locked[0].State != job.Cut || j.Locked[0].Along != "10 in" {
		t.Errorf("the mark taken off: %+v", j.Locked)
	}
}

func TestKeepLayAndReleaseAll(t *testing.T) {
	j, _ := fresh(job.UnitsInches)
	cut := cover(j, 1, "10 in")
	cut.State = job.Cut
	foam := job.Lock{Goods: j.Foams[0].ID, Seat: j.Seats[0].ID, Part: job.PartFoam, Piece: 1, State: job.Locked, Along: "1 in", Over: "1 in"}
	for _, l := range []job.Lock{cut, cover(j, 2, "30 in"), foam} {
		j = do(t, j, edit.Hold{How: edit.HoldLocked, Piece: "A", Lock: l})
	}
	j = do(t, j, edit.KeepLay{Goods: j.Cloths[0].ID, Locked: []job.Lock{cover(j, 1, "50 in"), cover(j, 3, "60 in")}})
	if len(j.Locked) != 3 || j.Locked[0].Along != "10 in" || j.Locked[2].Piece != 3 {
		t.Fatalf("kept: %+v", j.Locked)
	}
	j = do(t, j, edit.ReleaseAll{Goods: j.Cloths[0].ID})
	if len(j.Locked) != 2 || j.Locked[0].State != job.Cut || j.Locked[1].Part != job.PartFoam {
		t.Errorf("released: %+v", j.Locked)
	}
}

// A flaw drawn by hand is written outwards to the marking step and stays on
// the cloth.
func TestPutFlaw(t *testing.T) {
	j, _ := fresh(job.UnitsInches)
	c := j.Cloths[0]
	box := geom.Rect{Min: geom.P(10.02*25.4, -40), Max: geom.P(12.51*25.4, 3*25.4)}
	put := edit.PutFlaw{Cloth: c.ID, ID: "flaw000001", Box: box}
	if l := put.Label(j); l.Code != "add-flaw" {
		t.Errorf("label %v", l)
	}
	j = do(t, j, put)
	f := j.Cloths[0].Flaws[0]
	if f.From != "10 in" || f.To != "12 9/16 in" || f.Near != "0 in" || f.Far != "3 in" {
		t.Errorf("got %+v", f)
	}
	put.Box = geom.Rect{Min: geom.P(0, 1e5), Max: geom.P(1, 2e5)} // far off the cloth
	if l := put.Label(j); l.Code != "move-flaw" {
		t.Errorf("label %v", l)
	}
	j = do(t, j, put)
	f = j.Cloths[0].Flaws[0]
	wide := j.Cloths[0].Goods().UsableWidth()
	if off := f.Far.Or(0) - wide; off > 1e-6 || off < -1e-6 || f.Near != "52 15/16 in" || len(j.Cloths[0].Flaws) != 1 {
		t.Errorf("clipped to %+v, the cloth is %v wide", f, wide)
	}
	if bad := j.Validate(); len(bad) > 0 {
		t.Error(bad)
	}
	if j = do(t, j, edit.DeleteFlaw{ID: "flaw000001"}); len(j.Cloths[0].Flaws) != 0 {
		t.Error("not deleted")
	}
	if _, f := (edit.DeleteFlaw{ID: "flaw000001"}).Apply(j); len(f) == 0 {
		t.Error("deleted twice")
	}
}

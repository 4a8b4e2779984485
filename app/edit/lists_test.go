package edit_test

import (
	"math"
	"testing"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/engine/plan"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// TestFitOneSeat: the trial took half an inch more in front than was reckoned;
// after fitting, the reckoned wrap is the used one there and the same
// elsewhere.
func TestFitOneSeat(t *testing.T) {
	j, id := fresh(job.UnitsInches)
	wrap := func(j job.Job, r seat.Role) unit.Length {
		p := plan.MakeSeat(j.Input().Seats[0], j.Step.Length())
		w, _ := p.Result.Wrap(r)
		return w.Computed.Length() - w.Section.Pull
	}
	if _, f := (edit.FitSeat{Seat: id}).Apply(j); len(f) != 1 || f[0].Code != edit.CodeNoTrial {
		t.Errorf("without a trial: %v", f)
	}
	front, back := wrap(j, seat.Front), wrap(j, seat.Back)
	took := front + unit.In/2
	j = do(t, j, edit.Set{Object: id, Field: edit.BuildTriedFront, Text: string(job.Exactly(took))})
	fitted, faults := (edit.FitSeat{Seat: id}).Fitted(j)
	if len(faults) > 0 || len(fitted) != 1 || fitted[0].Role != seat.Front {
		t.Fatalf("got %+v %v", fitted, faults)
	}
	k := do(t, j, edit.FitSeat{Seat: id})
	if got := wrap(k, seat.Front); math.Abs(float64(got-took)) > 0.01 {
		t.Errorf("front: reckoned %v, used %v", got, took)
	}
	if got := wrap(k, seat.Back); got != back {
		t.Errorf("back changed from %v to %v", back, got)
	}
	// Explained by the foam being pressed, the wrap gets shorter.
	short := front - unit.In/8
	j = do(t, j, edit.Set{Object: id, Field: edit.BuildTriedFront, Text: string(job.Exactly(short))})
	k = do(t, j, edit.FitSeat{Seat: id, Press: true})
	if got := wrap(k, seat.Front); math.Abs(float64(got-short)) > 0.01 || k.Seats[0].Build.Compression == "" {
		t.Errorf("pressed: reckoned %v, used %v, %q", got, short, k.Seats[0].Build.Compression)
	}
	j = do(t, j, edit.Set{Object: id, Field: edit.BuildTriedFront, Text: "39 in"})
	if _, f := (edit.FitSeat{Seat: id}).Apply(j); len(f) == 0 || f[0].Where.Field != edit.BuildTriedFront {
		t.Errorf("39 in of wrap: %v", f)
	}
}

func TestMarkCut(t *testing.T) {
	j, _ := fresh(job.UnitsInches)
	c := j.Cloths[0].ID
	spoiled := cover(j, 1, "90 in")
	spoiled.State = job.Spoiled
	j = do(t, j, edit.Hold{How: edit.HoldSpoiled, Piece: "A1", Lock: spoiled}, edit.Hold{How: edit.HoldLocked, Piece: "A1", Lock: cover(j, 1, "5 in")})
	made := []job.Offcut{{ID: "made000001", Shelf: "shelf00001", Length: "20 in", Width: "53 in"}}
	k := do(t, j, edit.MarkCut{Goods: c, Locked: []job.Lock{cover(j, 1, "10 in")}, Made: made})
	if !k.Cloths[0].CutDone || len(k.Cloths[0].Made) != 1 || len(k.Locked) != 2 || k.Locked[0].State != job.Spoiled || k.Locked[1].State != job.Cut || k.Locked[1].Along != "10 in" {
		t.Errorf("got %+v, %+v", k.Cloths[0].Made, k.Locked)
	}
	if j.Cloths[0].CutDone {
		t.Error("the job before was changed")
	}
}

func TestListsOfTheJob(t *testing.T) {
	j, id := fresh(job.UnitsCM)
	foam := j.Foams[0].ID
	p := plan.Proposal{Foam: string(foam), GlueUps: []plan.GlueUp{{Seat: string(id), Piece: 1, At: []unit.Length{123.456, 200}}}}
	j = do(t, j,
		edit.SetOwn{Seat: id, Own: []job.OwnSeat{{ID: "own0000001", Number: 1, FrontWidth: "46 cm"}}},
		edit.SetHoles{Seat: id, Holes: []job.Hole{{ID: "hole000001", Across: "10 cm", Left: true, FromFront: "5 cm"}}},
		edit.SetOffcuts{Goods: foam, Offcuts: []job.Offcut{{ID: "offcut0001", Length: "50 cm", Width: "50 cm"}}},
		edit.TakeProposal{Proposal: p, IDs: []job.ID{"glue000001"}},
		edit.SetExtras{Extras: []job.ExtraLine{{ID: "extra00001", Name: "Castors", Count: 4, Price: "2.50"}}},
		edit.Dismiss{ID: "dismiss001", Caution: "knives////", Note: "known"}, edit.Dismiss{ID: "dismiss002", Caution: "knives////", Note: "seen"})
	in := j.Input()
	g := in.GlueUps[0]
	if len(g.At) != 2 || math.Abs(float64(g.At[0]-123.456)) > 0.01 || g.Piece != 1 || g.FrontToBack {
		t.Errorf("glue-up %+v", g)
	}
	if h := in.Seats[0].Build.Holes; len(h) != 1 || h[0].X != -100 || h[0].Y != 50-15 {
		t.Errorf("holes %v, the bow is 1.5 cm", h)
	}
	if o := in.Seats[0].Own; len(o) != 1 || o[0].Shape.Measured.FrontWidth != 460 || o[0].Shape.Measured.Depth != in.Seats[0].Shape.Measured.Depth {
		t.Errorf("own %+v", o)
	}
	if len(in.Foams[0].Offcuts) != 1 || in.Extras[0].Each != 250 || in.Dismissed["knives////"] != "seen" || len(j.Dismissed) != 1 {
		t.Errorf("got %+v %+v %v", in.Foams[0].Offcuts, in.Extras, in.Dismissed)
	}
	if j = do(t, j, edit.Raise{Caution: "knives////"}); len(j.Dismissed) != 0 {
		t.Error("still dealt with")
	}
	// A copy of the seat has its own holes and single seats.
	k := do(t, j, edit.DuplicateSeat{Seat: id, ID: "seat000002"})
	if k.Seats[1].Own[0].ID == k.Seats[0].Own[0].ID || k.Seats[1].Outline.Holes[0].ID == "hole000001" {
		t.Error("the copy shares its lists' IDs")
	}
	if k = do(t, k, edit.DeleteSeat{Seat: id}); len(k.GlueUps) != 0 {
		t.Error("a glue-up without its seat")
	}
	for _, c := range []edit.Command{edit.SetOwn{Seat: "nobody0000"}, edit.SetOffcuts{Goods: "nobody0000"}, edit.MarkCut{Goods: "nobody0000"},
		edit.TakeProposal{Proposal: p}, edit.SetExtras{Extras: []job.ExtraLine{{ID: "x"}}}} {
		if out, f := c.Apply(j); len(f) == 0 || string(job.Encode(out)) != string(job.Encode(j)) {
			t.Errorf("%T was taken", c)
		}
	}
}

package edit_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"slipseat/app/edit"
	"slipseat/app/edit/edittest"
	"slipseat/app/job"
	"slipseat/engine/unit"
)

func fresh(units job.Units) (job.Job, job.ID) {
	j := job.New(edittest.Bytes(rand.New(rand.NewPCG(3, 7))), edittest.Names, units)
	return j, j.Seats[0].ID
}

func do(t *testing.T, j job.Job, cs ...edit.Command) job.Job {
	t.Helper()
	for _, c := range cs {
		next, faults := c.Apply(j)
		if len(faults) > 0 {
			t.Fatalf("%#v: %v", c, faults[0])
		}
		j = next
	}
	return j
}

// TestFieldsAreAllThere holds the constants against the schema.
func TestFieldsAreAllThere(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "fields.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var have []string
	ast.Inspect(file, func(n ast.Node) bool {
		if l, ok := n.(*ast.BasicLit); ok {
			s, _ := strconv.Unquote(l.Value)
			have = append(have, s)
		}
		return true
	})
	var want []string
	for _, f := range job.Fields() {
		want = append(want, f.Path)
	}
	if !slices.Equal(have, want) {
		t.Errorf("fields.go has %d constants, the schema %d fields: %q / %q", len(have), len(want), have, want)
	}
}

// TestEveryFieldCanBeSet walks all fields: a good text is taken, kept and
// given back, and the job reads back the same.
func TestEveryFieldCanBeSet(t *testing.T) {
	j, seat := fresh(job.UnitsInches)
	j = do(t, j, edit.AddLayer{Seat: seat, Layer: job.Layer{ID: "layer00001", Foam: j.Foams[0].ID, Thickness: "1 in"}},
		edit.SetFlaws{Cloth: j.Cloths[0].ID, Flaws: []job.Flaw{{ID: "flaw000001", From: "1 in", To: "2 in", Near: "0 in", Far: "3 in"}}})
	j.Seats[0].Own = []job.OwnSeat{{ID: "own0000001", Number: 1}}
	j.Seats[0].Outline.Holes = []job.Hole{{ID: "hole000001", Across: "1 in", FromFront: "2 in"}}
	j.Cloths[0].Offcuts = []job.Offcut{{ID: "offcut0001", Length: "1 yd", Width: "20 in"}}
	j.GlueUps = []job.GlueUp{{ID: "glue000001", Seat: seat, Layer: 1, First: "9 in"}}
	j.Extras = []job.ExtraLine{{ID: "extra00001", Name: "Castors"}}
	j.Changes = []job.AgreedChange{{ID: "change0001"}}
	j.Actuals = []job.Actual{{ID: "actual0001", Line: "cover"}}
	j.Dismissed = []job.Dismissal{{ID: "dismiss001", Caution: "knives////"}}
	objects := map[string]job.ID{"job": j.ID, "seat": seat, "layer": "layer00001", "cloth": j.Cloths[0].ID, "flaw": "flaw000001", "foam": j.Foams[0].ID,
		"own": "own0000001", "hole": "hole000001", "offcut": "offcut0001", "glue-up": "glue000001", "extra": "extra00001", "change": "change0001",
		"actual": "actual0001", "dismissal": "dismiss001"}
	texts := map[job.FieldKind]string{job.TakesText: "AB", job.TakesLength: "0.375", job.TakesShare: "12.5", job.TakesMoney: "3.5",
		job.TakesNumber: "2", job.TakesSwitch: "true", job.TakesGoods: string(j.Cloths[1].ID)}
	special := map[string]string{"country": "us", "currency": "usd", "firmness": "35", "density": "2.5", "swatch.ground": "#2f7f78", "swatch.figure": "#eee4d0",
		"swatch.picture": string(job.PictureIDOf([]byte("a"))), "swatch.corners": "0 0, 1 0, 1 1, 0 1", "swatch.motif": "0.5 0.5"}
	for _, f := range job.Fields() {
		text := texts[f.Kind]
		if f.Kind == job.TakesChoice {
			words := j.Choices(objects[f.Object], f.Path)
			text = words[len(words)-1]
		}
		if s, ok := special[f.Path]; ok {
			text = s
		}
		k := do(t, j, edit.Set{Object: objects[f.Object], Field: f.Path, Text: text})
		got, ok := k.Get(objects[f.Object], f.Path)
		if !ok || got == "" {
			t.Errorf("%s %s: got %q", f.Object, f.Path, got)
		}
		if f.Kind == job.TakesLength && got != "0.375 in" {
			t.Errorf("%s %s: got %q, want 0.375 in", f.Object, f.Path, got)
		}
		back, err := job.Decode(job.Encode(k))
		if err != nil {
			t.Errorf("%s %s: %v", f.Object, f.Path, err)
		}
		if again, _ := back.Get(objects[f.Object], f.Path); again != got {
			t.Errorf("%s %s: read back %q, want %q", f.Object, f.Path, again, got)
		}
	}
}

func TestCommandsAreRefused(t *testing.T) {
	j, seat := fresh(job.UnitsInches)
	cover := j.Cloths[0].ID
	for _, c := range []struct {
		name string
		cmd  edit.Command
		code string
	}{
		{"the last seat", edit.DeleteSeat{Seat: seat}, edit.CodeLastSeat},
		{"a seat that is gone", edit.DeleteSeat{Seat: "nobody0000"}, job.CodeNoObject},
		{"cloth in use", edit.DeleteGoods{Goods: cover}, edit.CodeInUse},
		{"foam in use", edit.DeleteGoods{Goods: j.Foams[0].ID}, edit.CodeInUse},
		{"goods that are gone", edit.DeleteGoods{Goods: "nobody0000"}, job.CodeNoObject},
		{"an ID in use", edit.DuplicateSeat{Seat: seat, ID: cover}, edit.CodeNotCopy},
		{"no ID", edit.AddCloth{}, edit.CodeNotCopy},
		{"a cloth with a bad width", edit.AddCloth{Cloth: job.Cloth{ID: "cloth00001", Width: "wide"}}, unit.CodeJunk},
		{"a cloth that is 9 m wide", edit.AddCloth{Cloth: job.Cloth{ID: "cloth00001", Width: "9 m"}}, job.CodeTooLarge},
		{"the marking step", edit.Set{Object: j.ID, Field: "marking_step", Text: "1 mm"}, job.CodeNoField},
		{"an ID", edit.Set{Object: seat, Field: "id", Text: "x"}, job.CodeNoField},
		{"a whole list", edit.Set{Object: j.ID, Field: "seats", Text: "x"}, job.CodeNoField},
		{"5 m of turn-under", edit.Set{Object: seat, Field: edit.BuildTurnUnder, Text: "5 m"}, job.CodeTooLarge},
		{"a drag to nowhere", edit.Handle{Seat: seat, Field: edit.OutlineDepth, To: unit.Length(1e9)}, unit.CodeHuge},
		{"locks without a place", edit.SetLocks{Locked: []job.Lock{{Goods: cover, Seat: seat, Piece: 1}}}, job.CodeMissing},
		{"the second of two", edit.Many{Commands: []edit.Command{edit.SetCount(seat, "4"), edit.SetCount(seat, "x")}}, job.CodeNumber},
	} {
		next, faults := c.cmd.Apply(j)
		if len(faults) == 0 || faults[0].Code != c.code {
			t.Errorf("%s: got %v, want %s", c.name, faults, c.code)
		}
		if string(job.Encode(next)) != string(job.Encode(j)) {
			t.Errorf("%s: refused, but the job changed", c.name)
		}
	}
	full := j
	full.Seats = slices.Clone(full.Seats)
	for i := range 199 {
		s := full.Seats[0]
		s.ID = job.ID("copy00" + strconv.Itoa(1000+i))
		full.Seats = append(full.Seats, s)
	}
	if _, faults := (edit.DuplicateSeat{Seat: seat, ID: "copy009999"}).Apply(full); len(faults) == 0 || faults[0].Code != edit.CodeTooMany {
		t.Errorf("a seat beyond the limit: got %v", faults)
	}
}

func TestSeatsMoveAndCopy(t *testing.T) {
	j, a := fresh(job.UnitsInches)
	j = do(t, j, edit.AddLayer{Seat: a, Layer: job.Layer{ID: "layer00001", Foam: j.Foams[0].ID, Thickness: "1 in"}},
		edit.DuplicateSeat{Seat: a, ID: "seatb00000"}, edit.DuplicateSeat{Seat: a, ID: "seatc00000"})
	names := func() (s []string) {
		for _, x := range j.Seats {
			s = append(s, x.Name)
		}
		return s
	}
	if got := names(); !slices.Equal(got, []string{"Side chair", "Side chair 3", "Side chair 2"}) {
		t.Errorf("got %q", got)
	}
	l := j.Seats[1].Build.Layers
	if len(l) != 1 || l[0].ID == "layer00001" || l[0].Thickness != "1 in" {
		t.Errorf("layers of the copy: %+v", l)
	}
	j = do(t, j, edit.MoveSeat{Seat: a, To: 99})
	if got := names(); got[2] != "Side chair" {
		t.Errorf("got %q", got)
	}
	j = do(t, j, edit.MoveSeat{Seat: a, To: -4})
	if got := names(); got[0] != "Side chair" {
		t.Errorf("got %q", got)
	}
}

func TestCountDropsHeldPieces(t *testing.T) {
	j, a := fresh(job.UnitsInches)
	lock := func(n int) job.Lock {
		return job.Lock{Goods: j.Cloths[0].ID, Seat: a, Part: job.PartCover, Piece: n, State: job.Locked, Along: "1 in", Over: "0 in"}
	}
	j = do(t, j, edit.SetCount(a, "6"), edit.SetLocks{Locked: []job.Lock{lock(2), lock(6)}}, edit.SetCount(a, "5"))
	if len(j.Locked) != 1 || j.Locked[0].Piece != 2 {
		t.Errorf("held pieces: %+v", j.Locked)
	}
	if bad := j.Validate(); len(bad) > 0 {
		t.Errorf("fault: %v", bad)
	}
}

func TestUnitsSwitch(t *testing.T) {
	j, a := fresh(job.UnitsInches)
	j = do(t, j, edit.SwitchUnits{To: job.UnitsCM})
	if j.ClothUnits != job.ClothInMetres || j.Step != job.StepSixteenth {
		t.Errorf("cloth in %s, step %s", j.ClothUnits, j.Step)
	}
	if w, _ := j.Get(a, edit.OutlineFrontWidth); w != "17 1/2 in" {
		t.Errorf("what was typed became %q", w)
	}
	j = do(t, j, edit.Set{Object: a, Field: edit.OutlineFrontWidth, Text: "44,5"})
	if w, _ := j.Get(a, edit.OutlineFrontWidth); w != "44,5 cm" {
		t.Errorf("a bare number in centimetres became %q", w)
	}
}

// TestDragsLandOnTheStep: whatever the units, a dragged value lies on the
// marking step and reads back as that very step.
func TestDragsLandOnTheStep(t *testing.T) {
	for _, u := range []job.Units{job.UnitsInches, job.UnitsDecimal, job.UnitsCM, job.UnitsMM} {
		j, a := fresh(u)
		for _, step := range []job.Step{job.StepSixteenth, job.StepMillimetre} {
			j.Step = step
			for i := range 300 {
				to := unit.Length(300 + 0.37*float64(i))
				k := do(t, j, edit.Handle{Seat: a, Field: edit.OutlineDepth, To: to})
				typed, _ := k.Get(a, edit.OutlineDepth)
				l, err := job.Measure(typed).Length()
				n := float64(l / step.Length())
				if off := unit.Length(n-float64(int(n+0.5))) * step.Length(); err != nil || off > 0.013 || off < -0.013 {
					t.Fatalf("%s, step %s: dragged to %v, written %q, off the step by %v mm", u, step, to, typed, off)
				}
				if d := l - to; d > step.Length()/2+0.013 || d < -step.Length()/2-0.013 {
					t.Fatalf("%s, step %s: dragged to %v, written %q", u, step, to, typed)
				}
			}
		}
	}
}

func TestKindsFillWhatTheyNeed(t *testing.T) {
	j, a := fresh(job.UnitsInches)
	for _, kind := range []job.SeatKind{job.BoxedPad, job.Stool, job.DropIn, job.PulledOver} {
		j = do(t, j, edit.Set{Object: a, Field: edit.SeatKind, Text: string(kind)})
		if bad := j.Validate(); len(bad) > 0 && bad[0].Where.Seat != "" {
			t.Errorf("%s: %v", kind, bad[0])
		}
		if s, _, _ := j.Seat(a); (s.Outline.From == job.Round) != (kind == job.Stool) || s.Outline.BackWidth != "15 1/2 in" {
			t.Errorf("%s: outline %+v", kind, s.Outline)
		}
	}
}

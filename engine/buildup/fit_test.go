package buildup

import (
	"math"
	"testing"

	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// Case 2 of testdata/hand/wrap.txt backwards: the wrap without its pull is
// 4.79708 in; the overhang behind it is 1/2 in.
func TestFitOverhangByHand(t *testing.T) {
	s := Start(PulledOver)
	s.Foam[0].Thickness, s.Board = 2*unit.In, 5*unit.In/8
	s.Edge, s.EdgeSize = RoundedEdge, 3*unit.In/4
	s.Wadding = Wadding{Thickness: unit.In / 4, StopsAtFoam: true}
	s.Cover.TurnUnder, s.Cover.Pull = 1.25*unit.In, unit.In/2
	s.Overhang = PerEdge{All: unit.Some(0)}
	r := mustMake(t, rect(t, 17, 19), s, 0)
	got, changes, faults := FitOverhang(s, r, PerEdge{Front: unit.Some(4.79708 * unit.In)})
	if len(faults) > 0 || len(changes) != 1 {
		t.Fatal(faults, changes)
	}
	near(t, "overhang in front, in", got.Overhang.At(seat.Front).Value.In(), 0.5, 1e-4)
	near(t, "left stays", got.Overhang.At(seat.Left).Value.MM(), 0, 0)
	near(t, "wrap after, in", changes[0].After.In(), 5.29708, 1e-5)
	again := mustMake(t, rect(t, 17, 19), got, 0)
	w, _ := again.Wrap(seat.Front)
	near(t, "reckoned again, in", w.Computed.Length().In(), 5.29708, 1e-5)
	// Nothing changes when the trial took what was reckoned.
	w, _ = r.Wrap(seat.Back)
	same, _, _ := FitOverhang(s, r, PerEdge{Back: unit.Some(w.Computed.Length() - s.Cover.Pull)})
	near(t, "overhang at the back", same.Overhang.Back.Value.MM(), 0, 1e-6)
}

func TestFitCompression(t *testing.T) {
	s := Start(PulledOver)
	s.Foam[0].Thickness = 2 * unit.In
	r := mustMake(t, rect(t, 17, 19), s, 0)
	// Square edge, no wadding: a tenth of 2 in pressed takes 0.2 in off every
	// wrap. Without pull it was 2 + 1/2 + 1 = 3 1/2 in.
	got, changes, faults := FitCompression(s, r, PerEdge{All: unit.Some(3.3 * unit.In)})
	if len(faults) > 0 || len(changes) != 4 {
		t.Fatal(faults, changes)
	}
	near(t, "compression", got.Compression, 0.1, 1e-9)
	near(t, "wrap after, in", changes[0].After.In(), 3.8, 1e-9)
	w, _ := mustMake(t, rect(t, 17, 19), got, 0).Wrap(seat.Left)
	near(t, "reckoned again, in", w.Computed.Length().In(), 3.8, 1e-9)
}

func TestFitRefusesWhatCannotBe(t *testing.T) {
	s := Start(PulledOver)
	r := mustMake(t, rect(t, 17, 19), s, 0)
	for _, used := range []unit.Length{0, -5, 2000, unit.Length(math.NaN()), unit.Length(math.Inf(1))} {
		for name, fit := range map[string]func(Spec, Result, PerEdge) (Spec, []Fitted, []unit.Fault){"overhang": FitOverhang, "compression": FitCompression} {
			got, _, faults := fit(s, r, PerEdge{Left: unit.Some(used)})
			if len(faults) != 1 || faults[0].Code != CodeFit || faults[0].Where.Field != "used_wrap_left" {
				t.Errorf("%s from %v: got %v", name, used, faults)
			}
			if got.Compression != s.Compression || got.Overhang != s.Overhang {
				t.Errorf("%s from %v: changed all the same", name, used)
			}
		}
	}
}

// A seat that binds, planed as it says, fits; planing back and forth keeps the
// rest of the outline.
func TestPlanedFits(t *testing.T) {
	s := Start(DropIn)
	s.Cover.Thickness = 1.5
	for name, o := range map[string]seat.Outline{"side chair": sideChair(t), "notched": notchedChair(t), "rectangle": rect(t, 17, 19)} {
		w, d := o.Size()
		s.Frame = Frame{Width: w + 5, Depth: d + 7}
		r := mustMake(t, o, s, 0)
		near(t, name+", plane across", r.Gaps[0].Plane.MM(), 4.5-2.5, 1e-9)
		near(t, name+", plane along", r.Gaps[1].Plane.MM(), 4.5-3.5, 1e-9)
		p, f := Planed(o, r.Gaps)
		if f != nil {
			t.Fatal(name, *f)
		}
		again := mustMake(t, p, s, 0)
		for _, g := range again.Gaps {
			if g.Binds() {
				t.Errorf("%s: still binds by %v mm", name, g.Plane)
			}
		}
		if p.Area() >= o.Area() {
			t.Errorf("%s: planing made the board larger", name)
		}
	}
	round, _ := seat.Round(400, 400)
	p, f := Planed(round, []Gap{{At: Across, Plane: 2}, {At: Along, Plane: 1}})
	if f != nil {
		t.Fatal(*f)
	}
	w, _ := p.Size()
	near(t, "round, planed all round", w.MM(), 396, 1e-9)
	o := rect(t, 17, 19)
	if p, _ := Planed(o, nil); p.Area() != o.Area() {
		t.Error("nothing to plane changes nothing")
	}
}

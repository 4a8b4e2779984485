package buildup

import (
	"math"
	"math/rand/v2"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

func TestTogetherByHand(t *testing.T) {
	s := Start(PulledOver)
	a, b := mustMake(t, rect(t, 17, 19), s, unit.SixteenthInch), mustMake(t, rect(t, 17.5, 18.75), s, unit.SixteenthInch)
	both := Together([]Result{a, b}, unit.SixteenthInch)
	for _, x := range both {
		switch x.Part {
		case PartFoam:
			t.Error("foam is cut for each seat")
		case PartCover: // 3 in each side
			near(t, "width of the wider, in", x.W.Length().In(), 23.5, 1e-9)
			near(t, "depth of the deeper, in", x.D.Length().In(), 25, 1e-9)
		case PartDust: // 1/2 hem, 3/8 inset
			near(t, "dust cloth width, in", x.W.Length().In(), 17.75, 1e-9)
			near(t, "dust cloth depth, in", x.D.Length().In(), 19.25, 1e-9)
		}
	}
	if len(both) != 2 {
		t.Errorf("%d blanks, want cover and dust cloth", len(both))
	}
	one := Together([]Result{a}, unit.SixteenthInch)
	near(t, "one seat is its own", one[0].W.Value(), 23*25.4, 1e-9)
	if Together(nil, 0) != nil {
		t.Error("no seats, no blanks")
	}
}

// The shared blank contains every seat's own, laid on the motif points; its
// terms add up to its size; squared ones are whole steps.
func TestTogetherContainsAll(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 21))
	t.Logf("-seed %d", *seed)
	for n := range 60 {
		s := Start(PulledOver)
		s.Cover.Shaped = n%2 == 0
		s.Wadding.Thickness = 6
		var rs []Result
		for range 2 + r.IntN(4) {
			m := seat.Measurements{FrontWidth: 450 + unit.Length(r.IntN(12)), BackWidth: 410 + unit.Length(r.IntN(12)),
				Depth: 420 + unit.Length(r.IntN(12)), FrontBow: 15, FrontRadius: 20, BackRadius: 10}
			rs = append(rs, mustMake(t, measured(t, m), s, unit.SixteenthInch))
		}
		for _, b := range Together(rs, unit.SixteenthInch) {
			box := b.Path.Bounds()
			near(t, "width", b.W.Value(), box.W(), 1e-9)
			near(t, "depth", b.D.Value(), box.H(), 1e-9)
			if b.Square {
				steps := b.W.Length() / unit.SixteenthInch
				near(t, "whole steps", float64(steps), math.Round(float64(steps)), 1e-6)
			}
			for k, x := range rs {
				own, _ := x.Blank(b.Part)
				for _, p := range own.Path.Flatten(geom.ChordTol) {
					q := p.Sub(own.Motif)
					if !b.Path.Contains(q.Mul(0.9999).Add(b.Motif)) {
						t.Fatalf("%d: %s of seat %d sticks out at %v", n, b.Part.Code(), k, p)
					}
				}
			}
		}
	}
}

package buildup

import (
	"math"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// onRoll turns a blank onto the roll as a plan does.
func onRoll(b Blank, quarters int) geom.Rect { return b.Path.Turned(quarters).Bounds() }

func TestStripsAsPieces(t *testing.T) {
	in := unit.In
	s, ok := StraightStrips(130*in, 54*in, 1.5*in, 0)
	if !ok {
		t.Fatal("not cut")
	}
	for quarters := range 4 {
		bs := s.Blanks("sprig", false, quarters, unit.SixteenthInch)
		if len(bs) != 2 || bs[0].Count != 2 || bs[1].Count != 1 {
			t.Fatalf("quarters %d: got %d kinds, want two full strips and one of 22 in", quarters, len(bs))
		}
		for i, want := range []float64{54, 22} {
			r := onRoll(bs[i], quarters)
			near(t, "across the roll, in", unit.Length(r.H()).In(), want, 1e-9)
			near(t, "along it, in", unit.Length(r.W()).In(), 1.5, 1e-9)
			box := bs[i].Path.Bounds()
			near(t, "width as its figure", box.W(), bs[i].W.Value(), 1e-9)
			near(t, "depth as its figure", box.H(), bs[i].D.Value(), 1e-9)
		}
	}
	s, ok = BiasStrips(400*in, 54*in, 2*in, in/2, 10*in)
	if !ok {
		t.Fatal("not cut")
	}
	for quarters := range 4 {
		var area float64
		for _, b := range s.Blanks("sprig", true, quarters, unit.SixteenthInch) {
			if b.Square || b.Path.Validate() != nil {
				t.Fatalf("quarters %d: %+v", quarters, b)
			}
			r := onRoll(b, quarters)
			if unit.Length(r.H()) > 54*in+1e-9 {
				t.Errorf("quarters %d: a strip %v in across", quarters, unit.Length(r.H()).In())
			}
			area += float64(b.Count) * b.Path.Area()
			box := b.Path.Bounds()
			near(t, "width as its figure", box.W(), b.W.Value(), 1e-9)
			near(t, "depth as its figure", box.H(), b.D.Value(), 1e-9)
			// Each long edge runs at 45 degrees.
			e := b.Path.Segment(1)
			v := e.B.Sub(e.A)
			near(t, "slant", math.Abs(v.X), math.Abs(v.Y), 1e-9)
		}
		var length float64
		for _, p := range s.Pieces {
			length += p.MM()
		}
		near(t, "area is length by width", area, length*s.Width.MM(), 1e-6)
	}
	// Laid as a whole, the bias strips fit the stretch that was reckoned.
	if n := s.Along.Terms[1].Value / (2 * in * math.Sqrt2).MM(); math.Abs(n-math.Round(n)) > 1e-9 {
		t.Errorf("%v full strips", n)
	}
}

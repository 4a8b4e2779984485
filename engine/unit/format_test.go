package unit

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestFormats(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Text(17.5*In, Inches), "17 1/2"},
		{Text(0.5*In, Inches), "1/2"},
		{Text(18*In, Inches), "18"},
		{Text(445, Centimetres), "44.5"},
		{Text(445, Millimetres), "445"},
		{Figure(17.5*In, Inches), "17½"},
		{Figure(17.3125*In, Inches), "17⁵⁄₁₆"},
		{Figure(0.75*In, Inches), "¾"},
		{Figure(445.4, Millimetres), "445"},
		{Figure(3.875*Yd, Yards), "3⅞"},
		{Figure(3.3*Yd, Yards), "3.3"},
		{Label(1371.6, Inches), "54 in"},
		{FeetLabel(67.375 * In), "5 ft 7⅜ in"},
		{FeetLabel(11.999 * In), "1 ft"},
		{YardsLabel(114 * In), "3 yd 6 in"},
		{YardsLabel(35.99 * In), "1 yd"},
		{AreaLabel(190451.2, false), "2.05 sq ft"},
		{AreaLabel(1e6, true), "1 m²"},
		{Typed(0, Inches), "0 in"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// TestTextComesBack: what is written at a unit's own precision is read back as
// the same length, and writing it again changes nothing.
func TestTextComesBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	grid := map[Unit]Length{Inches: In / 16, DecimalInches: In / 1000, Centimetres: 0.1, Millimetres: 0.1, Yards: Yd / 1000, Metres: 1, Feet: Ft / 1000}
	for u, step := range grid {
		for range 500 {
			l := Length(r.IntN(40000)) * step
			back, err := Parse(Typed(l, u), Millimetres)
			if err != nil || math.Abs(float64(back-l)) > 1e-6 {
				t.Fatalf("%v mm in %s: %q comes back as %v, %v", l, u.Symbol(), Typed(l, u), back, err)
			}
			if u == Inches {
				pretty, err := Parse(Figure(l, u), u)
				if err != nil || math.Abs(float64(pretty-l)) > 1e-6 {
					t.Fatalf("%q comes back as %v, %v", Figure(l, u), pretty, err)
				}
			}
		}
	}
}

func TestRoundUpKeepsMultiples(t *testing.T) {
	for n := range 20000 {
		l := Length(n) * 25.4 / 16
		sum := l/3 + l/3 + l/3 // float noise
		if got := RoundUp(sum, SixteenthInch); math.Abs(float64(got-l)) > 1e-9 {
			t.Fatalf("%d sixteenths became %v sixteenths", n, float64(got/SixteenthInch))
		}
	}
	if got := RoundUp(10.01, SixteenthInch); math.Abs(float64(got-7*SixteenthInch)) > 1e-9 {
		t.Errorf("10.01 mm: got %v sixteenths, want 7", float64(got/SixteenthInch))
	}
	if got := RoundNearest(7.9, OneMillimetre); got != 8 {
		t.Errorf("got %v, want 8", got)
	}
}

package geom

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"
)

var seed = flag.Uint64("seed", 1, "seed of the random trials")

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.Abs(got-want) > tol || math.IsNaN(got) {
		t.Errorf("%s: got %.12g, want %.12g", what, got, want)
	}
}

func TestArcArithmetic(t *testing.T) {
	c := Circle(Pt{3, 4}, 10)
	near(t, "circle area", c.Area(), math.Pi*100, 1e-9)
	near(t, "circle edge", c.Length(), 2*math.Pi*10, 1e-9)
	b := c.Bounds()
	near(t, "circle left", b.Min.X, -7, 1e-9)
	near(t, "circle top", b.Max.Y, 14, 1e-9)
	// Sagitta s over chord w: radius (w²/4 + s²)/2s (DESIGN section 4).
	a := ArcThrough(Pt{0, 0}, Pt{470, 0}, 19)
	near(t, "radius", a.Radius(), (470*470/4.0+19*19)/(2*19), 1e-9)
	near(t, "sagitta", a.At(0.5).Y, -19, 1e-9)
	near(t, "end tangent", a.Tangent(1).Cross(Pt{1, 0}), a.Tangent(0).Cross(Pt{1, 0})*-1, 1e-12)
	q := Path{{Pt{0, 0}, 0}, {Pt{10, 0}, 0}, {Pt{10, 10}, -math.Tan(math.Pi / 8)}} // a quarter bitten out
	near(t, "bitten square", q.Area(), 50-(math.Pi/4*100-50), 1e-9)
}

func TestTransformsKeepMeasures(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 7))
	for range 300 {
		p := randomOutline(r)
		a, l := p.Area(), p.Length()
		for n := range 4 {
			near(t, "turned area", p.Turned(n).Area(), a, 1e-6)
		}
		near(t, "mirrored area", p.Mirror(3).Area(), a, 1e-6)
		near(t, "reversed area", p.Reverse().Area(), -a, 1e-6)
		near(t, "reversed edge", p.Reverse().Length(), l, 1e-6)
		if back := p.Turned(1).Turned(3); back[0] != p[0] {
			t.Errorf("a whole turn moved %v to %v", p[0], back[0])
		}
	}
}

func TestValidate(t *testing.T) {
	sq := Box(0, 0, 10, 10)
	for _, c := range []struct {
		name string
		p    Path
		code string
	}{
		{"box", sq, ""},
		{"circle", Circle(Pt{}, 5), ""},
		{"empty", nil, CodeTooFew},
		{"two points", Path{{Pt{0, 0}, 0}, {Pt{1, 0}, 0}}, CodeTooFew},
		{"not a number", Path{{Pt{math.NaN(), 0}, 0}, {Pt{1, 0}, 0}, {Pt{1, 1}, 0}}, CodeNotFinite},
		{"double", Path{{Pt{0, 0}, 0}, {Pt{0, 0}, 0}, {Pt{1, 0}, 0}, {Pt{1, 1}, 0}}, CodeDouble},
		{"bow tie", Path{{Pt{0, 0}, 0}, {Pt{10, 10}, 0}, {Pt{10, 0}, 0}, {Pt{0, 10}, 0}}, CodeCrosses},
		{"clockwise", sq.Reverse(), CodeClockwise},
		{"flat", Path{{Pt{0, 0}, 0}, {Pt{5, 0}, 0}, {Pt{10, 0}, 0}}, CodeCrosses},
		{"arc through the far edge", Path{{Pt{0, 0}, -1}, {Pt{10, 0}, 0}, {Pt{10, 3}, 0}, {Pt{0, 3}, 0}}, CodeCrosses},
		{"touches itself", Path{{Pt{0, 0}, 0}, {Pt{10, 0}, 0}, {Pt{10, 10}, 0}, {Pt{5, 0}, 0}, {Pt{0, 10}, 0}}, CodeCrosses},
	} {
		got := ""
		if f := c.p.Validate(); f != nil {
			got = f.Code
		}
		if got != c.code {
			t.Errorf("%s: got %q, want %q", c.name, got, c.code)
		}
	}
}

func TestFlattenStaysNear(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 17))
	for range 200 {
		p := randomOutline(r)
		in, out := p.Flatten(ChordTol), p.FlattenOut(ChordTol)
		if in.Area() > p.Area()+1e-6 && len(p.CornerArcs()) > 0 && allConvex(p) {
			t.Fatalf("inscribed polygon is larger: %v", p)
		}
		if allConvex(p) && out.Area() < p.Area()-1e-6 {
			t.Fatalf("circumscribed polygon is smaller: %v", p)
		}
		for _, g := range []Polygon{in, out} {
			for _, v := range g {
				d := math.Inf(1)
				for i := range p {
					d = math.Min(d, p.Segment(i).Distance(v))
				}
				if d > ChordTol+1e-9 {
					t.Fatalf("corner %v lies %.4f mm off the path", v, d)
				}
			}
		}
	}
}

func allConvex(p Path) bool {
	for _, v := range p {
		if v.Bulge < 0 {
			return false
		}
	}
	return true
}

func TestContainsArcs(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 19))
	for range 100 {
		p := randomOutline(r)
		g := p.Flatten(1e-4)
		b := p.Bounds().Grow(20)
		for range 50 {
			q := Pt{b.Min.X + r.Float64()*b.W(), b.Min.Y + r.Float64()*b.H()}
			if p.Contains(q) != g.Contains(q) {
				d := math.Inf(1)
				for i := range p {
					d = math.Min(d, p.Segment(i).Distance(q))
				}
				if d > 1e-3 {
					t.Fatalf("%v in %v: path says %v", q, p, p.Contains(q))
				}
			}
		}
	}
}

func TestFilletTooBig(t *testing.T) {
	_, f := Box(0, 0, 100, 40).Fillet(0, 50)
	if f == nil || f.Code != CodeRadius {
		t.Fatalf("got %v", f)
	}
	limit := 0.0
	for _, a := range f.Args {
		if a.Name == "limit" {
			limit = toFloat(a.Value)
		}
	}
	near(t, "limit", limit, 40, 1e-3)
}

func toFloat(v any) float64 {
	type hasMM interface{ MM() float64 }
	if l, ok := v.(hasMM); ok {
		return l.MM()
	}
	return math.NaN()
}

package geom

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
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

func TestOffsetOfBox(t *testing.T) {
	// Amounts by edge: bottom 1, right 2, top 3, left 4.
	p, from, err := OffsetEdges(Box(0, 0, 10, 10), func(e int) float64 { return float64(e + 1) })
	if err != nil {
		t.Fatal(err)
	}
	b := p.Bounds()
	if len(p) != 4 || b.Min != (Pt{-4, -1}) || b.Max != (Pt{12, 13}) {
		t.Errorf("got %v", p)
	}
	for i, f := range from {
		if f != i {
			t.Errorf("segment %d comes from edge %d", i, f)
		}
	}
}

func TestOffsetRoundsCorner(t *testing.T) {
	p := Box(0, 0, 100, 100)
	for i := 3; i >= 0; i-- {
		var f error
		q, fault := p.Fillet(i, 10)
		if fault != nil {
			t.Fatal(f)
		}
		p = q
	}
	near(t, "rounded area", p.Area(), 10000-(4-math.Pi)*100, 1e-9)
	// Equal amounts: the exact outer parallel (Steiner's formula A + L d + π d²).
	q, err := Offset(p, func(int) float64 { return 7 })
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Steiner", q.Area(), p.Area()+7*p.Length()+math.Pi*49, 1e-6)
	// Unequal amounts: radius grown by the smaller of the two.
	q, err = Offset(p, func(e int) float64 {
		if m := p.Segment(e).At(0.5); m.Y < 1 {
			return 30
		}
		return 20
	})
	if err != nil {
		t.Fatal(err)
	}
	for i := range q {
		if s := q.Segment(i); !s.Straight() {
			near(t, "corner radius", s.Radius(), 30, 1e-6)
		}
	}
	b := q.Bounds()
	near(t, "bottom", b.Min.Y, -30, 1e-6)
	near(t, "left", b.Min.X, -20, 1e-6)
	near(t, "top", b.Max.Y, 120, 1e-6)
}

func TestMitreIsCutOff(t *testing.T) {
	sharp := Path{{Pt{0, 0}, 0}, {Pt{100, -10}, 0}, {Pt{100, 10}, 0}} // about 11° at the left
	p, from, err := OffsetEdges(sharp, func(int) float64 { return 5 })
	if err != nil {
		t.Fatal(err)
	}
	near(t, "leftmost", p.Bounds().Min.X, -10, 1e-9) // 2 × 5 beyond the corner
	cut := 0
	for _, f := range from {
		if f == NoEdge {
			cut++
		}
	}
	if cut != 1 {
		t.Errorf("got %d cut corners, want 1", cut)
	}
}

// TestOffsetLaws: on random outlines the offset contains every edge's own strip
// and the shape; equal amounts agree with a general geometry library
// (simplefeatures, P. Stace, 2024) put together from strips.
func TestOffsetLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 11))
	tested, fallback := 0, 0
	for range 300 {
		p := randomOutline(r)
		d := make([]float64, len(p))
		base := 5 + 90*r.Float64()
		for i := range d {
			d[i] = base * (0.7 + 0.6*r.Float64()) // wraps differ, but not wildly
			if r.IntN(10) == 0 {
				d[i] = 5 + 90*r.Float64()
			}
		}
		m, err := OffsetFrom(p, func(e int) float64 { return d[e] })
		if err != nil {
			t.Fatalf("seed %d: %v: %v", *seed, p, err)
		}
		q := m.Path
		tested++
		if !m.Exact {
			fallback++
		}
		corner := p.CornerArcs()
		for i := range p {
			if corner[i] {
				continue
			}
			s := p.Segment(i)
			for _, share := range [...]float64{0, 0.25, 0.5, 0.75, 1} {
				at, tan := s.At(share), s.Tangent(share)
				for _, depth := range [...]float64{0, 0.5, 1} {
					m := at.Add(tan.Right().Mul(d[i] * depth))
					if !q.Contains(m) && !onEdge(q, m) {
						t.Fatalf("seed %d: strip of edge %d sticks out at %v\n%v\n%v\n%v", *seed, i, m, p, d, q)
					}
				}
			}
		}
	}
	t.Logf("offsets: %d outlines, %d by strips", tested, fallback)
	if fallback > tested/3 {
		t.Errorf("%d of %d offsets needed the slow way", fallback, tested)
	}
}

// TestAgainstOtherLibrary compares areas, unions and containment of 1,000
// random outlines with simplefeatures.
func TestAgainstOtherLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 13))
	differ := func(p Path, ours float64) bool {
		g, err := toSF(p.Flatten(0.001))
		if err != nil {
			t.Fatal(err)
		}
		return math.Abs(g.Area()-ours) > 0.002*p.Length()
	}
	for k := range 1000 {
		p := randomOutline(r)
		if differ(p, p.Area()) {
			t.Fatalf("areas differ for %v", p)
		}
		if k%10 != 0 { // the unions are the slow part
			continue
		}
		d := 3 + 40*r.Float64()
		o := offsetter{path: p}
		o.read(func(int) float64 { return d })
		quick, ok := o.direct()
		if !ok {
			continue
		}
		strips, err := o.byStrips()
		if err != nil {
			t.Fatal(err)
		}
		fast, slow := quick.Path, strips.Path
		// The slow way has sharp corners where the fast one is round.
		in, err := toSF(fast.Flatten(0.01))
		if err != nil {
			t.Fatal(err)
		}
		out, err := toSF(slow.Flatten(0.01))
		if err != nil {
			t.Fatal(err)
		}
		rest, err := sf.Difference(in, out)
		if err != nil {
			t.Fatal(err)
		}
		if rest.Area() > 2*ChordTol*p.Length() {
			t.Fatalf("the quick offset leaves the slow one by %.2f mm²: %v by %v", rest.Area(), p, d)
		}
	}
	// A planted error must be caught: an arc taken for its chord.
	p := Path{{Pt{0, 0}, 0.2}, {Pt{400, 0}, 0}, {Pt{400, 300}, 0}, {Pt{0, 300}, 0}}
	if !differ(p, p.corners().Area()) {
		t.Error("the planted error went unnoticed")
	}
}

// onEdge allows for the grid that the slow way works on.
func onEdge(p Path, q Pt) bool {
	for i := range p {
		if p.Segment(i).Distance(q) < 2*unionGrid {
			return true
		}
	}
	return false
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

func same(d float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = d
	}
	return out
}

// randomOutline is a board-like shape: a quadrangle with bowed edges and
// rounded corners, now and then a notch or a waist.
func randomOutline(r *rand.Rand) Path {
	for {
		wf, wb, d := 200+400*r.Float64(), 200+400*r.Float64(), 200+400*r.Float64()
		bow := func() float64 {
			if r.IntN(3) == 0 {
				return 0
			}
			return (r.Float64() - 0.3) * 0.3
		}
		p := Path{{Pt{-wf / 2, 0}, bow()}, {Pt{wf / 2, 0}, bow()}, {Pt{wb / 2, d}, bow()}, {Pt{-wb / 2, d}, bow()}}
		if r.IntN(4) == 0 { // a notch at the back right corner
			w, h := 20+40*r.Float64(), 20+40*r.Float64()
			c := p[2].Pt
			p = append(append(p[:2:2], Vertex{Pt{c.X, c.Y - h}, 0}, Vertex{Pt{c.X - w, c.Y - h}, 0}, Vertex{Pt{c.X - w, c.Y}, p[2].Bulge}), p[3])
		}
		ok := p.Validate() == nil
		for i := len(p) - 1; i >= 0 && ok; i-- {
			if r.IntN(2) == 0 {
				q, f := p.Fillet(i, 5+60*r.Float64())
				if f == nil {
					p = q
				}
			}
		}
		if ok && p.Validate() == nil {
			return p
		}
	}
}

func BenchmarkOffset(b *testing.B) {
	p := Path{{Pt{-235, 0}, 0.08}, {Pt{235, 0}, 0}, {Pt{203, 438}, 0}, {Pt{-203, 438}, 0}}
	for i := 3; i >= 0; i-- {
		p, _ = p.Fillet(i, 22)
	}
	for b.Loop() {
		if _, err := Offset(p, func(e int) float64 { return 75 + float64(e) }); err != nil {
			b.Fatal(err)
		}
	}
}

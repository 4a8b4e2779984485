package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestSegmentAgainstItsCentre is the slow twin of the arc formulas: every point
// by angle from the centre, lengths and areas from many small chords.
func TestSegmentAgainstItsCentre(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 21))
	for range 500 {
		s := Segment{Pt{r.NormFloat64() * 100, r.NormFloat64() * 100}, Pt{r.NormFloat64() * 100, r.NormFloat64() * 100}, r.NormFloat64()}
		if s.Straight() || s.A.Dist(s.B) < 1 {
			continue
		}
		c, rad, sweep := s.Center(), s.Radius(), 4*math.Atan(s.Bulge)
		scale := 1e-12 * (rad + 100)
		start := math.Atan2(s.A.Y-c.Y, s.A.X-c.X)
		at := func(u float64) Pt {
			sin, cos := math.Sincos(start + sweep*u)
			return Pt{c.X + rad*cos, c.Y + rad*sin}
		}
		b := Rect{s.A, s.A}
		var length, area float64
		const n = 2000
		for k := range n {
			u, v := float64(k)/n, float64(k+1)/n
			p, q := at(u), at(v)
			length += p.Dist(q)
			area += p.Cross(q)
			b = b.Include(q)
			if k%100 == 0 {
				near(t, "point on the arc", s.At(u).Dist(p), 0, scale)
				near(t, "share of it", s.ShareOf(s.At(u)), u, 1e-9)
				near(t, "nearest to it", s.Nearest(s.At(u)).Dist(p), 0, scale*10)
				out := s.At(u).Sub(c).Unit().Mul(math.Copysign(1, s.Bulge))
				near(t, "normal", s.Normal(u).Dist(out), 0, 1e-9)
			}
		}
		err := math.Pow(math.Abs(sweep)/n, 2) / 4 // of n chords, as a share
		near(t, "length", s.Length(), length, length*(err+1e-12))
		near(t, "area", s.twiceArea(), area, 2*err*(rad*rad*math.Abs(sweep)+length*200))
		got := s.Bounds()
		slack := 1e-9 + rad*err*4
		if got.Min.Dist(b.Min) > slack || got.Max.Dist(b.Max) > slack {
			t.Errorf("bounds of %v: got %v, want %v", s, got, b)
		}
		h := s.Part(0.2, 0.7)
		near(t, "part's length", h.Length(), s.Length()/2, 1e-9*s.Length())
		near(t, "part's middle", h.At(0.5).Dist(s.At(0.45)), 0, scale*10)
		m := ArcThroughPoint(s.A, s.At(0.3), s.B)
		near(t, "arc through a point of it", m.Bulge, s.Bulge, 1e-9*(1+math.Abs(s.Bulge)*math.Abs(s.Bulge)))
	}
}

// TestFlatArcsLoseNoDigits: arcs with a radius of kilometres behave as their
// chords but for the sagitta.
func TestFlatArcsLoseNoDigits(t *testing.T) {
	for _, s := range []float64{1e-3, 1e-5, 1e-6} {
		a := ArcThrough(P(0, 0), P(500, 0), s)
		near(t, "sagitta", -a.At(0.5).Y, s, 1e-13)
		near(t, "length", a.Length(), 500+8*s*s/(3*500), 1e-12)
		p := Path{{P(0, 0), a.Bulge}, V(500, 0, 0), V(500, 400, 0), V(0, 400, 0)}
		near(t, "area", p.Area(), 200000+500*s*2/3, 1e-9) // two thirds of the box round a parabola
	}
	if s := ArcThroughPoint(P(0, 0), P(1, 0), P(2, 0)); s.Bulge != 0 {
		t.Errorf("three points on a line give a bulge of %v", s.Bulge)
	}
}

func TestNearestOfDegenerate(t *testing.T) {
	if d := (Segment{A: P(1, 1), B: P(1, 1)}).Distance(P(4, 5)); d != 5 {
		t.Errorf("a segment without length: got %v", d)
	}
	half := Segment{P(-1, 0), P(1, 0), 1}
	near(t, "from the centre", half.Distance(P(0, 0)), 1, 1e-15)
	near(t, "from the open side", half.Distance(P(0, 3)), math.Hypot(1, 3), 1e-15)
}

// Points exactly on the chords of rounded corners are inside where the polygon
// of the same path says so, whichever way the path runs.
func TestInsideOnChords(t *testing.T) {
	p, f := Box(10, 12, 100, 82).Fillets(func(int) float64 { return 15 })
	if f != nil {
		t.Fatal(f)
	}
	for name, p := range map[string]Path{
		"rounded": p, "turned": p.Turned(1), "clockwise": p.Reverse(), "circle": Circle(P(50, 50), 20),
		"hollow sides": {V(0, 0, -0.3), V(80, 0, -0.3), V(80, 80, 0.2), V(0, 80, -0.3)},
	} {
		g := p.Flatten(0.01)
		b, wrong := p.Bounds(), 0
		for y := b.Min.Y - 0.1; y < b.Max.Y; y += 0.5 {
			for x := b.Min.X - 0.2; x < b.Max.X; x += 0.1 {
				q := P(math.Round(x*10)/10, math.Round(y*10)/10)
				if p.inside(q) != g.Contains(q) && p.Distance(q) > 0.02 {
					wrong++
				}
			}
		}
		if wrong > 0 {
			t.Errorf("%s: %d points on the wrong side", name, wrong)
		}
	}
}

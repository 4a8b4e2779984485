package lay

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// rounded is a blank l along and w across with corner radius r; the polygon
// lies inside the true outline by less than a thousandth of the radius.
func rounded(l, w, r float64) geom.Polygon {
	if r == 0 {
		return box(l, w)
	}
	var g geom.Polygon
	for i, c := range []geom.Pt{{X: l - r, Y: r}, {X: l - r, Y: w - r}, {X: r, Y: w - r}, {X: r, Y: r}} {
		for a := 0; a <= 24; a++ {
			sin, cos := math.Sincos(math.Pi / 2 * (float64(i) - 1 + float64(a)/24))
			g = append(g, c.Add(geom.Pt{X: r * cos, Y: r * sin}))
		}
	}
	return g
}

// TestBoundExamples is the table of examples: area bound and chord bound, in
// centimetres there, here in millimetres of the same numbers. The source's
// chord bounds were sampled on 2,000 lines a piece; exact integrals agree to a
// decimal.
func TestBoundExamples(t *testing.T) {
	kind := func(g geom.Polygon, n int, turns Turns) Kind {
		return Kind{ID: "A", Shape: g, Count: n, Turns: turns}
	}
	trapezoid := geom.Polygon{{X: 0, Y: 0}, {X: 55, Y: 4}, {X: 55, Y: 56}, {X: 0, Y: 60}}
	for _, c := range []struct {
		name        string
		kinds       []Kind
		area, bound float64
	}{
		{"12 blanks 65x60 r 6, 0/180", []Kind{kind(rounded(65, 60, 6), 12, EitherWay)}, 338.8, 390},
		{"12 blanks 65x60 r 6, 0/90", []Kind{kind(rounded(65, 60, 6), 12, AnyTurn)}, 338.8, 360},
		{"10 blanks 62x72, nap", []Kind{kind(box(62, 72), 10, OneWay)}, 325.8, 620},
		{"10 trapezoids", []Kind{kind(trapezoid, 10, EitherWay)}, 224.8, 275},
		{"mix", []Kind{kind(rounded(65, 60, 6), 6, EitherWay), kind(box(50, 75), 6, EitherWay), kind(box(40, 30), 8, EitherWay)}, 403.7, 421.8},
	} {
		p := Problem{Kinds: c.kinds, Bins: []Bin{{Width: 137, Sheets: 1}}}
		m := measureAll(p)
		if got := m.length(identity(m.w)); math.Abs(got-c.area) > 0.12 {
			t.Errorf("%s: area bound %.2f, want %.2f", c.name, got, c.area)
		}
		got, _ := Bound(p)
		if d := got.MM() - c.bound; d < -0.06 || d > 0.06 && c.name != "mix" {
			t.Errorf("%s: bound %.3f, want %.1f", c.name, got.MM(), c.bound)
		}
		t.Logf("%s: %.3f", c.name, got.MM())
	}
}

// TestDualsAreFeasible draws sets of chords that fit side by side and adds up
// their grades.
func TestDualsAreFeasible(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 400 {
		w := 100 + r.Int64N(2000)
		us := []dual{identity(w)}
		for k := int64(1); k < 12; k++ {
			us = append(us, share(w, k))
		}
		for range 10 {
			e := 1 + r.Int64N(w/2)
			us = append(us, without(w, e), counted(w, e))
		}
		for range 20 {
			rest := w
			var cs []int64
			for rest > 0 && len(cs) < 40 {
				c := 1 + r.Int64N(rest)
				if r.IntN(3) == 0 {
					c = min(rest, w/int64(1+r.IntN(7))+r.Int64N(2)) // near a whole part of the width
					c = max(1, c)
				}
				cs = append(cs, c)
				rest -= c
			}
			for i, u := range us {
				sum := 0.0
				for _, c := range cs {
					sum += u.at(float64(c))
				}
				if sum > 1+1e-9 {
					t.Fatalf("function %d of width %d: chords %v grade %v", i, w, cs, sum)
				}
			}
		}
		for i, u := range us {
			for c := int64(1); c < w; c++ {
				if u.at(float64(c)) > u.at(float64(c+1))+1e-12 {
					t.Fatalf("function %d of width %d falls at %d", i, w, c)
				}
			}
		}
	}
}

// TestGradeIsTheIntegral compares with sums over fine slices.
func TestGradeIsTheIntegral(t *testing.T) {
	w := int64(137 * boundPerMM)
	shapes := []geom.Polygon{rounded(65, 60, 6), ell, {{X: 0, Y: 0}, {X: 50, Y: 20}, {X: 20, Y: 80}}}
	for _, g := range shapes {
		for _, gap := range []float64{0, 3} {
			p := profileOf(g, gap)
			for _, u := range []dual{identity(w), share(w, 2), share(w, 5), without(w, w/5), counted(w, w/7)} {
				sum := 0.0
				const n = 4000
				for _, r := range p {
					for i := range n {
						f := (float64(i) + 0.5) / n
						sum += r.dx / n * u.at(r.a+(r.b-r.a)*f)
					}
				}
				if got := u.grade(p); math.Abs(got-sum) > 2e-3*(1+sum) {
					t.Errorf("grade %.5f, slices %.5f", got, sum)
				}
			}
		}
	}
}

func TestGrownKeepsExtentAndArea(t *testing.T) {
	for _, g := range []geom.Polygon{box(50, 30), rounded(65, 60, 6), {{X: 0, Y: 0}, {X: 50, Y: 20}, {X: 20, Y: 80}}} {
		r := 1.5
		b, big := g.Bounds(), grown(g, r)
		if !isConvex(withoutStraight(big)) {
			t.Errorf("grown shape is not convex: %v", big)
		}
		if want := b.Grow(r); big.Bounds().Min.Dist(want.Min) > 1e-9 || big.Bounds().Max.Dist(want.Max) > 1e-9 {
			t.Errorf("grown box %v, want %v", big.Bounds(), want)
		}
		// Steiner's formula, with the disc's area and edge of the inscribed 16-gon within 3 %.
		full := g.Area() + g.Length()*r + math.Pi*r*r
		if a := big.Area(); a > full || a < full-0.03*(g.Length()*r+math.Pi*r*r) {
			t.Errorf("grown area %v, with a full circle %v", a, full)
		}
	}
}

// TestEqualBlanksBoundIsExact: the closed form for equal squared blanks laid
// one way, ceil(N / across) rows, when all rows are full.
func TestEqualBlanksBoundIsExact(t *testing.T) {
	for _, gap := range []unit.Length{0, 3.175} {
		for _, c := range []struct {
			l, w  float64
			n     int
			width unit.Length
		}{{27 * 25.4, 27 * 25.4, 8, 54 * unit.In}, {610, 590, 6, 1200}, {500, 400, 9, 1346.2}} {
			if gap > 0 && c.w*2 > 1371 {
				c.width += gap
			}
			p := Problem{Gap: gap, Kinds: []Kind{{ID: "A", Shape: box(c.l, c.w), Count: c.n, Turns: OneWay}}, Bins: []Bin{{Width: c.width, Sheets: 1}}}
			across := math.Floor((c.width + gap + 1e-6).MM() / (c.w + gap.MM()))
			want := float64(c.n)/across*(c.l+gap.MM()) - gap.MM()
			if got, _ := Bound(p); math.Abs(got.MM()-want) > 0.05 {
				t.Errorf("%v, gap %v: bound %.4f, want %.4f", c, gap, got.MM(), want)
			}
		}
	}
}

func TestSheetBound(t *testing.T) {
	// Nine foams of 0.6 x 0.6 on sheets of 1 x 1: no two share a sheet, though
	// by area four sheets would do.
	p := Problem{Kinds: []Kind{{ID: "F", Shape: box(600, 600), Count: 9, Turns: AnyTurn, Square: true}}, Bins: []Bin{{Width: 1000, Length: 1000}}}
	if _, n := Bound(p); n != 9 {
		t.Errorf("got %d sheets, want 9", n)
	}
	p.Kinds[0].Shape = box(500, 500)
	if _, n := Bound(p); n != 3 {
		t.Errorf("got %d sheets, want 3", n)
	}
}

func TestBoundFor(t *testing.T) {
	// A piece at hand takes its share off the roll, never more.
	p := Problem{Kinds: []Kind{{ID: "A", Shape: box(600, 600), Count: 6, Turns: OneWay}}, Bins: []Bin{{Width: 1000, Length: 1250, Sheets: 1}, {Width: 1000, Sheets: 1}}}
	got, _ := Bound(p)
	if got < 2300 || got > 2400 {
		t.Errorf("bound %v, want 3600 - 1250 = 2350", got)
	}
	if !slices.IsSorted([]float64{0, got.MM()}) {
		t.Error("a bound below nothing")
	}
}

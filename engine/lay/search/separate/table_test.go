package separate

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
)

var seed = flag.Uint64("seed", 1, "seed of the random trials")

// star is a random simple polygon around its centre, mostly concave.
func star(r *rand.Rand, n int, size float64) geom.Polygon {
	var g geom.Polygon
	for k := range n {
		a := (float64(k) + 0.8*r.Float64()) / float64(n) * 2 * math.Pi
		d := size * (0.25 + 0.75*r.Float64())
		g = append(g, geom.P(math.Round(d*math.Cos(a)), math.Round(d*math.Sin(a))))
	}
	return g
}

// overlaps is the slow twin: two polygons overlap when edges cross properly or
// when a point just inside one is inside the other. Whole-number corners on a
// coarse grid keep it exact enough: the sample points are edge midpoints
// nudged inwards.
func overlaps(a, b geom.Polygon) bool {
	for i := range a {
		for j := range b {
			p, q := a[i], a[(i+1)%len(a)]
			u, v := b[j], b[(j+1)%len(b)]
			if turnOf(p, q, u)*turnOf(p, q, v) < 0 && turnOf(u, v, p)*turnOf(u, v, q) < 0 {
				return true
			}
		}
	}
	return anyInside(a, b) || anyInside(b, a)
}

func turnOf(a, b, c geom.Pt) float64 {
	v := b.Sub(a).Cross(c.Sub(a))
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

func anyInside(a, b geom.Polygon) bool {
	for i := range a {
		p, q := a[i], a[(i+1)%len(a)]
		d := q.Sub(p)
		n := geom.P(-d.Y, d.X).Mul(1e-6 / d.Len())
		for _, k := range []float64{0.001, 0.25, 0.5, 0.75, 0.999} {
			v := p.Add(d.Mul(k)).Add(n)
			if b.Contains(v) && a.Contains(v) {
				return true
			}
		}
	}
	return false
}

func TestTableAgreesWithSlowOverlap(t *testing.T) {
	t.Logf("seed %d", *seed)
	r := rand.New(rand.NewPCG(*seed, 1))
	hits, clears := 0, 0
	for range 60 {
		p := lay.Problem{Bins: []lay.Bin{{Width: 5000, Sheets: 1}}, Kinds: []lay.Kind{
			{Shape: star(r, 3+r.IntN(9), 300), Count: 1, Turns: lay.AnyTurn},
			{Shape: star(r, 3+r.IntN(9), 200), Count: 1, Turns: lay.EitherWay},
		}}
		m := newModel(p, 1)
		for range 200 {
			f, g := m.turns[0][r.IntN(4)], m.turns[1][r.IntN(2)]
			if r.IntN(2) == 0 {
				f, g = g, f
			}
			a, b := &m.forms[f], &m.forms[g]
			d := ipt{toGrid(float64(r.IntN(1300) - 650)), toGrid(float64(r.IntN(1300) - 650))}
			l := &m.links[f][g]
			dx, dy := l.sign*float64(d.x)+l.ox, l.sign*float64(d.y)+l.oy
			got := l.t.loss(dx, dy) > 0
			if exact := !l.t.clear(int64(dx), int64(dy)); got != exact {
				t.Fatalf("at %v: loss says %v, planes say %v", d, got, exact)
			}
			want := overlaps(inMM(a.poly, ipt{}), inMM(b.poly, d))
			if got != want {
				t.Fatalf("at %v mm: got overlap %v, want %v\n%v\n%v", ipt{d.x / perMM, d.y / perMM}, got, want, inMM(a.poly, ipt{}), inMM(b.poly, d))
			}
			if got {
				hits++
			} else {
				clears++
			}
		}
	}
	if hits < 2000 || clears < 2000 {
		t.Errorf("the trials are one-sided: %d overlap, %d clear", hits, clears)
	}
}

func inMM(p ipoly, d ipt) geom.Polygon {
	g := make(geom.Polygon, len(p))
	for i, v := range p {
		g[i] = geom.P(fromGrid(float64(v.x+d.x)), fromGrid(float64(v.y+d.y)))
	}
	return g
}

func TestConvexPartsCoverThePolygon(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 2))
	for range 200 {
		p := gridPolygon(star(r, 4+r.IntN(16), 300))
		sum := int64(0)
		for _, q := range convexParts(p) {
			if !q.convex() || q.area2() <= 0 {
				t.Fatalf("part is not convex: %v", q)
			}
			sum += q.area2()
		}
		if sum != p.area2() {
			t.Fatalf("parts have twice the area %d, the polygon %d: %v", sum, p.area2(), p)
		}
	}
}

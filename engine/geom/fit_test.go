package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

// bezierAt is a cubic curve by its power form, apart from any shipped code.
func bezierAt(a, b, c, d Pt) func(float64) (Pt, Pt) {
	return func(t float64) (Pt, Pt) {
		s := 1 - t
		p := a.Mul(s * s * s).Add(b.Mul(3 * s * s * t)).Add(c.Mul(3 * s * t * t)).Add(d.Mul(t * t * t))
		v := b.Sub(a).Mul(3 * s * s).Add(c.Sub(b).Mul(6 * s * t)).Add(d.Sub(c).Mul(3 * t * t))
		return p, v
	}
}

func TestFitStaysWithinItsTolerance(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	pt := func() Pt { return P(r.Float64()*500, r.Float64()*500) }
	for n := range 300 {
		a, b, c, d := pt(), pt(), pt(), pt()
		switch n % 10 {
		case 7: // control points that coincide
			b = a
		case 8:
			c = d
		case 9:
			b, c = a, d
		}
		const tol = 0.01
		at := bezierAt(a, b, c, d)
		segs := Fit(at, tol)
		if len(segs) == 0 || segs[0].A != a || segs[len(segs)-1].B.Dist(d) > 1e-9 {
			t.Fatalf("curve %d: %v does not run from %v to %v", n, segs, a, d)
		}
		for i := 1; i < len(segs); i++ {
			if segs[i-1].B != segs[i].A {
				t.Fatalf("curve %d: a gap before arc %d", n, i)
			}
		}
		worst := 0.0
		for k := range 2001 {
			p, _ := at(float64(k) / 2000)
			off := math.Inf(1)
			for _, s := range segs {
				off = min(off, s.Distance(p))
			}
			worst = max(worst, off)
		}
		// Between the 15 places it may stray a little further.
		if worst > 1.5*tol {
			t.Errorf("curve %d strays %.4f mm: %v %v %v %v", n, worst, a, b, c, d)
		}
		if len(segs) > 200 {
			t.Errorf("curve %d takes %d arcs", n, len(segs))
		}
	}
}

// A quarter circle, drawn as programs do with a cubic whose control points lie
// 0.5522847 radii along the tangents, strays 0.027 % of the radius from it: one
// arc.
func TestFitMakesOneArcOfARoundedCorner(t *testing.T) {
	const k = 0.5522847498
	segs := Fit(bezierAt(P(20, 0), P(20, 20*k), P(20*k, 20), P(0, 20)), 0.01)
	if len(segs) != 1 || math.Abs(segs[0].Bulge-math.Tan(math.Pi/8)) > 1e-9 {
		t.Errorf("got %v, want one arc of bulge 0.41421", segs)
	}
	if got := Fit(bezierAt(P(0, 0), P(1, 2), P(2, 4), P(3, 6)), 0.01); len(got) != 1 || !got[0].Straight() {
		t.Errorf("got %v, want one line", got)
	}
	if got := Fit(func(float64) (Pt, Pt) { return P(3, 4), Pt{} }, 0.01); len(got) != 0 {
		t.Errorf("a curve without length gives %v", got)
	}
}

// Where a curve is smooth, its arcs are too.
func TestFitIsSmooth(t *testing.T) {
	at := bezierAt(P(0, 0), P(150, -60), P(350, -60), P(500, 0))
	segs := Fit(at, 0.01)
	for i := 1; i < len(segs); i++ {
		if a := math.Abs(signedAngle(segs[i-1].Tangent(1), segs[i].Tangent(0))); a > 1e-9 {
			t.Errorf("arcs %d and %d meet at %.2g rad", i-1, i, a)
		}
	}
}

package trace

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"slipseat/engine/geom"
)

// bySVD is the homography as the null vector of the 2n × 9 matrix of the direct
// linear transformation, found by another author's singular value
// decomposition, without moving or scaling anything first.
func bySVD(t *testing.T, from, to []geom.Pt) Homography {
	t.Helper()
	a := mat.NewDense(max(9, 2*len(from)), 9, nil)
	for i := range from {
		x, y, u, v := from[i].X, from[i].Y, to[i].X, to[i].Y
		a.SetRow(2*i, []float64{x, y, 1, 0, 0, 0, -u * x, -u * y, -u})
		a.SetRow(2*i+1, []float64{0, 0, 0, x, y, 1, -v * x, -v * y, -v})
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDFull) {
		t.Fatal("no decomposition")
	}
	var v mat.Dense
	svd.VTo(&v)
	var h Homography
	for i := range h {
		h[i] = v.At(i, 8) / v.At(8, 8)
	}
	return h
}

func TestHomographyAgreesWithSVD(t *testing.T) {
	const seed = 4
	r := rand.New(rand.NewPCG(seed, 0))
	for n := range 200 {
		ref := A4().corners()
		from := ref[:]
		mid := geom.P(500+2000*r.Float64(), 500+1500*r.Float64())
		to := make([]geom.Pt, 4)
		for i, p := range from {
			to[i] = mid.Add(geom.P(p.X*3, -p.Y*3)).Add(geom.P(160*(r.Float64()-0.5), 160*(r.Float64()-0.5)))
		}
		h, ok := FitHomography(from, to)
		if !ok {
			t.Fatalf("seed %d, case %d: no fit for %v", seed, n, to)
		}
		want := bySVD(t, from, to)
		for i := range 30 {
			p := geom.P(600*(r.Float64()-0.5), 600*(r.Float64()-0.5))
			a, okA := h.Apply(p)
			b, okB := want.Apply(p)
			if okA && okB && a.Dist(b) > 1e-6*max(1, b.Len()) {
				t.Fatalf("seed %d, case %d, point %d: got %v, by SVD %v", seed, n, i, a, b)
			}
		}
		back, ok := h.Inverse()
		if !ok {
			t.Fatal("no inverse")
		}
		for i, p := range from {
			if q := h.at(p); q.Dist(to[i]) > 1e-7 {
				t.Fatalf("case %d: corner %d goes to %v, want %v", n, i, q, to[i])
			}
			if q := back.at(to[i]); q.Dist(p) > 1e-7 {
				t.Fatalf("case %d: and back to %v, want %v", n, q, p)
			}
		}
	}
}

// TestHomographyOfTheUnitSquare is worked by hand after P. Heckbert,
// Fundamentals of Texture Mapping and Image Warping, 1989, section 2.2.3, square
// to quadrilateral. (0,0) (1,0) (1,1) (0,1) go to (0,0) (2,0) (1,1) (0,2).
// Σx = 0-2+1-0 = -1, Σy = 0-0+1-2 = -1, Δx1 = 1, Δy1 = -1, Δx2 = -1, Δy2 = 1:
// the two are parallel, so the map is another one than this quadrilateral's
// neighbour with (1.5, 1.5) for (1, 1): Σx = -0.5, Σy = -0.5, Δx1 = 0.5,
// Δy1 = -1.5, Δx2 = -1.5, Δy2 = 0.5, det = 0.25 - 2.25 = -2,
// g = (-0.5·0.5 - 1.5·0.5)/-2 = 0.5, h = (0.5·-0.5 - 1.5·0.5)/-2 = 0.5,
// a = 2 + 0.5·2 = 3, b = 0 + 0 = 0, d = 0, e = 2 + 0.5·2 = 3.
func TestHomographyOfTheUnitSquare(t *testing.T) {
	from := []geom.Pt{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 1, Y: 1}, {X: 0, Y: 1}}
	to := []geom.Pt{{X: 0, Y: 0}, {X: 2, Y: 0}, {X: 1.5, Y: 1.5}, {X: 0, Y: 2}}
	h, ok := FitHomography(from, to)
	if !ok {
		t.Fatal("no fit")
	}
	want := Homography{3, 0, 0, 0, 3, 0, 0.5, 0.5, 1}
	for i := range h {
		if math.Abs(h[i]/h[8]-want[i]) > 1e-9 {
			t.Fatalf("got %v, want %v", h, want)
		}
	}
	// Three corners on a line are no quadrilateral.
	if _, ok := FitHomography(from, []geom.Pt{{X: 0, Y: 0}, {X: 2, Y: 0}, {X: 1, Y: 1}, {X: 0, Y: 2}}); ok {
		t.Error("three corners on a line were fitted")
	}
}

// TestHomographyOfManyPoints: with more than four pairs the sum of squared
// distances is least, so it is no larger than that of the null vector, and no
// small change makes it smaller.
func TestHomographyOfManyPoints(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 0))
	truth := Homography{3, 0.2, 900, -0.1, -3.1, 700, 1e-4, -2e-4, 1}
	var from, to []geom.Pt
	for range 40 {
		p := geom.P(400*(r.Float64()-0.5), 400*(r.Float64()-0.5))
		from = append(from, p)
		to = append(to, truth.at(p).Add(geom.P(r.NormFloat64(), r.NormFloat64())))
	}
	cost := func(h Homography) float64 {
		var s float64
		for i := range from {
			d := h.at(from[i]).Sub(to[i])
			s += d.Dot(d)
		}
		return s
	}
	h, ok := FitHomography(from, to)
	if !ok {
		t.Fatal("no fit")
	}
	if got, svd := cost(h), cost(bySVD(t, from, to)); got > svd+1e-9 {
		t.Errorf("cost %v, by SVD %v", got, svd)
	}
	for i := range h {
		for _, k := range []float64{1 - 1e-4, 1 + 1e-4} {
			g := h
			g[i] *= k
			if cost(g) < cost(h)-1e-6 {
				t.Errorf("changing element %d by %v makes it better", i, k)
			}
		}
	}
}

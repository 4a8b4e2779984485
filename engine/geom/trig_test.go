package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestTrig compares with the standard library, which may differ in the last
// digits from one processor to the next.
func TestTrig(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 3))
	const tol = 5e-16
	for range 20000 {
		a := (r.Float64() - 0.5) * 30
		s, c := sincos(a)
		if ws, wc := math.Sincos(a); math.Abs(s-ws) > tol || math.Abs(c-wc) > tol {
			t.Fatalf("%v: sine off by %g, cosine by %g", a, s-ws, c-wc)
		}
		x := math.Tan((r.Float64() - 0.5) * math.Pi)
		if w := math.Atan(x); math.Abs(atan(x)-w) > tol*math.Max(1, math.Abs(w)) {
			t.Fatalf("atan %v: got %v, want %v", x, atan(x), w)
		}
		y := r.NormFloat64()
		if w := math.Atan2(y, x); math.Abs(atan2(y, x)-w) > 2*tol*math.Max(1, math.Abs(w)) {
			t.Fatalf("atan2 %v, %v: got %v, want %v", y, x, atan2(y, x), w)
		}
		if v := math.Abs(s); math.Abs(math.Sin(asin(v))-v) > tol {
			t.Fatalf("asin %v: got %v, want %v", v, asin(v), math.Asin(v))
		}
	}
	for _, a := range []float64{0, math.Pi / 2, math.Pi, -math.Pi / 2, 2 * math.Pi} {
		s, c := sincos(a)
		if ws, wc := math.Sincos(a); math.Abs(s-ws) > 1e-16 || math.Abs(c-wc) > 1e-16 {
			t.Errorf("%v: got %v, %v", a, s, c)
		}
	}
}

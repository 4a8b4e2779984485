package linear

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestMaximiseBookExample: max 3x + 5y, x <= 4, 2y <= 12, 3x + 2y <= 18 has
// its maximum 36 at (2, 6), rows worth 0, 3/2 and 1 (Hillier and Lieberman,
// "Introduction to Operations Research", the Wyndor Glass example; from
// memory).
func TestMaximiseBookExample(t *testing.T) {
	x, p, ok := Maximise([]float64{3, 5}, [][]float64{{1, 0}, {0, 2}, {3, 2}}, []float64{4, 12, 18})
	if !ok || math.Abs(x[0]-2) > 1e-9 || math.Abs(x[1]-6) > 1e-9 {
		t.Errorf("got %v, %v", x, ok)
	}
	if math.Abs(p[0]) > 1e-9 || math.Abs(p[1]-1.5) > 1e-9 || math.Abs(p[2]-1) > 1e-9 {
		t.Errorf("prices %v", p)
	}
	if _, _, ok := Maximise([]float64{1}, [][]float64{{-1}}, []float64{1}); ok {
		t.Error("an endless program was solved")
	}
}

// TestMaximiseIsFeasibleAndTight: on random programs x keeps every row, the
// prices are feasible for the dual, and both values agree.
func TestMaximiseIsFeasibleAndTight(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		n, m := 1+r.IntN(12), 1+r.IntN(12)
		c, b := make([]float64, n), make([]float64, m)
		a := make([][]float64, m)
		for j := range c {
			c[j] = r.Float64()*4 - 1
		}
		for i := range a {
			a[i] = make([]float64, n)
			b[i] = float64(r.IntN(5))
			for j := range a[i] {
				a[i][j] = float64(r.IntN(4))
				if i == 0 {
					a[i][j]++
				}
			}
		}
		x, p, ok := Maximise(c, a, b)
		if !ok {
			t.Fatal("not solved")
		}
		top, dual := 0.0, 0.0
		for j := range c {
			top += c[j] * x[j]
			cover := 0.0
			for i := range a {
				cover += a[i][j] * p[i]
			}
			if x[j] < -1e-7 || cover < c[j]-1e-7 {
				t.Fatalf("x %v, prices %v", x, p)
			}
		}
		for i := range a {
			sum := 0.0
			for j := range c {
				sum += a[i][j] * x[j]
			}
			if sum > b[i]+1e-7 || p[i] < -1e-7 {
				t.Fatalf("row %d: %v > %v", i, sum, b[i])
			}
			dual += b[i] * p[i]
		}
		if math.Abs(top-dual) > 1e-6 {
			t.Fatalf("%v and %v", top, dual)
		}
	}
}

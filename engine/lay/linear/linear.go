// Package linear solves small linear programs for the bounds of the lay. Its
// answers steer only: whoever claims something from them checks the claim by
// other means, so that rounding can weaken a bound but never make it false.
package linear

import "math"

const (
	small = 1e-9
	// plainPivots is how many pivots choose the steepest column before the
	// least index decides, which cannot cycle (Bland, "New finite pivoting
	// rules for the simplex method", Mathematics of Operations Research 2,
	// 1977).
	plainPivots = 400
	mostPivots  = 5000
)

// Maximise solves max c·x subject to a·x <= b, x >= 0, with b >= 0. It gives x
// and the prices of the rows (the dual solution). ok is false where the program
// has no finite maximum or too many pivots were made; x is then feasible, but
// not the best.
func Maximise(c []float64, a [][]float64, b []float64) (x, price []float64, ok bool) {
	n, m := len(c), len(a)
	w := n + m + 1
	t := make([][]float64, m+1)
	basis := make([]int, m)
	for i := range t {
		t[i] = make([]float64, w)
		if i < m {
			copy(t[i], a[i])
			t[i][n+i], t[i][w-1] = 1, b[i]
			basis[i] = n + i
		}
	}
	for j, v := range c {
		t[m][j] = -v
	}
	for pivots := 0; ; pivots++ {
		in := -1
		least := -small
		for j := range w - 1 {
			if t[m][j] < least {
				in, least = j, t[m][j]
				if pivots > plainPivots {
					break
				}
			}
		}
		if in < 0 {
			ok = true
			break
		}
		out, ratio := -1, math.Inf(1)
		for i := range m {
			if t[i][in] > small {
				r := t[i][w-1] / t[i][in]
				if r < ratio-small || r <= ratio+small && out >= 0 && basis[i] < basis[out] {
					out, ratio = i, min(ratio, r)
				}
			}
		}
		if out < 0 || pivots > mostPivots {
			break
		}
		pivot(t, out, in)
		basis[out] = in
	}
	x, price = make([]float64, n), make([]float64, m)
	for i, j := range basis {
		if j < n {
			x[j] = t[i][w-1]
		}
	}
	for i := range m {
		price[i] = t[m][n+i]
	}
	return x, price, ok
}

func pivot(t [][]float64, out, in int) {
	p := t[out][in]
	for j := range t[out] {
		t[out][j] /= p
	}
	for i := range t {
		f := t[i][in]
		if i == out || f == 0 {
			continue
		}
		for j, v := range t[out] {
			t[i][j] -= float64(f * v)
		}
	}
}

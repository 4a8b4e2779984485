package trace

import (
	"math"

	"slipseat/engine/geom"
)

// Homography is a plane projective map, row by row: (x, y, 1) goes to
// (h0 x + h1 y + h2, h3 x + h4 y + h5) / (h6 x + h7 y + h8).
type Homography [9]float64

// Apply maps a point. ok is false on or beyond the horizon, where the
// denominator is not positive.
func (h Homography) Apply(p geom.Pt) (q geom.Pt, ok bool) {
	w := h[6]*p.X + h[7]*p.Y + h[8]
	if !(w > 1e-12) {
		return geom.Pt{}, false
	}
	return geom.Pt{X: (h[0]*p.X + h[1]*p.Y + h[2]) / w, Y: (h[3]*p.X + h[4]*p.Y + h[5]) / w}, true
}

// at is Apply for points known to be in front of the camera.
func (h Homography) at(p geom.Pt) geom.Pt { q, _ := h.Apply(p); return q }

// Then is the map h followed by g.
func (h Homography) Then(g Homography) Homography {
	var out Homography
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				out[3*i+j] += g[3*i+k] * h[3*k+j]
			}
		}
	}
	return out
}

// Inverse is the map back; ok is false when there is none.
func (h Homography) Inverse() (Homography, bool) {
	a, b, c, d, e, f, g, i, j := h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], h[8]
	out := Homography{
		e*j - f*i, c*i - b*j, b*f - c*e,
		f*g - d*j, a*j - c*g, c*d - a*f,
		d*i - e*g, b*g - a*i, a*e - b*d,
	}
	det := a*out[0] + b*out[3] + c*out[6]
	if !(math.Abs(det) > 1e-300) {
		return Homography{}, false
	}
	for k := range out {
		out[k] /= det
	}
	return out, true
}

// FitHomography finds the map that takes from[i] to to[i], for at least four
// pairs of which no three of the first four are on a line. Four pairs are met
// exactly; with more the sum of squared distances in the target is least.
//
// Method: the direct linear transformation on points moved to their centre and
// scaled to a mean distance of √2 (R. Hartley, In Defense of the Eight-Point
// Algorithm, IEEE PAMI 19(6), 1997), then Gauss-Newton steps on the distances.
func FitHomography(from, to []geom.Pt) (Homography, bool) {
	if len(from) < 4 || len(from) != len(to) {
		return Homography{}, false
	}
	tf, nf, ok1 := normalised(from)
	tt, nt, ok2 := normalised(to)
	if !ok1 || !ok2 {
		return Homography{}, false
	}
	// With h8 = 1: the centre of the points is in sight, so its denominator is
	// not zero.
	var a [8][9]float64
	add := func(row [8]float64, rhs float64) {
		for i := range 8 {
			for j := range 8 {
				a[i][j] += row[i] * row[j]
			}
			a[i][8] += row[i] * rhs
		}
	}
	rows := make([][9]float64, 0, 8)
	for i := range nf {
		x, y, u, v := nf[i].X, nf[i].Y, nt[i].X, nt[i].Y
		r1 := [8]float64{x, y, 1, 0, 0, 0, -u * x, -u * y}
		r2 := [8]float64{0, 0, 0, x, y, 1, -v * x, -v * y}
		add(r1, u)
		add(r2, v)
		if len(nf) == 4 { // solved directly, squaring would cost half the digits
			rows = append(rows, [9]float64{r1[0], r1[1], r1[2], r1[3], r1[4], r1[5], r1[6], r1[7], u},
				[9]float64{r2[0], r2[1], r2[2], r2[3], r2[4], r2[5], r2[6], r2[7], v})
		}
	}
	if len(nf) == 4 {
		copy(a[:], rows)
	}
	s, ok := solve8(a)
	if !ok {
		return Homography{}, false
	}
	h := Homography{s[0], s[1], s[2], s[3], s[4], s[5], s[6], s[7], 1}
	if len(nf) > 4 {
		h = polish(h, nf, nt)
	}
	back, _ := tt.Inverse()
	h = tf.Then(h).Then(back)
	// A positive denominator where the points are.
	if w := h[6]*from[0].X + h[7]*from[0].Y + h[8]; w < 0 {
		for i := range h {
			h[i] = -h[i]
		}
	}
	for _, p := range from {
		if _, ok := h.Apply(p); !ok {
			return Homography{}, false
		}
	}
	return h, true
}

// normalised moves points to their centre and scales them to the mean distance
// √2; t is the map that did it.
func normalised(pts []geom.Pt) (t Homography, out []geom.Pt, ok bool) {
	var mid geom.Pt
	for _, p := range pts {
		if !p.Finite() {
			return t, nil, false
		}
		mid = mid.Add(p.Mul(1 / float64(len(pts))))
	}
	var mean float64
	for _, p := range pts {
		mean += p.Dist(mid) / float64(len(pts))
	}
	if !(mean > 1e-9) {
		return t, nil, false
	}
	s := math.Sqrt2 / mean
	for _, p := range pts {
		out = append(out, p.Sub(mid).Mul(s))
	}
	return Homography{s, 0, -s * mid.X, 0, s, -s * mid.Y, 0, 0, 1}, out, true
}

// polish takes Gauss-Newton steps on the squared distances in the target.
func polish(h Homography, from, to []geom.Pt) Homography {
	cost := func(h Homography) float64 {
		var s float64
		for i, p := range from {
			q, ok := h.Apply(p)
			if !ok {
				return math.Inf(1)
			}
			d := q.Sub(to[i])
			s += d.Dot(d)
		}
		return s
	}
	was := cost(h)
	for range 12 {
		var a [8][9]float64
		for i, p := range from {
			w := h[6]*p.X + h[7]*p.Y + h[8]
			q := h.at(p)
			r := to[i].Sub(q)
			jx := [8]float64{p.X / w, p.Y / w, 1 / w, 0, 0, 0, -q.X * p.X / w, -q.X * p.Y / w}
			jy := [8]float64{0, 0, 0, p.X / w, p.Y / w, 1 / w, -q.Y * p.X / w, -q.Y * p.Y / w}
			for k := range 8 {
				for l := range 8 {
					a[k][l] += jx[k]*jx[l] + jy[k]*jy[l]
				}
				a[k][8] += jx[k]*r.X + jy[k]*r.Y
			}
		}
		d, ok := solve8(a)
		if !ok {
			return h
		}
		next := h
		for k := range 8 {
			next[k] += d[k]
		}
		now := cost(next)
		if !(now < was) {
			return h
		}
		done := was-now <= 1e-12*was
		h, was = next, now
		if done {
			return h
		}
	}
	return h
}

// solve8 solves eight linear equations by elimination with row pivots; the
// ninth column is the right-hand side.
func solve8(a [8][9]float64) (x [8]float64, ok bool) {
	for c := range 8 {
		p := c
		for r := c + 1; r < 8; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[p][c]) {
				p = r
			}
		}
		if !(math.Abs(a[p][c]) > 1e-12) {
			return x, false
		}
		a[c], a[p] = a[p], a[c]
		for r := c + 1; r < 8; r++ {
			f := a[r][c] / a[c][c]
			for k := c; k < 9; k++ {
				a[r][k] -= f * a[c][k]
			}
		}
	}
	for c := 7; c >= 0; c-- {
		x[c] = a[c][8]
		for k := c + 1; k < 8; k++ {
			x[c] -= a[c][k] * x[k]
		}
		x[c] /= a[c][c]
	}
	return x, true
}

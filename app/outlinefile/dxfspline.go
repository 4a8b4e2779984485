package outlinefile

import (
	"math"

	"slipseat/engine/geom"
)

// maxDegree is the highest degree of a spline that is read; drawing programs
// write 3, seldom 5.
const maxDegree = 11

// spline: degree 71, knots 40, control points 10 with weights 41; or, without
// those, fit points 11 that the curve runs through, with directions 12 and 13
// at its ends.
func (r *dxfReader) spline(e entity, m matrix) {
	ctrl, fit := e.points(10), e.points(11)
	var run run
	ok := false
	switch {
	case len(ctrl) > 1:
		run.pieces, ok = bsplinePieces(e.whole(71), e.list(40), ctrl, e.list(41))
	case len(fit) > 1:
		run.pieces, ok = through(fit, e.point(12), e.point(13), e.whole(70)&1 != 0), true
	}
	if !ok {
		r.fault = badFigures(e)
		return
	}
	r.add(e, m, run)
}

// points are the points of one code, in order.
func (e entity) points(code int) []geom.Pt {
	var out []geom.Pt
	for _, t := range e.tags {
		switch {
		case t.code == code:
			out = append(out, geom.P(number(t.text), 0))
		case t.code == code+10 && len(out) > 0:
			out[len(out)-1].Y = number(t.text)
		}
	}
	return out
}

// bsplinePieces cuts a rational B-spline at its knots into Bézier curves. The
// control points of the stretch from a to b are the curve's polar form at (a,
// ..., a, b, ..., b) (Ramshaw, "Blossoms are polar forms", Computer Aided
// Geometric Design 6, 1989), worked out by de Boor's averages. false when the
// figures do not belong together.
func bsplinePieces(degree int, knots []float64, ctrl []geom.Pt, weights []float64) ([]piece, bool) {
	n := len(ctrl)
	if degree < 1 || degree > maxDegree || n <= degree || len(knots) != n+degree+1 || len(weights) != 0 && len(weights) != n {
		return nil, false
	}
	for i, k := range knots {
		if !(math.Abs(k) <= maxNumber) || i > 0 && k < knots[i-1] {
			return nil, false
		}
	}
	type hom struct{ x, y, w float64 }
	h := make([]hom, n)
	for i, c := range ctrl {
		w := 1.0
		if len(weights) > 0 {
			w = weights[i]
		}
		if !(w >= 1e-6 && w <= 1e6) {
			return nil, false
		}
		h[i] = hom{c.X * w, c.Y * w, w}
	}
	var out []piece
	for i := degree; i < n; i++ {
		a, b := knots[i], knots[i+1]
		if !(b > a) {
			continue
		}
		p := piece{kind: aCurve}
		for ends := 0; ends <= degree; ends++ { // how many of the arguments are b
			d := make([]hom, degree+1)
			copy(d, h[i-degree:i+1])
			for level := 1; level <= degree; level++ {
				u := a
				if level > degree-ends {
					u = b
				}
				for j := degree; j >= level; j-- {
					lo, hi := knots[i-degree+j], knots[i+1+j-level]
					t := 0.0
					if hi > lo {
						t = (u - lo) / (hi - lo)
					}
					d[j] = hom{d[j-1].x + (d[j].x-d[j-1].x)*t, d[j-1].y + (d[j].y-d[j-1].y)*t, d[j-1].w + (d[j].w-d[j-1].w)*t}
				}
			}
			c := d[degree]
			p.ctrl, p.w = append(p.ctrl, geom.P(c.x/c.w, c.y/c.w)), append(p.w, c.w)
		}
		out = append(out, p)
	}
	return out, len(out) > 0
}

// through is the smooth curve through points, one cubic for each stretch: the
// cubic spline whose parameter grows with the distance between the points,
// with given directions at its ends where they are not nothing, else free of
// bending there (de Boor, A Practical Guide to Splines, chapter IV).
func through(pts []geom.Pt, first, last geom.Pt, closed bool) []piece {
	var q []geom.Pt
	for _, p := range pts { // points on each other carry no direction
		if len(q) == 0 || q[len(q)-1].Dist(p) > 1e-9 {
			q = append(q, p)
		}
	}
	if closed && len(q) > 2 && q[0].Dist(q[len(q)-1]) > 1e-9 {
		q = append(q, q[0])
	}
	n := len(q)
	if n < 2 {
		return nil
	}
	h := make([]float64, n-1)
	for i := range h {
		h[i] = q[i].Dist(q[i+1])
	}
	// Slopes s solve a system with three diagonals; Thomas's elimination.
	diag, upper, rhs := make([]float64, n), make([]float64, n), make([]geom.Pt, n)
	lower := make([]float64, n)
	chord := func(i int) geom.Pt { return q[i+1].Sub(q[i]).Mul(1 / h[i]) }
	if first != (geom.Pt{}) {
		diag[0], rhs[0] = 1, first.Unit()
	} else {
		diag[0], upper[0], rhs[0] = 2, 1, chord(0).Mul(3)
	}
	for i := 1; i < n-1; i++ {
		lower[i], diag[i], upper[i] = h[i], 2*(h[i-1]+h[i]), h[i-1]
		rhs[i] = chord(i - 1).Mul(3 * h[i]).Add(chord(i).Mul(3 * h[i-1]))
	}
	if last != (geom.Pt{}) {
		diag[n-1], rhs[n-1] = 1, last.Unit()
	} else {
		lower[n-1], diag[n-1], rhs[n-1] = 1, 2, chord(n-2).Mul(3)
	}
	for i := 1; i < n; i++ {
		f := lower[i] / diag[i-1]
		diag[i] -= f * upper[i-1]
		rhs[i] = rhs[i].Sub(rhs[i-1].Mul(f))
	}
	s := make([]geom.Pt, n)
	s[n-1] = rhs[n-1].Mul(1 / diag[n-1])
	for i := n - 2; i >= 0; i-- {
		s[i] = rhs[i].Sub(s[i+1].Mul(upper[i])).Mul(1 / diag[i])
	}
	var out []piece
	for i := range h {
		out = append(out, curve(q[i], q[i].Add(s[i].Mul(h[i]/3)), q[i+1].Sub(s[i+1].Mul(h[i]/3)), q[i+1]))
	}
	return out
}

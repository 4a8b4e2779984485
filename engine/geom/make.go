package geom

import "math"

// Box is the path round a box, starting at its lower left corner.
func Box(x0, y0, x1, y1 float64) Path {
	return Path{{Pt{x0, y0}, 0}, {Pt{x1, y0}, 0}, {Pt{x1, y1}, 0}, {Pt{x0, y1}, 0}}
}

// Circle is the circle as two arcs, starting at its right end.
func Circle(c Pt, r float64) Path {
	return Path{{Pt{c.X + r, c.Y}, 1}, {Pt{c.X - r, c.Y}, 1}}
}

// Ellipse is an ellipse with half axes a along x and b along y as smoothly
// joined arcs, nowhere further than tol from it; a circle when a equals b.
// Every quarter has the same number of arcs, mirrored exactly.
func Ellipse(centre Pt, a, b, tol float64) Path {
	if a == b {
		return Circle(centre, a)
	}
	var quarter Path
	for n := 1; n <= 64; n *= 2 {
		quarter = ellipseQuarter(a, b, n)
		if ellipseError(quarter, a, b) <= tol {
			break
		}
	}
	// The quarter runs from (a, 0) to (0, b); the others are its mirror images.
	q := make(Path, 0, 4*len(quarter))
	k := len(quarter) - 1 // the last vertex is (0, b), without a segment
	for i := range k {
		q = append(q, quarter[i])
	}
	for i := range k {
		v := quarter[k-i]
		q = append(q, Vertex{Pt{-v.X, v.Y}, quarter[k-i-1].Bulge})
	}
	for i := range k {
		q = append(q, Vertex{Pt{-quarter[i].X, -quarter[i].Y}, quarter[i].Bulge})
	}
	for i := range k {
		v := quarter[k-i]
		q = append(q, Vertex{Pt{v.X, -v.Y}, quarter[k-i-1].Bulge})
	}
	return q.Translate(centre)
}

// ellipseQuarter is the first quarter in n pairs of arcs (biarcs), the last
// vertex being (0, b).
func ellipseQuarter(a, b float64, n int) Path {
	at := func(k int) (p, u Pt) {
		switch k {
		case 0:
			return Pt{a, 0}, Pt{0, 1}
		case n:
			return Pt{0, b}, Pt{-1, 0}
		}
		sin, cos := sincos(float64(k) / float64(n) * math.Pi / 2)
		return Pt{mul(a, cos), mul(b, sin)}, Pt{-a * sin, b * cos}.Unit()
	}
	var q Path
	for k := range n {
		p, u := at(k)
		r, v := at(k + 1)
		mid := biarcMid(p, u, r, v)
		q = append(q, Vertex{p, bulgeFrom(p, u, mid)}, Vertex{mid, -bulgeFrom(r, v.Mul(-1), mid)})
	}
	return append(q, Vertex{Pt: Pt{0, b}})
}

// biarcMid is the joint of the two arcs from p along u to r along v with equal
// tangent lengths d, the positive root of
// 2d²(1 - u.v) + 2d (r-p).(u+v) - (r-p)² = 0.
func biarcMid(p, u, r, v Pt) Pt {
	w := r.Sub(p)
	qa, qb, qc := 2*(1-u.Dot(v)), 2*w.Dot(u.Add(v)), -w.Dot(w)
	d := -qc / qb
	if qa > 1e-12 {
		d = (math.Sqrt(mul(qb, qb)-mul(4*qa, qc)) - qb) / (2 * qa)
	}
	return p.Add(u.Mul(d)).Mid(r.Sub(v.Mul(d)))
}

// bulgeFrom is the bulge of the arc from p along u to q: the included angle is
// twice the angle between tangent and chord.
func bulgeFrom(p, u, q Pt) float64 { return tan(signedAngle(u, q.Sub(p)) / 2) }

// ellipseError is the largest distance between the arcs and the ellipse,
// sampled, measured along the ellipse's gradient.
func ellipseError(quarter Path, a, b float64) float64 {
	worst := 0.0
	for i := 0; i+1 < len(quarter); i++ {
		s := Segment{quarter[i].Pt, quarter[i+1].Pt, quarter[i].Bulge}
		for k := 1; k < 8; k++ {
			p := s.At(float64(k) / 8)
			x, y := p.X/a, p.Y/b
			f := mul(x, x) + mul(y, y) - 1
			g := 2 * Pt{x / a, y / b}.Len()
			worst = max(worst, math.Abs(f)/g)
		}
	}
	return worst
}

// Extended is the point nearest to q where two segments meet when they are
// extended, arcs along their circles.
func Extended(s, t Segment, q Pt) (Pt, bool) { return curveOf(s).meetNear(curveOf(t), q) }

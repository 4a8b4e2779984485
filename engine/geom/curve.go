package geom

import "math"

// curve is the whole line or circle that a segment lies on, with a side: a
// line has a point and a direction of travel, a circle a centre, a radius and
// the direction in which it is travelled.
type curve struct {
	p, dir Pt      // line
	r      float64 // circle, 0 for a line; p is then the centre
	ccw    bool
	// A circle made from an arc remembers it, and how far it was moved since: a
	// nearly flat arc's centre is kilometres away and cannot carry its place.
	arc Segment
	off float64
}

func curveOf(s Segment) curve {
	if s.Straight() {
		return curve{p: s.A, dir: s.B.Sub(s.A).Unit()}
	}
	return curve{p: s.Center(), r: s.Radius(), ccw: s.Bulge > 0, arc: s}
}

// moved shifts the curve by d to the right of its direction of travel, which
// is outwards on a counter-clockwise path. A circle may vanish: ok is false
// when its radius would not stay positive.
func (c curve) moved(d float64) (curve, bool) {
	if c.r == 0 {
		c.p = c.p.Add(c.dir.Right().Mul(d))
		return c, true
	}
	c.off += d
	if c.ccw {
		c.r += d
	} else {
		c.r -= d
	}
	return c, c.r > coincide
}

// right is how far q lies to the right of the curve, negative to the left, and
// the direction in which that grows.
func (c curve) right(q Pt) (float64, Pt) {
	if c.r == 0 {
		n := c.dir.Right()
		return q.Sub(c.p).Dot(n), n
	}
	n := q.Sub(c.p).Unit()
	if n == (Pt{}) {
		n = Pt{1, 0}
	}
	if !c.ccw {
		n = n.Mul(-1)
	}
	// On axes along the chord (x from its middle) and to its right (y), with
	// chord c and bulge b, the circle is y(1-b²) + 2b/c (x² + y² - c²/4) = 0. The
	// left side over 1+b² is g = d + d²/2r, d being what is wanted and r the
	// radius with the bulge's sign; flat arcs lose no digits.
	chord := c.arc.A.Dist(c.arc.B)
	u := c.arc.B.Sub(c.arc.A).Unit()
	v := q.Sub(c.arc.A.Mid(c.arc.B))
	x, y, b := v.Dot(u), v.Dot(u.Right()), c.arc.Bulge
	power := mul(x-chord/2, x+chord/2) + mul(y, y)
	g := (mul(y, 1-mul(b, b)) + mul(2*b/chord, power)) / (1 + mul(b, b))
	return 2*g/(1+math.Sqrt(max(0, 1+2*g/math.Copysign(c.arc.Radius(), b)))) - c.off, n
}

// foot is the point of the curve nearest to q.
func (c curve) foot(q Pt) Pt {
	if v := q.Sub(c.p); c.r > 0 && c.r < flatRadius && v != (Pt{}) {
		return c.p.Add(v.Unit().Mul(c.r))
	}
	d, n := c.right(q)
	return q.Sub(n.Mul(d))
}

// meet gives the points where two curves cross or touch; a touch may give two
// points close together.
func (c curve) meet(o curve) []Pt {
	switch {
	case c.r == 0 && o.r == 0:
		det := c.dir.Cross(o.dir)
		if math.Abs(det) < 1e-12 {
			return nil
		}
		return []Pt{c.p.Add(c.dir.Mul(o.p.Sub(c.p).Cross(o.dir) / det))}
	case c.r == 0:
		return lineCircle(c, o)
	case o.r == 0:
		return lineCircle(o, c)
	}
	d := o.p.Sub(c.p)
	l := d.Len()
	if l < coincide {
		return nil
	}
	x := (mul(l, l) + mul(c.r-o.r, c.r+o.r)) / (2 * l)
	u := d.Unit()
	return polished(c, o, chordEnds(c.p.Add(u.Mul(x)), u.Left(), c.r, math.Abs(x)))
}

func lineCircle(l, c curve) []Pt {
	m := l.foot(c.p)
	return polished(l, c, chordEnds(m, l.dir, c.r, m.Dist(c.p)))
}

// chordEnds gives the ends of the chord with the middle m and the direction u,
// at distance h from the centre of a circle of radius r. A chord that misses
// the circle by less than coincide touches it.
func chordEnds(m, u Pt, r, h float64) []Pt {
	q := mul(r-h, r+h)
	switch {
	case h > r+coincide:
		return nil
	case q <= 0:
		return []Pt{m}
	}
	w := u.Mul(math.Sqrt(q))
	return []Pt{m.Add(w), m.Sub(w)}
}

// polished takes points that are nearly on both curves the last fraction of the
// way by Newton's method, where a centre is far away. Where curves touch there
// is nothing to gain.
func polished(a, b curve, pts []Pt) []Pt {
	if max(a.r, b.r) < flatRadius {
		return pts
	}
	for i, q := range pts {
		for range 2 {
			da, na := a.right(q)
			db, nb := b.right(q)
			det := na.Cross(nb)
			if math.Abs(det) < 1e-3 {
				break
			}
			// na.step = -da and nb.step = -db
			q = q.Sub(Pt{mul(da, nb.Y) - mul(db, na.Y), mul(na.X, db) - mul(nb.X, da)}.Mul(1 / det))
		}
		pts[i] = q
	}
	return pts
}

// meetNear is the crossing of two curves nearest to q.
func (c curve) meetNear(o curve, q Pt) (Pt, bool) {
	best, found := Pt{}, false
	for _, p := range c.meet(o) {
		if !found || p.Dist(q) < best.Dist(q) {
			best, found = p, true
		}
	}
	return best, found
}

// between is the segment of the curve from a to b in the direction of travel.
func (c curve) between(a, b Pt) Segment {
	if c.r == 0 {
		return Segment{A: a, B: b}
	}
	sweep := signedAngle(a.Sub(c.p), b.Sub(c.p))
	if c.ccw && sweep < 0 {
		sweep += 2 * math.Pi
	} else if !c.ccw && sweep > 0 {
		sweep -= 2 * math.Pi
	}
	return Segment{a, b, tan(sweep / 4)}
}

// stretch is the part from start to end of an edge that lies on the curve; the
// edge runs from a to b with the sweep of old. start and end may lie inside it
// or beyond its ends. False when start does not come before end, or the arc
// would close.
func (c curve) stretch(old Segment, a, b, start, end Pt) (Segment, bool) {
	if c.r == 0 {
		return Segment{A: start, B: end}, end.Sub(start).Dot(c.dir) > -coincide
	}
	if start == a && end == b {
		return Segment{start, end, old.Bulge}, true
	}
	sign := math.Copysign(1, old.Bulge)
	sweep := math.Abs(old.Sweep()) + sign*signedAngle(start.Sub(c.p), a.Sub(c.p)) + sign*signedAngle(b.Sub(c.p), end.Sub(c.p))
	if mul(sweep, c.r) < -coincide || sweep > 2*math.Pi-1e-6 {
		return Segment{}, false
	}
	return Segment{start, end, sign * tan(sweep/4)}, true
}

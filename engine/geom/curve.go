package geom

import "math"

// curve is the whole line or circle that a segment lies on, with a side: a
// line has a point and a direction of travel, a circle a centre, a radius and
// the direction in which it is travelled.
type curve struct {
	p, dir Pt      // line
	r      float64 // circle, 0 for a line; p is then the centre
	ccw    bool
}

func curveOf(s Segment) curve {
	if s.Straight() {
		return curve{p: s.A, dir: s.B.Sub(s.A).Unit()}
	}
	return curve{p: s.Center(), r: s.Radius(), ccw: s.Bulge > 0}
}

// moved shifts the curve by d to the right of its direction of travel, which
// is outwards on a counter-clockwise path. A circle may vanish: ok is false
// when its radius would not stay positive.
func (c curve) moved(d float64) (curve, bool) {
	if c.r == 0 {
		c.p = c.p.Add(c.dir.Right().Mul(d))
		return c, true
	}
	if c.ccw {
		c.r += d
	} else {
		c.r -= d
	}
	return c, c.r > coincide
}

// foot is the point of the curve nearest to q.
func (c curve) foot(q Pt) Pt {
	if c.r == 0 {
		return c.p.Add(c.dir.Mul(q.Sub(c.p).Dot(c.dir)))
	}
	v := q.Sub(c.p).Unit()
	if v == (Pt{}) {
		v = Pt{1, 0}
	}
	return c.p.Add(v.Mul(c.r))
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
	return chordEnds(c.p.Add(u.Mul(x)), u.Left(), c.r, math.Abs(x))
}

func lineCircle(l, c curve) []Pt {
	m := l.foot(c.p)
	return chordEnds(m, l.dir, c.r, m.Dist(c.p))
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

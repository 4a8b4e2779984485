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
		return curve{p: s.A, dir: unitVec(s.B.Sub(s.A))}
	}
	return curve{p: s.Center(), r: s.Radius(), ccw: s.Bulge > 0}
}

// moved shifts the curve by d to the right of its direction of travel, which
// is outwards on a counter-clockwise path. A circle may vanish: ok is false
// when its radius would not stay positive.
func (c curve) moved(d float64) (curve, bool) {
	if c.r == 0 {
		c.p = c.p.Add(Pt{c.dir.Y, -c.dir.X}.Mul(d))
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
	v := unitVec(q.Sub(c.p))
	if v == (Pt{}) {
		v = Pt{1, 0}
	}
	return c.p.Add(v.Mul(c.r))
}

// meet gives the points where two curves cross or touch.
func (c curve) meet(o curve) []Pt {
	switch {
	case c.r == 0 && o.r == 0:
		det := c.dir.Cross(o.dir)
		if math.Abs(det) < 1e-12 {
			return nil
		}
		t := o.p.Sub(c.p).Cross(o.dir) / det
		return []Pt{c.p.Add(c.dir.Mul(t))}
	case c.r == 0:
		return lineCircle(c, o)
	case o.r == 0:
		return lineCircle(o, c)
	}
	d := o.p.Sub(c.p)
	l := d.Len()
	if l < coincide || l > c.r+o.r+coincide || l < math.Abs(c.r-o.r)-coincide {
		return nil
	}
	x := (l*l + c.r*c.r - o.r*o.r) / (2 * l)
	h := math.Sqrt(math.Max(0, c.r*c.r-x*x))
	u := d.Mul(1 / l)
	m := c.p.Add(u.Mul(x))
	n := Pt{-u.Y, u.X}.Mul(h)
	if h == 0 {
		return []Pt{m}
	}
	return []Pt{m.Add(n), m.Sub(n)}
}

func lineCircle(l, c curve) []Pt {
	m := l.foot(c.p)
	d2 := c.r*c.r - m.Sub(c.p).Dot(m.Sub(c.p))
	if d2 < -2*c.r*coincide {
		return nil
	}
	h := math.Sqrt(math.Max(0, d2))
	if h == 0 {
		return []Pt{m}
	}
	return []Pt{m.Add(l.dir.Mul(h)), m.Sub(l.dir.Mul(h))}
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
	sweep := angleFrom(a.Sub(c.p), b.Sub(c.p), c.ccw)
	if !c.ccw {
		sweep = -sweep
	}
	return Segment{a, b, math.Tan(sweep / 4)}
}

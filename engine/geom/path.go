package geom

import "math"

// Segments gives the path's segments in order.
func (p Path) Segments() []Segment {
	out := make([]Segment, len(p))
	for i := range p {
		out[i] = p.Segment(i)
	}
	return out
}

// Segment is the segment that leaves vertex i.
func (p Path) Segment(i int) Segment {
	return Segment{p[i].Pt, p[(i+1)%len(p)].Pt, p[i].Bulge}
}

// PathOf joins segments that follow each other end to end into a closed path.
func PathOf(segs []Segment) Path {
	out := make(Path, len(segs))
	for i, s := range segs {
		out[i] = Vertex{s.A, s.Bulge}
	}
	return out
}

// Box is the path round a box, starting at its lower left corner.
func Box(x0, y0, x1, y1 float64) Path {
	return Path{{Pt{x0, y0}, 0}, {Pt{x1, y0}, 0}, {Pt{x1, y1}, 0}, {Pt{x0, y1}, 0}}
}

// Area is the enclosed area, exact with arcs, positive counter-clockwise.
func (p Path) Area() float64 {
	var twice float64
	for i := range p {
		s := p.Segment(i)
		twice += s.A.Cross(s.B)
		if !s.Straight() {
			r, a := s.Radius(), s.Sweep()
			twice += r * r * (a - math.Sin(a))
		}
	}
	return twice / 2
}

// Length is the length of the whole edge.
func (p Path) Length() float64 {
	var l float64
	for i := range p {
		l += p.Segment(i).Length()
	}
	return l
}

// Bounds is the smallest box round the path, exact with arcs.
func (p Path) Bounds() Rect {
	if len(p) == 0 {
		return Rect{}
	}
	r := Rect{p[0].Pt, p[0].Pt}
	for i := range p {
		r = r.Union(p.Segment(i).Bounds())
	}
	return r
}

// Translate moves the path by v.
func (p Path) Translate(v Pt) Path {
	out := make(Path, len(p))
	for i, q := range p {
		out[i] = Vertex{q.Pt.Add(v), q.Bulge}
	}
	return out
}

// Turned turns the path by n quarter turns counter-clockwise about the origin,
// exactly.
func (p Path) Turned(n int) Path {
	out := make(Path, len(p))
	for i, q := range p {
		out[i] = Vertex{q.Pt.Turned(n), q.Bulge}
	}
	return out
}

// Rotated turns the path by an angle counter-clockwise about the origin.
func (p Path) Rotated(angle float64) Path {
	out := make(Path, len(p))
	for i, q := range p {
		out[i] = Vertex{rotate(q.Pt, angle), q.Bulge}
	}
	return out
}

// Reverse runs the path the other way round.
func (p Path) Reverse() Path {
	n := len(p)
	out := make(Path, n)
	for i := range p {
		out[i] = Vertex{p[(n-i)%n].Pt, -p[n-1-i].Bulge}
	}
	return out
}

// Mirror flips the path across the line x = x0 and keeps its direction.
func (p Path) Mirror(x0 float64) Path {
	out := make(Path, len(p))
	for i, q := range p {
		out[i] = Vertex{Pt{2*x0 - q.X, q.Y}, -q.Bulge}
	}
	return out.Reverse()
}

// Flatten turns arcs into chords whose corners lie on the path; the polygon is
// nowhere further than tol from it.
func (p Path) Flatten(tol float64) Polygon {
	out := make(Polygon, 0, len(p)*4)
	for i := range p {
		s := p.Segment(i)
		out = append(out, s.A)
		for k, n := 1, s.steps(tol); k < n; k++ {
			out = append(out, s.At(float64(k)/float64(n)))
		}
	}
	return out
}

// FlattenOut turns arcs into straight pieces so that the polygon contains the
// path: outward arcs become tangents, inward arcs chords. It is nowhere
// further than tol from the path, for a counter-clockwise path.
func (p Path) FlattenOut(tol float64) Polygon {
	out := make(Polygon, 0, len(p)*4)
	for i := range p {
		s := p.Segment(i)
		out = append(out, s.A)
		if s.Straight() {
			continue
		}
		if s.Bulge < 0 {
			for k, n := 1, s.steps(tol); k < n; k++ {
				out = append(out, s.At(float64(k)/float64(n)))
			}
			continue
		}
		// Tangents at both ends of n equal parts meet at r/cos(half a part).
		c, r := s.Center(), s.Radius()
		n := max(1, int(math.Ceil(s.Sweep()/(2*math.Acos(r/(r+tol))))))
		half := s.Sweep() / float64(n) / 2
		for k := range n {
			v := rotate(s.A.Sub(c), half*float64(2*k+1))
			out = append(out, c.Add(v.Mul(1/math.Cos(half))))
		}
	}
	return out
}

// Contains tells whether q lies inside the path or within coincide of it.
func (p Path) Contains(q Pt) bool {
	for i := range p {
		if p.Segment(i).Distance(q) < coincide {
			return true
		}
	}
	return p.winding(q)
}

// winding is the even-odd rule with exact crossings of a ray to the right.
func (p Path) winding(q Pt) bool {
	in := p.corners().Contains(q)
	// The cap between a chord and its arc adds or takes away.
	for i := range p {
		s := p.Segment(i)
		if s.Straight() {
			continue
		}
		if s.Center().Dist(q) > s.Radius() && math.Abs(s.Sweep()) <= math.Pi {
			continue
		}
		if s.inCap(q) {
			in = !in
		}
	}
	return in
}

// inCap tells whether q lies between the arc and its chord.
func (s Segment) inCap(q Pt) bool {
	side := s.B.Sub(s.A).Cross(q.Sub(s.A)) // positive to the left of the chord
	inCircle := q.Dist(s.Center()) < s.Radius()
	right := side < 0
	if s.Bulge < 0 {
		right = side > 0
	}
	return right && inCircle
}

func (p Path) corners() Polygon {
	out := make(Polygon, len(p))
	for i, v := range p {
		out[i] = v.Pt
	}
	return out
}

// Circle is the circle as two arcs, starting at its right end.
func Circle(c Pt, r float64) Path {
	return Path{{Pt{c.X + r, c.Y}, 1}, {Pt{c.X - r, c.Y}, 1}}
}

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

// Segment is the segment that leaves vertex i, 0 <= i < len(p).
func (p Path) Segment(i int) Segment {
	j := i + 1
	if j == len(p) {
		j = 0
	}
	return Segment{p[i].Pt, p[j].Pt, p[i].Bulge}
}

// before is the segment that ends at vertex i.
func (p Path) before(i int) Segment { return p.Segment((i + len(p) - 1) % len(p)) }

// after is the segment that follows segment i.
func (p Path) after(i int) Segment { return p.Segment((i + 1) % len(p)) }

// PathOf joins segments that follow each other end to end into a closed path.
func PathOf(segs []Segment) Path {
	out := make(Path, len(segs))
	for i, s := range segs {
		out[i] = Vertex{s.A, s.Bulge}
	}
	return out
}

// Area is the enclosed area, exact with arcs, positive counter-clockwise.
func (p Path) Area() float64 {
	if len(p) == 0 {
		return 0
	}
	// Reckoned from the first vertex, so that a far-off origin costs no digits.
	o := p[0].Pt
	var twice float64
	for i := range p {
		s := p.Segment(i)
		s.A, s.B = s.A.Sub(o), s.B.Sub(o)
		twice += s.twiceArea()
	}
	return twice / 2
}

// IsCCW tells whether the path runs counter-clockwise.
func (p Path) IsCCW() bool { return p.Area() > 0 }

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

// Centroid is the centre of the area, to within ChordTol.
func (p Path) Centroid() Pt { return p.Flatten(ChordTol / 8).Centroid() }

// Translate moves the path by v.
func (p Path) Translate(v Pt) Path { return p.each(func(q Pt) Pt { return q.Add(v) }) }

// Turned turns the path by n quarter turns counter-clockwise about the origin,
// exactly.
func (p Path) Turned(n int) Path { return p.each(func(q Pt) Pt { return q.Turned(n) }) }

// Rotated turns the path by an angle counter-clockwise about the origin.
func (p Path) Rotated(angle float64) Path {
	sin, cos := sincos(angle)
	return p.each(func(q Pt) Pt {
		return Pt{mul(q.X, cos) - mul(q.Y, sin), mul(q.X, sin) + mul(q.Y, cos)}
	})
}

// Scaled multiplies every coordinate by k > 0.
func (p Path) Scaled(k float64) Path { return p.each(func(q Pt) Pt { return q.Mul(k) }) }

func (p Path) each(f func(Pt) Pt) Path {
	out := make(Path, len(p))
	for i, v := range p {
		out[i] = Vertex{f(v.Pt), v.Bulge}
	}
	return out
}

// Reverse runs the path the other way round from the same first vertex.
// Segment i becomes segment n-1-i.
func (p Path) Reverse() Path {
	n := len(p)
	out := make(Path, n)
	for i := range p {
		out[i] = Vertex{p[(n-i)%n].Pt, -p[n-1-i].Bulge}
	}
	return out
}

// Mirror flips the path across the line x = x0 and keeps its direction.
// Segment i becomes segment n-1-i.
func (p Path) Mirror(x0 float64) Path {
	out := make(Path, len(p))
	for i, q := range p {
		out[i] = Vertex{Pt{2*x0 - q.X, q.Y}, -q.Bulge}
	}
	return out.Reverse()
}

// Contains tells whether q lies inside the path or within coincide of it.
func (p Path) Contains(q Pt) bool { return p.inside(q) || p.Distance(q) <= coincide }

// Covers tells whether q lies inside the path or within tol of it.
func (p Path) Covers(q Pt, tol float64) bool { return p.inside(q) || p.Distance(q) <= tol }

// inside is the even-odd rule: the inside of the ring of chords, plus or minus
// the caps between arcs and chords. A point on the path may fall either way.
func (p Path) inside(q Pt) bool {
	in := false
	for i := range p {
		s := p.Segment(i)
		if crossesRay(s.A, s.B, q) {
			in = !in
		}
		if !s.Straight() && s.inCap(q) {
			in = !in
		}
	}
	return in
}

// crossesRay tells whether the edge ab crosses the ray from q to the right.
func crossesRay(a, b, q Pt) bool {
	if (a.Y > q.Y) == (b.Y > q.Y) {
		return false
	}
	left := b.Sub(a).Cross(q.Sub(a)) > 0
	return (b.Y > a.Y) == left
}

// Distance is the least distance from q to the path itself, inside or outside.
func (p Path) Distance(q Pt) float64 {
	_, at := p.Nearest(q)
	return at.Dist(q)
}

// Nearest is the segment nearest to q, and its nearest point; edge -1 for an
// empty path.
func (p Path) Nearest(q Pt) (edge int, at Pt) {
	edge, best := -1, math.Inf(1)
	for i := range p {
		n := p.Segment(i).Nearest(q)
		if d := n.Dist(q); d < best {
			best, edge, at = d, i, n
		}
	}
	return edge, at
}

// TurnAt is the angle by which the path turns at vertex i, positive to the
// left.
func (p Path) TurnAt(i int) float64 {
	return signedAngle(p.before(i).Tangent(1), p.Segment(i).Tangent(0))
}

// corners is the ring of the vertices.
func (p Path) corners() Polygon {
	out := make(Polygon, len(p))
	for i, v := range p {
		out[i] = v.Pt
	}
	return out
}

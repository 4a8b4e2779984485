package geom

import "math"

// round joins two moved edges by the arc that grows out of corner arc i.
func (o *offsetter) round(e, f *edge, i int) []joinVertex {
	s := o.path.Segment(i)
	from := Source{Edge: i}
	m := min(e.d, f.d)
	grown := s.Radius() + math.Copysign(m, m*s.Bulge)
	switch {
	case grown <= coincide:
		// The rounding is used up; the moved edges meet in a corner.
		if at, ok := e.c.meetNear(f.c, s.At(0.5)); ok {
			e.end, f.start = at, at
			return nil
		}
		return step(e, f, s.A.Mid(s.B))
	case e.d == f.d:
		e.end, f.start = e.b, f.a
		return []joinVertex{{Vertex{e.b, s.Bulge}, from}}
	}
	// An outward corner has to leave the strips of both edges whole.
	whole := func(arc Segment) bool {
		return s.Bulge < 0 || m < 0 ||
			arc.A.Sub(e.b).Dot(e.s.Tangent(1)) > -coincide && f.a.Sub(arc.B).Dot(f.s.Tangent(0)) > -coincide
	}
	arc, ok := tangentArc(s, e.c, f.c, grown)
	if ok && !whole(arc) {
		// The largest radius that does: the smaller, the further out the arc lies.
		lo, hi := 0.0, grown
		ok = false
		for range 60 {
			mid := (lo + hi) / 2
			if a, fits := tangentArc(s, e.c, f.c, mid); fits && whole(a) {
				arc, ok, lo = a, true, mid
			} else {
				hi = mid
			}
		}
	}
	if ok {
		e.end, f.start = arc.A, arc.B
		return []joinVertex{{Vertex{arc.A, arc.Bulge}, from}}
	}
	// The corner keeps its centre, and the wider strip its end.
	e.end, f.start = e.b, f.a
	a, b := s.A.Add(s.Normal(0).Mul(m)), s.B.Add(s.Normal(1).Mul(m))
	return []joinVertex{{Vertex{Pt: e.b}, from}, {Vertex{a, s.Bulge}, from}, {Vertex{Pt: b}, from}}
}

// tangentArc is the arc of radius r tangent to a and b that is nearest to old
// and curves the same way.
func tangentArc(old Segment, a, b curve, r float64) (Segment, bool) {
	in := math.Copysign(r, -old.Bulge) // its centre lies inside both for an outer corner
	ca, ok1 := a.moved(in)
	cb, ok2 := b.moved(in)
	if !ok1 || !ok2 {
		return Segment{}, false
	}
	c, ok := ca.meetNear(cb, old.Center())
	if !ok {
		return Segment{}, false
	}
	arc := curve{p: c, r: r, ccw: old.Bulge > 0}.between(a.foot(c), b.foot(c))
	return arc, math.Abs(arc.Sweep()) <= math.Pi
}

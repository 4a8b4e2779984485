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
	arc, ok := tangentArc(s, e.c, f.c, grown)
	if ok && s.Bulge > 0 && m >= 0 && spare(e, f, arc) < -coincide {
		arc, ok = wholeArc(s, e, f, grown)
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

// spare is how far the feet of a corner arc lie beyond the ends of the moved
// edges; negative when the arc cuts into a strip.
func spare(e, f *edge, arc Segment) float64 {
	return min(arc.A.Sub(e.b).Dot(e.s.Tangent(1)), f.a.Sub(arc.B).Dot(f.s.Tangent(0)))
}

// wholeArc is the tangent arc of the largest radius under big that leaves the
// strips of both edges whole; false when none does. The feet move outwards as
// the radius shrinks, between lines in proportion, so a secant finds it; every
// third step halves the bracket for arcs that bend it.
func wholeArc(old Segment, e, f *edge, big float64) (Segment, bool) {
	lo, hi := 2*coincide, big
	best, ok := tangentArc(old, e.c, f.c, lo)
	top, ok2 := tangentArc(old, e.c, f.c, hi)
	if !ok || !ok2 || spare(e, f, best) < 0 {
		return Segment{}, false
	}
	atLo, atHi := spare(e, f, best), spare(e, f, top)
	for k := range 60 {
		mid := (lo + hi) / 2
		if k%3 != 2 && atLo-atHi > 0 {
			mid = lo + (hi-lo)*atLo/(atLo-atHi)
		}
		arc, fits := tangentArc(old, e.c, f.c, mid)
		at := spare(e, f, arc)
		switch {
		case fits && math.Abs(at) < coincide:
			return arc, true
		case fits && at >= 0:
			best, lo, atLo = arc, mid, at
		default:
			hi, atHi = mid, at
		}
	}
	return best, true
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

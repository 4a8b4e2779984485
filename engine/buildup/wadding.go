package buildup

import (
	"math"

	"slipseat/engine/geom"
)

// unrolled gives the wadding's outline: the foam's top with a flap of the
// given drop along every edge, and a cut at every corner so that it lies
// single when it is folded down (S46, trade, grade B). At a sharp corner the
// flaps end at the corner; at a rounded one each flap reaches on by half the
// rounding's length, and one V is cut to the rounding's middle. ok is false
// where the flaps of a hollow edge cannot be told apart; the caller then takes
// the plain offset.
func unrolled(foam geom.Path, drop float64) (geom.Path, bool) {
	if drop <= 0 {
		return foam, true
	}
	n := len(foam)
	arc := roundedCorners(foam)
	var out geom.Path
	put := func(p geom.Pt, bulge float64) {
		if k := len(out); k > 0 && out[k-1].Pt.Dist(p) < joined {
			out[k-1].Bulge = bulge
			return
		}
		out = append(out, geom.Vertex{Pt: p, Bulge: bulge})
	}
	for i := range foam {
		s := foam.Segment(i)
		if arc[i] {
			half := s.Length() / 2
			a, b := s.Tangent(0), s.Tangent(1)
			put(s.A.Add(a.Mul(half)).Add(outward(s, 0).Mul(drop)), 0)
			put(s.At(0.5), 0)
			put(s.B.Sub(b.Mul(half)).Add(outward(s, 1).Mul(drop)), 0)
			continue
		}
		switch turn := turnAt(foam, i); {
		case arc[(i+n-1)%n]:
			// The corner before has set its own points.
		case turn >= cornerTurn:
			put(s.A, 0)
		case turn < -hollow:
			return nil, false
		}
		if s.Bulge < 0 && s.Radius() <= drop {
			return nil, false
		}
		m := moved(s, drop)
		put(m.A, m.Bulge)
		put(m.B, 0)
	}
	if k := len(out); k > 1 && out[k-1].Pt.Dist(out[0].Pt) < joined {
		out = out[:k-1]
	}
	if out.Validate() != nil || math.IsNaN(out.Area()) {
		return nil, false
	}
	return out, true
}

const (
	// joined in millimetres: two flap corners nearer than this are one; it is
	// a tenth of the chord tolerance, and far above what rounding errors make.
	joined = 0.005
	// hollow is the inward turn in radians from which flaps would cross.
	hollow = 1e-6
)

// notched takes a corner away from a path: everything beyond the point at, to
// the left (or right) of it and behind it. That is the notch's inner corner,
// moved by its clearance, with the notch extended outwards past the path's
// edge. ok is false when the path does not cross each side of it once.
func notched(p geom.Path, at geom.Pt, right bool) (geom.Path, bool) {
	if right {
		q, ok := notched(p.Mirror(at.X), at, false)
		return q.Mirror(at.X), ok
	}
	// Counter-clockwise, the path crosses the upright side (x = at.X, above)
	// from right to left first and the level side (y = at.Y, left) going down
	// after that.
	up, nu := crossing(p, func(q geom.Pt) (float64, bool) { return q.X - at.X, q.Y > at.Y })
	level, nl := crossing(p, func(q geom.Pt) (float64, bool) { return q.Y - at.Y, q.X < at.X })
	if nu != 1 || nl != 1 {
		return nil, false
	}
	n := len(p)
	var out geom.Path
	// From the level side round the front to the upright side.
	s := p.Segment(level.edge)
	if level.edge == up.edge && level.share < up.share {
		return nil, false // one edge cuts across the corner and comes back
	}
	rest := subSegment(s, level.share, 1)
	out = append(out, geom.Vertex{Pt: rest.A, Bulge: rest.Bulge})
	for i := (level.edge + 1) % n; i != up.edge; i = (i + 1) % n {
		out = append(out, p[i])
	}
	rest = subSegment(p.Segment(up.edge), 0, up.share)
	out = append(out, geom.Vertex{Pt: rest.A, Bulge: rest.Bulge})
	out = append(out, geom.Vertex{Pt: rest.B}, geom.Vertex{Pt: at})
	clean := out[:0]
	for i, v := range out {
		if v.Pt.Dist(out[(i+1)%len(out)].Pt) >= sameLength {
			clean = append(clean, v)
		}
	}
	return clean, clean.Validate() == nil
}

// place is a point on a path.
type place struct {
	edge  int
	share float64
}

// crossing finds where a path crosses the zero line of f on the side where f's
// second value is true, and how often.
func crossing(p geom.Path, f func(geom.Pt) (float64, bool)) (place, int) {
	var found place
	count := 0
	for i := range p {
		for _, t := range shares(p.Segment(i), f) {
			found = place{i, t}
			count++
		}
	}
	return found, count
}

// crossings are the points where a segment crosses the zero line of f on its
// true side.
func crossings(s geom.Segment, f func(geom.Pt) (float64, bool)) []geom.Pt {
	var out []geom.Pt
	for _, t := range shares(s, f) {
		out = append(out, s.At(t))
	}
	return out
}

// shares are the places of crossings as shares of the segment's length. f must
// be linear. An arc meets a line twice at most; cut into 64 parts of less than
// 6 degrees the two lie in different parts unless they are all but tangent.
func shares(s geom.Segment, f func(geom.Pt) (float64, bool)) []float64 {
	steps := 1
	if !s.Straight() {
		steps = 64
	}
	var out []float64
	for k := range steps {
		a, b := float64(k)/float64(steps), float64(k+1)/float64(steps)
		fa, _ := f(s.At(a))
		fb, _ := f(s.At(b))
		if (fa < 0) == (fb < 0) {
			continue
		}
		for range 60 {
			m := (a + b) / 2
			if fm, _ := f(s.At(m)); (fm < 0) == (fa < 0) {
				a = m
			} else {
				b = m
			}
		}
		if _, side := f(s.At(b)); side {
			out = append(out, b)
		}
	}
	return out
}

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
			put(s.A.Add(a.Mul(half)).Add(s.Normal(0).Mul(drop)), 0)
			put(s.At(0.5), 0)
			put(s.B.Sub(b.Mul(half)).Add(s.Normal(1).Mul(drop)), 0)
			continue
		}
		switch turn := foam.TurnAt(i); {
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
	b := p.Bounds()
	out := -(b.W() + b.H())
	if right {
		out = -out
	}
	side, ok := onlyHit(p, at, geom.P(at.X+out, at.Y))
	back, ok2 := onlyHit(p, at, geom.P(at.X, at.Y+math.Abs(out)))
	if !ok || !ok2 {
		return nil, false
	}
	var q geom.Path
	if right {
		q, _ = p.Detour(side, back, at)
	} else {
		q, _ = p.Detour(back, side, at)
	}
	return q, q.Validate() == nil && q.Area() <= p.Area()
}

// onlyHit is the one place where the path meets a line; a corner counts once.
func onlyHit(p geom.Path, a, b geom.Pt) (geom.Hit, bool) {
	hits := p.Hits(a, b)
	for _, h := range hits {
		if h.At.Dist(hits[0].At) > sameLength {
			return geom.Hit{}, false
		}
	}
	if len(hits) == 0 {
		return geom.Hit{}, false
	}
	return hits[0], true
}

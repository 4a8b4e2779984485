package geom

import (
	"math"

	"slipseat/engine/unit"
)

// CodeRadius is the fault of a radius that does not fit the edges beside it;
// Args hold "radius" and the largest that fits, "limit".
const CodeRadius = "outline.radius-too-big"

// Fillet rounds the corner at vertex i with radius r: the arc is tangent to
// both segments that meet there. A radius of 0, or a vertex without a corner,
// gives the path as it is. When the radius does not fit, the fault carries the
// largest one that does.
func (p Path) Fillet(i int, r float64) (Path, *unit.Fault) {
	if r <= coincide {
		return p, nil
	}
	n := len(p)
	a, b := p.Segment((i+n-1)%n), p.Segment(i)
	if math.Abs(a.Tangent(1).Cross(b.Tangent(0))) < smooth && a.Tangent(1).Dot(b.Tangent(0)) > 0 {
		return p, nil
	}
	arc, ok := roundCorner(a, b, r)
	if !ok {
		lo, hi := 0.0, r
		for range 60 {
			if mid := (lo + hi) / 2; mid > 0 {
				if _, fits := roundCorner(a, b, mid); fits {
					lo = mid
				} else {
					hi = mid
				}
			}
		}
		f := placed(CodeRadius, p[i].Pt)
		f.Args = []unit.Arg{unit.A("radius", unit.Length(r)), unit.A("limit", unit.Length(lo))}
		return nil, f
	}
	segs := p.Segments()
	segs[(i+n-1)%n] = curveOf(a).between(a.A, arc.A)
	segs[i] = curveOf(b).between(arc.B, b.B)
	out := make([]Segment, 0, n+1)
	for k, s := range segs {
		if k == i {
			out = append(out, arc)
		}
		out = append(out, s)
	}
	return PathOf(out), nil
}

// roundCorner is the arc of radius r tangent to a near its end and b near its
// start; ok is false when it does not fit on them.
func roundCorner(a, b Segment, r float64) (Segment, bool) {
	convex := a.Tangent(1).Cross(b.Tangent(0)) > 0
	in := -r
	if !convex {
		in = r
	}
	ca, ok1 := curveOf(a).moved(in)
	cb, ok2 := curveOf(b).moved(in)
	if !ok1 || !ok2 {
		return Segment{}, false
	}
	c, ok := ca.meetNear(cb, a.B)
	if !ok {
		return Segment{}, false
	}
	arc := curve{p: c, r: r, ccw: convex}.between(curveOf(a).foot(c), curveOf(b).foot(c))
	ta, tb := a.shareOf(arc.A), b.shareOf(arc.B)
	slackA, slackB := coincide/a.Length(), coincide/b.Length()
	if ta < slackA || ta > 1+slackA || tb < -slackB || tb > 1-slackB || math.Abs(arc.Sweep()) > math.Pi {
		return Segment{}, false
	}
	return arc, true
}

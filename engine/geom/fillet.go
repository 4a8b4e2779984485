package geom

import (
	"math"

	"slipseat/engine/unit"
)

// CodeRadius is the fault of a radius that does not fit the edges beside it;
// Args hold "radius" and the largest that fits, "limit".
const CodeRadius = "outline.radius-too-big"

// Fillet rounds the corner at vertex i with radius r: the arc is tangent to
// both segments that meet there and becomes segment i. A radius of 0, or a
// vertex without a corner, gives the path as it is. When the radius does not
// fit, the fault carries the largest one that does.
func (p Path) Fillet(i int, r float64) (Path, *unit.Fault) {
	return p.Fillets(func(k int) float64 {
		if k == i {
			return r
		}
		return 0
	})
}

// Fillets rounds every corner with the radius for its vertex, 0 for none.
// Roundings may meet and use an edge up, but not overlap. When they do not fit,
// the fault sits at a corner that does not, with its radius, and limit is what
// that radius may be when all are made smaller in proportion.
func (p Path) Fillets(radius func(vertex int) float64) (Path, *unit.Fault) {
	q, bad := p.fillets(radius, 1)
	if bad < 0 {
		return q, nil
	}
	lo, hi := 0.0, 1.0
	for range 60 {
		mid := (lo + hi) / 2
		if _, no := p.fillets(radius, mid); no < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	f, r := placed(CodeRadius, p[bad].Pt), radius(bad)
	limit := 0.0
	if finite(r) && r > 0 {
		limit = r * lo
	}
	f.Args = []unit.Arg{unit.A("radius", unit.Length(r)), unit.A("limit", unit.Length(limit))}
	return nil, f
}

// TryFillets is Fillets without the limit, which takes a while to find; false
// when the roundings do not fit.
func (p Path) TryFillets(radius func(vertex int) float64) (Path, bool) {
	q, bad := p.fillets(radius, 1)
	return q, bad < 0
}

// fillets rounds corners with share times their radius; bad is a vertex whose
// rounding does not fit, -1 for none.
func (p Path) fillets(radius func(int) float64, share float64) (out Path, bad int) {
	n := len(p)
	arcs, round := make([]Segment, n), make([]bool, n)
	for i := range p {
		// Without a rounding the corner stands where it is.
		arcs[i] = Segment{A: p[i].Pt, B: p[i].Pt}
		r := radius(i) * share
		if r >= 0 && r <= coincide {
			continue
		}
		a, b := p.before(i), p.Segment(i)
		if goesOn(a, b) {
			continue
		}
		arc, ok := roundCorner(a, b, r)
		if !ok {
			return nil, i
		}
		arcs[i], round[i] = arc, true
	}
	for i := range p {
		s, next := p.Segment(i), (i+1)%n
		rest, ok := curveOf(s).stretch(s, s.A, s.B, arcs[i].B, arcs[next].A)
		if !ok {
			if round[i] {
				return nil, i
			}
			return nil, next
		}
		if round[i] {
			out = append(out, Vertex{arcs[i].A, arcs[i].Bulge})
		}
		if rest.A.Dist(rest.B) > coincide {
			out = append(out, Vertex{rest.A, rest.Bulge})
		}
	}
	return out, -1
}

// Rounding is the arc of radius r that rounds the corner at vertex i; false
// when it does not fit on its edges or there is no corner.
func (p Path) Rounding(i int, r float64) (Segment, bool) {
	a, b := p.before(i), p.Segment(i)
	if !(r > coincide) || goesOn(a, b) {
		return Segment{}, false
	}
	return roundCorner(a, b, r)
}

// roundCorner is the arc of radius r tangent to a near its end and b near its
// start; ok is false when it does not fit on them.
func roundCorner(a, b Segment, r float64) (Segment, bool) {
	if !(r > 0) || !finite(r) {
		return Segment{}, false
	}
	convex := a.Tangent(1).Cross(b.Tangent(0)) > 0
	in := r // of the two edges
	if convex {
		in = -r
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
	fits := a.Distance(arc.A) <= coincide && b.Distance(arc.B) <= coincide && math.Abs(arc.Sweep()) <= math.Pi
	return arc, fits
}

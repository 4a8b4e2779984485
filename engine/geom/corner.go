package geom

import "math"

// smooth is the largest angle in radians between two segments that still meet
// without a corner. Roundings made here meet to about 1e-12; a drawing file
// with three decimals of a millimetre on a 5 mm radius errs by 1e-4. At that
// angle a metre of edge strays 0.2 mm.
const smooth = 2e-4

// A corner arc turns by at least 15 and at most 150 degrees: less is a bend in
// an edge, more is the round end of a bench, which is an edge of its own.
const (
	minCornerTurn = 15 * math.Pi / 180
	maxCornerTurn = 150 * math.Pi / 180
)

// goesOn tells whether s runs into t without a corner.
func goesOn(s, t Segment) bool {
	u, v := s.Tangent(1), t.Tangent(0)
	return u.Dot(v) > 0 && math.Abs(u.Cross(v)) < smooth
}

// CornerArcs tells for each segment whether it rounds a corner: an arc that
// runs smoothly into both neighbours, of a smaller radius than either, and
// turns by 15 to 150 degrees.
func (p Path) CornerArcs() []bool {
	out := make([]bool, len(p))
	for i := range p {
		out[i] = p.isCornerArc(i)
	}
	return out
}

func (p Path) isCornerArc(i int) bool {
	s := p.Segment(i)
	if len(p) < 3 || s.Straight() {
		return false
	}
	if a := math.Abs(s.Sweep()); a < minCornerTurn || a > maxCornerTurn {
		return false
	}
	a, b, r := p.before(i), p.after(i), s.Radius()+coincide
	return r < a.Radius() && r < b.Radius() && goesOn(a, s) && goesOn(s, b)
}

package geom

import "math"

// Flatten turns arcs into chords whose corners lie on the path; the polygon is
// nowhere further than tol from it.
func (p Path) Flatten(tol float64) Polygon {
	g, _ := p.FlattenFrom(tol)
	return g
}

// FlattenFrom is Flatten and tells for each edge of the polygon which segment
// of the path it comes from.
func (p Path) FlattenFrom(tol float64) (Polygon, []int) {
	out, from := make(Polygon, 0, len(p)*4), make([]int, 0, len(p)*4)
	for i := range p {
		s := p.Segment(i)
		out, from = append(out, s.A), append(from, i)
		for k, n := 1, s.steps(tol); k < n; k++ {
			out, from = append(out, s.At(float64(k)/float64(n))), append(from, i)
		}
	}
	return out, from
}

// FlattenOut turns arcs into straight pieces so that the polygon contains the
// path: outward arcs become tangents, inward arcs chords. It is nowhere
// further than tol from the path, for a counter-clockwise path.
func (p Path) FlattenOut(tol float64) Polygon { return p.flattenTo(tol, 1) }

// FlattenIn is the opposite of FlattenOut: the path contains the polygon.
func (p Path) FlattenIn(tol float64) Polygon { return p.flattenTo(tol, -1) }

// flattenTo uses tangents for arcs whose bulge has the given sign, chords for
// the others.
func (p Path) flattenTo(tol, sign float64) Polygon {
	out := make(Polygon, 0, len(p)*4)
	for i := range p {
		s := p.Segment(i)
		out = append(out, s.A)
		n := s.steps(tol)
		if s.Bulge*sign < 0 || s.Straight() {
			for k := 1; k < n; k++ {
				out = append(out, s.At(float64(k)/float64(n)))
			}
			continue
		}
		// Tangents at both ends of n equal parts meet at r/cos(half a part), on
		// the ray through the middle of the part: r(1/cos - 1) beyond it.
		r, sweep := s.Radius(), math.Abs(s.Sweep())
		beyond := func() float64 { return r/cosine(sweep/float64(2*n)) - r }
		for n < maxSteps && beyond() > tol {
			n++
		}
		far := beyond()
		for k := range n {
			t := (float64(k) + 0.5) / float64(n)
			out = append(out, s.At(t).Add(s.Normal(t).Mul(far*sign)))
		}
	}
	return out
}

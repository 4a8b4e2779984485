package geom

import (
	"math"

	sf "github.com/peterstace/simplefeatures/geom"

	"slipseat/engine/unit"
)

// stripTol is the chord error of the flattened shapes that are put together,
// always outwards, for shapes of up to stripSize millimetres; half of ChordTol
// leaves room for the grid. Larger shapes, which are no seats, are flattened
// more coarsely in proportion, so that they take no longer.
const (
	stripTol  = ChordTol / 2
	stripSize = 5000
)

// stripPad is how far a strip that is taken away reaches out past its edge.
const stripPad = ChordTol

// byStrips is the slow way, for edges that run into each other: the flattened
// path joined with the strip and the outward corner of every edge that moves
// outwards, less those of the edges that move inwards. Holes are filled; of
// several parts the largest is kept.
func (o *offsetter) byStrips() (Moved, error) {
	var out, in []Polygon
	n := len(o.edges)
	b := o.path.Bounds()
	tol := stripTol * max(1, max(b.W(), b.H())/stripSize)
	for k, e := range o.edges {
		f := o.edges[(k+1)%n]
		strips := stripOf(e.s, e.d, e.gone, tol)
		if e.d > 0 {
			out = append(out, strips...)
		} else {
			in = append(in, strips...)
		}
		corner := o.cornerOf(e, f, o.corner[k], tol)
		if min(e.d, f.d) >= 0 {
			out = append(out, corner...)
		} else if max(e.d, f.d) <= 0 {
			in = append(in, corner...)
		}
	}
	nothing := unit.Fault{Code: CodeNothingLeft}
	// First grow, then take away, so that neither hangs on the order.
	grown, err := unite(append(out, o.path.FlattenOut(tol)))
	if err != nil {
		return Moved{}, nothing
	}
	if len(in) > 0 {
		less, err := unite(in)
		if err != nil {
			return Moved{}, nothing
		}
		if grown, err = sf.Difference(grown, less); err != nil {
			return Moved{}, nothing
		}
	}
	ring, err := simpleRing(grown)
	if err != nil {
		return Moved{}, nothing
	}
	m := Moved{Path: ring.Path()}
	for i := range m.Path {
		m.From = append(m.From, o.sourceOf(m.Path.Segment(i)))
	}
	return m, nil
}

// stripOf is the area that an edge passes over, as one ring, or as two wedges
// where an arc goes past its own centre.
func stripOf(s Segment, d float64, gone bool, tol float64) []Polygon {
	if math.Abs(d) < coincide {
		return nil
	}
	if d < 0 {
		// What is taken away begins outside of the flattened edge.
		s.A, s.B, d = s.A.Add(s.Normal(0).Mul(stripPad)), s.B.Add(s.Normal(1).Mul(stripPad)), d-stripPad
	}
	if !gone {
		a, b := s.A.Add(s.Normal(0).Mul(d)), s.B.Add(s.Normal(1).Mul(d))
		p := Path{{s.A, 0}, {a, s.Bulge}, {b, 0}, {s.B, -s.Bulge}}
		if d < 0 {
			p = Path{{s.A, s.Bulge}, {s.B, 0}, {b, -s.Bulge}, {a, 0}}
		}
		return []Polygon{p.FlattenOut(tol)}
	}
	// All normals pass the centre: a wedge from the arc to it, another beyond,
	// and a plug where they touch.
	c := s.Center()
	a, b := s.A.Add(s.Normal(0).Mul(d)), s.B.Add(s.Normal(1).Mul(d))
	wedges := []Polygon{plug(c)}
	for _, p := range [...]Path{{{c, 0}, {s.A, s.Bulge}, {s.B, 0}}, {{c, 0}, {a, s.Bulge}, {b, 0}}} {
		if p.Area() < 0 {
			p = p.Reverse()
		}
		wedges = append(wedges, p.FlattenOut(tol))
	}
	return wedges
}

// cornerOf is the area between the strips of two edges at an outward corner.
func (o *offsetter) cornerOf(e, f edge, corner int, tol float64) []Polygon {
	m := min(e.d, f.d)
	if max(e.d, f.d) <= 0 {
		m = max(e.d, f.d)
	}
	var joins []joinVertex
	var loop Path // round the area, from the old corner
	if corner >= 0 {
		s := o.path.Segment(corner)
		_, ok := curveOf(s).moved(m)
		if s.Bulge*m <= 0 || !ok || e.gone || f.gone {
			return stripOf(s, m, !ok, tol)
		}
		joins = o.round(&e, &f, corner)
		loop = Path{{s.B, -s.Bulge}, {s.A, 0}}
	} else {
		if e.s.Tangent(1).Cross(f.s.Tangent(0))*(e.d+f.d) <= 0 || e.gone || f.gone {
			return nil
		}
		joins = sharp(&e, &f, e.s.B)
		loop = Path{{e.s.B, 0}}
	}
	put := func(v Vertex) {
		if loop[len(loop)-1].Dist(v.Pt) > coincide {
			loop = append(loop, v)
		}
	}
	for _, q := range [...]Pt{e.b, e.end} {
		put(Vertex{Pt: q})
	}
	for _, j := range joins {
		if loop[len(loop)-1].Dist(j.Pt) <= coincide {
			loop[len(loop)-1].Bulge = j.Bulge
		}
		put(j.Vertex)
	}
	put(Vertex{Pt: f.start})
	put(Vertex{Pt: f.a})
	if loop.Area() < 0 {
		loop = loop.Reverse()
	}
	return []Polygon{loop.FlattenOut(tol)}
}

// sourceOf finds the edge that a segment of the ring lies on.
func (o *offsetter) sourceOf(s Segment) Source {
	mid := s.At(0.5)
	best, src := math.Inf(1), Source{}
	for k, e := range o.edges {
		if d := (Segment{e.a, e.b, e.s.Bulge}).Distance(mid); d < best {
			best, src = d, Source{Edge: e.i, Join: d > ChordTol}
		}
		if i := o.corner[k]; i >= 0 && e.d == o.edges[(k+1)%len(o.edges)].d {
			if d := (Segment{e.b, o.edges[(k+1)%len(o.edges)].a, o.path[i].Bulge}).Distance(mid); d < best {
				best, src = d, Source{Edge: i, Join: d > ChordTol}
			}
		}
	}
	return src
}

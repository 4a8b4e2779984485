package geom

import (
	"math"

	"slipseat/engine/unit"
)

// MitreLimit bounds how far a moved corner may lie from the old one, as a
// multiple of the larger of its two edges' amounts; beyond it the corner is cut
// off square to its way out (DESIGN section 4).
const MitreLimit = 2

// Codes of the faults of an offset.
const (
	// CodeNothingLeft: the edges move inwards until nothing is left.
	CodeNothingLeft = "offset.nothing-left"
	// CodeAmount: an amount is not a number, or beyond a hundred metres.
	CodeAmount = "offset.amount"
)

// NoEdge marks a segment of an offset that belongs to no edge of the original:
// the cut of a mitred corner or a step between two amounts.
const NoEdge = -1

// Source tells what a segment of a moved path comes from: segment Edge of the
// path that was moved, or, with Join, the corner at the end of that segment,
// where something was put in between.
type Source struct {
	Edge int
	Join bool
}

// Moved is a path whose edges were moved, with the source of every segment.
type Moved struct {
	Path Path
	From []Source
	// Exact tells that lines stayed lines and arcs stayed arcs. Otherwise edges
	// ran into each other, and the path is the outer ring of a union of
	// flattened shapes, at most ChordTol outside of the true one.
	Exact bool
}

// Offset moves every edge of a counter-clockwise path outwards by dist(edge)
// millimetres, inwards where negative (DESIGN section 4):
//
//  1. An edge is extended, an arc along its circle, to meet its neighbours.
//     Beyond MitreLimit the corner is cut off.
//  2. A rounded corner (CornerArcs; dist is not asked for it) becomes the arc
//     tangent to both moved neighbours with its radius grown by the smaller of
//     their amounts, by less where it would cut into the wider one's strip.
//  3. Edges of unequal amounts that cannot meet without cutting into the wider
//     one's strip, at shallow corners, are joined by the end of that strip.
//  4. The result is simple and counter-clockwise. For amounts that are not
//     negative it contains the path and the strip of every edge: the points
//     straight out from it up to its amount.
//
// Where edges run into each other or an arc vanishes, the shape is flattened
// and put together from its edges' strips instead. The error is a unit.Fault.
func Offset(p Path, dist func(edge int) float64) (Path, error) {
	m, err := OffsetFrom(p, dist)
	return m.Path, err
}

// OffsetEdges is Offset and tells for each segment of the result which edge of
// p it came from, or NoEdge.
func OffsetEdges(p Path, dist func(edge int) float64) (Path, []int, error) {
	m, err := OffsetFrom(p, dist)
	if err != nil {
		return nil, nil, err
	}
	from := make([]int, len(m.From))
	for i, s := range m.From {
		from[i] = s.Edge
		if s.Join {
			from[i] = NoEdge
		}
	}
	return m.Path, from, nil
}

// OffsetFrom is Offset with the source of every segment.
func OffsetFrom(p Path, dist func(edge int) float64) (Moved, error) {
	o := offsetter{path: p}
	still, fault := o.read(dist)
	switch {
	case fault != nil:
		return Moved{}, *fault
	case still:
		from := make([]Source, len(p))
		for i := range from {
			from[i].Edge = i
		}
		return Moved{p, from, true}, nil
	}
	if o.swallowed() {
		return Moved{}, unit.Fault{Code: CodeNothingLeft}
	}
	if m, ok := o.direct(); ok {
		return m, nil
	}
	return o.byStrips()
}

// swallowed tells whether every edge moves inwards by half the shape's smaller
// extent or more: no point inside is further than that from the nearest edge.
func (o *offsetter) swallowed() bool {
	most := math.Inf(-1)
	for _, e := range o.edges {
		most = max(most, e.d)
	}
	if most >= 0 {
		return false
	}
	b := o.path.Bounds()
	return -most >= min(b.W(), b.H())/2
}

// edge is an edge on its way into the result.
type edge struct {
	i          int // segment of the path
	s          Segment
	d          float64
	c          curve // moved
	gone       bool  // the arc vanished on the way
	a, b       Pt    // the ends moved straight out
	start, end Pt    // the ends after the joints
}

type joinVertex struct {
	Vertex
	from Source
}

type offsetter struct {
	path  Path
	edges []edge
	// corner[k] is the corner arc between edge k and the next one, -1 for none.
	corner []int
}

// read sorts the segments into edges and corner arcs and moves the edges
// straight out. still tells that nothing moves.
func (o *offsetter) read(dist func(int) float64) (still bool, fault *unit.Fault) {
	n := len(o.path)
	is := o.path.CornerArcs()
	first := 0
	for first < n && is[first] {
		first++
	}
	still = true
	for k := range n {
		i := (first + k) % n
		if is[i] { // never the first, nor two in a row: each is rounder than its neighbours
			o.corner[len(o.corner)-1] = i
			continue
		}
		d := dist(i)
		if !finite(d) || math.Abs(d) > maxCoordinate {
			return false, &unit.Fault{Code: CodeAmount, Args: []unit.Arg{unit.A("edge", i+1)}}
		}
		still = still && d == 0
		s := o.path.Segment(i)
		e := edge{i: i, s: s, d: d, a: s.A, b: s.B}
		c, ok := curveOf(s).moved(d)
		e.c, e.gone = c, !ok
		if d != 0 {
			e.a, e.b = s.A.Add(s.Normal(0).Mul(d)), s.B.Add(s.Normal(1).Mul(d))
		}
		e.start, e.end = e.a, e.b
		o.edges, o.corner = append(o.edges, e), append(o.corner, -1)
	}
	return still, nil
}

// direct moves lines as lines and arcs as arcs; false when that runs edges into
// each other.
func (o *offsetter) direct() (Moved, bool) {
	edges := append([]edge(nil), o.edges...)
	n := len(edges)
	joins := make([][]joinVertex, n)
	for k := range edges {
		if edges[k].gone {
			return Moved{}, false
		}
	}
	for k := range edges {
		e, f := &edges[k], &edges[(k+1)%n]
		if c := o.corner[k]; c >= 0 {
			joins[k] = o.round(e, f, c)
		} else {
			joins[k] = sharp(e, f, e.s.B)
		}
	}
	m := Moved{Exact: true}
	put := func(v Vertex, from Source, next Pt) {
		if v.Pt.Dist(next) > coincide {
			m.Path, m.From = append(m.Path, v), append(m.From, from)
		}
	}
	for k, e := range edges {
		s, ok := e.c.stretch(e.s, e.a, e.b, e.start, e.end)
		if !ok {
			return Moved{}, false
		}
		put(Vertex{s.A, s.Bulge}, Source{Edge: e.i}, s.B)
		for j, v := range joins[k] {
			next := edges[(k+1)%n].start
			if j+1 < len(joins[k]) {
				next = joins[k][j+1].Pt
			}
			put(v.Vertex, v.from, next)
		}
	}
	if len(m.Path) < 2 || m.Path.Validate() != nil || !o.stripsIn(m.Path) {
		return Moved{}, false
	}
	return m, true
}

// stripsIn tells whether the far ends and middles of all strips lie within q,
// and no corner of q within a strip. Where a path has no hollows its corners
// see to that; beside a hollow an edge's strip may reach past a neighbour's
// neighbour.
func (o *offsetter) stripsIn(q Path) bool {
	if !o.path.hollow() {
		return true
	}
	for _, e := range o.edges {
		if e.d <= 0 {
			continue
		}
		for _, at := range [...]Pt{e.a, e.b, e.s.At(0.5).Add(e.s.Normal(0.5).Mul(e.d))} {
			if !q.Contains(at) {
				return false
			}
		}
		for _, v := range q {
			foot := e.s.Nearest(v.Pt)
			if min(foot.Dist(e.s.A), foot.Dist(e.s.B)) < sameStrip {
				continue
			}
			if out := v.Sub(foot); out.Dot(e.s.Normal(e.s.ShareOf(foot))) > sameStrip && out.Len() < e.d-sameStrip {
				return false
			}
		}
	}
	return true
}

// sameStrip is how far in millimetres a corner may lie within a strip that it
// is the edge of; ten times coincide for what the joints lose.
const sameStrip = 10 * coincide

// hollow tells whether a path has an inward corner or an arc that curves
// inwards.
func (p Path) hollow() bool {
	for i := range p {
		if p[i].Bulge < 0 || p.TurnAt(i) < -smooth {
			return true
		}
	}
	return false
}

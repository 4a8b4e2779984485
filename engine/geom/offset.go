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
	if m, ok := o.direct(); ok {
		return m, nil
	}
	return o.byStrips()
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
	if len(m.Path) < 2 || m.Path.Validate() != nil {
		return Moved{}, false
	}
	return m, true
}

// sharp joins moved edge e to moved edge f, whose old common corner is x. It
// sets where e ends and f starts and gives what lies in between.
func sharp(e, f *edge, x Pt) []joinVertex {
	if e.b.Dist(f.a) < coincide {
		e.end, f.start = e.b, e.b
		return nil
	}
	u, v := e.s.Tangent(1), f.s.Tangent(0)
	turn := u.Cross(v)
	if math.Abs(turn) < 1e-9 && u.Dot(v) > 0 {
		return step(e, f, x)
	}
	limit := MitreLimit * max(math.Abs(e.d), math.Abs(f.d))
	// A corner opens when both edges move to its outer side: they are extended.
	// It closes when both move to its inner side: they are trimmed. With amounts
	// of both signs either may happen.
	opens := turn*e.d >= 0 && turn*f.d >= 0
	closes := !opens && turn*e.d <= 0 && turn*f.d <= 0
	// How far a meeting point lies beyond the moved ends.
	whole := func(at Pt) bool {
		return at.Sub(e.b).Dot(u) > -coincide && f.a.Sub(at).Dot(v) > -coincide
	}
	trims := func(at Pt) bool {
		return at.Sub(e.b).Dot(u) < coincide && f.a.Sub(at).Dot(v) < coincide
	}
	at, ok := e.c.meetNear(f.c, x.Add(e.b.Add(f.a).Sub(x.Mul(2))))
	switch far := ok && at.Dist(x) > limit+coincide; {
	case ok && opens && whole(at) && far:
		if cut, ok := clip(e, f, x, at, limit); ok {
			return cut
		}
	case ok && (opens && whole(at) || closes && trims(at) || !opens && !closes && !far):
		e.end, f.start = at, at
		return nil
	case !ok && opens:
		// Arcs that curl away from each other go on along their tangents.
		at, ok := curve{p: e.b, dir: u}.meetNear(curve{p: f.a, dir: v}, x)
		if ok && whole(at) && at.Dist(x) <= limit {
			e.end, f.start = e.b, f.a
			from := Source{Edge: e.i, Join: true}
			return []joinVertex{{Vertex{Pt: e.b}, from}, {Vertex{Pt: at}, from}}
		}
	}
	return step(e, f, x)
}

// clip cuts off a corner that stands out too far.
func clip(e, f *edge, x, tip Pt, limit float64) ([]joinVertex, bool) {
	out := tip.Sub(x).Unit()
	cut := curve{p: x.Add(out.Mul(limit)), dir: out.Left()}
	a, ok1 := cut.meetNear(e.c, cut.p)
	b, ok2 := cut.meetNear(f.c, cut.p)
	if !ok1 || !ok2 || a.Sub(e.b).Dot(e.s.Tangent(1)) < -coincide || f.a.Sub(b).Dot(f.s.Tangent(0)) < -coincide {
		return nil, false
	}
	e.end, f.start = a, b
	return []joinVertex{{Vertex{Pt: a}, Source{Edge: e.i, Join: true}}}, true
}

// step joins two moved edges by the end of the wider one's strip, where the
// narrower one runs into it; failing that by a straight line.
func step(e, f *edge, x Pt) []joinVertex {
	e.end, f.start = e.b, f.a
	wide, narrow, into := e.b, f.c, &f.start
	if math.Abs(e.d) < math.Abs(f.d) {
		wide, narrow, into = f.a, e.c, &e.end
	}
	if side := (Segment{A: x, B: wide}); x.Dist(wide) > coincide {
		if at, ok := narrow.meetNear(curveOf(side), *into); ok && side.Distance(at) < coincide {
			*into = at
		}
	}
	if e.end.Dist(f.start) < coincide {
		f.start = e.end
		return nil
	}
	return []joinVertex{{Vertex{Pt: e.end}, Source{Edge: e.i, Join: true}}}
}

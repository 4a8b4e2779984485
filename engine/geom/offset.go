package geom

import (
	"errors"
	"math"
)

// MitreLimit bounds how far a moved corner may lie from the old one, as a
// multiple of the larger of its two edges' amounts; beyond it the corner is cut
// off square (DESIGN section 4).
const MitreLimit = 2

// smooth is the largest angle in radians between two segments that still meet
// without a corner: a figure typed to a sixteenth of an inch never lies closer
// to a tangent by accident.
const smooth = 1e-6

// ErrOffset is returned when no valid outline comes out of an offset, for
// example when an inset swallows the whole shape.
var ErrOffset = errors.New("geom: the offset leaves no outline")

// Offset moves every edge of a counter-clockwise path outwards by dist(edge)
// (inwards where negative) and extends it to meet its neighbours:
//
//   - a corner becomes the meeting point of the two moved edges, cut off at
//     MitreLimit;
//   - a corner arc, tangent to both neighbours, becomes the arc tangent to both
//     moved neighbours with its radius grown by the smaller of their amounts
//     (by less where it would cut into a neighbour's strip), its own amount is
//     not asked for;
//   - any other arc keeps its centre.
//
// Where this crosses itself, an arc vanishes, or a shallow corner between very
// unequal amounts would cut an edge's strip short, the shape is flattened and
// put together from its edges' strips instead. The result always contains every
// edge's own strip.
func Offset(p Path, dist func(edge int) float64) (Path, error) {
	out, _, err := OffsetEdges(p, dist)
	return out, err
}

// NoEdge marks a segment of an offset that belongs to no edge of the original:
// the cut of a mitred corner or a step between two amounts.
const NoEdge = -1

// OffsetEdges is Offset and tells for each segment of the result which edge of
// p it came from, or NoEdge. After the fallback to strips every segment is that
// of the nearest edge.
func OffsetEdges(p Path, dist func(edge int) float64) (Path, []int, error) {
	n := len(p)
	if n == 0 {
		return nil, nil, nil
	}
	d := make([]float64, n)
	for i := range d {
		d[i] = dist(i)
		if math.IsNaN(d[i]) || math.IsInf(d[i], 0) {
			return nil, nil, ErrOffset
		}
	}
	for i, corner := range p.CornerArcs() {
		if corner {
			d[i] = math.Min(d[(i+n-1)%n], d[(i+1)%n])
		}
	}
	if out, from, ok := offsetCurves(p, d); ok {
		return out, from, nil
	}
	return offsetStrips(p, d)
}

// CornerArcs tells for each segment whether it rounds a corner: an arc tangent
// to both neighbours and of a smaller radius than either.
func (p Path) CornerArcs() []bool {
	n := len(p)
	out := make([]bool, n)
	if n < 3 {
		return out
	}
	for i := range p {
		s, a, b := p.Segment(i), p.Segment((i+n-1)%n), p.Segment((i+1)%n)
		if s.Straight() || math.Abs(s.Sweep()) >= math.Pi-smooth {
			continue
		}
		tangent := math.Abs(a.Tangent(1).Cross(s.Tangent(0))) < smooth && a.Tangent(1).Dot(s.Tangent(0)) > 0 &&
			math.Abs(s.Tangent(1).Cross(b.Tangent(0))) < smooth && s.Tangent(1).Dot(b.Tangent(0)) > 0
		out[i] = tangent && s.Radius() < a.Radius()-coincide && s.Radius() < b.Radius()-coincide
	}
	return out
}

// edge is one moved edge on its way into the result.
type edge struct {
	c    curve
	from int
	dir  Pt // the old direction of travel at its middle, to notice a reversal
	a, b Pt // ends, filled in as corners are made
}

// offsetCurves works on lines and arcs; ok is false when the result is not a
// simple outline that runs the right way.
func offsetCurves(p Path, d []float64) (Path, []int, bool) {
	n := len(p)
	corner := p.CornerArcs()
	var edges []edge
	for i := range p {
		if corner[i] {
			continue
		}
		s := p.Segment(i)
		c, ok := curveOf(s).moved(d[i])
		if !ok {
			return nil, nil, false
		}
		edges = append(edges, edge{c: c, from: i, dir: s.Tangent(0.5)})
	}
	if len(edges) < 2 {
		return nil, nil, false
	}
	var segs []Segment
	var from []int
	joins := make([][]Segment, len(edges))
	joinFrom := make([]int, len(edges))
	for k := range edges {
		e, f := &edges[k], &edges[(k+1)%len(edges)]
		between := (e.from + 1) % n
		if between != f.from && corner[between] {
			arc, ok := cornerArc(p.Segment(between), e.c, f.c, math.Min(d[e.from], d[f.from]))
			if !ok {
				return nil, nil, false
			}
			if arc == nil {
				// The radius is used up: the corner is sharp now.
				q, ok := e.c.meetNear(f.c, p.Segment(between).At(0.5))
				if !ok {
					return nil, nil, false
				}
				e.b, f.a = q, q
				continue
			}
			e.b, f.a = arc.A, arc.B
			joins[k], joinFrom[k] = []Segment{*arc}, between
			continue
		}
		joins[k] = mitre(p[f.from].Pt, e, f, d[e.from], d[f.from], p.Segment(e.from), p.Segment(f.from))
		joinFrom[k] = NoEdge
		v, te, tf := p[f.from].Pt, p.Segment(e.from).Tangent(1), p.Segment(f.from).Tangent(0)
		// Only an edge that moves out has a strip of its own.
		if te.Cross(tf) > 0 && (d[e.from] > 0 && short(e.c, v, te, e.b) || d[f.from] > 0 && short(f.c, v, tf.Mul(-1), f.a)) {
			return nil, nil, false
		}
	}
	for k, e := range edges {
		if e.a.Dist(e.b) > coincide {
			s := e.c.between(e.a, e.b)
			if s.Tangent(0.5).Dot(e.dir) <= 0 {
				return nil, nil, false
			}
			segs, from = append(segs, s), append(from, e.from)
		}
		for _, s := range joins[k] {
			if s.A.Dist(s.B) > coincide {
				segs, from = append(segs, s), append(from, joinFrom[k])
			}
		}
	}
	out := PathOf(segs)
	if len(out) < 2 || out.Validate() != nil {
		return nil, nil, false
	}
	return out, from, true
}

// short tells whether an edge that now ends at q stops before the end of its
// own strip: before old, moved with it; dir points along the edge to its end.
func short(c curve, old, dir, q Pt) bool { return q.Sub(c.foot(old)).Dot(dir) < -coincide }

// cornerArc is the arc tangent to both moved neighbours. nil and true mean that
// its radius shrank to nothing; false that it would cut a strip short whatever
// its radius.
func cornerArc(old Segment, a, b curve, grow float64) (*Segment, bool) {
	r := old.Radius()
	convex := old.Bulge > 0
	if !convex {
		grow = -grow
	}
	r += grow
	if r <= coincide {
		return nil, true
	}
	arc, ok := tangentArc(old, a, b, r)
	if !convex || ok && !shortens(old, a, b, arc) {
		return &arc, ok
	}
	// The largest radius that leaves both strips whole, by halving.
	lo, hi := coincide, r
	if arc, ok = tangentArc(old, a, b, lo); !ok || shortens(old, a, b, arc) {
		return nil, false
	}
	for range 50 {
		mid := (lo + hi) / 2
		if m, fits := tangentArc(old, a, b, mid); fits && !shortens(old, a, b, m) {
			lo, arc = mid, m
		} else {
			hi = mid
		}
	}
	return &arc, true
}

func shortens(old Segment, a, b curve, arc Segment) bool {
	return short(a, old.A, old.Tangent(0), arc.A) || short(b, old.B, old.Tangent(1).Mul(-1), arc.B)
}

// tangentArc is the arc of radius r tangent to a and b on the side of old.
func tangentArc(old Segment, a, b curve, r float64) (Segment, bool) {
	convex := old.Bulge > 0
	// The centre lies r inside both curves for a rounded outer corner, r
	// outside for a rounded inner one.
	in := -r
	if !convex {
		in = r
	}
	ca, ok1 := a.moved(in)
	cb, ok2 := b.moved(in)
	if !ok1 || !ok2 {
		return Segment{}, false
	}
	c, ok := ca.meetNear(cb, old.Center())
	if !ok {
		return Segment{}, false
	}
	arc := curve{p: c, r: r, ccw: convex}.between(a.foot(c), b.foot(c))
	return arc, math.Abs(arc.Sweep()) <= math.Pi
}

// mitre joins two moved edges at an old corner v: it sets the end of e and the
// start of f and returns what lies between them.
func mitre(v Pt, e, f *edge, de, df float64, olde, oldf Segment) []Segment {
	te, tf := olde.Tangent(1), oldf.Tangent(0)
	stepEnd := v.Add(Pt{te.Y, -te.X}.Mul(de))
	stepStart := v.Add(Pt{tf.Y, -tf.X}.Mul(df))
	turn := te.Cross(tf)
	q, ok := e.c.meetNear(f.c, v.Add(stepEnd.Add(stepStart).Sub(v.Mul(2)).Mul(0.5)))
	if math.Abs(turn) < smooth && te.Dot(tf) > 0 && math.Abs(de-df) < coincide {
		// No corner and one amount: the edges go on into each other.
		at := stepEnd.Add(stepStart).Mul(0.5)
		e.b, f.a = at, at
		return nil
	}
	if !ok || math.Abs(turn) < smooth {
		e.b, f.a = stepEnd, stepStart
		return []Segment{{A: stepEnd, B: stepStart}}
	}
	limit := MitreLimit * math.Max(math.Abs(de), math.Abs(df))
	out := q.Sub(v)
	if outward := turn > 0 && (de > 0 || df > 0); !outward || out.Len() <= limit+coincide {
		e.b, f.a = q, q
		return nil
	}
	// Cut off square to the line from the old corner to the point.
	u := unitVec(out)
	cut := curve{p: v.Add(u.Mul(limit)), dir: Pt{-u.Y, u.X}}
	a, ok1 := cut.meetNear(e.c, cut.p)
	b, ok2 := cut.meetNear(f.c, cut.p)
	if !ok1 || !ok2 {
		e.b, f.a = q, q
		return nil
	}
	e.b, f.a = a, b
	return []Segment{{A: a, B: b}}
}

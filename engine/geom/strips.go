package geom

import (
	"math"

	sf "github.com/peterstace/simplefeatures/geom"
)

// offsetStrips is the slow way: the flattened shape joined with one strip per
// edge piece and a mitred wedge per corner (taken away for inward amounts). It
// always works unless nothing is left.
func offsetStrips(p Path, d []float64) (Path, []int, error) {
	var pieces []chord
	var owner []int
	for i := range p {
		s := p.Segment(i)
		for k, n := 0, s.steps(ChordTol); k < n; k++ {
			a, b := float64(k)/float64(n), float64(k+1)/float64(n)
			pieces = append(pieces, chord{Segment{A: s.At(a), B: s.At(b)}, s.Tangent(a), s.Tangent(b)})
			owner = append(owner, i)
		}
	}
	ring := make(Polygon, len(pieces))
	for i, s := range pieces {
		ring[i] = s.A
	}
	shape, err := toSF(ring)
	if err != nil {
		return nil, nil, ErrOffset
	}
	// First grow, then take away, so that neither depends on the order.
	for _, sign := range [...]float64{1, -1} {
		for i, s := range pieces {
			if d[owner[i]]*sign <= 0 {
				continue
			}
			for _, poly := range stripsOf(pieces, owner, d, i, s) {
				g, err := toSF(poly)
				if err != nil {
					continue // a strip without area
				}
				if sign > 0 {
					shape, err = sf.Union(shape, g)
				} else {
					shape, err = sf.Difference(shape, g)
				}
				if err != nil {
					return nil, nil, ErrOffset
				}
			}
		}
	}
	var path Path
	for range maxPinches {
		out, ok := largestRing(shape)
		if !ok {
			return nil, nil, ErrOffset
		}
		path = out.Path()
		at, pinched := path.crossing()
		if !pinched {
			break
		}
		// Where the ring touches itself in one point a tiny square closes it.
		plug, err := toSF(Box(at.X-plugSize, at.Y-plugSize, at.X+plugSize, at.Y+plugSize).corners())
		if err != nil {
			return nil, nil, ErrOffset
		}
		if shape, err = sf.Union(shape, plug); err != nil {
			return nil, nil, ErrOffset
		}
	}
	if path.Validate() != nil {
		return nil, nil, ErrOffset
	}
	from := make([]int, len(path))
	for i := range path {
		m := path.Segment(i).At(0.5)
		best := math.Inf(1)
		for k, s := range pieces {
			if dd := math.Abs(s.Segment.Distance(m) - math.Abs(d[owner[k]])); dd < best {
				best, from[i] = dd, owner[k]
			}
		}
	}
	return path, from, nil
}

// chord is a piece of a flattened edge with the edge's own directions at its
// ends, so that neighbouring strips of one arc join without a gap.
type chord struct {
	Segment
	ta, tb Pt
}

// stripsOf gives the quadrangle beside piece i and the wedge at its end.
func stripsOf(pieces []chord, owner []int, d []float64, i int, s chord) []Polygon {
	j := (i + 1) % len(pieces)
	di, dj := d[owner[i]], d[owner[j]]
	t, u := s.tb, pieces[j].ta
	right, next := Pt{t.Y, -t.X}.Mul(di), Pt{u.Y, -u.X}.Mul(dj)
	out := []Polygon{ccw(Polygon{s.A, s.A.Add(Pt{s.ta.Y, -s.ta.X}.Mul(di)), s.B.Add(right), s.B})}
	if di*dj <= 0 || t.Cross(u)*di <= smooth*math.Abs(di) {
		return out
	}
	out = append(out, ccw(Polygon{s.B, s.B.Add(right), s.B.Add(next)}))
	e := edge{c: curve{p: s.B.Add(right), dir: t}}
	f := edge{c: curve{p: s.B.Add(next), dir: u}}
	mitre(s.B, &e, &f, di, dj, Segment{A: s.B.Sub(t), B: s.B}, Segment{A: s.B, B: s.B.Add(u)})
	if short(e.c, s.B, t, e.b) || short(f.c, s.B, u.Mul(-1), f.a) {
		return out // a shallow corner between unequal amounts is left as a step
	}
	wedge := Polygon{s.B, s.B.Add(right), e.b}
	if f.a.Dist(e.b) > coincide {
		wedge = append(wedge, f.a)
	}
	return append(out, ccw(append(wedge, s.B.Add(next))))
}

func ccw(g Polygon) Polygon {
	if g.Area() < 0 {
		return g.Reverse()
	}
	return g
}

// A joined shape may touch itself in single points; each is closed with a
// square of plugSize millimetres either way, far below what a knife can follow.
const (
	plugSize   = 0.01
	maxPinches = 16
)

// unionGrid is the grid in millimetres that shapes are put on before they are
// joined: strips that share an edge then share it exactly.
const unionGrid = 1.0 / 4096

func onGrid(p Pt) Pt {
	return Pt{math.Round(p.X/unionGrid) * unionGrid, math.Round(p.Y/unionGrid) * unionGrid}
}

func toSF(g Polygon) (sf.Geometry, error) {
	xy := make([]float64, 0, 2*len(g)+2)
	for _, p := range g {
		q := onGrid(p)
		if n := len(xy); n >= 2 && xy[n-2] == q.X && xy[n-1] == q.Y {
			continue
		}
		xy = append(xy, q.X, q.Y)
	}
	if n := len(xy); n >= 2 && (xy[0] != xy[n-2] || xy[1] != xy[n-1]) {
		xy = append(xy, xy[0], xy[1])
	}
	ring := sf.NewLineString(sf.NewSequence(xy, sf.DimXY))
	poly := sf.NewPolygon([]sf.LineString{ring})
	if err := poly.Validate(); err != nil {
		return sf.Geometry{}, err
	}
	return poly.AsGeometry(), nil
}

// largestRing is the outer ring of the largest polygon of a geometry, counter-
// clockwise, without points on a straight run.
func largestRing(g sf.Geometry) (Polygon, bool) {
	var polys []sf.Polygon
	switch g.Type() {
	case sf.TypePolygon:
		polys = append(polys, g.MustAsPolygon())
	case sf.TypeMultiPolygon:
		mp := g.MustAsMultiPolygon()
		for i := range mp.NumPolygons() {
			polys = append(polys, mp.PolygonN(i))
		}
	}
	var best Polygon
	for _, poly := range polys {
		seq := poly.ExteriorRing().Coordinates()
		var ring Polygon
		for i := 0; i+1 < seq.Length(); i++ {
			xy := seq.GetXY(i)
			ring = append(ring, Pt{xy.X, xy.Y})
		}
		for i := range ring {
			ring[i] = onGrid(ring[i])
		}
		if ring = ccw(ring).tidied(); len(ring) >= 3 && (best == nil || ring.Area() > best.Area()) {
			best = ring
		}
	}
	return best, best != nil
}

// tidied drops double points, points on a straight run and spikes without
// width.
func (g Polygon) tidied() Polygon {
	for changed := true; changed && len(g) >= 3; {
		changed = false
		var out Polygon
		n := len(g)
		for i, p := range g {
			a, b := g[(i+n-1)%n], g[(i+1)%n]
			if !changed && (p.Dist(a) < unionGrid/2 || math.Abs(p.Sub(a).Cross(b.Sub(p))) < unionGrid*math.Max(p.Dist(a), p.Dist(b))) {
				changed = true
				continue
			}
			out = append(out, p)
		}
		g = out
	}
	return g
}

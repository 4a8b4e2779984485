package geom

import (
	"errors"
	"math"

	sf "github.com/peterstace/simplefeatures/geom"
)

// unionGrid is the grid in millimetres that shapes are put on before they are
// joined: strips that share an edge then share it exactly. Half of it is the
// most that a corner moves.
const unionGrid = 1.0 / 4096

// unionSlack is how far inside of the true edge an edge may lie after a union:
// its corners have moved to the grid and its nearly straight runs are tidied.
const unionSlack = 8 * unionGrid

// A joined shape may touch itself in single points; each is closed with a
// square of plugSize millimetres either way, far below what a knife can follow.
const (
	plugSize   = 0.01
	maxPinches = 16
)

func plug(at Pt) Polygon {
	return Polygon{{at.X - plugSize, at.Y - plugSize}, {at.X + plugSize, at.Y - plugSize}, {at.X + plugSize, at.Y + plugSize}, {at.X - plugSize, at.Y + plugSize}}
}

var errNoRing = errors.New("geom: no ring is left")

// unite joins shapes pairwise, neighbours first: far fewer corners pass through
// the library's hands than when every ring is added to one growing shape.
func unite(rings []Polygon) (sf.Geometry, error) {
	var level []sf.Geometry
	for _, g := range rings {
		if h, err := toSF(g); err == nil { // else without area once it is on the grid
			level = append(level, h)
		}
	}
	for len(level) > 1 {
		next := level[:0]
		for i := 0; i < len(level); i += 2 {
			g := level[i]
			if i+1 < len(level) {
				var err error
				if g, err = sf.Union(g, level[i+1]); err != nil {
					return sf.Geometry{}, err
				}
			}
			next = append(next, g)
		}
		level = next
	}
	if len(level) == 0 {
		return sf.Geometry{}, nil
	}
	return level[0], nil
}

// simpleRing is the outer ring of the largest part, closed where it touches
// itself.
func simpleRing(shape sf.Geometry) (Polygon, error) {
	for range maxPinches {
		ring := largestRing(shape)
		// A hair between two strips is nothing: its width is about twice its area
		// over its length.
		if len(ring) < 3 || ring.Area() < ChordTol*ring.Length() {
			return nil, errNoRing
		}
		at, pinched := ring.Path().crossing()
		if !pinched {
			if ring.Path().Validate() != nil {
				return nil, errNoRing
			}
			return ring, nil
		}
		box, err := toSF(plug(at))
		if err != nil {
			return nil, err
		}
		if shape, err = sf.Union(shape, box); err != nil {
			return nil, err
		}
	}
	return nil, errNoRing
}

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
// clockwise, without points on a straight run; nil when there is none.
func largestRing(g sf.Geometry) Polygon {
	var best Polygon
	for _, part := range g.Dump() {
		poly, ok := part.AsPolygon()
		if !ok || poly.IsEmpty() {
			continue
		}
		seq := poly.ExteriorRing().Coordinates()
		ring := make(Polygon, 0, seq.Length())
		for i := 0; i+1 < seq.Length(); i++ {
			xy := seq.GetXY(i)
			ring = append(ring, onGrid(Pt{xy.X, xy.Y}))
		}
		if ring.Area() < 0 {
			ring = ring.Reverse()
		}
		if ring = ring.tidied(); len(ring) >= 3 && ring.Area() > best.Area() {
			best = ring
		}
	}
	return best
}

// tidied drops double points, points within the grid of a straight run, and
// spikes without width.
func (g Polygon) tidied() Polygon {
	for again := true; again && len(g) >= 3; {
		again = false
		out := make(Polygon, 0, len(g))
		for i, p := range g {
			before, next := g[(i+len(g)-1)%len(g)], g[(i+1)%len(g)]
			if len(out) > 0 {
				before = out[len(out)-1]
			}
			if p.Dist(before) < unionGrid/2 || math.Abs(p.Sub(before).Cross(next.Sub(p))) < unionGrid*max(p.Dist(before), p.Dist(next)) {
				again = true
				continue
			}
			out = append(out, p)
		}
		if len(out) == len(g) {
			break
		}
		g = out
	}
	return g
}

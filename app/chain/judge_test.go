//go:build cgo

package chain

import (
	"fmt"
	"math"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"github.com/peterstace/simplefeatures/geos"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
)

// slack is what a lay may miss a rule by here: the first judge's tolerance and
// the rounding of areas.
const slack = 0.02

// secondJudge looks at a lay with the geometry of another library
// (GEOS, of the Open Source Geospatial Foundation, by way of
// peterstace/simplefeatures), from the problem alone: every piece there once,
// on the goods, clear of the others and of the flaws.
func secondJudge(p lay.Problem, l lay.Lay) error {
	type put struct {
		at    lay.Place
		box   geom.Rect
		shape sf.Geometry
	}
	count := map[[2]int]int{}
	var all []put
	for _, at := range l.Places {
		if at.Kind < 0 || at.Kind >= len(p.Kinds) || at.Bin < 0 || at.Bin >= len(p.Bins) {
			return fmt.Errorf("a piece of no kind: %+v", at)
		}
		count[[2]int{at.Kind, at.Copy}]++
		g := turned(p.Kinds[at.Kind].Shape, int(at.Turn), at.At)
		box := bounds(g)
		bin := p.Bins[at.Bin]
		if box.Min.X < -slack || box.Min.Y < -slack || box.Max.Y > bin.Width.MM()+slack || bin.Length > 0 && box.Max.X > bin.Length.MM()+slack {
			return fmt.Errorf("piece %+v lies off the goods: %v", at, box)
		}
		one := put{at, box, polygon(g)}
		for _, f := range bin.Flaws {
			if tooNear(one.shape, polygon(f), p.Gap.MM()) {
				return fmt.Errorf("piece %+v lies on a flaw", at)
			}
		}
		for _, o := range all {
			if o.at.Bin != at.Bin || o.at.Sheet != at.Sheet || apart(o.box, box) > p.Gap.MM() {
				continue
			}
			if tooNear(one.shape, o.shape, p.Gap.MM()) {
				return fmt.Errorf("pieces %+v and %+v are too near", at, o.at)
			}
		}
		all = append(all, one)
	}
	for k, kind := range p.Kinds {
		for c := range kind.Count {
			if count[[2]int{k, c}] != 1 {
				return fmt.Errorf("piece %d of kind %s is there %d times", c, kind.ID, count[[2]int{k, c}])
			}
		}
	}
	return nil
}

// tooNear tells whether two shapes overlap, or are nearer than the gap.
func tooNear(a, b sf.Geometry, gap float64) bool {
	if d, ok := sf.Distance(a, b); ok && d > 0 {
		return d < gap-slack
	}
	if gap > slack {
		return sf.Intersects(a, b)
	}
	over, err := geos.Intersection(a, b)
	// The deepest overlap that passes is slack deep along a whole edge.
	box := over.Envelope()
	return err != nil || over.Area() > slack*max(box.Width(), box.Height())
}

// turned is written anew here, from DESIGN section 3: quarter turns
// counter-clockwise about the origin, then moved.
func turned(g geom.Polygon, quarters int, by geom.Pt) []geom.Pt {
	out := make([]geom.Pt, len(g))
	for i, q := range g {
		x, y := q.X, q.Y
		for range quarters {
			x, y = -y, x
		}
		out[i] = geom.P(x+by.X, y+by.Y)
	}
	return out
}

func polygon(g []geom.Pt) sf.Geometry {
	xy := make([]float64, 0, 2*len(g)+2)
	for i := range len(g) + 1 {
		xy = append(xy, g[i%len(g)].X, g[i%len(g)].Y)
	}
	return sf.NewPolygon([]sf.LineString{sf.NewLineString(sf.NewSequence(xy, sf.DimXY))}).AsGeometry()
}

func bounds(g []geom.Pt) geom.Rect {
	r := geom.Rect{Min: g[0], Max: g[0]}
	for _, q := range g {
		r.Min.X, r.Min.Y = min(r.Min.X, q.X), min(r.Min.Y, q.Y)
		r.Max.X, r.Max.Y = max(r.Max.X, q.X), max(r.Max.Y, q.Y)
	}
	return r
}

// apart is at least how far two boxes are from each other.
func apart(a, b geom.Rect) float64 {
	dx := max(0, a.Min.X-b.Max.X, b.Min.X-a.Max.X)
	dy := max(0, a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y)
	return math.Hypot(dx, dy)
}

// TestSecondJudgeBites: it refuses an overlap, a gap too small, a piece off the
// goods, one on a flaw, and one that is missing.
func TestSecondJudgeBites(t *testing.T) {
	square := geom.Polygon{geom.P(0, 0), geom.P(100, 0), geom.P(100, 100), geom.P(0, 100)}
	flaw := geom.Polygon{geom.P(500, 0), geom.P(510, 0), geom.P(510, 10), geom.P(500, 10)}
	p := lay.Problem{Gap: 2, Kinds: []lay.Kind{{ID: "A", Shape: square, Count: 2, Turns: lay.AnyTurn}}, Bins: []lay.Bin{{Width: 400, Flaws: []geom.Polygon{flaw}}}}
	at := func(copy int, turn lay.Turn, x, y float64) lay.Place {
		return lay.Place{Copy: copy, Turn: turn, At: geom.P(x, y)}
	}
	if err := secondJudge(p, lay.Lay{Places: []lay.Place{at(0, 0, 0, 0), at(1, 1, 202, 0)}}); err != nil {
		t.Errorf("a good lay: %v", err)
	}
	for name, places := range map[string][]lay.Place{
		"overlap":   {at(0, 0, 0, 0), at(1, 0, 99, 0)},
		"gap":       {at(0, 0, 0, 0), at(1, 0, 101, 0)},
		"off":       {at(0, 0, 0, 0), at(1, 0, 150, 301)},
		"on a flaw": {at(0, 0, 0, 0), at(1, 0, 450, 0)},
		"missing":   {at(0, 0, 0, 0)},
		"twice":     {at(0, 0, 0, 0), at(0, 0, 150, 0)},
	} {
		if secondJudge(p, lay.Lay{Places: places}) == nil {
			t.Errorf("%s was let through", name)
		}
	}
}

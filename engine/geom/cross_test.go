package geom

import (
	"math"
	"math/rand/v2"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
)

// TestAgainstOtherLibrary compares 1,000 random outlines with a general
// geometry library of another author (simplefeatures, P. Stace): the area of the
// flattened path, its being valid, the area of its union with its own offset,
// and that nothing of an edge's strip is left when the offset is taken away.
func TestAgainstOtherLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 13))
	t.Logf("-seed %d", *seed)
	const fine = 0.01
	differ, skipped, strips := 0, 0, 0
	for k := range 1000 {
		p, coarse := randomOutline(r), 1.0
		if k%8 == 7 {
			p, coarse = randomStar(r), 0.1 // chords of cusps may cross
		}
		if g := library(t, p.Flatten(fine)); areaDiffers(p, p.Area(), g, fine) {
			differ++
			t.Errorf("area %v, the library says %v: %v", p.Area(), g.Area(), p)
		}
		d := make([]float64, len(p))
		for i := range d {
			d[i] = 3 + 40*r.Float64()
		}
		m, err := OffsetFrom(p, func(e int) float64 { return d[e] })
		if err != nil {
			t.Fatal(err)
		}
		// Inscribed in what must be contained, circumscribed about what contains.
		out := library(t, m.Path.FlattenOut(coarse))
		slack := 1e-6 * p.Length()
		if !m.Exact {
			slack = unionSlack * p.Length()
		}
		if both, err := sf.Union(library(t, p.FlattenIn(coarse)), out); err != nil {
			skipped++ // it says that it may fail on lines that are nearly the same
		} else if both.Validate() != nil || math.Abs(both.Area()-out.Area()) > slack {
			differ++
			t.Errorf("the union with the offset has %v, the offset %v mm²: %v by %v", both.Area(), out.Area(), p, d)
		}
		e := r.IntN(len(p))
		if p.isCornerArc(e) {
			continue
		}
		strips++
		if left := stripLeft(t, p.Segment(e), d[e], out); left > slack {
			differ++
			t.Errorf("%v mm² of the strip of edge %d are left: %v by %v", left, e, p, d)
		}
	}
	t.Logf("1000 outlines and %d strips, %d differ; %d unions that the library could not form", strips, differ, skipped)
	if skipped > 20 {
		t.Errorf("%d unions were not checked", skipped)
	}
	// Planted errors must be caught: an arc taken for its chord, a strip that is
	// a twentieth of a millimetre too wide.
	p := Path{V(0, 0, 0.2), V(400, 0, 0), V(400, 300, 0), V(0, 300, 0)}
	if !areaDiffers(p, p.corners().Area(), library(t, p.Flatten(fine)), fine) {
		t.Error("the wrong area went unnoticed")
	}
	q, _ := Offset(p, func(int) float64 { return 20 })
	if left := stripLeft(t, p.Segment(1), 20.05, library(t, q.FlattenOut(1))); left < 1e-2 {
		t.Error("the wide strip went unnoticed")
	}
}

// areaDiffers allows for two thirds of tol along every edge, what chords take
// off an arc.
func areaDiffers(p Path, ours float64, g sf.Geometry, tol float64) bool {
	return math.Abs(g.Area()-ours) > tol*p.Length()
}

// stripLeft is how much of an edge's strip is left when a shape is taken away.
// The far side of a hollow edge may pass its centre; its strip is left out.
func stripLeft(t *testing.T, s Segment, d float64, shape sf.Geometry) float64 {
	if _, ok := curveOf(s).moved(d); !ok {
		return 0
	}
	a, b := s.A.Add(s.Normal(0).Mul(d)), s.B.Add(s.Normal(1).Mul(d))
	strip := Path{{s.A, 0}, {a, s.Bulge}, {b, 0}, {s.B, -s.Bulge}}
	rest, err := sf.Difference(library(t, strip.FlattenIn(1)), shape)
	if err != nil {
		t.Fatal(err)
	}
	return rest.Area()
}

// library hands a ring over without putting it on the grid.
func library(t *testing.T, g Polygon) sf.Geometry {
	t.Helper()
	xy := make([]float64, 0, 2*len(g)+2)
	for i := range len(g) + 1 {
		q := g[i%len(g)]
		xy = append(xy, q.X, q.Y)
	}
	poly := sf.NewPolygon([]sf.LineString{sf.NewLineString(sf.NewSequence(xy, sf.DimXY))})
	return poly.AsGeometry()
}

// TestValidityAgainstOtherLibrary: rings on a small grid, where touching and
// running back over oneself are common, are taken as simple by both or neither.
func TestValidityAgainstOtherLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 14))
	t.Logf("-seed %d", *seed)
	simple := 0
	for range 5000 {
		ring := make(Polygon, 3+r.IntN(6))
		for i := range ring {
			ring[i] = P(float64(r.IntN(12)), float64(r.IntN(12)))
		}
		if ring.Area() < 0 {
			ring = ring.Reverse()
		}
		f := ring.Validate()
		if f != nil && f.Code == CodeDouble {
			continue // the library overlooks a point given twice
		}
		if err := library(t, ring).Validate(); (err == nil) != (f == nil) {
			t.Errorf("the library says %v, we say %v: %v", err, f, ring)
		}
		if f == nil {
			simple++
		}
	}
	if simple < 500 {
		t.Errorf("only %d of the rings were simple", simple)
	}
}

// TestHullAgainstOtherLibrary compares convex hulls, and Convex with them.
func TestHullAgainstOtherLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 15))
	for range 300 {
		g := randomStar(r).Flatten(1)
		hull, want := g.ConvexHull(), library(t, g).ConvexHull()
		near(t, "area of the hull", hull.Area(), want.Area(), 1e-6)
		if !hull.Convex() || hull.Validate() != nil {
			t.Errorf("the hull of %v is %v", g, hull)
		}
		if g.Convex() != (math.Abs(g.Area()-hull.Area()) < 1e-9) {
			t.Errorf("convex %v, area %v, hull %v: %v", g.Convex(), g.Area(), hull.Area(), g)
		}
		c, ok := library(t, g).Centroid().XY()
		if got := g.Centroid(); !ok || got.Dist(P(c.X, c.Y)) > 1e-6 {
			t.Errorf("centroid: got %v, want %v", got, c)
		}
	}
}

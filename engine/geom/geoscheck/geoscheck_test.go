//go:build cgo

// Package geoscheck holds the shapes of package geom against GEOS, the C++
// geometry library of the Open Source Geospatial Foundation. It has tests only,
// so that nobody needs libgeos to build the program; `dev start` installs it
// for `dev test`.
package geoscheck

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"github.com/peterstace/simplefeatures/geos"

	"slipseat/engine/geom"
)

var seed = flag.Uint64("seed", 1, "seed of the random shapes")

// fine is the chord error in millimetres of what is handed over.
const fine = 0.005

func handOver(g geom.Polygon) sf.Geometry {
	xy := make([]float64, 0, 2*len(g)+2)
	for i := range len(g) + 1 {
		q := g[i%len(g)]
		xy = append(xy, q.X, q.Y)
	}
	return sf.NewPolygon([]sf.LineString{sf.NewLineString(sf.NewSequence(xy, sf.DimXY))}).AsGeometry()
}

// mitred is GEOS's own offset with mitred corners, limit 2.
func mitred(t *testing.T, g geom.Polygon, d float64) sf.Geometry {
	t.Helper()
	out, err := geos.Buffer(handOver(g), d, geos.BufferJoinStyleMitre(geom.MitreLimit))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// apart is the area by which a path and a shape of GEOS differ.
func apart(t *testing.T, p geom.Path, g sf.Geometry) float64 {
	t.Helper()
	diff, err := geos.SymmetricDifference(handOver(p.Flatten(fine)), g)
	if err != nil {
		t.Fatal(err)
	}
	return diff.Area()
}

// board is a random shape of straight edges with sharp or rounded corners, now
// and then with a notch or pointed: what a mitred buffer does exactly.
func board(r *rand.Rand) geom.Path {
	for {
		wf, wb, d := 200+400*r.Float64(), 200+400*r.Float64(), 200+400*r.Float64()
		p := geom.Path{geom.V(-wf/2, 0, 0), geom.V(wf/2, 40*r.Float64(), 0), geom.V(wb/2, d, 0), geom.V(-wb/2, d+80*r.Float64(), 0)}
		switch r.IntN(4) {
		case 0:
			w, h := 60+40*r.Float64(), 60+40*r.Float64()
			p = append(append(p[:2:2], geom.V(wb/2, d-h, 0), geom.V(wb/2-w, d-h, 0), geom.V(wb/2-w, d, 0)), p[3])
		case 1:
			p = append(p[:3:3], geom.V(-wf/2-300*r.Float64(), d/2, 0)) // a point
		}
		if p.Validate() != nil {
			continue
		}
		for i := len(p) - 1; i >= 0; i-- {
			if r.IntN(2) == 0 {
				if q, f := p.Fillet(i, 30+40*r.Float64()); f == nil && q.Validate() == nil {
					p = q
				}
			}
		}
		return p
	}
}

// TestOffsetAgainstGEOS compares equal offsets out and in of 300 shapes.
func TestOffsetAgainstGEOS(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 1))
	t.Logf("-seed %d", *seed)
	differ, refused := 0, 0
	for range 300 {
		p := board(r)
		if a := handOver(p.Flatten(fine)).Area(); math.Abs(a-p.Area()) > fine*p.Length() {
			t.Errorf("area %v, GEOS says %v", p.Area(), a)
		}
		for _, d := range []float64{3 + 25*r.Float64(), -2 - 20*r.Float64()} {
			q, err := geom.Offset(p, func(int) float64 { return d })
			if err != nil {
				refused++
				continue
			}
			if a := apart(t, q, mitred(t, p.Flatten(fine), d)); a > allowed(q) {
				differ++
				t.Errorf("%.3f mm² apart, %.3f allowed: %v by %v", a, allowed(q), p, d)
			}
		}
	}
	t.Logf("600 offsets, %d differ, %d refused", differ, refused)
	if refused > 0 {
		t.Errorf("%d offsets were refused", refused)
	}
	// A planted error must be caught: a twentieth of a millimetre more.
	p := board(r)
	q, _ := geom.Offset(p, func(int) float64 { return 10.05 })
	if apart(t, q, mitred(t, p.Flatten(fine), 10)) <= allowed(q) {
		t.Error("the planted error went unnoticed")
	}
}

// allowed is the area that chords of both sides may take off along the edge.
func allowed(q geom.Path) float64 { return 2 * fine * q.Length() }

// TestOvalAgainstGEOS: an ellipse as arcs against one as a ring of many points.
func TestOvalAgainstGEOS(t *testing.T) {
	for _, ab := range [][2]float64{{200, 150}, {150, 220}, {300, 90}} {
		p := geom.Ellipse(geom.P(0, 0), ab[0], ab[1], 0.02)
		var ring geom.Polygon
		for i := range 4000 {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / 4000)
			ring = append(ring, geom.P(ab[0]*cos, ab[1]*sin))
		}
		if a := apart(t, p, handOver(ring)); a > (0.02+fine)*p.Length() {
			t.Errorf("half axes %v: %.3f mm² apart", ab, a)
		}
	}
}

package board

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"slipseat/engine/geom"
)

var seed = flag.Uint64("seed", 5, "seed of the random trials")

func near(a, b geom.Pt, tol float64) bool { return a.Dist(b) <= tol }

// Laws of the map: there and back is the same point; zooming keeps the point
// under the pointer; two zooms in turn are one; fitting shows the whole box.
func TestViewportLaws(t *testing.T) {
	t.Logf("seed %d", *seed)
	r := rand.New(rand.NewPCG(*seed, 1))
	span := func(lo, hi float64) float64 { return lo + r.Float64()*(hi-lo) }
	for range 2000 {
		v := Viewport{Scale: math.Exp(span(math.Log(0.05), math.Log(50))), X: span(-2000, 2000), Y: span(-2000, 2000)}
		p := geom.P(span(-3000, 3000), span(-3000, 3000))
		x, y := v.At(p)
		if back := v.Model(x, y); !near(back, p, 1e-6) {
			t.Fatalf("%v: %v went to %v,%v and came back as %v", v, p, x, y, back)
		}
		mx, my := span(0, 1200), span(0, 800)
		under := v.Model(mx, my)
		f, g := math.Exp(span(-1, 1)), math.Exp(span(-1, 1))
		z := v.ZoomAt(mx, my, f)
		if got := z.Model(mx, my); !near(got, under, 1e-6*(1+under.Len())) {
			t.Fatalf("zoom by %v moved the point under the pointer from %v to %v", f, under, got)
		}
		two := z.ZoomAt(mx, my, g)
		if one := v.ZoomAt(mx, my, f*g); two.Scale > minScale && two.Scale < maxScale && z.Scale > minScale && z.Scale < maxScale &&
			(math.Abs(one.Scale/two.Scale-1) > 1e-9 || math.Abs(one.X-two.X) > 1e-3) {
			t.Fatalf("two zooms %v, one %v", two, one)
		}
		box := geom.Rect{Min: geom.P(span(-500, 0), span(-500, 0)), Max: geom.P(span(1, 1500), span(1, 1500))}
		m := Margins{span(0, 60), span(0, 60), span(0, 60), span(0, 60)}
		w, h := span(200, 2000), span(200, 1200)
		fit := Fit(box, w, h, m)
		x0, y1 := fit.At(box.Min)
		x1, y0 := fit.At(box.Max)
		const eps = 1e-6
		if x0 < m.Left-eps || y0 < m.Top-eps || x1 > w-m.Right+eps || y1 > h-m.Bottom+eps {
			t.Fatalf("fit leaves the box at %v,%v to %v,%v in %v×%v with margins %v", x0, y0, x1, y1, w, h, m)
		}
		if wide, high := (x1-x0)/(w-m.Left-m.Right), (y1-y0)/(h-m.Top-m.Bottom); math.Max(wide, high) < 1-eps {
			t.Fatalf("fit fills only %v and %v of the room", wide, high)
		}
	}
}

func TestViewportNeverLosesTheDrawing(t *testing.T) {
	box := geom.Rect{Max: geom.P(400, 300)}
	for _, d := range [][2]float64{{1e6, 0}, {-1e6, 0}, {0, 1e6}, {0, -1e6}, {-1e6, 1e6}} {
		v := Fit(box, 800, 600, Margins{}).Pan(d[0], d[1]).KeepInSight(box, 800, 600)
		x0, y1 := v.At(box.Min)
		x1, y0 := v.At(box.Max)
		if x1 < 59 || x0 > 741 || y1 < 59 || y0 > 541 {
			t.Errorf("panned by %v the box is at %v,%v to %v,%v", d, x0, y0, x1, y1)
		}
	}
}

func TestViewportBadInput(t *testing.T) {
	nan := math.NaN()
	for _, v := range []Viewport{
		Fit(geom.Rect{}, 800, 600, Margins{}),
		Fit(geom.Rect{Max: geom.P(nan, nan)}, 800, 600, Margins{}),
		Fit(geom.Rect{Max: geom.P(400, 300)}, 0, 0, Margins{64, 48, 64, 48}),
		Viewport{Scale: 1}.ZoomAt(10, 10, nan),
		Viewport{Scale: 1}.ZoomAt(10, 10, 0),
		Viewport{Scale: 1}.ZoomAt(10, 10, 1e12),
	} {
		if !(v.Scale >= minScale && v.Scale <= maxScale) {
			t.Errorf("scale %v is out of bounds", v.Scale)
		}
	}
}

func TestGridStep(t *testing.T) {
	inches := []float64{25.4 / 4, 25.4, 25.4 * 6, 25.4 * 12}
	for _, c := range []struct {
		scale        float64
		fine, coarse float64
	}{
		{1, 25.4, 25.4 * 6},
		{4, 25.4 / 4, 25.4},
		{0.2, 25.4 * 6, 25.4 * 12},
		{0.01, 0, 0}, // no step is wide enough
	} {
		if f, g := gridStep(inches, c.scale, 20); f != c.fine || g != c.coarse {
			t.Errorf("scale %v: got %v and %v, want %v and %v", c.scale, f, g, c.fine, c.coarse)
		}
	}
}

package raster

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"sync"
	"testing"
	"time"

	"slipseat/engine/drawing"
	"slipseat/engine/geom"
)

// TestMetricsAgreeWithTheFont holds measured text against the font file's own
// figures, read from its tables hmtx and OS/2 (sCapHeight) by hand:
// Inter has 2,048 units to the em; H advances 1,522 (regular) and is 1,490 high.
func TestMetricsAgreeWithTheFont(t *testing.T) {
	m := Metrics{}
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 1e-6 {
			t.Errorf("%s: got %v, want %v", what, got, want)
		}
	}
	near("H", m.Width("H", 2048, drawing.Regular), 1522)
	near("height of H", m.CapHeight(2048, drawing.Regular), 1490)
	near("sum", m.Width("HH½", 10, drawing.Bold), 2*m.Width("H", 10, drawing.Bold)+m.Width("½", 10, drawing.Bold))
	near("nothing", m.Width("", 10, drawing.Bold), 0)
	if m.Width("W", 10, drawing.Bold) <= m.Width("W", 10, drawing.Regular) {
		t.Error("semi-bold should be wider")
	}
	// What our labels are made of is all in the typeface: no empty box.
	box := typefaceOf(drawing.Regular).font.Index('\uE000')
	for _, r := range "0123456789½¼¾⅛⅜⅝⅞⁄⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉×−–…“”‹›·→←↑↓°äöüßéñøåŁčΩЖ" {
		for _, w := range []drawing.Weight{drawing.Regular, drawing.Bold} {
			if typefaceOf(w).font.Index(r) == box {
				t.Errorf("%q is not in weight %d", r, w)
			}
		}
	}
}

func TestFitAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 500 {
		b := geom.Rect{Min: geom.P(r.Float64()*500-250, r.Float64()*500)}
		b.Max = b.Min.Add(geom.P(1+r.Float64()*2000, 1+r.Float64()*2000))
		tr := Fit(b, 800, 600, 20, drawing.PxPerPaper)
		for _, c := range []geom.Pt{b.Min, b.Max, {X: b.Min.X, Y: b.Max.Y}} {
			x, y := tr.Px(c)
			if x < 20-1e-6 || x > 780+1e-6 || y < 20-1e-6 || y > 580+1e-6 {
				t.Fatalf("%v lies at %.1f, %.1f", c, x, y)
			}
			if q := tr.Model(x, y); q.Dist(c) > 1e-6 {
				t.Fatalf("%v came back as %v", c, q)
			}
		}
	}
	if tr := Fit(geom.Rect{}, 100, 100, 10, 1); tr.Scale != 1 {
		t.Errorf("nothing is shown at %v", tr.Scale)
	}
}

func ink(img *image.RGBA, x, y int, c color.NRGBA) bool {
	p := img.RGBAAt(x, y)
	d := func(a, b uint8) bool { return int(a)-int(b) <= 3 && int(b)-int(a) <= 3 }
	return d(p.R, c.R) && d(p.G, c.G) && d(p.B, c.B)
}

// TestTheRightPixels: y runs upwards, fills reach their edges and not further,
// a bulge goes to the right-hand side.
func TestTheRightPixels(t *testing.T) {
	p := drawing.Light()
	img := image.NewRGBA(image.Rect(0, 0, 200, 100))
	Clear(img, drawing.Paper, p)
	half := geom.Path{{Pt: geom.P(120, 50), Bulge: -1}, {Pt: geom.P(180, 50)}} // clockwise: over the chord
	Render(img, drawing.Drawing{Items: []drawing.Item{
		drawing.Shape{Path: geom.Box(10, 10, 60, 30), Fill: drawing.Cut},
		drawing.Shape{Path: half, Fill: drawing.Action},
		drawing.Mark{Kind: drawing.Disc, At: geom.P(20, 90), Size: 8, Fill: drawing.Ink},
		drawing.Arrow{From: geom.P(60, 90), To: geom.P(100, 90), Role: drawing.Ink, Width: 3, Head: 8, HeadTo: true, Filled: true},
	}}, Transform{Scale: 1, Y: 100, Paper: 1}, p)
	for _, c := range []struct {
		x, y int
		role drawing.Role
	}{
		{12, 88, drawing.Cut}, {58, 72, drawing.Cut}, {12, 92, drawing.Paper}, {62, 75, drawing.Paper}, {12, 68, drawing.Paper},
		{150, 30, drawing.Action}, {150, 60, drawing.Paper}, {122, 30, drawing.Paper},
		{20, 10, drawing.Ink}, {20, 3, drawing.Paper}, {70, 10, drawing.Ink}, {96, 10, drawing.Ink}, {103, 10, drawing.Paper},
	} {
		if !ink(img, c.x, c.y, p.Color(c.role)) {
			t.Errorf("pixel %d, %d is %v, want %v", c.x, c.y, img.RGBAAt(c.x, c.y), c.role)
		}
	}
}

// TestPartOfAnImage: a drawing stays inside the window it is given.
func TestPartOfAnImage(t *testing.T) {
	p := drawing.Light()
	big := image.NewRGBA(image.Rect(0, 0, 100, 100))
	part := big.SubImage(image.Rect(40, 40, 60, 60)).(*image.RGBA)
	Render(part, drawing.Drawing{Items: []drawing.Item{
		drawing.Shape{Path: geom.Box(-500, -500, 500, 500), Fill: drawing.Cut, Stroke: drawing.Ink, Width: 3},
		drawing.Text{S: "HHHHHHHH", At: geom.P(50, 50), Size: 12, Anchor: drawing.MidCentre, Role: drawing.Ink},
	}}, Transform{Scale: 1, Y: 100, Paper: 1}, p)
	for y := range 100 {
		for x := range 100 {
			inside := x >= 40 && x < 60 && y >= 40 && y < 60
			if painted := big.RGBAAt(x, y).A != 0; painted != inside {
				t.Fatalf("pixel %d, %d: painted %v", x, y, painted)
			}
		}
	}
	if !ink(big, 41, 41, p.Color(drawing.Cut)) {
		t.Error("the part was not filled")
	}
}

// TestBadNumbersAndDeepZoom: what is not finite is left out, and a zoom far
// into dashed and hatched shapes does not take longer than a frame may.
func TestBadNumbersAndDeepZoom(t *testing.T) {
	p := drawing.Light()
	img := image.NewRGBA(image.Rect(0, 0, 400, 300))
	nan, inf := math.NaN(), math.Inf(1)
	for _, v := range []float64{nan, inf, -inf, 1e300, 0} {
		d := drawing.Drawing{Items: []drawing.Item{
			drawing.Shape{Path: geom.Path{{Pt: geom.P(v, 0)}, {Pt: geom.P(10, v), Bulge: v}, {Pt: geom.P(0, 10)}}, Fill: drawing.Cut, Stroke: drawing.Ink, Width: 1, Line: drawing.DashDot, Hatch: drawing.Crossed},
			drawing.Text{S: "x", At: geom.P(v, 1), Size: 3, Role: drawing.Ink}, drawing.Text{S: "x", Size: v, Role: drawing.Ink}, drawing.Text{S: "x", Turned: v, Size: 3, Role: drawing.Ink, Plate: drawing.Cut},
			drawing.Arrow{From: geom.P(v, v), To: geom.P(1, 1), Head: 1, HeadTo: true, Role: drawing.Ink, Width: 1},
			drawing.Mark{At: geom.P(v, v), Size: v, Fill: drawing.Ink}, drawing.Shape{Path: nil, Fill: drawing.Cut}, drawing.Shape{Path: geom.Path{{}}, Stroke: drawing.Ink, Width: 1},
		}}
		for _, s := range []float64{v, 1} {
			Render(img, d, Transform{Scale: s, X: v, Y: v, Paper: 3.78}, p)
			Render(img, d, Transform{Scale: s, X: 10, Y: 200, Paper: s}, p)
		}
	}
	d := scene()
	d.Add(drawing.Shape{Path: geom.Box(0, 0, 1200, 800), Stroke: drawing.Ink, Width: 1, Line: drawing.Dot, Hatch: drawing.Crossed})
	for _, zoom := range []float64{100, 1e4, 1e6} {
		start := time.Now()
		Render(img, d, Transform{Scale: zoom, X: -600 * zoom, Y: 400 * zoom, Paper: 3.78}, p)
		if took := time.Since(start); took > time.Second {
			t.Errorf("zoom %g took %v", zoom, took)
		}
	}
}

// TestSeveralGoroutines paints the same picture at once in several goroutines.
func TestSeveralGoroutines(t *testing.T) {
	d, p := scene(), drawing.Dark()
	draw := func() []uint8 {
		img := image.NewRGBA(image.Rect(0, 0, 300, 200))
		Render(img, d, Transform{Scale: 0.25, Y: 200, Paper: 1}, p)
		return img.Pix
	}
	want := draw()
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for range 5 {
				got := draw()
				for i := range got {
					if got[i] != want[i] {
						t.Errorf("byte %d differs", i)
						return
					}
				}
			}
		})
	}
	wg.Wait()
}

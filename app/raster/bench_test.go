package raster

import (
	"image"
	"math"
	"testing"

	"slipseat/engine/drawing"
	"slipseat/engine/geom"
)

// scene is the drawing that the speed of a frame is measured on: 60 polygons
// of 80 corners, each with a number and a size, a hatch and a dashed outline.
func scene() drawing.Drawing {
	d := drawing.Drawing{Bounds: geom.Rect{Max: geom.P(1200, 800)}}
	for i := range 60 {
		cx, cy := 60+float64(i%10)*120, 66+float64(i/10)*133
		var p geom.Path
		for k := range 80 {
			a := 2 * math.Pi * float64(k) / 80
			r := 50 + 6*math.Sin(5*a)
			p = append(p, geom.Vertex{Pt: geom.P(cx+r*math.Cos(a), cy+r*math.Sin(a))})
		}
		s := drawing.Shape{Path: p, Fill: drawing.Tint(i), Stroke: drawing.CoverLine, Width: drawing.Medium}
		switch i % 6 {
		case 0:
			s.Line = drawing.DashDot
		case 1:
			s.Hatch = drawing.Rising
		}
		d.Add(s,
			drawing.Text{S: "A12", At: geom.P(cx, cy), Off: geom.P(0, 1), Size: drawing.Large, Weight: drawing.Bold, Anchor: drawing.MidCentre, Role: drawing.Ink},
			drawing.Text{S: "24½ × 23¼", At: geom.P(cx, cy), Off: geom.P(0, -4), Size: drawing.Small, Anchor: drawing.MidCentre, Role: drawing.Ink})
	}
	return d
}

// BenchmarkFrame draws 60 polygons with 4,800 corners at 1200 by 800 pixels.
func BenchmarkFrame(b *testing.B) {
	d := scene()
	img := image.NewRGBA(image.Rect(0, 0, 1200, 800))
	tr := Transform{Scale: 1, Y: 800, Paper: drawing.PxPerPaper}
	pal := drawing.Light()
	b.ReportAllocs()
	for b.Loop() {
		Clear(img, drawing.Paper, pal)
		Render(img, d, tr, pal)
	}
}

package stages

import (
	"image"

	"slipseat/app/raster"
	"slipseat/engine/cloth"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// swatchView is the width of cloth that a swatch shows.
const swatchView = 16 * unit.In

// Swatch is the picture of a cloth's card: its tint, and its motifs at their
// true distances from one another.
func Swatch(c cloth.Cloth, tint drawing.Role) kit.Picture {
	return func(w, h int) image.Image {
		img := image.NewRGBA(image.Rect(0, 0, w, h))
		side := swatchView.MM()
		d := drawing.Drawing{Items: []drawing.Item{drawing.Shape{Path: geom.Box(0, 0, side, side), Fill: tint, Stroke: drawing.Selvedge, Width: 0.3}}}
		p := c.Pattern
		along, across := p.Along.MM(), p.Across.MM()
		switch {
		case along > 0 && across > 0:
			for i := -1; float64(i)*along < side*2; i++ {
				for j := 0; float64(j)*across < side; j++ {
					y := (0.5+float64(i)+p.Drop*float64(j))*along - along*float64(int(p.Drop*float64(j)))
					x := (0.5 + float64(j)) * across
					if y > side*0.08 && y < side*0.92 && x > side*0.08 && x < side*0.92 {
						d.Add(sprig(geom.P(x, y), min(along, across, side*0.5)*0.3)...)
					}
				}
			}
		case along > 0 || across > 0:
			for v := (along + across) / 2; v < side; v += along + across {
				a, b := geom.P(0, v), geom.P(side, v)
				if across > 0 {
					a, b = geom.P(v, 0), geom.P(v, side)
				}
				d.Add(drawing.Arrow{From: a, To: b, Role: drawing.Motif, Width: 0.35})
			}
		}
		raster.Render(img, d, swatchTransform(side, w, h), palette())
		roundOff(img, float64(w)/9)
		return img
	}
}

// sprig is a small plant, drawn upright.
func sprig(at geom.Pt, size float64) []drawing.Item {
	line := func(x0, y0, x1, y1 float64) drawing.Item {
		return drawing.Arrow{From: at.Add(geom.P(x0, y0).Mul(size)), To: at.Add(geom.P(x1, y1).Mul(size)), Role: drawing.Motif, Width: 0.3}
	}
	return []drawing.Item{line(0, -0.9, 0, 0.9), line(0, -0.2, -0.7, 0.25), line(0, -0.2, 0.7, 0.25), line(0, 0.35, -0.5, 0.75), line(0, 0.35, 0.5, 0.75)}
}

// FoamSwatch is the picture of a foam's card: a block seen from its corner.
func FoamSwatch(tint drawing.Role) kit.Picture {
	return func(w, h int) image.Image {
		img := image.NewRGBA(image.Rect(0, 0, w, h))
		const side = 100.0
		face := func(fill float64, pts ...geom.Pt) drawing.Item {
			return drawing.Shape{Path: geom.Polygon(pts).Path(), Fill: tint, Through: fill, Stroke: drawing.FoamLine, Width: 0.3}
		}
		d := drawing.Drawing{Items: []drawing.Item{
			face(0, geom.P(8, 40), geom.P(62, 40), geom.P(92, 66), geom.P(38, 66)),
			face(0.25, geom.P(8, 24), geom.P(62, 24), geom.P(62, 40), geom.P(8, 40)),
			face(0.45, geom.P(62, 24), geom.P(92, 50), geom.P(92, 66), geom.P(62, 40)),
		}}
		raster.Render(img, d, swatchTransform(side, w, h), palette())
		return img
	}
}

func swatchTransform(side float64, w, h int) raster.Transform {
	px := float64(min(w, h)) / side
	return raster.Transform{Scale: px, X: (float64(w) - side*px) / 2, Y: float64(h) - (float64(h)-side*px)/2, Paper: drawing.PxPerPaper * float64(w) / 44}
}

// roundOff makes the corners of a picture clear.
func roundOff(img *image.RGBA, r float64) { kit.RoundCorners(img, r) }

package seatview

import (
	"image"
	"image/color"
	"math"

	"slipseat/engine/geom"
)

// View places the seat's frame in a picture seen from above: the model's
// origin lies at pixel (X, Y), and y runs upwards.
type View struct {
	Scale float64 // pixels for a millimetre
	X, Y  float64
}

func (v View) model(px, py float64) geom.Pt {
	return geom.P((px-v.X)/v.Scale, (v.Y-py)/v.Scale)
}

// Above paints the seat into dst as seen from straight above, over what is
// there: the cover on the flat top exactly as it lies on the roll, the edge
// rounded and shaded.
func (p *Pad) Above(dst *image.RGBA, v View, c Cloth) {
	box := p.Bounds().Grow(2 / v.Scale)
	part := image.Rect(int(math.Floor(v.X+box.Min.X*v.Scale)), int(math.Floor(v.Y-box.Max.Y*v.Scale)),
		int(math.Ceil(v.X+box.Max.X*v.Scale)), int(math.Ceil(v.Y-box.Min.Y*v.Scale))).Intersect(dst.Bounds())
	mm := 1 / v.Scale
	inner := p.inner()
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			q := v.model(float64(x)+0.5, float64(y)+0.5)
			if inner.Contains(q) { // well inside: nothing to shade
				dst.SetRGBA(x, y, c.at(p.blank(q), mm))
				continue
			}
			on, normal, inside := p.above(q)
			cover := min(1, max(0, inside*v.Scale+0.5))
			if cover == 0 {
				continue
			}
			col := shade(c.at(on, mm), normal)
			over(dst, x, y, col, cover)
		}
	}
}

// inner is a box well inside of the flat top, in which nothing needs to be
// looked at closely.
func (p *Pad) inner() geom.Rect {
	b := p.flat.Bounds()
	for k := 1.0; k > 0.2; k -= 0.05 {
		c := b.Center()
		half := geom.P(b.W()/2*k, b.H()/2*k)
		r := geom.Rect{Min: c.Sub(half), Max: c.Add(half)}
		if p.holds(r) {
			return r
		}
	}
	return geom.Rect{Min: geom.P(1, 1), Max: geom.P(0, 0)}
}

func (p *Pad) holds(r geom.Rect) bool {
	ring := geom.Polygon{r.Min, geom.P(r.Max.X, r.Min.Y), r.Max, geom.P(r.Min.X, r.Max.Y)}
	for _, q := range ring {
		if !p.flat.Contains(q) {
			return false
		}
	}
	for _, q := range p.flat {
		if q.X > r.Min.X && q.X < r.Max.X && q.Y > r.Min.Y && q.Y < r.Max.Y {
			return false
		}
	}
	return true
}

// over paints a colour over a pixel, covering so much of it.
func over(dst *image.RGBA, x, y int, c color.RGBA, cover float64) {
	if cover >= 1 {
		dst.SetRGBA(x, y, c)
		return
	}
	was := dst.RGBAAt(x, y)
	mix := func(a, b uint8) uint8 { return uint8(math.Round(float64(a) + (float64(b)-float64(a))*cover)) }
	dst.SetRGBA(x, y, color.RGBA{R: mix(was.R, c.R), G: mix(was.G, c.G), B: mix(was.B, c.B), A: max(was.A, uint8(255*cover))})
}

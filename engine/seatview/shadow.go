package seatview

import (
	"image"
	"image/color"

	"slipseat/engine/geom"
)

const (
	shadowDepth = 0.34 // how much light the shadow takes away
	shadowBlur  = 0.012
)

// shadow darkens the ground under and beside the seat.
func (p *Pad) shadow(dst *image.RGBA, cam Camera) {
	b := dst.Bounds()
	w, h := b.Dx(), b.Dy()
	// The seat's edge, moved by the light as far as half its height throws it.
	ring := make(geom.Polygon, 0, len(p.rim))
	throw := geom.P(-light[0], -light[1]).Mul(0.5 * p.high() / light[2])
	for _, s := range p.rim {
		q := s.at.Add(s.out.Mul(p.reach())).Add(throw)
		x, y, _ := cam.Project([3]float64{q.X, q.Y, 0})
		ring = append(ring, geom.P(x, y))
	}
	mask := make([]float32, w*h)
	spans(ring, w, h, func(y, x0, x1 int) {
		for x := x0; x < x1; x++ {
			mask[y*w+x] = 1
		}
	})
	r := max(1, int(shadowBlur*float64(max(w, h))))
	for range 3 { // three boxes are nearly a bell
		mask = blurred(mask, w, h, r)
	}
	for y := range h {
		for x := range w {
			if m := mask[y*w+x]; m > 0.002 {
				c := dst.RGBAAt(b.Min.X+x, b.Min.Y+y)
				k := 1 - shadowDepth*float64(m)
				dst.SetRGBA(b.Min.X+x, b.Min.Y+y, color.RGBA{R: uint8(float64(c.R) * k), G: uint8(float64(c.G) * k), B: uint8(float64(c.B) * k), A: c.A})
			}
		}
	}
}

// blurred is the mean over squares of 2r+1 pixels.
func blurred(in []float32, w, h, r int) []float32 {
	mid, out := make([]float32, w*h), make([]float32, w*h)
	line := func(src, dst []float32, from, stride, n int) {
		var sum float32
		at := func(i int) float32 {
			if i < 0 || i >= n {
				return 0
			}
			return src[from+i*stride]
		}
		for i := -r; i <= r; i++ {
			sum += at(i)
		}
		for i := range n {
			dst[from+i*stride] = sum / float32(2*r+1)
			sum += at(i+r+1) - at(i-r)
		}
	}
	for y := range h {
		line(in, mid, y*w, 1, w)
	}
	for x := range w {
		line(mid, out, x, w, h)
	}
	return out
}

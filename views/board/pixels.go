package board

import (
	"image"
	"image/color"
	"math"
)

// fill sets every pixel.
func fill(img *image.RGBA, c color.RGBA) {
	if len(img.Pix) < 4 {
		return
	}
	img.Pix[0], img.Pix[1], img.Pix[2], img.Pix[3] = c.R, c.G, c.B, c.A
	for n := 4; n < len(img.Pix); n *= 2 {
		copy(img.Pix[n:], img.Pix[:n])
	}
}

// paintGrid draws the lines of one step, one pixel thick, opaque.
func paintGrid(img *image.RGBA, f Frame, step float64, c color.RGBA) {
	gap := step * f.Scale
	if step <= 0 || gap < 4 {
		return
	}
	w, h := img.Rect.Dx(), img.Rect.Dy()
	for i := math.Ceil(-f.X / gap); ; i++ {
		x := int(math.Round(f.X + i*gap))
		if x >= w {
			break
		}
		if x < 0 {
			continue
		}
		for y := range h {
			put(img, x, y, c)
		}
	}
	for i := math.Ceil(-f.Y / gap); ; i++ {
		y := int(math.Round(f.Y + i*gap))
		if y >= h {
			break
		}
		if y < 0 {
			continue
		}
		for x := range w {
			put(img, x, y, c)
		}
	}
}

func put(img *image.RGBA, x, y int, c color.RGBA) {
	i := y*img.Stride + x*4
	p := img.Pix[i : i+4 : i+4]
	p[0], p[1], p[2], p[3] = c.R, c.G, c.B, c.A
}

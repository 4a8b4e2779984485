package kit

import (
	"image"
	"image/color"
	"math"
)

// RoundCorners makes the corners of a picture clear, so that it fits a sheet
// with rounded ones.
func RoundCorners(img *image.RGBA, r float64) {
	corners(img, r, func(x, y int, d float64) {
		if d < 1 {
			fade(img, x, y, math.Max(d, 0))
		}
	})
}

// Rim draws a border of a thickness around a picture with rounded corners and
// makes clear what lies outside.
func Rim(img *image.RGBA, r, thick float64, c color.Color) {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	n := int(math.Ceil(r))
	t := max(1, int(math.Round(thick)))
	cr, cg, cb, _ := c.RGBA()
	line := color.RGBA{uint8(cr >> 8), uint8(cg >> 8), uint8(cb >> 8), 0xff}
	for k := range t {
		for x := n; x < w-n; x++ {
			img.SetRGBA(x, k, line)
			img.SetRGBA(x, h-1-k, line)
		}
		for y := n; y < h-n; y++ {
			img.SetRGBA(k, y, line)
			img.SetRGBA(w-1-k, y, line)
		}
	}
	corners(img, r, func(x, y int, d float64) {
		// d counts pixels inwards from the edge of the rounded corner.
		if cover := math.Min(math.Max(float64(t)+1-d, 0), 1); cover > 0 {
			old := img.RGBAAt(x, y)
			mix := func(a, b uint8) uint8 { return uint8(float64(a)*(1-cover) + float64(b)*cover) }
			img.SetRGBA(x, y, color.RGBA{mix(old.R, line.R), mix(old.G, line.G), mix(old.B, line.B), 0xff})
		}
		if d < 1 {
			fade(img, x, y, math.Max(d, 0))
		}
	})
}

// corners calls f for every pixel of the four corner squares with how far it
// lies inside the rounded corner, 1 for a pixel that is wholly inside.
func corners(img *image.RGBA, r float64, f func(x, y int, d float64)) {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	n := int(math.Ceil(r))
	if n*2 > w || n*2 > h {
		return
	}
	for y := range n {
		for x := range n {
			d := r - math.Hypot(r-float64(x)-0.5, r-float64(y)-0.5) + 0.5
			f(x, y, d)
			f(w-1-x, y, d)
			f(x, h-1-y, d)
			f(w-1-x, h-1-y, d)
		}
	}
}

func fade(img *image.RGBA, x, y int, share float64) {
	i := img.PixOffset(img.Rect.Min.X+x, img.Rect.Min.Y+y)
	for k := range 4 {
		img.Pix[i+k] = uint8(float64(img.Pix[i+k]) * share)
	}
}

package kit

import (
	"image"
	"math"
)

// RoundCorners makes the corners of a picture clear, so that it fits a sheet
// with rounded ones.
func RoundCorners(img *image.RGBA, r float64) {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	n := int(math.Ceil(r))
	if n*2 > w || n*2 > h {
		return
	}
	for y := range n {
		for x := range n {
			d := r - math.Hypot(r-float64(x)-0.5, r-float64(y)-0.5) + 0.5
			if d >= 1 {
				continue
			}
			d = math.Max(d, 0)
			for _, at := range [4][2]int{{x, y}, {w - 1 - x, y}, {x, h - 1 - y}, {w - 1 - x, h - 1 - y}} {
				i := at[1]*img.Stride + at[0]*4
				for k := range 4 {
					img.Pix[i+k] = uint8(float64(img.Pix[i+k]) * d)
				}
			}
		}
	}
}

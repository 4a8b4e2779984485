package separate

import "math"

// rasterSteps is the number of raster squares along one side of a table's cell
// in which overlap areas are counted.
const rasterSteps = 1

// raster is how much of each square of a grid a polygon covers, 0 to 1.
type raster struct {
	nx, ny int
	cover  []float64
}

// newRaster covers the polygon's box with squares of sx by sy, starting at
// (x0, y0). Each row of squares is the mean of a few scan lines, on which the
// covered lengths are exact.
func newRaster(p ipoly, x0, y0, sx, sy float64, nx, ny int) raster {
	r := raster{nx, ny, make([]float64, nx*ny)}
	const lines = 4
	var cross []float64
	for row := range ny {
		for l := range lines {
			y := y0 + float64((float64(row)+(float64(l)+0.5)/lines)*sy)
			cross = cross[:0]
			for i, a := range p {
				b := p[(i+1)%len(p)]
				ay, by := float64(a.y), float64(b.y)
				if (ay > y) != (by > y) {
					cross = append(cross, float64(a.x)+float64(float64(b.x-a.x)*(y-ay)/(by-ay)))
				}
			}
			for i := 1; i < len(cross); i++ {
				for k := i; k > 0 && cross[k] < cross[k-1]; k-- {
					cross[k], cross[k-1] = cross[k-1], cross[k]
				}
			}
			for i := 0; i+1 < len(cross); i += 2 {
				u, v := (cross[i]-x0)/sx, (cross[i+1]-x0)/sx
				for c := max(0, int(u)); c < nx && float64(c) < v; c++ {
					if w := min(v, float64(c+1)) - max(u, float64(c)); w > 0 {
						r.cover[row*nx+c] += w / lines
					}
				}
			}
		}
	}
	return r
}

// overlapAreas gives the area that two shapes share at the corners of the
// table's cells, in square grid units, by counting raster squares.
func (t *table) overlapAreas(a, b *form) []float64 {
	const n = cornersPerSide
	sx, sy := 1/(t.kx*rasterSteps), 1/(t.ky*rasterSteps)
	ra := newRaster(a.poly, 0, 0, sx, sy, int(math.Ceil(a.w/sx)), int(math.Ceil(a.h/sy)))
	// b's squares are laid so that they fall on a's at every offset of a corner.
	ox, oy := -t.ox, -t.oy
	bx, by := int(math.Ceil(ox/sx)), int(math.Ceil(oy/sy))
	rb := newRaster(b.poly, ox-float64(float64(bx)*sx), oy-float64(float64(by)*sy), sx, sy, bx, by)
	out := make([]float64, n*n)
	for iy := range n {
		// square j of b lies on square j + shift of a
		ky := iy*rasterSteps - by
		for ix := range n {
			kx := ix*rasterSteps - bx
			sum := 0.0
			for j := max(0, -ky); j < by && j+ky < ra.ny; j++ {
				i0, i1 := max(0, -kx), min(bx, ra.nx-kx)
				if i0 >= i1 {
					break
				}
				ca := ra.cover[(j+ky)*ra.nx+i0+kx : (j+ky)*ra.nx+i1+kx]
				cb := rb.cover[j*bx+i0 : j*bx+i1]
				for i, v := range ca {
					sum += float64(v * cb[i])
				}
			}
			out[iy*n+ix] = sum * sx * sy
		}
	}
	return out
}

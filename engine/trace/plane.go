package trace

import (
	"context"
	"image"
	"math"
)

// plane is one channel of a picture.
type plane struct {
	w, h int
	v    []float32
}

func newPlane(w, h int) *plane { return &plane{w, h, make([]float32, w*h)} }

// at reads between pixels; the middle of pixel (0, 0) is (0.5, 0.5), and the
// rim is continued outwards.
func (p *plane) at(x, y float64) float32 {
	x, y = x-0.5, y-0.5
	x0, y0 := math.Floor(x), math.Floor(y)
	fx, fy := float32(x-x0), float32(y-y0)
	ix, iy := int(x0), int(y0)
	ax, bx := clampInt(ix, p.w), clampInt(ix+1, p.w)
	ay, by := clampInt(iy, p.h)*p.w, clampInt(iy+1, p.h)*p.w
	top := p.v[ay+ax]*(1-fx) + p.v[ay+bx]*fx
	low := p.v[by+ax]*(1-fx) + p.v[by+bx]*fx
	return top*(1-fy) + low*fy
}

func clampInt(i, n int) int { return max(0, min(i, n-1)) }

// blurred is the plane under a bell of the given spread in pixels.
func (p *plane) blurred(ctx context.Context, sigma float64) *plane {
	r := int(math.Ceil(3 * sigma))
	k := make([]float32, 2*r+1)
	var sum float32
	for i := range k {
		d := float64(i-r) / sigma
		k[i] = float32(math.Exp(-d * d / 2))
		sum += k[i]
	}
	for i := range k {
		k[i] /= sum
	}
	mid, out := newPlane(p.w, p.h), newPlane(p.w, p.h)
	_ = inBands(ctx, p.h, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			row, dst := p.v[y*p.w:(y+1)*p.w], mid.v[y*p.w:(y+1)*p.w]
			for x := range dst {
				var s float32
				if x >= r && x < p.w-r {
					for i, kv := range k {
						s += kv * row[x-r+i]
					}
				} else {
					for i, kv := range k {
						s += kv * row[clampInt(x-r+i, p.w)]
					}
				}
				dst[x] = s
			}
		}
	})
	_ = inBands(ctx, p.h, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			dst := out.v[y*p.w : (y+1)*p.w]
			for i, kv := range k {
				src := mid.v[clampInt(y-r+i, p.h)*p.w:]
				for x := range dst {
					dst[x] += kv * src[x]
				}
			}
		}
	})
	return out
}

// whiteness is the least of the three colours, box-averaged by k: paper stands
// out from wood in it more than in brightness, because wood is yellow to red.
func whiteness(ctx context.Context, img *image.RGBA, k int) *plane {
	out := newPlane(img.Rect.Dx()/k, img.Rect.Dy()/k)
	_ = inBands(ctx, out.h, func(y0, y1 int) {
		sum := make([]int32, 3*out.w)
		for y := y0; y < y1; y++ {
			clear(sum)
			for j := range k {
				row := img.Pix[(y*k+j)*img.Stride:]
				for x := 0; x < out.w; x++ {
					var r, g, b int32
					for i := 0; i < k; i++ {
						o := (x*k + i) * 4
						r += int32(row[o])
						g += int32(row[o+1])
						b += int32(row[o+2])
					}
					sum[3*x] += r
					sum[3*x+1] += g
					sum[3*x+2] += b
				}
			}
			for x := range out.w {
				out.v[y*out.w+x] = float32(min(sum[3*x], sum[3*x+1], sum[3*x+2])) / float32(k*k)
			}
		}
	})
	return out
}

// sampler reads a colour picture between its pixels, through a table.
type sampler struct {
	img *image.RGBA
	lut *[256]float32
}

// rgb gives the three channels at a place in pixels.
func (s sampler) rgb(x, y float64) [3]float32 {
	w, h := s.img.Rect.Dx(), s.img.Rect.Dy()
	x, y = x-0.5, y-0.5
	x0, y0 := math.Floor(x), math.Floor(y)
	fx, fy := float32(x-x0), float32(y-y0)
	ax, bx := clampInt(int(x0), w)*4, clampInt(int(x0)+1, w)*4
	r0 := s.img.Pix[clampInt(int(y0), h)*s.img.Stride:]
	r1 := s.img.Pix[clampInt(int(y0)+1, h)*s.img.Stride:]
	var out [3]float32
	for c := range 3 {
		top := s.lut[r0[ax+c]]*(1-fx) + s.lut[r0[bx+c]]*fx
		low := s.lut[r1[ax+c]]*(1-fx) + s.lut[r1[bx+c]]*fx
		out[c] = top*(1-fy) + low*fy
	}
	return out
}

// straight is the table that changes nothing; even is one that comes closer to
// equal steps for equal ratios of light, so that an edge on a dark board counts
// as much as on a light one, without blowing up the noise of the blackest.
var straight, even = func() (s, e [256]float32) {
	for i := range s {
		s[i] = float32(i)
		e[i] = float32(100 * math.Log(1+float64(i)/40))
	}
	return
}()

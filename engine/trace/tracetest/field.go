package tracetest

import "math"

// field is the signed distance to a ring, negative inside, on a grid.
type field struct {
	x0, y0, step float64
	w, h         int
	v            []float32
}

// newField reckons distances by passing nearest points over the grid, eight
// neighbours, forwards and back twice; the seeds are the ring's own points with
// their exact places.
func newField(ring []XY, step, margin float64) *field {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, p := range ring {
		x0, x1 = math.Min(x0, p.X), math.Max(x1, p.X)
		y0, y1 = math.Min(y0, p.Y), math.Max(y1, p.Y)
	}
	f := &field{x0: x0 - margin, y0: y0 - margin, step: step}
	f.w, f.h = int((x1-x0+2*margin)/step)+2, int((y1-y0+2*margin)/step)+2
	near := make([]int32, f.w*f.h)
	for i := range near {
		near[i] = -1
	}
	dist := func(x, y int, k int32) float64 {
		// To the two stretches of ring that meet at point k.
		px, py := f.x0+float64(x)*step, f.y0+float64(y)*step
		n := len(ring)
		best := math.Inf(1)
		for _, j := range [2]int{(int(k) + n - 1) % n, int(k)} {
			a, b := ring[j], ring[(j+1)%n]
			dx, dy := b.X-a.X, b.Y-a.Y
			t := 0.0
			if l := dx*dx + dy*dy; l > 0 {
				t = math.Max(0, math.Min(1, ((px-a.X)*dx+(py-a.Y)*dy)/l))
			}
			best = math.Min(best, math.Hypot(px-a.X-t*dx, py-a.Y-t*dy))
		}
		return best
	}
	d := make([]float64, len(near))
	for i := range d {
		d[i] = math.Inf(1)
	}
	try := func(x, y int, k int32) {
		if k < 0 {
			return
		}
		i := y*f.w + x
		if near[i] == k {
			return
		}
		if v := dist(x, y, k); v < d[i] {
			d[i], near[i] = v, k
		}
	}
	for k, p := range ring {
		x, y := int((p.X-f.x0)/step), int((p.Y-f.y0)/step)
		for dy := 0; dy <= 1; dy++ {
			for dx := 0; dx <= 1; dx++ {
				try(x+dx, y+dy, int32(k))
			}
		}
	}
	for range 2 {
		for y := 0; y < f.h; y++ {
			for x := 0; x < f.w; x++ {
				if x > 0 {
					try(x, y, near[y*f.w+x-1])
				}
				if y > 0 {
					try(x, y, near[(y-1)*f.w+x])
					if x > 0 {
						try(x, y, near[(y-1)*f.w+x-1])
					}
					if x < f.w-1 {
						try(x, y, near[(y-1)*f.w+x+1])
					}
				}
			}
		}
		for y := f.h - 1; y >= 0; y-- {
			for x := f.w - 1; x >= 0; x-- {
				if x < f.w-1 {
					try(x, y, near[y*f.w+x+1])
				}
				if y < f.h-1 {
					try(x, y, near[(y+1)*f.w+x])
					if x > 0 {
						try(x, y, near[(y+1)*f.w+x-1])
					}
					if x < f.w-1 {
						try(x, y, near[(y+1)*f.w+x+1])
					}
				}
			}
		}
	}
	f.v = make([]float32, len(d))
	for y := range f.h {
		// Inside by crossings along the row.
		py := f.y0 + float64(y)*step
		var xs []float64
		for j, a := range ring {
			b := ring[(j+1)%len(ring)]
			if (a.Y > py) != (b.Y > py) {
				xs = append(xs, a.X+(b.X-a.X)*(py-a.Y)/(b.Y-a.Y))
			}
		}
		for x := range f.w {
			px := f.x0 + float64(x)*step
			in := false
			for _, c := range xs {
				if c > px {
					in = !in
				}
			}
			i := y*f.w + x
			f.v[i] = float32(d[i])
			if in {
				f.v[i] = -f.v[i]
			}
		}
	}
	return f
}

// at is the distance at a place; far outside the grid it is a lower bound.
func (f *field) at(x, y float64) float64 {
	gx, gy := (x-f.x0)/f.step, (y-f.y0)/f.step
	out := 0.0
	if gx < 0 {
		out, gx = -gx*f.step, 0
	}
	if gy < 0 {
		out, gy = math.Max(out, -gy*f.step), 0
	}
	if m := float64(f.w - 2); gx > m {
		out, gx = math.Max(out, (gx-m)*f.step), m
	}
	if m := float64(f.h - 2); gy > m {
		out, gy = math.Max(out, (gy-m)*f.step), m
	}
	ix, iy := int(gx), int(gy)
	fx, fy := gx-float64(ix), gy-float64(iy)
	i := iy*f.w + ix
	v := (float64(f.v[i])*(1-fx)+float64(f.v[i+1])*fx)*(1-fy) + (float64(f.v[i+f.w])*(1-fx)+float64(f.v[i+f.w+1])*fx)*fy
	return v + out
}

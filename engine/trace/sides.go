package trace

import (
	"context"
	"math"
	"slices"

	"slipseat/engine/geom"
)

// side is a straight stretch of edge in the small picture, directed so that the
// lighter ground lies to its left as the eye sees it.
type side struct {
	a, b geom.Pt
	held float64 // length that edge pixels hold
}

func (s side) dir() geom.Pt { return s.b.Sub(s.a).Unit() }

// eyeLeft is the direction to the left of d as the eye sees it, y down.
func eyeLeft(d geom.Pt) geom.Pt { return geom.Pt{X: d.Y, Y: -d.X} }

// gradients of a blurred plane by central differences.
type gradients struct {
	w, h int
	x, y []float32
}

func gradientsOf(p *plane) gradients {
	g := gradients{p.w, p.h, make([]float32, p.w*p.h), make([]float32, p.w*p.h)}
	for y := 1; y < p.h-1; y++ {
		for x := 1; x < p.w-1; x++ {
			i := y*p.w + x
			g.x[i] = (p.v[i+1] - p.v[i-1]) / 2
			g.y[i] = (p.v[i+p.w] - p.v[i-p.w]) / 2
		}
	}
	return g
}

// along is the gradient in direction n at a place, from the nearest pixel.
func (g gradients) along(p, n geom.Pt) float64 {
	x, y := int(p.X), int(p.Y)
	if p.X < 1 || p.Y < 1 || x >= g.w-1 || y >= g.h-1 {
		return 0
	}
	i := y*g.w + x
	return float64(g.x[i])*n.X + float64(g.y[i])*n.Y
}

// Pixels join a stretch of edge when their gradients differ from its mean
// direction by at most joinAngle; a stretch is kept from leastStretch pixels on.
const (
	joinAngle    = 18 * math.Pi / 180
	leastStep    = 1.1 // gray levels a pixel: three times the noise after averaging
	leastStretch = 14  // pixels
	mostSides    = 420
)

// sidesIn finds straight edges: thin ridges of the gradient, grown from the
// strongest pixel outwards while direction and straightness hold (after
// R. Grompone von Gioi and others, LSD: a Line Segment Detector, Image
// Processing On Line 2, 2012, much simplified).
func sidesIn(ctx context.Context, g gradients) []side {
	mag := make([]float32, len(g.x))
	var ridge []int32
	for y := 2; y < g.h-2; y++ {
		for x := 2; x < g.w-2; x++ {
			i := y*g.w + x
			mag[i] = float32(math.Sqrt(float64(g.x[i]*g.x[i] + g.y[i]*g.y[i])))
		}
	}
	for y := 3; y < g.h-3; y++ {
		for x := 3; x < g.w-3; x++ {
			i := y*g.w + x
			m := mag[i]
			if m < leastStep {
				continue
			}
			// Thin across the steeper axis.
			var a, b float32
			if math.Abs(float64(g.x[i])) > math.Abs(float64(g.y[i])) {
				a, b = mag[i-1], mag[i+1]
			} else {
				a, b = mag[i-g.w], mag[i+g.w]
			}
			if m > a && m >= b {
				ridge = append(ridge, int32(i))
			}
		}
	}
	isRidge := make([]bool, len(g.x))
	for _, i := range ridge {
		isRidge[i] = true
	}
	slices.SortStableFunc(ridge, func(a, b int32) int {
		switch {
		case mag[a] > mag[b]:
			return -1
		case mag[a] < mag[b]:
			return 1
		}
		return int(a - b)
	})
	used := make([]bool, len(g.x))
	var out []side
	stack := make([]int32, 0, 256)
	var members []int32
	for n, seed := range ridge {
		if used[seed] {
			continue
		}
		if n&1023 == 0 && ctx.Err() != nil {
			return nil
		}
		used[seed] = true
		sx, sy := float64(g.x[seed]), float64(g.y[seed])
		l := math.Hypot(sx, sy)
		sx, sy = sx/l, sy/l
		stack = append(stack[:0], seed)
		members = append(members[:0], seed)
		for len(stack) > 0 {
			i := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			d := math.Hypot(sx, sy)
			for dy := -1; dy <= 1; dy++ {
				for dx := -1; dx <= 1; dx++ {
					j := i + int32(dy*g.w+dx)
					if used[j] || !isRidge[j] {
						continue
					}
					ux, uy := float64(g.x[j])/float64(mag[j]), float64(g.y[j])/float64(mag[j])
					if (ux*sx+uy*sy)/d < math.Cos(joinAngle) {
						continue
					}
					used[j] = true
					sx, sy = sx+ux, sy+uy
					stack = append(stack, j)
					members = append(members, j)
				}
			}
		}
		if len(members) < leastStretch {
			continue
		}
		if s, ok := lineThrough(members, g); ok {
			out = append(out, s)
		}
	}
	return out
}

// lineThrough fits a side to edge pixels; ok is false when they are not
// straight.
func lineThrough(members []int32, g gradients) (side, bool) {
	var mx, my, gx, gy float64
	for _, i := range members {
		mx += float64(int(i)%g.w) + 0.5
		my += float64(int(i)/g.w) + 0.5
		gx += float64(g.x[i])
		gy += float64(g.y[i])
	}
	n := float64(len(members))
	mx, my = mx/n, my/n
	var xx, xy, yy float64
	for _, i := range members {
		x, y := float64(int(i)%g.w)+0.5-mx, float64(int(i)/g.w)+0.5-my
		xx, xy, yy = xx+x*x, xy+x*y, yy+y*y
	}
	angle := math.Atan2(2*xy, xx-yy) / 2
	d := geom.Pt{X: math.Cos(angle), Y: math.Sin(angle)}
	if l := eyeLeft(d); l.X*gx+l.Y*gy < 0 {
		d = d.Mul(-1)
	}
	mid := geom.Pt{X: mx, Y: my}
	lo, hi, off := math.Inf(1), math.Inf(-1), 0.0
	for _, i := range members {
		q := geom.Pt{X: float64(int(i)%g.w) + 0.5, Y: float64(int(i)/g.w) + 0.5}.Sub(mid)
		t := q.Dot(d)
		lo, hi = min(lo, t), max(hi, t)
		c := q.Cross(d)
		off += c * c
	}
	if hi-lo < leastStretch-1 || math.Sqrt(off/n) > 1.2+0.01*(hi-lo) {
		return side{}, false
	}
	return side{mid.Add(d.Mul(lo)), mid.Add(d.Mul(hi)), hi - lo}, true
}

// joined puts collinear stretches of the same direction together: a shadow or a
// finger breaks a side in two. Each stretch starts one side, so a side may come
// out more than once; doubles are dropped.
func joined(in []side) []side {
	slices.SortStableFunc(in, func(a, b side) int {
		switch {
		case a.held > b.held:
			return -1
		case a.held < b.held:
			return 1
		}
		return 0
	})
	if len(in) > 2500 {
		in = in[:2500]
	}
	var out []side
	for i, s := range in {
		if len(out) >= mostSides {
			break
		}
		if s.held < 20 {
			break
		}
		d := s.dir()
		type part struct{ lo, hi float64 }
		parts := []part{{0, s.b.Sub(s.a).Dot(d)}}
		for j, o := range in {
			if i == j {
				continue
			}
			u, v := o.a.Sub(s.a), o.b.Sub(s.a)
			if o.dir().Dot(d) < 0.998 || math.Abs(d.Cross(u)) > 3 || math.Abs(d.Cross(v)) > 3 {
				continue
			}
			parts = append(parts, part{u.Dot(d), v.Dot(d)})
		}
		slices.SortFunc(parts, func(a, b part) int {
			switch {
			case a.lo < b.lo:
				return -1
			case a.lo > b.lo:
				return 1
			}
			return 0
		})
		// The run that holds the start, with gaps of at most 0.35 of its length.
		lo, hi := 0.0, s.b.Sub(s.a).Dot(d)
		held := hi
		for changed := true; changed; {
			changed = false
			for k, p := range parts {
				if math.IsNaN(p.lo) {
					continue
				}
				gap := max(25, 0.35*(hi-lo))
				if p.hi <= hi+0.5 && p.lo >= lo-0.5 {
					parts[k].lo = math.NaN()
					continue
				}
				if p.lo < hi+gap && p.hi > lo-gap {
					held += p.hi - p.lo
					lo, hi = min(lo, p.lo), max(hi, p.hi)
					parts[k].lo = math.NaN()
					changed = true
				}
			}
		}
		n := side{s.a.Add(d.Mul(lo)), s.a.Add(d.Mul(hi)), min(held, hi-lo)}
		double := false
		for _, o := range out {
			if o.dir().Dot(n.dir()) > 0.9995 && o.a.Dist(n.a) < 5 && o.b.Dist(n.b) < 5 {
				double = true
				break
			}
		}
		if !double {
			out = append(out, n)
		}
		// The stretch on its own too: what lies in line with it may be the floor's.
		if hi-lo > 1.15*s.held && s.held > 40 {
			out = append(out, s)
		}
	}
	return out
}

// meet is where two lines cross.
func meet(a, b side) (geom.Pt, bool) {
	da, db := a.b.Sub(a.a), b.b.Sub(b.a)
	c := da.Cross(db)
	if math.Abs(c) < 1e-6*da.Len()*db.Len() {
		return geom.Pt{}, false
	}
	t := b.a.Sub(a.a).Cross(db) / c
	return a.a.Add(da.Mul(t)), true
}

package trace

import (
	"math"

	"slipseat/engine/geom"
)

// primitive is a line or a circle laid through a run of marks.
type primitive struct {
	from, to int // first and last mark, to may pass the end
	line     bool
	at, dir  geom.Pt // of a line
	centre   geom.Pt
	radius   float64
}

// sums are moments of marks up to one index, so that a line or a circle through
// any run costs the same.
type sums struct{ w, x, y, xx, xy, yy, z, xz, yz, zz float64 }

func (s sums) minus(o sums) sums {
	return sums{s.w - o.w, s.x - o.x, s.y - o.y, s.xx - o.xx, s.xy - o.xy, s.yy - o.yy, s.z - o.z, s.xz - o.xz, s.yz - o.yz, s.zz - o.zz}
}

// lineFit is the line of least squared distances; sse is their weighted sum.
func (s sums) lineFit() (at, dir geom.Pt, sse float64) {
	mx, my := s.x/s.w, s.y/s.w
	xx, xy, yy := s.xx-s.w*mx*mx, s.xy-s.w*mx*my, s.yy-s.w*my*my
	h := math.Hypot((xx-yy)/2, xy)
	angle := math.Atan2(2*xy, xx-yy) / 2
	return geom.P(mx, my), geom.P(math.Cos(angle), math.Sin(angle)), max(0, (xx+yy)/2-h)
}

// circleFit is the circle of least squared powers (I. Kåsa, A circle fitting
// procedure and its error analysis, IEEE Trans. Instrum. Meas. 25, 1976); sse is
// in squared distances to first order.
func (s sums) circleFit() (c geom.Pt, r, sse float64, ok bool) {
	mx, my := s.x/s.w, s.y/s.w
	xx, xy, yy := s.xx-s.w*mx*mx, s.xy-s.w*mx*my, s.yy-s.w*my*my
	xz, yz, zz := s.xz-mx*s.z, s.yz-my*s.z, s.zz-s.z*s.z/s.w
	det := xx*yy - xy*xy
	if det < 1e-9*(xx+yy)*(xx+yy) {
		return c, 0, 0, false
	}
	a, b := (xz*yy-yz*xy)/det, (yz*xx-xz*xy)/det
	c = geom.P(a/2, b/2)
	r2 := s.z/s.w - a*mx - b*my + c.Dot(c)
	if !(r2 > 0) {
		return c, 0, 0, false
	}
	r = math.Sqrt(r2)
	alg := zz - a*xz - b*yz
	return c, r, max(0, alg) / (4 * r2), true
}

// How lines and arcs are weighed against each other. Neighbouring marks share
// pixels, so markNoise is larger than their real scatter.
const (
	markNoise  = 0.30 // mm; at least, and half a pixel
	linePrice  = 14.0
	arcPrice   = 19.0
	leastArc   = 4.0    // mm radius; less is a sharp corner blurred
	largestArc = 4000.0 // mm radius; more is a line
)

// primitives cuts the closed run of marks into lines and arcs so that misfit
// and number together are least, starting at mark 0, which should be at a
// corner.
func primitives(marks []mark, weight []float64, mmPerPx float64) []primitive {
	n := len(marks)
	var mid geom.Pt
	for _, m := range marks {
		mid = mid.Add(m.p.Mul(1 / float64(n)))
	}
	pre := make([]sums, n+2)
	for i := range n + 1 {
		p := marks[i%n].p.Sub(mid)
		w := weight[i%n]
		z := p.X*p.X + p.Y*p.Y
		s := pre[i]
		pre[i+1] = sums{s.w + w, s.x + w*p.X, s.y + w*p.Y, s.xx + w*p.X*p.X, s.xy + w*p.X*p.Y, s.yy + w*p.Y*p.Y,
			s.z + w*z, s.xz + w*p.X*z, s.yz + w*p.Y*z, s.zz + w*z*z}
	}
	const hop = 2
	nodes := make([]int, 0, n/hop+2)
	for i := 0; i < n; i += hop {
		nodes = append(nodes, i)
	}
	nodes = append(nodes, n)
	best := make([]float64, len(nodes))
	from := make([]int, len(nodes))
	arc := make([]bool, len(nodes))
	noise := max(markNoise, 0.7*mmPerPx)
	unit := 1 / (noise * noise)
	for j := 1; j < len(nodes); j++ {
		best[j] = math.Inf(1)
		for i := j - 1; i >= 0; i-- {
			a, b := nodes[i], nodes[j]
			s := pre[b+1].minus(pre[a])
			if b-a < 2 {
				continue
			}
			if s.w < 0.5 {
				s.w = max(s.w, 1e-6)
			}
			_, _, e := s.lineFit()
			lineCost := e*unit + linePrice
			if v := best[i] + lineCost; v < best[j] {
				best[j], from[j], arc[j] = v, i, false
			}
			if b-a >= 5 && e*unit > arcPrice-linePrice {
				if _, r, e, ok := s.circleFit(); ok && r > leastArc && r < largestArc {
					if v := best[i] + e*unit + arcPrice; v < best[j] {
						best[j], from[j], arc[j] = v, i, true
					}
				}
			}
			// A run this long that fits neither will not get better.
			if e*unit > 4000 && b-a > 40 {
				if _, _, e2, ok := s.circleFit(); !ok || e2*unit > 4000 {
					break
				}
			}
		}
	}
	var out []primitive
	for j := len(nodes) - 1; j > 0; j = from[j] {
		out = append(out, primitive{from: nodes[from[j]], to: nodes[j], line: !arc[j]})
	}
	for i, k := 0, len(out)-1; i < k; i, k = i+1, k-1 {
		out[i], out[k] = out[k], out[i]
	}
	for i := range out {
		out[i].fit(marks, weight)
	}
	return out
}

// fit lays the primitive through its marks, leaving out those that stand off.
func (p *primitive) fit(marks []mark, weight []float64) {
	n := len(marks)
	count := p.to - p.from + 1
	skip := 0
	if count > 9 {
		skip = 2 // blurred by the neighbour
	}
	tol := math.Inf(1)
	var mid geom.Pt
	for i := p.from; i <= p.to; i++ {
		mid = mid.Add(marks[i%n].p.Mul(1 / float64(count)))
	}
	for range 3 {
		var s sums
		for i := p.from + skip; i <= p.to-skip; i++ {
			if p.off(marks[i%n].p) > tol {
				continue
			}
			q, w := marks[i%n].p.Sub(mid), weight[i%n]
			z := q.X*q.X + q.Y*q.Y
			s = sums{s.w + w, s.x + w*q.X, s.y + w*q.Y, s.xx + w*q.X*q.X, s.xy + w*q.X*q.Y, s.yy + w*q.Y*q.Y,
				s.z + w*z, s.xz + w*q.X*z, s.yz + w*q.Y*z, s.zz + w*z*z}
		}
		if s.w <= 0 {
			return
		}
		if !p.line {
			c, r, _, ok := s.circleFit()
			if ok && r < largestArc {
				p.centre, p.radius = c.Add(mid), r
			} else {
				p.line = true
			}
		}
		if p.line {
			at, dir, _ := s.lineFit()
			if dir.Dot(marks[p.to%n].p.Sub(marks[p.from%n].p)) < 0 {
				dir = dir.Mul(-1)
			}
			p.at, p.dir = at.Add(mid), dir
		}
		tol = 0.9
	}
}

// off is the distance of a point from the line or circle; 0 before the first
// fit.
func (p *primitive) off(q geom.Pt) float64 {
	switch {
	case p.line && p.dir != geom.Pt{}:
		return math.Abs(p.dir.Cross(q.Sub(p.at)))
	case !p.line && p.radius > 0:
		return math.Abs(q.Dist(p.centre) - p.radius)
	}
	return 0
}

// foot is the nearest point of the line or circle.
func (p *primitive) foot(q geom.Pt) geom.Pt {
	if p.line {
		return p.at.Add(p.dir.Mul(q.Sub(p.at).Dot(p.dir)))
	}
	return p.centre.Add(q.Sub(p.centre).Unit().Mul(p.radius))
}

// crossings of two primitives, none, one or two.
func (p *primitive) crossings(o *primitive) []geom.Pt {
	switch {
	case p.line && o.line:
		c := p.dir.Cross(o.dir)
		if math.Abs(c) < 0.02 {
			return nil
		}
		return []geom.Pt{p.at.Add(p.dir.Mul(o.at.Sub(p.at).Cross(o.dir) / c))}
	case p.line:
		f := p.foot(o.centre)
		d := f.Dist(o.centre)
		if d > o.radius {
			if d < o.radius+0.6 { // all but touching
				return []geom.Pt{f}
			}
			return nil
		}
		h := p.dir.Mul(math.Sqrt(max(0, o.radius*o.radius-d*d)))
		return []geom.Pt{f.Add(h), f.Sub(h)}
	case o.line:
		return o.crossings(p)
	}
	v := o.centre.Sub(p.centre)
	d := v.Len()
	if d < 1e-9 {
		return nil
	}
	a := (d*d + p.radius*p.radius - o.radius*o.radius) / (2 * d)
	h2 := p.radius*p.radius - a*a
	if h2 < 0 {
		return nil
	}
	m := p.centre.Add(v.Mul(a / d))
	h := v.Left().Mul(math.Sqrt(h2) / d)
	return []geom.Pt{m.Add(h), m.Sub(h)}
}

// pathOf joins the primitives end to end.
func pathOf(marks []mark, ps []primitive) geom.Path {
	n := len(marks)
	if len(ps) == 0 {
		return nil
	}
	if len(ps) == 1 {
		p := ps[0]
		if p.line {
			return nil
		}
		return geom.Circle(p.centre, p.radius)
	}
	joint := make([]geom.Pt, len(ps)) // where ps[i] starts
	for i := range ps {
		before := &ps[(i+len(ps)-1)%len(ps)]
		at := marks[ps[i].from%n].p
		best, near := before.foot(at).Mid(ps[i].foot(at)), 6.0
		// Between smooth neighbours the crossing may lie anywhere along their common
		// tangent; only a near one is better than the middle of the two feet.
		if smooth := before.sharpness(&ps[i], at) < 0.35; smooth {
			near = 3.0
		}
		for _, q := range before.crossings(&ps[i]) {
			if d := q.Dist(at); d < near {
				best, near = q, d
			}
		}
		joint[i] = best
	}
	var out geom.Path
	for i := range ps {
		a, b := joint[i], joint[(i+1)%len(ps)]
		if a.Dist(b) < 0.05 {
			continue
		}
		v := geom.Vertex{Pt: a}
		if !ps[i].line {
			m := ps[i].foot(marks[((ps[i].from+ps[i].to)/2)%n].p)
			v.Bulge = geom.ArcThroughPoint(a, m, b).Bulge
			if s := (geom.Segment{A: a, B: b, Bulge: v.Bulge}); math.Abs(s.Sagitta()) < 0.05 {
				v.Bulge = 0
			}
		}
		out = append(out, v)
	}
	return out
}

// sharpness is the angle between two primitives near a place, radians.
func (p *primitive) sharpness(o *primitive, at geom.Pt) float64 {
	tangent := func(q *primitive) geom.Pt {
		if q.line {
			return q.dir
		}
		return at.Sub(q.centre).Unit().Left()
	}
	a, b := tangent(p), tangent(o)
	return math.Asin(min(1, math.Abs(a.Cross(b))))
}

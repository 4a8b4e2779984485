package separate

import (
	"math"

	"slipseat/engine/geom"
)

// perMM is the number of grid units in a millimetre: 50 nm each, so that
// 1/32 in = 15,875 and 0.1 mm = 2,000 are both whole (LAY.md section 1).
const perMM = 20000

// ipt is a point or vector in grid units.
type ipt struct{ x, y int64 }

func (p ipt) sub(q ipt) ipt     { return ipt{p.x - q.x, p.y - q.y} }
func (p ipt) add(q ipt) ipt     { return ipt{p.x + q.x, p.y + q.y} }
func (p ipt) cross(q ipt) int64 { return p.x*q.y - p.y*q.x }
func (p ipt) dot(q ipt) int64   { return p.x*q.x + p.y*q.y }
func (p ipt) turned(t uint8) ipt { // t quarter turns counter-clockwise
	switch t & 3 {
	case 1:
		return ipt{-p.y, p.x}
	case 2:
		return ipt{-p.x, -p.y}
	case 3:
		return ipt{p.y, -p.x}
	}
	return p
}

// orient is twice the signed area of the triangle a, b, c: positive when c
// lies to the left of the line from a to b.
func orient(a, b, c ipt) int64 { return b.sub(a).cross(c.sub(a)) }

// ipoly is a polygon in grid units, counter-clockwise.
type ipoly []ipt

// toGrid rounds millimetres to the nearest grid point.
func toGrid(mm float64) int64 { return int64(math.Round(mm * perMM)) }

// fromGrid gives a whole number of grid units in millimetres.
func fromGrid(u float64) float64 { return u / perMM }

// gridPolygon rounds a polygon's corners to the grid and drops corners that
// became repeated or lie on a straight edge. The corners move by at most
// 36 nm, three hundred times less than what a lay is checked to.
func gridPolygon(g geom.Polygon) ipoly {
	p := make(ipoly, 0, len(g))
	for _, v := range g {
		q := ipt{toGrid(v.X), toGrid(v.Y)}
		if len(p) == 0 || p[len(p)-1] != q {
			p = append(p, q)
		}
	}
	for len(p) > 1 && p[0] == p[len(p)-1] {
		p = p[:len(p)-1]
	}
	for i := 0; len(p) > 3 && i < len(p); {
		a, b, c := p[(i+len(p)-1)%len(p)], p[i], p[(i+1)%len(p)]
		if orient(a, b, c) == 0 {
			p = append(p[:i], p[i+1:]...)
			if i > 0 {
				i--
			}
			continue
		}
		i++
	}
	if p.area2() < 0 {
		for i, j := 0, len(p)-1; i < j; i, j = i+1, j-1 {
			p[i], p[j] = p[j], p[i]
		}
	}
	return p
}

// area2 is twice the signed area. Corners are taken relative to the first so
// that the products stay small.
func (p ipoly) area2() int64 {
	var s int64
	for i := 1; i+1 < len(p); i++ {
		s += orient(p[0], p[i], p[i+1])
	}
	return s
}

// box gives the least and greatest coordinates.
func (p ipoly) box() (lo, hi ipt) {
	lo, hi = p[0], p[0]
	for _, v := range p[1:] {
		lo.x, lo.y = min(lo.x, v.x), min(lo.y, v.y)
		hi.x, hi.y = max(hi.x, v.x), max(hi.y, v.y)
	}
	return lo, hi
}

// turned gives the polygon after t quarter turns, moved so that its box
// starts at (0, 0); corner is where the original's origin went.
func (p ipoly) turned(t uint8) (q ipoly, corner ipt) {
	q = make(ipoly, len(p))
	for i, v := range p {
		q[i] = v.turned(t)
	}
	lo, _ := q.box()
	for i := range q {
		q[i] = q[i].sub(lo)
	}
	return q, ipt{-lo.x, -lo.y}
}

// hull is the convex hull, counter-clockwise, without points on its edges.
func (p ipoly) hull() ipoly {
	pts := append(ipoly(nil), p...)
	sortPoints(pts)
	if len(pts) < 3 {
		return pts
	}
	h := make(ipoly, 0, 2*len(pts))
	for pass := range 2 {
		start := len(h)
		for k := range pts {
			v := pts[k]
			if pass == 1 {
				v = pts[len(pts)-1-k]
			}
			for len(h) >= start+2 && orient(h[len(h)-2], h[len(h)-1], v) <= 0 {
				h = h[:len(h)-1]
			}
			h = append(h, v)
		}
		h = h[:len(h)-1]
	}
	return h
}

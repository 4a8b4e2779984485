package columns

import (
	"math"

	"slipseat/engine/geom"
)

// give is how far, in millimetres, a piece may reach into another and still
// count as clear: less than half of lay.CheckTol. Search and proof use the
// same figure, so a proof holds for every lay that the judge accepts but for
// those that live on its tolerance.
const give = 0.004

// convex tells whether g turns left at every corner.
func convex(g geom.Polygon) bool {
	n := len(g)
	turned := 0.0
	for i := range g {
		u, v := g[(i+1)%n].Sub(g[i]), g[(i+2)%n].Sub(g[(i+1)%n])
		if u.Cross(v) < -1e-9*(1+u.Len()*v.Len()) {
			return false
		}
		turned += math.Abs(math.Atan2(u.Cross(v), u.Dot(v)))
	}
	return turned < 2*math.Pi+1e-6
}

// level tells whether every line along the goods meets g in one stretch: its
// outline goes up once and down once.
func level(g geom.Polygon) bool {
	turns, was := 0, 0.0
	n := len(g)
	for i := range 2 * n { // the first round only finds the direction
		d := g[(i+1)%n].Y - g[i%n].Y
		if d == 0 {
			continue
		}
		if i >= n && d > 0 != (was > 0) {
			turns++
		}
		was = d
	}
	return turns <= 2
}

// region is a union of convex polygons.
type region []geom.Polygon

// clash is the region of the offsets from a to b at which the two shapes
// overlap: a swept by the mirrored b (Minkowski sum). Of convex shapes it is
// one convex polygon. Of others it holds the sums of all pairs of edges, which
// cover the region's border; that is all that span asks for.
func clash(a, b geom.Polygon) region {
	m := make(geom.Polygon, len(b))
	for i, q := range b {
		m[i] = geom.Pt{X: -q.X, Y: -q.Y}
	}
	if convex(a) && convex(b) {
		return region{sum(a, m)}
	}
	var out region
	for i, p := range a {
		u := a[(i+1)%len(a)].Sub(p)
		for j, q := range m {
			v := m[(j+1)%len(m)].Sub(q)
			o := p.Add(q)
			if u.Cross(v) >= 0 {
				out = append(out, geom.Polygon{o, o.Add(u), o.Add(u).Add(v), o.Add(v)})
			} else {
				out = append(out, geom.Polygon{o, o.Add(v), o.Add(u).Add(v), o.Add(u)})
			}
		}
	}
	return out
}

// sum is the Minkowski sum of two convex polygons.
func sum(a, b geom.Polygon) geom.Polygon {
	p, q := fromLowest(a), fromLowest(b)
	out := make(geom.Polygon, 0, len(p)+len(q))
	for i, j := 0, 0; i < len(p) || j < len(q); {
		out = append(out, p[i%len(p)].Add(q[j%len(q)]))
		u := p[(i+1)%len(p)].Sub(p[i%len(p)])
		v := q[(j+1)%len(q)].Sub(q[j%len(q)])
		if j >= len(q) || i < len(p) && u.Cross(v) >= 0 {
			i++
		} else {
			j++
		}
	}
	return out
}

func fromLowest(g geom.Polygon) geom.Polygon {
	low := 0
	for i, p := range g {
		if p.Y < g[low].Y || p.Y == g[low].Y && p.X < g[low].X {
			low = i
		}
	}
	return append(append(geom.Polygon(nil), g[low:]...), g[:low]...)
}

// span is the stretch of the line at height h from the first to the last point
// of the region grown by a disc of radius r; ok is false where the line misses
// it.
func (g region) span(r, h float64) (lo, hi float64, ok bool) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range g {
		if l, u, in := span(p, r, h); in {
			lo, hi = math.Min(lo, l), math.Max(hi, u)
		}
	}
	return lo, hi, lo <= hi
}

func span(g geom.Polygon, r, h float64) (lo, hi float64, ok bool) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range g {
		low, high = math.Min(low, p.Y), math.Max(high, p.Y)
	}
	if h < low-r || h > high+r {
		return 0, 0, false
	}
	lo, hi = math.Inf(1), math.Inf(-1)
	take := func(x float64) { lo, hi = math.Min(lo, x), math.Max(hi, x) }
	edge := func(a, b geom.Pt) {
		if math.Min(a.Y, b.Y) > h || math.Max(a.Y, b.Y) < h {
			return
		}
		if a.Y == b.Y {
			take(a.X)
			take(b.X)
			return
		}
		take(a.X + float64((b.X-a.X)*(h-a.Y))/(b.Y-a.Y))
	}
	for i, a := range g {
		b := g[(i+1)%len(g)]
		edge(a, b)
		if r <= 0 {
			continue
		}
		if d := b.Sub(a); d.Len() > 0 {
			out := d.Right().Mul(r / d.Len())
			edge(a.Add(out), b.Add(out))
		}
		if dy := h - a.Y; math.Abs(dy) <= r {
			w := math.Sqrt(float64(r*r) - float64(dy*dy))
			take(a.X - w)
			take(a.X + w)
		}
	}
	return lo, hi, lo <= hi
}

// forbidden is the stretch of offsets along the goods at which two shapes of
// a clash region lie less than gap apart, one being h further across. What is
// no more than give counts as clear.
func forbidden(g region, gap, h float64) (lo, hi float64, ok bool) {
	r := math.Max(0, gap-give)
	l1, h1, ok1 := g.span(r, h-give)
	l2, h2, ok2 := g.span(r, h+give)
	if !ok1 || !ok2 {
		return 0, 0, false
	}
	lo, hi = math.Max(l1, l2)+give, math.Min(h1, h2)-give
	return lo, hi, lo < hi
}

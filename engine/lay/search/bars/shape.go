package bars

import (
	"math"
	"slices"

	"slipseat/engine/geom"
)

// inside is a convex polygon within g: g itself where it is convex, else with
// corners beside its hollows cut off. ok is false where that does not work out.
func inside(g geom.Polygon) (geom.Polygon, bool) {
	g = slices.Clone(g)
	for len(g) >= 3 {
		n := len(g)
		hollow := -1
		for i := range g {
			if cornerAt(g, i) < -1e-9 {
				hollow = i
				break
			}
		}
		if hollow < 0 {
			return g, true
		}
		// Cutting off a full corner next to the hollow one leaves a part of g.
		best, least := -1, math.Inf(1)
		for _, i := range [2]int{(hollow + n - 1) % n, (hollow + 1) % n} {
			if a := cornerAt(g, i); a >= 0 && a < least && clearTriangle(g, i) {
				best, least = i, a
			}
		}
		if best < 0 {
			return nil, false
		}
		g = slices.Delete(g, best, best+1)
	}
	return nil, false
}

// cornerAt is twice the area of the triangle at corner i, negative where the
// outline turns right.
func cornerAt(g geom.Polygon, i int) float64 {
	n := len(g)
	a, b, c := g[(i+n-1)%n], g[i], g[(i+1)%n]
	return b.Sub(a).Cross(c.Sub(b))
}

func clearTriangle(g geom.Polygon, i int) bool {
	n := len(g)
	a, b, c := g[(i+n-1)%n], g[i], g[(i+1)%n]
	for j, q := range g {
		if j == i || j == (i+n-1)%n || j == (i+1)%n {
			continue
		}
		if b.Sub(a).Cross(q.Sub(a)) >= 0 && c.Sub(b).Cross(q.Sub(b)) >= 0 && a.Sub(c).Cross(q.Sub(c)) >= 0 {
			return false
		}
	}
	return true
}

const capSides = 16

// grown is the convex polygon g with a polygon inside a circle of radius r
// swept along its edge; it touches the circle in the four directions.
func grown(g geom.Polygon, r float64) geom.Polygon {
	if r <= 0 {
		return g
	}
	disc := make(geom.Polygon, capSides)
	for i := range disc {
		s, c := math.Sincos(2 * math.Pi * float64(i) / capSides)
		disc[i] = geom.Pt{X: r * c, Y: r * s}
	}
	var all geom.Polygon
	for _, p := range g {
		for _, d := range disc {
			all = append(all, p.Add(d))
		}
	}
	return all.ConvexHull()
}

// band is how a convex polygon reaches across on lines across the goods.
type band struct{ xs, lo, hi []float64 }

func bandOf(g geom.Polygon) band {
	var b band
	for _, p := range g {
		b.xs = append(b.xs, p.X)
	}
	slices.Sort(b.xs)
	b.xs = slices.Compact(b.xs)
	for _, x := range b.xs {
		lo, hi := math.Inf(1), math.Inf(-1)
		for i, p := range g {
			q := g[(i+1)%len(g)]
			if math.Min(p.X, q.X) > x || math.Max(p.X, q.X) < x {
				continue
			}
			ys := [2]float64{p.Y, q.Y}
			if p.X != q.X {
				y := p.Y + (q.Y-p.Y)*(x-p.X)/(q.X-p.X)
				ys = [2]float64{y, y}
			}
			lo, hi = math.Min(lo, math.Min(ys[0], ys[1])), math.Max(hi, math.Max(ys[0], ys[1]))
		}
		b.lo, b.hi = append(b.lo, lo), append(b.hi, hi)
	}
	return b
}

// widest is the longest chord.
func (b band) widest() float64 {
	most := 0.0
	for i := range b.xs {
		most = math.Max(most, b.hi[i]-b.lo[i])
	}
	return most
}

// stretch is where every chord is at least c long: from x0 to x1.
func (b band) stretch(c float64) (x0, x1 float64, ok bool) {
	n := len(b.xs)
	cross := func(i, j int) float64 { // between a chord too short and one long enough
		u, v := b.hi[i]-b.lo[i], b.hi[j]-b.lo[j]
		return b.xs[i] + (b.xs[j]-b.xs[i])*(c-u)/(v-u)
	}
	first, last := -1, -1
	for i := range n {
		if b.hi[i]-b.lo[i] >= c {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first < 0 {
		return 0, 0, false
	}
	x0, x1 = b.xs[first], b.xs[last]
	if first > 0 {
		x0 = cross(first-1, first)
	}
	if last < n-1 {
		x1 = cross(last+1, last)
	}
	return x0, x1, x1 > x0
}

package lay

import (
	"math"

	"slipseat/engine/geom"
)

// convexParts cuts a simple counter-clockwise polygon into convex ones: ears
// first, then neighbours joined again while they stay convex. It serves the
// judge alone; the search has its own.
func convexParts(g geom.Polygon) []geom.Polygon {
	g = withoutStraight(g)
	if len(g) < 3 {
		return nil
	}
	if isConvex(g) {
		return []geom.Polygon{g}
	}
	return joinParts(ears(g))
}

// withoutStraight drops double points and points on a straight run, which make
// ears without area.
func withoutStraight(g geom.Polygon) geom.Polygon {
	out := append(geom.Polygon(nil), g...)
	for i := 0; i < len(out) && len(out) >= 3; {
		n := len(out)
		a, b, c := out[(i+n-1)%n], out[i], out[(i+1)%n]
		if math.Abs(cross(a, b, c)) <= 1e-9*(1+a.Dist(c)) {
			out = append(out[:i], out[i+1:]...)
			i = max(0, i-1)
			continue
		}
		i++
	}
	return out
}

func cross(a, b, c geom.Pt) float64 { return b.Sub(a).Cross(c.Sub(b)) }

func isConvex(g geom.Polygon) bool {
	n := len(g)
	for i := range g {
		if cross(g[i], g[(i+1)%n], g[(i+2)%n]) < 0 {
			return false
		}
	}
	return true
}

// ears cuts triangles off, always the one with the largest smallest height
// among the first few, so that slivers are rare.
func ears(g geom.Polygon) []geom.Polygon {
	rest := append(geom.Polygon(nil), g...)
	var out []geom.Polygon
	for len(rest) > 3 {
		n, best, bestQ := len(rest), -1, -1.0
		for i := range rest {
			a, b, c := rest[(i+n-1)%n], rest[i], rest[(i+1)%n]
			if cross(a, b, c) <= 0 || !emptyEar(rest, i) {
				continue
			}
			longest := math.Max(a.Dist(b), math.Max(b.Dist(c), c.Dist(a)))
			if q := cross(a, b, c) / (longest * longest); q > bestQ {
				best, bestQ = i, q
			}
		}
		if best < 0 {
			break // only rounding is left
		}
		out = append(out, geom.Polygon{rest[(best+n-1)%n], rest[best], rest[(best+1)%n]})
		rest = append(rest[:best], rest[best+1:]...)
	}
	return append(out, rest)
}

func emptyEar(g geom.Polygon, i int) bool {
	n := len(g)
	a, b, c := g[(i+n-1)%n], g[i], g[(i+1)%n]
	for j, q := range g {
		if j == i || j == (i+n-1)%n || j == (i+1)%n || q == a || q == b || q == c {
			continue
		}
		if cross(a, b, q) >= 0 && cross(b, c, q) >= 0 && cross(c, a, q) >= 0 {
			return false
		}
	}
	return true
}

// joinParts merges parts across a shared edge while the union stays convex.
func joinParts(parts []geom.Polygon) []geom.Polygon {
	for merged := true; merged; {
		merged = false
	search:
		for i := range parts {
			for j := i + 1; j < len(parts); j++ {
				if u, ok := joined(parts[i], parts[j]); ok {
					parts[i] = u
					parts = append(parts[:j], parts[j+1:]...)
					merged = true
					break search
				}
			}
		}
	}
	return parts
}

func joined(a, b geom.Polygon) (geom.Polygon, bool) {
	for i := range a {
		for j := range b {
			if a[i] != b[(j+1)%len(b)] || a[(i+1)%len(a)] != b[j] {
				continue
			}
			var u geom.Polygon
			for k := range a { // from the end of the shared edge round to its start
				u = append(u, a[(i+1+k)%len(a)])
			}
			for k := 1; k < len(b)-1; k++ {
				u = append(u, b[(j+1+k)%len(b)])
			}
			return u, isConvex(u)
		}
	}
	return nil, false
}

// depth is how far two convex polygons reach into each other: the least
// distance that one must move to be clear of the other; 0 or negative when they
// are apart or touch (separating axis theorem).
func depth(a, b geom.Polygon) float64 {
	return math.Min(depthAlong(a, b), depthAlong(b, a))
}

func depthAlong(a, b geom.Polygon) float64 {
	least := math.Inf(1)
	for i, p := range a {
		q := a[(i+1)%len(a)]
		e := q.Sub(p)
		l := e.Len()
		if l == 0 {
			continue
		}
		n := geom.Pt{X: e.Y / l, Y: -e.X / l} // outwards
		in := math.Inf(1)
		for _, v := range b {
			in = math.Min(in, v.Sub(p).Dot(n))
		}
		least = math.Min(least, -in)
	}
	return least
}

// distance is the least distance between the edges of two polygons.
func distance(a, b geom.Polygon) float64 {
	least := math.Inf(1)
	for i := range a {
		p, q := a[i], a[(i+1)%len(a)]
		for j := range b {
			r, s := b[j], b[(j+1)%len(b)]
			least = math.Min(least, math.Min(math.Min(toEdge(p, r, s), toEdge(q, r, s)), math.Min(toEdge(r, p, q), toEdge(s, p, q))))
		}
	}
	return least
}

func toEdge(p, a, b geom.Pt) float64 {
	d := b.Sub(a)
	n := d.Dot(d)
	if n == 0 {
		return p.Dist(a)
	}
	t := math.Max(0, math.Min(1, p.Sub(a).Dot(d)/n))
	return p.Dist(a.Add(d.Mul(t)))
}

package geom

import (
	"math"
	"slices"

	"slipseat/engine/unit"
)

// Path is the ring as a path of lines.
func (g Polygon) Path() Path {
	p := make(Path, len(g))
	for i, q := range g {
		p[i] = Vertex{Pt: q}
	}
	return p
}

// Area is the area inside; negative when the ring runs clockwise.
func (g Polygon) Area() float64 {
	if len(g) == 0 {
		return 0
	}
	var sum float64
	for i := 1; i+1 < len(g); i++ {
		sum += g[i].Sub(g[0]).Cross(g[i+1].Sub(g[0]))
	}
	return sum / 2
}

// Length is the length around the ring.
func (g Polygon) Length() float64 {
	var sum float64
	for i, q := range g {
		sum += q.Dist(g[(i+1)%len(g)])
	}
	return sum
}

// Bounds is the bounding box.
func (g Polygon) Bounds() Rect {
	if len(g) == 0 {
		return Rect{}
	}
	r := Rect{g[0], g[0]}
	for _, q := range g[1:] {
		r = r.Include(q)
	}
	return r
}

// IsCCW tells whether the ring runs counter-clockwise.
func (g Polygon) IsCCW() bool { return g.Area() > 0 }

// Centroid is the centre of the area; of the corners when there is no area.
func (g Polygon) Centroid() Pt {
	if len(g) == 0 {
		return Pt{}
	}
	var sum Pt
	var area float64
	for i := 1; i+1 < len(g); i++ {
		u, v := g[i].Sub(g[0]), g[i+1].Sub(g[0])
		c := u.Cross(v)
		area += c
		sum = sum.Add(u.Add(v).Mul(c))
	}
	if area == 0 {
		for _, q := range g {
			sum = sum.Add(q.Sub(g[0]))
		}
		return g[0].Add(sum.Mul(1 / float64(len(g))))
	}
	return g[0].Add(sum.Mul(1 / (3 * area)))
}

// Convex tells whether a counter-clockwise ring never turns right. Three
// corners on one line are no turn.
func (g Polygon) Convex() bool {
	n := len(g)
	if n < 3 {
		return false
	}
	for i := range g {
		a, b, c := g[i], g[(i+1)%n], g[(i+2)%n]
		u, v := b.Sub(a), c.Sub(b)
		if u.Cross(v) < -1e-12*u.Len()*v.Len() {
			return false
		}
	}
	return true
}

// ConvexHull is the smallest convex ring around the points, counter-clockwise
// from the lowest of the leftmost, without corners on a straight line.
func (g Polygon) ConvexHull() Polygon {
	pts := slices.Clone(g)
	slices.SortFunc(pts, func(a, b Pt) int {
		switch {
		case a.X < b.X || a.X == b.X && a.Y < b.Y:
			return -1
		case a == b:
			return 0
		}
		return 1
	})
	pts = slices.Compact(pts)
	if len(pts) < 3 {
		return pts
	}
	// Andrew's monotone chain (1979): the lower hull, then the upper.
	hull := make(Polygon, 0, len(pts)+1)
	for range 2 {
		base := len(hull)
		for _, q := range pts {
			for len(hull) >= base+2 && hull[len(hull)-1].Sub(hull[len(hull)-2]).Cross(q.Sub(hull[len(hull)-1])) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, q)
		}
		hull = hull[:len(hull)-1]
		slices.Reverse(pts)
	}
	return hull
}

// Contains tells whether q lies inside the ring; on the ring either answer.
func (g Polygon) Contains(q Pt) bool {
	in := false
	for i, a := range g {
		if crossesRay(a, g[(i+1)%len(g)], q) {
			in = !in
		}
	}
	return in
}

// Distance is the least distance from q to the ring itself, inside or outside.
func (g Polygon) Distance(q Pt) float64 {
	d := math.Inf(1)
	for i, a := range g {
		d = min(d, Segment{A: a, B: g[(i+1)%len(g)]}.Distance(q))
	}
	return d
}

// Covers tells whether q lies inside the ring or within tol of it.
func (g Polygon) Covers(q Pt, tol float64) bool { return g.Contains(q) || g.Distance(q) <= tol }

// Turned is the ring turned about the origin by quarters counter-clockwise,
// exactly.
func (g Polygon) Turned(quarters int) Polygon {
	h := make(Polygon, len(g))
	for i, q := range g {
		h[i] = q.Turned(quarters)
	}
	return h
}

// Translate is the ring moved by d.
func (g Polygon) Translate(d Pt) Polygon {
	h := make(Polygon, len(g))
	for i, q := range g {
		h[i] = q.Add(d)
	}
	return h
}

// Reverse is the ring walked the other way from the same first corner.
func (g Polygon) Reverse() Polygon {
	n := len(g)
	h := make(Polygon, n)
	for i := range h {
		h[i] = g[(n-i)%n]
	}
	return h
}

// Mirror flips the ring across the line x = x0 and keeps its direction.
func (g Polygon) Mirror(x0 float64) Polygon {
	h := g.Reverse()
	for i, q := range h {
		h[i] = Pt{2*x0 - q.X, q.Y}
	}
	return h
}

// Validate checks the ring by the rules of Path.Validate.
func (g Polygon) Validate() *unit.Fault { return g.Path().Validate() }

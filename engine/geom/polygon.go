package geom

import "math"

// Include grows the box to hold p.
func (r Rect) Include(p Pt) Rect {
	return Rect{Pt{math.Min(r.Min.X, p.X), math.Min(r.Min.Y, p.Y)}, Pt{math.Max(r.Max.X, p.X), math.Max(r.Max.Y, p.Y)}}
}

// Union is the smallest box round both.
func (r Rect) Union(o Rect) Rect { return r.Include(o.Min).Include(o.Max) }

// Grow moves every side outwards by d.
func (r Rect) Grow(d float64) Rect {
	return Rect{Pt{r.Min.X - d, r.Min.Y - d}, Pt{r.Max.X + d, r.Max.Y + d}}
}

// Center is the box's middle.
func (r Rect) Center() Pt { return r.Min.Add(r.Max).Mul(0.5) }

// Contains tells whether p lies in the box or on its edge.
func (r Rect) Contains(p Pt) bool {
	return p.X >= r.Min.X && p.X <= r.Max.X && p.Y >= r.Min.Y && p.Y <= r.Max.Y
}

// Overlaps tells whether two boxes share more than an edge.
func (r Rect) Overlaps(o Rect) bool {
	return r.Min.X < o.Max.X && o.Min.X < r.Max.X && r.Min.Y < o.Max.Y && o.Min.Y < r.Max.Y
}

// Path is the box as a path.
func (r Rect) Path() Path { return Box(r.Min.X, r.Min.Y, r.Max.X, r.Max.Y) }

// Turned turns the point by n quarter turns counter-clockwise about the
// origin, exactly.
func (p Pt) Turned(n int) Pt {
	switch n & 3 {
	case 1:
		return Pt{-p.Y, p.X}
	case 2:
		return Pt{-p.X, -p.Y}
	case 3:
		return Pt{p.Y, -p.X}
	}
	return p
}

// Area is the enclosed area, positive counter-clockwise.
func (g Polygon) Area() float64 {
	var twice float64
	for i, p := range g {
		twice += p.Cross(g[(i+1)%len(g)])
	}
	return twice / 2
}

// Bounds is the smallest box round the polygon.
func (g Polygon) Bounds() Rect {
	if len(g) == 0 {
		return Rect{}
	}
	r := Rect{g[0], g[0]}
	for _, p := range g[1:] {
		r = r.Include(p)
	}
	return r
}

// Length is the length of the whole edge.
func (g Polygon) Length() float64 {
	var l float64
	for i, p := range g {
		l += p.Dist(g[(i+1)%len(g)])
	}
	return l
}

// Translate moves the polygon by v.
func (g Polygon) Translate(v Pt) Polygon {
	out := make(Polygon, len(g))
	for i, p := range g {
		out[i] = p.Add(v)
	}
	return out
}

// Turned turns the polygon by n quarter turns counter-clockwise about the
// origin, exactly.
func (g Polygon) Turned(n int) Polygon {
	out := make(Polygon, len(g))
	for i, p := range g {
		out[i] = p.Turned(n)
	}
	return out
}

// Reverse runs the polygon the other way round.
func (g Polygon) Reverse() Polygon {
	out := make(Polygon, len(g))
	for i, p := range g {
		out[len(g)-1-i] = p
	}
	return out
}

// Path is the polygon as a path of lines.
func (g Polygon) Path() Path {
	out := make(Path, len(g))
	for i, p := range g {
		out[i] = Vertex{Pt: p}
	}
	return out
}

// Contains is the even-odd rule; points on the edge may fall either way.
func (g Polygon) Contains(q Pt) bool {
	in := false
	for i, a := range g {
		b := g[(i+1)%len(g)]
		if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(b.X-a.X)*(q.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// Convex tells whether every corner turns left or runs straight on.
func (g Polygon) Convex() bool {
	n := len(g)
	if n < 3 {
		return false
	}
	for i := range g {
		if g[(i+1)%n].Sub(g[i]).Cross(g[(i+2)%n].Sub(g[(i+1)%n])) < -coincide {
			return false
		}
	}
	return true
}

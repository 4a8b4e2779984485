package geom

// Include grows the box to hold p.
func (r Rect) Include(p Pt) Rect {
	return Rect{Pt{min(r.Min.X, p.X), min(r.Min.Y, p.Y)}, Pt{max(r.Max.X, p.X), max(r.Max.Y, p.Y)}}
}

// Union is the smallest box round both.
func (r Rect) Union(o Rect) Rect { return r.Include(o.Min).Include(o.Max) }

// Grow moves every side outwards by d.
func (r Rect) Grow(d float64) Rect {
	return Rect{Pt{r.Min.X - d, r.Min.Y - d}, Pt{r.Max.X + d, r.Max.Y + d}}
}

// Center is the box's middle.
func (r Rect) Center() Pt { return r.Min.Mid(r.Max) }

// Contains tells whether p lies in the box or on its edge.
func (r Rect) Contains(p Pt) bool {
	return p.X >= r.Min.X && p.X <= r.Max.X && p.Y >= r.Min.Y && p.Y <= r.Max.Y
}

// Overlaps tells whether two boxes share more than an edge.
func (r Rect) Overlaps(o Rect) bool {
	return r.Min.X < o.Max.X && o.Min.X < r.Max.X && r.Min.Y < o.Max.Y && o.Min.Y < r.Max.Y
}

// Path is the box as a path from its lower left corner.
func (r Rect) Path() Path { return Box(r.Min.X, r.Min.Y, r.Max.X, r.Max.Y) }

package separate

import (
	"math"
)

// cellsPerSide is the number of cells along each side of a table. More cells
// mean fewer planes to test near the edge and more memory to walk through.
const cellsPerSide = 32

const (
	cellOut = 0 // no offset in the cell collides
	cellIn  = 1 // every offset collides: depth is interpolated
	cellLow = 2 // first code that means "edge cell": the list starts at code - cellLow
)

// table answers, for one ordered pair of turned shapes a and b, how deep they
// overlap when b's corner lies at offset d from a's. The forbidden offsets are
// the union of the no-fit regions of their convex parts. The table's box is
// divided into cells: most are wholly clear or wholly forbidden, and the
// others list the few planes that matter there.
type table struct {
	ox, oy float64 // low corner of the box
	kx, ky float64 // cells per grid unit
	cells  *[cellsPerSide * cellsPerSide]uint32
	depth  *[(cellsPerSide + 1) * (cellsPerSide + 1)]float32
	lists  []uint16 // parts, then for each part: planes, then their indices
	planes []plane
	parts  []span // planes of each part
	w, h   float64
	sev    severity
	ratio  []float32
	wide   []float64
}

type span struct{ from, to int }

// newTable builds the table of two shapes given by their convex parts. shape
// turns a depth in grid units into the loss of a pair of weight 1.
func newTable(a, b *form, gap float64, shape severity) *table {
	t := &table{sev: shape}
	for _, p := range a.parts {
		for _, q := range b.parts {
			from := len(t.planes)
			t.planes = append(t.planes, noFit(p, q, gap)...)
			t.parts = append(t.parts, span{from, len(t.planes)})
		}
	}
	lox, loy, hix, hiy := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	corners := make([][]fpt, len(t.parts))
	for i, s := range t.parts {
		corners[i] = outline(t.planes[s.from:s.to])
	}
	for _, b := range boxesOf(corners) {
		lox, loy = min(lox, b.lo.x), min(loy, b.lo.y)
		hix, hiy = max(hix, b.hi.x), max(hiy, b.hi.y)
	}
	t.ox, t.oy = math.Floor(lox), math.Floor(loy)
	t.w, t.h = math.Ceil(hix)-t.ox, math.Ceil(hiy)-t.oy
	t.kx, t.ky = cellsPerSide/t.w, cellsPerSide/t.h
	t.cells = new([cellsPerSide * cellsPerSide]uint32)
	t.depth = new([(cellsPerSide + 1) * (cellsPerSide + 1)]float32)
	t.fillDepth(t.border(corners), t.overlapAreas(a, b))
	t.fillCells(corners)
	return t
}

// fillDepth sets the loss at the corners of the cells: the distance to the
// nearest stretch of border. Each corner takes over the nearest stretches of
// its neighbours, first from the stretches that cross the cells around it,
// then in two passes over the whole table (a vector distance transform). That
// can miss the very nearest stretch by a little; inside, depth only steers.
func (t *table) fillDepth(edges []seg, area []float64) {
	const n = cellsPerSide + 1
	var dist [n * n]float64
	var who [n * n]int32
	for k := range dist {
		dist[k] = math.Inf(1)
	}
	try := func(ix, iy int, e int32) {
		k := iy*n + ix
		if e == who[k] && !math.IsInf(dist[k], 1) {
			return
		}
		if d := edges[e].dist2(t.ox+float64(ix)/t.kx, t.oy+float64(iy)/t.ky); d < dist[k] {
			dist[k], who[k] = d, e
		}
	}
	for e := range edges {
		t.crossed(&edges[e], func(ix, iy int) {
			for c := range 4 {
				try(ix+c&1, iy+c>>1, int32(e))
			}
		})
	}
	around := func(ix, iy int) {
		for dy := -1; dy <= 1; dy++ {
			for dx := -1; dx <= 1; dx++ {
				x, y := ix+dx, iy+dy
				if (dx != 0 || dy != 0) && x >= 0 && y >= 0 && x < n && y < n && !math.IsInf(dist[y*n+x], 1) {
					try(ix, iy, who[y*n+x])
				}
			}
		}
	}
	for k := range n * n {
		around(k%n, k/n)
	}
	for k := n*n - 1; k >= 0; k-- {
		around(k%n, k/n)
	}
	t.ratio = make([]float32, n*n)
	for k := range n * n {
		d := math.Sqrt(dist[k])
		t.depth[k] = float32(t.sev.of(area[k], d))
		if t.outside(k) {
			continue
		}
		t.ratio[k] = float32(area[k] / d)
	}
}

func (t *table) outside(k int) bool {
	const n = cellsPerSide + 1
	x, y := t.ox+float64(k%n)/t.kx, t.oy+float64(k/n)/t.ky
	for _, s := range t.parts {
		in := true
		for i := s.from; i < s.to && in; i++ {
			p := &t.planes[i]
			in = p.nx*x+p.ny*y < p.c-1
		}
		if in {
			return false
		}
	}
	return true
}

// crossed calls f for the cells that a stretch of border runs through.
func (t *table) crossed(s *seg, f func(ix, iy int)) {
	ax, ay := (s.a.x-t.ox)*t.kx, (s.a.y-t.oy)*t.ky
	bx, by := (s.b.x-t.ox)*t.kx, (s.b.y-t.oy)*t.ky
	cell := func(v float64) int { return max(0, min(cellsPerSide-1, int(v))) }
	steps := int(max(math.Abs(bx-ax), math.Abs(by-ay))*2) + 1
	lx, ly := -1, -1
	for k := 0; k <= steps; k++ {
		r := float64(k) / float64(steps)
		ix, iy := cell(ax+r*(bx-ax)), cell(ay+r*(by-ay))
		if ix != lx || iy != ly {
			f(ix, iy)
			lx, ly = ix, iy
		}
	}
}

// seg is a piece of a region's border.
type seg struct{ a, b fpt }

func (s *seg) dist2(x, y float64) float64 {
	dx, dy := s.b.x-s.a.x, s.b.y-s.a.y
	px, py := x-s.a.x, y-s.a.y
	if l2 := dx*dx + dy*dy; l2 > 0 {
		k := min(1, max(0, (px*dx+py*dy)/l2))
		px, py = px-k*dx, py-k*dy
	}
	return px*px + py*py
}

// border gives the border of the union of the parts' regions: every edge
// without the stretches that lie inside another part.
func (t *table) border(corners [][]fpt) []seg {
	var out []seg
	boxes := boxesOf(corners)
	for i, c := range corners {
		for k := range c {
			pieces := []seg{{c[k], c[(k+1)%len(c)]}}
			for j, s := range t.parts {
				b := &boxes[j]
				if j == i || b.hi.x < boxes[i].lo.x || b.hi.y < boxes[i].lo.y || b.lo.x > boxes[i].hi.x || b.lo.y > boxes[i].hi.y {
					continue
				}
				var rest []seg
				for _, e := range pieces {
					if max(e.a.x, e.b.x) <= b.lo.x || min(e.a.x, e.b.x) >= b.hi.x || max(e.a.y, e.b.y) <= b.lo.y || min(e.a.y, e.b.y) >= b.hi.y {
						rest = append(rest, e)
						continue
					}
					rest = append(rest, cutAway(e, t.planes[s.from:s.to])...)
				}
				if pieces = rest; len(pieces) == 0 {
					break
				}
			}
			out = append(out, pieces...)
		}
	}
	return out
}

// fbox is a box in grid units.
type fbox struct{ lo, hi fpt }

func boxesOf(corners [][]fpt) []fbox {
	out := make([]fbox, len(corners))
	for i, c := range corners {
		b := fbox{c[0], c[0]}
		for _, v := range c[1:] {
			b.lo.x, b.lo.y = min(b.lo.x, v.x), min(b.lo.y, v.y)
			b.hi.x, b.hi.y = max(b.hi.x, v.x), max(b.hi.y, v.y)
		}
		out[i] = b
	}
	return out
}

// cutAway removes the stretch of e that lies at least one grid unit inside
// all the planes.
func cutAway(e seg, ps []plane) []seg {
	lo, hi := 0.0, 1.0
	for i := range ps {
		p := &ps[i]
		sa := p.nx*e.a.x + p.ny*e.a.y - p.c + 1
		sb := p.nx*e.b.x + p.ny*e.b.y - p.c + 1
		switch {
		case sa >= 0 && sb >= 0:
			return []seg{e}
		case sa >= 0:
			lo = max(lo, sa/(sa-sb))
		case sb >= 0:
			hi = min(hi, sa/(sa-sb))
		}
		if lo >= hi {
			return []seg{e}
		}
	}
	at := func(k float64) fpt { return fpt{e.a.x + k*(e.b.x-e.a.x), e.a.y + k*(e.b.y-e.a.y)} }
	var out []seg
	if lo > 0 {
		out = append(out, seg{e.a, at(lo)})
	}
	if hi < 1 {
		out = append(out, seg{at(hi), e.b})
	}
	return out
}

// fillCells classes every cell and lists the planes of the edge cells. A plane
// is listed when it can be the one nearest to some offset in the cell, so the
// depth found from the list is that of the whole part.
func (t *table) fillCells(corners [][]fpt) {
	boxes := boxesOf(corners)
	hw, hh := 0.5/t.kx, 0.5/t.ky
	ext := make([]float64, len(t.planes))
	for i, p := range t.planes {
		ext[i] = math.Abs(p.nx)*hw + math.Abs(p.ny)*hh
	}
	lo := make([]float64, len(t.planes))
	for iy := range cellsPerSide {
		cy := t.oy + (float64(iy)+0.5)/t.ky
		for ix := range cellsPerSide {
			cx := t.ox + (float64(ix)+0.5)/t.kx
			code := uint32(cellOut)
			start := len(t.lists)
			t.lists = append(t.lists, 0)
			n := uint16(0)
			for k, s := range t.parts {
				if b := &boxes[k]; cx+hw < b.lo.x || cx-hw > b.hi.x || cy+hh < b.lo.y || cy-hh > b.hi.y {
					continue
				}
				low, high := math.Inf(-1), math.Inf(-1)
				for i := s.from; i < s.to; i++ {
					p := &t.planes[i]
					d := p.nx*cx + p.ny*cy - p.c
					lo[i] = d - ext[i]
					low, high = max(low, lo[i]), max(high, d+ext[i])
					if low > near {
						break
					}
				}
				if low > near {
					continue // clear in the whole cell
				}
				if high < -near {
					code = cellIn
					break
				}
				head := len(t.lists)
				t.lists = append(t.lists, 0)
				for i := s.from; i < s.to; i++ {
					if lo[i]+2*ext[i] >= low-near {
						t.lists = append(t.lists, uint16(i))
						t.lists[head]++
					}
				}
				n++
			}
			if code == cellIn || n == 0 {
				t.lists = t.lists[:start]
			} else {
				t.lists[start] = n
				code = uint32(start + cellLow)
				r, c := 0.0, 0.0
				for q := range 16 {
					x, y := ix+q%4-1, iy+q/4-1
					if x >= 0 && y >= 0 && x <= cellsPerSide && y <= cellsPerSide {
						if v := t.ratio[y*(cellsPerSide+1)+x]; v > 0 {
							w := 1.0
							if q%4 == 0 || q%4 == 3 || q/4 == 0 || q/4 == 3 {
								w = 0.1
							}
							r += w * float64(v)
							c += w
						}
					}
				}
				if c > 0 {
					r /= c
				}
				for len(t.wide) <= start {
					t.wide = append(t.wide, 0)
				}
				t.wide[start] = r
			}
			t.cells[iy*cellsPerSide+ix] = code
		}
	}
}

// clear tells exactly whether two shapes at this offset do not overlap.
func (t *table) clear(dx, dy int64) bool {
	for _, s := range t.parts {
		out := false
		for i := s.from; i < s.to && !out; i++ {
			out = t.planes[i].clearOf(dx, dy)
		}
		if !out {
			return false
		}
	}
	return true
}

// edgeDepth is the depth of an offset in an edge cell, 0 when it is clear: the
// largest depth over the parts that the cell lists.
func (t *table) edgeDepth(code uint32, dx, dy float64) float64 {
	l := t.lists[code-cellLow:]
	depth := 0.0
	at := 1
	for range l[0] {
		n := int(l[at])
		idx := l[at+1 : at+1+n]
		at += 1 + n
		m := math.Inf(-1)
		for _, i := range idx {
			if s := t.planes[i].side(dx, dy); s > m {
				if m = s; s >= 0 {
					break
				}
			}
		}
		if -m > depth {
			depth = -m
		}
	}
	return depth
}

// loss is the loss of a pair of weight 1 at an offset of whole grid units.
func (t *table) loss(dx, dy float64) float64 {
	ux, uy := (dx-t.ox)*t.kx, (dy-t.oy)*t.ky
	if !(ux > 0 && uy > 0 && ux < cellsPerSide && uy < cellsPerSide) {
		return 0
	}
	code := t.cells[int(uy)*cellsPerSide+int(ux)]
	if code == cellOut {
		return 0
	}
	return t.within(code, ux, uy, dx, dy)
}

// within is the loss in a cell that is not wholly clear; (ux, uy) is the
// offset counted in cells.
func (t *table) within(code uint32, ux, uy, dx, dy float64) float64 {
	if code != cellIn {
		d := t.edgeDepth(code, dx, dy)
		if d == 0 {
			return 0
		}
		return t.sev.of(d*t.wide[code-cellLow], d)
	}
	const row = cellsPerSide + 1
	ix, iy := int(ux), int(uy)
	n := iy*row + ix
	fx, fy := ux-float64(ix), uy-float64(iy)
	a, b := float64(t.depth[n]), float64(t.depth[n+1])
	c, d := float64(t.depth[n+row]), float64(t.depth[n+row+1])
	low := a + float64(fx*(b-a))
	return low + float64(fy*(c+float64(fx*(d-c))-low))
}

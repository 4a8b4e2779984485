package separate

import "math"

// newTable builds the table of two shapes. sev turns an overlap into the loss
// of a pair of weight 1.
func newTable(a, b *form, gap float64, sev severity) *table {
	t := &table{sev: sev}
	for _, p := range a.parts {
		for _, q := range b.parts {
			from := len(t.planes)
			t.planes = append(t.planes, noFit(p, q, gap)...)
			t.parts = append(t.parts, span{from, len(t.planes)})
		}
	}
	corners := make([][]fpt, len(t.parts))
	boxes := make([]fbox, len(t.parts))
	var all []fpt
	for i, s := range t.parts {
		corners[i] = outline(t.planes[s.from:s.to])
		boxes[i] = boxOf(corners[i]...)
		all = append(all, boxes[i].lo, boxes[i].hi)
	}
	box := boxOf(all...)
	t.ox, t.oy = math.Floor(box.lo.x), math.Floor(box.lo.y)
	t.w, t.h = math.Ceil(box.hi.x)-t.ox, math.Ceil(box.hi.y)-t.oy
	t.kx, t.ky = cellsPerSide/t.w, cellsPerSide/t.h
	depth := t.depths(t.border(corners, boxes))
	area := t.overlapAreas(a, b)
	t.inner = new([cornersPerSide * cornersPerSide]float32)
	for k, d := range depth {
		t.inner[k] = float32(sev.of(area[k], d))
	}
	t.fillCells(boxes)
	t.fillWidths(depth, area)
	return t
}

// depths gives the distance from the corners of the cells to the nearest
// stretch of border. Each corner takes over the nearest stretches of its
// neighbours, first from the stretches that cross the cells around it, then in
// two passes over the whole table (a vector distance transform). That can miss
// the very nearest stretch by a little; inside, depth only steers.
func (t *table) depths(border []seg) []float64 {
	const n = cornersPerSide
	dist := make([]float64, n*n)
	var who [n * n]int32
	for k := range dist {
		dist[k], who[k] = math.Inf(1), -1
	}
	try := func(k int, e int32) {
		if e < 0 || e == who[k] {
			return
		}
		if d := border[e].dist2(t.ox+float64(k%n)/t.kx, t.oy+float64(k/n)/t.ky); d < dist[k] {
			dist[k], who[k] = d, e
		}
	}
	for e := range border {
		t.crossed(&border[e], func(ix, iy int) {
			k := iy*n + ix
			for _, c := range [4]int{k, k + 1, k + n, k + n + 1} {
				try(c, int32(e))
			}
		})
	}
	around := func(k int) {
		ix, iy := k%n, k/n
		for y := max(0, iy-1); y <= min(n-1, iy+1); y++ {
			for x := max(0, ix-1); x <= min(n-1, ix+1); x++ {
				try(k, who[y*n+x])
			}
		}
	}
	for k := range n * n {
		around(k)
	}
	for k := n*n - 1; k >= 0; k-- {
		around(k)
	}
	for k := range dist {
		dist[k] = math.Sqrt(dist[k])
	}
	return dist
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
		ix, iy := cell(ax+float64(r*(bx-ax))), cell(ay+float64(r*(by-ay)))
		if ix != lx || iy != ly {
			f(ix, iy)
			lx, ly = ix, iy
		}
	}
}

// fillCells classes every cell and lists the planes of the edge cells. A plane
// is listed when it can be the one nearest to some offset in the cell, so the
// depth found from the list is that of the whole part.
func (t *table) fillCells(boxes []fbox) {
	t.cells = new([cellsPerSide * cellsPerSide]uint16)
	hw, hh := 0.5/t.kx, 0.5/t.ky
	reach := make([]float64, len(t.planes)) // of half a cell, towards the plane
	for i := range t.planes {
		reach[i] = float64(math.Abs(t.planes[i].nx)*hw) + float64(math.Abs(t.planes[i].ny)*hh)
	}
	low := make([]float64, len(t.planes)) // least distance of the cell's points
	for c := range t.cells {
		cx := t.ox + (float64(c%cellsPerSide)+0.5)/t.kx
		cy := t.oy + (float64(c/cellsPerSide)+0.5)/t.ky
		cell := fbox{fpt{cx - hw, cy - hh}, fpt{cx + hw, cy + hh}}
		start := len(t.lists)
		t.lists = append(t.lists, 0)
		for k, s := range t.parts {
			if cell.apart(&boxes[k]) {
				continue
			}
			most, high := math.Inf(-1), math.Inf(-1)
			for i := s.from; i < s.to && most <= near; i++ {
				p := &t.planes[i]
				d := p.distance(cx, cy)
				low[i] = d - reach[i]
				most, high = max(most, low[i]), max(high, d+reach[i])
			}
			if most > near {
				continue // clear in the whole cell
			}
			if high < -near {
				t.cells[c] = cellIn
				break
			}
			head := len(t.lists)
			t.lists = append(t.lists, 0)
			for i := s.from; i < s.to; i++ {
				if low[i]+float64(2*reach[i]) >= most-near {
					t.lists = append(t.lists, uint16(i))
					t.lists[head]++
				}
			}
			t.lists[start]++
		}
		if t.cells[c] == cellIn || t.lists[start] == 0 {
			t.lists = t.lists[:start]
			continue
		}
		t.cells[c] = uint16(cellLow + len(t.edges))
		t.edges = append(t.edges, edgeCell{list: uint32(start)})
	}
}

// fillWidths sets, for every edge cell, the overlap area per depth: the mean
// over the corners nearby that lie inside the region, those of the cell itself
// counting ten times as much as those one further off.
func (t *table) fillWidths(depth, area []float64) {
	var ratio [cornersPerSide * cornersPerSide]float64
	for k := range ratio {
		if x, y := t.ox+float64(k%cornersPerSide)/t.kx, t.oy+float64(k/cornersPerSide)/t.ky; t.inside(x, y) {
			ratio[k] = area[k] / depth[k]
		}
	}
	for c, code := range t.cells {
		if code < cellLow {
			continue
		}
		sum, count := 0.0, 0.0
		for q := range 16 {
			x, y := c%cellsPerSide+q%4-1, c/cellsPerSide+q/4-1
			if x < 0 || y < 0 || x >= cornersPerSide || y >= cornersPerSide || ratio[y*cornersPerSide+x] == 0 {
				continue
			}
			w := 0.1
			if q == 5 || q == 6 || q == 9 || q == 10 {
				w = 1
			}
			sum += float64(w * ratio[y*cornersPerSide+x])
			count += w
		}
		if count > 0 {
			t.edges[code-cellLow].width = float32(sum / count)
		}
	}
}

// inside tells whether an offset lies at least a unit inside some part.
func (t *table) inside(x, y float64) bool {
	for _, s := range t.parts {
		in := true
		for i := s.from; i < s.to && in; i++ {
			p := &t.planes[i]
			in = p.distance(x, y) < -1
		}
		if in {
			return true
		}
	}
	return false
}

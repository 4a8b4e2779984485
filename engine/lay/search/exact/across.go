package exact

import "slices"

// across searches for places across the goods for pieces whose places along
// them are given. It builds the lay up from the near edge: always in the lowest
// hollow, and of equally low ones the first, either some piece stands in it
// that is the first one there, or it is filled up to its lower wall.
type across struct {
	w      int64
	clock  *clock
	pieces []upright
	lines  []int64 // places along where a piece begins or ends
	high   []int64 // between lines: how far across it is filled
	need   []int64 // between lines: how wide the pieces are that are to come
	left   int
	dead   table
}

type upright struct {
	from, to int // lines
	w        int64
	spot     int
	placed   bool
	y        int64
}

// stack fills in the spots' places across. done is false when the clock's limit
// came first.
func (t *task) stack(spots []spot, c *clock) (ok, done bool) {
	a := &across{w: t.w, clock: c, left: len(spots)}
	for _, s := range spots {
		a.lines = append(a.lines, s.x, s.x+t.opts[s.opt].l)
	}
	slices.Sort(a.lines)
	a.lines = slices.Compact(a.lines)
	a.high, a.need = make([]int64, len(a.lines)), make([]int64, len(a.lines))
	for i, s := range spots {
		o := t.opts[s.opt]
		from, _ := slices.BinarySearch(a.lines, s.x)
		to, _ := slices.BinarySearch(a.lines, s.x+o.l)
		a.pieces = append(a.pieces, upright{from: from, to: to, w: o.w, spot: i})
		for j := from; j < to; j++ {
			a.need[j] += o.w
		}
	}
	// Wide and long ones first; equal ones together, so that only the first of
	// them is tried.
	slices.SortStableFunc(a.pieces, func(p, q upright) int {
		if d := (q.to - q.from) - (p.to - p.from); d != 0 {
			return d
		}
		if p.w != q.w {
			return int(q.w - p.w)
		}
		return p.from - q.from
	})
	ok, done = a.fill()
	if ok {
		for _, p := range a.pieces {
			spots[p.spot].y = p.y
		}
	}
	return ok, done
}

func (a *across) fill() (ok, done bool) {
	if a.left == 0 {
		return true, true
	}
	if !a.clock.tick(1) {
		return false, false
	}
	last := len(a.lines) - 1
	from := 0
	for i := 1; i < last; i++ {
		if a.high[i] < a.high[from] {
			from = i
		}
	}
	to, y := from, a.high[from]
	for to < last && a.high[to] == y {
		to++
	}
	h := newHash()
	for i := range last {
		h.add(a.high[i])
	}
	for i := range a.pieces {
		if a.pieces[i].placed {
			h.add(int64(i))
		}
	}
	if _, dead := a.dead.get(h.a, h.b); dead {
		return false, true
	}
	for i := range a.pieces {
		p := &a.pieces[i]
		if p.placed || p.from < from || p.to > to || y+p.w > a.w {
			continue
		}
		if i > 0 {
			if q := &a.pieces[i-1]; !q.placed && q.from == p.from && q.to == p.to && q.w == p.w {
				continue
			}
		}
		if ok, done = a.stand(p, from, y); ok || !done {
			return ok, done
		}
	}
	if ok, done = a.raise(from, to); ok || !done {
		return ok, done
	}
	a.dead.put(h.a, h.b, 0)
	return false, true
}

// stand puts a piece into the hollow as the first one there, so that what is
// before it in the hollow stays empty up to a wall.
func (a *across) stand(p *upright, from int, y int64) (ok, done bool) {
	p.placed, p.y = true, y
	a.left--
	for j := p.from; j < p.to; j++ {
		a.high[j] += p.w
		a.need[j] -= p.w
	}
	if p.from > from {
		ok, done = a.raise(from, p.from)
	} else {
		ok, done = a.fill()
	}
	if ok {
		return ok, done
	}
	p.placed = false
	a.left++
	for j := p.from; j < p.to; j++ {
		a.high[j] -= p.w
		a.need[j] += p.w
	}
	return false, done
}

// raise fills the lines from..to up to the lower of the walls beside them.
func (a *across) raise(from, to int) (ok, done bool) {
	wall := a.w + 1
	if from > 0 {
		wall = min(wall, a.high[from-1])
	}
	if to < len(a.lines)-1 {
		wall = min(wall, a.high[to])
	}
	if wall > a.w {
		return false, true
	}
	y := a.high[from]
	for j := from; j < to; j++ {
		if wall+a.need[j] > a.w {
			return false, true
		}
	}
	for j := from; j < to; j++ {
		a.high[j] = wall
	}
	ok, done = a.fill()
	for j := from; j < to; j++ {
		a.high[j] = y
	}
	return ok, done
}

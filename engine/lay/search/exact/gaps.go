package exact

// gaps fills goods of one length with hardly any waste: at the hollow nearest
// to the cut end, and of equally near ones the first, it tries every size in
// every way at its near wall, and gives the hollow up to its lower wall as
// waste while the budget lasts. Dead states are remembered. Without a budget
// the search is exhaustive: the corner of the hollow must be covered, and by a
// piece whose own corner it is (Lesh, Marks, McMahon and Mitzenmacher,
// "Exhaustive approaches to 2D rectangular perfect packings", Information
// Processing Letters 90, 2004).
type gaps struct {
	*task
	clock   *clock
	length  int64
	spare   int64 // waste that may still be made
	left    []int
	rest    int
	steps   []tread
	spots   []spot
	across  []bool // sums of widths
	along   []bool // sums of lengths
	perfect bool
	dead    table
}

// tread is a stretch of the front: w across from y is filled up to x.
type tread struct{ x, y, w int64 }

func newGaps(t *task, c *clock, length int64) *gaps {
	g := &gaps{task: t, clock: c, length: length, rest: t.n}
	g.left = append(g.left, t.count...)
	g.spare = length*t.w - t.area()
	g.perfect = g.spare == 0
	g.steps = []tread{{0, 0, t.w}}
	g.across, g.along = make([]bool, t.w+1), make([]bool, length+1)
	g.across[0], g.along[0] = true, true
	for s, n := range t.count {
		for range n {
			g.grow(g.across, s, func(o option) int64 { return o.w })
			g.grow(g.along, s, func(o option) int64 { return o.l })
		}
	}
	return g
}

// grow adds the sums with one more piece of a size.
func (g *gaps) grow(sums []bool, size int, of func(option) int64) {
	for v := len(sums) - 1; v >= 0; v-- {
		for _, i := range g.of[size] {
			if d := int64(v) - of(g.opts[i]); d >= 0 && sums[d] {
				sums[v] = true
			}
		}
	}
}

// run fills the goods. done is false when the clock ended it; where nothing is
// found and there was no spare, there is nothing.
func (g *gaps) run() (found, done bool) {
	if g.spare < 0 {
		return false, true
	}
	return g.fill()
}

func (g *gaps) fill() (found, done bool) {
	if g.rest == 0 {
		return true, true
	}
	if !g.clock.tick(1) {
		return false, false
	}
	at := 0
	for i := range g.steps {
		if g.steps[i].x < g.steps[at].x {
			at = i
		}
	}
	h := newHash()
	for _, n := range g.left {
		h.add(int64(n))
	}
	for _, s := range g.steps {
		h.add(s.x)
		h.add(s.w)
	}
	if _, ok := g.dead.get(h.a, h.b); ok {
		return false, true
	}
	hollow := g.steps[at]
	wall := g.length
	if at > 0 {
		wall = min(wall, g.steps[at-1].x)
	}
	if at+1 < len(g.steps) {
		wall = min(wall, g.steps[at+1].x)
	}
	saved := append([]tread(nil), g.steps...)
	undo := func() { g.steps = append(g.steps[:0], saved...) }
	for _, whole := range [2]bool{true, false} {
		for i, o := range g.opts {
			if g.left[o.size] == 0 || o.w > hollow.w || (o.w == hollow.w) != whole || hollow.x+o.l > g.length {
				continue
			}
			if g.perfect && (!g.across[hollow.w-o.w] || !g.along[g.length-hollow.x-o.l]) {
				continue
			}
			g.left[o.size]--
			g.rest--
			g.spots = append(g.spots, spot{i, hollow.x, hollow.y})
			g.put(at, o)
			if found, done = g.fill(); found || !done {
				return found, done
			}
			undo()
			g.left[o.size]++
			g.rest++
			g.spots = g.spots[:len(g.spots)-1]
		}
	}
	if lost := (wall - hollow.x) * hollow.w; wall > hollow.x && lost <= g.spare {
		g.spare -= lost
		g.steps[at].x = wall
		g.level(at)
		if found, done = g.fill(); found || !done {
			return found, done
		}
		undo()
		g.spare += lost
	}
	g.dead.put(h.a, h.b, 0)
	return false, true
}

// put stands a piece at the near wall of a hollow.
func (g *gaps) put(at int, o option) {
	s := g.steps[at]
	top := tread{s.x + o.l, s.y, o.w}
	if o.w < s.w {
		g.steps = append(g.steps, tread{})
		copy(g.steps[at+1:], g.steps[at:])
		g.steps[at+1] = tread{s.x, s.y + o.w, s.w - o.w}
	}
	g.steps[at] = top
	g.level(at)
}

// level joins a stretch with neighbours that reach as far.
func (g *gaps) level(at int) {
	if at+1 < len(g.steps) && g.steps[at+1].x == g.steps[at].x {
		g.steps[at].w += g.steps[at+1].w
		g.steps = append(g.steps[:at+1], g.steps[at+2:]...)
	}
	if at > 0 && g.steps[at-1].x == g.steps[at].x {
		g.steps[at-1].w += g.steps[at].w
		g.steps = append(g.steps[:at], g.steps[at+1:]...)
	}
}

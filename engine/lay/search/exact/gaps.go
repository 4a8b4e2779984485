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
	sums    [][2]bits // by depth: sums of widths and of lengths of what is left
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
	for range t.n + 1 {
		g.sums = append(g.sums, [2]bits{newBits(t.w), newBits(length)})
	}
	return g
}

// bits are the sums that can be made, as a set.
type bits []uint64

func newBits(most int64) bits { return make(bits, most/64+1) }

func (b bits) has(v int64) bool { return b[v/64]>>(v%64)&1 == 1 }

// add adds the sums with one more piece of a size v.
func (b bits) add(v int64) {
	words, shift := int(v/64), uint(v%64)
	for i := len(b) - 1; i >= words; i-- {
		m := b[i-words] << shift
		if shift > 0 && i > words {
			m |= b[i-words-1] >> (64 - shift)
		}
		b[i] |= m
	}
}

// reckon works out which sums of widths and of lengths what is left can make.
// Where a piece may lie two ways it counts both ways, which is more than can be.
func (g *gaps) reckon() (across, along bits) {
	across, along = g.sums[g.rest][0], g.sums[g.rest][1]
	clear(across)
	clear(along)
	across[0], along[0] = 1, 1
	for _, o := range g.opts {
		for range g.left[o.size] {
			across.add(o.w)
			along.add(o.l)
		}
	}
	return across, along
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
	var across, along bits
	if g.perfect {
		across, along = g.reckon()
		if !across.has(hollow.w) || !along.has(g.length-hollow.x) {
			g.dead.put(h.a, h.b, 0)
			return false, true
		}
	}
	saved := append([]tread(nil), g.steps...)
	undo := func() { g.steps = append(g.steps[:0], saved...) }
	for _, whole := range [2]bool{true, false} {
		for i, o := range g.opts {
			if g.left[o.size] == 0 || o.w > hollow.w || (o.w == hollow.w) != whole || hollow.x+o.l > g.length {
				continue
			}
			if g.perfect && (!across.has(hollow.w-o.w) || !along.has(g.length-hollow.x-o.l)) {
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

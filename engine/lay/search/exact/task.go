package exact

import (
	"slices"

	"slipseat/engine/lay/search/skyline"
)

// option is one way in which a size may lie, in whole steps: l along, w across.
type option struct {
	size int
	l, w int64
	way  int // index into the grid's ways of the size
}

// task is what is to be packed: how many of each size, on goods of a width.
// Equal sizes are one.
type task struct {
	w     int64
	count []int    // by size
	opts  []option // widest first, of equally wide ones the longest
	of    [][]int  // by size: its options
	kinds [][]int  // by size: the grid's kinds
	n     int
	g     *skyline.Grid
	// gap and wide are the gap across, which is part of the options' widths, and
	// how wide pieces side by side are together at most without it.
	gap, wide int64
}

func newTask(g *skyline.Grid) *task {
	t := &task{w: g.W, g: g, gap: g.GapY, wide: g.Wide}
	type sides struct{ l0, w0, l1, w1 int64 }
	seen := map[sides]int{}
	for k, ways := range g.Sizes {
		if g.Count[k] == 0 {
			continue
		}
		key := sides{l0: ways[0].L, w0: ways[0].W}
		if len(ways) > 1 {
			key.l1, key.w1 = ways[1].L, ways[1].W
		}
		s, ok := seen[key]
		if !ok {
			s = len(t.count)
			seen[key] = s
			t.count, t.kinds = append(t.count, 0), append(t.kinds, nil)
			for i, z := range ways {
				t.opts = append(t.opts, option{s, z.L, z.W, i})
			}
		}
		t.count[s] += g.Count[k]
		t.kinds[s] = append(t.kinds[s], k)
		t.n += g.Count[k]
	}
	t.sort()
	return t
}

func (t *task) sort() {
	slices.SortStableFunc(t.opts, func(a, b option) int {
		if a.w != b.w {
			return int(b.w - a.w)
		}
		return int(b.l - a.l)
	})
	t.of = make([][]int, len(t.count))
	for i, o := range t.opts {
		t.of[o.size] = append(t.of[o.size], i)
	}
}

// side is the task with along and across exchanged, on goods as wide as a
// length; ok is false when a piece has no room there.
func (t *task) side(length int64) (*task, bool) {
	s := &task{w: length, count: t.count, kinds: t.kinds, n: t.n, g: t.g, gap: t.g.GapX, wide: length}
	if s.gap > 0 {
		s.wide = max(1, length-s.gap-1)
	}
	for _, o := range t.opts {
		if o.l <= length && o.w <= t.w {
			s.opts = append(s.opts, option{o.size, o.w, o.l, o.way})
		}
	}
	s.sort()
	for i, os := range s.of {
		if len(os) == 0 && t.count[i] > 0 {
			return nil, false
		}
	}
	return s, true
}

// bare is the task for proofs: lengths grown by the gap, widths not. Pieces
// less than the gap apart along the goods lie beside each other, some way apart
// across, so bare widths on one line are less than the goods together, whatever
// corners do. Where there is no gap it is the task itself.
func (t *task) bare() *task {
	if t.gap == 0 {
		return t
	}
	b := *t
	b.w, b.opts = t.wide, slices.Clone(t.opts)
	for i := range b.opts {
		b.opts[i].w = min(b.opts[i].w-t.gap, b.w)
	}
	return &b
}

// core is the task with the large pieces alone, those of at least a share of the
// largest one's area; nil when that leaves nothing out. Small pieces often lie
// in what the large ones leave, and only make a proof long.
func (t *task) core(share float64) *task {
	area := func(size int) float64 {
		o := t.opts[t.of[size][0]]
		return float64(o.l) * float64(o.w)
	}
	most := 0.0
	for s := range t.count {
		most = max(most, area(s))
	}
	c := &task{w: t.w, g: t.g, gap: t.gap, wide: t.wide}
	for s, n := range t.count {
		if area(s) < share*most {
			continue
		}
		for _, i := range t.of[s] {
			o := t.opts[i]
			o.size = len(c.count)
			c.opts = append(c.opts, o)
		}
		c.count, c.kinds = append(c.count, n), append(c.kinds, t.kinds[s])
		c.n += n
	}
	if len(c.count) == len(t.count) {
		return nil
	}
	c.sort()
	return c
}

// shortest is the least length of a size among its options.
func (t *task) shortest(size int) int64 {
	l := t.opts[t.of[size][0]].l
	for _, i := range t.of[size] {
		l = min(l, t.opts[i].l)
	}
	return l
}

func (t *task) area() int64 {
	sum := int64(0)
	for s, n := range t.count {
		o := t.opts[t.of[s][0]]
		sum += int64(n) * o.l * o.w
	}
	return sum
}

// spot is a piece at a place, in steps.
type spot struct {
	opt  int
	x, y int64
}

// puts turns spots, one for every piece, into puts of the instance.
func (t *task) puts(spots []spot) []skyline.Put {
	used := make([]int, len(t.g.Count))
	var out []skyline.Put
	for _, s := range spots {
		o := t.opts[s.opt]
		for _, k := range t.kinds[o.size] {
			if used[k] < t.g.Count[k] {
				used[k]++
				out = append(out, t.g.Put(k, t.g.Sizes[k][o.way], s.x, s.y))
				break
			}
		}
	}
	return out
}

// clock counts evaluations and hands control back now and then.
type clock struct {
	used, limit, asked int64
	pause              func() bool // false: stop for good
	stopped            bool
}

// pauseEvery is how many evaluations pass between two pauses: well under a
// millisecond.
const pauseEvery = 2048

// tick counts evaluations; it is false when the limit is reached or the search
// is to end.
func (c *clock) tick(n int64) bool {
	c.used += n
	if c.used-c.asked >= pauseEvery && !c.stopped {
		c.asked = c.used
		if c.pause != nil && !c.pause() {
			c.stopped = true
		}
	}
	return !c.stopped && c.used < c.limit
}

// allow sets the limit to so many evaluations from now.
func (c *clock) allow(n int64) { c.limit = c.used + n }

// table remembers states, by 128 bits of hash, with a number each. When it is
// full it forgets.
type table struct {
	at    []entry
	count int
}

type entry struct {
	a, b uint64
	v    int64
}

const (
	tableStart = 1 << 12
	tableMost  = 1 << 20
	tableProbe = 8
)

func (m *table) clear() {
	if len(m.at) > tableStart*16 {
		m.at = nil
	}
	clear(m.at)
	m.count = 0
}

// get gives the number kept for a state.
func (m *table) get(a, b uint64) (int64, bool) {
	if len(m.at) == 0 {
		return 0, false
	}
	mask := uint64(len(m.at) - 1)
	for i := uint64(0); i < tableProbe; i++ {
		e := &m.at[(a+i)&mask]
		if e.a == a && e.b == b {
			return e.v, true
		}
		if e.a == 0 && e.b == 0 {
			return 0, false
		}
	}
	return 0, false
}

func (m *table) put(a, b uint64, v int64) {
	if m.count*2 >= len(m.at) && len(m.at) < tableMost {
		old := m.at
		m.at, m.count = make([]entry, max(tableStart, 2*len(old))), 0
		for _, e := range old {
			if e.a != 0 || e.b != 0 {
				m.put(e.a, e.b, e.v)
			}
		}
	}
	mask := uint64(len(m.at) - 1)
	for i := uint64(0); i < tableProbe; i++ {
		e := &m.at[(a+i)&mask]
		if e.a == 0 && e.b == 0 {
			m.count++
			*e = entry{a, b, v}
			return
		}
		if e.a == a && e.b == b {
			e.v = v
			return
		}
	}
	m.at[(a+b%tableProbe)&mask] = entry{a, b, v}
}

// hash grows by numbers; two streams make up 128 bits.
type hash struct{ a, b uint64 }

func newHash() hash { return hash{0x9E3779B97F4A7C15, 0xC2B2AE3D27D4EB4F} }

func (h *hash) add(v int64) {
	h.a = (h.a ^ uint64(v)) * 0xD6E8FEB86659FD93
	h.a ^= h.a >> 32
	h.b = (h.b + uint64(v)) * 0xA0761D6478BD642F
	h.b ^= h.b >> 29
}

package bars

import (
	"math"
	"math/rand/v2"
	"slices"
)

// put is a bar that lies.
type put struct {
	opt, bin int
	x        int64
}

// verdict is the outcome of a search for a lay no longer than a target.
type verdict uint8

const (
	none  verdict = iota // every order was looked at: there is no such lay
	found                // there are such places along, or such a lay
	tired                // the nodes were used up
)

// memoSize is how many dead ends are remembered.
const memoSize = 1 << 17

const nowhere = math.MaxInt64

// searcher looks for places along the goods with one setting of the phase.
type searcher struct {
	m      *Model
	pots   []potential
	base   []float64 // by option
	end    int64     // goods allowed on the last bin, with the gap
	limit  int64
	nodes  int64
	asked  int64
	stop   func() bool
	accept func([]put) bool
	reject bool
	left   []int
	n      int
	puts   []put
	most   int64 // longest bar
	gap    int64 // between boxes across; 0 for shapes, which are grown
	xs     [][]int64
	order  [][]int
	dead   map[[2]uint64]struct{}
	need   []float64
	result verdict
	ends   []int64 // of bars on a line, for fits
	// layable: places across are looked for at every step. That proves nothing,
	// but does not lose itself in places along that have none.
	layable bool
	// extra is what an option costs more than the best of its kind, by the best
	// weights, in units along; noise is added to it, to try other orders.
	extra, noise []float64
	sizes        []int64
}

func newSearcher(m *Model, pots []potential, phase float64) *searcher {
	s := &searcher{m: m, pots: pots, n: m.n, left: slices.Clone(m.count), dead: map[[2]uint64]struct{}{}}
	for range m.n + len(m.bins) + 1 {
		s.xs = append(s.xs, make([]int64, len(m.opts)))
		s.order = append(s.order, make([]int, 0, len(m.opts)))
	}
	for _, o := range m.opts {
		s.most = max(s.most, o.l)
		s.base = append(s.base, o.base+float64(phase*perMM))
	}
	if m.boxes {
		s.gap = int64(math.Floor(m.gap * perMM))
	}
	for i := range pots {
		s.need = append(s.need, m.total(&pots[i]))
	}
	s.noise = make([]float64, len(m.opts))
	for i, o := range m.opts {
		s.extra = append(s.extra, 2*pots[0].reach[i]*pots[0].weight[i]-pots[0].worth[o.kind])
	}
	return s
}

// shake sets new noise.
func (s *searcher) shake(r *rand.Rand) {
	for i, o := range s.m.opts {
		s.noise[i] = r.Float64() * noiseShare * float64(o.l)
	}
}

const (
	// noiseShare is the greatest noise, as a share of a bar's length, and
	// waitShare what waiting for a later place costs, as a share of the wait.
	noiseShare = 0.15
	waitShare  = 0.4
)

func (s *searcher) find(end, limit int64) verdict {
	s.end, s.limit, s.nodes, s.asked = end, limit, 0, 0
	s.puts = s.puts[:0]
	s.result = none
	s.node(0, 0, math.MinInt64, -1)
	return s.result
}

// asks tells whether the search is to stop; it asks now and then.
func (s *searcher) asks() bool {
	if s.nodes-s.asked < askEvery {
		return false
	}
	s.asked = s.nodes
	return s.stop()
}

// askEvery is how many nodes pass between two questions: some milliseconds.
const askEvery = 512

// endOf is how far pieces may reach in a bin, with the gap.
func (s *searcher) endOf(bin int) int64 {
	if b := &s.m.bins[bin]; b.l > 0 {
		return b.l
	}
	return s.end
}

func (s *searcher) node(depth, bin int, last int64, lastOpt int) bool {
	s.nodes++
	if s.nodes > s.limit || s.asks() {
		s.result = tired
		return true
	}
	if s.n == 0 {
		if s.accept(s.puts) {
			s.result = found
			return true
		}
		s.reject = true
		return false
	}
	open := bin == len(s.m.bins)-1
	end := s.endOf(bin)
	xs := s.xs[depth]
	fresh := depth == 0 || len(s.puts) == 0 || s.puts[len(s.puts)-1].bin != bin
	before := int64(nowhere)
	fits := false
	for i := range s.m.opts {
		o := &s.m.opts[i]
		if s.left[o.kind] == 0 {
			xs[i] = nowhere
			continue
		}
		from := o.head
		if !fresh {
			from = s.xs[depth-1][i]
		}
		xs[i] = nowhere
		if from == nowhere {
			continue
		}
		x := s.first(i, bin, from, end)
		if x == nowhere {
			continue
		}
		xs[i], fits = x, true
		before = min(before, x+o.l)
	}
	if open && !s.possible(bin, xs, last) {
		return false
	}
	var key [2]uint64
	if !s.layable {
		key = s.key(bin, xs, last, lastOpt)
		if _, ok := s.dead[key]; ok {
			return false
		}
	}
	order := s.order[depth][:0]
	for i, x := range xs {
		if x == nowhere || x >= before || x < last || x == last && i < lastOpt {
			continue
		}
		order = append(order, i)
	}
	slices.SortFunc(order, func(a, b int) int {
		p, q := s.cost(a, xs[a]), s.cost(b, xs[b])
		switch {
		case p < q:
			return -1
		case p > q:
			return 1
		}
		return a - b
	})
	s.order[depth] = order
	for _, i := range order {
		x := xs[i]
		if s.layable {
			x = s.across(i, bin, x, end)
		}
		if x != nowhere && s.put(depth, bin, i, x) {
			return true
		}
	}
	if !open && !fits {
		if s.node(depth+1, bin+1, math.MinInt64, -1) {
			return true
		}
	}
	if !s.layable && len(s.dead) < memoSize {
		s.dead[key] = struct{}{}
	}
	return false
}

// cost says in which order options are tried: first those that lie the way the
// weights favour and need not wait, of those the widest.
func (s *searcher) cost(i int, x int64) float64 {
	return s.extra[i] + s.noise[i] + waitShare*float64(x) - float64(s.m.opts[i].w)/64
}

func (s *searcher) put(depth, bin, i int, x int64) bool {
	k := s.m.opts[i].kind
	s.left[k]--
	s.n--
	for p := range s.need {
		s.need[p] -= s.pots[p].worth[k]
	}
	s.puts = append(s.puts, put{i, bin, x})
	over := s.node(depth+1, bin, x, i)
	s.puts = s.puts[:len(s.puts)-1]
	for p := range s.need {
		s.need[p] += s.pots[p].worth[k]
	}
	s.n++
	s.left[k]++
	return over
}

// across gives the first of a few places from x on that leave places across
// for all that lies, or nowhere.
func (s *searcher) across(i, bin int, x, end int64) int64 {
	for range acrossTries {
		s.puts = append(s.puts, put{i, bin, x})
		spots, tries := s.m.across(s.puts)
		s.puts = s.puts[:len(s.puts)-1]
		s.nodes += 1 + tries/triesPerNode
		if spots != nil {
			return x
		}
		if s.nodes > s.limit {
			break
		}
		next := int64(nowhere)
		for _, u := range s.puts {
			if e := u.x + s.m.opts[u.opt].l; u.bin == bin && e > x {
				next = min(next, e)
			}
		}
		for _, w := range s.m.bins[bin].walls {
			if w.x1 > x {
				next = min(next, w.x1)
			}
		}
		if next == nowhere {
			break
		}
		if x = s.first(i, bin, next+slack, end); x == nowhere {
			break
		}
	}
	return nowhere
}

const (
	acrossTries = 4
	// triesPerNode is how many tries across take the time of a state.
	triesPerNode = 4
)

// first is the first place of an option from x on.
func (s *searcher) first(i, bin int, x, end int64) int64 {
	o := &s.m.opts[i]
	x = max(x, o.head)
	v := s.m.step * perMM
	for {
		if v > 0 {
			k := math.Ceil((float64(x-slack) - s.base[i]) / v)
			x = max(x-slack, int64(math.Round(s.base[i]+float64(k*v))))
		}
		if x+o.l+o.tail > end+slack {
			return nowhere
		}
		next := s.blocked(o, bin, x)
		if next < 0 {
			return x
		}
		x = next
	}
}

// blocked tells where the next place to try is when an option has no room at x,
// or -1 when it has.
func (s *searcher) blocked(o *option, bin int, x int64) int64 {
	b := &s.m.bins[bin]
	if next := s.line(o, b, bin, x, x); next >= 0 {
		return next
	}
	for j := len(s.puts) - 1; j >= 0 && s.puts[j].bin == bin; j-- {
		if u := &s.puts[j]; u.x > x && u.x < x+o.l-slack {
			if next := s.line(o, b, bin, x, u.x); next >= 0 {
				return next
			}
		} else if u.x+s.most <= x {
			break
		}
	}
	for _, w := range b.walls {
		if w.x0 > x && w.x0 < x+o.l-slack {
			if next := s.line(o, b, bin, x, w.x0); next >= 0 {
				return next
			}
		}
	}
	return -1
}

// line tells whether an option at x has room on one line, together with what
// lies there: -1, or else the first line at which that can change.
func (s *searcher) line(o *option, b *bin, bin int, x, at int64) int64 {
	next := int64(nowhere)
	bare := o.w
	full := o.w + s.gap // with the gap to neighbours, where all have begun and none has ended
	ending := s.gap > 0 && at >= x+o.l-s.gap-slack
	if ending {
		full = o.w - s.gap
	}
	s.sizes = append(s.sizes[:0], o.w)
	for j := len(s.puts) - 1; j >= 0 && s.puts[j].bin == bin; j-- {
		u := &s.puts[j]
		if u.x+s.most <= at {
			break
		}
		q := &s.m.opts[u.opt]
		end := u.x + q.l
		if u.x > at || end-slack <= at {
			continue // not there, or as good as gone
		}
		bare += q.w
		s.sizes = append(s.sizes, q.w)
		if s.gap > 0 && end-s.gap-slack > at {
			full += q.w + s.gap
			next = min(next, end-s.gap)
		} else {
			full += q.w - s.gap
			ending = ending || s.gap > 0
			next = min(next, end)
		}
	}
	walls := false
	for i := range b.walls {
		if w := &b.walls[i]; w.x0 <= at && at < w.x1-slack {
			walls = true
			if at < w.x1-s.gap-slack {
				next = min(next, w.x1-s.gap)
			} else {
				ending = true
				next = min(next, w.x1)
			}
		}
	}
	ok := bare <= b.w && full <= b.w+s.gap
	if ok && walls {
		rooms := b.rooms(at)
		if s.gap > 0 && !ending {
			// Everything on the line is there with its full width, so the gaps
			// between the pieces and to the walls are all kept on it.
			for i := range s.sizes {
				s.sizes[i] += s.gap
			}
			for i := range rooms {
				if rooms[i].inner {
					rooms[i].size -= s.gap
				}
			}
		}
		ok = packs(s.sizes, rooms)
	}
	if ok {
		return -1
	}
	return next
}

// packs tells whether widths can be shared out to rooms.
func packs(sizes []int64, rooms []room) bool {
	if len(sizes) == 0 {
		return true
	}
	// The largest first; with few of each that is quick.
	big := 0
	for i, v := range sizes {
		if v > sizes[big] {
			big = i
		}
	}
	v := sizes[big]
	sizes[big], sizes[0] = sizes[0], sizes[big]
	defer func() { sizes[big], sizes[0] = sizes[0], sizes[big] }()
	for r := range rooms {
		if v > rooms[r].size {
			continue
		}
		rooms[r].size -= v
		ok := packs(sizes[1:], rooms)
		rooms[r].size += v
		if ok {
			return true
		}
	}
	return false
}

// possible tells whether what is left can still find room.
func (s *searcher) possible(bin int, xs []int64, last int64) bool {
	for k, n := range s.left {
		ok := n == 0
		for i := 0; i < len(xs) && !ok; i++ {
			ok = xs[i] != nowhere && s.m.opts[i].kind == k
		}
		if !ok {
			return false
		}
	}
	for p := range s.pots {
		pot := &s.pots[p]
		from := math.Inf(1)
		for i, x := range xs {
			if x != nowhere {
				from = math.Min(from, float64(max(x, last))+float64(s.m.opts[i].l)/2-pot.reach[i])
			}
		}
		room := float64(s.end) + pot.after - from - pot.tolls(from, float64(s.end)+pot.after)
		for j := len(s.puts) - 1; j >= 0 && s.puts[j].bin == bin; j-- {
			u := s.puts[j]
			mid := float64(u.x) + float64(s.m.opts[u.opt].l)/2
			if hi := mid + pot.reach[u.opt]; hi > from {
				room -= pot.weight[u.opt] * (hi - math.Max(from, mid-pot.reach[u.opt]))
			}
		}
		if s.need[p] > room+float64(slack*(s.n+2)) {
			return false
		}
	}
	return true
}

// key names a state by what is left, where it could lie and what stands in its
// way: states with the same key have the same ends.
func (s *searcher) key(bin int, xs []int64, last int64, lastOpt int) [2]uint64 {
	a, b := uint64(bin)+0x9E3779B97F4A7C15, uint64(0xC2B2AE3D27D4EB4F)
	mix := func(v uint64) {
		a = (a ^ v) * 0xFF51AFD7ED558CCD
		a ^= a >> 32
		b = (b + v) * 0xC4CEB9FE1A85EC53
		b ^= b >> 29
	}
	for _, n := range s.left {
		mix(uint64(n))
	}
	from := int64(nowhere)
	for i, x := range xs {
		v := uint64(x) << 1
		if x < last || x == last && i < lastOpt {
			v |= 1
		}
		mix(v)
		from = min(from, x)
	}
	// Bars that stand beyond the first place, the order of putting left out.
	s.ends = s.ends[:0]
	for j := len(s.puts) - 1; j >= 0 && s.puts[j].bin == bin; j-- {
		u := &s.puts[j]
		if u.x+s.most <= from {
			break
		}
		if o := &s.m.opts[u.opt]; u.x+o.l > from {
			s.ends = append(s.ends, u.x+o.l, o.w, max(u.x, from))
		}
	}
	s.mixStanding(mix)
	return [2]uint64{a, b}
}

// mixStanding mixes the standing bars in a fixed order.
func (s *searcher) mixStanding(mix func(uint64)) {
	n := len(s.ends) / 3
	for i := 1; i < n; i++ {
		for j := i; j > 0 && s.lessStanding(j, j-1); j-- {
			for c := range 3 {
				s.ends[3*j+c], s.ends[3*j-3+c] = s.ends[3*j-3+c], s.ends[3*j+c]
			}
		}
	}
	for _, v := range s.ends {
		mix(uint64(v))
	}
}

func (s *searcher) lessStanding(i, j int) bool {
	for c := range 3 {
		if p, q := s.ends[3*i+c], s.ends[3*j+c]; p != q {
			return p < q
		}
	}
	return false
}

package columns

import (
	"math"
	"math/rand/v2"
	"slices"
)

// put is a piece that lies: a spot, a bin and the middle of its box along.
type put struct {
	spot, bin int
	x         int64
}

// verdict is the outcome of a search for a lay no longer than a target.
type verdict uint8

const (
	none  verdict = iota // every order was looked at: there is no such lay
	found                // there is one
	tired                // the nodes were used up
)

// memoSize is how many dead ends are remembered.
const memoSize = 1 << 17

// searcher looks for a lay with one setting of the phases.
type searcher struct {
	t      *table
	target int64 // length allowed along the last bin
	limit  int64 // nodes left
	nodes  int64
	asked  int64
	stop   func() bool
	accept func([]put) bool
	reject bool // a lay was refused
	// extra is what a kind of piece costs more in one turn than in the best, by
	// the best weights, in units along; noise is added to it.
	extra, noise []float64
	left         []int // pieces left by kind of the problem
	n            int
	puts         []put
	lb           [][]int64 // by depth: the first place each spot may take, before rounding
	xs           [][]int64
	order        [][]int
	dead         map[[2]uint64]struct{}
	need         []float64 // by potential: worth of the pieces left
	length       []int64   // of the bins
	result       verdict
}

func newSearcher(t *table) *searcher {
	m := t.m
	s := &searcher{t: t, n: m.n, left: slices.Clone(m.count), dead: map[[2]uint64]struct{}{}}
	for range m.n + len(m.p.Bins) + 1 {
		s.lb = append(s.lb, make([]int64, len(t.spots)))
		s.xs = append(s.xs, make([]int64, len(t.spots)))
		s.order = append(s.order, make([]int, 0, len(t.spots)))
	}
	for _, b := range m.p.Bins {
		s.length = append(s.length, int64(math.Floor((b.Length.MM()+give)*perMM)))
	}
	s.extra, s.noise = make([]float64, len(m.kinds)), make([]float64, len(m.kinds))
	best := 0
	for i := range t.pots {
		if m.total(&t.pots[i]) > m.total(&t.pots[best]) {
			best = i
		}
	}
	if len(t.pots) > 0 {
		p := &t.pots[best]
		for i, k := range m.kinds {
			s.extra[i] = 2*p.reach[i]*p.weight[i] - p.worth[k.of]
		}
	}
	for i := range t.pots {
		s.need = append(s.need, m.total(&t.pots[i]))
	}
	return s
}

// find looks for a lay no longer than target within so many nodes.
func (s *searcher) find(target, limit int64) verdict {
	s.target, s.limit, s.nodes, s.asked = target, limit, 0, 0
	s.length[len(s.length)-1] = target
	s.puts = s.puts[:0]
	s.result = none
	if len(s.t.spots) == 0 {
		return none
	}
	clear(s.lb[0])
	s.node(0, 0, math.MinInt64, -1)
	return s.result
}

// node goes on from a state: bin is the one being filled, last the place and
// spot of the piece laid last in it. It is true when the search is over.
func (s *searcher) node(depth, bin int, last int64, lastSpot int) bool {
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
	t := s.t
	xs, lb := s.xs[depth], s.lb[depth]
	end := s.length[bin]
	open := bin == len(s.length)-1
	// Where each spot would take a piece, and the first place behind which no
	// other piece minds the one that lies there.
	before := int64(math.MaxInt64)
	for i := range t.spots {
		sp := &t.spots[i]
		xs[i] = math.MaxInt64
		if !sp.in[bin] || s.left[t.m.kinds[sp.kind].of] == 0 {
			continue
		}
		x := t.first(sp, bin, lb[i])
		if x+sp.half > end {
			continue
		}
		xs[i] = x
		before = min(before, x+t.most[i])
	}
	if open && (!s.allFit(xs) || !s.enough(bin, xs, last)) {
		return false
	}
	key := s.key(bin, xs, last, lastSpot)
	if _, ok := s.dead[key]; ok {
		return false
	}
	order := s.order[depth][:0]
	fits := false
	for i, x := range xs {
		if x == math.MaxInt64 {
			continue
		}
		fits = true
		if x >= before || x < last || x == last && i <= lastSpot {
			continue
		}
		order = append(order, i)
	}
	slices.SortFunc(order, func(a, b int) int { return s.compare(a, b, xs) })
	for _, i := range order {
		if s.put(depth, bin, i, xs[i]) {
			return true
		}
	}
	s.order[depth] = order
	if !open && !fits {
		// A piece at hand is left only when nothing more fits on it.
		clear(s.lb[depth+1])
		if s.node(depth+1, bin+1, math.MinInt64, -1) {
			return true
		}
	}
	if len(s.dead) < memoSize {
		s.dead[key] = struct{}{}
	}
	return false
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

// compare orders the pieces that may come next: those first that lie the way
// the weights favour and need not wait, of those the widest.
func (s *searcher) compare(a, b int, xs []int64) int {
	p, q := s.cost(a, xs[a]), s.cost(b, xs[b])
	switch {
	case p < q:
		return -1
	case p > q:
		return 1
	}
	return a - b
}

func (s *searcher) cost(i int, x int64) float64 {
	sp := &s.t.spots[i]
	k := &s.t.m.kinds[sp.kind]
	return s.extra[sp.kind] + s.noise[sp.kind] + waitShare*float64(x-sp.half) - float64(k.w*perMM)/64
}

// shake sets new noise.
func (s *searcher) shake(r *rand.Rand) {
	for i, k := range s.t.m.kinds {
		s.noise[i] = r.Float64() * noiseShare * k.l * perMM
	}
}

const (
	// noiseShare is the greatest noise, as a share of a piece's length, and
	// waitShare what waiting for a later place costs, as a share of the wait.
	noiseShare = 0.3
	waitShare  = 0.4
	// shakeNodes is how many nodes for each piece one order is followed.
	shakeNodes = 12
)

// search looks in several orders first, a little while in each, and then
// through all of them.
func (s *searcher) search(target, limit int64, r *rand.Rand) (verdict, int64) {
	some := int64(shakeNodes * (s.t.m.n + 4))
	used := int64(0)
	for used+some < limit/2 {
		v := s.find(target, some)
		used += s.nodes
		if v != tired || s.stop() {
			return v, used
		}
		s.shake(r)
	}
	clear(s.noise)
	v := s.find(target, limit-used)
	return v, used + s.nodes
}

func sign(v int64) int {
	if v < 0 {
		return -1
	}
	if v > 0 {
		return 1
	}
	return 0
}

func (s *searcher) put(depth, bin, i int, x int64) bool {
	t := s.t
	k := t.m.kinds[t.spots[i].kind].of
	s.left[k]--
	s.n--
	for p := range s.need {
		s.need[p] -= t.pots[p].worth[k]
	}
	s.puts = append(s.puts, put{i, bin, x})
	next, lb, far := s.lb[depth+1], s.lb[depth], t.far[i]
	for j := range next {
		next[j] = lb[j]
		if far[j] > 0 {
			next[j] = max(lb[j], x+far[j])
		}
	}
	over := s.node(depth+1, bin, x, i)
	s.puts = s.puts[:len(s.puts)-1]
	for p := range s.need {
		s.need[p] += t.pots[p].worth[k]
	}
	s.n++
	s.left[k]++
	return over
}

// allFit tells whether every kind that is left has a place below the end.
func (s *searcher) allFit(xs []int64) bool {
	for k, n := range s.left {
		ok := n == 0
		for i := 0; i < len(xs) && !ok; i++ {
			ok = xs[i] != math.MaxInt64 && s.t.m.kinds[s.t.spots[i].kind].of == k
		}
		if !ok {
			return false
		}
	}
	return true
}

// enough tells whether by every potential the rest of the open goods can hold
// the pieces left.
func (s *searcher) enough(bin int, xs []int64, last int64) bool {
	t := s.t
	for p := range t.pots {
		pot := &t.pots[p]
		from := math.Inf(1)
		for i, x := range xs {
			if x != math.MaxInt64 {
				from = math.Min(from, float64(max(x, last))-pot.reach[t.spots[i].kind])
			}
		}
		room := float64(s.target) + pot.after - from
		for i := len(s.puts) - 1; i >= 0 && s.puts[i].bin == bin; i-- {
			u := s.puts[i]
			k := t.spots[u.spot].kind
			x := float64(u.x)
			if hi := x + pot.reach[k]; hi > from {
				room -= pot.weight[k] * (hi - math.Max(from, x-pot.reach[k]))
			}
		}
		if s.need[p] > room+4 {
			return false
		}
	}
	return true
}

// key names a state by what is left and where it could lie: states with the
// same key have the same ends.
func (s *searcher) key(bin int, xs []int64, last int64, lastSpot int) [2]uint64 {
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
	for i, x := range xs {
		v := uint64(x) << 1
		if x < last || x == last && i <= lastSpot {
			v |= 1
		}
		mix(v)
	}
	return [2]uint64{a, b}
}

package exact

import "slices"

// columns searches for places along the goods alone: for every piece where it
// begins, so that on no line across the pieces are wider together than the
// goods. Every lay gives such places, so where there are none there is no lay
// (the contiguous one-dimensional relaxation: Martello, Monaci and Vigo, "An
// exact approach to the strip-packing problem", INFORMS Journal on Computing
// 15, 2003; Cote, Dell'Amico and Iori, "Combinatorial Benders' cuts for the
// strip packing problem", Operations Research 62, 2014).
//
// Pieces begin at the cut end or where another ends; any lay can be pushed so.
// The search goes along the goods, from one such line to the next, and
// remembers which states are dead: by what is left and what still stands, the
// greatest length for the rest that is too short. That holds for trials of
// other lengths as well.
type columns struct {
	*task
	clock   *clock
	length  int64
	weights []weight
	left    []int   // by size: pieces to place
	owed    []int64 // by weight: what they count together
	stand   []standing
	free    int64
	spots   []spot
	dead    *table
	// slack: pieces may also wait where they would fit at no cost. Without it
	// fewer states are seen, but of the lays that go with them some are missed.
	slack bool
	// reached is asked about every complete set of places; true ends the search.
	reached func(spots []spot) bool
	// fits, when set, is asked about pieces whose places along are settled; false
	// means that they have no places across.
	fits  func(spots []spot) bool
	found bool // reached said yes
	seen  int  // complete sets of places so far
}

type standing struct {
	end int64
	opt int
}

func newColumns(t *task, c *clock, weights []weight, length int64) *columns {
	s := &columns{task: t, clock: c, length: length, weights: weights, left: slices.Clone(t.count), free: t.w, dead: &table{}}
	for _, w := range weights {
		sum := int64(0)
		for i, n := range s.left {
			sum += int64(n) * w.each[i]
		}
		s.owed = append(s.owed, sum)
	}
	return s
}

// run is true when the search came to its end.
func (s *columns) run() bool {
	for i, w := range s.weights {
		if s.owed[i] > s.length*w.most {
			return true
		}
	}
	for size, n := range s.left {
		if n > 0 && s.shortest(size) > s.length {
			return true
		}
	}
	return s.at(0, 0)
}

// at goes on from a line at which options before from are decided. It is false
// when the search must end.
func (s *columns) at(x int64, from int) bool {
	if !s.clock.tick(1) {
		return false
	}
	idle := true // no piece is left that could begin here without being in the way
	next := s.length
	if len(s.stand) > 0 {
		next = s.stand[0].end
	}
	for i, o := range s.opts {
		if s.left[o.size] == 0 || o.w > s.free || x+o.l > s.length {
			continue
		}
		if x+o.l <= next {
			idle = false
		}
		if i < from {
			continue
		}
		if s.begin(x, i) {
			if !s.at(x, i) {
				return false
			}
			if s.found {
				return true
			}
		}
		s.take(i)
	}
	if len(s.stand) == 0 || !idle && !s.slack {
		return true
	}
	return s.onward(next)
}

// begin puts a piece; it is false when what is left can no longer do.
func (s *columns) begin(x int64, i int) bool {
	o := s.opts[i]
	s.left[o.size]--
	s.free -= o.w
	s.spots = append(s.spots, spot{opt: i, x: x})
	n := len(s.stand)
	for n > 0 && s.stand[n-1].end > x+o.l {
		n--
	}
	s.stand = slices.Insert(s.stand, n, standing{x + o.l, i})
	ok := true
	for k := range s.weights {
		s.owed[k] -= s.weights[k].each[o.size]
		ok = ok && s.covered(k, x)
	}
	return ok
}

// take takes the last piece put away again.
func (s *columns) take(i int) {
	o := s.opts[i]
	s.left[o.size]++
	s.free += o.w
	end := s.spots[len(s.spots)-1].x + o.l
	s.spots = s.spots[:len(s.spots)-1]
	for n := range s.stand {
		if s.stand[n] == (standing{end, i}) {
			s.stand = slices.Delete(s.stand, n, n+1)
			break
		}
	}
	for k := range s.weights {
		s.owed[k] += s.weights[k].each[o.size]
	}
}

// covered tells whether the goods from x on can hold what a weight says is left
// and what still stands.
func (s *columns) covered(k int, x int64) bool {
	w := &s.weights[k]
	sum := s.owed[k]
	for _, st := range s.stand {
		sum += w.of[st.opt] * (st.end - x)
	}
	return sum <= (s.length-x)*w.most
}

// onward goes to the line where the next piece ends.
func (s *columns) onward(x int64) bool {
	for k := range s.weights {
		if !s.covered(k, x) {
			return true
		}
	}
	gone := 0
	for gone < len(s.stand) && s.stand[gone].end == x {
		s.free += s.opts[s.stand[gone].opt].w
		gone++
	}
	ended := slices.Clone(s.stand[:gone])
	s.stand = slices.Delete(s.stand, 0, gone)
	defer func() {
		s.stand = slices.Insert(s.stand, 0, ended...)
		for _, st := range ended {
			s.free -= s.opts[st.opt].w
		}
	}()
	rest := 0
	for size, n := range s.left {
		if n == 0 {
			continue
		}
		rest += n
		if x+s.shortest(size) > s.length {
			return true
		}
	}
	if rest == 0 {
		s.seen++
		s.found = s.reached == nil || s.reached(s.spots)
		return true
	}
	h := s.state(x)
	if rest, ok := s.dead.get(h.a, h.b); ok && rest >= s.length-x {
		return true
	}
	if s.slack && s.fits != nil && len(s.spots) > 2 && !s.fits(s.spots) {
		s.seen++ // not dead by its places along
		return true
	}
	seen := s.seen
	if !s.at(x, 0) {
		return false
	}
	if s.seen == seen {
		s.dead.put(h.a, h.b, s.length-x)
	}
	return true
}

// state is what is left and how wide the standing pieces are up to where.
func (s *columns) state(x int64) hash {
	h := newHash()
	for _, n := range s.left {
		h.add(int64(n))
	}
	for i := 0; i < len(s.stand); {
		w, j := int64(0), i
		for ; j < len(s.stand) && s.stand[j].end == s.stand[i].end; j++ {
			w += s.opts[s.stand[j].opt].w
		}
		h.add(s.stand[i].end - x)
		h.add(w)
		i = j
	}
	return h
}

// restart makes a search ready to begin again, with another length. It keeps
// what it knows to be dead.
func (s *columns) restart(length int64) {
	fresh := newColumns(s.task, s.clock, s.weights, length)
	fresh.dead, fresh.reached, fresh.fits = s.dead, s.reached, s.fits
	*s = *fresh
}

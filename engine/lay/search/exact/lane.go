package exact

import (
	"iter"
	"math"
	"slices"

	"slipseat/engine/lay/search/skyline"
	"slipseat/engine/unit"
)

// Lane is a line of search that proves: it raises the lower bound, and finds a
// shortest lay where it can. It runs beside the other lanes, from barrier to
// barrier, and may be moved between goroutines there.
type Lane struct {
	in    *skyline.Instance
	g     *skyline.Grid
	can   []bool
	whole bool // the squared pieces are all there is, on plain goods
	clock clock
	next  func() (struct{}, bool)
	stop  func()
	ended bool

	least   int64 // proved: no lay reaches less
	known   int64 // a lay that reaches so far is known
	best    []skyline.Put
	reach   int64
	weights []weight
}

// NewLane makes the lane. It has nothing to do, and uses nothing, where sizes
// have no common measure or there is more than one stretch of goods.
func NewLane(in *skyline.Instance) *Lane {
	l := &Lane{in: in, known: math.MaxInt64, reach: math.MaxInt64}
	l.g = in.Grid(true)
	if l.g == nil || !l.g.Exact || l.g.Area() == 0 {
		l.ended = true
		return l
	}
	l.whole = in.Plain && in.Squared()
	l.can = l.g.Reachable(reachFor(l.g))
	l.least = startBound(l.g, l.can)
	l.next, l.stop = iter.Pull(func(yield func(struct{}) bool) {
		l.clock.pause = func() bool { return yield(struct{}{}) }
		l.run()
	})
	return l
}

// Step searches on until about budget evaluations are used, or stop says so,
// and gives how many were: none when there is nothing left to do.
func (l *Lane) Step(budget int64, stop func() bool) int64 {
	start := l.clock.used
	for !l.ended && l.clock.used-start < budget {
		if stop() {
			break
		}
		if _, more := l.next(); !more {
			l.ended = true
		}
	}
	return l.clock.used - start
}

// Close ends the lane. It may be called at any time, and again.
func (l *Lane) Close() {
	if l.stop != nil {
		l.stop()
	}
	l.ended = true
}

// Heard tells the lane that a lay of a score is known.
func (l *Lane) Heard(s skyline.Score) {
	if l.g != nil && l.g.Exact {
		l.known = min(l.known, l.g.Reach(s.Length))
	}
}

// Best is the best lay found, if any.
func (l *Lane) Best() ([]skyline.Put, skyline.Score, bool) {
	if l.best == nil {
		return nil, skyline.Score{}, false
	}
	return l.best, skyline.Score{Length: l.g.Length(l.reach)}, true
}

// Bound is the proved lower bound so far.
func (l *Lane) Bound() unit.Length {
	if l.least == 0 {
		return 0
	}
	return max(0, l.g.MM(l.least)-boundSafety)
}

// raise raises the bound to a reach at which a lay can end.
func (l *Lane) raise(least int64) {
	l.least = max(l.least, nextReach(l.can, least))
}

// found takes a lay that reaches so far.
func (l *Lane) found(t *task, spots []spot, reach int64) {
	if !l.whole || reach >= min(l.reach, l.known) {
		return
	}
	l.best, l.reach = t.puts(spots), reach
	l.known = min(l.known, reach)
}

func nextReach(can []bool, l int64) int64 {
	for i := l; i < int64(len(can)); i++ {
		if can[i] {
			return i
		}
	}
	return l
}

const (
	// rowBudget, sameBudget and gapBudget end the quick looks for a lay.
	rowBudget  = 3_000_000
	sameBudget = 1_000_000
	gapBudget  = 3_000_000
	// firstTry is how many evaluations the first try to rule a length out has,
	// tryMore how much more each later one; lastTry ends the tries.
	firstTry = 100_000
	tryMore  = 8
	lastTry  = 4_000_000_000
	// stackBudget is for finding the places across of one set of places along.
	stackBudget = 20_000
)

func (l *Lane) run() {
	t := newTask(l.g)
	p := t.bare()
	l.clock.allow(math.MaxInt64 / 2)
	l.weights = []weight{p.byWidth()}
	if w, ok := p.byBars(&l.clock); ok {
		l.weights = append(l.weights, w)
		l.raise(p.bound(w))
	}
	if l.done() {
		return
	}
	l.inRows(t)
	if l.done() || !l.in.Squared() {
		return // with pieces left out of account a closer look has little worth
	}
	l.equal(t)
	l.gapless(t)
	for !l.done() {
		switch l.decide(t, l.least) {
		case no:
			l.raise(l.least + 1)
		case yes, unknown:
			return
		}
	}
}

// done tells whether nothing is left to prove or to find.
func (l *Lane) done() bool { return l.clock.stopped || l.least >= l.known }

// inRows finds the shortest lay in rows. Where only rows are asked for it is
// the answer.
func (l *Lane) inRows(t *task) {
	r, ok := rowsFor(t, &l.clock)
	if !ok {
		return
	}
	l.clock.allow(rowBudget)
	reach, spots, ok := r.least(min(l.known, math.MaxInt64/4))
	l.clock.allow(math.MaxInt64 / 2)
	if !ok {
		return
	}
	if spots != nil {
		l.found(t, spots, reach)
	}
	if l.in.RowsOnly() && t.gap == 0 {
		// With a gap a cut may pass where pieces are nearer than that along the
		// goods; else no rows are as short as what is known, or these are the shortest.
		l.raise(min(reach, l.known))
	}
}

// equal lays equal pieces that may be turned.
func (l *Lane) equal(t *task) {
	if !l.whole || l.in.RowsOnly() || len(t.count) != 1 || len(t.opts) != 2 {
		return
	}
	o := t.opts[0]
	s := newSame(&l.clock, o.l, o.w, max(l.g.W, int64(len(l.can))))
	l.clock.allow(sameBudget)
	for reach := l.least; reach < l.known && !l.clock.stopped && l.clock.used < l.clock.limit; reach = nextReach(l.can, reach+1) {
		if s.most(reach, t.w).n < int64(t.n) || l.clock.used >= l.clock.limit {
			continue
		}
		var spots []spot
		for _, p := range s.place(nil, 0, 0, reach, t.w) {
			i := 0
			if p.turned {
				i = 1
			}
			spots = append(spots, spot{i, p.x, p.y})
		}
		slices.SortStableFunc(spots, func(a, b spot) int { return int(a.x - b.x) })
		l.found(t, spots[:t.n], reach)
		break
	}
	l.clock.allow(math.MaxInt64 / 2)
}

// gapless looks for a lay that wastes next to nothing.
func (l *Lane) gapless(t *task) {
	const manyPieces, wasteful = 60, 50
	spare := l.least*t.w - t.area()
	if !l.whole || l.in.RowsOnly() || t.n > manyPieces || spare*wasteful > t.area() || int(l.least) >= len(l.can) {
		return
	}
	g := newGaps(t, &l.clock, l.least)
	l.clock.allow(gapBudget)
	found, done := g.run()
	l.clock.allow(math.MaxInt64 / 2)
	if found {
		l.found(t, g.spots, l.least)
	} else if done && g.perfect && t.gap == 0 {
		l.raise(l.least + 1)
	}
}

type verdict int

const (
	unknown verdict = iota
	yes
	no
)

// decide tells whether there is a lay that reaches no more than length.
func (l *Lane) decide(t *task, length int64) verdict {
	along := newColumns(t.bare(), &l.clock, l.weights, length)
	looks := []*look{l.look(t, along, false)}
	if s, ok := t.side(length); !ok {
		return no
	} else {
		b := s.bare()
		weights := []weight{b.byWidth()}
		if w, ok := b.byBars(&l.clock); ok {
			weights = append(weights, w)
		}
		looks = append(looks, l.look(s, newColumns(b, &l.clock, weights, t.w), true))
	}
	for budget := int64(firstTry); budget < lastTry; budget *= tryMore {
		for _, k := range looks {
			if v := k.run(budget); v != unknown {
				return v
			}
			if l.done() || l.known <= length {
				return unknown
			}
		}
		if looks[0].over && looks[1].over {
			return unknown
		}
	}
	return unknown
}

// look is one of the two views of a trial: places along first, or across.
type look struct {
	l       *Lane
	t       *task
	search  *columns
	sideway bool
	over    bool // nothing more can be found out this way
	doubts  bool // some places had no match across, within the budget
}

func (l *Lane) look(t *task, s *columns, sideway bool) *look {
	k := &look{l: l, t: t, search: s, sideway: sideway}
	s.reached = k.reached
	return k
}

// reached completes places along by places across, where a lay is wanted.
func (k *look) reached(spots []spot) bool {
	if !k.l.whole || k.l.in.RowsOnly() {
		k.over = true
		return true
	}
	c := &k.l.clock
	limit := c.limit
	c.limit = c.used + stackBudget
	out := slices.Clone(spots)
	ok, done := k.t.stack(out, c)
	c.limit = limit
	if !ok {
		k.doubts = k.doubts || !done
		return false
	}
	t, length := k.t, k.search.length
	if k.sideway {
		length = k.t.w
		for i := range out {
			out[i].x, out[i].y = out[i].y, out[i].x
		}
	}
	k.l.found(t, out, length)
	return true
}

func (k *look) run(budget int64) verdict {
	if k.over {
		return unknown
	}
	s, c := k.search, &k.l.clock
	for {
		s.seen, k.doubts = 0, false
		c.allow(budget)
		ended := s.run()
		c.allow(math.MaxInt64 / 2)
		switch {
		case s.found && k.over:
			return unknown
		case s.found:
			return yes
		case !ended:
			s.reset()
			return unknown
		case s.seen == 0, s.slack && !k.doubts && k.t.gap == 0:
			return no
		case s.slack:
			k.over = true
			return unknown
		}
		s.slack = true // now miss nothing
	}
}

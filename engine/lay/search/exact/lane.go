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

// prevReach is the last length up to l at which a lay can end.
func prevReach(can []bool, l int64) int64 {
	for i := min(l, int64(len(can))-1); i >= 0 && l < int64(len(can)); i-- {
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
	// firstTry is how many evaluations a try to rule a length out has at first;
	// tryMore is by how much that grows, lastTry where it ends.
	firstTry = 100_000
	tryMore  = 4
	lastTry  = 4_000_000_000
	// stackBudget is for finding the places across of one set of places along.
	// fitsBudget is for those of a part of the pieces.
	stackBudget = 20_000
	fitsBudget  = 300
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
	l.narrow(t, l.weightFor(t))
}

// weightFor is the weight by which a beam judges lays of the task.
func (l *Lane) weightFor(t *task) weight {
	if t.gap > 0 {
		if w, ok := t.byBars(&l.clock); ok {
			return w
		}
		return t.byWidth()
	}
	return l.weights[len(l.weights)-1]
}

// narrow brings bound and lay together: it tries to rule a length out or to
// find a lay for it. The longer the length the more it gains and the harder it
// is to rule out; so the step up grows after a success, and shrinks after a
// failure, until there is only more time left to give.
func (l *Lane) narrow(t *task, w weight) {
	n := l.newTrials(t)
	step := int64(1)
	wide := beamFirst
	for range 2 {
		l.beams(t, w, wide)
		wide *= beamMore
	}
	for budget := int64(firstTry); budget < lastTry; {
		top := min(l.known-1, n.top)
		if l.done() || l.least > top {
			return
		}
		length := prevReach(l.can, min(l.least+step-1, top))
		if length < l.least {
			l.raise(l.least + 1) // no lay ends between
			continue
		}
		switch n.try(length, budget) {
		case no:
			l.raise(length + 1)
			step *= 2
		case yes:
			step = max(1, (length-l.least)/2)
		case never:
			n.top = length - 1
			step = max(1, (length-l.least)/2)
		case unknown:
			if step > 1 {
				step = max(1, min(step, length-l.least+1)/4)
			} else {
				budget *= tryMore
				l.beams(t, w, wide)
				wide *= beamMore
			}
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
	if !g.perfect {
		l.clock.allow(gapBudget / 20)
	}
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
	unknown verdict = iota // the budget came to its end
	never                  // it cannot be told in this way
	yes
	no
)

// trials rule lengths out, by places along and by places across.
type trials struct {
	l     *Lane
	t     *task
	along *columns
	top   int64 // longer lengths cannot be ruled out
	// doubts: places along had no match across in the time allowed. open: they
	// had one by bare widths, but not by widths with the gap.
	doubts, open bool
	cores        []*core
}

// core rules lengths out by the large pieces alone.
type core struct {
	*columns
	top int64 // they fit in longer lengths
}

// coreShares are the shares of the largest piece's area that pieces of a core
// have at least.
var coreShares = [...]float64{0.6, 0.25}

func (l *Lane) newTrials(t *task) *trials {
	n := &trials{l: l, t: t, top: math.MaxInt64}
	b := t.bare()
	n.along = newColumns(b, &l.clock, l.weights, 0)
	n.along.reached = func(spots []spot) bool { return n.complete(t, b, spots, n.along.length, false) }
	n.along.fits = func(spots []spot) bool { return n.fits(b, spots) }
	for _, share := range coreShares {
		c := t.core(share)
		if c == nil || len(n.cores) > 0 && n.cores[0].n == c.n {
			continue
		}
		c = c.bare()
		weights := []weight{c.byWidth()}
		if w, ok := c.byBars(&l.clock); ok {
			weights = append(weights, w)
		}
		s := &core{newColumns(c, &l.clock, weights, 0), math.MaxInt64}
		s.reached = func(spots []spot) bool {
			ok, done := n.stack(c, slices.Clone(spots), stackBudget)
			return ok || !done
		}
		n.cores = append(n.cores, s)
	}
	return n
}

// try looks for a lay that reaches no more than length.
func (n *trials) try(length, budget int64) verdict {
	for _, c := range n.cores {
		if length >= c.top {
			continue
		}
		switch n.view(c.columns, length, budget) {
		case no:
			return no
		case yes:
			c.top = length
		}
	}
	v := n.view(n.along, length, budget)
	if v == no || v == yes || n.l.done() {
		return v
	}
	// What places across rule out is true lays, and those need not end where a
	// lay of grown boxes can: corners. So with a gap they must rule out all that
	// are shorter than the next one that can.
	if n.t.gap > 0 {
		length = nextReach(n.l.can, length+1)
	}
	side, ok := n.t.side(length)
	if !ok {
		return no
	}
	b := side.bare()
	weights := []weight{b.byWidth()}
	if b.bound(weights[0]) > n.t.w {
		return no
	}
	if w, ok := b.byBars(&n.l.clock); ok {
		weights = append(weights, w)
	}
	across := newColumns(b, &n.l.clock, weights, 0)
	across.reached = func(spots []spot) bool { return n.complete(side, b, spots, length, true) }
	across.fits = func(spots []spot) bool { return n.fits(b, spots) }
	w := n.view(across, n.t.w, budget)
	switch {
	case w == yes && n.t.gap > 0:
		return never // a lay, but a longer one
	case w == no || w == yes || v == never:
		return w
	}
	return v
}

// complete finds places across for places along, where a lay is wanted. bare is
// the task without the gaps across: boxes of any lay fit so, whatever corners
// do, so where not even they have places there is no lay.
func (n *trials) complete(t, bare *task, spots []spot, length int64, sideways bool) bool {
	if !n.l.whole || n.l.in.RowsOnly() {
		n.open = true
		return true
	}
	out := slices.Clone(spots)
	ok, done := n.stack(t, out, stackBudget)
	if !ok && t != bare {
		if ok, done = n.stack(bare, slices.Clone(spots), stackBudget); ok {
			n.open = true
			return true
		}
	}
	if !ok {
		n.doubts = n.doubts || !done
		return false
	}
	if sideways {
		for i := range out {
			out[i].x, out[i].y = out[i].y, out[i].x
		}
	}
	n.l.found(t, out, length)
	return true
}

// fits tells whether some of the pieces have places across by bare widths. It
// says so, too, when it does not find out soon.
func (n *trials) fits(bare *task, spots []spot) bool {
	if !n.l.whole || n.l.in.RowsOnly() {
		return true
	}
	ok, done := n.stack(bare, slices.Clone(spots), fitsBudget)
	return ok || !done
}

func (n *trials) stack(t *task, spots []spot, budget int64) (ok, done bool) {
	c := &n.l.clock
	limit := c.limit
	c.limit = min(limit, c.used+budget)
	ok, done = t.stack(spots, c)
	c.limit = limit
	return ok, done
}

// view is one trial of one search.
func (n *trials) view(s *columns, length, budget int64) verdict {
	for _, slack := range [2]bool{false, true} {
		s.restart(length)
		s.slack, n.doubts, n.open = slack, false, false
		n.l.clock.allow(budget)
		ended := s.run()
		n.l.clock.allow(math.MaxInt64 / 2)
		switch {
		case n.open:
			return never
		case s.found:
			return yes
		case !ended:
			return unknown
		case s.seen == 0:
			return no
		case slack && !n.doubts:
			return no
		}
	}
	return unknown // with more time the places across may be settled
}

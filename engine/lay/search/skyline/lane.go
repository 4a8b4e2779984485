package skyline

import (
	"math/rand/v2"
	"slices"
)

// Lane is one line of search. Lanes share nothing: each has its own random
// numbers, and hears of a better lay from elsewhere only through Heard. So any
// number of goroutines may run them, and the lays found are the same.
type Lane interface {
	// Step searches until about budget pieces have been looked at, or until
	// stop says so, and gives how many were.
	Step(budget int64, stop func() bool) int64
	// Best is the best filling found by the lane, which stays unchanged until
	// the next Step, and its score. ok is false before there is one.
	Best() (puts []Put, s Score, ok bool)
	// Heard tells the lane that a lay of a score is known.
	Heard(s Score)
}

// stopEvery is how many pieces are looked at between two questions whether to
// stop: a fraction of a millisecond.
const stopEvery = 4096

// orderLane searches the orders of a general filler, or of rows: with
// patterns, flaws, fixed pieces, pieces at hand and sheets.
type orderLane struct {
	in      *Instance
	fill    filler
	place   *Filler
	rng     *rand.Rand
	order   []Gene
	phases  []Phase
	choices [][]Phase
	score   Score
	heard   Score
	any     bool
	stale   int
	best    []Put
	bestS   Score
	have    bool
	buf     []Put
}

type filler interface {
	Fill(order []Gene, puts []Put) ([]Put, int)
}

// NewOrderLane makes a lane for any instance. It tries many fillings at once;
// when stop says so it makes do with the first.
func NewOrderLane(in *Instance, seed uint64, lane int, stop func() bool) Lane {
	l := &orderLane{in: in, rng: rand.New(rand.NewPCG(seed, uint64(lane)))}
	if in.RowsOnly() {
		rows := NewRowFiller(in)
		rows.FirstFit = lane%2 == 1
		l.fill, l.place = rows, rows.Filler()
	} else {
		l.place = NewFiller(in)
		l.place.Rule = Rule(lane % 2)
		l.fill = l.place
	}
	l.choices = l.place.phaseLists()
	var bestOrder []Gene
	var bestPhases []Phase
	for _, ph := range l.place.Phases(startPhases) {
		l.place.SetPhases(ph)
		for _, o := range in.Orders() {
			for _, try := range [][]Gene{o, in.Lying(o, false), in.Lying(o, true)} {
				if bestOrder != nil && stop() {
					break
				}
				if s := l.run(try); bestOrder == nil || s.Less(l.score) {
					l.score, bestOrder, bestPhases = s, slices.Clone(try), slices.Clone(ph)
				}
			}
		}
	}
	l.order, l.phases = bestOrder, bestPhases
	if len(l.order) > 0 {
		l.place.SetPhases(l.phases)
		l.score = l.run(l.order)
	}
	return l
}

const startPhases = 12

// run fills and keeps the lay when it is the best so far.
func (l *orderLane) run(order []Gene) Score {
	var missing int
	l.buf, missing = l.fill.Fill(order, l.buf)
	s := l.in.ScoreOf(l.buf, missing)
	if missing == 0 && (!l.have || s.Less(l.bestS)) {
		l.best = append(l.best[:0], l.buf...)
		l.bestS, l.have = s, true
	}
	return s
}

func (l *orderLane) Heard(s Score) {
	if !l.any || s.Less(l.heard) {
		l.heard, l.any = s, true
	}
}

func (l *orderLane) Best() ([]Put, Score, bool) { return l.best, l.bestS, l.have }

func (l *orderLane) Step(budget int64, stop func() bool) int64 {
	n := len(l.order)
	if n == 0 {
		return budget
	}
	// A filling looks at every piece, and at some dozens of places for each.
	cost := int64(n) * placesPerPiece
	var used int64
	for used < budget {
		if stop() {
			break
		}
		used += cost
		undo := l.change()
		if s := l.run(l.order); !l.score.Less(s) {
			if s.Less(l.score) {
				l.stale = 0
			}
			l.score = s
		} else {
			undo()
		}
		if l.stale++; l.stale > orderStaleAfter {
			l.stale = 0
			for range 2 + l.rng.IntN(4) {
				l.change()
			}
			l.score = l.run(l.order)
		}
	}
	return used
}

const (
	placesPerPiece  = 24
	orderStaleAfter = 1500
)

// change alters the order, the way a piece lies or the phase of a group, and
// gives the way back.
func (l *orderLane) change() (undo func()) {
	n := len(l.order)
	r := l.rng.IntN(20)
	if len(l.phases) > 0 && r < 2 {
		g := l.rng.IntN(len(l.phases))
		old := l.phases[g]
		l.phases[g] = l.choices[g][l.rng.IntN(len(l.choices[g]))]
		l.place.SetPhases(l.phases)
		return func() { l.phases[g] = old; l.place.SetPhases(l.phases) }
	}
	i := l.rng.IntN(n)
	if ways := len(l.in.Kinds[l.order[i].Kind].Ways); r < 6 && ways > 1 {
		old := l.order[i].Way
		l.order[i].Way = l.rng.IntN(ways+1) - 1
		return func() { l.order[i].Way = old }
	}
	j := l.rng.IntN(n)
	if r < 12 {
		move(l.order, i, j)
		return func() { move(l.order, j, i) }
	}
	l.order[i], l.order[j] = l.order[j], l.order[i]
	return func() { l.order[i], l.order[j] = l.order[j], l.order[i] }
}

// move takes the gene at i out and puts it back at j.
func move(order []Gene, i, j int) {
	g := order[i]
	if i < j {
		copy(order[i:j], order[i+1:j+1])
	} else {
		copy(order[j+1:i+1], order[j:i])
	}
	order[j] = g
}

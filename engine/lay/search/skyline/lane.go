package skyline

import (
	"math"
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

// listLane searches the lists of Sky. It holds a length to be reached, and
// changes the list so that the area that finds no place below it never grows;
// when all pieces are placed, the length to be reached is shortened.
type listLane struct {
	in      *Instance
	sky     *Sky
	rng     *rand.Rand
	list    []int32
	left    float64 // area without a place at the target
	target  int64
	quantum int64
	area    float64
	stale   int
	best    []Put
	score   Score
	have    bool
}

// NewListLane makes a lane for a plain instance. Even and odd lanes look for
// the fit of a piece in different ways.
func NewListLane(in *Instance, seed uint64, lane int) Lane {
	l := &listLane{in: in, sky: NewSky(in), rng: rand.New(rand.NewPCG(seed, uint64(lane)))}
	l.sky.Strict = lane%2 == 0
	l.quantum = quantum(in)
	best := int64(math.MaxInt64)
	for i, order := range l.starts() {
		if reach, left := l.sky.Fill(order, endless, math.Inf(1)); left == 0 && (reach < best || reach == best && i%2 == lane%2) {
			best = reach
			l.list = slices.Clone(order)
		}
	}
	for _, k := range l.list {
		l.area += l.sky.area[k]
	}
	if best < math.MaxInt64 {
		l.sky.Fill(l.list, endless, math.Inf(1))
		l.keep(best)
		l.aim(best - l.quantum)
	}
	return l
}

// starts lists the pieces largest first, by several measures.
func (l *listLane) starts() [][]int32 {
	var out [][]int32
	for _, o := range l.in.Orders() {
		list := make([]int32, len(o))
		for i, g := range o {
			list[i] = int32(g.Kind)
		}
		out = append(out, list)
	}
	return out
}

// leastQuantum is the smallest shortening that is asked for: 0.05 mm, half of
// what a proof allows.
const leastQuantum = PerMM / 20

// quantum is the step in which lengths of lays can change: the greatest common
// divisor of the pieces' lengths, where that is not too fine.
func quantum(in *Instance) int64 {
	var q int64
	for _, k := range in.Kinds {
		for _, w := range k.Ways {
			q = gcd(q, w.L)
		}
	}
	return max(q, leastQuantum)
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func (l *listLane) keep(reach int64) {
	l.best = append(l.best[:0], l.sky.Puts()...)
	l.score, l.have = Score{Length: reach - l.in.Gap}, true
}

// aim sets the length to be reached.
func (l *listLane) aim(target int64) {
	l.target = target
	_, l.left = l.sky.Fill(l.list, target, math.Inf(1))
	l.stale = 0
}

func (l *listLane) Heard(s Score) {
	if t := s.Length + l.in.Gap - l.quantum; t < l.target {
		l.aim(t)
	}
}

func (l *listLane) Best() ([]Put, Score, bool) { return l.best, l.score, l.have }

// staleAfter is how many changes without gain lead to a shaking of the list.
const staleAfter = 20000

func (l *listLane) Step(budget int64, stop func() bool) int64 {
	start := l.sky.Count
	n := len(l.list)
	if n < 2 || !l.have || len(l.in.Kinds) < 2 {
		return budget
	}
	asked := start
	for l.sky.Count-start < budget {
		if l.sky.Count-asked > stopEvery {
			asked = l.sky.Count
			if stop() {
				break
			}
		}
		if l.left == 0 {
			// Reached: the filling is a better lay.
			reach, _ := l.sky.Fill(l.list, l.target, math.Inf(1))
			if s := (Score{Length: reach - l.in.Gap}); s.Less(l.score) {
				l.keep(reach)
			}
			l.aim(min(l.target, reach) - l.quantum)
			continue
		}
		i, j := l.rng.IntN(n), l.rng.IntN(n)
		l.sky.Count++ // even where nothing changes, time passes
		if l.list[i] == l.list[j] {
			continue
		}
		l.list[i], l.list[j] = l.list[j], l.list[i]
		spare := float64(l.target)*float64(l.sky.width) - l.area
		reach, left := l.sky.Fill(l.list, l.target, spare+l.left*(1+1e-9)+1)
		if reach >= 0 && left <= l.left {
			if left < l.left {
				l.stale = 0
			}
			l.left = left
		} else {
			l.list[i], l.list[j] = l.list[j], l.list[i]
		}
		if l.stale++; l.stale > staleAfter {
			for range 3 + l.rng.IntN(5) {
				i, j := l.rng.IntN(n), l.rng.IntN(n)
				l.list[i], l.list[j] = l.list[j], l.list[i]
			}
			l.aim(l.target)
		}
	}
	return l.sky.Count - start
}

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

// NewOrderLane makes a lane for any instance.
func NewOrderLane(in *Instance, seed uint64, lane int) Lane {
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

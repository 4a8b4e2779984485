package skyline

import (
	"math"
	"math/rand/v2"
	"slices"
)

// listLane searches the lists of Sky. It holds a length to be reached, and
// changes the list so that the area that finds no place below it never grows;
// when all pieces are placed, the length to be reached is shortened.
type listLane struct {
	in      *Instance
	g       *Grid
	can     []bool // reachable lengths
	least   int64  // no lay reaches less
	sky     *Sky
	rng     *rand.Rand
	list    []item
	left    float64 // area without a place at the target
	target  int64
	reach   int64 // of the shortest lay known
	quantum int64
	area    float64
	stale   int
	turns   bool // some piece may lie another way
	best    []Put
	score   Score
	have    bool
}

// NewListLane makes a lane for a plain instance. Even and odd lanes look for
// the fit of a piece in different ways.
func NewListLane(in *Instance, seed uint64, lane int) Lane {
	g := in.Grid(false)
	l := &listLane{in: in, g: g, sky: NewSky(g), rng: rand.New(rand.NewPCG(seed, uint64(lane)))}
	l.sky.Strict = lane%2 == 0
	for _, ways := range g.Sizes {
		l.turns = l.turns || len(ways) > 1
	}
	l.quantum = 1
	if !g.Exact {
		l.quantum = quantum(in)
	}
	best := int64(math.MaxInt64)
	for i, order := range l.starts() {
		if reach, left := l.sky.Fill(order, endless, math.Inf(1)); left == 0 && (reach < best || reach == best && i%2 == lane%2) {
			best = reach
			l.list = slices.Clone(order)
		}
	}
	for _, i := range l.list {
		l.area += l.sky.area[i.kind()]
	}
	if best < math.MaxInt64 {
		l.sky.Fill(l.list, endless, math.Inf(1))
		l.reach = best
		l.keep(best)
		l.can = g.Reachable(best)
		l.least = g.Least(l.can)
		l.aim(lane%2 == 1)
	}
	return l
}

// starts lists the pieces largest first, by several measures.
func (l *listLane) starts() [][]item {
	var out [][]item
	for _, o := range l.in.Orders() {
		list := make([]item, len(o))
		for i, g := range o {
			list[i] = item(2 * g.Kind)
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
	l.best = l.sky.Puts(l.best[:0])
	l.score, l.have, l.reach = Score{Length: l.g.Length(reach)}, true, min(l.reach, reach)
}

// under is the next length to be reached below one.
func (l *listLane) under(reach int64) int64 {
	if !l.g.Exact {
		return reach - l.quantum
	}
	return below(l.can, reach)
}

// aim sets the length to be reached: the next one below the shortest known, or
// one nearer to the least possible, so that what is left over shows which of
// two lists is on the way to much shorter lays.
func (l *listLane) aim(far bool) {
	l.target = l.under(l.reach)
	if span := l.target - l.least; far && span > 0 {
		l.target = l.least + l.rng.Int64N(span+1)
	}
	_, l.left = l.sky.Fill(l.list, l.target, math.Inf(1))
	l.stale = 0
}

func (l *listLane) Heard(s Score) {
	if r := l.g.Reach(s.Length); l.have && r < l.reach {
		l.reach = r
		if l.target >= r {
			l.aim(false)
		}
	}
}

func (l *listLane) Best() ([]Put, Score, bool) { return l.best, l.score, l.have }

// shorter takes the last filling when it is the shortest lay known.
func (l *listLane) shorter(reach int64) {
	if reach < l.reach {
		l.keep(reach)
	}
}

// change swaps two places of the list or turns a piece, and gives the way back;
// nil when nothing has changed.
func (l *listLane) change() (undo func()) {
	n := len(l.list)
	i, j := l.rng.IntN(n), l.rng.IntN(n)
	if l.turns && l.rng.IntN(4) == 0 {
		if len(l.g.Sizes[l.list[i].kind()]) < 2 {
			return nil
		}
		l.list[i] ^= 1
		return func() { l.list[i] ^= 1 }
	}
	if l.list[i] == l.list[j] {
		return nil
	}
	l.list[i], l.list[j] = l.list[j], l.list[i]
	return func() { l.list[i], l.list[j] = l.list[j], l.list[i] }
}

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
		if l.reach <= l.least || l.target < l.least {
			return budget // nothing shorter is left
		}
		if l.sky.Count-asked > stopEvery {
			asked = l.sky.Count
			if stop() {
				break
			}
		}
		if l.left == 0 {
			// Reached: the filling is a better lay.
			reach, _ := l.sky.Fill(l.list, l.target, math.Inf(1))
			l.shorter(reach)
			l.aim(false)
			continue
		}
		l.sky.Count++ // even where nothing changes, time passes
		undo := l.change()
		if undo == nil {
			continue
		}
		spare := float64(l.target)*float64(l.sky.width) - l.area
		reach, left := l.sky.Fill(l.list, l.target, spare+l.left*(1+1e-9)+1)
		if reach >= 0 && left <= l.left {
			if left < l.left {
				l.stale = 0
				if left > 0 && l.target < l.under(l.reach) {
					if whole, none := l.sky.Fill(l.list, l.reach-1, math.Inf(1)); none == 0 {
						l.shorter(whole)
					}
				}
			}
			l.left = left
		} else {
			undo()
		}
		if l.stale++; l.stale > staleAfter {
			for range 3 + l.rng.IntN(5) {
				l.change()
			}
			l.aim(l.rng.IntN(2) == 0)
		}
	}
	return l.sky.Count - start
}

package columns

import (
	"math"
	"math/rand/v2"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// Options steer a run.
type Options struct {
	Seed uint64
	// Evaluations is how many places of pieces may be tried; 0 for no limit.
	Evaluations int64
	Stop        func() bool
	// Take is given every lay that is found; it says whether the lay is valid
	// and shorter than what there was.
	Take func(lay.Lay) bool
}

// Outcome is what a run found out.
type Outcome struct {
	// Bound is a proved lower bound on the length.
	Bound unit.Length
	Used  int64
}

// perNode is how many places are counted for one state of the search: it looks
// at some dozens, but most of them are refused by one comparison.
const perNode = 4

// Run looks for lays shorter than length and proves what it can.
func (m *Model) Run(length unit.Length, o Options) Outcome {
	ts, whole := m.tables()
	whole = whole && m.whole
	r := &run{m: m, o: o, tables: ts, whole: whole, best: int64(math.Round(length.MM() * perMM)), rng: rand.New(rand.NewPCG(o.Seed, 77))}
	if len(ts) == 0 {
		return Outcome{}
	}
	r.all()
	return r.out
}

type run struct {
	m      *Model
	o      Options
	tables []*table
	whole  bool
	best   int64 // shortest lay known
	low    int64 // no lay is shorter
	out    Outcome
	rng    *rand.Rand
	over   bool
}

// near is a difference in length, in units, that is none.
const near = 100

func (r *run) done() bool { return r.over || r.low >= r.best-near }

func (r *run) all() {
	r.setLow(r.bound())
	for nodes := int64(4000); !r.done(); {
		low, best := r.low, r.best
		// The next length that can be, then others between it and the best.
		for _, share := range []int64{0, 8, 4, 2, 1} {
			if r.done() {
				break
			}
			at := r.reachable(r.low)
			if share > 0 {
				at = max(at, r.low+(r.best-r.low)/share)
			}
			at = min(at, r.best-near)
			if r.try(at, nodes) == none {
				r.setLow(at + 1)
			}
		}
		if low == r.low && best == r.best {
			nodes *= 3
		}
	}
	if r.whole && r.low > 0 {
		r.out.Bound = unit.Length(float64(min(r.low, r.best)-near) / perMM)
	}
}

func (r *run) setLow(v int64) { r.low = max(r.low, v) }

// bound is the best bound by the potentials.
func (r *run) bound() int64 {
	least := math.Inf(1)
	for _, t := range r.tables {
		best := 0.0
		for p := range t.pots {
			pot := &t.pots[p]
			sum := t.m.total(pot) - pot.before - pot.after
			for _, b := range t.m.p.Bins[:len(t.m.p.Bins)-1] {
				sum -= b.Length.MM()*perMM + pot.before + pot.after
			}
			best = math.Max(best, sum)
		}
		least = math.Min(least, best)
	}
	return int64(math.Floor(least)) - 4
}

// reachable is the least length, no less than at, with which a lay can end.
func (r *run) reachable(at int64) int64 {
	if !r.m.boundAlong {
		return at
	}
	v := r.m.lattice.Along.MM() * perMM
	least := float64(math.MaxInt64)
	for _, t := range r.tables {
		for i := range t.spots {
			end := t.spots[i].base + float64(t.spots[i].half)
			n := math.Ceil((float64(at-nodeSlack) - end) / v)
			least = math.Min(least, end+float64(n*v))
		}
	}
	return max(at, int64(math.Round(least)))
}

// try looks for a lay no longer than target with every setting.
func (r *run) try(target, nodes int64) verdict {
	all := none
	for _, t := range r.tables {
		limit := nodes/int64(len(r.tables)) + 100
		if r.o.Evaluations > 0 {
			limit = min(limit, (r.o.Evaluations-r.out.Used)/perNode)
		}
		if limit <= 0 || r.o.Stop() {
			r.over = true
			return tired
		}
		var rng *rand.Rand
		if nodes > 4000 {
			rng = r.rng
		}
		s := newSearcher(t, rng)
		s.stop = r.o.Stop
		s.accept = func(puts []put) bool {
			l := r.lay(t, puts)
			if !r.o.Take(l) {
				return false
			}
			r.best = int64(math.Round(l.Length.MM() * perMM))
			return true
		}
		v := s.find(target, limit)
		r.out.Used += perNode * s.nodes
		if s.reject && v == none {
			v = tired
		}
		switch v {
		case found:
			return found
		case tired:
			all = tired
		}
	}
	return all
}

// lay makes a lay of puts.
func (r *run) lay(t *table, puts []put) lay.Lay {
	m := r.m
	var out lay.Lay
	next := make([]int, len(m.count))
	v := m.lattice.Along.MM() * perMM
	for _, u := range puts {
		s := &t.spots[u.spot]
		k := &m.kinds[s.kind]
		x := float64(u.x)
		if m.boundAlong {
			x = s.base + float64(math.Round((x-s.base)/v)*v)
		}
		out.Places = append(out.Places, lay.Place{
			Kind: k.of, Copy: next[k.of], Bin: u.bin, Turn: k.turn,
			At: geom.Pt{X: x/perMM - k.low.X, Y: s.y - k.low.Y},
		})
		next[k.of]++
	}
	out.Length, out.Sheets = lay.Extent(m.p, out.Places)
	return out
}

package columns

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

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
	// Proof tells that the problem leaves rules out: a lay that is refused shows
	// that nothing can be proved at its length, and no other is looked for.
	Proof bool
}

// Outcome is what a run found out.
type Outcome struct {
	// Bound is a proved lower bound on the length.
	Bound unit.Length
	Used  int64
}

// perNode is how many places are counted for one state of the search; it looks
// at some dozens, but most of them are refused by one comparison.
const perNode = 1

// Run looks for lays shorter than length and proves what it can.
func (m *Model) Run(length unit.Length, o Options) Outcome {
	ts, whole := m.tables()
	whole = whole && m.whole
	r := &run{m: m, o: o, tables: ts, whole: whole, best: int64(math.Round(length.MM() * perMM)), rng: rand.New(rand.NewPCG(o.Seed, 77))}
	if len(ts) == 0 {
		return Outcome{}
	}
	r.high = r.best
	r.all()
	return r.out
}

type run struct {
	m      *Model
	o      Options
	tables []*table
	whole  bool
	best   int64 // shortest lay known
	high   int64 // beyond this nothing can be proved
	low    int64 // no lay is shorter
	out    Outcome
	rng    *rand.Rand
	over   bool
}

// near is a difference in length, in units, that is none.
const near = 100

func (r *run) done() bool { return r.over || r.low >= r.high-near }

func (r *run) all() {
	r.setLow(r.bound())
	for nodes := int64(4000); !r.done(); {
		open := r.high - r.low
		// The next length that can be, then others between it and the best.
		for _, share := range []int64{0, 8, 4, 2, 1} {
			if r.done() {
				break
			}
			at := r.reachable(r.low)
			if share > 0 {
				at = max(at, r.low+(r.high-r.low)/share)
			}
			at = min(at, r.high-near)
			switch r.try(at, nodes) {
			case none:
				r.setLow(at + 1)
			case found:
				r.high = r.best
				if r.o.Proof {
					r.high = max(r.low, min(r.high, at))
				}
			}
		}
		if r.high-r.low > open-open/16 {
			nodes *= 3 // little came of it
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
			over := pot.before + pot.after
			if len(t.m.p.Bins) > 1 {
				over = max(over, 0) // the last bin may stay empty
			}
			sum := t.m.total(pot) - over
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
		s := newSearcher(t)
		s.stop = r.o.Stop
		s.accept = func(puts []put) bool {
			if r.m.p.RowsOnly && !r.o.Proof && !straight(t, puts) {
				return false
			}
			s.nodes += judging
			l := r.lay(t, puts)
			if !r.o.Take(l) {
				return r.o.Proof
			}
			r.best = int64(math.Round(l.Length.MM() * perMM))
			return true
		}
		v, used := s.search(target, limit, r.rng)
		r.out.Used += perNode * used
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

// judging is how many nodes the judge's work on a lay counts for.
const judging = 100

// straight tells whether the boxes of puts can be parted by straight cuts, the
// first of them across the whole goods.
func straight(t *table, puts []put) bool {
	for b := range t.m.p.Bins {
		var boxes []geom.Rect
		for _, u := range puts {
			if s := &t.spots[u.spot]; u.bin == b {
				k := &t.m.kinds[s.kind]
				x := float64(u.x) / perMM
				boxes = append(boxes, geom.Rect{Min: geom.P(x-k.l/2, s.y-k.w/2), Max: geom.P(x+k.l/2, s.y+k.w/2)})
			}
		}
		for _, row := range parted(boxes, true) {
			if !partable(row, false) {
				return false
			}
		}
	}
	return true
}

func partable(boxes []geom.Rect, across bool) bool {
	if len(boxes) <= 1 {
		return true
	}
	parts := parted(boxes, across)
	if len(parts) == 1 {
		across = !across
		if parts = parted(boxes, across); len(parts) == 1 {
			return false
		}
	}
	for _, p := range parts {
		if !partable(p, !across) {
			return false
		}
	}
	return true
}

// parted splits boxes at every line that passes through none of them.
func parted(boxes []geom.Rect, across bool) [][]geom.Rect {
	span := func(r geom.Rect) (float64, float64) {
		if across {
			return r.Min.X, r.Max.X
		}
		return r.Min.Y, r.Max.Y
	}
	boxes = slices.Clone(boxes)
	slices.SortFunc(boxes, func(a, b geom.Rect) int {
		p, _ := span(a)
		q, _ := span(b)
		return cmp.Compare(p, q)
	})
	var out [][]geom.Rect
	end := math.Inf(-1)
	for _, r := range boxes {
		lo, hi := span(r)
		if len(out) == 0 || lo >= end-2*give {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], r)
		end = math.Max(end, hi)
	}
	return out
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

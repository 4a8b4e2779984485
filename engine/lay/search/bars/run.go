package bars

import (
	"math"
	"math/rand/v2"
	"slices"

	"slipseat/engine/unit"
)

// Options steer a run.
type Options struct {
	// Evaluations is how many places of pieces may be tried; 0 for no limit.
	Evaluations int64
	Seed        uint64
	Stop        func() bool
	// Take is given every lay of squared pieces that is found; it says whether
	// the lay is valid and shorter than what there was, and how long it is.
	Take func([]Spot) (unit.Length, bool)
}

// Outcome is what a run found out.
type Outcome struct {
	Bound unit.Length // a proved lower bound on the length
	Used  int64
}

const (
	// perNode is how many places are counted for one state of the search.
	perNode = 1
	// near is a difference in length, in units, that is none.
	near = 200
)

// Run looks for lays shorter than length and proves what it can.
func (m *Model) Run(length unit.Length, o Options) Outcome {
	r := &run{m: m, o: o, best: int64(math.Round(length.MM() * perMM)), rng: rand.New(rand.NewPCG(o.Seed, 78))}
	r.high = r.best
	if !m.choose() {
		return r.out
	}
	r.pots = []potential{m.potential(), m.byWidth()}
	for i := range r.pots {
		m.setTolls(&r.pots[i])
	}
	r.out.Used = 20_000
	r.phases = m.phases()
	if r.phases == nil {
		return r.out
	}
	r.all()
	return r.out
}

type run struct {
	m      *Model
	o      Options
	pots   []potential
	phases []float64
	best   int64 // shortest lay known
	high   int64 // beyond this nothing can be proved
	low    int64 // no lay is shorter
	out    Outcome
	over   bool
	rng    *rand.Rand
}

// phases lists the settings of the pattern that can be the best: pushed
// towards the cut end, some piece touches it or a wall. It is nil where there
// are too many.
func (m *Model) phases() []float64 {
	if m.step == 0 || !m.alike {
		return []float64{0}
	}
	v := m.step
	out := []float64{}
	add := func(a float64) {
		a -= float64(v * math.Floor(a/v))
		for _, o := range out {
			if d := math.Abs(o - a); d < 1e-6 || v-d < 1e-6 {
				return
			}
		}
		out = append(out, a)
	}
	for _, o := range m.opts {
		add((float64(o.head) - o.base) / perMM)
		for _, b := range m.bins {
			for _, w := range b.walls {
				add((float64(w.x1) - o.base) / perMM)
			}
		}
	}
	if len(out) > maxPhases {
		return nil
	}
	slices.Sort(out)
	return out
}

func (r *run) done() bool { return r.over || r.low >= r.high-near }

func (r *run) all() {
	gap := int64(math.Floor(r.m.gap * perMM))
	low := 0.0
	for i := range r.pots {
		p := &r.pots[i]
		over := p.over
		if len(r.m.bins) > 1 {
			over = max(over, 0) // the last bin may stay empty
		}
		sum := r.m.total(p) - over
		for _, b := range r.m.bins[:len(r.m.bins)-1] {
			sum -= float64(b.l) + p.over
		}
		// Tolls lie somewhere up to the end.
		for range 4 {
			t := p.tolls(0, sum+p.over)
			if n := r.m.total(p) - p.over + t; len(r.m.bins) == 1 && n > sum {
				sum = n
			}
		}
		low = math.Max(low, sum)
	}
	r.low = max(r.m.fixed, int64(math.Floor(low))-gap-slack*int64(r.m.n+2))
	for nodes := int64(3000); !r.done(); {
		open := r.high - r.low
		for _, share := range []int64{1, 2, 4, 8, 16, 64} {
			if r.done() {
				break
			}
			at := min(r.low+max(near, (r.high-r.low)/share), r.high-near)
			switch r.try(at, nodes) {
			case none:
				r.low = max(r.low, at+1)
			case found:
				r.high = min(r.high, max(at, r.low))
				if !r.m.noLays {
					r.high = r.best
				}
			}
		}
		if r.high-r.low > open-open/16 {
			nodes *= 4 // little came of it
		}
	}
	if r.low > 0 {
		r.out.Bound = unit.Length(float64(min(r.low, r.best)-near) / perMM)
	}
}

// try looks for places along no longer than target with every setting.
func (r *run) try(target, nodes int64) verdict {
	all := none
	gap := int64(math.Ceil(r.m.gap * perMM))
	for _, ph := range r.phases {
		limit := nodes/int64(len(r.phases)) + 100
		if r.o.Evaluations > 0 {
			limit = min(limit, (r.o.Evaluations-r.out.Used)/perNode)
		}
		if limit <= 0 || r.o.Stop() {
			r.over = true
			return tired
		}
		s := newSearcher(r.m, r.pots, ph)
		s.stop = r.o.Stop
		s.accept = func(puts []put) bool {
			if r.m.noLays {
				return true
			}
			s.nodes += 50
			spots, tries := r.m.across(puts)
			s.nodes += tries / triesPerNode
			if spots == nil {
				return false
			}
			l, ok := r.o.Take(spots)
			if ok {
				r.best = int64(math.Round(l.MM() * perMM))
			}
			return ok
		}
		v := r.search(s, target+gap, limit)
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

// search looks in several orders first, a little while in each, and then
// through all of them.
func (r *run) search(s *searcher, end, limit int64) verdict {
	some := int64(shakeNodes * (r.m.n + 4))
	used := int64(0)
	s.layable = !r.m.noLays
	for used+some < limit/2 {
		v := s.find(end, some)
		used += s.nodes
		r.out.Used += perNode * s.nodes
		if v == found || v == none && !s.layable || r.o.Stop() {
			return v
		}
		if v == none {
			break // no order leads on; whether that proves anything is seen below
		}
		s.shake(r.rng)
	}
	s.layable = false
	clear(s.noise)
	v := s.find(end, limit-used)
	r.out.Used += perNode * s.nodes
	return v
}

// shakeNodes is how many nodes for each piece one order is followed.
const shakeNodes = 12

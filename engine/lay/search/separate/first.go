package separate

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// firstHeights is the number of evenly spread heights at which the first lay
// tries each piece, besides the heights next to the pieces already placed.
const firstHeights = 48

// firstPhases is the number of settings of the free phases that the first lay
// tries.
const firstPhases = 8

// firstOfPhases is first with the best of a few settings of the groups'
// phases.
func (s *state) firstOfPhases(seed uint64) bool {
	if s.m.groups == 0 {
		return s.first()
	}
	r := mover{s: s, rng: rand.NewPCG(seed, lanes)}
	var best snapshot
	for k := range firstPhases {
		if k > 0 {
			s.bins = append(s.bins[:0], s.m.bins...)
			r.newShifts()
		}
		if s.first() && (best.x == nil || s.shorterThan(&best)) {
			s.save(&best)
		}
	}
	if best.x == nil {
		return false
	}
	s.load(&best)
	return true
}

// first places every piece, large ones before small ones, in the first bin
// that holds it and there as far to the left as it goes at a set of heights.
// The last bin may grow. It tells whether every piece found a place; the
// arrangement is then legal.
func (s *state) first() bool {
	m := s.m
	order := make([]int, s.free)
	key := make([]float64, s.free)
	for i := range order {
		order[i] = i
		f := &m.forms[m.turns[m.pieces[i].kind][0]]
		key[i] = f.hull * math.Hypot(f.w, f.h)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(key[b], key[a]) })
	placed := make([]int, 0, s.n)
	for j := s.free; j < s.n; j++ {
		placed = append(placed, j)
	}
	fl := filler{s: s}
	for _, i := range order {
		if m.halted() {
			return false
		}
		found := false
		for b := 0; b < len(s.bins) && !found; b++ {
			limit := s.bins[b].length
			if limit == 0 {
				limit = math.Inf(1)
			}
			var at spot
			if at, found = fl.leftmost(i, int32(b), limit, placed); found {
				s.form[i], s.bin[i], s.x[i], s.y[i] = at.form, at.bin, at.x, at.y
			}
		}
		if !found {
			return false
		}
		placed = append(placed, i)
	}
	s.trim()
	s.setLength(s.last().length)
	return true
}

// trim cuts the last stretch to what is used of it, and leaves out sheets at
// the end that hold nothing.
func (s *state) trim() {
	for {
		b := s.last()
		b.length = s.used()
		if b.length > 0 || b.sheet == 0 {
			return
		}
		s.bins = s.bins[:len(s.bins)-1]
	}
}

// filler finds the leftmost free place of a piece; it keeps its lists.
type filler struct {
	s   *state
	ivs []interval
	ys  []float64
}

// leftmost is the place in bin b with the least right end, at most limit from
// the bin's start, that is clear of the placed pieces.
func (fl *filler) leftmost(i int, b int32, limit float64, placed []int) (spot, bool) {
	s := fl.s
	m := s.m
	bn := &s.bins[b]
	best := spot{bin: b, cost: math.Inf(1)}
	high := math.Inf(1) // upper edge there
	for _, f := range m.turns[m.pieces[i].kind] {
		fm := &m.forms[f]
		top := bn.width - fm.h
		if top < 0 {
			continue
		}
		g := m.grains[f][bn.index]
		fl.ys = fl.ys[:0]
		if g != nil && g.across {
			j, _ := g.column(s, g.my-g.phy)
			for j--; g.placeY(s, j) <= top; j++ {
				fl.ys = append(fl.ys, g.placeY(s, j))
			}
		} else {
			fl.ys = append(fl.ys, 0, top)
			for k := 1; k < firstHeights; k++ {
				fl.ys = append(fl.ys, math.Floor(top*float64(k)/firstHeights))
			}
		}
		if len(placed) < 120 && (g == nil || !g.across) {
			for _, j := range placed {
				if s.bin[j] == b {
					fl.ys = append(fl.ys, s.y[j]+m.forms[s.form[j]].h+m.gap, s.y[j]-fm.h-m.gap)
				}
			}
		}
		if len(placed) < 60 && g == nil {
			fl.contacts(int32(f), b, placed)
		}
		for _, y := range fl.ys {
			if y < 0 || y > top {
				continue
			}
			fl.ivs = fl.ivs[:0]
			for _, j := range placed {
				if s.bin[j] == b {
					fl.ivs = s.forbidX(fl.ivs, int32(f), y, j)
				}
			}
			x := float64(firstFree(fl.ivs, int64(bn.x0)))
			if g != nil && g.along {
				j, ok := g.column(s, y+g.my-g.phy)
				if !ok {
					continue
				}
				x = fl.firstMotif(g, j, x, bn.x0)
			}
			end := x - bn.x0 + fm.w
			if end <= limit && (end < best.cost || end == best.cost && y+fm.h < high) {
				best, high = spot{int32(f), b, x, y, end}, y+fm.h
			}
		}
	}
	return best, !math.IsInf(best.cost, 1)
}

// contacts adds the heights at which a form set down at the start of bin b, or
// right behind a placed piece, comes to rest on what lies below: there pieces
// that fit into each other do.
func (fl *filler) contacts(f, b int32, placed []int) {
	s := fl.s
	at := func(x float64) {
		fl.ivs = fl.ivs[:0]
		for _, j := range placed {
			if s.bin[j] == b {
				fl.ivs = s.forbidY(fl.ivs, f, x, j)
			}
		}
		fl.ys = append(fl.ys, float64(firstFree(fl.ivs, 0)))
	}
	at(s.bins[b].x0)
	for _, j := range placed {
		if s.bin[j] == b && s.m.pieces[j].kind >= 0 {
			at(s.x[j] + s.m.forms[s.form[j]].w + s.m.gap)
		}
	}
}

// firstMotif is the least place at or above x where the pattern allows a form
// in column j and no interval forbids it. The intervals are sorted.
func (fl *filler) firstMotif(g *grain, j, x, x0 float64) float64 {
	for i := g.motif(fl.s, x-x0, j) - 1; ; i++ {
		at := x0 + g.placeX(fl.s, i, j)
		if at < x {
			continue
		}
		if x = float64(firstFree(fl.ivs, int64(at))); x == at {
			return at
		}
	}
}

// used is the length that the pieces on the last bin really take.
func (s *state) used() float64 {
	b := s.last()
	end := 0.0
	for i := range s.n {
		if int(s.bin[i]) == len(s.bins)-1 && s.m.pieces[i].kind >= 0 {
			end = max(end, s.x[i]+s.m.forms[s.form[i]].w-b.x0)
		}
	}
	return end
}

// legal checks every piece and pair exactly.
func (s *state) legal() bool {
	for i := range s.free {
		f := &s.m.forms[s.form[i]]
		b := &s.bins[s.bin[i]]
		if s.m.patterned && !s.onPattern(i) {
			return false
		}
		x := s.x[i] - b.x0
		if x < 0 || s.y[i] < 0 || x+f.w > b.length || s.y[i]+f.h > b.width {
			return false
		}
		for j := i + 1; j < s.n; j++ {
			if s.bin[j] != s.bin[i] {
				continue
			}
			l := &s.m.links[s.form[i]][s.form[j]]
			if !l.t.clear(int64(l.sign*(s.x[j]-s.x[i])+l.ox), int64(l.sign*(s.y[j]-s.y[i])+l.oy)) {
				return false
			}
		}
	}
	return true
}

package separate

import (
	"cmp"
	"slices"
)

// slides is how often the pieces are slid along and across in turn.
const slides = 4

// compact slides the pieces of an arrangement without overlap towards the
// start of their stretch until each touches what stops it, exactly to the grid
// unit, with slides across in between that may open the way. It stays legal,
// and never becomes longer.
func (s *state) compact() {
	order := make([]int, s.free)
	for i := range order {
		order[i] = i
	}
	for k := range slides {
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(s.x[a], s.x[b]) })
		moved := true
		for n := 0; moved && n < 3; n++ {
			moved = false
			for _, i := range order {
				moved = s.slideX(i) || moved
			}
		}
		if k == slides-1 {
			break
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(s.y[a], s.y[b]) })
		if k%2 == 1 {
			slices.Reverse(order)
		}
		for _, i := range order {
			s.slideY(i, k%2 == 1)
		}
	}
	s.trim()
}

// slideX moves piece i to a lower x as far as the way is free.
func (s *state) slideX(i int) bool {
	bn := &s.bins[s.bin[i]]
	if g := s.m.grains[s.form[i]][bn.index]; g != nil {
		return false
	}
	to := int64(bn.x0)
	x := int64(s.x[i])
	s.ivs = s.ivs[:0]
	for j := range s.n {
		if j != i && s.bin[j] == s.bin[i] && s.x[j] < s.x[i]+s.m.forms[s.form[i]].w+s.m.gap {
			s.ivs = s.forbidX(s.ivs, s.form[i], s.y[i], j)
		}
	}
	for _, iv := range s.ivs {
		if iv.hi <= x {
			to = max(to, iv.hi)
		} else if iv.lo < x {
			return false // the arrangement was not legal
		}
	}
	if to >= x {
		return false
	}
	s.x[i] = float64(to)
	return true
}

// slideY moves piece i across, up or down, as far as the way is free.
func (s *state) slideY(i int, up bool) {
	bn := &s.bins[s.bin[i]]
	if g := s.m.grains[s.form[i]][bn.index]; g != nil {
		return
	}
	f := &s.m.forms[s.form[i]]
	low, high := int64(0), int64(bn.width-f.h)
	y := int64(s.y[i])
	s.ivs = s.ivs[:0]
	for j := range s.n {
		if j != i && s.bin[j] == s.bin[i] {
			s.ivs = s.forbidY(s.ivs, s.form[i], s.x[i], j)
		}
	}
	for _, iv := range s.ivs {
		switch {
		case iv.hi <= y:
			low = max(low, iv.hi)
		case iv.lo >= y:
			high = min(high, iv.lo)
		default:
			return
		}
	}
	if up {
		s.y[i] = float64(high)
	} else {
		s.y[i] = float64(low)
	}
}

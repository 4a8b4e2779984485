package separate

import (
	"math"
	"math/bits"
)

// bands is the number of bands along each axis of the neighbour filter.
const bands = 128

// state is one lane's arrangement: where each piece is, how much each pair
// overlaps and how heavy each pair weighs. Pieces 0 to free-1 move, the others
// are obstacles.
type state struct {
	m     *model
	n     int
	free  int
	bins  []bin // the length of the last one changes
	width float64
	bin   []int32
	form  []int32
	x, y  []float64 // on the axis of all bins
	// Phases of the groups of pieces that are alike.
	shiftX, shiftY []float64
	loss           []float64 // n×n, weight 1
	weight         []float64 // n×n
	total          float64   // sum of loss over pairs
	evals          int64
	ivs            []interval // scratch of slides

	hit   []uint64 // for each piece, the set of those it overlaps
	hits  []int32  // how many those are
	heavy []int32  // pairs i·n+j, i < j, whose weight is above 1 or that overlap
	known []bool   // which pairs are in heavy

	at []placed // what cost needs of each piece, in one place

	// Neighbour filter: for each band of an axis, the pieces that end before
	// it and those that begin after it, as bit sets of so many words.
	words          int
	scaleX, scaleY float64
	endX, beginX   []uint64
	endY, beginY   []uint64
	there          []uint64 // all pieces
}

// placed is where a piece lies and in which form.
type placed struct {
	x, y float64
	form int32
}

func newState(m *model) *state {
	n := len(m.pieces)
	s := &state{m: m, n: n, free: m.free}
	s.form, s.bin = make([]int32, n), make([]int32, n)
	s.x, s.y = make([]float64, n), make([]float64, n)
	s.loss, s.weight = make([]float64, n*n), make([]float64, n*n)
	s.words = (n + 63) / 64
	k := (bands + 1) * s.words
	s.endX, s.beginX = make([]uint64, k), make([]uint64, k)
	s.endY, s.beginY = make([]uint64, k), make([]uint64, k)
	s.shiftX, s.shiftY = make([]float64, m.groups), make([]float64, m.groups)
	s.at = make([]placed, n)
	s.there = make([]uint64, s.words)
	for i := range n {
		s.there[i>>6] |= 1 << (i & 63)
	}
	s.hit, s.hits = make([]uint64, n*s.words), make([]int32, n)
	s.known = make([]bool, n*n)
	s.bins = append(s.bins, m.bins...)
	for _, b := range s.bins {
		s.width = max(s.width, b.width)
	}
	for i, p := range m.pieces {
		if i < m.free {
			s.form[i] = int32(m.turns[p.kind][0])
			continue
		}
		b := &s.bins[p.bin]
		s.form[i], s.bin[i], s.x[i], s.y[i] = p.form, int32(p.bin), b.x0+p.x, p.y
	}
	if m.patterned {
		s.readShifts()
	}
	s.resetWeights()
	return s
}

func (s *state) resetWeights() {
	for i := range s.weight {
		s.weight[i] = 1
	}
	s.heavy = s.heavy[:0]
	clear(s.known)
	for i := range s.n {
		for j := i + 1; j < s.n; j++ {
			if s.loss[i*s.n+j] > 0 {
				s.note(i, j)
			}
		}
	}
}

// note puts a pair on the list of those whose weights change.
func (s *state) note(i, j int) {
	k := min(i, j)*s.n + max(i, j)
	if !s.known[k] {
		s.known[k] = true
		s.heavy = append(s.heavy, int32(k))
	}
}

// last is the stretch of goods whose length is made as short as possible.
func (s *state) last() *bin { return &s.bins[len(s.bins)-1] }

// setLength changes the length of the last stretch, moves pieces that would
// stick out back inside and builds everything anew.
func (s *state) setLength(l float64) {
	b := s.last()
	b.length = l
	s.scaleX, s.scaleY = bands/max(1, b.x0+l), bands/s.width
	for i := range s.free {
		s.clamp(i)
	}
	s.rebuild()
}

func (s *state) clamp(i int) {
	f := &s.m.forms[s.form[i]]
	b := &s.bins[s.bin[i]]
	s.x[i] = b.x0 + max(0, min(s.x[i]-b.x0, b.length-f.w))
	s.y[i] = max(0, min(s.y[i], b.width-f.h))
	if s.m.patterned {
		if x, y, ok := s.snap(s.form[i], s.bin[i], s.x[i], s.y[i]); ok {
			s.x[i], s.y[i] = x, y
		}
	}
}

// rebuild recomputes the filter and all losses.
func (s *state) rebuild() {
	clear(s.endX)
	clear(s.beginX)
	clear(s.endY)
	clear(s.beginY)
	for i := range s.n {
		s.enter(i, true)
	}
	clear(s.hit)
	clear(s.hits)
	clear(s.loss)
	for i := range s.free {
		s.meet(i, i+1)
	}
	s.sum()
}

// meet computes the losses of piece i with the pieces from j on.
func (s *state) meet(i, from int) {
	f := &s.m.forms[s.form[i]]
	x0, x1 := s.band(s.x[i]*s.scaleX), s.band((s.x[i]+f.w)*s.scaleX)
	y0, y1 := s.band(s.y[i]*s.scaleY), s.band((s.y[i]+f.h)*s.scaleY)
	for w := from >> 6; w < s.words; w++ {
		mask := ^(s.endX[x0+w] | s.beginX[x1+w] | s.endY[y0+w] | s.beginY[y1+w]) & s.there[w]
		if w == from>>6 {
			mask &= ^uint64(0) << (from & 63)
		}
		if w == i>>6 {
			mask &^= 1 << (i & 63)
		}
		for ; mask != 0; mask &= mask - 1 {
			j := w<<6 + bits.TrailingZeros64(mask)
			v := s.pairLoss(i, j)
			if v == 0 {
				continue
			}
			s.loss[i*s.n+j], s.loss[j*s.n+i] = v, v
			s.hit[i*s.words+w] |= 1 << (j & 63)
			s.hit[j*s.words+i>>6] |= 1 << (i & 63)
			s.hits[i]++
			s.hits[j]++
			s.note(i, j)
		}
	}
}

// part forgets the losses of piece i.
func (s *state) part(i int) {
	for w := range s.words {
		for mask := s.hit[i*s.words+w]; mask != 0; mask &= mask - 1 {
			j := w<<6 + bits.TrailingZeros64(mask)
			s.loss[i*s.n+j], s.loss[j*s.n+i] = 0, 0
			s.hit[j*s.words+i>>6] &^= 1 << (i & 63)
			s.hits[j]--
		}
		s.hit[i*s.words+w] = 0
	}
	s.hits[i] = 0
}

// sum adds up the losses of all pairs.
func (s *state) sum() float64 {
	t := 0.0
	for i := range s.free {
		if s.hits[i] == 0 {
			continue
		}
		for w := i >> 6; w < s.words; w++ {
			mask := s.hit[i*s.words+w]
			if w == i>>6 {
				mask &= ^uint64(0) << (i & 63)
			}
			for ; mask != 0; mask &= mask - 1 {
				t += s.loss[i*s.n+w<<6+bits.TrailingZeros64(mask)]
			}
		}
	}
	s.total = t
	return t
}

func (s *state) pairLoss(i, j int) float64 {
	l := &s.m.links[s.form[i]][s.form[j]]
	return l.t.loss(float64(l.sign*(s.x[j]-s.x[i]))+l.ox, float64(l.sign*(s.y[j]-s.y[i]))+l.oy)
}

// enter puts piece i into the filter or takes it out. A piece ends before band
// b when its box, with the gap, ends at or below the band's low edge.
func (s *state) enter(i int, in bool) {
	s.at[i] = placed{s.x[i], s.y[i], s.form[i]}
	f := &s.m.forms[s.form[i]]
	g := s.m.gap
	s.mark(s.endX, s.beginX, i, (s.x[i]-g)*s.scaleX, (s.x[i]+f.w+g)*s.scaleX, in)
	s.mark(s.endY, s.beginY, i, (s.y[i]-g)*s.scaleY, (s.y[i]+f.h+g)*s.scaleY, in)
}

func (s *state) mark(end, begin []uint64, i int, lo, hi float64, in bool) {
	bit := uint64(1) << (i & 63)
	w := i >> 6
	// Bands whose low edge is at or above hi; a hair is added for rounding.
	for b := int(math.Ceil(hi + 1e-6)); b <= bands; b++ {
		if in {
			end[b*s.words+w] |= bit
		} else {
			end[b*s.words+w] &^= bit
		}
	}
	// Bands whose high edge is at or below lo.
	for b := min(bands, int(math.Floor(lo-1e-6))-1); b >= 0; b-- {
		if in {
			begin[b*s.words+w] |= bit
		} else {
			begin[b*s.words+w] &^= bit
		}
	}
}

// band is the first word of the band that holds a scaled coordinate.
func (s *state) band(v float64) int { return max(0, min(bands, int(v))) * s.words }

// cost is the weighted loss of piece i in form f at (x, y); the sum stops as
// soon as it passes bound.
func (s *state) cost(i int, f int32, x, y, bound float64) float64 {
	s.evals++
	fm := &s.m.forms[f]
	links := s.m.links[f]
	weight := s.weight[i*s.n : (i+1)*s.n]
	words := s.words
	x0, x1 := s.band(x*s.scaleX), s.band((x+fm.w)*s.scaleX)
	y0, y1 := s.band(y*s.scaleY), s.band((y+fm.h)*s.scaleY)
	sum := 0.0
	for w := range words {
		mask := ^(s.endX[x0+w] | s.beginX[x1+w] | s.endY[y0+w] | s.beginY[y1+w]) & s.there[w]
		if w == i>>6 {
			mask &^= 1 << (i & 63)
		}
		for ; mask != 0; mask &= mask - 1 {
			j := w<<6 + bits.TrailingZeros64(mask)
			p := &s.at[j]
			l := &links[p.form]
			dx, dy := float64(l.sign*(p.x-x))+l.ox, float64(l.sign*(p.y-y))+l.oy
			t := l.t
			ux, uy := (dx-t.ox)*t.kx, (dy-t.oy)*t.ky
			if !(ux > 0 && uy > 0 && ux < cellsPerSide && uy < cellsPerSide) {
				continue
			}
			code := t.cells[(int(uy)*cellsPerSide+int(ux))&(cellsPerSide*cellsPerSide-1)]
			if code == cellOut {
				continue
			}
			if v := t.within(code, ux, uy, dx, dy); v > 0 {
				if sum += float64(v * weight[j]); sum >= bound {
					return sum
				}
			}
		}
	}
	return sum
}

// moveTo puts piece i at a new place and brings the losses up to date.
func (s *state) moveTo(i int, to *spot) {
	s.part(i)
	s.enter(i, false)
	s.form[i], s.bin[i], s.x[i], s.y[i] = to.form, to.bin, to.x, to.y
	s.enter(i, true)
	s.meet(i, 0)
}

// weighted is the weighted loss of piece i where it is.
func (s *state) weighted(i int) float64 {
	sum := 0.0
	for w := range s.words {
		for mask := s.hit[i*s.words+w]; mask != 0; mask &= mask - 1 {
			k := i*s.n + w<<6 + bits.TrailingZeros64(mask)
			sum += float64(s.loss[k] * s.weight[k])
		}
	}
	return sum
}

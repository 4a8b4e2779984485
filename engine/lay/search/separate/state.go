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
	m      *model
	n      int
	free   int
	bins   []bin // the length of the last one changes
	width  float64
	bin    []int32
	form   []int32
	x, y   []float64 // on the axis of all bins
	loss   []float64 // n×n, weight 1
	weight []float64 // n×n
	total  float64   // sum of loss over pairs
	evals  int64

	// Neighbour filter: for each band of an axis, the pieces that end before
	// it and those that begin after it, as bit sets of so many words.
	words          int
	scaleX, scaleY float64
	endX, beginX   []uint64
	endY, beginY   []uint64
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
	s.resetWeights()
	return s
}

func (s *state) resetWeights() {
	for i := range s.weight {
		s.weight[i] = 1
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
	s.total = 0
	for i := range s.free {
		for j := i + 1; j < s.n; j++ {
			l := s.pairLoss(i, j)
			s.loss[i*s.n+j], s.loss[j*s.n+i] = l, l
			s.total += l
		}
	}
}

func (s *state) pairLoss(i, j int) float64 {
	l := &s.m.links[s.form[i]][s.form[j]]
	return l.t.loss(float64(l.sign*(s.x[j]-s.x[i]))+l.ox, float64(l.sign*(s.y[j]-s.y[i]))+l.oy, &l.sev)
}

// enter puts piece i into the filter or takes it out. A piece ends before band
// b when its box, with the gap, ends at or below the band's low edge.
func (s *state) enter(i int, in bool) {
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

func band(v float64) int { return max(0, min(bands, int(v))) }

// cost is the weighted loss of piece i in form f at (x, y); the sum stops as
// soon as it passes bound.
func (s *state) cost(i int, f int32, x, y, bound float64) float64 {
	s.evals++
	fm := &s.m.forms[f]
	links := s.m.links[f]
	weight := s.weight[i*s.n : (i+1)*s.n]
	words := s.words
	x0, x1 := band(x*s.scaleX)*words, band((x+fm.w)*s.scaleX)*words
	y0, y1 := band(y*s.scaleY)*words, band((y+fm.h)*s.scaleY)*words
	sum := 0.0
	for w := range words {
		mask := ^(s.endX[x0+w] | s.beginX[x1+w] | s.endY[y0+w] | s.beginY[y1+w])
		if w == i>>6 {
			mask &^= 1 << (i & 63)
		}
		if w == words-1 && s.n&63 != 0 {
			mask &= 1<<(s.n&63) - 1
		}
		for ; mask != 0; mask &= mask - 1 {
			j := w<<6 + bits.TrailingZeros64(mask)
			l := &links[s.form[j]]
			v := l.t.loss(float64(l.sign*(s.x[j]-x))+l.ox, float64(l.sign*(s.y[j]-y))+l.oy, &l.sev)
			if v > 0 {
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
	s.enter(i, false)
	s.form[i], s.bin[i], s.x[i], s.y[i] = to.form, to.bin, to.x, to.y
	s.enter(i, true)
	n := s.n
	for j := range n {
		if j == i {
			continue
		}
		v := s.pairLoss(i, j)
		s.loss[i*n+j], s.loss[j*n+i] = v, v
	}
}

// weighted is the weighted loss of piece i where it is.
func (s *state) weighted(i int) float64 {
	sum := 0.0
	row := s.loss[i*s.n : (i+1)*s.n]
	for j, v := range row {
		if v > 0 {
			sum += float64(v * s.weight[i*s.n+j])
		}
	}
	return sum
}

func (s *state) collides(i int) bool {
	for _, v := range s.loss[i*s.n : (i+1)*s.n] {
		if v > 0 {
			return true
		}
	}
	return false
}

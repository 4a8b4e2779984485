package separate

import (
	"math"
	"math/rand/v2"
)

// Steps of the descents; the lengths are shares of the piece's smaller side.
const (
	stepGrow   = 1.1
	stepShrink = 0.5
	coarseFrom = 0.25
	coarseTo   = 0.02
	fineFrom   = 0.01
	fineTo     = 0.001
)

// spot is a place for a piece with its cost.
type spot struct {
	form int32
	bin  int32
	x, y float64
	cost float64
}

// mover finds better places for single pieces.
type mover struct {
	s    *state
	rng  *rand.PCG
	best [keepSamples]spot
	n    int
	halt func() bool // the caller wants the search to end at once
}

// unit is a random number in [0, 1).
func (m *mover) unit() float64 { return float64(m.rng.Uint64()>>11) * 0x1p-53 }

// below is a random whole number below n.
func (m *mover) below(n int) int { return int((m.rng.Uint64() >> 32) * uint64(n) >> 32) }

// offer keeps a spot if it is among the best; spots close to a kept one only
// replace it.
func (m *mover) offer(c spot, apart float64) {
	for k := range m.n {
		b := &m.best[k]
		if b.form == c.form && math.Abs(b.x-c.x) < apart && math.Abs(b.y-c.y) < apart {
			if c.cost < b.cost {
				*b = c
				for ; k > 0 && m.best[k].cost < m.best[k-1].cost; k-- {
					m.best[k], m.best[k-1] = m.best[k-1], m.best[k]
				}
			}
			return
		}
	}
	if m.n < keepSamples {
		m.n++
	} else if c.cost >= m.best[keepSamples-1].cost {
		return
	}
	k := m.n - 1
	for ; k > 0 && c.cost < m.best[k-1].cost; k-- {
		m.best[k] = m.best[k-1]
	}
	m.best[k] = c
}

func (m *mover) bound() float64 {
	if m.n < keepSamples {
		return math.Inf(1)
	}
	return m.best[keepSamples-1].cost
}

// move looks for a cheaper place for piece i and puts it there.
func (m *mover) move(i int) bool {
	s := m.s
	many := len(s.bins) > 1
	now := spot{s.form[i], s.bin[i], s.x[i], s.y[i], s.weighted(i)}
	m.n = 0
	f0 := &s.m.forms[now.form]
	apart := 0.1 * min(f0.w, f0.h)
	m.offer(now, apart)
	turns := s.m.turns[s.m.pieces[i].kind]
	for k := range wideSamples + closeSamples {
		f := turns[0]
		if len(turns) > 1 {
			f = turns[m.below(len(turns))]
		}
		fm := &s.m.forms[f]
		bi := now.bin
		if many && k < wideSamples {
			bi = m.someBin()
		}
		bn := &s.bins[bi]
		rx, ry := bn.length-fm.w, bn.width-fm.h
		if rx < 0 || ry < 0 {
			continue
		}
		var x, y float64
		if k < wideSamples {
			x, y = m.unit()*rx, m.unit()*ry
		} else {
			x = now.x - bn.x0 + float64((m.unit()-0.5)*f0.w) + float64((f0.w-fm.w)/2)
			y = now.y + float64((m.unit()-0.5)*f0.h) + float64((f0.h-fm.h)/2)
			x, y = max(0, min(rx, x)), max(0, min(ry, y))
		}
		x, y = bn.x0+math.Floor(x), math.Floor(y)
		if s.m.patterned {
			var ok bool
			if x, y, ok = s.snap(int32(f), bi, x, y); !ok {
				continue
			}
		}
		b := m.bound()
		if c := s.cost(i, int32(f), x, y, b); c < b {
			m.offer(spot{int32(f), bi, x, y, c}, apart)
		}
	}
	for k := range m.n {
		m.descend(i, &m.best[k], coarseFrom, coarseTo)
	}
	b := &m.best[0]
	for k := 1; k < m.n; k++ {
		if m.best[k].cost < b.cost {
			b = &m.best[k]
		}
	}
	m.descend(i, b, fineFrom, fineTo)
	if b.cost < now.cost {
		s.moveTo(i, b)
		return true
	}
	return false
}

// descend walks downhill from b in steps along the axes and diagonals.
func (m *mover) descend(i int, b *spot, from, to float64) {
	s := m.s
	f := &s.m.forms[b.form]
	side := min(f.w, f.h)
	bn := &s.bins[b.bin]
	left, right, top := bn.x0, bn.x0+bn.length-f.w, bn.width-f.h
	step, least := side*from, side*to
	px, py := 0.0, 0.0 // least steps that reach the next motif
	if g := s.m.grains[b.form][bn.index]; g != nil {
		if g.along {
			px = 0.6 * g.v
		}
		if g.across {
			py = 0.6 * g.h
		}
		if g.along && g.across {
			least = max(least, 0.1*min(g.v, g.h))
		}
	}
	for step >= least && b.cost > 0 {
		dx, dy := step, 0.0
		switch m.below(4) {
		case 1:
			dx, dy = 0, step
		case 2:
			dx, dy = step*math.Sqrt2/2, step*math.Sqrt2/2
		case 3:
			dx, dy = step*math.Sqrt2/2, -step*math.Sqrt2/2
		}
		if px > 0 || py > 0 {
			dx, dy = stretch(dx, px), stretch(dy, py)
		}
		found := false
		for range 2 {
			x := math.Floor(max(left, min(right, b.x+dx)))
			y := math.Floor(max(0, min(top, b.y+dy)))
			if s.m.patterned {
				var ok bool
				if x, y, ok = s.snap(b.form, b.bin, x, y); !ok || x == b.x && y == b.y {
					dx, dy = -dx, -dy
					continue
				}
			}
			if c := s.cost(i, b.form, x, y, b.cost); c < b.cost {
				b.x, b.y, b.cost = x, y, c
				found = true
				break
			}
			dx, dy = -dx, -dy
		}
		if found {
			step *= stepGrow
		} else {
			step *= stepShrink
		}
	}
}

// stretch makes a step that is not 0 at least as long as least.
func stretch(d, least float64) float64 {
	switch {
	case d > 0:
		return max(d, least)
	case d < 0:
		return min(d, -least)
	}
	return 0
}

// someBin draws a stretch of goods, a long one more often than a short one.
func (m *mover) someBin() int32 {
	bins := m.s.bins
	sum := 0.0
	for i := range bins {
		sum += float64(bins[i].length * bins[i].width)
	}
	r := m.unit() * sum
	for i := range bins {
		if r -= float64(bins[i].length * bins[i].width); r < 0 {
			return int32(i)
		}
	}
	return int32(len(bins) - 1)
}

package bars

import (
	"math"
	"slices"
)

// choose sets the bars of all shapes. Boxes have theirs; of a shaped piece a
// wide bar is short and a narrow one long. What matters is how many fit side
// by side, so the widths worth looking at are a little over the whole parts of
// the goods; the best are found one after another by the bound they give.
func (m *Model) choose() bool {
	m.opts = m.opts[:0]
	if m.boxes {
		for i := range m.shapes {
			if o, ok := m.bar(&m.shapes[i], 0); ok {
				m.opts = append(m.opts, o)
			}
		}
		return m.covered()
	}
	w := float64(m.bins[len(m.bins)-1].w) / perMM
	for i := range m.shapes {
		s := &m.shapes[i]
		most := s.band.widest()
		s.levels = s.levels[:0]
		for k := 2.0; k <= 6; k++ {
			if c := w/k + 0.01; c < most {
				s.levels = append(s.levels, c)
			}
		}
		for _, f := range [...]float64{0.4, 0.6, 0.75, 0.85, 0.92, 0.97, 0.999} {
			s.levels = append(s.levels, most*f)
		}
		for j := range m.shapes {
			if c := w - m.shapes[j].band.widest()*0.999 + 0.01; c > most/3 && c < most {
				s.levels = append(s.levels, c)
			}
		}
		slices.Sort(s.levels)
		s.levels = slices.Compact(s.levels)
	}
	best := -1.0
	var picked []float64
	try := func(levels []float64) bool {
		m.opts = m.opts[:0]
		for i := range m.shapes {
			o, ok := m.bar(&m.shapes[i], levels[i])
			if !ok {
				return false
			}
			m.opts = append(m.opts, o)
		}
		p := m.potential()
		if b := m.total(&p) - p.over; b > best+1 {
			best = b
			picked = slices.Clone(levels)
			return true
		}
		return false
	}
	for k := 2.0; k <= 5; k++ {
		for _, f := range []float64{0.75, 0.92} {
			levels := make([]float64, len(m.shapes))
			for i := range m.shapes {
				levels[i] = w/k + 0.01
				if most := m.shapes[i].band.widest(); levels[i] > most*0.97 {
					levels[i] = most * f
				}
			}
			try(levels)
		}
	}
	if picked == nil {
		return false
	}
	left := maxTries / len(m.shapes)
	for again := true; again && left > 0; {
		again = false
		for i := range m.shapes {
			for _, c := range m.shapes[i].levels {
				if left--; left < 0 {
					break
				}
				levels := slices.Clone(picked)
				if math.Abs(levels[i]-c) < 0.005 {
					continue
				}
				levels[i] = c
				again = try(levels) || again
			}
		}
	}
	m.opts = m.opts[:0]
	for i := range m.shapes {
		o, _ := m.bar(&m.shapes[i], picked[i])
		m.opts = append(m.opts, o)
	}
	return m.covered()
}

// maxTries is how many settings of the bars are looked at for one shape; with
// more shapes there are fewer, for each takes longer.
const maxTries = 200

// covered tells whether every kind has a bar.
func (m *Model) covered() bool {
	for k, n := range m.count {
		if n > 0 && !slices.ContainsFunc(m.opts, func(o option) bool { return o.kind == k }) {
			return false
		}
	}
	return true
}

package separate

import (
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// fits tells whether the start uses no more sheets than the model has, after
// giving the model as many as it uses.
func (m *model) fits(l lay.Lay) bool {
	n := m.bins[len(m.bins)-1].sheet + 1
	for _, p := range l.Places {
		if p.Bin == len(m.p.Bins)-1 {
			n = max(n, p.Sheet+1)
		}
	}
	if n > m.sheetsAllowed() {
		return false
	}
	m.setSheets(n)
	return true
}

// take sets the arrangement of a lay and tells whether it is complete and
// legal to the grid unit.
func (s *state) take(l lay.Lay) bool {
	m := s.m
	index := map[[2]int]int{}
	for i := range m.free {
		index[[2]int{m.pieces[i].kind, m.pieces[i].copy}] = i
	}
	count := 0
	end := 0.0
	for _, p := range l.Places {
		i, ok := index[[2]int{p.Kind, p.Copy}]
		if !ok {
			continue
		}
		delete(index, [2]int{p.Kind, p.Copy})
		f, bn := -1, m.binOf(p.Bin, p.Sheet)
		for _, k := range m.turns[p.Kind] {
			if m.forms[k].turn == p.Turn {
				f = k
			}
		}
		if f < 0 || bn < 0 {
			return false
		}
		c := m.forms[f].corner
		s.form[i], s.bin[i] = int32(f), int32(bn)
		s.x[i] = s.bins[bn].x0 + float64(toGrid(p.At.X)-c.x)
		s.y[i] = float64(toGrid(p.At.Y) - c.y)
		if bn == len(s.bins)-1 {
			end = max(end, s.x[i]-s.bins[bn].x0+m.forms[f].w)
		}
		count++
	}
	if count != m.free {
		return false
	}
	if m.patterned {
		s.readShifts()
	}
	s.last().length = end
	s.scaleX, s.scaleY = bands/max(1, s.last().x0+end), bands/s.width
	s.rebuild()
	return s.legal()
}

// lay gives an arrangement as a lay.
func (m *model) lay(k *snapshot) lay.Lay {
	out := lay.Lay{}
	for i, p := range m.pieces {
		if p.kind < 0 {
			continue
		}
		b := &k.bins[k.bin[i]]
		f := &m.forms[k.form[i]]
		out.Places = append(out.Places, lay.Place{
			Kind: p.kind, Copy: p.copy, Bin: b.index, Sheet: b.sheet, Turn: f.turn,
			At: geom.P(fromGrid(k.x[i]-b.x0+float64(f.corner.x)), fromGrid(k.y[i]+float64(f.corner.y))),
		})
	}
	last := k.bins[len(k.bins)-1]
	if last.sheet > 0 || last.length > 0 {
		out.Sheets = last.sheet + 1
	} else {
		out.Sheets = 0
	}
	out.Length = unit.Length(fromGrid(last.length))
	return out
}

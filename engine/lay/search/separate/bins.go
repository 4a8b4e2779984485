package separate

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// onGrid is the largest whole number of grid units in a length. A length that
// is within a millionth of a unit of a whole number counts as whole.
func onGrid(l unit.Length) float64 { return math.Floor(float64(l)*perMM + 1e-6) }

// addFixedForms makes the forms of the fixed pieces and of the flaws. A fixed
// piece may have a turn that its kind does not allow to others.
func (m *model) addFixedForms() {
	for _, f := range m.p.Fixed {
		m.fixedForms = append(m.fixedForms, int32(m.formOf(f.Kind, f.Turn&3)))
	}
	m.flawForms = make([][]flaw, len(m.p.Bins))
	for b := range m.p.Bins {
		for _, g := range m.p.Bins[b].Flaws {
			if base := flawPolygon(g); base != nil {
				lo, _ := base.box()
				m.flawForms[b] = append(m.flawForms[b], flaw{int32(len(m.forms)), float64(lo.x), float64(lo.y)})
				m.forms = append(m.forms, makeForm(-1, 0, base, convexParts(base)))
			}
		}
	}
}

// flaw is the form of a flaw and where it lies in its bin.
type flaw struct {
	form int32
	x, y float64
}

// flawPolygon is a flaw on the grid. One without area, a pulled thread, is
// given the box of its corners with one unit around.
func flawPolygon(g geom.Polygon) ipoly {
	p := gridPolygon(g)
	if len(p) == 0 {
		return nil
	}
	if len(p) >= 3 && p.area2() > 0 {
		return p
	}
	lo, hi := p.box()
	lo, hi = lo.sub(ipt{1, 1}), hi.add(ipt{1, 1})
	return ipoly{lo, {hi.x, lo.y}, hi, {lo.x, hi.y}}
}

func (m *model) formOf(kind int, turn lay.Turn) int {
	for i, f := range m.forms {
		if f.kind == kind && f.turn == turn {
			return i
		}
	}
	base := gridPolygon(m.p.Kinds[kind].Shape)
	m.forms = append(m.forms, makeForm(kind, turn, base, convexParts(base)))
	return len(m.forms) - 1
}

// setSheets lays out the stretches of goods one after the other on one axis,
// so far apart that pieces of different stretches never meet: every bin before
// the last, then n of the last one. The obstacles follow.
func (m *model) setSheets(n int) {
	apart := 0.0
	for _, f := range m.forms {
		apart = max(apart, f.w)
	}
	apart += m.gap + perMM
	m.bins, m.pieces = m.bins[:0], m.pieces[:m.free]
	x := 0.0
	for i, b := range m.p.Bins {
		count := max(1, b.Sheets)
		if i == len(m.p.Bins)-1 {
			count = n
		}
		for s := range count {
			l := onGrid(b.Length)
			m.bins = append(m.bins, bin{x0: x, length: l, width: onGrid(b.Width), index: i, sheet: s})
			x += l + apart
		}
	}
	for k, f := range m.p.Fixed {
		c := m.forms[m.fixedForms[k]].corner
		m.pieces = append(m.pieces, piece{
			kind: f.Kind, copy: f.Copy, form: m.fixedForms[k], bin: m.binOf(f.Bin, f.Sheet),
			x: float64(toGrid(f.At.X) - c.x), y: float64(toGrid(f.At.Y) - c.y),
		})
	}
	for b := range m.bins {
		for _, f := range m.flawForms[m.bins[b].index] {
			m.pieces = append(m.pieces, piece{kind: -1, form: f.form, bin: b, x: f.x, y: f.y})
		}
	}
}

// binOf is the stretch of a sheet of a bin, -1 when there is none.
func (m *model) binOf(index, sheet int) int {
	for i, b := range m.bins {
		if b.index == index && b.sheet == sheet {
			return i
		}
	}
	return -1
}

// sheetsAllowed is how many stretches the last bin has at most.
func (m *model) sheetsAllowed() int {
	b := m.p.Bins[len(m.p.Bins)-1]
	switch {
	case b.Length == 0:
		return 1
	case b.Sheets == 0:
		return max(1, m.free+len(m.p.Fixed))
	}
	return b.Sheets
}

// sheetsNeeded is the least number of stretches of the last bin that can hold
// what the bins before it cannot, by area, and that the fixed pieces ask for.
func (m *model) sheetsNeeded() int {
	last := len(m.p.Bins) - 1
	n := 1
	for _, f := range m.p.Fixed {
		if f.Bin == last {
			n = max(n, f.Sheet+1)
		}
	}
	b := m.p.Bins[last]
	if b.Length == 0 {
		return n
	}
	room := 0.0
	for _, o := range m.p.Bins[:last] {
		room += float64(onGrid(o.Length) * onGrid(o.Width))
	}
	return min(m.sheetsAllowed(), max(n, int(math.Ceil((m.area-room)/(onGrid(b.Length)*onGrid(b.Width))-1e-9))))
}

// floor is a length below which the last stretch cannot go, and whether it can
// be left out altogether.
func (s *state) floor() (least float64, dispensable bool) {
	m := s.m
	last := len(s.bins) - 1
	for i := m.free; i < s.n; i++ {
		if m.pieces[i].kind >= 0 && int(s.bin[i]) == last {
			least = max(least, s.x[i]-s.bins[last].x0+m.forms[s.form[i]].w)
		}
	}
	dispensable = last > 0 && least == 0
	for _, forms := range m.turns {
		need, elsewhere := math.Inf(1), false
		for _, f := range forms {
			fm := &m.forms[f]
			if fm.h <= s.bins[last].width {
				need = min(need, fm.w)
			}
			for _, b := range s.bins[:last] {
				elsewhere = elsewhere || fm.w <= b.length && fm.h <= b.width
			}
		}
		if !elsewhere && m.used[m.forms[forms[0]].kind] {
			least = max(least, need)
			dispensable = false
		}
	}
	return least, dispensable
}

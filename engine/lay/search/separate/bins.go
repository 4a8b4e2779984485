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

// addBins sets the stretches of goods one after the other on one axis, far
// enough apart that pieces of different stretches never meet. Sheets that may
// be taken as needed become one stretch each when the state asks for them.
func (m *model) addBins() {
	for _, f := range m.forms {
		m.apart = max(m.apart, f.w)
	}
	m.apart += m.gap + perMM
	x := 0.0
	for i, b := range m.p.Bins {
		count := max(1, b.Sheets)
		if b.Length == 0 {
			count = 1
			m.open = true
		}
		for s := range count {
			l := onGrid(b.Length)
			m.bins = append(m.bins, bin{x0: x, length: l, width: onGrid(b.Width), index: i, sheet: s})
			x += l + m.apart
		}
	}
}

// addObstacles adds the fixed pieces and the flaws.
func (m *model) addObstacles() {
	for _, f := range m.p.Fixed {
		form := m.formOf(f.Kind, uint8(f.Turn))
		c := m.forms[form].corner
		m.pieces = append(m.pieces, piece{
			kind: f.Kind, copy: f.Copy, form: int32(form), bin: m.binOf(f.Bin, f.Sheet),
			x: float64(toGrid(f.At.X) - c.x), y: float64(toGrid(f.At.Y) - c.y),
		})
	}
	for bi, b := range m.bins {
		for _, flaw := range m.p.Bins[b.index].Flaws {
			m.addFlaw(bi, flaw)
		}
	}
}

func (m *model) addFlaw(bi int, flaw geom.Polygon) {
	base := gridPolygon(flaw)
	if len(base) < 3 || base.area2() == 0 {
		return
	}
	lo, _ := base.box()
	f := makeForm(-1, 0, base, convexParts(base), float64(base.area2())/2, float64(base.hull().area2())/2)
	m.pieces = append(m.pieces, piece{kind: -1, form: int32(len(m.forms)), bin: bi, x: float64(lo.x), y: float64(lo.y)})
	m.forms = append(m.forms, f)
}

// binOf is the stretch of a sheet of a bin.
func (m *model) binOf(index, sheet int) int {
	for i, b := range m.bins {
		if b.index == index && b.sheet == sheet {
			return i
		}
	}
	return -1
}

// formOf is the form of a kind in a turn; a fixed piece may have a turn that
// its kind does not allow to others.
func (m *model) formOf(kind int, turn uint8) int {
	for i, f := range m.forms {
		if f.kind == kind && uint8(f.turn) == turn&3 {
			return i
		}
	}
	base := gridPolygon(m.p.Kinds[kind].Shape)
	area, hull := float64(base.area2())/2, float64(base.hull().area2())/2
	m.forms = append(m.forms, makeForm(kind, lay.Turn(turn&3), base, convexParts(base), area, hull))
	return len(m.forms) - 1
}

package lay

import (
	"math"

	"slipseat/engine/unit"
)

// boundSafety is taken off every bound, in millimetres, for the rounding of
// sums of some thousand float64 terms; a hundredth of ProvedWithin.
const boundSafety = 0.001

// Bounded fills in a lay's Bound, SheetBound and Proved from what can be
// reckoned at once. A larger bound that the lay already has stays.
func Bounded(p Problem, l *Lay) {
	length, sheets := Bound(p)
	l.Bound, l.SheetBound = max(l.Bound, length), max(l.SheetBound, sheets)
	last := p.Bins[len(p.Bins)-1]
	if last.Sheets == 0 {
		l.Proved = l.SheetBound >= l.Sheets && (last.Length == 0 || l.Length-l.Bound <= ProvedWithin)
		return
	}
	l.Proved = l.Length-l.Bound <= ProvedWithin
}

// Bound gives a proved lower bound on the length along the last bin, and on
// the sheets of a repeated one. It is quick: the area and the longest piece.
func Bound(p Problem) (unit.Length, int) {
	last := p.Bins[len(p.Bins)-1]
	area, room := 0.0, 0.0
	for _, k := range p.Kinds {
		area += float64(k.Count) * k.Shape.Area()
	}
	for _, b := range p.Bins[:len(p.Bins)-1] {
		room += float64(b.Width) * float64(b.Length)
	}
	area = math.Max(0, area-room)
	if last.Sheets == 0 {
		if last.Length == 0 {
			return 0, 0
		}
		return 0, int(math.Ceil(area/(float64(last.Width)*float64(last.Length)) - 1e-9))
	}
	return unit.Length(math.Max(0, area/float64(last.Width)-boundSafety)), 0
}

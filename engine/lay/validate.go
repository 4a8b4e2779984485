package lay

import (
	"math"

	"slipseat/engine/unit"
)

// Codes of the faults of a problem. Where.Piece holds the kind's ID,
// Where.Goods the bin's.
const (
	CodeNoGoods     = "lay.no-goods"
	CodeBadShape    = "lay.bad-shape"
	CodeBadCount    = "lay.bad-count"
	CodeNoTurn      = "lay.no-turn-allowed"
	CodeBadGoods    = "lay.bad-goods"
	CodeTooWide     = "lay.piece-wider-than-goods"
	CodeTooManyAll  = "lay.too-many-pieces"
	CodeBadFixed    = "lay.locked-piece-unknown"
	CodeBadGap      = "lay.bad-gap"
	maxPieces       = 5000
	maxLengthMM     = 1e6
	maxShapeCorners = 2000
)

// Validate tells what in the problem cannot be worked with: shapes that are
// empty, clockwise, crossing themselves or not numbers, squared blanks that are
// no boxes, counts below zero, goods without width, and
// kinds that are wider than every stretch of goods in every turn they may take.
func (p Problem) Validate() []unit.Fault {
	var out []unit.Fault
	fault := func(code, piece, goods string, args ...unit.Arg) {
		out = append(out, unit.Fault{Code: code, Where: unit.Where{Piece: piece, Goods: goods}, Args: args})
	}
	if len(p.Bins) == 0 {
		fault(CodeNoGoods, "", "")
		return out
	}
	if !finite(float64(p.Gap)) || p.Gap < 0 || p.Gap > 1000 || !finite(float64(p.Step)) || p.Step < 0 {
		fault(CodeBadGap, "", "", unit.A("gap", p.Gap))
	}
	for i, b := range p.Bins {
		last := i == len(p.Bins)-1
		ok := finite(float64(b.Width)) && b.Width > 0 && b.Width < maxLengthMM && finite(float64(b.Length)) && b.Length >= 0 && b.Length < maxLengthMM
		ok = ok && (last || b.Length > 0 && b.Sheets == 1) && b.Sheets >= 0 && (b.Length > 0 || b.Sheets == 1)
		l := b.Lattice
		ok = ok && finite(float64(l.Along)) && l.Along >= 0 && finite(float64(l.Across)) && l.Across >= 0 && finite(l.Drop) && finite(l.Phase.X) && finite(l.Phase.Y)
		for _, f := range b.Flaws {
			for _, q := range f {
				ok = ok && finite(q.X) && finite(q.Y)
			}
		}
		if !ok {
			fault(CodeBadGoods, "", b.ID)
		}
	}
	total := 0
	for _, k := range p.Kinds {
		if k.Count < 0 || k.Count > maxPieces {
			fault(CodeBadCount, k.ID, "", unit.A("count", k.Count))
			continue
		}
		total += k.Count
		if k.Turns&AnyTurn == 0 {
			fault(CodeNoTurn, k.ID, "")
			continue
		}
		ok := len(k.Shape) >= 3 && len(k.Shape) <= maxShapeCorners && finite(k.Motif.X) && finite(k.Motif.Y)
		for _, q := range k.Shape {
			ok = ok && finite(q.X) && finite(q.Y) && math.Abs(q.X) < maxLengthMM && math.Abs(q.Y) < maxLengthMM
		}
		ok = ok && k.Shape.Area() > 0 && (k.Square && k.isBox() || !k.Square && k.Shape.Path().Validate() == nil)
		if !ok {
			fault(CodeBadShape, k.ID, "")
			continue
		}
		if len(out) == 0 && k.Count > 0 && !p.fitsSomewhere(k) {
			w, _ := k.least(p.Bins[len(p.Bins)-1])
			fault(CodeTooWide, k.ID, p.Bins[len(p.Bins)-1].ID, unit.A("piece", w), unit.A("width", p.Bins[len(p.Bins)-1].Width))
		}
	}
	if total > maxPieces {
		fault(CodeTooManyAll, "", "", unit.A("count", total), unit.A("limit", maxPieces))
	}
	for _, f := range p.Fixed {
		if f.Kind < 0 || f.Kind >= len(p.Kinds) || f.Copy < 0 || f.Copy >= p.Kinds[max(0, min(f.Kind, len(p.Kinds)-1))].Count ||
			f.Bin < 0 || f.Bin >= len(p.Bins) || f.Turn > 3 || !finite(f.At.X) || !finite(f.At.Y) {
			fault(CodeBadFixed, "", "")
		}
	}
	return out
}

// isBox tells whether the shape is a box with its sides along the axes.
func (k Kind) isBox() bool {
	b := k.Shape.Bounds()
	for _, q := range k.Shape {
		if q.X != b.Min.X && q.X != b.Max.X || q.Y != b.Min.Y && q.Y != b.Max.Y {
			return false
		}
	}
	return len(k.Shape) == 4
}

// fitsSomewhere tells whether one piece of the kind fits some bin in some turn,
// patterns and flaws apart.
func (p Problem) fitsSomewhere(k Kind) bool {
	for _, b := range p.Bins {
		if _, ok := k.least(b); ok {
			return true
		}
	}
	return false
}

// least is the smallest extent across that a kind can take in a bin, and
// whether one of its turns fits.
func (k Kind) least(b Bin) (unit.Length, bool) {
	least, fits := unit.Length(math.Inf(1)), false
	box := k.Shape.Bounds()
	for t := Turn(0); t < 4; t++ {
		if !k.Turns.Has(t) {
			continue
		}
		l, w := unit.Length(box.W()), unit.Length(box.H())
		if t%2 == 1 {
			l, w = w, l
		}
		least = min(least, w)
		if w <= b.Width+CheckTol/2 && (b.Length == 0 || l <= b.Length+CheckTol/2) {
			fits = true
		}
	}
	return least, fits
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

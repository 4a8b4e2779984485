package cloth

import (
	"math"

	"slipseat/engine/unit"
)

// Faults of goods. The words are under "fault.<code>".
const (
	CodeNotANumber   = "goods.not-a-number"
	CodeNegative     = "goods.negative"
	CodeTooLarge     = "goods.too-large"
	CodeMissing      = "goods.missing"
	CodeNoWidthLeft  = "goods.no-width-left"
	CodeUsableWider  = "goods.usable-wider"
	CodeDrop         = "goods.drop"
	CodeDropFraction = "goods.drop-not-simple"
	CodeSpare        = "goods.spare"
	CodeFlawOutside  = "goods.flaw-outside"
	CodeTrimTooWide  = "goods.trim-too-wide"
	CodeParts        = "goods.parts"
)

// Limits: beyond these a figure is a slip of the keyboard. No loom weaves 5 m
// of furnishing cloth; no roll holds 1 km of it; foam leaves the factory in
// blocks up to 2.5 m wide and far longer than any workroom.
const (
	MaxWidth     = 5 * unit.M
	MaxLength    = 1000 * unit.M
	MaxSheet     = 10 * unit.M
	MaxThickness = 500 * unit.MM // foam
	MaxLayer     = 50 * unit.MM  // one layer of cloth or wadding pressed flat
	MaxGap       = 100 * unit.MM // gap and saw cut
	MaxSpare     = unit.Whole    // as much again
)

// checker gathers faults of one thing of the goods.
type checker struct {
	id     string
	faults []unit.Fault
}

func (k *checker) add(code, field string, args ...unit.Arg) {
	k.faults = append(k.faults, unit.Fault{Code: code, Where: unit.Where{Goods: k.id, Field: field}, Args: args})
}

// length checks 0 <= l <= most and tells whether it held.
func (k *checker) length(field string, l, most unit.Length) bool {
	switch {
	case math.IsNaN(l.MM()) || math.IsInf(l.MM(), 0):
		k.add(CodeNotANumber, field)
	case l < 0:
		k.add(CodeNegative, field, unit.A("got", l))
	case l > most:
		k.add(CodeTooLarge, field, unit.A("got", l), unit.A("most", most))
	default:
		return true
	}
	return false
}

// needed checks 0 < l <= most.
func (k *checker) needed(field string, l, most unit.Length) bool {
	if l == 0 {
		k.add(CodeMissing, field)
		return false
	}
	return k.length(field, l, most)
}

// Check gives every fault of a cloth, in the order of its fields; none means
// that it can be laid on. Where names the goods by ID and the field.
func (c Cloth) Check() []unit.Fault {
	k := &checker{id: c.ID}
	wide := true
	if !c.Usable.Set || c.Width != 0 {
		wide = k.needed("width", c.Width, MaxWidth)
	}
	wide = k.length("selvedge_near", c.SelvedgeNear, MaxWidth) && wide
	wide = k.length("selvedge_far", c.SelvedgeFar, MaxWidth) && wide
	switch {
	case c.Usable.Set:
		if k.needed("usable", c.Usable.Value, MaxWidth) && wide && c.Width > 0 && c.Usable.Value > c.Width+stepTol {
			k.add(CodeUsableWider, "usable", unit.A("got", c.Usable.Value), unit.A("most", c.Width))
		}
	case wide && c.Width-c.SelvedgeNear-c.SelvedgeFar <= 0:
		k.add(CodeNoWidthLeft, "selvedge_near", unit.A("width", c.Width), unit.A("selvedges", c.SelvedgeNear+c.SelvedgeFar))
	}
	k.length("thickness", c.Thickness, MaxLayer)
	c.Pattern.check(k)
	k.length("gap", c.Gap, MaxGap)
	k.length("square_up", c.SquareUp, unit.M)
	k.length("at_hand", c.AtHand, MaxLength)
	k.length("roll_length", c.Came, MaxLength)
	k.length("step", c.Step, 10*unit.M)
	if c.Spare < 0 || c.Spare > MaxSpare {
		k.add(CodeSpare, "spare", unit.A("got", c.Spare), unit.A("most", MaxSpare))
	}
	if c.Price < 0 {
		k.add(CodeNegative, "price", unit.A("got", c.Price))
	}
	k.length("price_unit", c.PriceUnit, 10*unit.M)
	for _, f := range c.Flaws {
		b := f.Box
		for _, v := range []float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				k.add(CodeNotANumber, "flaws", unit.A("flaw", f.ID))
				return k.faults
			}
		}
		if b.W() <= 0 || b.H() <= 0 || b.Max.X <= 0 || b.Max.Y <= 0 || b.Min.Y >= c.UsableWidth().MM() ||
			b.Max.X > MaxLength.MM() || b.Min.X < -MaxLength.MM() {
			k.add(CodeFlawOutside, "flaws", unit.A("flaw", f.ID))
		}
	}
	checkOffcuts(k, c.Offcuts, MaxLength, MaxWidth)
	return k.faults
}

func (p Pattern) check(k *checker) {
	k.length("repeat_along", p.Along, 3*unit.M)
	across := k.length("repeat_across", p.Across, MaxWidth)
	switch {
	case math.IsNaN(p.Drop) || p.Drop < 0 || p.Drop >= 1:
		k.add(CodeDrop, "drop", unit.A("got", p.Drop))
	case across && p.Across > 0 && p.AcrossIs == OnOneLevel && columnsPerLevel(p.Drop) == 0:
		k.add(CodeDropFraction, "drop", unit.A("got", p.Drop))
	}
	// Any motif may have been measured; which one is settled modulo the repeat.
	if p.FirstAlong.Set {
		k.length("first_along", p.FirstAlong.Value, MaxLength)
	}
	if p.FirstAcross.Set {
		k.length("first_across", p.FirstAcross.Value, MaxWidth)
	}
}

func checkOffcuts(k *checker, offcuts []Offcut, longest, widest unit.Length) {
	for _, o := range offcuts {
		k.needed("offcut_length", o.Length, longest)
		k.needed("offcut_width", o.Width, widest)
	}
}

// Check gives every fault of a kind of foam sheet, in the order of its fields.
// A size that nobody gave yet is one of them.
func (s Sheet) Check() []unit.Fault {
	k := &checker{id: s.ID}
	k.needed("thickness", s.Thickness, MaxThickness)
	l := k.needed("sheet_length", s.Length, MaxSheet)
	w := k.needed("sheet_width", s.Width, MaxSheet)
	k.length("saw_cut", s.SawCut, MaxGap)
	if k.length("trim", s.Trim, unit.M) && l && w && 2*s.Trim >= min(s.Length, s.Width) {
		k.add(CodeTrimTooWide, "trim", unit.A("got", s.Trim), unit.A("size", min(s.Length, s.Width)))
	}
	if s.Price < 0 {
		k.add(CodeNegative, "price", unit.A("got", s.Price))
	}
	if f := float64(s.Firmness.Force); math.IsNaN(f) || math.IsInf(f, 0) {
		k.add(CodeNotANumber, "firmness")
	} else if f < 0 {
		k.add(CodeNegative, "firmness", unit.A("got", f))
	}
	if d := float64(s.Density); math.IsNaN(d) || math.IsInf(d, 0) {
		k.add(CodeNotANumber, "density")
	} else if d < 0 {
		k.add(CodeNegative, "density", unit.A("got", d))
	}
	if s.Glue.Allow {
		k.length("glue_min_width", s.Glue.MinWidth, MaxSheet)
		if n := s.Glue.MaxParts; n != 0 && n != 2 && n != 3 {
			k.add(CodeParts, "glue_parts", unit.A("got", n))
		}
	}
	checkOffcuts(k, s.Offcuts, MaxSheet, MaxSheet)
	return k.faults
}

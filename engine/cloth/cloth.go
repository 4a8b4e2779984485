// Package cloth holds the facts of the goods that pieces are cut from: cloth
// on a roll, foam in sheets, and what is left over of either. It says what may
// be turned, where the pattern lies, how much of a roll is usable and how much
// of it has to be bought. It knows no seats.
//
// On a roll u runs along from the cut end and v across from the near edge of
// the usable width, as lay's x and y do; v = 0 is the near selvedge's inner
// edge.
package cloth

import (
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// Use says which part of a seat a cloth is for.
type Use uint8

// Uses of cloth.
const (
	Cover Use = iota
	Contrast
	DustCloth
	Wadding
	Lining
	FireBarrier
)

// Direction says how far a cloth binds the way its pieces lie.
type Direction uint8

// Directions of cloth, the zero value being the freest.
const (
	Plain        Direction = iota // lies any way round
	SetDirection                  // one direction along the roll, but no nap: may stand on its head
	OneWay                        // nap or one-way print: every piece the same way
)

// Turning is the user's word on turning pieces, over what the cloth itself
// asks for.
type Turning uint8

// Choices of turning.
const (
	AsTheCloth   Turning = iota // what direction and pattern allow
	NeverTurn                   // every piece the same way
	AllowHalf                   // half turns allowed whatever the cloth
	AllowQuarter                // quarter turns allowed whatever the cloth
)

// Cloth is a fabric on a roll, or a piece of one. All lengths are as the user
// gave them; a zero length means nothing of the kind (no gap, no selvedge, no
// square-up) unless the field says otherwise. New gives one with the usual
// starting figures.
type Cloth struct {
	ID   string
	Name string
	Use  Use

	Width        unit.Length // between the outer edges
	SelvedgeNear unit.Length // unused at v = 0
	SelvedgeFar  unit.Length // unused at the far edge
	// Usable is the width between the selvedges as measured on the roll; while
	// unset it is Width less both selvedges.
	Usable    unit.Opt
	Thickness unit.Length // of one layer pressed flat; 0 when nobody measured it

	Pattern   Pattern
	Direction Direction
	Turning   Turning
	Lie       Lie // how seats lie on the roll

	Gap      unit.Length // least distance between two pieces
	SquareUp unit.Length // lost at the crooked cut end
	Flaws    []Flaw

	AtHand unit.Length // length of a piece already there; 0 for a roll cut to order
	// Came is the length of the roll as it came, measured; 0 before. Like a
	// piece at hand it is cut from first, but it was bought for the job.
	Came    unit.Length
	Offcuts []Offcut // pieces of this cloth to be used first

	Step      unit.Length // selling step; 0 when cut to the exact length
	Spare     unit.Share  // bought on top of what is needed
	Price     unit.Money  // for one PriceUnit
	PriceUnit unit.Length // what the price is for, a yard or a metre; 0 reads as a metre

	// RollChecked says that lot, width, length, repeat, first motif and flaws
	// were looked at on the roll itself; until then a cut sheet is a draft.
	RollChecked bool
	Lot         string
	// CustomersOwn marks cloth that the customer brings: laid and counted, not
	// charged.
	CustomersOwn bool
}

// Starting figures of a new cloth (common practice, no source): what lies on
// the counter in most shops, always the user's to change.
const (
	StartWidth    = 54 * unit.In
	StartSelvedge = unit.In / 2
	StartSquareUp = 1 * unit.In
	StartGap      = unit.In / 8
)

// New gives a plain 54 in cloth with half an inch of selvedge on either side,
// an eighth between pieces and one inch to square the end, sold by the eighth
// of a yard.
func New(id string) Cloth {
	return Cloth{
		ID:           id,
		Width:        StartWidth,
		SelvedgeNear: StartSelvedge,
		SelvedgeFar:  StartSelvedge,
		Gap:          StartGap,
		SquareUp:     StartSquareUp,
		Step:         unit.Yd / 8,
		PriceUnit:    unit.Yd,
	}
}

// UsableWidth is the width that pieces may lie on, never below nothing.
func (c Cloth) UsableWidth() unit.Length {
	return max(0, c.Usable.Or(c.Width-c.SelvedgeNear-c.SelvedgeFar))
}

// Flaw is a bad zone on the roll that no piece may touch, in the roll's frame.
type Flaw struct {
	ID   string
	Box  geom.Rect // x along from the cut end, y across from the near edge of the usable width
	Note string
}

// Zone gives the flaw as a polygon, counter-clockwise.
func (f Flaw) Zone() geom.Polygon {
	a, b := f.Box.Min, f.Box.Max
	return geom.Polygon{a, {X: b.X, Y: a.Y}, b, {X: a.X, Y: b.Y}}
}

// Offcut is a rectangle of cloth or foam left over from earlier work.
type Offcut struct {
	ID     string
	Name   string
	Origin string      // where it came from
	Length unit.Length // along the roll or sheet it was cut from
	Width  unit.Length // across it
	// FirstAlong and FirstAcross place the first motif on a patterned offcut,
	// from its own corner.
	FirstAlong, FirstAcross unit.Opt
	Lot                     string // of its dye
}

// Turns says which turns, relative to the lay direction, the cloth's pieces
// may take (DESIGN section 5): one way {0}, set direction {0, 180}, plain {0,
// 90, 180, 270}. A pattern is never turned on its side, and stands on its head
// only when it is marked as having no up or down. The user's own word
// (Turning) goes before all of it; Bends tells when it does so against the
// cloth.
func Turns(c Cloth) lay.Turns {
	switch c.Turning {
	case NeverTurn:
		return lay.OneWay
	case AllowHalf:
		return lay.EitherWay
	case AllowQuarter:
		return lay.AnyTurn
	}
	return own(c)
}

// own is what direction and pattern allow by themselves.
func own(c Cloth) lay.Turns {
	t := lay.AnyTurn
	switch c.Direction {
	case SetDirection:
		t = lay.EitherWay
	case OneWay:
		t = lay.OneWay
	}
	if !c.Pattern.None() {
		t &= lay.EitherWay
		if !c.Pattern.NoUpDown {
			t &= lay.OneWay
		}
	}
	return t
}

// Bends tells whether the user's word on turning allows a turn that direction
// or pattern forbid.
func Bends(c Cloth) bool { return Turns(c)&^own(c) != 0 }

// Marked gives the cloth as it is laid on: gap and selvedges rounded up to the
// marking step, so that everything printed is a whole number of steps
// (DESIGN section 3). A usable width that was measured stays as it is.
func (c Cloth) Marked(step unit.Length) Cloth {
	c.Gap = roundUp(c.Gap, step)
	c.SelvedgeNear = roundUp(c.SelvedgeNear, step)
	c.SelvedgeFar = roundUp(c.SelvedgeFar, step)
	return c
}

// roundUp lifts a length to the next whole step; 0 leaves it as it is.
func roundUp(l, step unit.Length) unit.Length {
	if step <= 0 {
		return l
	}
	return unit.Length(Steps(l, step)) * step
}

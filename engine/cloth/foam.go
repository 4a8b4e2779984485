package cloth

import (
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// Sheet is foam in sheets of one thickness. The size of a sheet is the user's;
// there is no usual one, so a zero size means that nobody gave it yet. A
// supplier's nominal size is the guaranteed least size of a slab (S32, grade
// A), so pieces may lie on all of it.
type Sheet struct {
	ID        string
	Name      string
	Thickness unit.Length
	Length    unit.Length // of a whole sheet
	Width     unit.Length
	SawCut    unit.Length // lost between two pieces
	Trim      unit.Length // unused along all four edges
	Firmness  Firmness
	Density   Density

	Offcuts []Offcut // pieces of this foam to be used first
	Have    int      // whole sheets there already
	Glue    Glue

	Price unit.Money // for one sheet
}

// Glue says whether foam blanks may be made of parts glued edge to edge
// (DESIGN section 5), and how small a part may be.
type Glue struct {
	Allow    bool
	MinWidth unit.Length // no part narrower
	MaxParts int         // 2 or 3; 0 reads as 3
	KeepOff  unit.Length // how far a joint stays off the front edge and the centre line
}

// Figures of glue-ups where the user set none (common practice, no source).
const (
	UsualGlueLeast = 4 * unit.In
	UsualKeepOff   = 2 * unit.In
)

// Usable gives the size of a sheet that pieces may lie on, never below
// nothing.
func (s Sheet) Usable() (length, width unit.Length) {
	return max(0, s.Length-2*s.Trim), max(0, s.Width-2*s.Trim)
}

// Turns says that foam may lie any way round.
func (s Sheet) Turns() lay.Turns { return lay.AnyTurn }

// Density is mass by volume in kilograms per cubic metre.
type Density float64

// Force is in newtons.
type Force float64

// Units of density and force, exact: 1 lb = 0.45359237 kg, 1 ft = 0.3048 m,
// standard gravity 9.80665 m/s^2 (NIST SP 811, appendix B).
const (
	KgPerM3  Density = 1
	LbPerFt3 Density = 0.45359237 / (0.3048 * 0.3048 * 0.3048) // 16.01846...
	Newton   Force   = 1
	PoundF   Force   = 0.45359237 * 9.80665 // 4.4482216152605
)

// LbPerFt3 gives the density in pounds per cubic foot.
func (d Density) LbPerFt3() float64 { return float64(d / LbPerFt3) }

// PoundF gives the force in pounds-force.
func (f Force) PoundF() float64 { return float64(f / PoundF) }

// Firmness is the force that indents the foam by Percent of its thickness with
// a round foot: 25 % (and 65 %) with 50 in2 in ASTM D3574, test B1; 40 % in
// ISO 2439, method A. Figures at different percents are different tests and
// are never converted into each other. The zero value is unknown.
type Firmness struct {
	Force   Force
	Percent int
}

// FirmnessBand is the accepted band of a nominal indentation force, 10 % to
// either side: nominal 30 is 27 to 33.
//
// Source: S33 (industry body, grade A).
func FirmnessBand(nominal Force) (least, most Force) { return nominal * 9 / 10, nominal * 11 / 10 }

// Grade reads a foam maker's four-figure grade: 2535 is 2.5 lb/ft3 and 35
// pounds-force at 25 %. It reports false for anything else.
//
// Source: S40, S81 (trade, grade B).
func Grade(text string) (Density, Firmness, bool) {
	if len(text) != 4 {
		return 0, Firmness{}, false
	}
	n := 0
	for _, r := range text {
		if r < '0' || r > '9' {
			return 0, Firmness{}, false
		}
		n = n*10 + int(r-'0')
	}
	if n/100 == 0 || n%100 == 0 {
		return 0, Firmness{}, false
	}
	return Density(n/100) * LbPerFt3 / 10, Firmness{Force: Force(n%100) * PoundF, Percent: 25}, true
}

// Marked gives the sheet as it is laid on: saw cut and trim rounded up to the
// marking step.
func (s Sheet) Marked(step unit.Length) Sheet {
	s.SawCut = roundUp(s.SawCut, step)
	s.Trim = roundUp(s.Trim, step)
	return s
}

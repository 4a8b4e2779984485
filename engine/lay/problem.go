// Package lay says what a lay is: the frozen problem, the lay as a value, the
// lower bounds and the one independent judge, Check. It knows no seats.
//
// x runs along the goods from the cut end, y across them from the near edge of
// the usable width; lengths are float64 millimetres.
package lay

import (
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Turn counts quarter turns counter-clockwise.
type Turn uint8

// Turns is a set of turns, bit i for turn i.
type Turns uint8

// The sets of turns that goods and patterns allow (DESIGN section 5).
const (
	OneWay    Turns = 1 << 0                    // nap or one-way print
	EitherWay Turns = 1<<0 | 1<<2               // set direction, no nap
	AnyTurn   Turns = 1<<0 | 1<<1 | 1<<2 | 1<<3 // plain goods, foam
)

// Has tells whether t is in the set.
func (s Turns) Has(t Turn) bool { return s>>t&1 == 1 }

// Problem is everything a lay depends on. It is frozen: nobody changes a
// Problem after it was made.
type Problem struct {
	Kinds []Kind
	Bins  []Bin       // used in this order; only the last may be open-ended or repeated
	Gap   unit.Length // least distance between two pieces, and from a piece to a flaw
	// RowsOnly asks for lays that are cut by straight lines across the whole
	// width first and by straight lines inside each row.
	RowsOnly bool
	// Fixed pieces are locked by hand or cut already and stay where they are.
	Fixed []Place
	// Step is the marking step that unpatterned squared pieces snap to in the
	// last pass; 0 for none.
	Step unit.Length
}

// Kind is one shape of piece with its count.
type Kind struct {
	ID     string       // stable name for reports, for example "A" or "B2-1"
	Shape  geom.Polygon // at turn 0, counter-clockwise, simple, around its own origin
	Count  int
	Turns  Turns
	Square bool    // a squared blank: an axis-aligned rectangle
	Motif  geom.Pt // point of the shape that the pattern is set on
	Along  Phase   // rule along the goods
	Across Phase   // rule across the goods
	Group  int     // pieces with an equal Group and rule Alike share one phase
}

// Phase is a rule for where the pattern lies on a piece (DESIGN section 5).
type Phase uint8

// Phase rules.
const (
	Free    Phase = iota // any phase
	Alike                // the same phase for all pieces of the group
	Centred              // a motif on the motif point
)

// Bin is one stretch of goods: a piece at hand, a roll or a kind of sheet.
type Bin struct {
	ID     string
	Width  unit.Length // usable width across, selvedges or trim edges already off
	Length unit.Length // usable length; 0 means open-ended
	// Sheets is how many such stretches there are: 1 for a roll or a piece at
	// hand, 0 for as many sheets as are needed (last bin only).
	Sheets  int
	Flaws   []geom.Polygon // zones that no piece may touch
	Lattice Lattice
}

// Lattice is the pattern repeat: motifs lie at x = Phase.X + i*Along +
// frac(j*Drop)*Along, y = Phase.Y + j*Across. A zero Along (Across) means that
// nothing repeats in that direction and its phase rules are ignored.
type Lattice struct {
	Along, Across unit.Length
	Drop          float64 // fraction of Along by which the next column starts later
	Phase         geom.Pt
}

// None tells that the goods have no pattern.
func (l Lattice) None() bool { return l.Along == 0 && l.Across == 0 }

// Place is one piece as laid: the shape turned about its own origin, then
// moved by At.
type Place struct {
	Kind  int // index into Problem.Kinds
	Copy  int // 0 ... Count-1
	Bin   int // index into Problem.Bins
	Sheet int // which of the bin's equal sheets, from 0
	Turn  Turn
	At    geom.Pt
}

// Lay is an answer to a Problem. Lays are values; nobody changes one that was
// handed out.
type Lay struct {
	Places []Place
	// Length is the extent along the last, open-ended bin (0 when it holds
	// nothing), or along the last sheet used.
	Length unit.Length
	Sheets int // sheets used of a repeated last bin
	// Bound is a proved lower bound on Length for an open-ended last bin;
	// SheetBound one on Sheets.
	Bound       unit.Length
	SheetBound  int
	Proved      bool // no lay can be shorter
	Seed        uint64
	Evaluations int64
}

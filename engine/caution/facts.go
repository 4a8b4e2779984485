package caution

import (
	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/unit"
)

// Facts is what the rules look at. A part that is not known yet is left at its
// zero value and raises nothing.
type Facts struct {
	Seats  []Seat
	Cloths []Cloth
	Foams  []Foam

	Purpose        Purpose
	Country        string // ISO 3166-1 alpha-2, empty when not given
	MadeBefore1950 bool
	Adhesive       bool // in the order
	KeepOldFilling bool
}

// Purpose says what the seats are for.
type Purpose uint8

// Purposes, as a job gives them.
const (
	OwnUse Purpose = iota
	CustomersOwn
	ForSale
	Contract
)

// Seat is one kind of seat.
type Seat struct {
	ID, Name     string
	Count        int
	Spec         buildup.Spec
	Result       buildup.Result
	Width, Depth unit.Length // of the board
	OverOldCover bool        // measured with the old cover on
	TracedBelow  bool        // traced from the underside
	Flipped      bool        // and turned over since
	// Known is a measurement of the real board, Traced what the traced outline
	// has for it; 0 where nothing was measured.
	Known, Traced unit.Length
	FrontJoint    bool     // a glued joint of its foam lies under the front edge
	Lots          []string // lots of the rolls its covers are cut from, each once
}

// Blank is a piece to be cut from goods.
type Blank struct {
	Seat  string // ID
	Name  string // of the seat
	Piece string // as numbered, or the seat's letter for all of them
	Part  buildup.Part
	W, D  unit.Length
}

// Cloth is a cloth with what is cut from it.
type Cloth struct {
	Cloth   cloth.Cloth
	Blanks  []Blank
	Needed  unit.Length // square-up, lay and spare, before rounding; 0 while pending
	Missing int         // pieces that what is there does not give
	// Worst and Best are the lengths to buy for the worst and the best place
	// where the pattern may start across; 0 while pending or where that is
	// known. NoRoom: at some places it leaves no room at all.
	Worst, Best unit.Length
	NoRoom      bool
	// RepeatSpare: the length bought includes one repeat for the start of the
	// pattern.
	RepeatSpare bool
}

// Foam is a kind of sheet with what is cut from it.
type Foam struct {
	Sheet  cloth.Sheet
	Blanks []Blank
	Glued  []string // IDs of seats whose blanks are glued of parts
}

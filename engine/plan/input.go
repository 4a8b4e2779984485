// Package plan is the whole chain from measurements to the order as one pure
// function, Make. It alone knows the order of the stages. It builds every lay's
// problem and never solves one: lays are asked for by their problem's ID, and
// figures that hang on one that is not there yet are pending.
package plan

import (
	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/order"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// Input is everything a plan depends on, in engine types. Nobody changes one
// that was handed out; equal inputs make equal plans.
type Input struct {
	Step  unit.Length // marking step
	Seats []Seat
	Rolls []Roll
	Foams []cloth.Sheet

	Locked  []Locked // pieces placed by hand, cut already or spoiled
	GlueUps []GlueUp // foam blanks made of parts

	// KeepFrom is the shorter side of the smallest rest that is worth keeping;
	// LeastOffcut where 0.
	KeepFrom unit.Length

	Staples  order.StapleNeed // box, price, share spoiled; the seats are filled in
	Adhesive *Adhesive        // nil when none is used
	Cord     ByLength         // of welt
	Webbing  ByLength
	Zip      ByLength
	Extras   []order.Extra
	Tax      unit.Share
	Deposit  unit.Share

	KeepOldFilling bool
	Purpose        Purpose
	Country        string // ISO 3166-1 alpha-2, empty when not given
	MadeBefore1950 bool

	// Dismissed holds the keys of cautions that the user has dealt with, and
	// why.
	Dismissed map[string]string
}

// ByLength is how something is bought that is sold by length and not laid.
type ByLength struct {
	Each      unit.Money
	PriceUnit unit.Length
	Step      unit.Length
	Have      unit.Length
}

// GlueUp says that a foam blank is made of two or three parts with straight
// joints between them.
type GlueUp struct {
	Seat        string // ID
	Layer       int    // of foam, from 0 at the board
	Piece       int    // number of the seat; 0 for all that have none of their own
	FrontToBack bool   // the joints run from front to back, else from side to side
	// At are the places of the joints, one or two: from the blank's left edge
	// or from its front.
	At []unit.Length
}

// Purpose says what the seats are for; fire rules hang on it.
type Purpose uint8

// Purposes.
const (
	OwnUse Purpose = iota
	CustomersOwn
	ForSale
	Contract
)

// Adhesive is bought by what a can covers.
type Adhesive struct {
	Coverage unit.Area
	Each     unit.Money
	Have     float64
}

// Roll is a cloth with how it is to be cut.
type Roll struct {
	cloth.Cloth
	RowsOnly bool
}

// Seat is one kind of seat.
type Seat struct {
	ID, Name string
	Letter   string // A, B ... of its pieces
	Count    int
	Shape    Shape
	OldCover unit.Length // measured over an old cover this thick, all round; 0 for the bare board
	Build    buildup.Spec
	// MotifAcross and MotifFront set the motif point to the right of the
	// centre line and from the front edge on it, where that is not half the
	// depth of the board's top.
	MotifAcross unit.Length
	MotifFront  unit.Opt
	Labour      order.LabourNeed

	Own []Own // single seats that differ, by number
	// Plane takes off the board what its clearance asks for.
	Plane bool
	// Known is a measurement of the real board that a traced shape is held
	// against.
	Known seat.Known
}

// Own is a single seat of a kind with measurements or a frame of its own.
type Own struct {
	Number int // from 1
	Shape  Shape
	Frame  buildup.Frame
}

// Shape is where the outline comes from: measurements, a traced shape, a path,
// or a round or oval board.
type Shape struct {
	Measured     *seat.Measurements
	Traced       *seat.Traced
	Path         geom.Path
	Roles        []seat.Role
	Round        bool
	Width, Depth unit.Length // of a round board
}

// Locked is a piece that stays where it is: placed by hand or cut already. A
// spoiled one takes its place up, and the piece is laid once more.
type Locked struct {
	Goods string // ID of the cloth or foam
	Seat  string // ID
	Part  buildup.Part
	Piece int // number of the seat that it is for, from 1
	// Sub tells pieces of one part of one seat apart, from 1 in the order of
	// the plan's kinds; 0 where there is only one.
	Sub int
	// On is the bin of the lay that it lies on; "" for the roll or the sheets
	// to buy.
	On      string
	Sheet   int // which of several sheets, from 0
	Turn    lay.Turn
	At      geom.Pt
	Cut     bool
	Spoiled bool
}

// Package order turns a job's lays, blanks and work into what is bought and
// what it costs: every line with the reasons behind its quantity, rounded up
// to what the goods are sold in.
//
// Money is whole minor units (unit.Money). A line's price is its quantity
// times its price, as an exact ratio of whole numbers, rounded once, half away
// from zero. Tax is taken once on the sum of the lines, the deposit once on
// the total, each rounded the same way. Nothing else is rounded.
package order

import (
	"slipseat/engine/cloth"
	"slipseat/engine/unit"
)

// Unit says what a quantity is counted in.
type Unit uint8

// Units of quantities.
const (
	Pieces Unit = iota
	Yards
	Metres
	Sheets
	Boxes
	Cans
	Hours
	Seats
)

// Code names the unit in words ("unit.<code>").
func (u Unit) Code() string {
	switch u {
	case Yards:
		return "yard"
	case Metres:
		return "metre"
	case Sheets:
		return "sheet"
	case Boxes:
		return "box"
	case Cans:
		return "can"
	case Hours:
		return "hour"
	case Seats:
		return "seat"
	}
	return "piece"
}

// Codes of the lines, also their words under "item.<code>".
const (
	CodeCover    = "cover"
	CodeContrast = "contrast"
	CodeDust     = "dust-cloth"
	CodeWadding  = "wadding"
	CodeLining   = "lining"
	CodeBarrier  = "fire-barrier"
	CodeFoam     = "foam"
	CodeStaples  = "staples"
	CodeAdhesive = "adhesive"
	CodeCord     = "welt-cord"
	CodeWebbing  = "webbing"
	CodeZip      = "zip"
	CodeTies     = "ties"
	CodeExtra    = "extra"
	CodeLabour   = "labour"
)

// Item is one line of an order.
type Item struct {
	Code  string
	Name  string      // the goods' or the seat's own name
	Goods string      // ID of the goods, empty for work
	Seat  string      // ID of the seat, for work
	Width unit.Length // of cloth: the whole width; 0 otherwise
	Size  unit.Length // of cord, width of webbing; 0 otherwise
	Foam  *FoamSpec   // of foam, else nil

	// Buy is what is bought, with the terms that led to it: what is needed,
	// less what is there already, up to the selling step. In millimetres for
	// goods by length, else in pieces.
	Buy  unit.Why
	Unit Unit        // what the price is for
	Pack int         // pieces in one Unit, for example staples in a box; 1 for goods by length
	Per  unit.Length // of goods by length: the length that Each is for
	Each unit.Money  // price of one Unit, or of Per
	// Price of the line in minor units, with its terms.
	Price unit.Why

	// Pending says that a lay is still being looked for; Buy and Price are
	// then empty.
	Pending bool
	// Owned goods come from the customer: counted, not charged.
	Owned bool
}

// FoamSpec is what foam is ordered by.
type FoamSpec struct {
	Thickness     unit.Length
	Length, Width unit.Length // of a sheet
	Firmness      cloth.Firmness
	Density       cloth.Density
}

// Needed is the quantity before rounding and before what is there already was
// taken off.
func (i Item) Needed() float64 {
	var s float64
	for _, t := range i.Buy.Terms {
		switch t.Code {
		case WhyHave, WhyRounding, WhyCloth, WhyBox: // not needed: there already, or more than needed
		default:
			s += t.Value
		}
	}
	return s
}

// Units is the quantity bought, counted in Unit: yards, boxes, sheets.
func (i Item) Units() float64 {
	switch {
	case i.Buy.Kind != unit.KindLength:
		return i.Buy.Value() / float64(max(i.Pack, 1))
	case i.Unit == Yards:
		return i.Buy.Length().Yd()
	}
	return i.Buy.Length().M()
}

// Cost is the line's price.
func (i Item) Cost() unit.Money { return money(i.Price) }

// Order is all that is bought and done, and what it comes to.
type Order struct {
	Items  []Item // goods in the order of the take-off
	Labour []Item // work by seat
	Totals Totals
}

// Totals are the sums, each with its terms, in minor units.
type Totals struct {
	Materials unit.Why
	Labour    unit.Why
	Net       unit.Why // materials + labour
	Tax       unit.Why
	Total     unit.Why // net + tax
	Deposit   unit.Why
	Balance   unit.Why // total - deposit
	// Pending says that some line is not known yet, so the sums are too low.
	Pending bool
}

func money(w unit.Why) unit.Money {
	// Terms are whole minor units far below 2^53, so the sum is exact.
	return unit.Money(w.Value())
}

// Words' codes of terms.
const (
	WhyHave      = "order.have"
	WhyHand      = "order.hand"
	WhyCame      = "order.came"
	WhyEach      = "order.length-each"
	WhyRounding  = "order.rounding"
	WhyCloth     = "buy.rounding" // as package cloth rounds
	WhyPrice     = "price.quantity"
	WhyFree      = "price.owned"
	WhySheets    = "order.sheets"
	WhyGlueUps   = "order.sheets-glued"
	WhySeats     = "order.staples-seat"
	WhySpoiled   = "order.staples-spoiled"
	WhyBox       = "order.box"
	WhyCoverage  = "order.coverage"
	WhyJoints    = "order.coverage-joints"
	WhyLength    = "order.length"
	WhyCount     = "order.count"
	WhyWork      = "order.work"
	WhyLine      = "total.line"
	WhyMaterials = "total.materials"
	WhyLabour    = "total.labour"
	WhyTax       = "total.tax"
	WhyNet       = "total.net"
	WhyTotal     = "total.total"
	WhyDeposit   = "total.deposit"
	WhyPaid      = "total.paid"
	WhyChange    = "total.change"
)

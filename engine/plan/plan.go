package plan

import (
	"reflect"

	"slipseat/engine/buildup"
	"slipseat/engine/caution"
	"slipseat/engine/cloth"
	"slipseat/engine/lay"
	"slipseat/engine/order"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// Plan is everything that follows from an Input. Plans are values; nobody
// changes one that was handed out.
type Plan struct {
	In       Input
	Seats    []SeatPlan
	Goods    []GoodsPlan // cloths in order, then foams; only those that something is cut from
	Order    order.Order
	Cautions []caution.Caution // the most serious first
	Faults   []unit.Fault      // everything that could not be worked out, by seat and field
	Pending  bool              // some lay is still being looked for
}

// SeatPlan is one kind of seat worked out.
type SeatPlan struct {
	Seat
	Outline seat.Outline
	Result  buildup.Result
	Faults  []unit.Fault // Outline or Result is empty then
}

// OK tells that the seat could be worked out.
func (s SeatPlan) OK() bool { return len(s.Faults) == 0 }

// GoodsPlan is one cloth or foam with all that is cut from it.
type GoodsPlan struct {
	ID     string
	Roll   *Roll        // of a cloth
	Sheet  *cloth.Sheet // of foam
	Kinds  []Kind       // what Problem.Kinds stand for, index by index
	Pieces int          // to be used; spoiled ones are not counted

	Problem lay.Problem
	PID     lay.ProblemID
	// Lay is the answer, nil while it is pending or the problem has faults.
	Lay     *lay.Lay
	Pending bool
	Faults  []unit.Fault

	// Buy is the length to buy of a cloth with its terms; empty while pending.
	Buy unit.Why
	// Offcuts are the rectangles left over, along × across, in the frame of
	// the lay, largest first.
	Offcuts []Offcut
}

// Kind is one blank of one kind of seat as a kind of the lay.
type Kind struct {
	Seat  int // index into Plan.Seats
	Blank buildup.Blank
	Base  lay.Turn // quarter turns from the seat's frame to the lay's at turn 0
	// Spoiled is the seat's number of a piece that was spoiled and lies where
	// it was cut; 0 for pieces to be used.
	Spoiled int
}

// Make works the whole chain out. prev is the plan before, nil at first, and
// the only cache: a stage whose input is equal is taken over. lays gives the
// lay of a problem where there is one.
func Make(in Input, prev *Plan, lays func(lay.ProblemID) (lay.Lay, bool)) *Plan {
	p := &Plan{In: in}
	for i, s := range in.Seats {
		var sp SeatPlan
		if prev != nil && i < len(prev.Seats) && in.Step == prev.In.Step && reflect.DeepEqual(s, prev.Seats[i].Seat) {
			sp = prev.Seats[i]
		} else {
			sp = makeSeat(s, in.Step)
		}
		p.Seats = append(p.Seats, sp)
		p.Faults = append(p.Faults, sp.Faults...)
	}
	for i := range in.Rolls {
		if g, ok := p.roll(&in.Rolls[i], prev, lays); ok {
			p.Goods = append(p.Goods, g)
		}
	}
	for i := range in.Foams {
		if g, ok := p.sheet(&in.Foams[i], prev, lays); ok {
			p.Goods = append(p.Goods, g)
		}
	}
	for _, g := range p.Goods {
		p.Faults = append(p.Faults, g.Faults...)
		p.Pending = p.Pending || g.Pending
	}
	var faults []unit.Fault
	p.Order, faults = order.TakeOff(p.takeOff())
	p.Faults = append(p.Faults, faults...)
	p.Cautions = p.cautions()
	return p
}

// Goods finds the plan of a cloth or foam by its ID; nil when nothing is cut
// from it.
func (p *Plan) Find(id string) *GoodsPlan {
	for i := range p.Goods {
		if p.Goods[i].ID == id {
			return &p.Goods[i]
		}
	}
	return nil
}

// Wanted lists the problems whose lays are pending, in order.
func (p *Plan) Wanted() []lay.Problem {
	var out []lay.Problem
	for _, g := range p.Goods {
		if g.Pending {
			out = append(out, g.Problem)
		}
	}
	return out
}

func makeSeat(s Seat, step unit.Length) SeatPlan {
	sp := SeatPlan{Seat: s}
	var faults []unit.Fault
	sp.Outline, faults = outline(s)
	if len(faults) == 0 {
		sp.Result, faults = buildup.Make(sp.Outline, s.Build, step)
	}
	for _, f := range faults {
		f.Where.Seat = s.ID
		sp.Faults = append(sp.Faults, f)
	}
	return sp
}

func outline(s Seat) (seat.Outline, []unit.Fault) {
	switch sh := s.Shape; {
	case sh.Measured != nil:
		m := *sh.Measured
		if s.OldCover > 0 {
			// The old layers lie on every edge: twice across each width.
			m.FrontWidth -= 2 * s.OldCover
			m.BackWidth -= 2 * s.OldCover
			m.Depth -= 2 * s.OldCover
		}
		return seat.FromMeasurements(m)
	case sh.Round:
		return seat.Round(sh.Width-2*s.OldCover, sh.Depth-2*s.OldCover)
	default:
		o, f := seat.FromPath(sh.Path, sh.Roles)
		if f != nil {
			return o, []unit.Fault{*f}
		}
		return o, nil
	}
}

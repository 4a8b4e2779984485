package plan

import (
	"reflect"
	"slices"

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
	Cautions []caution.Caution // the most serious first, those dealt with left out
	// Dismissed are the cautions that the user has dealt with.
	Dismissed []caution.Caution
	Faults    []unit.Fault // everything that could not be worked out, by seat and field
	Pending   bool         // some lay is still being looked for
}

// SeatPlan is one kind of seat worked out.
type SeatPlan struct {
	Seat
	Outline seat.Outline
	Result  buildup.Result
	Own     []OwnPlan     // single seats that differ
	Planed  []buildup.Gap // what was planed off the board, before
	Faults  []unit.Fault  // Outline or Result is empty then
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

	// Buy is the length to buy of a cloth with its terms; empty while pending,
	// and when all of it comes from what is there.
	Buy unit.Why
	// Phases are the lays for every place where the pattern may start across,
	// while that is not measured; Problem, PID and Lay are then those of the
	// worst. Nil where there is nothing to choose.
	Phases []PhaseLay
	// Best is the length to buy for the best of them; empty without Phases.
	Best unit.Why
	// Hand tells what the piece at hand, or the roll as it came, gives; nil
	// without one, or while pending.
	Hand *Hand
	// Offcuts are the rectangles left over, along × across, in the frame of
	// the lay, largest first.
	Offcuts []Offcut

	end unit.Length // where the open roll is cut off
}

// Kind is one blank of one kind of seat as a kind of the lay.
type Kind struct {
	Seat  int // index into Plan.Seats; of welt the first seat that it is for
	Blank buildup.Blank
	Base  lay.Turn // quarter turns from the seat's frame to the lay's at turn 0
	// Numbers are the seats' numbers that copies are for, Blank.Count copies
	// each; nil for welt strips.
	Numbers []int
	Glued   int // which part of a glue-up, from 1; 0 for a blank in one piece
	// Spoiled is the number of the seat that a spoiled piece was for: the kind
	// only takes its place up. 0 for pieces that are to be used.
	Spoiled int

	suffix string // of its pieces' names, after letter and number
	first  int    // number of the first of welt strips of this kind
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
			sp = MakeSeat(s, in.Step)
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
	for _, c := range p.cautions() {
		if _, dealt := in.Dismissed[c.Key()]; dealt {
			p.Dismissed = append(p.Dismissed, c)
		} else {
			p.Cautions = append(p.Cautions, c)
		}
	}
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
		for _, s := range g.Searches() {
			if s.Lay == nil && len(g.Faults) == 0 {
				out = append(out, s.Problem)
			}
		}
	}
	return out
}

// Searches lists the problems of the goods with their lays: one, or one for
// every place where the pattern may start, the worst first.
func (g GoodsPlan) Searches() []PhaseLay {
	if g.Phases == nil {
		return []PhaseLay{{Problem: g.Problem, PID: g.PID, Lay: g.Lay}}
	}
	out := slices.Clone(g.Phases)
	for i, ph := range out {
		if ph.PID == g.PID {
			out[0], out[i] = ph, out[0]
		}
	}
	return out
}

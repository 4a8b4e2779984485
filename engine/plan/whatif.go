package plan

import (
	"slices"

	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/lay"
	"slipseat/engine/order"
	"slipseat/engine/unit"
)

// AskKind is a kind of question about a job that is not so.
type AskKind uint8

// Questions.
const (
	AskMore    AskKind = iota // N more seats of a kind
	AskWidth                  // a roll of another width
	AskTurned                 // pieces may be turned by quarters
	AskPlain                  // the pattern is ignored
	AskCloth                  // another cloth instead
	AskHowMany                // how many seats of a kind this roll, or a length of it, would do
)

// Code names the question in words ("label.ask.<code>").
func (k AskKind) Code() string {
	return [...]string{"more-seats", "other-width", "turned", "plain", "other-cloth", "how-many"}[k]
}

// Ask is a question.
type Ask struct {
	Kind   AskKind
	Seat   string      // ID, of AskMore and AskHowMany
	Goods  string      // ID of the cloth, of all but AskMore
	N      int         // of AskMore
	Length unit.Length // of AskWidth the whole width; of AskHowMany the length there is
	Cloth  cloth.Cloth // of AskCloth
}

// With gives the input as it would be. It is the same input, in part shared,
// where the question names nothing in it. A roll of another width or another
// cloth is a new one: what was measured, marked or held on the old one does not
// count.
func (in Input) With(a Ask) Input {
	if a.Kind == AskMore {
		in.Seats = slices.Clone(in.Seats)
		for i := range in.Seats {
			if in.Seats[i].ID == a.Seat {
				in.Seats[i].Count = max(0, in.Seats[i].Count+a.N)
			}
		}
		return in
	}
	i := slices.IndexFunc(in.Rolls, func(r Roll) bool { return r.ID == a.Goods })
	if i < 0 || a.Kind == AskHowMany {
		return in
	}
	in.Rolls = slices.Clone(in.Rolls)
	r := &in.Rolls[i]
	switch a.Kind {
	case AskWidth:
		if r.Usable.Set {
			r.Usable = unit.Some(max(0, r.Usable.Value+a.Length-r.Width))
		}
		r.Width = a.Length
		in = in.fresh(r)
	case AskTurned:
		r.Turning = cloth.AllowQuarter
		in = in.loose(r.ID)
	case AskPlain:
		r.Pattern = cloth.Pattern{}
		in = in.loose(r.ID)
	case AskCloth:
		use, id, rows := r.Use, r.ID, r.RowsOnly
		*r = Roll{Cloth: a.Cloth, RowsOnly: rows}
		r.Use, r.ID = use, id
		in = in.fresh(r)
	}
	return in
}

// fresh makes a roll one that nobody has touched yet.
func (in Input) fresh(r *Roll) Input {
	r.Flaws, r.Offcuts, r.AtHand, r.Came, r.RollChecked = nil, nil, 0, 0, false
	return in.loose(r.ID)
}

// loose lets go of the pieces that are held on goods.
func (in Input) loose(goods string) Input {
	var kept []Locked
	for _, l := range in.Locked {
		if l.Goods != goods {
			kept = append(kept, l)
		}
	}
	in.Locked = kept
	return in
}

// Answer is what a question comes to.
type Answer struct {
	Ask
	Buy     unit.Why     // length to buy of the cloth asked about
	Cost    unit.Money   // of the whole job, before tax
	More    []order.More // what is bought beyond the job as it is; below 0 for less
	Extra   unit.Money   // and what it costs more
	Seats   int          // of AskHowMany
	Faults  []unit.Fault // why it cannot be
	Pending bool         // some lay is still being looked for
}

// Answered compares a plan that was made of the question's input with the plan
// of the job as it is.
func (p *Plan) Answered(a Ask, is *Plan) Answer {
	out := Answer{Ask: a, Pending: p.Pending || is.Pending}
	for _, g := range p.Goods {
		if g.Roll != nil && g.ID == a.Goods {
			out.Buy = g.Buy
		}
		out.Faults = append(out.Faults, g.Faults...)
	}
	if out.Pending || len(out.Faults) > 0 {
		return out
	}
	out.Cost = unit.Money(p.Order.Totals.Net.Value())
	out.More, out.Extra = order.Difference(is.Order, p.Order)
	return out
}

// Solve looks for a lay; ok is false when there is none.
type Solve func(lay.Problem) (l lay.Lay, ok bool)

// HowMany is how many seats of a kind, these alone, a length of a cloth would
// do. The length is as the cloth lies there, so the square-up comes off it, and
// of a pattern to be centred whose start is not measured one repeat. Every
// piece that a seat needs of this cloth counts, welt too. It is found by
// halving: a length that does n seats does n-1.
func (in Input) HowMany(seat, goods string, length unit.Length, solve Solve) int {
	s := slices.IndexFunc(in.Seats, func(s Seat) bool { return s.ID == seat })
	r := slices.IndexFunc(in.Rolls, func(r Roll) bool { return r.ID == goods })
	if s < 0 || r < 0 {
		return 0
	}
	one := in
	one.Seats, one.Rolls, one.Foams, one.Locked, one.GlueUps = []Seat{in.Seats[s]}, []Roll{in.Rolls[r]}, nil, nil, nil
	one.Seats[0].Own = nil
	one.Rolls[0].AtHand, one.Rolls[0].Came, one.Rolls[0].Offcuts = length, 0, nil
	does := func(n int) bool {
		one.Seats[0].Count = n
		p := Make(one, nil, func(lay.ProblemID) (lay.Lay, bool) { return lay.Lay{}, false })
		g := p.Find(goods)
		if g == nil || len(g.Faults) > 0 {
			return false
		}
		for _, ph := range g.Searches() {
			if len(ph.Problem.Bins) < 2 {
				return false // nothing is left when the end is squared
			}
			l, ok := solve(ph.Problem)
			if !ok || l.Length > 0 {
				return false
			}
		}
		return true
	}
	probe := Make(one, nil, func(lay.ProblemID) (lay.Lay, bool) { return lay.Lay{}, false })
	g := probe.Find(goods)
	if g == nil || len(g.Faults) > 0 {
		return 0
	}
	each := 0.0
	for _, b := range probe.Seats[0].Result.Blanks {
		if b.Goods == goods && b.Part != buildup.PartFoam {
			each += float64(b.Area()) * float64(b.Count)
		}
	}
	if each <= 0 {
		return 0
	}
	// No more than the area holds, and no more than anybody cuts in one go.
	lo, hi := 0, min(MostAsked, int(length.MM()*in.Rolls[r].UsableWidth().MM()/each))
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if does(mid) {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return lo
}

// MostAsked bounds the answer of HowMany.
const MostAsked = 200

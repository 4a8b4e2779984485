package plan

import (
	"math"

	"slipseat/engine/order"
	"slipseat/engine/unit"
)

// takeOff gathers what the order is made from.
func (p *Plan) takeOff() order.Input {
	in := order.Input{Tax: p.In.Tax, Deposit: p.In.Deposit, Extras: p.In.Extras}
	for _, g := range p.Goods {
		if len(g.Faults) > 0 {
			continue
		}
		switch {
		case g.Roll != nil:
			n := order.ClothNeed{Cloth: g.Roll.Cloth, Pieces: g.Pieces, Pending: g.Pending}
			if g.Lay != nil {
				n.Length = g.Lay.Length
			}
			in.Cloths = append(in.Cloths, n)
		case g.Sheet != nil:
			n := order.SheetNeed{Sheet: *g.Sheet, Pieces: g.Pieces, Pending: g.Pending}
			if g.Lay != nil {
				n.Sheets = g.Lay.Sheets
			}
			in.Foam = append(in.Foam, n)
		}
	}
	staples := p.In.Staples
	staples.Seats = nil
	adhesive := order.AdhesiveNeed{Goods: "adhesive", Name: ""}
	for _, s := range p.Seats {
		if !s.OK() || s.Count <= 0 {
			continue
		}
		if n := int(math.Round(s.Result.Staples.Value())); n > 0 {
			staples.Seats = append(staples.Seats, order.SeatStaples{Seat: s.ID, Name: s.Name, Each: n, Count: s.Count})
		}
		adhesive.Faces += s.Result.Faces * unit.Area(s.Count)
		if l := s.Labour; l.Each != 0 || l.Minutes != 0 {
			l.Seat, l.Name, l.Count = s.ID, s.Name, s.Count
			in.Labour = append(in.Labour, l)
		}
	}
	if len(staples.Seats) > 0 {
		in.Staples = []order.StapleNeed{staples}
	}
	if a := p.In.Adhesive; a != nil && adhesive.Faces > 0 {
		adhesive.Coverage, adhesive.Each, adhesive.Have = a.Coverage, a.Each, a.Have
		in.Adhesive = []order.AdhesiveNeed{adhesive}
	}
	return in
}

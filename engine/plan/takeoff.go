package plan

import (
	"strconv"

	"slipseat/engine/buildup"
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
			n := order.ClothNeed{Cloth: toBuy(g.Roll.Cloth), Pieces: g.Pieces, Pending: g.Pending}
			if g.Lay != nil {
				n.Length = g.Lay.Length
			}
			if c := g.Roll.Cloth; c.AtHand > 0 {
				if g.Hand != nil {
					n.Hand = g.Hand.Used
				}
			} else {
				n.Came = c.Came
			}
			in.Cloths = append(in.Cloths, n)
		case g.Sheet != nil:
			n := order.SheetNeed{Sheet: *g.Sheet, Pieces: g.Pieces, GlueUps: g.GlueUps(), Have: g.Sheet.Have, Pending: g.Pending}
			if g.Lay != nil {
				n.Sheets = g.Lay.Sheets
			}
			in.Foam = append(in.Foam, n)
		}
	}
	staples := p.In.Staples
	staples.Seats = nil
	adhesive := order.AdhesiveNeed{Goods: "adhesive", Name: "", Joints: p.jointArea()}
	for _, s := range p.Seats {
		if !s.OK() || s.Count <= 0 {
			continue
		}
		each, count := s.stapleCounts()
		for i, n := range each {
			if n > 0 {
				staples.Seats = append(staples.Seats, order.SeatStaples{Seat: s.ID, Name: s.Name, Each: n, Count: count[i]})
			}
		}
		adhesive.Faces += unit.Area(s.sumOver(func(r buildup.Result) float64 { return float64(r.Faces) }))
		if l := s.Labour; l.Each != 0 || l.Minutes != 0 {
			l.Seat, l.Name, l.Count = s.ID, s.Name, s.Count
			in.Labour = append(in.Labour, l)
		}
	}
	if len(staples.Seats) > 0 {
		in.Staples = []order.StapleNeed{staples}
	}
	if a := p.In.Adhesive; a != nil && adhesive.Faces+adhesive.Joints > 0 {
		adhesive.Coverage, adhesive.Each, adhesive.Have = a.Coverage, a.Each, a.Have
		in.Adhesive = []order.AdhesiveNeed{adhesive}
	}
	in.Lengths = append(p.cord(), p.webbing()...)
	in.Lengths = append(in.Lengths, p.zips()...)
	return in
}

// GlueUps is how many blanks of a foam are glued of parts.
func (g GoodsPlan) GlueUps() int {
	n := 0
	for i, k := range g.Kinds {
		if k.Glued == 1 && k.Spoiled == 0 {
			n += g.Problem.Kinds[i].Count
		}
	}
	return n
}

// jointArea is the area of all glued joints: their length by the thickness of
// the layer. Both parts of a joint carry it; it is counted with the first.
func (p *Plan) jointArea() unit.Area {
	var sum unit.Area
	for _, g := range p.Goods {
		sum += p.jointsOf(g)
	}
	return sum
}

// lengths gathers what is needed of something by length, in the order in which
// its sizes first occur.
type lengths struct {
	code, goods string
	price       ByLength
	sizes       []unit.Length
	terms       []unit.Why
}

func (l *lengths) add(size unit.Length, s SeatPlan, total unit.Length) {
	if total <= 0 {
		return
	}
	i := 0
	for i < len(l.sizes) && l.sizes[i] != size {
		i++
	}
	if i == len(l.sizes) {
		l.sizes, l.terms = append(l.sizes, size), append(l.terms, unit.Why{Kind: unit.KindLength})
	}
	l.terms[i].Add(order.WhyEach, total.MM(), unit.A("seat", s.Name), unit.A("count", s.Count), unit.A("each", total/unit.Length(s.Count)))
}

// needs gives one line a size; what is there already is of the first size.
func (l *lengths) needs() []order.LengthNeed {
	var out []order.LengthNeed
	for i, size := range l.sizes {
		n := order.LengthNeed{Code: l.code, Goods: l.goods, Size: size, Terms: l.terms[i], Step: l.price.Step, Each: l.price.Each,
			PriceUnit: l.price.PriceUnit}
		if i == 0 {
			n.Have = l.price.Have
		} else {
			n.Goods += "-" + strconv.Itoa(i+1)
		}
		out = append(out, n)
	}
	return out
}

// cord is the cord in the welt: as long as the welt itself, twice for a double
// one.
func (p *Plan) cord() []order.LengthNeed {
	l := lengths{code: order.CodeCord, goods: "cord", price: p.In.Cord}
	for _, s := range p.Seats {
		if !s.OK() || s.Count <= 0 || s.Build.Welt.Rows <= 0 {
			continue
		}
		need := unit.Length(s.sumOver(func(r buildup.Result) float64 { return r.WeltEdge.Value() }))
		if s.Build.Welt.Double {
			need *= 2
		}
		l.add(s.Build.Welt.Cord, s, need)
	}
	return l.needs()
}

func (p *Plan) webbing() []order.LengthNeed {
	l := lengths{code: order.CodeWebbing, goods: "webbing", price: p.In.Webbing}
	for _, s := range p.Seats {
		if s.OK() && s.Count > 0 {
			l.add(s.Build.Webbing.Width, s, unit.Length(s.sumOver(func(r buildup.Result) float64 { return r.WebLength.Value() })))
		}
	}
	return l.needs()
}

// zips are as long as the finished back edge of a pad; of a round one half its
// edge.
func (p *Plan) zips() []order.LengthNeed {
	l := lengths{code: order.CodeZip, goods: "zip", price: p.In.Zip}
	for _, s := range p.Seats {
		if !s.OK() || s.Count <= 0 || s.Build.Kind != buildup.BoxedPad || !s.Build.Pad.Zip {
			continue
		}
		l.add(0, s, unit.Length(s.sumOver(func(r buildup.Result) float64 {
			for _, b := range r.Blanks {
				if b.Part == buildup.PartZipBand {
					return b.W.Value() - 2*s.Build.Pad.Seam.MM()
				}
			}
			return 0
		})))
	}
	return l.needs()
}

package job

import (
	"math"

	"slipseat/engine/buildup"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/order"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

// Input is the job as the engine plans it. Values that cannot be read count as
// not given; Validate names them.
func (j Job) Input() plan.Input {
	money := func(a Amount) unit.Money { m, _ := a.Money(); return m }
	share := func(p Percent) unit.Share { s, _ := p.Share(); return s }
	in := plan.Input{
		Step:           j.Step.Length(),
		Tax:            share(j.Prices.Tax),
		Deposit:        share(j.Prices.Deposit),
		KeepOldFilling: j.KeepOld,
		Purpose:        plan.Purpose(indexOf(j.Purpose)),
		Country:        string(j.Country),
		MadeBefore1950: j.Old,
		Staples: order.StapleNeed{Goods: "staples", Box: j.Prices.StapleBox, Each: money(j.Prices.StaplePrice),
			Spoiled: share(j.Prices.StapleSpare)},
	}
	in.Staples.Have = j.Prices.StaplesThere
	in.KeepFrom = j.KeepFrom.mm()
	p := j.Prices
	in.Cord = plan.ByLength{Each: money(p.CordPrice), PriceUnit: j.perUnit(p.CordPriceUnit), Step: p.CordStep.mm(), Have: p.CordThere.mm()}
	in.Webbing = plan.ByLength{Each: money(p.WebbingPrice), PriceUnit: j.perUnit(p.WebbingPriceUnit), Step: p.WebbingStep.mm(), Have: p.WebbingThere.mm()}
	in.Zip = plan.ByLength{Each: money(p.ZipPrice), PriceUnit: j.perUnit(p.ZipPriceUnit), Step: p.ZipStep.mm(), Have: p.ZipThere.mm()}
	for _, e := range j.Extras {
		in.Extras = append(in.Extras, order.Extra{ID: string(e.ID), Name: e.Name, Count: e.Count, Each: money(e.Price)})
	}
	for _, g := range j.GlueUps {
		in.GlueUps = append(in.GlueUps, g.engine())
	}
	for _, d := range j.Dismissed {
		if in.Dismissed == nil {
			in.Dismissed = map[string]string{}
		}
		in.Dismissed[d.Caution] = d.Note
	}
	if side := j.Prices.AdhesiveArea.mm(); j.Prices.Adhesive && side > 0 {
		in.Adhesive = &plan.Adhesive{Coverage: unit.Area(side * side), Each: money(j.Prices.AdhesivePrice), Have: float64(j.Prices.AdhesiveThere)}
	}
	for i, s := range j.Seats {
		in.Seats = append(in.Seats, plan.Seat{
			ID: string(s.ID), Name: s.Name, Letter: Letter(i), Count: s.Count,
			Shape: s.Outline.shape(), OldCover: s.Outline.Over(), Build: s.Spec(),
			Labour:      order.LabourNeed{Each: money(j.labour(s.Kind)), Hourly: money(j.Prices.Hourly)},
			Plane:       s.Build.Plane,
			Known:       s.Outline.Known(),
			MotifAcross: s.MotifAcross.mm(), MotifFront: s.MotifFront.Opt(),
		})
		e := &in.Seats[i]
		if s.MotifLeft {
			e.MotifAcross = -e.MotifAcross
		}
		if e.Labour.Hourly > 0 {
			e.Labour.Minutes = j.minutes(s.Kind)
		}
		for _, own := range s.Own {
			frame := e.Build.Frame
			if own.OpeningWidth != "" {
				frame.Width = own.OpeningWidth.mm()
			}
			if own.OpeningDepth != "" {
				frame.Depth = own.OpeningDepth.mm()
			}
			e.Own = append(e.Own, plan.Own{Number: own.Number, Shape: s.Outline.With(own).shape(), Frame: frame})
		}
	}
	for _, c := range j.Cloths {
		in.Rolls = append(in.Rolls, plan.Roll{Cloth: c.Goods(), RowsOnly: c.RowsOnly})
	}
	for _, f := range j.Foams {
		in.Foams = append(in.Foams, f.Sheet())
	}
	for _, l := range j.Locked {
		in.Locked = append(in.Locked, l.Engine())
	}
	return in
}

func (g GlueUp) engine() plan.GlueUp {
	out := plan.GlueUp{Seat: string(g.Seat), Layer: g.Layer - 1, Piece: g.Piece, FrontToBack: g.Joint != JointSideToSide, At: []unit.Length{g.First.mm()}}
	if g.Second != "" {
		out.At = append(out.At, g.Second.mm())
	}
	return out
}

// GlueUpOf writes a glue-up as the job keeps it, in the job's units.
func GlueUpOf(id ID, g plan.GlueUp, units Units) GlueUp {
	out := GlueUp{ID: id, Seat: ID(g.Seat), Layer: g.Layer + 1, Piece: g.Piece, Joint: JointSideToSide}
	if g.FrontToBack {
		out.Joint = JointFrontToBack
	}
	for i, at := range g.At {
		m := MeasureOf(at, units.Unit())
		if d := m.Or(-1) - at; d > 0.01 || d < -0.01 {
			m = Exactly(at)
		}
		if i == 0 {
			out.First = m
		} else {
			out.Second = m
		}
	}
	return out
}

// perUnit is what a price by length is for: a yard or a metre unless said.
func (j Job) perUnit(m Measure) unit.Length {
	if m != "" {
		return m.mm()
	}
	if j.ClothUnits == ClothInMetres {
		return unit.M
	}
	return unit.Yd
}

func (j Job) minutes(k SeatKind) int {
	switch k {
	case DropIn:
		return j.Prices.MinutesDropIn
	case BoxedPad:
		return j.Prices.MinutesPad
	case Stool:
		return j.Prices.MinutesStool
	}
	return j.Prices.MinutesPulled
}

func (o Outline) shape() plan.Shape {
	switch o.From {
	case Traced:
		t := o.Traced()
		return plan.Shape{Traced: &t}
	case Round:
		return plan.Shape{Round: true, Width: o.FrontWidth.mm(), Depth: o.Depth.mm()}
	}
	m := o.Measurements()
	return plan.Shape{Measured: &m}
}

func (j Job) labour(k SeatKind) Amount {
	switch k {
	case DropIn:
		return j.Prices.LabourDropIn
	case BoxedPad:
		return j.Prices.LabourPad
	case Stool:
		return j.Prices.LabourStool
	}
	return j.Prices.LabourPulled
}

// Engine is the lock as the engine takes it.
func (l Lock) Engine() plan.Locked {
	out := plan.Locked{Goods: string(l.Goods), Seat: string(l.Seat), Part: l.Part.engine(), Piece: l.Piece, Sub: l.Sub, On: string(l.On),
		Sheet: l.Sheet, Turn: lay.Turn(l.Turn), At: geom.P(l.Along.mm().MM(), l.Over.mm().MM()), Cut: l.State == Cut, Spoiled: l.State == Spoiled}
	if l.On == l.Goods && l.On != "" {
		out.On = plan.HandBin(out.Goods)
	}
	return out
}

// LockOf is the place of a piece as the job keeps it, to the full precision:
// one that lies on the pattern must not be rounded.
func LockOf(l plan.Locked) Lock {
	out := Lock{Goods: ID(l.Goods), Seat: ID(l.Seat), Part: PartOf(l.Part), Piece: l.Piece, Sub: l.Sub, Sheet: l.Sheet, State: Locked,
		Turn: int(l.Turn), Along: Exactly(fine(l.At.X)), Over: Exactly(fine(l.At.Y)), On: ID(l.On)}
	if l.On == plan.HandBin(l.Goods) {
		out.On = out.Goods
	}
	switch {
	case l.Spoiled:
		out.State = Spoiled
	case l.Cut:
		out.State = Cut
	}
	return out
}

// fine takes the noise of floating point off a place: to a hundred thousandth
// of a millimetre, and never below the edge by less than that.
func fine(mm float64) unit.Length {
	return unit.Length(math.Max(0, math.Round(mm*1e5)/1e5))
}

// PartOf is a part as the file calls it.
func PartOf(p buildup.Part) Part { return Part(p.Code()) }

func (p Part) engine() buildup.Part {
	for e := buildup.PartFoam; e <= buildup.PartWelt; e++ {
		if e.Code() == string(p) {
			return e
		}
	}
	return buildup.PartCover
}

// FieldOf gives the path, as Get and Set take it, of a field that the engine
// found fault with.
func (j Job) FieldOf(f unit.Fault) string {
	if s, _, ok := j.Seat(ID(f.Where.Seat)); ok {
		if len(f.Code) > 5 && f.Code[:5] == "seat." || len(f.Code) > 8 && f.Code[:8] == "outline." {
			return outlineField(f.Where.Field)
		}
		return s.buildField(f.Where.Field)
	}
	return f.Where.Field
}

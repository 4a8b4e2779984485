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
	if side := j.Prices.AdhesiveArea.mm(); j.Prices.Adhesive && side > 0 {
		in.Adhesive = &plan.Adhesive{Coverage: unit.Area(side * side), Each: money(j.Prices.AdhesivePrice)}
	}
	for i, s := range j.Seats {
		in.Seats = append(in.Seats, plan.Seat{
			ID: string(s.ID), Name: s.Name, Letter: Letter(i), Count: s.Count,
			Shape: s.Outline.shape(), OldCover: s.Outline.Over(), Build: s.Spec(),
			Labour: order.LabourNeed{Each: money(j.labour(s.Kind))},
		})
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

func (o Outline) shape() plan.Shape {
	if o.From == Round {
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
	return plan.Locked{Goods: string(l.Goods), Seat: string(l.Seat), Part: l.Part.engine(), Piece: l.Piece, Sub: l.Sub, Sheet: l.Sheet,
		Turn: lay.Turn(l.Turn), At: geom.P(l.Along.mm().MM(), l.Over.mm().MM()), Cut: l.State == Cut, Spoiled: l.State == Spoiled}
}

// LockOf is the place of a piece as the job keeps it, to the full precision:
// one that lies on the pattern must not be rounded.
func LockOf(l plan.Locked) Lock {
	out := Lock{Goods: ID(l.Goods), Seat: ID(l.Seat), Part: PartOf(l.Part), Piece: l.Piece, Sub: l.Sub, Sheet: l.Sheet, State: Locked,
		Turn: int(l.Turn), Along: Exactly(fine(l.At.X)), Over: Exactly(fine(l.At.Y))}
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

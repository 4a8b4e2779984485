package job

import (
	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// The conversions below turn what was typed into the engine's quantities. A
// value that cannot be read counts as not given; Validate names it.

func (m Measure) mm() unit.Length { return m.Or(0) }

// Shown gives the units that the job is shown in.
func (j Job) Shown() unit.Units {
	return unit.Units{Size: j.Units.Unit(), Cloth: j.ClothUnits.Unit()}
}

// Measurements is the outline as the engine takes it, old layers still on. Of
// a round seat FrontWidth and Depth count.
func (o Outline) Measurements() seat.Measurements {
	return seat.Measurements{
		FrontWidth:  o.FrontWidth.mm(),
		BackWidth:   o.BackWidth.mm(),
		Depth:       o.Depth.mm(),
		FrontBow:    o.FrontBow.mm(),
		SideBow:     o.SideBow.mm(),
		FrontRadius: o.FrontRadius.mm(),
		BackRadius:  o.BackRadius.mm(),
		OverRounded: o.OverRounded,
		NotchWidth:  o.NotchWidth.mm(),
		NotchDepth:  o.NotchDepth.mm(),
	}
}

// Over is the thickness of the old layers that the outline was measured over,
// 0 when it was measured on the bare board.
func (o Outline) Over() unit.Length {
	if o.MeasuredOn != OldCoverOn {
		return 0
	}
	return o.OldLayers.mm()
}

// Draw gives the outline as it was measured, old layers still on.
func (o Outline) Draw() (seat.Outline, []unit.Fault) {
	switch o.From {
	case Round:
		return seat.Round(o.FrontWidth.mm(), o.Depth.mm())
	case Traced:
		out, f := seat.FromTraced(o.Traced())
		if f != nil {
			return out, []unit.Fault{*f}
		}
		return out, nil
	}
	return seat.FromMeasurements(o.Measurements())
}

// holes are the screw holes in the frame of the outline.
func (o Outline) holes() []geom.Pt {
	front := 0.0 // of a round or traced outline y = 0 is its front
	if o.From == Measured {
		front = -o.FrontBow.mm().MM()
	}
	var out []geom.Pt
	for _, h := range o.Holes {
		x := h.Across.mm().MM()
		if h.Left {
			x = -x
		}
		out = append(out, geom.P(x, front+h.FromFront.mm().MM()))
	}
	return out
}

// With gives the outline with the measurements of a single seat in place of
// its own, where it has any.
func (o Outline) With(s OwnSeat) Outline {
	for _, m := range [...]struct {
		to  *Measure
		own Measure
	}{{&o.FrontWidth, s.FrontWidth}, {&o.BackWidth, s.BackWidth}, {&o.Depth, s.Depth}, {&o.FrontBow, s.FrontBow}} {
		if m.own != "" {
			*m.to = m.own
		}
	}
	return o
}

// EngineKind is the kind of seat as the engine calls it.
func (k SeatKind) EngineKind() buildup.Kind {
	switch k {
	case DropIn:
		return buildup.DropIn
	case BoxedPad:
		return buildup.BoxedPad
	case Stool:
		return buildup.Stool
	}
	return buildup.PulledOver
}

// Spec is the seat's build-up as the engine takes it.
func (s Seat) Spec() buildup.Spec {
	b := s.Build
	share := func(p Percent) float64 {
		v, _ := p.Opt()
		return v.Float()
	}
	spec := buildup.Spec{
		Kind:           s.Kind.EngineKind(),
		Board:          b.Board.mm(),
		Oversize:       b.Oversize.mm(),
		EdgeSize:       b.EdgeSize.mm(),
		Compression:    share(b.Compression),
		Dome:           b.Crown.mm(),
		NotchClearance: b.NotchGap.mm(),
		FoamSquared:    b.FoamSquared,
		Overhang: buildup.PerEdge{All: b.Overhang.Opt(), Front: b.OverhangFront.Opt(), Left: b.OverhangLeft.Opt(),
			Right: b.OverhangRight.Opt(), Back: b.OverhangBack.Opt()},
		Wadding: buildup.Wadding{Goods: string(s.Wadding), Thickness: b.Wadding.mm(), StopsAtFoam: !b.WaddingOver, Trim: b.WaddingTrim.Opt(), Squared: b.WaddingSquared},
		Lining:  buildup.Undercover{Use: s.Lining != "", Goods: string(s.Lining), Thickness: b.LiningThick.mm()},
		Barrier: buildup.Undercover{Use: s.Barrier != "", Goods: string(s.Barrier), Thickness: b.BarrierThick.mm()},
		Cover: buildup.Cover{Goods: string(s.Cover), Thickness: b.CoverThick.mm(), Shaped: b.CutAs == CutShaped,
			TurnUnder: b.TurnUnder.mm(), Pull: b.Pull.mm(), TrimmedCorners: b.CornersTrimmed,
			Fixed: buildup.PerEdge{All: b.FixedWrap.Opt(), Front: b.FixedFront.Opt(), Left: b.FixedLeft.Opt(),
				Right: b.FixedRight.Opt(), Back: b.FixedBack.Opt()}},
		Dust: buildup.Dust{Goods: string(s.DustCloth), None: b.NoDustCloth || s.Kind == BoxedPad, Hem: b.DustHem.mm(),
			Inset: b.DustInset.mm(), Thickness: b.DustThickness.mm(), Squared: b.DustSquared},
		Staples: buildup.Staples{Pitch: b.StaplePitch.mm(), DustPitch: b.DustPitch.Opt(), Leg: b.StapleLeg.mm(), Line: b.StapleLine.Opt(), StopShort: b.StapleStop.Opt()},
		Frame:   buildup.Frame{Width: b.OpeningWidth.mm(), Depth: b.OpeningDepth.mm(), PostGap: b.OpeningPost.Opt()},
		Pad: buildup.Pad{Thickness: b.PadThickness.mm(), Seam: b.PadSeam.mm(), Squeeze: b.PadSqueeze.mm(), Zip: b.PadZip,
			ZipSeam: b.PadZipSeam.mm(), Ties: b.Ties, TieLength: b.TieLength.mm(), TieWidth: b.TieWidth.mm()},
		Welt: buildup.Welt{Goods: string(s.Welt), Rows: b.WeltRows, Cord: b.WeltCord.mm(), Seam: b.WeltSeam.mm(),
			Bias: b.WeltBias, Double: b.WeltDouble, Overlap: b.WeltOverlap.Opt(), Rectangle: b.WeltCut == WeltRectangle, Shortest: b.WeltShortest.Opt()},
		Webbing: buildup.Webbing{Across: b.WebAcross, Along: b.WebAlong, Width: b.WebWidth.mm(), Fold: b.WebFold.mm(),
			SpanAcross: b.WebSpanAcross.Opt(), SpanAlong: b.WebSpanAlong.Opt()},
		Relief: buildup.Relief{ShortOf: b.ReliefShort.Opt(), Arm: b.ReliefArm.Opt(), Spread: float64(b.ReliefSpread)},
	}
	if b.FoamSmaller {
		spec.Oversize = -spec.Oversize
	}
	if v := share(b.WebStretch); v > 0 {
		spec.Webbing.Stretch = 1 + v
	}
	spec.Holes = s.Outline.holes()
	switch b.FoamEdge {
	case RoundedEdge:
		spec.Edge = buildup.RoundedEdge
	case BevelledEdge:
		spec.Edge = buildup.BevelBelow
	}
	if b.Foam.mm() > 0 {
		spec.Foam = append(spec.Foam, buildup.Layer{Goods: string(s.Foam), Thickness: b.Foam.mm()})
	}
	for _, l := range b.Layers {
		spec.Foam = append(spec.Foam, buildup.Layer{Goods: string(l.Foam), Thickness: l.Thickness.mm(), Inset: l.Inset.mm(), Tapered: l.Tapered})
	}
	return spec
}

// Goods is the cloth as the engine takes it.
func (c Cloth) Goods() cloth.Cloth {
	spare, _ := c.Spare.Opt()
	price, _ := c.Price.Money()
	g := cloth.Cloth{
		ID: string(c.ID), Name: c.Name,
		Use:   cloth.Use(indexOf(c.Use)),
		Width: c.Width.mm(), SelvedgeNear: c.SelvedgeNear.mm(), SelvedgeFar: c.SelvedgeFar.mm(),
		Usable: c.Usable.Opt(), Thickness: c.Thickness.mm(),
		Pattern: cloth.Pattern{
			Along: c.RepeatAlong.mm(), Across: c.RepeatAcross.mm(),
			AcrossIs: cloth.AcrossIs(indexOf(c.AcrossIs)), Drop: c.Drop.Fraction(), NoUpDown: c.NoUpDown,
			RuleAlong: lay.Phase(indexOf(c.RuleAlong)), RuleAcross: lay.Phase(indexOf(c.RuleAcross)),
			FirstAlong: c.FirstAlong.Opt(), FirstAcross: c.FirstAcross.Opt(),
		},
		Direction: cloth.Direction(indexOf(c.Direction)),
		Turning:   cloth.Turning(indexOf(c.Turning)),
		Lie:       cloth.Lie(indexOf(c.Lie)),
		Gap:       c.Gap.mm(), SquareUp: c.SquareUp.mm(), AtHand: c.AtHand.mm(),
		Step: c.SellStep.mm(), Spare: spare, Price: price, PriceUnit: c.PriceUnit.mm(),
		RollChecked: c.RollChecked, Lot: c.Lot, CustomersOwn: c.CustomersOwn, Came: c.RollLength.mm(), Offcuts: offcuts(c.Offcuts),
	}
	// Several repeats measured on the roll itself go before what was written on
	// its label.
	if over := c.RepeatsOver.mm(); over > 0 && c.RepeatsCount > 0 {
		g.Pattern.Along = over / unit.Length(c.RepeatsCount)
	}
	for _, f := range c.Flaws {
		g.Flaws = append(g.Flaws, cloth.Flaw{ID: string(f.ID), Note: f.Note,
			Box: geom.Rect{Min: geom.P(f.From.mm().MM(), f.Near.mm().MM()), Max: geom.P(f.To.mm().MM(), f.Far.mm().MM())}})
	}
	return g
}

// indexOf gives a choice's place in its list. The lists of uses, directions,
// rules and the like stand in the order of the engine's constants; a test
// holds them together.
func indexOf[T interface {
	~string
	Choice
}](word T) int {
	for i, c := range word.Choices() {
		if c == string(word) {
			return i
		}
	}
	return 0
}

// Sheet is the foam as the engine takes it.
func (f Foam) Sheet() cloth.Sheet {
	price, _ := f.Price.Money()
	force, _ := f.Firmness.Force()
	density, _ := f.Density.Density()
	return cloth.Sheet{
		ID: string(f.ID), Name: f.Name, Thickness: f.Thickness.mm(), Length: f.Length.mm(), Width: f.Width.mm(),
		SawCut: f.SawCut.mm(), Trim: f.Trim.mm(), Price: price, Density: density,
		Firmness: cloth.Firmness{Force: force, Percent: f.FirmnessAt},
		Have:     f.SheetsThere, Offcuts: offcuts(f.Offcuts),
		Glue: cloth.Glue{Allow: f.Glue, MinWidth: f.GlueLeast.mm(), KeepOff: f.GlueClear.mm()},
	}
}

func offcuts(list []Offcut) []cloth.Offcut {
	var out []cloth.Offcut
	for _, o := range list {
		out = append(out, cloth.Offcut{ID: string(o.ID), Name: o.Name, Origin: o.Origin, Length: o.Length.mm(), Width: o.Width.mm(),
			FirstAlong: o.FirstAlong.Opt(), FirstAcross: o.FirstAcross.Opt(), Lot: o.Lot})
	}
	return out
}

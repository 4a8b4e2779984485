package job

import "slipseat/engine/unit"

// Names are the words that a new job's first things are called by; they come
// from the words' catalogue, for the job keeps them as the user's own.
type Names struct{ Job, Seat, Cover, DustCloth, Foam string }

// New is a job with one seat, a cover cloth, a dust cloth and a foam.
func New(random func([]byte), names Names, units Units) Job {
	j := Job{ID: NewID(random), Name: names.Job, Units: units, ClothUnits: ClothInYards, Step: StepSixteenth,
		Purpose: OwnUse, Status: Planning}
	if units.Metric() {
		j.ClothUnits, j.Step = ClothInMetres, StepMillimetre
	}
	j.Cloths = []Cloth{NewCloth(NewID(random), units, UseCover, names.Cover), NewCloth(NewID(random), units, UseDustCloth, names.DustCloth)}
	j.Foams = []Foam{NewFoam(NewID(random), units, names.Foam)}
	j.Prices = Prices{StapleSpare: "10 %"}
	j.Seats = []Seat{NewSeat(NewID(random), j, names.Seat)}
	return j
}

// start writes a starting figure as it would be typed in the job's unit: the
// inch figure, or the millimetres beside it.
func start(units Units, inches, mm float64) Measure {
	u := units.Unit()
	if u.Metric() {
		return MeasureOf(unit.Length(mm), u)
	}
	return MeasureOf(unit.Length(inches)*unit.In, u)
}

// NewSeat is a plain dining chair to be typed over, cut from the job's first
// cloths and foam. Its figures are common practice, no source.
func NewSeat(id ID, j Job, name string) Seat {
	of := func(inches, mm float64) Measure { return start(j.Units, inches, mm) }
	s := Seat{ID: id, Name: name, Kind: PulledOver, Count: 1}
	s.Outline = Outline{From: Measured, MeasuredOn: BareBoard, TracedFace: FaceTop, KnownWhat: KnownNothing,
		FrontWidth: of(17.5, 450), BackWidth: of(15.5, 400), Depth: of(16.5, 420), FrontBow: of(0.5, 15),
		FrontRadius: of(0.75, 20), BackRadius: of(0.75, 20)}
	s.Build = Build{Board: of(0.5, 12), Foam: of(1, 25), Oversize: of(0.5, 12), Overhang: of(0, 0), FoamEdge: SquareEdge,
		WaddingOver: true, CutAs: CutSquared, WeltCut: WeltStrips, TurnUnder: of(1.25, 30), Pull: of(0.5, 15), DustHem: of(0.5, 12),
		DustInset: of(0.375, 10), StaplePitch: of(1, 25), DustPitch: of(1.5, 40), StapleLeg: of(0.375, 10)}
	for _, c := range j.Cloths {
		switch {
		case c.Use == UseCover && s.Cover == "":
			s.Cover = c.ID
		case c.Use == UseDustCloth && s.DustCloth == "":
			s.DustCloth = c.ID
		case c.Use == UseWadding && s.Wadding == "":
			s.Wadding = c.ID
		}
	}
	if len(j.Foams) > 0 {
		s.Foam = j.Foams[0].ID
	}
	return s
}

// NewCloth is a plain cloth with the width its use usually has (common
// practice, no source).
func NewCloth(id ID, units Units, use ClothUse, name string) Cloth {
	of := func(inches, mm float64) Measure { return start(units, inches, mm) }
	c := Cloth{ID: id, Name: name, Use: use, Swatch: Swatch{Look: LookTint}, Width: of(54, 1400), Gap: of(0.25, 5), SquareUp: of(1, 25),
		AcrossIs: BetweenColumns, Drop: StraightDrop, RuleAlong: RuleFree, RuleAcross: RuleFree,
		Direction: PlainCloth, Turning: TurnAsCloth, Lie: UpTheRoll}
	c.SellStep, c.PriceUnit = "1/8 yd", "1 yd"
	if units.Metric() {
		c.SellStep, c.PriceUnit = "0.1 m", "1 m"
	}
	switch use {
	case UseDustCloth:
		c.Width = of(36, 900)
	case UseWadding:
		c.Width = of(27, 700)
	default:
		c.SelvedgeNear, c.SelvedgeFar = of(0.5, 10), of(0.5, 10)
	}
	if use == UseCover || use == UseContrast {
		c.Direction = SetDirection
	}
	return c
}

// NewFoam is a foam whose sheet size is still to be given.
func NewFoam(id ID, units Units, name string) Foam {
	of := func(inches, mm float64) Measure { return start(units, inches, mm) }
	return Foam{ID: id, Name: name, Thickness: of(1, 25), SawCut: of(0.125, 3)}
}

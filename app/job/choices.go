package job

import "slipseat/engine/unit"

// Choice is a word out of a fixed list. The first word of the list is what an
// absent choice means.
type Choice interface{ Choices() []string }

// The words a choice can take in the file.
type (
	Units       string // sizes on the bench
	ClothUnits  string // cloth as it is sold
	Step        string // the marking step
	Purpose     string // what the job is for
	Status      string // where the job stands
	SeatKind    string
	OutlineFrom string // where an outline comes from
	MeasuredOn  string
	TracedFace  string // which face of the board was up
	EdgeRole    string // which side of the seat an edge belongs to
	KnownWhat   string // what was measured of a traced board
	FoamEdge    string
	CutAs       string // how a cover is cut
	ClothUse    string
	Drop        string
	AcrossIs    string // which distance across was measured
	PhaseRule   string
	Direction   string
	Turning     string
	Lie         string // lay direction
	Part        string // of a seat, as its pieces are called
	LockState   string
	WeltCut     string // how welt strips are laid
	Joint       string // how the joints of a glue-up run
	SwatchLook  string // what a cloth's picture is made from
)

// The choices' words.
const (
	UnitsInches   Units      = "in"
	UnitsDecimal  Units      = "in-decimal"
	UnitsCM       Units      = "cm"
	UnitsMM       Units      = "mm"
	ClothInYards  ClothUnits = "yd"
	ClothInMetres ClothUnits = "m"

	StepSixteenth  Step = "1/16 in"
	StepMillimetre Step = "1 mm"

	OwnUse       Purpose = "own-use"
	CustomersOwn Purpose = "customers-own"
	ForSale      Purpose = "for-sale"
	Contract     Purpose = "contract"

	Planning      Status = "planning"
	Quoted        Status = "quoted"
	Accepted      Status = "accepted"
	ClothReceived Status = "cloth-received"
	CutStatus     Status = "cut"
	Fitted        Status = "fitted"
	Delivered     Status = "delivered"
	Paid          Status = "paid"

	PulledOver SeatKind = "pulled-over"
	DropIn     SeatKind = "drop-in"
	BoxedPad   SeatKind = "boxed-pad"
	Stool      SeatKind = "stool"

	Measured OutlineFrom = "measured"
	Round    OutlineFrom = "round"
	Traced   OutlineFrom = "traced"

	FaceTop       TracedFace = "top"
	FaceUnderside TracedFace = "underside"

	EdgeByDirection EdgeRole = "by-direction"
	EdgeFront       EdgeRole = "front"
	EdgeLeft        EdgeRole = "left"
	EdgeRight       EdgeRole = "right"
	EdgeBack        EdgeRole = "back"

	KnownNothing  KnownWhat = "nothing"
	KnownWidth    KnownWhat = "width"
	KnownDepth    KnownWhat = "depth"
	KnownDiagonal KnownWhat = "diagonal"
	KnownOther    KnownWhat = "other-diagonal"
	KnownPoints   KnownWhat = "points"

	BareBoard  MeasuredOn = "bare-board"
	OldCoverOn MeasuredOn = "old-cover-on"

	SquareEdge   FoamEdge = "square"
	RoundedEdge  FoamEdge = "rounded"
	BevelledEdge FoamEdge = "bevelled-underneath"

	CutSquared CutAs = "squared"
	CutShaped  CutAs = "shaped"

	UseCover       ClothUse = "cover"
	UseContrast    ClothUse = "contrast"
	UseDustCloth   ClothUse = "dust-cloth"
	UseWadding     ClothUse = "wadding"
	UseLining      ClothUse = "lining"
	UseFireBarrier ClothUse = "fire-barrier"

	StraightDrop Drop = "straight"
	HalfDrop     Drop = "half-drop"
	ThirdDrop    Drop = "third-drop"
	QuarterDrop  Drop = "quarter-drop"

	BetweenColumns AcrossIs = "between-columns"
	OnOneLevel     AcrossIs = "on-one-level"

	RuleFree    PhaseRule = "free"
	RuleAlike   PhaseRule = "alike"
	RuleCentred PhaseRule = "centred"

	PlainCloth   Direction = "plain"
	SetDirection Direction = "set-direction"
	OneWay       Direction = "one-way"

	TurnAsCloth  Turning = "as-the-cloth"
	TurnNever    Turning = "never"
	TurnHalf     Turning = "half-turns"
	TurnQuarters Turning = "quarter-turns"

	UpTheRoll       Lie = "up-the-roll"
	TopAtCutEnd     Lie = "top-at-cut-end"
	RailroadedLeft  Lie = "railroaded-left"
	RailroadedRight Lie = "railroaded-right"

	PartCover       Part = "cover"
	PartFoam        Part = "foam"
	PartWadding     Part = "wadding"
	PartDustCloth   Part = "dust-cloth"
	PartLining      Part = "lining"
	PartFireBarrier Part = "fire-barrier"
	PartWelt        Part = "welt"
	PartBand        Part = "band"
	PartZipBand     Part = "zip-band"
	PartTop         Part = "panel-top"
	PartBottom      Part = "panel-bottom"
	PartTie         Part = "tie"

	Locked  LockState = "locked"
	Cut     LockState = "cut"
	Spoiled LockState = "spoiled"

	LookTint    SwatchLook = "tint" // no picture: the plain tint of the screen
	LookPlain   SwatchLook = "plain"
	LookStripe  SwatchLook = "stripe"
	LookCheck   SwatchLook = "check"
	LookSprig   SwatchLook = "sprig"
	LookPicture SwatchLook = "picture"

	WeltStrips    WeltCut = "strips"
	WeltRectangle WeltCut = "rectangle"

	JointFrontToBack Joint = "front-to-back"
	JointSideToSide  Joint = "side-to-side"
)

func words[T ~string](list ...T) []string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = string(w)
	}
	return out
}

// Choices lists the words.
func (Units) Choices() []string {
	return words(UnitsInches, UnitsDecimal, UnitsCM, UnitsMM)
}

// Choices lists the words.
func (ClothUnits) Choices() []string { return words(ClothInYards, ClothInMetres) }

// Choices lists the words.
func (Step) Choices() []string { return words(StepSixteenth, StepMillimetre) }

// Choices lists the words.
func (Purpose) Choices() []string { return words(OwnUse, CustomersOwn, ForSale, Contract) }

// Choices lists the words.
func (Status) Choices() []string {
	return words(Planning, Quoted, Accepted, ClothReceived, CutStatus, Fitted, Delivered, Paid)
}

// Choices lists the words.
func (SeatKind) Choices() []string { return words(PulledOver, DropIn, BoxedPad, Stool) }

// Choices lists the words.
func (OutlineFrom) Choices() []string { return words(Measured, Round, Traced) }

// Choices lists the words.
func (TracedFace) Choices() []string { return words(FaceTop, FaceUnderside) }

// Choices lists the words.
func (EdgeRole) Choices() []string {
	return words(EdgeByDirection, EdgeFront, EdgeLeft, EdgeRight, EdgeBack)
}

// Choices lists the words.
func (KnownWhat) Choices() []string {
	return words(KnownNothing, KnownWidth, KnownDepth, KnownDiagonal, KnownOther, KnownPoints)
}

// Choices lists the words.
func (MeasuredOn) Choices() []string { return words(BareBoard, OldCoverOn) }

// Choices lists the words.
func (FoamEdge) Choices() []string { return words(SquareEdge, RoundedEdge, BevelledEdge) }

// Choices lists the words.
func (CutAs) Choices() []string { return words(CutSquared, CutShaped) }

// Choices lists the words.
func (ClothUse) Choices() []string {
	return words(UseCover, UseContrast, UseDustCloth, UseWadding, UseLining, UseFireBarrier)
}

// Choices lists the words.
func (Drop) Choices() []string { return words(StraightDrop, HalfDrop, ThirdDrop, QuarterDrop) }

// Choices lists the words.
func (AcrossIs) Choices() []string { return words(BetweenColumns, OnOneLevel) }

// Choices lists the words.
func (PhaseRule) Choices() []string { return words(RuleFree, RuleAlike, RuleCentred) }

// Choices lists the words.
func (Direction) Choices() []string { return words(PlainCloth, SetDirection, OneWay) }

// Choices lists the words.
func (Turning) Choices() []string {
	return words(TurnAsCloth, TurnNever, TurnHalf, TurnQuarters)
}

// Choices lists the words.
func (Lie) Choices() []string {
	return words(UpTheRoll, TopAtCutEnd, RailroadedLeft, RailroadedRight)
}

// Choices lists the words.
func (Part) Choices() []string {
	return words(PartCover, PartFoam, PartWadding, PartDustCloth, PartLining, PartFireBarrier, PartWelt, PartBand,
		PartZipBand, PartTop, PartBottom, PartTie)
}

// Choices lists the words.
func (LockState) Choices() []string { return words(Locked, Cut, Spoiled) }

// Choices lists the words.
func (WeltCut) Choices() []string { return words(WeltStrips, WeltRectangle) }

// Choices lists the words.
func (SwatchLook) Choices() []string {
	return words(LookTint, LookPlain, LookStripe, LookCheck, LookSprig, LookPicture)
}

func (Joint) Choices() []string { return words(JointFrontToBack, JointSideToSide) }

// Unit is the unit that lengths are typed and shown in.
func (u Units) Unit() unit.Unit {
	switch u {
	case UnitsDecimal:
		return unit.DecimalInches
	case UnitsCM:
		return unit.Centimetres
	case UnitsMM:
		return unit.Millimetres
	}
	return unit.Inches
}

// Metric tells whether the units are centimetres or millimetres.
func (u Units) Metric() bool { return u.Unit().Metric() }

// Unit is the unit that lengths of cloth are shown in.
func (u ClothUnits) Unit() unit.Unit {
	if u == ClothInMetres {
		return unit.Metres
	}
	return unit.Yards
}

// Length is the marking step as a length.
func (s Step) Length() unit.Length {
	if s == StepMillimetre {
		return unit.OneMillimetre
	}
	return unit.SixteenthInch
}

// Fraction is the drop as a share of the repeat along.
func (d Drop) Fraction() float64 {
	switch d {
	case HalfDrop:
		return 0.5
	case ThirdDrop:
		return 1.0 / 3
	case QuarterDrop:
		return 0.25
	}
	return 0
}

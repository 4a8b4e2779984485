package job

import "slipseat/engine/unit"

// The words a choice can take in the file. The first is what an empty or new
// choice means.
type (
	Units       string
	ClothUnits  string
	Purpose     string
	Status      string
	SeatKind    string
	OutlineFrom string
	MeasuredOn  string
	FoamEdge    string
	ClothUse    string
	Drop        string
	PhaseRule   string
	Direction   string
	Lie         string
	CutAs       string
)

// The choices' words.
const (
	UnitsInches   Units      = "in"
	UnitsDecimal  Units      = "in-decimal"
	UnitsCM       Units      = "cm"
	UnitsMM       Units      = "mm"
	ClothInYards  ClothUnits = "yd"
	ClothInMetres ClothUnits = "m"

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
	Traced   OutlineFrom = "traced"
	Round    OutlineFrom = "round"

	BareBoard  MeasuredOn = "bare-board"
	OldCoverOn MeasuredOn = "old-cover-on"

	SquareEdge   FoamEdge = "square"
	RoundedEdge  FoamEdge = "rounded"
	BevelledEdge FoamEdge = "bevelled-underneath"

	UseCover     ClothUse = "cover"
	UseContrast  ClothUse = "contrast"
	UseDustCloth ClothUse = "dust-cloth"
	UseWadding   ClothUse = "wadding"
	UseLining    ClothUse = "lining"

	StraightDrop Drop = "straight"
	HalfDrop     Drop = "half-drop"
	ThirdDrop    Drop = "third-drop"
	QuarterDrop  Drop = "quarter-drop"

	RuleFree    PhaseRule = "free"
	RuleAlike   PhaseRule = "alike"
	RuleCentred PhaseRule = "centred"

	PlainCloth   Direction = "plain"
	SetDirection Direction = "set-direction"
	OneWay       Direction = "one-way"

	UpTheRoll       Lie = "up-the-roll"
	TopAtCutEnd     Lie = "top-at-cut-end"
	RailroadedLeft  Lie = "railroaded-left"
	RailroadedRight Lie = "railroaded-right"

	CutSquared CutAs = "squared"
	CutShaped  CutAs = "shaped"
)

// Choices lists the words.
func (Units) Choices() []string      { return []string{"in", "in-decimal", "cm", "mm"} }
func (ClothUnits) Choices() []string { return []string{"yd", "m"} }
func (Purpose) Choices() []string {
	return []string{"own-use", "customers-own", "for-sale", "contract"}
}
func (Status) Choices() []string {
	return []string{"planning", "quoted", "accepted", "cloth-received", "cut", "fitted", "delivered", "paid"}
}
func (SeatKind) Choices() []string    { return []string{"pulled-over", "drop-in", "boxed-pad", "stool"} }
func (OutlineFrom) Choices() []string { return []string{"measured", "traced", "round"} }
func (MeasuredOn) Choices() []string  { return []string{"bare-board", "old-cover-on"} }
func (FoamEdge) Choices() []string    { return []string{"square", "rounded", "bevelled-underneath"} }
func (ClothUse) Choices() []string {
	return []string{"cover", "contrast", "dust-cloth", "wadding", "lining"}
}
func (Drop) Choices() []string {
	return []string{"straight", "half-drop", "third-drop", "quarter-drop"}
}
func (PhaseRule) Choices() []string { return []string{"free", "alike", "centred"} }
func (Direction) Choices() []string { return []string{"plain", "set-direction", "one-way"} }
func (Lie) Choices() []string {
	return []string{"up-the-roll", "top-at-cut-end", "railroaded-left", "railroaded-right"}
}
func (CutAs) Choices() []string { return []string{"squared", "shaped"} }

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

// Unit is the unit that lengths of cloth are shown in.
func (u ClothUnits) Unit() unit.Unit {
	if u == ClothInMetres {
		return unit.Metres
	}
	return unit.Yards
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

// Package job is one customer's or household's set of seats as the user keeps
// it: what was typed, with stable IDs, and the file it is saved in. A Job is a
// snapshot: nobody changes one that was handed out, edits make new ones that
// share what they left alone.
package job

import "encoding/json"

// Format is the version of the job file that this program writes.
const Format = 1

// Extra holds the keys of an object that this version does not know. They are
// kept and written back.
type Extra map[string]json.RawMessage

// Job is the whole job.
type Job struct {
	Format   int    `json:"format,required"`
	ID       ID     `json:"id,required"`
	Name     string `json:"name,required"`
	Customer string `json:"customer"`
	Note     string `json:"note"`

	Units      Units      `json:"units,required"`
	ClothUnits ClothUnits `json:"cloth_units,required"`
	// Step is the marking step, fixed when the job is made.
	Step Measure `json:"marking_step,required"`

	Purpose  Purpose `json:"purpose"`
	Country  string  `json:"country"`
	Old      bool    `json:"made_before_1950"`
	Status   Status  `json:"status"`
	KeepOld  bool    `json:"keep_old_filling"`
	Currency string  `json:"currency"`

	Seats  []Seat  `json:"seats,required"`
	Cloths []Cloth `json:"cloths,required"`
	Foams  []Foam  `json:"foams,required"`
	Prices Prices  `json:"prices"`
	Locked []Lock  `json:"locked"`

	Extra Extra `json:"-"`
}

// Seat is one kind of seat in the job, with a count.
type Seat struct {
	ID    ID       `json:"id,required"`
	Name  string   `json:"name,required"`
	Kind  SeatKind `json:"kind,required"`
	Count int      `json:"count,required"`
	Note  string   `json:"note"`
	Frame string   `json:"frame_number"`

	Outline Outline `json:"outline,required"`
	Build   Build   `json:"build_up,required"`

	Cover     ID `json:"cover"`
	Lining    ID `json:"lining"`
	DustCloth ID `json:"dust_cloth"`
	Wadding   ID `json:"wadding"`
	Foam      ID `json:"foam"`

	Extra Extra `json:"-"`
}

// Outline is where the board's shape comes from.
type Outline struct {
	From OutlineFrom `json:"from,required"`

	FrontWidth  Measure `json:"front_width"`
	BackWidth   Measure `json:"back_width"`
	Depth       Measure `json:"depth"`
	FrontBow    Measure `json:"front_bow"`
	SideBow     Measure `json:"side_bow"`
	FrontRadius Measure `json:"front_radius"`
	BackRadius  Measure `json:"back_radius"`
	OverRounded bool    `json:"over_rounded_corners"`
	NotchWidth  Measure `json:"notch_width"`
	NotchDepth  Measure `json:"notch_depth"`

	MeasuredOn MeasuredOn `json:"measured_on"`
	OldCover   Measure    `json:"old_cover_thickness"`
	// Path is the traced outline when From is traced: points with the segment
	// that leaves each of them.
	Path []Point `json:"path"`

	Extra Extra `json:"-"`
}

// Point is a corner of a traced outline.
type Point struct {
	X     Measure `json:"x,required"`
	Y     Measure `json:"y,required"`
	Bow   Measure `json:"bow"`
	In    bool    `json:"bows_in"`
	Round Measure `json:"radius"`
	Extra Extra   `json:"-"`
}

// Build is the build-up of a seat, from the board up.
type Build struct {
	Board        Measure  `json:"board_thickness"`
	Oversize     Measure  `json:"oversize"`
	Overhang     Measure  `json:"left_over_edge"`
	Compression  Percent  `json:"edge_compression"`
	FoamEdge     FoamEdge `json:"foam_edge"`
	EdgeRadius   Measure  `json:"foam_edge_radius"`
	Wadding      Measure  `json:"wadding_thickness"`
	WaddingOver  bool     `json:"wadding_covers_board_edge"`
	Crown        Measure  `json:"crown_height"`
	TurnUnder    Measure  `json:"turn_under"`
	Pull         Measure  `json:"pull"`
	FixedWrap    Measure  `json:"fixed_wrap"`
	FixedFront   Measure  `json:"fixed_wrap_front"`
	FixedLeft    Measure  `json:"fixed_wrap_left"`
	FixedRight   Measure  `json:"fixed_wrap_right"`
	FixedBack    Measure  `json:"fixed_wrap_back"`
	NotchGap     Measure  `json:"notch_clearance"`
	DustInset    Measure  `json:"dust_cloth_inset"`
	DustHem      Measure  `json:"dust_cloth_hem"`
	StaplePitch  Measure  `json:"staple_pitch"`
	DustPitch    Measure  `json:"dust_cloth_pitch"`
	StapleLeg    Measure  `json:"staple_leg"`
	CoverThick   Measure  `json:"cover_thickness"`
	OpeningWidth Measure  `json:"opening_width"`
	OpeningDepth Measure  `json:"opening_depth"`

	Extra Extra `json:"-"`
}

// Cloth is a job's own copy of a cloth.
type Cloth struct {
	ID      ID       `json:"id,required"`
	Library ID       `json:"library_id"`
	Name    string   `json:"name,required"`
	Use     ClothUse `json:"use,required"`

	Width        Measure `json:"width,required"`
	SelvedgeNear Measure `json:"selvedge_near"`
	SelvedgeFar  Measure `json:"selvedge_far"`

	RepeatAlong  Measure   `json:"repeat_along"`
	RepeatAcross Measure   `json:"repeat_across"`
	Drop         Drop      `json:"drop"`
	RuleAlong    PhaseRule `json:"pattern_along"`
	RuleAcross   PhaseRule `json:"pattern_across"`
	FirstAlong   Measure   `json:"first_motif_from_end"`
	FirstAcross  Measure   `json:"first_motif_from_selvedge"`
	NoUpDown     bool      `json:"pattern_without_up_or_down"`

	Direction Direction `json:"direction"`
	Lie       Lie       `json:"lay_direction"`
	Cut       CutAs     `json:"cut_as"`
	RowsOnly  bool      `json:"rows_only"`

	Gap      Measure `json:"gap"`
	SquareUp Measure `json:"square_up"`
	AtHand   Measure `json:"length_at_hand"`
	Flaws    []Flaw  `json:"flaws"`

	SellStep     Measure `json:"selling_step"`
	Spare        Percent `json:"spare"`
	Price        Amount  `json:"price"`
	PriceUnit    Measure `json:"price_for"`
	CustomersOwn bool    `json:"customers_own"`

	Extra Extra `json:"-"`
}

// Flaw is a bad zone on the roll.
type Flaw struct {
	ID    ID      `json:"id,required"`
	From  Measure `json:"from_end,required"`
	To    Measure `json:"to,required"`
	Near  Measure `json:"from_selvedge,required"`
	Far   Measure `json:"to_selvedge,required"`
	Note  string  `json:"note"`
	Extra Extra   `json:"-"`
}

// Foam is a job's own copy of a foam in sheets.
type Foam struct {
	ID        ID      `json:"id,required"`
	Library   ID      `json:"library_id"`
	Name      string  `json:"name,required"`
	Thickness Measure `json:"thickness,required"`
	Width     Measure `json:"sheet_width"`
	Length    Measure `json:"sheet_length"`
	SawCut    Measure `json:"saw_cut"`
	Trim      Measure `json:"trim"`
	Price     Amount  `json:"price_sheet"`

	Extra Extra `json:"-"`
}

// Prices is what labour and small things cost, and how the bill is made.
type Prices struct {
	LabourPulled  Amount  `json:"labour_pulled_over"`
	LabourDropIn  Amount  `json:"labour_drop_in"`
	LabourPad     Amount  `json:"labour_boxed_pad"`
	LabourStool   Amount  `json:"labour_stool"`
	Tax           Percent `json:"tax"`
	Deposit       Percent `json:"deposit"`
	StapleBox     int     `json:"staples_in_a_box"`
	StaplePrice   Amount  `json:"staple_box_price"`
	StapleSpare   Percent `json:"staples_spoiled"`
	Adhesive      bool    `json:"adhesive"`
	AdhesivePrice Amount  `json:"adhesive_price"`
	AdhesiveArea  Measure `json:"adhesive_covers_side"` // side of the square that one can covers

	Extra Extra `json:"-"`
}

// Lock is a piece that the user placed by hand or has cut already.
type Lock struct {
	Goods ID      `json:"goods,required"`
	Seat  ID      `json:"seat,required"`
	Piece int     `json:"piece,required"` // number from 1
	Turn  int     `json:"turn"`
	Along Measure `json:"along,required"`
	Over  Measure `json:"across,required"`
	Cut   bool    `json:"cut"`
	Extra Extra   `json:"-"`
}

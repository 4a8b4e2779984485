package job

// Cloth is a job's own copy of a cloth. The keys are those of the faults of
// engine/cloth, so that a fault finds its field.
type Cloth struct {
	ID      ID       `json:"id,required"`
	Library ID       `json:"library_id"` // the entry it was copied from
	Name    string   `json:"name,required"`
	Use     ClothUse `json:"use,required"`
	Note    string   `json:"note" text:"long"`

	Width        Measure `json:"width" most:"5 m"`
	SelvedgeNear Measure `json:"selvedge_near" most:"5 m"`
	SelvedgeFar  Measure `json:"selvedge_far" most:"5 m"`
	Usable       Measure `json:"usable" most:"5 m"` // as measured between the selvedges
	Thickness    Measure `json:"thickness" most:"50 mm"`

	RepeatAlong  Measure   `json:"repeat_along" most:"3 m"`
	RepeatAcross Measure   `json:"repeat_across" most:"5 m"`
	AcrossIs     AcrossIs  `json:"across_is"`
	Drop         Drop      `json:"drop"`
	NoUpDown     bool      `json:"no_up_or_down"`
	RuleAlong    PhaseRule `json:"rule_along"`
	RuleAcross   PhaseRule `json:"rule_across"`
	FirstAlong   Measure   `json:"first_along" most:"1000 m"`
	FirstAcross  Measure   `json:"first_across" most:"5 m"`

	Direction Direction `json:"direction"`
	Turning   Turning   `json:"turning"`
	Lie       Lie       `json:"lay_direction"`
	RowsOnly  bool      `json:"rows_only"`

	Gap          Measure  `json:"gap" most:"100 mm"`
	SquareUp     Measure  `json:"square_up" most:"1 m"`
	Flaws        []Flaw   `json:"flaws" most:"500"`
	AtHand       Measure  `json:"at_hand" most:"1000 m"` // length of the piece at hand; empty for a roll cut to order
	RollLength   Measure  `json:"roll_length" most:"1000 m"`
	RepeatsOver  Measure  `json:"repeats_measured" most:"100 m"`
	RepeatsCount int      `json:"repeats_counted" most:"1000"`
	Offcuts      []Offcut `json:"offcuts" most:"50"`

	SellStep     Measure  `json:"step" most:"10 m"`
	Spare        Percent  `json:"spare" most:"100 %"`
	Price        Amount   `json:"price"`
	PriceUnit    Measure  `json:"price_unit" most:"10 m"` // what the price is for
	RollChecked  bool     `json:"roll_checked"`
	Lot          string   `json:"lot"`
	Swatch       Swatch   `json:"swatch"`
	CustomersOwn bool     `json:"customers_own"`
	CutDone      bool     `json:"cut_done" fixed:"yes"`
	Made         []Offcut `json:"made" most:"200"`

	Extra Extra `json:"-"`
}

// Flaw is a bad zone on the roll: From and To along from the cut end, Near and
// Far across from the near edge of the usable width.
type Flaw struct {
	ID   ID      `json:"id,required"`
	From Measure `json:"from,required" most:"1000 m"`
	To   Measure `json:"to,required" most:"1000 m"`
	Near Measure `json:"near,required" most:"5 m"`
	Far  Measure `json:"far,required" most:"5 m"`
	Note string  `json:"note"`

	Extra Extra `json:"-"`
}

// Foam is a job's own copy of a foam in sheets. A sheet's size has no default.
type Foam struct {
	ID          ID       `json:"id,required"`
	Library     ID       `json:"library_id"`
	Name        string   `json:"name,required"`
	Note        string   `json:"note" text:"long"`
	Thickness   Measure  `json:"thickness" most:"500 mm"`
	Length      Measure  `json:"sheet_length" most:"10 m"`
	Width       Measure  `json:"sheet_width" most:"10 m"`
	SawCut      Measure  `json:"saw_cut" most:"100 mm"`
	Trim        Measure  `json:"trim" most:"1 m"`
	Price       Amount   `json:"price"` // of one sheet
	SheetsThere int      `json:"sheets_there" most:"10000"`
	Offcuts     []Offcut `json:"offcuts" most:"50"`

	// Firmness is the force that indents it by FirmnessAt per cent of its
	// thickness.
	Firmness   Force    `json:"firmness"`
	FirmnessAt int      `json:"firmness_at" most:"99"`
	Density    Density  `json:"density"`
	Glue       bool     `json:"glue"`
	GlueLeast  Measure  `json:"glue_min_width" most:"10 m"`
	GlueClear  Measure  `json:"glue_keep_off" most:"1 m"`
	CutDone    bool     `json:"cut_done" fixed:"yes"`
	Made       []Offcut `json:"made" most:"200"`

	Extra Extra `json:"-"`
}

// Offcut is a piece of cloth or foam from the shelf, or one that goes there.
type Offcut struct {
	ID          ID      `json:"id,required"`
	Shelf       ID      `json:"shelf_id" fixed:"yes"`
	Name        string  `json:"name"`
	Origin      string  `json:"origin"`
	Length      Measure `json:"offcut_length,required" most:"1000 m"`
	Width       Measure `json:"offcut_width,required" most:"10 m"`
	FirstAlong  Measure `json:"first_along" most:"1000 m"`
	FirstAcross Measure `json:"first_across" most:"10 m"`
	Lot         string  `json:"lot"`

	Extra Extra `json:"-"`
}

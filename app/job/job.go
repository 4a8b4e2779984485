// Package job is one customer's or household's set of seats as the user keeps
// it: what was typed, with stable IDs, and the file it is saved in.
//
// A Job is a snapshot: nobody changes one that was handed out, nor a list in
// it; an edit makes a new one that shares what it left alone. The keys of the
// file, in the tags, are also the names by which the window and the faults
// call the fields. FORMAT.md describes the file.
package job

import "encoding/json"

// Format is the version of the job file that this program writes.
const Format = 1

// Extra holds the keys of an object that this version does not know, as
// compact JSON. They are kept and written back at the end of their object, in
// the order of their names.
type Extra map[string]json.RawMessage

// Job is the whole job. Piece numbers and the seats' letters follow from the
// order of its lists.
type Job struct {
	ID       ID     `json:"id,required"`
	Name     string `json:"name,required"`
	Customer string `json:"customer"`
	Note     string `json:"note" text:"long"`

	Units      Units      `json:"units,required"`
	ClothUnits ClothUnits `json:"cloth_units,required"`
	// Step is the marking step, fixed when the job is made.
	Step Step `json:"marking_step,required"`

	Purpose  Purpose  `json:"purpose"`
	Country  Country  `json:"country"`
	Old      bool     `json:"made_before_1950"`
	KeepOld  bool     `json:"keep_old_filling"`
	Status   Status   `json:"status"`
	Currency Currency `json:"currency"`
	KeepFrom Measure  `json:"keep_offcuts_from" most:"5 m"`
	// Table is the longest stretch of cloth that can lie on the table.
	Table Measure `json:"table_length" most:"20 m"`

	Seats     []Seat         `json:"seats,required" most:"200"`
	Cloths    []Cloth        `json:"cloths,required" most:"100"`
	Foams     []Foam         `json:"foams,required" most:"100"`
	Prices    Prices         `json:"prices"`
	Terms     Terms          `json:"terms"`
	Locked    []Lock         `json:"locked" most:"20000"`
	GlueUps   []GlueUp       `json:"glue_ups" most:"500"`
	Extras    []ExtraLine    `json:"extras" most:"200"`
	Changes   []AgreedChange `json:"changes" most:"200"`
	Actuals   []Actual       `json:"actuals" most:"500"`
	Dismissed []Dismissal    `json:"dismissed" most:"1000"`

	Extra Extra `json:"-"`
}

// Prices is what labour and small things cost, and how the bill is made.
type Prices struct {
	LabourPulled     Amount  `json:"labour_pulled_over"`
	LabourDropIn     Amount  `json:"labour_drop_in"`
	LabourPad        Amount  `json:"labour_boxed_pad"`
	LabourStool      Amount  `json:"labour_stool"`
	Hourly           Amount  `json:"hourly"`
	MinutesPulled    int     `json:"minutes_pulled_over" most:"6000"`
	MinutesDropIn    int     `json:"minutes_drop_in" most:"6000"`
	MinutesPad       int     `json:"minutes_boxed_pad" most:"6000"`
	MinutesStool     int     `json:"minutes_stool" most:"6000"`
	Tax              Percent `json:"tax" most:"100 %"`
	Deposit          Percent `json:"deposit" most:"100 %"`
	StapleBox        int     `json:"staples_in_a_box" most:"1000000"`
	StaplePrice      Amount  `json:"staple_box_price"`
	StapleSpare      Percent `json:"staples_spoiled" most:"100 %"`
	StaplesThere     int     `json:"staples_there" most:"1000000"`
	Adhesive         bool    `json:"adhesive"`
	AdhesivePrice    Amount  `json:"adhesive_price"`
	AdhesiveArea     Measure `json:"adhesive_covers_side" most:"30 m"` // side of the square that one can covers
	AdhesiveThere    int     `json:"adhesive_cans_there" most:"1000"`
	CordPrice        Amount  `json:"cord_price"`
	CordPriceUnit    Measure `json:"cord_price_unit" most:"100 m"`
	CordStep         Measure `json:"cord_step" most:"100 m"`
	CordThere        Measure `json:"cord_there" most:"1000 m"`
	WebbingPrice     Amount  `json:"webbing_price"`
	WebbingPriceUnit Measure `json:"webbing_price_unit" most:"100 m"`
	WebbingStep      Measure `json:"webbing_step" most:"100 m"`
	WebbingThere     Measure `json:"webbing_there" most:"1000 m"`
	ZipPrice         Amount  `json:"zip_price"`
	ZipPriceUnit     Measure `json:"zip_price_unit" most:"100 m"`
	ZipStep          Measure `json:"zip_step" most:"100 m"`
	ZipThere         Measure `json:"zip_there" most:"1000 m"`

	Extra Extra `json:"-"`
}

// Lock is a piece that the user placed by hand, cut or spoiled. Along and Over
// place the piece's own origin on the goods: from the squared cut end, and
// from the near edge of the usable width.
type Lock struct {
	Goods ID        `json:"goods,required"`
	Seat  ID        `json:"seat,required"`
	Part  Part      `json:"part,required"`
	Piece int       `json:"piece,required" least:"1" most:"500"` // number within the seat, from 1
	Sub   int       `json:"sub" most:"100"`                      // which of the seat's pieces of this part, from 1; 0 reads as 1
	State LockState `json:"state,required"`
	Sheet int       `json:"sheet" most:"10000"` // which of several sheets, from 0
	Turn  int       `json:"turn" most:"3"`      // quarter turns counter-clockwise
	Along Measure   `json:"along,required" most:"1000 m"`
	Over  Measure   `json:"across,required" most:"10 m"`
	On    ID        `json:"on"`

	Extra Extra `json:"-"`
}

// Terms is what the quote and the bill say beyond the order.
type Terms struct {
	ValidDays  int    `json:"quote_valid_days" most:"1000"`
	QuoteDate  string `json:"quote_date"`
	QuoteNotes string `json:"quote_notes" text:"long"`
	LeftOut    string `json:"quote_left_out" text:"long"`
	BillNumber string `json:"bill_number"`
	BillDate   string `json:"bill_date"`
	Received   Amount `json:"received"`

	Extra Extra `json:"-"`
}

// GlueUp is a foam blank that is glued of two or three parts, by one or two
// straight joints that lie the same way. First and Second are the joints' places:
// of one from front to back from the blank's left edge, of one from side to side
// from its front.
type GlueUp struct {
	ID     ID      `json:"id,required"`
	Seat   ID      `json:"seat,required" fixed:"yes"`
	Layer  int     `json:"layer,required" least:"1" most:"21"`
	Piece  int     `json:"piece" most:"500"`
	Joint  Joint   `json:"joint,required"`
	First  Measure `json:"first,required" most:"5 m"`
	Second Measure `json:"second" most:"5 m"`

	Extra Extra `json:"-"`
}

// ExtraLine is an order line of the user's own.
type ExtraLine struct {
	ID    ID     `json:"id,required"`
	Name  string `json:"name,required"`
	Count int    `json:"count" most:"1000000"`
	Price Amount `json:"price"`

	Extra Extra `json:"-"`
}

// AgreedChange is something agreed after the quote.
type AgreedChange struct {
	ID     ID     `json:"id,required"`
	Text   string `json:"text"`
	Amount Amount `json:"amount"`
	Off    bool   `json:"taken_off"`

	Extra Extra `json:"-"`
}

// Actual is a quantity really used.
type Actual struct {
	ID     ID      `json:"id,required"`
	Line   string  `json:"line,required" fixed:"yes"`
	Goods  string  `json:"goods" fixed:"yes"`
	Length Measure `json:"actual_length" most:"1000 m"`
	Units  int     `json:"actual_units" most:"1000000"`

	Extra Extra `json:"-"`
}

// Dismissal is a caution that the user has dealt with.
type Dismissal struct {
	ID      ID     `json:"id,required"`
	Caution string `json:"caution,required" fixed:"yes"`
	Note    string `json:"note" text:"long"`

	Extra Extra `json:"-"`
}

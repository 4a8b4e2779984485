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

	Seats  []Seat  `json:"seats,required" most:"200"`
	Cloths []Cloth `json:"cloths,required" most:"100"`
	Foams  []Foam  `json:"foams,required" most:"100"`
	Prices Prices  `json:"prices"`
	Locked []Lock  `json:"locked" most:"20000"`

	Extra Extra `json:"-"`
}

// Prices is what labour and small things cost, and how the bill is made.
type Prices struct {
	LabourPulled  Amount  `json:"labour_pulled_over"`
	LabourDropIn  Amount  `json:"labour_drop_in"`
	LabourPad     Amount  `json:"labour_boxed_pad"`
	LabourStool   Amount  `json:"labour_stool"`
	Tax           Percent `json:"tax" most:"100 %"`
	Deposit       Percent `json:"deposit" most:"100 %"`
	StapleBox     int     `json:"staples_in_a_box" most:"1000000"`
	StaplePrice   Amount  `json:"staple_box_price"`
	StapleSpare   Percent `json:"staples_spoiled" most:"100 %"`
	Adhesive      bool    `json:"adhesive"`
	AdhesivePrice Amount  `json:"adhesive_price"`
	AdhesiveArea  Measure `json:"adhesive_covers_side" most:"30 m"` // side of the square that one can covers

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
	Sub   int       `json:"sub" most:"100"`                      // part of a glue-up or strip, from 1; 0 for none
	State LockState `json:"state,required"`
	Sheet int       `json:"sheet" most:"10000"` // which of several sheets, from 0
	Turn  int       `json:"turn" most:"3"`      // quarter turns counter-clockwise
	Along Measure   `json:"along,required" most:"1000 m"`
	Over  Measure   `json:"across,required" most:"10 m"`

	Extra Extra `json:"-"`
}

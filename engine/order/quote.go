package order

import (
	"slipseat/engine/unit"
)

// NoteKind says what a note of a quote is about.
type NoteKind uint8

// Kinds of notes, in the order in which a quote prints them.
const (
	Included NoteKind = iota
	Assumed
	Excluded
	Trigger // what would change the price
)

// Note is one line of a quote's small print: a code with its figures, words
// under "quote.<code>", or the user's own text.
type Note struct {
	Kind NoteKind
	Code string
	Args []unit.Arg
	Text string // the user's own; Code is then empty
}

// Codes of notes.
const (
	NoteStrip         = "strip"
	NoteFoam          = "foam"
	NoteWadding       = "wadding"
	NoteCover         = "cover"
	NoteDust          = "dust-cloth"
	NoteWelt          = "welt"
	NoteRefit         = "refit"
	NoteMeasured      = "measured"
	NoteBoards        = "boards-sound"
	NoteClothWidth    = "cloth-width"
	NoteClothRepeat   = "cloth-repeat"
	NoteCustomerCloth = "customer-cloth"
	NoteFrames        = "frames"
	NoteTransport     = "transport"
	NoteHidden        = "hidden"
	NoteOtherCloth    = "other-cloth"
	NoteLayers        = "more-layers"
	NoteDamage        = "damage"
	NoteFlaws         = "flaws"
	NoteFire          = "fire-status"
)

// QuoteSeat is one kind of seat on a quote.
type QuoteSeat struct {
	Seat, Name string
	Count      int
	Foam       unit.Length // thickness in all; 0 when the old foam stays
	Wadding    bool
	Welt       bool
	Dust       bool
	Drop       bool // drops into a frame
	Pad        bool // a loose pad: nothing is stripped or refitted
}

// QuoteCloth is a cloth that the quote rests on.
type QuoteCloth struct {
	Name          string
	Width         unit.Length
	Along, Across unit.Length // repeat; 0 for none
	Buy           unit.Length
	CustomersOwn  bool
}

// Purpose says what the seats are for, for the status line on fire rules.
type Purpose uint8

// Purposes.
const (
	OwnUse Purpose = iota
	CustomersOwn
	ForSale
	Contract
)

// Code names the purpose in words ("purpose.<code>").
func (p Purpose) Code() string {
	return [...]string{"own-use", "customers-own", "for-sale", "contract"}[p]
}

// QuoteInput is what a quote is made from.
type QuoteInput struct {
	Order      Order
	Seats      []QuoteSeat
	Cloths     []QuoteCloth
	Own        []Note   // the user's own lines, each under its kind
	Leave      []string // codes of notes that the user took out
	ValidDays  int      // 0 for no limit
	Purpose    Purpose
	Country    string
	Before1950 bool
}

// Quote is an offer to the customer: what is done and bought, on what it
// rests, what it leaves out, what would change it, and what it comes to.
type Quote struct {
	Seats     []QuoteSeat
	Items     []Item
	Labour    []Item
	Notes     []Note // by kind
	Totals    Totals
	ValidDays int
}

// MakeQuote makes the quote. Every note follows from the job; notes the user
// took out are left away, own ones come last of their kind.
//
// Source: contents after S154, S155 (trade handbook, grade B).
func MakeQuote(in QuoteInput) Quote {
	q := Quote{Seats: in.Seats, Items: in.Order.Items, Labour: in.Order.Labour, Totals: in.Order.Totals, ValidDays: max(0, in.ValidDays)}
	left := map[string]bool{}
	for _, code := range in.Leave {
		left[code] = true
	}
	notes := append(included(in), assumed(in)...)
	notes = append(notes, excluded(in)...)
	notes = append(notes, triggers(in)...)
	for kind := Included; kind <= Trigger; kind++ {
		for _, list := range [2][]Note{notes, in.Own} {
			for _, n := range list {
				if n.Kind == kind && (n.Code == "" || !left[n.Code]) {
					q.Notes = append(q.Notes, n)
				}
			}
		}
	}
	return q
}

func included(in QuoteInput) []Note {
	var out []Note
	add := func(code string, args ...unit.Arg) { out = append(out, Note{Kind: Included, Code: code, Args: args}) }
	any := func(f func(QuoteSeat) bool) bool {
		for _, s := range in.Seats {
			if s.Count > 0 && f(s) {
				return true
			}
		}
		return false
	}
	if any(func(s QuoteSeat) bool { return !s.Pad }) {
		add(NoteStrip)
	}
	for _, s := range in.Seats {
		if s.Count > 0 && s.Foam > 0 {
			add(NoteFoam, unit.A("seat", s.Name), unit.A("thickness", s.Foam))
		}
	}
	if any(func(s QuoteSeat) bool { return s.Wadding }) {
		add(NoteWadding)
	}
	for _, c := range in.Cloths {
		add(NoteCover, unit.A("cloth", c.Name))
	}
	if any(func(s QuoteSeat) bool { return s.Welt }) {
		add(NoteWelt)
	}
	if any(func(s QuoteSeat) bool { return s.Dust }) {
		add(NoteDust)
	}
	if any(func(s QuoteSeat) bool { return !s.Pad }) {
		add(NoteRefit)
	}
	return out
}

func assumed(in QuoteInput) []Note {
	out := []Note{{Kind: Assumed, Code: NoteMeasured}, {Kind: Assumed, Code: NoteBoards}}
	for _, c := range in.Cloths {
		code := NoteClothWidth
		if c.Along > 0 || c.Across > 0 {
			code = NoteClothRepeat
		}
		out = append(out, Note{Kind: Assumed, Code: code, Args: []unit.Arg{unit.A("cloth", c.Name), unit.A("width", c.Width),
			unit.A("along", c.Along), unit.A("across", c.Across)}})
		if c.CustomersOwn {
			out = append(out, Note{Kind: Assumed, Code: NoteCustomerCloth, Args: []unit.Arg{unit.A("cloth", c.Name), unit.A("buy", c.Buy)}})
		}
	}
	// The status line on fire rules says what the pieces are for and no more.
	out = append(out, Note{Kind: Assumed, Code: NoteFire, Args: []unit.Arg{unit.A("purpose", in.Purpose.Code()), unit.A("country", in.Country),
		unit.A("before_1950", map[bool]string{true: "before-1950", false: "since-1950"}[in.Before1950])}})
	return out
}

func excluded(QuoteInput) []Note {
	return []Note{{Kind: Excluded, Code: NoteFrames}, {Kind: Excluded, Code: NoteTransport}, {Kind: Excluded, Code: NoteHidden}}
}

func triggers(in QuoteInput) []Note {
	out := []Note{{Kind: Trigger, Code: NoteOtherCloth}, {Kind: Trigger, Code: NoteLayers}, {Kind: Trigger, Code: NoteDamage}}
	for _, c := range in.Cloths {
		if c.CustomersOwn {
			out = append(out, Note{Kind: Trigger, Code: NoteFlaws, Args: []unit.Arg{unit.A("cloth", c.Name)}})
		}
	}
	return out
}

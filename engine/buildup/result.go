package buildup

import (
	"slipseat/engine/geom"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// Part says which part of a seat a blank is.
type Part uint8

// Parts, in the order in which they are listed.
const (
	PartFoam Part = iota
	PartWadding
	PartBarrier
	PartLining
	PartCover
	PartTop // panels and bands of a boxed pad
	PartBottom
	PartBand
	PartZipBand
	PartTie
	PartDust
	PartWelt // strips for welt, cut for all seats together
)

// Code names the part in words ("term.<code>") and files.
func (p Part) Code() string {
	return [...]string{"foam", "wadding", "fire-barrier", "lining", "cover", "panel-top", "panel-bottom",
		"band", "zip-band", "tie", "dust-cloth", "welt"}[p]
}

// Blank is one piece as it is cut, in the seat's frame; a band or a tie lies
// in a frame of its own, x along it.
type Blank struct {
	Part  Part
	Layer int       // of foam: which layer, from 0 at the board
	Role  seat.Role // of a band: the edge it goes round
	Goods string    // ID of the cloth or foam it is cut from
	Path  geom.Path
	// Square blanks are rectangles and were rounded up to the marking step.
	Square bool
	W, D   unit.Why // size along x and y; equal to the path's own box
	Count  int      // per seat
	Motif  geom.Pt  // where a motif is set unless the user says otherwise
	Lines  []Line
}

// Size gives width by depth.
func (b Blank) Size() (w, d unit.Length) { return b.W.Length(), b.D.Length() }

// Area is the blank's area.
func (b Blank) Area() unit.Area { return unit.Area(b.Path.Area()) }

// LineKind says what a reference line on a blank shows.
type LineKind uint8

// Kinds of reference lines. Only a relief cut is ever cut, and only on the
// chair.
const (
	LineBoard  LineKind = iota // the board's outline
	LineNotch                  // a back-post notch: never a cut line on a cover
	LineRelief                 // the cut that lets the cover lie round a post
	LineCentre                 // centre mark at an edge
	LineHole                   // screw hole
	LineFirst                  // stretch that is stapled first
	LineJoint                  // edge of a foam part that is glued to the next
)

// Line is a reference line: a path, closed or open. Of an open one the last
// vertex's bulge means nothing.
type Line struct {
	Kind   LineKind
	Path   geom.Path
	Closed bool
	Right  bool      // of a notch or its relief cut: at the right back corner
	Role   seat.Role // of a centre mark or a stretch: the edge it belongs to
}

// Result is everything Make derives for one seat. Sums over several seats are
// the caller's.
type Result struct {
	Wraps   []Wrap    // of the roles that occur, in order
	Shaped  geom.Path // the cover as an offset outline, whether or not it is cut so
	Squared geom.Rect // the cover as a rectangle
	Blanks  []Blank

	Staples unit.Why // in one seat, none spoiled; KindCount
	Bite    Bite
	Gaps    []Gap  // of a drop-in seat, where its frame was measured
	First   []Line // stretches that are stapled first, on the board's edge

	WeltStrip unit.Why    // width of a welt strip
	WeltEdge  unit.Why    // length of welt in one seat
	Webbing   []Strip     // webbing strips in one seat
	WebLength unit.Why    // all of them
	Faces     unit.Area   // faces that adhesive would cover
	Motif     geom.Pt     // the seat's motif point
	Edge      unit.Length // around the board
}

// Wrap gives the wrap of a role; ok is false when no edge has it.
func (r Result) Wrap(role seat.Role) (w Wrap, ok bool) {
	for _, w := range r.Wraps {
		if w.Role == role {
			return w, true
		}
	}
	return Wrap{}, false
}

// Blank gives the first blank of a part.
func (r Result) Blank(p Part) (Blank, bool) {
	for _, b := range r.Blanks {
		if b.Part == p {
			return b, true
		}
	}
	return Blank{}, false
}

// Whys gives every figure of the result with a name for reports, in a fixed
// order.
func (r Result) Whys() []NamedWhy {
	var out []NamedWhy
	add := func(name string, w unit.Why) { out = append(out, NamedWhy{name, w}) }
	for _, w := range r.Wraps {
		add("wrap "+w.Role.String()+" computed", w.Computed)
		add("wrap "+w.Role.String(), w.Used)
	}
	for _, b := range r.Blanks {
		add(b.Part.Code()+" width", b.W)
		add(b.Part.Code()+" depth", b.D)
	}
	add("staples", r.Staples)
	add("bite", r.Bite.Side)
	add("bite at a corner", r.Bite.Corner)
	for _, g := range r.Gaps {
		add("gap", g.Have)
		add("need", g.Need)
	}
	add("welt strip", r.WeltStrip)
	add("welt", r.WeltEdge)
	for _, s := range r.Webbing {
		add("webbing strip", s.Length)
	}
	add("webbing", r.WebLength)
	return out
}

// NamedWhy is a figure with a name for reports.
type NamedWhy struct {
	Name string
	Why  unit.Why
}

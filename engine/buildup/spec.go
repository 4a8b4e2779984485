// Package buildup works out what a seat is made of: how far its cover must
// wrap, term by term, and from that every blank that is cut for it, foam,
// wadding, cover, dust cloth, welt, bands, and how many staples hold it. It
// knows seats, not rolls: goods are named by their IDs.
//
// All shapes are in the seat's frame: x to the right, y towards the back,
// looking down on the top. Sizes are width (x) by depth (y). Lengths in a Spec
// are as the user gave them; a zero means nothing of the kind unless the field
// says otherwise.
package buildup

import (
	"slipseat/engine/geom"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// Kind is the kind of seat.
type Kind uint8

// Kinds of seats.
const (
	PulledOver Kind = iota // cover stapled under the board
	DropIn                 // the same, and the board drops into a frame
	BoxedPad               // a loose sewn pad
	Stool                  // a pulled-over round or oval seat
)

// Spec is the build-up of one kind of seat. It is a plain value; Make checks
// it.
type Spec struct {
	Kind  Kind
	Board unit.Length // thickness of the board, b

	Foam []Layer // from the board up
	// Oversize, o, is how much larger than the board the foam is cut, each
	// side; below 0 for smaller.
	Oversize    unit.Length
	Edge        EdgeShape   // of the foam
	EdgeSize    unit.Length // radius r of a rounded upper edge, or the bevel underneath
	Compression float64     // c: share of the foam's thickness that the pull takes at the edge
	// Overhang is what is left of the oversize after pulling, o', never below
	// nothing; Oversize where unset.
	Overhang PerEdge
	// Dome is the height of a domed seat over the foam's edge, h.
	Dome           unit.Length
	NotchClearance unit.Length // foam and wadding keep this far from a post
	FoamSquared    bool        // cut the foam as a rectangle

	Wadding Wadding
	Barrier Undercover // fire barrier
	Lining  Undercover
	Cover   Cover
	Dust    Dust
	Webbing Webbing

	Staples Staples
	Frame   Frame // the frame a drop-in seat drops into
	Pad     Pad   // of a boxed pad
	Welt    Welt
	Relief  Relief
	Holes   []geom.Pt // screw holes in the board, in the outline's frame
}

// Layer is one layer of foam.
type Layer struct {
	Goods     string // ID of the foam it is cut from
	Thickness unit.Length
	// Inset above 0 makes it a crown layer, smaller than the layers below by
	// this much on each side.
	Inset   unit.Length
	Tapered bool // its edge is cut to a taper
}

// EdgeShape is the shape of the foam's edge.
type EdgeShape uint8

// Edge shapes.
const (
	SquareEdge  EdgeShape = iota
	RoundedEdge           // the upper edge, with radius EdgeSize
	BevelBelow            // the lower edge, cut back at 45 degrees by EdgeSize
)

// Wadding is the layer over the foam.
type Wadding struct {
	Goods     string
	Thickness unit.Length // w; 0 for none
	// StopsAtFoam: it ends at the foam's lower edge instead of covering the
	// board's edge too. A drop-in seat's wadding always does.
	StopsAtFoam bool
	Trim        unit.Opt // left to trim; half an inch where unset
	Squared     bool
}

// Undercover is a lining or a fire barrier: a cloth below the cover, wrapped
// and stapled like it.
type Undercover struct {
	Use       bool
	Goods     string
	Thickness unit.Length
	TurnUnder unit.Opt // the cover's where unset
	Pull      unit.Opt // the cover's where unset
}

// Cover is the outer cloth.
type Cover struct {
	Goods     string
	Thickness unit.Length // of one layer pressed flat
	Shaped    bool        // cut to the offset outline instead of a rectangle
	TurnUnder unit.Length // u
	Pull      unit.Length // p
	// Fixed is the user's own wrap, pull included, instead of the computed one.
	Fixed PerEdge
	// TrimmedCorners: the folds at the corners are cut away, so that two
	// layers lie there instead of three.
	TrimmedCorners bool
}

// Dust is the dust cloth.
type Dust struct {
	Goods     string
	None      bool
	Hem       unit.Length // folded under; 0 for cloth that does not fray
	Inset     unit.Length // its finished edge lies this far inside the board's edge
	Thickness unit.Length
	Squared   bool
}

// Webbing carries an open seat frame.
type Webbing struct {
	Goods         string
	Across, Along int         // strips each way
	Width         unit.Length // of a strip
	Fold          unit.Length // folded over at each end, elastic or not
	SpanAcross    unit.Opt    // from rail to rail; the board's own size where unset
	SpanAlong     unit.Opt
	Stretch       float64 // length under load by length cut; 1 or 0 for webbing that does not stretch
}

// Staples holds what the count and the bite depend on.
type Staples struct {
	Pitch     unit.Length // between two staples of the cover and the lining
	DustPitch unit.Opt    // of the dust cloth; Pitch where unset
	Leg       unit.Length // 0 when nobody chose a staple yet
	Line      unit.Opt    // from the board's edge to the row of staples; half an inch where unset
	// StopShort is how far before a corner the first stapling stops, until
	// the corner is folded; 2 in where unset.
	StopShort unit.Opt
}

// Frame is the opening a drop-in board drops into.
type Frame struct {
	Width, Depth unit.Length // of the opening; 0 when not measured
	PostGap      unit.Opt    // bare gap between a notch and its post, when measured
}

// Pad is a loose boxed pad. Its finished size is the outline.
type Pad struct {
	Thickness unit.Length // finished
	Seam      unit.Length
	Squeeze   unit.Length // foam larger than the finished pad, over all, each way
	Zip       bool        // in the back band
	ZipSeam   unit.Length
	Ties      int
	TieLength unit.Length
	TieWidth  unit.Length
}

// Welt is fabric-covered cord along the edge.
type Welt struct {
	Goods   string // cloth it is cut from
	Rows    int    // 0 for none; 2 along top and bottom of a boxed pad
	Cord    unit.Length
	Seam    unit.Length
	Bias    bool
	Double  bool     // double welt: two cords side by side
	Overlap unit.Opt // closing overlap of a row; 2 in where unset
	// Rectangle: the strips are reckoned as one rectangle across the cloth
	// instead of being laid one by one.
	Rectangle bool
	Shortest  unit.Opt // shortest strip used of a corner cut on the bias; 6 in where unset
}

// Relief is the cut that lets a cover lie round a post.
type Relief struct {
	ShortOf unit.Opt // how far the diagonal stops before the notch's inner corner; 1 in where unset
	Arm     unit.Opt // length of each of the two arms; half an inch where unset
	// Spread is the angle in degrees of each arm to the diagonal; 45, along
	// the notch's sides, where 0.
	Spread float64
}

// Usual figures where a field is unset (DESIGN section 4).
const (
	UsualTrim      = unit.In / 2
	UsualLine      = unit.In / 2
	UsualShortOf   = 1 * unit.In
	UsualArm       = unit.In / 2
	UsualOverlap   = 2 * unit.In
	UsualShortest  = 6 * unit.In
	UsualStopShort = 2 * unit.In
	UsualSpread    = 45                // degrees
	UsualSpoiled   = 10 * unit.Percent // share of the staples
	UsualCornerFix = 4                 // staples more per outside corner
	UsualWebFix    = 9                 // staples per end of webbing
)

// Start gives the build-up a new seat begins with: an inch of foam cut half an
// inch larger each side on a half-inch board, a turn-under of one inch and
// half an inch to pull by, staples an inch apart, dust cloth folded half an
// inch under and set in three eighths. Every figure is the user's to change.
//
// Source: within the ranges of S2, S42 (board, foam), S54 (staple pitch); the
// rest is common practice, no source.
func Start(kind Kind) Spec {
	s := Spec{
		Kind:     kind,
		Board:    unit.In / 2,
		Foam:     []Layer{{Thickness: 1 * unit.In}},
		Oversize: unit.In / 2,
		Overhang: PerEdge{All: unit.Some(0)},
		Cover:    Cover{TurnUnder: 1 * unit.In, Pull: unit.In / 2},
		Dust:     Dust{Hem: unit.In / 2, Inset: 3 * unit.In / 8},
		Staples:  Staples{Pitch: 1 * unit.In},
	}
	if kind == BoxedPad {
		s.Board, s.Oversize, s.Overhang = 0, 0, PerEdge{}
		s.Foam = []Layer{{Thickness: 2 * unit.In}}
		s.Pad = Pad{Thickness: 2 * unit.In, Seam: unit.In / 2, ZipSeam: unit.In / 2}
		s.Dust.None = true
	}
	return s
}

// PerEdge is a length that may be set for all edges, and for an edge by
// itself.
type PerEdge struct {
	All                      unit.Opt
	Front, Left, Right, Back unit.Opt
}

// At gives the length for an edge: its own, else that of all edges, else
// unset.
func (p PerEdge) At(r seat.Role) unit.Opt {
	if own := *p.of(r); own.Set {
		return own
	}
	return p.All
}

// With returns p with the edge's own length set to l.
func (p PerEdge) With(r seat.Role, l unit.Length) PerEdge {
	*p.of(r) = unit.Some(l)
	return p
}

func (p *PerEdge) of(r seat.Role) *unit.Opt {
	switch r {
	case seat.Left:
		return &p.Left
	case seat.Right:
		return &p.Right
	case seat.Back:
		return &p.Back
	}
	return &p.Front
}

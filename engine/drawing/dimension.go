package drawing

import (
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Sizes of dimension lines, paper millimetres.
const (
	dimAway  = 8.7 // from the shape to the dimension line
	dimPast  = 1.4 // extension line past the dimension line
	dimClear = 1.6 // extension line clear of the shape
	dimHead  = 2.1
	dimPad   = 1.0 // plate past its label
)

// DimensionRoom is the room in paper millimetres that dimension lines and
// their labels take on every side of a seat.
const DimensionRoom = 17

// dimension draws the distance between two points that lie on one level or on
// one upright: extension lines, a line with a head at each end, and the label
// on a plate in its middle. away is the signed paper distance of the line from
// the points, towards +y (upright: +x) when positive.
type dimension struct {
	a, b    geom.Pt
	upright bool
	base    float64 // model level (x for upright) that away is counted from
	away    float64
	label   string
}

// draw gives the items and the label's box in model coordinates.
func (d dimension) draw(st Style) ([]Item, box) {
	side := 1.0
	if d.away < 0 {
		side = -1
	}
	level := d.base + st.Model(d.away)
	on := func(p geom.Pt, q float64) geom.Pt { // p moved to the level q
		if d.upright {
			return geom.P(q, p.Y)
		}
		return geom.P(p.X, q)
	}
	at := func(p geom.Pt) float64 { // p's own level
		if d.upright {
			return p.X
		}
		return p.Y
	}
	var items []Item
	for _, p := range []geom.Pt{d.a, d.b} {
		items = append(items, line("dimension", on(p, at(p)+side*st.Model(dimClear)), on(p, level+side*st.Model(dimPast)), Ink2, Hair, Solid))
	}
	from, to := on(d.a, level), on(d.b, level)
	size := st.text(Normal)
	w := st.Metrics.Width(d.label, size, Bold)
	span := st.Paper(from.Dist(to))
	mid := from.Add(to).Mul(0.5)
	text := Text{Layer: "dimension", S: d.label, At: mid, Size: size, Weight: Bold, Anchor: MidCentre, Role: Ink, Plate: Paper, Pad: dimPad}
	if d.upright {
		text.Turned = 90
	}
	if span >= w+2*dimPad+4*dimHead {
		items = append(items, Arrow{Layer: "dimension", From: from, To: to, HeadFrom: true, HeadTo: true, Head: dimHead, Role: Ink2, Width: Hair})
		items = append(items, text)
		return items, textBox(text, st)
	}
	// Too short for its label: heads from outside, the label beside the line,
	// away from the shape.
	dir := unitTo(from, to)
	reach := st.Model(2.4 * dimHead)
	items = append(items,
		Arrow{Layer: "dimension", From: from.Sub(dir.Mul(reach)), To: from, HeadTo: true, Head: dimHead, Role: Ink2, Width: Hair},
		Arrow{Layer: "dimension", From: to.Add(dir.Mul(reach)), To: to, HeadTo: true, Head: dimHead, Role: Ink2, Width: Hair},
		line("dimension", from, to, Ink2, Hair, Solid))
	text.Plate = None
	text.Turned = 0
	gap := dimPast + 1.2
	switch {
	case d.upright && side > 0:
		text.Anchor, text.Off = MidLeft, geom.P(gap, 0)
	case d.upright:
		text.Anchor, text.Off = MidRight, geom.P(-gap, 0)
	case side > 0:
		text.Anchor, text.Off = BaseCentre, geom.P(0, gap)
	default:
		text.Anchor, text.Off = TopCentre, geom.P(0, -gap)
	}
	items = append(items, text)
	return items, textBox(text, st)
}

func unitTo(a, b geom.Pt) geom.Pt {
	d := b.Sub(a)
	if l := d.Len(); l > 0 {
		return d.Mul(1 / l)
	}
	return geom.P(1, 0)
}

// line is a straight open shape.
func line(layer string, a, b geom.Pt, r Role, width float64, l Line) Shape {
	return Shape{Layer: layer, Path: geom.Path{{Pt: a}, {Pt: b}}, Open: true, Stroke: r, Width: width, Line: l}
}

// text gives the height of text for the style: on paper a little larger, to be
// read at arm's length.
func (s Style) text(size float64) float64 {
	if s.Print {
		return size * 1.12
	}
	return size
}

// word is a label of the drawings.
func (s Style) word(key string, args ...unit.Arg) string {
	return s.Words.Label("draw."+key, args...)
}

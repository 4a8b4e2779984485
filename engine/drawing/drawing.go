// Package drawing makes device-free drawings of seats, sections, lays and cut
// sheets. It is the one source for the screen, for files and for the tests.
//
// Positions are model millimetres, x to the right, y upwards; a rasteriser
// alone flips. Line widths, dashes, heights of text, heads of arrows and
// offsets of labels are paper millimetres, which do not grow with the zoom:
// 1 paper mm is 96/25.4 pixels at scale 1. Every item carries a Role, never a
// colour; a Palette gives the role its colour. Colour never carries meaning
// alone: line style, hatch and label say the same.
package drawing

import (
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// PxPerPaper is the number of pixels to a paper millimetre at scale 1.
const PxPerPaper = 96 / 25.4

// Drawing is a list of items, drawn in order, later ones over earlier ones.
// Drawings are values; nobody changes one that was handed out.
type Drawing struct {
	// Bounds is the part of the model that has to be in sight, for fitting a
	// view. Items may reach past it.
	Bounds geom.Rect
	Items  []Item
}

// Item is a Shape, a Text, an Arrow or a Mark.
type Item interface{ isItem() }

// Shape is a path, filled, hatched, outlined or all three.
type Shape struct {
	// Layer says what the shape is, for files with layers and for tests:
	// "board", "foam", "cover", "ruler" ...
	Layer string
	Path  geom.Path
	Open  bool // the last vertex is an end; it is not joined to the first
	// Fill colours the inside; None leaves it clear. Through is how much of
	// what lies below shows through: 0 nothing, 1 all of it.
	Fill    Role
	Through float64
	Hatch   Hatch // in the colour of Stroke
	Stroke  Role  // None for no outline
	Width   float64
	Line    Line
}

// Text is one line of text.
type Text struct {
	Layer string
	S     string
	At    geom.Pt // model position of the anchor
	Off   geom.Pt // shift of the anchor on paper, x right, y up
	Size  float64 // em height, paper mm
	Weight
	Anchor Anchor
	// Turned is the reading direction in degrees, counter-clockwise from the
	// x axis.
	Turned float64
	Role   Role
	// Plate, unless None, is the role of a rounded plate behind the text,
	// reaching Pad paper mm past it; Rim outlines it.
	Plate Role
	Rim   Role
	Pad   float64
	// Spaced is extra space between letters, as a share of Size.
	Spaced float64
}

// Arrow is a straight line with none, one or two heads of a fixed size on
// paper.
type Arrow struct {
	Layer            string
	From, To         geom.Pt
	HeadFrom, HeadTo bool
	Head             float64 // length of a head, paper mm
	Filled           bool    // solid heads instead of open ones
	Role             Role
	Width            float64
	Line             Line
}

// MarkKind is the shape of a Mark.
type MarkKind uint8

// Kinds of marks.
const (
	Disc  MarkKind = iota // a filled circle with a rim
	Cross                 // two strokes, upright and level
	Tick                  // one stroke, centred on the point
	Edge                  // one stroke that starts at the point
)

// Mark is a small sign of a fixed size on paper.
type Mark struct {
	Layer  string
	Kind   MarkKind
	At     geom.Pt
	Off    geom.Pt // paper shift
	Size   float64 // across, paper mm
	Turned float64 // degrees counter-clockwise; 0 points along x
	Fill   Role    // Disc only
	Role   Role
	Width  float64
}

func (Shape) isItem() {}
func (Text) isItem()  {}
func (Arrow) isItem() {}
func (Mark) isItem()  {}

// Anchor says which point of a text stands at its position.
type Anchor uint8

// Anchors: across from left to right, up from the baseline. Middle is half the
// height of a capital, Top the height of a capital.
const (
	BaseLeft Anchor = iota
	BaseCentre
	BaseRight
	MidLeft
	MidCentre
	MidRight
	TopLeft
	TopCentre
	TopRight
)

// Share gives the shares of width and of capital height that the anchor stands
// at: 0, 0 for BaseLeft, 1, 1 for TopRight.
func (a Anchor) Share() (across, up float64) {
	return float64(a%3) / 2, float64(a/3) / 2
}

// Weight is the strength of a typeface.
type Weight uint8

// Weights.
const (
	Regular Weight = iota
	Bold           // semi-bold
)

// Metrics measures text. Sizes and answers are in paper millimetres.
type Metrics interface {
	// Width is the sum of the advance widths, unhinted.
	Width(text string, size float64, w Weight) float64
	// CapHeight is the height of a capital letter over the baseline.
	CapHeight(size float64, w Weight) float64
	// Ascent and Descent are what letters reach above and below the baseline,
	// both positive.
	Ascent(size float64, w Weight) float64
	Descent(size float64, w Weight) float64
}

// Words gives the words of a label, with its arguments filled in.
type Words interface {
	Label(key string, args ...unit.Arg) string
}

// Style is all that a builder needs beside its input.
type Style struct {
	// PaperPerModel is the scale: paper millimetres for a model millimetre.
	PaperPerModel float64
	Metrics       Metrics
	Words         Words
	Units         unit.Units
	// Print asks for a drawing that is read on paper at arm's length and
	// copied in black and white: no grounds, darker lines, larger figures.
	Print bool
}

// Model turns paper millimetres into model millimetres.
func (s Style) Model(paper float64) float64 { return paper / s.PaperPerModel }

// Paper turns model millimetres into paper millimetres.
func (s Style) Paper(model float64) float64 { return model * s.PaperPerModel }

// Add appends items.
func (d *Drawing) Add(items ...Item) { d.Items = append(d.Items, items...) }

// Append appends the items of other drawings; the bounds grow to hold theirs.
func (d *Drawing) Append(others ...Drawing) {
	for _, o := range others {
		if len(o.Items) == 0 && o.Bounds == (geom.Rect{}) {
			continue
		}
		if len(d.Items) == 0 && d.Bounds == (geom.Rect{}) {
			d.Bounds = o.Bounds
		} else {
			d.Bounds = d.Bounds.Union(o.Bounds)
		}
		d.Items = append(d.Items, o.Items...)
	}
}

// Placed gives the drawing with its model scaled and then moved; everything
// measured on paper stays as it is. It sets a drawing into a page.
func (d Drawing) Placed(scale float64, by geom.Pt) Drawing {
	at := func(p geom.Pt) geom.Pt { return p.Mul(scale).Add(by) }
	out := Drawing{
		Bounds: geom.Rect{Min: at(d.Bounds.Min), Max: at(d.Bounds.Max)},
		Items:  make([]Item, len(d.Items)),
	}
	for i, it := range d.Items {
		switch it := it.(type) {
		case Shape:
			path := make(geom.Path, len(it.Path))
			for j, v := range it.Path {
				path[j] = geom.Vertex{Pt: at(v.Pt), Bulge: v.Bulge}
			}
			it.Path = path
			out.Items[i] = it
		case Text:
			it.At = at(it.At)
			out.Items[i] = it
		case Arrow:
			it.From, it.To = at(it.From), at(it.To)
			out.Items[i] = it
		case Mark:
			it.At = at(it.At)
			out.Items[i] = it
		case Ground:
			it.Box = geom.Rect{Min: at(it.Box.Min), Max: at(it.Box.Max)}
			it.Motif, it.Scale = at(it.Motif), it.Scale*scale
			out.Items[i] = it
		}
	}
	return out
}

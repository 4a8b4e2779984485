// Package outlinefile reads the outlines of boards out of drawing files: SVG
// and DXF. It knows no job and opens no file; it turns bytes into closed paths
// of lines and arcs, in millimetres, y up, counter-clockwise.
//
// SVG is read after Scalable Vector Graphics (SVG) 1.1 (Second Edition) and the
// path grammar of SVG 2 (W3C); DXF after the DXF Reference of its makers, in
// its ASCII form. Curves become arcs that are nowhere further than CurveTol
// from them; circles, arcs and bulges stay what they are.
//
// Readers of other authors were tried first. srwiley/oksvg keeps every place
// in 1/64 of the file's unit (0.4 mm in a drawing in inches), turns arcs into
// cubics, and fails on a width with a unit; tdewolff/canvas brings ten modules
// for a path parser; no DXF reader in Go is served. XML itself is read by
// encoding/xml.
package outlinefile

import (
	"bytes"
	"compress/gzip"
	"io"
	"strings"
	"unicode/utf8"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Limits. A drawing of a seat is a few kilobytes; these keep a hostile file
// from taking the machine's time and memory.
const (
	MaxBytes    = 32 << 20 // of a file, unpacked
	maxDepth    = 200      // of elements in each other
	maxElements = 200_000  // of a file, blocks and re-used parts counted each time
	maxSegments = 200_000  // of all shapes together
	maxNumber   = 1e9      // largest coordinate in the file's own unit
	maxShapes   = 60       // closed shapes that are handed on, the largest
	// MaxPoints is the most points of one shape; one with more is thinned out
	// and refused if that does not help.
	MaxPoints = 1000
)

// CurveTol is how far arcs may stand off the curves they stand for; with
// geom.ChordTol it stays under a tenth of a millimetre, and a bowed edge becomes
// a handful of arcs that can still be worked on.
const CurveTol unit.Length = 0.04

// DefaultJoin is the largest gap between two ends that counts as a join: less
// than a pencil line's width.
const DefaultJoin unit.Length = 0.25

// Codes of faults. Those of a whole file come from Read; CodeOpen and
// CodePath, and the faults of geom, may also stand beside a shape.
const (
	CodeTooBig    = "import.too-big"
	CodeUnknown   = "import.not-svg-or-dxf"
	CodeBinaryDXF = "import.binary-dxf"
	CodeDWG       = "import.dwg"
	CodeCutShort  = "import.cut-short"
	CodeBroken    = "import.broken"
	CodeTooDeep   = "import.too-deep"
	CodeTooMany   = "import.too-many"
	CodeNumber    = "import.bad-number"
	CodeHuge      = "import.huge-number"
	CodeNoShape   = "import.no-shape"
	CodeOpen      = "import.open-shape"
	CodePath      = "import.bad-path"
	CodePoints    = "import.too-many-points"
)

// Unit is what one unit of a file measures.
type Unit uint8

// Units. AsFile leaves it to the file. A pixel is 1/96 in, as CSS has it; pixels
// and points are those of the picture, the others units of the drawing's own
// coordinates.
const (
	AsFile Unit = iota
	Millimetre
	Centimetre
	Metre
	Inch
	Foot
	Pixel
	Point
)

// Units lists the units that can be asked for, in the order to offer them.
func Units() []Unit { return []Unit{Millimetre, Centimetre, Inch, Point, Pixel, Metre, Foot} }

// MM is the length of one of the unit in millimetres.
func (u Unit) MM() float64 {
	return [...]float64{1, 1, 10, 1000, 25.4, 304.8, 25.4 / 96, 25.4 / 72}[u]
}

// Code names the unit in words: "millimetre" and so on.
func (u Unit) Code() string {
	return [...]string{"as-file", "millimetre", "centimetre", "metre", "inch", "foot", "pixel", "point"}[u]
}

// Options say how a file is read.
type Options struct {
	Unit Unit        // what one unit is; AsFile for what the file says
	Join unit.Length // largest gap that is closed; 0 for DefaultJoin
}

// Drawing is what a file holds.
type Drawing struct {
	Format string // "svg" or "dxf"
	// Said tells that the file names its unit; Unit is the one that was read
	// with, a guess when neither the file nor the options say.
	Said bool
	Unit Unit
	// Shapes are the closed shapes, the largest first, and after them what is
	// not closed or cannot be an outline, each with its fault.
	Shapes []Shape
	// Left counts what was left out, in the order it came up.
	Left []Left
}

// Shape is one closed shape: a path in millimetres, y up, counter-clockwise,
// in one frame with the others.
type Shape struct {
	Path geom.Path
	Name string // ID or layer in the file, may be empty
	// Fault says why it cannot be an outline as it is; nil when it can. With
	// CodeOpen the path is closed by a straight line across the gap.
	Fault *unit.Fault
	// Gap is the distance between the ends of an open shape.
	Gap unit.Length
}

// Left is what was left out of one kind: "text", "picture", "hatch",
// "dimension", "hidden", "tilted", "small", "more" (than are handed on),
// "other".
type Left struct {
	Kind  string
	Count int
}

// Usable tells whether the shape can be taken: it is valid, or only open.
func (s Shape) Usable() bool { return s.Fault == nil || s.Fault.Code == CodeOpen }

// Read reads a file's bytes. The fault says that the whole file cannot be
// used; a drawing without any shape is one.
func Read(data []byte, o Options) (Drawing, *unit.Fault) {
	if len(data) > MaxBytes {
		return Drawing{}, tooBig()
	}
	if bytes.HasPrefix(data, []byte{0x1f, 0x8b}) {
		z, err := gzip.NewReader(bytes.NewReader(data))
		if err != nil {
			return Drawing{}, &unit.Fault{Code: CodeUnknown}
		}
		data, err = io.ReadAll(io.LimitReader(z, MaxBytes+1))
		switch {
		case len(data) > MaxBytes:
			return Drawing{}, tooBig()
		case err != nil:
			return Drawing{}, &unit.Fault{Code: CodeCutShort, Args: []unit.Arg{unit.A("line", 1)}}
		}
	}
	if o.Join == 0 {
		o.Join = DefaultJoin
	}
	d, f := read(data, o)
	if o.Unit != AsFile || f != nil && f.Code != CodeNoShape && f.Code != CodeHuge || f == nil && (d.Said || d.likely()) {
		return d, f
	}
	// The file names no unit, or what it names makes no board: the first unit
	// that makes one is the better guess.
	if f != nil && namesUnit(data) {
		return d, f
	}
	for _, u := range [...]Unit{Millimetre, Inch, Centimetre, Metre, Pixel, Foot} {
		o.Unit = u
		if g, bad := read(data, o); bad == nil && g.likely() {
			return g, nil
		}
	}
	return d, f
}

// likely tells whether the largest shape has the size of a seat or a bench.
func (d Drawing) likely() bool {
	if len(d.Shapes) == 0 {
		return false
	}
	b := d.Shapes[0].Path.Bounds()
	return min(b.W(), b.H()) >= 150 && max(b.W(), b.H()) <= 2000
}

// namesUnit tells whether a drawing says its unit, for one without a shape.
func namesUnit(data []byte) bool {
	var c collector
	var d Drawing
	if text := decoded(data); bytes.HasPrefix(bytes.TrimLeft(text, " \t\r\n"), []byte("<")) {
		readSVG(text, Options{}, &c, &d)
	} else {
		readDXF(text, Options{}, &c, &d)
	}
	return d.Said
}

// read reads the unpacked bytes of a file.
func read(data []byte, o Options) (Drawing, *unit.Fault) {
	var c collector
	var d Drawing
	var f *unit.Fault
	text := decoded(data)
	switch head := bytes.TrimLeft(text[:min(len(text), 1<<16)], " \t\r\n"); {
	case len(head) == 0:
		f = &unit.Fault{Code: CodeUnknown}
	case head[0] == '<':
		d.Format = "svg"
		f = readSVG(text, o, &c, &d)
	case bytes.HasPrefix(head, []byte("AutoCAD Binary DXF")):
		f = &unit.Fault{Code: CodeBinaryDXF}
	case len(head) > 6 && bytes.HasPrefix(head, []byte("AC10")) && digits(string(head[4:6])):
		f = &unit.Fault{Code: CodeDWG}
	case looksDXF(head):
		d.Format = "dxf"
		f = readDXF(text, o, &c, &d)
	default:
		f = &unit.Fault{Code: CodeUnknown}
	}
	if f != nil {
		return Drawing{}, f
	}
	if f := c.finish(&d, o.Join.MM()); f != nil {
		return Drawing{}, f
	}
	return d, nil
}

func tooBig() *unit.Fault {
	return &unit.Fault{Code: CodeTooBig, Args: []unit.Arg{unit.A("limit", MaxBytes>>20)}}
}

func tooMany(limit int) *unit.Fault {
	return &unit.Fault{Code: CodeTooMany, Args: []unit.Arg{unit.A("limit", limit)}}
}

func digits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

// decoded turns UTF-16 with its mark into UTF-8 and drops UTF-8's own mark.
func decoded(data []byte) []byte {
	order := 0
	switch {
	case bytes.HasPrefix(data, []byte{0xef, 0xbb, 0xbf}):
		return data[3:]
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}):
		order = 1
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}):
	default:
		return data
	}
	out := make([]byte, 0, len(data)/2)
	for i := 2; i+1 < len(data); i += 2 {
		// Pairs above U+FFFF stand in names only and become two question marks.
		r := rune(data[i+order])<<8 | rune(data[i+1-order])
		if r >= 0xd800 && r < 0xe000 {
			r = '?'
		}
		out = utf8.AppendRune(out, r)
	}
	return out
}

// named makes a name fit for a list: valid text of at most 60 characters.
func named(s string) string {
	s = strings.TrimSpace(strings.ToValidUTF8(s, "?"))
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, s)
	if r := []rune(s); len(r) > 60 {
		s = string(r[:60])
	}
	return s
}

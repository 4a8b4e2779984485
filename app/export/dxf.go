package export

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"slipseat/engine/drawing"
)

// DXF writes the closed and open shapes of a drawing as outlines for cutters:
// DXF release 12 (AC1009), ASCII, millimetres, one layer for each of the
// drawing's layers, arcs kept as bulges. Texts go along as single-line text of
// their capital height. Fills, hatches and arrows are left out.
func DXF(w io.Writer, d drawing.Drawing) error {
	x := &dxfWriter{w: bufio.NewWriter(w)}
	b := d.Bounds
	x.pair(999, "Slipseat, millimetres")
	x.pair(0, "SECTION")
	x.pair(2, "HEADER")
	x.pair(9, "$ACADVER")
	x.pair(1, "AC1009")
	x.pair(9, "$INSUNITS")
	x.pair(70, "4")
	x.pair(9, "$EXTMIN")
	x.point(10, b.Min.X, b.Min.Y)
	x.pair(9, "$EXTMAX")
	x.point(10, b.Max.X, b.Max.Y)
	x.pair(0, "ENDSEC")
	x.tables(d)
	x.pair(0, "SECTION")
	x.pair(2, "ENTITIES")
	for _, it := range d.Items {
		switch it := it.(type) {
		case drawing.Shape:
			x.polyline(it)
		case drawing.Text:
			x.text(it)
		}
	}
	x.pair(0, "ENDSEC")
	x.pair(0, "EOF")
	if x.err != nil {
		return x.err
	}
	return x.w.Flush()
}

type dxfWriter struct {
	w   *bufio.Writer
	err error
}

// pair writes a group code and its value, each on a line of its own.
func (x *dxfWriter) pair(code int, value string) {
	if x.err == nil {
		_, x.err = fmt.Fprintf(x.w, "%3d\r\n%s\r\n", code, value)
	}
}

func (x *dxfWriter) number(code int, v float64) {
	x.pair(code, strconv.FormatFloat(v, 'f', 6, 64))
}

// point writes a point's coordinates under code, code+10 and code+20.
func (x *dxfWriter) point(code int, px, py float64) {
	x.number(code, px)
	x.number(code+10, py)
	x.number(code+20, 0)
}

// tables declares the line types and layers, in the order they come up.
func (x *dxfWriter) tables(d drawing.Drawing) {
	var layers []string
	seen := map[string]bool{}
	for _, it := range d.Items {
		layer := ""
		switch it := it.(type) {
		case drawing.Shape:
			layer = it.Layer
		case drawing.Text:
			layer = it.Layer
		}
		if name := dxfLayer(layer); !seen[name] && name != "0" {
			seen[name] = true
			layers = append(layers, name)
		}
	}
	x.pair(0, "SECTION")
	x.pair(2, "TABLES")
	x.pair(0, "TABLE")
	x.pair(2, "LTYPE")
	x.pair(70, "1")
	x.pair(0, "LTYPE")
	x.pair(2, "CONTINUOUS")
	x.pair(70, "0")
	x.pair(3, "Solid line")
	x.pair(72, "65")
	x.pair(73, "0")
	x.number(40, 0)
	x.pair(0, "ENDTAB")
	x.pair(0, "TABLE")
	x.pair(2, "LAYER")
	x.pair(70, strconv.Itoa(len(layers)+1))
	for i, name := range append([]string{"0"}, layers...) {
		x.pair(0, "LAYER")
		x.pair(2, name)
		x.pair(70, "0")
		x.pair(62, strconv.Itoa(1+(6+i)%7)) // colour numbers 1 to 7, 7 first
		x.pair(6, "CONTINUOUS")
	}
	x.pair(0, "ENDTAB")
	x.pair(0, "ENDSEC")
}

// dxfLayer makes a layer name of release 12: capitals, digits, $, - and _, at
// most 31 characters.
func dxfLayer(s string) string {
	s = strings.ToUpper(s)
	s = strings.Map(func(r rune) rune {
		if r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '$' || r == '-' || r == '_' {
			return r
		}
		return '_'
	}, s)
	if s == "" {
		return "0"
	}
	return s[:min(len(s), 31)]
}

func (x *dxfWriter) polyline(s drawing.Shape) {
	if len(s.Path) < 2 || s.Stroke == drawing.None {
		return
	}
	layer := dxfLayer(s.Layer)
	x.pair(0, "POLYLINE")
	x.pair(8, layer)
	x.pair(66, "1")
	x.point(10, 0, 0)
	if s.Open {
		x.pair(70, "0")
	} else {
		x.pair(70, "1")
	}
	for i, v := range s.Path {
		x.pair(0, "VERTEX")
		x.pair(8, layer)
		x.point(10, v.X, v.Y)
		if v.Bulge != 0 && !(s.Open && i == len(s.Path)-1) {
			x.pair(42, strconv.FormatFloat(v.Bulge, 'f', 9, 64))
		}
	}
	x.pair(0, "SEQEND")
	x.pair(8, layer)
}

func (x *dxfWriter) text(t drawing.Text) {
	if t.S == "" {
		return
	}
	x.pair(0, "TEXT")
	x.pair(8, dxfLayer(t.Layer))
	x.point(10, t.At.X, t.At.Y)
	x.number(40, t.Size*0.7)
	x.pair(1, dxfText(t.S))
	if t.Turned != 0 {
		x.number(50, t.Turned)
	}
	across, up := t.Anchor.Share()
	if across != 0 || up != 0 {
		x.pair(72, strconv.Itoa(int(across*2)))
		x.pair(73, strconv.Itoa(int(up*2)+map[bool]int{true: 1}[up > 0]))
		x.point(11, t.At.X, t.At.Y)
	}
}

// dxfText writes text in the characters that every reader of release 12 knows.
func dxfText(s string) string {
	r := strings.NewReplacer("½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8",
		"×", "x", "–", "-", "−", "-", "°", "%%d", "\r", " ", "\n", " ")
	return strings.Map(func(c rune) rune {
		if c < 0x20 || c > 0x7e {
			return '?'
		}
		return c
	}, r.Replace(plainDigits(s)))
}

// plainDigits turns raised and lowered digits with a fraction slash into a
// plain fraction.
func plainDigits(s string) string {
	const raised, lowered = "⁰¹²³⁴⁵⁶⁷⁸⁹", "₀₁₂₃₄₅₆₇₈₉"
	var b strings.Builder
	in := false
	for _, c := range s {
		if i := indexRune(raised, c); i >= 0 {
			if !in && b.Len() > 0 {
				b.WriteByte(' ')
			}
			in = true
			b.WriteByte(byte('0' + i))
			continue
		}
		in = false
		switch i := indexRune(lowered, c); {
		case i >= 0:
			b.WriteByte(byte('0' + i))
		case c == '⁄':
			b.WriteByte('/')
		default:
			b.WriteRune(c)
		}
	}
	return b.String()
}

func indexRune(set string, c rune) int {
	for i, r := range []rune(set) {
		if r == c {
			return i
		}
	}
	return -1
}

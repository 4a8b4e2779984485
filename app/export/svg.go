package export

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"slipseat/app/raster"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
)

// SVG writes a page in millimetres (SVG 1.1). Letters are outlines, so that it
// looks the same without the typeface; the words stay in a title element.
func SVG(w io.Writer, page drawing.Drawing, title string, p *drawing.Palette) error {
	b := page.Bounds
	s := &svgWriter{w: bufio.NewWriter(w), palette: p, x: -b.Min.X, top: b.Max.Y}
	s.print("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
	s.print("<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\">\n",
		mm(b.W()), mm(b.H()), mm(b.W()), mm(b.H()))
	s.print("<title>%s</title>\n", escape(title))
	if c := p.Color(drawing.Paper); c.A > 0 {
		s.print("<rect width=\"%s\" height=\"%s\" fill=\"%s\"/>\n", mm(b.W()), mm(b.H()), s.color(drawing.Paper))
	}
	for _, it := range drawing.Simple(page, 1, raster.Metrics{}).Items {
		switch it := it.(type) {
		case drawing.Shape:
			s.shape(it)
		case drawing.Text:
			s.text(it)
		}
	}
	s.print("</svg>\n")
	if s.err != nil {
		return s.err
	}
	return s.w.Flush()
}

type svgWriter struct {
	w       *bufio.Writer
	palette *drawing.Palette
	x, top  float64
	err     error
}

func (s *svgWriter) print(format string, args ...any) {
	if s.err == nil {
		_, s.err = fmt.Fprintf(s.w, format, args...)
	}
}

// mm writes a length to a ten-thousandth of a millimetre.
func mm(v float64) string {
	t := strconv.FormatFloat(v, 'f', 4, 64)
	t = strings.TrimRight(strings.TrimRight(t, "0"), ".")
	if t == "-0" {
		return "0"
	}
	return t
}

func escape(s string) string {
	var b strings.Builder
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		return ""
	}
	return b.String()
}

func (s *svgWriter) color(r drawing.Role) string {
	c := s.palette.Color(r)
	return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
}

func (s *svgWriter) pt(p geom.Pt) string { return mm(p.X+s.x) + " " + mm(s.top-p.Y) }

func (s *svgWriter) shape(sh drawing.Shape) {
	if len(sh.Path) < 2 {
		return
	}
	var attr strings.Builder
	if sh.Fill != drawing.None && !sh.Open {
		fmt.Fprintf(&attr, " fill=\"%s\"", s.color(sh.Fill))
		if sh.Through > 0 {
			fmt.Fprintf(&attr, " fill-opacity=\"%s\"", mm(1-sh.Through))
		}
	} else {
		attr.WriteString(" fill=\"none\"")
	}
	if sh.Stroke != drawing.None && sh.Width > 0 {
		fmt.Fprintf(&attr, " stroke=\"%s\" stroke-width=\"%s\" stroke-linejoin=\"round\"", s.color(sh.Stroke), mm(sh.Width))
		if d := sh.Line.Dashes(); d != nil {
			parts := make([]string, len(d))
			for i, v := range d {
				parts[i] = mm(v)
			}
			fmt.Fprintf(&attr, " stroke-dasharray=\"%s\"", strings.Join(parts, " "))
		}
	}
	if sh.Layer != "" {
		fmt.Fprintf(&attr, " class=\"%s\"", escape(sh.Layer))
	}
	s.print("<path d=\"%s\"%s/>\n", s.path(sh.Path, sh.Open), attr.String())
}

// path writes a path with true arcs. y runs downwards in SVG, so that a
// counter-clockwise arc takes the sweep flag 0.
func (s *svgWriter) path(p geom.Path, open bool) string {
	var b strings.Builder
	b.WriteString("M" + s.pt(p[0].Pt))
	n := len(p)
	if open {
		n--
	}
	for i := range n {
		a, c := p[i], p[(i+1)%len(p)]
		seg := geom.Segment{A: a.Pt, B: c.Pt, Bulge: a.Bulge}
		if seg.Straight() {
			if i+1 < len(p) {
				b.WriteString("L" + s.pt(c.Pt))
			}
			continue
		}
		large, sweep := 0, 0
		if math.Abs(seg.Sweep()) > math.Pi {
			large = 1
		}
		if a.Bulge < 0 {
			sweep = 1
		}
		r := mm(seg.Radius())
		fmt.Fprintf(&b, "A%s %s 0 %d %d %s", r, r, large, sweep, s.pt(c.Pt))
	}
	if !open {
		b.WriteString("Z")
	}
	return b.String()
}

func (s *svgWriter) text(t drawing.Text) {
	if strings.TrimSpace(t.S) == "" {
		return
	}
	sin, cos := math.Sincos(t.Turned * math.Pi / 180)
	at := func(x, y float64) string {
		x, y = x*t.Size, y*t.Size
		return s.pt(t.At.Add(geom.P(x*cos-y*sin, x*sin+y*cos)))
	}
	var d strings.Builder
	raster.Outline(t.S, t.Weight, t.Spaced, func(o raster.OutlineStep) {
		switch o.Kind {
		case 'M', 'L':
			d.WriteByte(o.Kind)
			d.WriteString(at(o.X, o.Y))
		case 'Q':
			d.WriteString("Q" + at(o.CX, o.CY) + " " + at(o.X, o.Y))
		case 'Z':
			d.WriteByte('Z')
		}
	})
	s.print("<g fill=\"%s\"><title>%s</title><path d=\"%s\"/></g>\n", s.color(t.Role), escape(t.S), d.String())
}

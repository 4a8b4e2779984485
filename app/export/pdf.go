package export

import (
	"io"
	"math"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"slipseat/app/raster"
	"slipseat/assets"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
)

// Part is a run of pages of a PDF with its own entry among the bookmarks.
type Part struct {
	Title string // empty for no bookmark
	Pages []drawing.Drawing
	// Chapter, if not empty, is a bookmark above this part's own; Under sets
	// the part's own a level below.
	Chapter string
	Under   bool
}

// ptPerMM is the number of points to a millimetre; a point is 1/72 in.
const ptPerMM = 72 / 25.4

// pdfMade is the creation date of every PDF, fixed so that the same job gives
// the same bytes.
func pdfMade() time.Time { return time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC) }

// PDF writes pages as vectors with selectable text in the program's own
// typeface, at their true size. The same pages give the same bytes.
func PDF(w io.Writer, title string, parts []Part, p *drawing.Palette) error {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: 210, Ht: 297}})
	f.SetCreationDate(pdfMade())
	f.SetModificationDate(pdfMade())
	f.SetCatalogSort(true)
	f.SetProducer("Slipseat", true)
	f.SetTitle(title, true)
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	f.AddUTF8FontFromBytes("inter", "", assets.InterRegular)
	f.AddUTF8FontFromBytes("inter", "B", assets.InterSemiBold)
	f.SetDisplayMode("real", "default") // 100 %, so that a full-size page looks it
	for _, part := range parts {
		for i, page := range part.Pages {
			b := page.Bounds
			f.AddPageFormat("P", fpdf.SizeType{Wd: b.W(), Ht: b.H()})
			if i == 0 && part.Chapter != "" {
				f.Bookmark(part.Chapter, 0, 0)
			}
			if i == 0 && part.Title != "" {
				level := 0
				if part.Under {
					level = 1
				}
				f.Bookmark(part.Title, level, 0)
			}
			d := pdfPage{f: f, palette: p, x: -b.Min.X, top: b.Max.Y}
			for _, it := range drawing.Simple(page, 1, raster.Metrics{}).Items {
				switch it := it.(type) {
				case drawing.Shape:
					d.shape(it)
				case drawing.Text:
					d.text(it)
				}
			}
			if f.Err() {
				return f.Error()
			}
		}
	}
	return f.Output(w)
}

type pdfPage struct {
	f       *fpdf.Fpdf
	palette *drawing.Palette
	x, top  float64
}

func (d *pdfPage) at(p geom.Pt) (x, y float64) { return p.X + d.x, d.top - p.Y }

func (d *pdfPage) shape(s drawing.Shape) {
	if len(s.Path) < 2 {
		return
	}
	f := d.f
	style := ""
	if s.Fill != drawing.None && !s.Open {
		c := d.palette.Color(s.Fill)
		f.SetFillColor(int(c.R), int(c.G), int(c.B))
		style = "F"
	}
	if s.Stroke != drawing.None && s.Width > 0 {
		c := d.palette.Color(s.Stroke)
		f.SetDrawColor(int(c.R), int(c.G), int(c.B))
		f.SetLineWidth(s.Width)
		f.SetLineJoinStyle("round")
		f.SetLineCapStyle("butt")
		f.SetDashPattern(s.Line.Dashes(), 0)
		style += "D"
	}
	if style == "" {
		return
	}
	if style == "FD" && s.Through > 0 { // the outline stays opaque
		fill, line := s, s
		fill.Stroke, line.Fill = drawing.None, drawing.None
		d.shape(fill)
		d.shape(line)
		return
	}
	if s.Through > 0 && style == "F" {
		f.SetAlpha(1-s.Through, "Normal")
		defer f.SetAlpha(1, "Normal")
	}
	f.MoveTo(d.at(s.Path[0].Pt))
	n := len(s.Path)
	if s.Open {
		n--
	}
	for i := range n {
		a, b := s.Path[i], s.Path[(i+1)%len(s.Path)]
		if a.Bulge == 0 {
			x, y := d.at(b.Pt)
			f.LineTo(x, y)
			continue
		}
		for _, c := range beziers(a.Pt, b.Pt, a.Bulge) {
			x0, y0 := d.at(c[0])
			x1, y1 := d.at(c[1])
			x, y := d.at(c[2])
			f.CurveBezierCubicTo(x0, y0, x1, y1, x, y)
		}
	}
	if !s.Open {
		f.ClosePath()
	}
	f.DrawPath(style)
}

// beziers approximates an arc by cubic curves of at most a quarter turn each;
// the control points lie 4/3·tan(angle/4) radii along the tangents, which errs
// by less than 0.03 % of the radius (Goldapp, "Approximation of circular arcs
// by cubic polynomials", 1991).
func beziers(a, b geom.Pt, bulge float64) [][3]geom.Pt {
	s := geom.Segment{A: a, B: b, Bulge: bulge}
	if s.Straight() {
		return [][3]geom.Pt{{a, b, b}}
	}
	sweep, r := s.Sweep(), s.Radius()
	n := max(int(math.Ceil(math.Abs(sweep)/(math.Pi/2)-1e-9)), 1)
	k := 4.0 / 3 * math.Tan(math.Abs(sweep)/float64(n)/4) * r
	var out [][3]geom.Pt
	for i := range n {
		t0, t1 := float64(i)/float64(n), float64(i+1)/float64(n)
		p0, p1 := s.At(t0), s.At(t1)
		out = append(out, [3]geom.Pt{p0.Add(s.Tangent(t0).Mul(k)), p1.Sub(s.Tangent(t1).Mul(k)), p1})
	}
	return out
}

func (d *pdfPage) text(t drawing.Text) {
	if t.S == "" {
		return
	}
	f := d.f
	style := ""
	if t.Weight == drawing.Bold {
		style = "B"
	}
	f.SetFont("inter", style, t.Size*ptPerMM)
	c := d.palette.Color(t.Role)
	f.SetTextColor(int(c.R), int(c.G), int(c.B))
	x, y := d.at(t.At)
	if t.Turned != 0 {
		f.TransformBegin()
		f.TransformRotate(t.Turned, x, y)
		defer f.TransformEnd()
	}
	if t.Spaced == 0 {
		f.Text(x, y, t.S)
		return
	}
	for _, r := range t.S {
		f.Text(x, y, string(r))
		x += raster.Metrics{}.Width(string(r), t.Size, t.Weight) + t.Spaced*t.Size
	}
}

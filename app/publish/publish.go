// Package publish makes every file that leaves the program from a plan: cut
// sheets, chalk list, outlines and order. The window and the command write the
// same files from the same code.
package publish

import (
	"io"
	"strings"

	"slipseat/app/export"
	"slipseat/app/picture"
	"slipseat/app/raster"
	"slipseat/app/words"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/order"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

// Options say what is written and how.
type Options struct {
	Plan    *plan.Plan
	Words   *words.Words
	Units   unit.Units
	JobName string
	Stamp   string           // at the foot of every sheet
	Paper   drawing.PageSize // zero for the usual one of the units
	DPI     float64          // of pictures; 0 for 150
	Only    []string         // beginnings of file names; empty for all
	Kinds   []export.Kind    // of pages; empty for PNG, PDF and SVG
}

// UsualPaper is Letter where sizes are in inches and A4 elsewhere.
func UsualPaper(u unit.Units) drawing.PageSize {
	if u.Size.Metric() {
		return drawing.A4()
	}
	return drawing.Letter()
}

// Files lists the files in a fixed order; what the job has nothing for is
// absent.
func Files(o Options) []export.File {
	if o.Paper == (drawing.PageSize{}) {
		o.Paper = UsualPaper(o.Units)
	}
	if o.DPI == 0 {
		o.DPI = 150
	}
	if len(o.Kinds) == 0 {
		o.Kinds = []export.Kind{export.KindPNG, export.KindPDF, export.KindSVG}
	}
	m := picture.Maker{Plan: o.Plan, Words: o.Words, Units: o.Units}
	var all []export.File
	var chalk [][]string
	for i := range o.Plan.Goods {
		g := &o.Plan.Goods[i]
		if g.Lay == nil {
			continue
		}
		in := m.CutSheet(g, o.JobName, o.Stamp)
		base := m.FileBase(g)
		pages := Pages(in, o)
		all = append(all, export.PageFiles(base, in.Title+", "+in.Job, pages, o.Kinds, o.DPI, drawing.Print())...)
		chalk = append(chalk, chalkRows(m, base, in)...)
	}
	if len(chalk) > 0 {
		all = append(all, csvFile("chalk-list.csv", o, []string{"sheet", "line", "at", "from", "to", "pieces"}, chalk))
	}
	for _, s := range o.Plan.Seats {
		if !s.OK() {
			continue
		}
		d := outlineDrawing(s)
		base := "outline-" + s.Letter
		all = append(all, export.File{Name: base + ".dxf", Write: func(w io.Writer) error { return export.DXF(w, d) }},
			export.File{Name: base + ".svg", Write: func(w io.Writer) error { return export.SVG(w, d, s.Name, drawing.Print()) }})
	}
	if rows := orderRows(o); len(rows) > 0 {
		all = append(all, csvFile("order.csv", o, []string{"item", "why", "need", "buy", "unit", "each", "price"}, rows))
	}
	if len(o.Only) == 0 {
		return all
	}
	var some []export.File
	for _, f := range all {
		for _, p := range o.Only {
			if strings.HasPrefix(f.Name, p) {
				some = append(some, f)
				break
			}
		}
	}
	return some
}

// Pages sets a cut sheet on the paper that was chosen.
func Pages(in drawing.CutSheetIn, o Options) []drawing.Drawing {
	paper := o.Paper
	if paper == (drawing.PageSize{}) {
		paper = UsualPaper(o.Units)
	}
	return drawing.CutSheet(in, paper.Landscape(), drawing.Style{PaperPerModel: 1, Metrics: raster.Metrics{}, Words: o.Words, Units: o.Units, Print: true})
}

func csvFile(name string, o Options, head []string, rows [][]string) export.File {
	titles := make([]string, len(head))
	for i, h := range head {
		titles[i] = o.Words.Label("csv." + h)
	}
	return export.File{Name: name, Write: func(w io.Writer) error { return export.CSV(w, titles, rows) }}
}

func chalkRows(m picture.Maker, sheet string, in drawing.CutSheetIn) [][]string {
	var rows [][]string
	for _, l := range in.Lays {
		for _, c := range drawing.ChalkLines(l) {
			dir := m.Words.Label("csv.along")
			if c.Across {
				dir = m.Words.Label("csv.across")
			}
			rows = append(rows, []string{sheet, dir, m.Units.Label(c.At), m.Units.Label(c.From), m.Units.Label(c.To), strings.Join(c.Pieces, " ")})
		}
	}
	return rows
}

// outlineDrawing is the board with its blanks, one layer each, in millimetres.
func outlineDrawing(s plan.SeatPlan) drawing.Drawing {
	var d drawing.Drawing
	add := func(layer string, p geom.Path, role drawing.Role) {
		if len(p) > 1 {
			d.Append(drawing.Drawing{Bounds: p.Bounds(), Items: []drawing.Item{drawing.Shape{Layer: layer, Path: p, Stroke: role, Width: 0.25}}})
		}
	}
	add("board", s.Outline.Board, drawing.BoardLine)
	for _, b := range s.Result.Blanks {
		role := drawing.CoverLine
		switch b.Part.Code() {
		case "foam":
			role = drawing.FoamLine
		case "dust-cloth":
			role = drawing.DustLine
		case "wadding":
			role = drawing.WaddingLine
		case "band", "zip-band", "tie":
			continue // strips lie in a frame of their own
		}
		add(b.Part.Code(), b.Path, role)
	}
	return d
}

// Quantity writes how much of an item is needed or bought, in its unit.
func Quantity(w *words.Words, u unit.Units, it order.Item, v float64) string {
	switch {
	case it.Pending:
		return w.Label("order.pending")
	case it.Buy.Kind == unit.KindLength:
		return u.ClothLabel(unit.Length(v))
	}
	return w.Label("order.count-"+it.Unit.Code(), unit.A("count", int(v+0.5)))
}

func orderRows(o Options) [][]string {
	m := picture.Maker{Plan: o.Plan, Words: o.Words, Units: o.Units}
	var rows [][]string
	for _, it := range append(append([]order.Item{}, o.Plan.Order.Items...), o.Plan.Order.Labour...) {
		rows = append(rows, []string{ItemName(o.Words, o.Units, it), m.WhyLine(it.Buy), Quantity(o.Words, o.Units, it, it.Needed()),
			Quantity(o.Words, o.Units, it, it.Buy.Value()), o.Words.Label("order.unit-" + it.Unit.Code()), words.Money(it.Each), words.Money(it.Cost())})
	}
	return rows
}

// ItemName is an item as it is listed: the goods' own name with its width, or
// the usual word.
func ItemName(w *words.Words, u unit.Units, it order.Item) string {
	name := it.Name
	if name == "" {
		name = w.Label("item." + it.Code)
	} else if it.Code == order.CodeLabour {
		name = w.Label("item.labour-for", unit.A("name", it.Name))
	}
	if it.Width > 0 {
		name += ", " + u.Label(it.Width)
	}
	return name
}

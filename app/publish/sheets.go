package publish

import (
	"io"

	"slipseat/app/export"
	"slipseat/engine/buildup"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/plan"
)

// sheets are the cut sheets of cloths and foams that have a lay.
func (k *maker) sheets() []Paper {
	var out []Paper
	for i := range k.Plan.Goods {
		g := &k.Plan.Goods[i]
		if g.Lay == nil {
			continue
		}
		p := k.one(k.m.FileBase(g), k.sheetTitle(g), func() []drawing.Drawing { return k.cutSheet(g) })
		p.pictures = true
		out = append(out, p)
	}
	return out
}

// sheetTitle is the sheet's title with the name of the goods, as it stands
// among bookmarks.
func (k *maker) sheetTitle(g *plan.GoodsPlan) string {
	name := ""
	switch {
	case g.Roll != nil:
		name = g.Roll.Name
	case g.Sheet != nil:
		name = g.Sheet.Name
	}
	return k.m.Title(g) + ": " + name
}

func (k *maker) cutSheet(g *plan.GoodsPlan) []drawing.Drawing {
	in := k.m.CutSheet(g, k.Job.Name, k.Stamp)
	return drawing.CutSheet(in, k.Paper.Landscape(), k.st)
}

// CutSheet sets the cut sheet of goods on the paper that was chosen.
func CutSheet(o Options, g *plan.GoodsPlan) []drawing.Drawing { return newMaker(o).cutSheet(g) }

// outlines are the board with its blanks, one layer each, in millimetres.
func (k *maker) outlines() []export.File {
	var all []export.File
	for _, s := range k.Plan.Seats {
		if !s.OK() {
			continue
		}
		d := outlineDrawing(s)
		base := "outline-" + s.Letter
		all = append(all, export.File{Name: base + ".dxf", Write: func(w io.Writer) error { return export.DXF(w, d) }},
			export.File{Name: base + ".svg", Write: func(w io.Writer) error { return export.SVG(w, d, s.Name, drawing.Print()) }})
	}
	return all
}

func outlineDrawing(s plan.SeatPlan) drawing.Drawing {
	var d drawing.Drawing
	add := func(layer string, p geom.Path, role drawing.Role) {
		if len(p) > 1 {
			d.Append(drawing.Drawing{Bounds: p.Bounds(), Items: []drawing.Item{drawing.Shape{Layer: layer, Path: p, Stroke: role, Width: 0.25}}})
		}
	}
	add("board", s.Outline.Board, drawing.BoardLine)
	for _, h := range s.Build.Holes {
		add("holes", geom.Circle(h, buildup.HoleRadius), drawing.BoardLine)
	}
	for _, b := range s.Result.Blanks {
		role := drawing.CoverLine
		switch b.Part {
		case buildup.PartFoam:
			role = drawing.FoamLine
		case buildup.PartDust:
			role = drawing.DustLine
		case buildup.PartWadding:
			role = drawing.WaddingLine
		case buildup.PartBand, buildup.PartZipBand, buildup.PartTie, buildup.PartWelt:
			continue // strips lie in a frame of their own
		}
		add(b.Part.Code(), b.Path, role)
	}
	return d
}

package publish

import (
	"strconv"

	"slipseat/app/export"
	"slipseat/engine/buildup"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// templates are the full-size shapes of board, foam, cover, wadding and dust
// cloth: tiled on A4 and on Letter, and whole on a roll of paper where its
// width was given.
func (k *maker) templates() []Paper {
	shapes, ruled := k.shapes()
	if len(shapes) == 0 {
		return nil
	}
	tiled := func(size drawing.PageSize) Paper {
		return k.paper("templates-"+size.Name, k.say("paper.templates", unit.A("paper", k.Words.Term("paper."+size.Name))), func() []export.Part {
			return k.full("templates-"+size.Name, shapes, ruled, func(in drawing.TemplateIn) ([]drawing.Drawing, *unit.Fault) { return drawing.Templates(in, size, k.st) })
		})
	}
	out := []Paper{tiled(drawing.A4()), tiled(drawing.Letter())}
	if k.Plotter > 0 {
		out = append(out, k.paper("templates-plotter", k.say("paper.templates-plotter", unit.A("width", k.Plotter)), func() []export.Part {
			return k.full("templates-plotter", shapes, ruled, func(in drawing.TemplateIn) ([]drawing.Drawing, *unit.Fault) {
				return drawing.TemplateSheet(in, k.Plotter, k.st)
			})
		}))
	}
	return out
}

// otherTemplates is the size that the printer in use does not take.
func (k *maker) otherTemplates() string {
	switch k.Paper.Name {
	case "letter", "tabloid":
		return "a4"
	case "a4", "a3", "a2":
		return "letter"
	}
	if UsualPaper(k.Units).Name == "a4" {
		return "letter"
	}
	return "a4"
}

// full makes the pages of every shape, after a list of them with their pages.
// A shape that cannot be printed so says why on a page of its own, so that it
// is not missed; rectangles, which are ruled, stand in the list only.
func (k *maker) full(base string, shapes, ruled []drawing.TemplateIn, make func(drawing.TemplateIn) ([]drawing.Drawing, *unit.Fault)) []export.Part {
	var parts []export.Part
	for _, in := range shapes {
		in.MeasuredX, in.MeasuredY = k.SquareX, k.SquareY
		pages, fault := make(in)
		if fault != nil {
			pages = drawing.Document(drawing.DocumentIn{Title: in.Name, Sub: in.Job, Stamp: k.Stamp,
				Blocks: []drawing.Block{drawing.Para{Text: k.Words.Fault(*fault, k.Units)}}}, k.reading(), k.st)
		}
		parts = append(parts, export.Part{Title: in.Name, Pages: pages})
	}
	// The list's own length moves the pages it names.
	first := k.contents(base, shapes, ruled, parts, 1)
	if n := len(first); n > 1 {
		first = k.contents(base, shapes, ruled, parts, n)
	}
	return append([]export.Part{{Title: k.say("template.title"), Pages: first}}, parts...)
}

// contents lists the templates with the pages they stand on, after own pages
// of this list itself.
func (k *maker) contents(base string, shapes, ruled []drawing.TemplateIn, parts []export.Part, own int) []drawing.Drawing {
	list := drawing.List{Fill: 1, Columns: []drawing.Column{{Head: k.say("template.col.name"), Bold: true}, {Head: k.say("template.col.size"), Right: true},
		{Head: k.say("template.col.pieces"), Right: true}, {Head: k.say("template.col.pages", unit.A("file", base+".pdf")), Right: true}}}
	row := func(in drawing.TemplateIn, where string) {
		list.Rows = append(list.Rows, []string{in.Name, k.Units.PairLabel(in.Width, in.Depth), strconv.Itoa(in.Count), where})
	}
	at := own + 1
	for i, in := range shapes {
		row(in, k.say("template.pages", unit.A("from", at), unit.A("to", at+len(parts[i].Pages)-1)))
		at += len(parts[i].Pages)
	}
	for _, in := range ruled {
		row(in, k.say("template.ruled"))
	}
	blocks := []drawing.Block{drawing.Boxed{Title: k.say("draw.print-100"), Text: k.say("template.how")}, list}
	if len(ruled) > 0 {
		blocks = append(blocks, drawing.Para{Text: k.say("template.ruled-how")})
	}
	return drawing.Document(drawing.DocumentIn{Title: k.say("template.title"), Right: k.say("template.right", unit.A("count", len(shapes))), Sub: k.who(), Stamp: k.Stamp, Blocks: blocks}, k.reading(), k.st)
}

// shapes are the templates of all seats, and the rectangles among the blanks,
// which need none: two rulers and a square do better than twenty sheets of
// paper.
func (k *maker) shapes() (out, ruled []drawing.TemplateIn) {
	for _, s := range k.Plan.Seats {
		if !s.OK() {
			continue
		}
		front, back := s.Outline.CentreLine()
		line := func(p geom.Path) [2]geom.Pt {
			b := p.Bounds()
			return [2]geom.Pt{geom.P(front.X, min(b.Min.Y, front.Y)), geom.P(back.X, max(b.Max.Y, back.Y))}
		}
		w, d := s.Outline.Size()
		name := func(part string) string {
			return k.say("template.name", unit.A("letter", s.Letter), unit.A("seat", s.Name), unit.A("part", part))
		}
		sub := func(n int) string {
			return k.say("template.job", unit.A("job", k.Job.Name), unit.A("count", s.Count*n))
		}
		if s.Build.Kind != buildup.BoxedPad {
			board := drawing.TemplateIn{Name: name(k.Words.Term("board")), Job: sub(1), Path: s.Outline.Board, Width: w, Depth: d, Count: s.Count,
				Face: k.say("template.face-board"), Centre: line(s.Outline.Board)}
			for _, h := range s.Build.Holes {
				board.Holes = append(board.Holes, geom.Circle(h, buildup.HoleRadius))
			}
			out = append(out, board)
		}
		layers := 0
		for _, b := range s.Result.Blanks {
			if b.Part == buildup.PartFoam {
				layers++
			}
		}
		for _, b := range s.Result.Blanks {
			part := k.Words.Term(b.Part.Code())
			switch b.Part {
			case buildup.PartBand, buildup.PartZipBand, buildup.PartTie, buildup.PartWelt, buildup.PartBottom:
				continue // strips are ruled, and the bottom panel is the top one's twin
			case buildup.PartFoam:
				if layers > 1 {
					part += " " + strconv.Itoa(b.Layer+1)
				}
			}
			in := drawing.TemplateIn{Name: name(part), Job: sub(b.Count), Path: b.Path, Face: k.say("template.face-" + face(b.Part)), Centre: line(b.Path)}
			in.Width, in.Depth = b.Size()
			in.Count = s.Count * b.Count
			if b.Square {
				ruled = append(ruled, in)
				continue
			}
			copied(&in, b)
			out = append(out, in)
		}
	}
	return out, ruled
}

// copied takes over the lines that are marked on a blank.
func copied(in *drawing.TemplateIn, b buildup.Blank) {
	for _, l := range b.Lines {
		switch l.Kind {
		case buildup.LineBoard:
			in.Inner = append(in.Inner, l.Path)
		case buildup.LineHole:
			in.Holes = append(in.Holes, l.Path)
		case buildup.LineRelief:
			in.Cuts = append(in.Cuts, l.Path)
		case buildup.LineCentre, buildup.LineNotch:
			in.Marks = append(in.Marks, l.Path)
		}
	}
}

// face names the words on which face of the goods the template lies.
func face(p buildup.Part) string {
	switch p {
	case buildup.PartFoam, buildup.PartWadding:
		return "foam"
	case buildup.PartDust:
		return "dust-cloth"
	}
	return "cloth"
}

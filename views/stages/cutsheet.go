package stages

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"fyne.io/fyne/v2"

	"slipseat/app/job"
	"slipseat/app/picture"
	"slipseat/app/raster"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/plan"
	"slipseat/views/board"
	"slipseat/views/kit"
)

// cutSheet is the last stage: the pages that are printed, as they will look.
type cutSheet struct {
	desk  *Desk
	sheet *drawn
	form  *kit.Form
	shown string // ID of the goods whose sheet is shown, "" for the first
	paper int    // index into papers
	fresh string // what was shown last; the view is fitted again when it changes
}

// papers are the sizes offered.
func papers() []drawing.PageSize {
	return []drawing.PageSize{drawing.A4(), drawing.A3(), drawing.Letter(), drawing.Tabloid(), drawing.Long()}
}

// NewCutSheet makes the stage.
func NewCutSheet(d *Desk) Stage {
	s := &cutSheet{desk: d, form: kit.NewForm(d.Menu), paper: -1}
	s.sheet = newDrawn(d, "cut-sheet")
	s.sheet.board.SetMargins(board.Margins{Top: 26, Right: 26, Bottom: 66, Left: 26})
	return s
}

func (s *cutSheet) Middle() fyne.CanvasObject { return s.sheet.all }
func (s *cutSheet) Frames() []float64         { return s.sheet.board.Frames() }
func (s *cutSheet) OwnSheet() bool            { return true }
func (s *cutSheet) Form() *kit.Form           { return s.form }

// goods is the cloth or foam whose sheet is shown.
func (s *cutSheet) goods(p *plan.Plan) *plan.GoodsPlan {
	if g := p.Find(s.shown); g != nil {
		return g
	}
	for i := range p.Goods {
		if p.Goods[i].Lay != nil {
			return &p.Goods[i]
		}
	}
	return nil
}

// Paper is the size of paper chosen, the usual one of the job's units at first.
func (s *cutSheet) size() drawing.PageSize {
	if s.paper < 0 {
		if s.desk.Units().Size.Metric() {
			return papers()[0].Landscape()
		}
		return papers()[2].Landscape()
	}
	return papers()[s.paper].Landscape()
}

// Refresh sets the pages.
func (s *cutSheet) Refresh() {
	p := s.desk.Plan()
	g := s.goods(p)
	if g == nil || g.Lay == nil {
		s.sheet.board.SetScene(board.Scene{Bounds: geom.Rect{Max: geom.P(297, 210)}})
		s.form.Set(s.desk.withCautions(s.groups(p, g), "cut-sheet", "", ""))
		return
	}
	pages := Pages(s.desk.pictures(), g, s.desk.Shown().Name, s.desk.Stamp(), s.size())
	stack := stackPages(pages)
	s.sheet.board.SetScene(board.Scene{Bounds: stack.bounds, Paint: stack.paint, Fit: stack.fit})
	if now := g.ID + s.size().Name; now != s.fresh {
		s.fresh = now
		s.sheet.board.Fit()
	}
	s.form.Set(s.desk.withCautions(s.groups(p, g), "cut-sheet", "", ""))
}

// Pages sets the cut sheet of goods on pages.
func Pages(m picture.Maker, g *plan.GoodsPlan, jobName, stamp string, size drawing.PageSize) []drawing.Drawing {
	st := drawing.Style{PaperPerModel: 1, Metrics: raster.Metrics{}, Words: m.Words, Units: m.Units, Print: true}
	return drawing.CutSheet(m.CutSheet(g, jobName, stamp), size, st)
}

// pageStack is pages under one another.
type pageStack struct {
	pages  []drawing.Drawing
	at     []geom.Pt
	bounds geom.Rect
}

// pageGap is the room between two pages, millimetres.
const pageGap = 12

func stackPages(pages []drawing.Drawing) *pageStack {
	s := &pageStack{pages: pages}
	y := 0.0
	for i, p := range pages {
		y -= p.Bounds.H()
		at := geom.P(-p.Bounds.Min.X, y-p.Bounds.Min.Y)
		s.at = append(s.at, at)
		box := geom.Rect{Min: p.Bounds.Min.Add(at), Max: p.Bounds.Max.Add(at)}
		if i == 0 {
			s.bounds = box
		} else {
			s.bounds = s.bounds.Union(box)
		}
		y -= pageGap
	}
	return s
}

// fit shows the first page as large as it goes; the others follow below.
func (s *pageStack) fit(w, h float64) board.Viewport {
	b := s.pages[0].Bounds
	box := geom.Rect{Min: b.Min.Add(s.at[0]), Max: b.Max.Add(s.at[0])}
	return board.Fit(box, w, h, board.Margins{})
}

// paint paints the pages on white paper with a shadow, whatever the window's
// variant: paper is white.
func (s *pageStack) paint(dst *image.RGBA, f board.Frame) {
	white := image.NewUniform(color.White)
	for i, p := range s.pages {
		x, y := f.X+(p.Bounds.Min.X+s.at[i].X)*f.Scale, f.Y-(p.Bounds.Max.Y+s.at[i].Y)*f.Scale
		r := image.Rect(int(math.Round(x)), int(math.Round(y)), int(math.Round(x+p.Bounds.W()*f.Scale)), int(math.Round(y+p.Bounds.H()*f.Scale)))
		edge := max(1, int(f.Paper/8))
		for k := range 3 * edge {
			shade := image.NewUniform(color.NRGBA{0, 0, 0, uint8(14 - 4*(k/edge))})
			draw.Draw(dst, r.Inset(-k-1).Add(image.Pt(0, edge)), shade, image.Point{}, draw.Over)
		}
		draw.Draw(dst, r, white, image.Point{}, draw.Src)
		part, ok := dst.SubImage(r).(*image.RGBA)
		if !ok || part.Rect.Empty() {
			continue
		}
		raster.Render(part, p, raster.Transform{Scale: f.Scale, X: f.X + s.at[i].X*f.Scale, Y: f.Y - s.at[i].Y*f.Scale, Paper: f.Scale}, drawing.Print())
	}
}

func (s *cutSheet) groups(p *plan.Plan, g *plan.GoodsPlan) []kit.Group {
	var names []string
	var ids []string
	chosen := -1
	j := s.desk.Shown()
	for i := range p.Goods {
		o := &p.Goods[i]
		if o.Lay == nil {
			continue
		}
		name := ""
		if c, ok := j.Cloth(job.ID(o.ID)); ok {
			name = c.Name
		} else if f, ok := j.Foam(job.ID(o.ID)); ok {
			name = f.Name
		}
		if g != nil && o.ID == g.ID {
			chosen = len(ids)
		}
		ids, names = append(ids, o.ID), append(names, name)
	}
	var sizes []string
	paper := s.paper
	for i, ps := range papers() {
		sizes = append(sizes, s.desk.Words.Term("paper."+ps.Name))
		if s.paper < 0 && ps.Name == s.size().Name {
			paper = i
		}
	}
	say := s.desk.say
	out := []kit.Group{{Head: say("cut-sheet.head"), Entries: []kit.Entry{
		{Kind: kit.AChoice, Name: "choice:sheet-goods", Label: say("cut-sheet.goods"), Words: names, Chosen: chosen, Wide: true,
			Choose: func(i int) { s.shown = ids[i]; s.Refresh() }},
		{Kind: kit.AChoice, Name: "choice:paper", Label: say("cut-sheet.paper"), Words: sizes, Chosen: paper,
			Choose: func(i int) { s.paper = i; s.Refresh() }},
		s.desk.maker().measure(j.ID, "table_length"),
		{Kind: kit.AnAction, Name: "button:export-sheet", Label: say("cut-sheet.export"), Off: g == nil, Tap: func() { s.desk.Act("export") }},
	}}}
	if g != nil {
		in := s.desk.pictures().CutSheet(g, j.Name, "")
		if in.Draft != "" {
			out[0].Entries = append(out[0].Entries, kit.Entry{Kind: kit.ACaution, Name: "cut-sheet.draft", Hint: in.Draft})
		}
		if words, fine := s.desk.status(g.ID, g); fine {
			out[0].Entries = append(out[0].Entries, good("cut-sheet.proof", words))
		}
	} else {
		out[0].Entries = append(out[0].Entries, note("cut-sheet.none", say("cut-sheet.none")))
	}
	for _, o := range p.Goods {
		for _, f := range o.Faults {
			out = append(out, kit.Group{Entries: []kit.Entry{{Kind: kit.ACaution, Name: "fault:" + o.ID, Hint: s.desk.Words.Fault(f, s.desk.Units())}}})
			break
		}
	}
	return out
}

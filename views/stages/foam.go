package stages

import (
	"fyne.io/fyne/v2"

	"slipseat/app/job"
	"slipseat/engine/plan"
	"slipseat/views/board"
	"slipseat/views/kit"
)

// foam is the fourth stage: the foam blanks on their sheets.
type foam struct {
	desk  *Desk
	sheet *drawn
	form  *kit.Form
	pill  *kit.Pill
	all   *fyne.Container
}

// NewFoam makes the stage.
func NewFoam(d *Desk) Stage {
	s := &foam{desk: d, form: kit.NewForm(d.Menu)}
	s.pill = kit.NewPill(" ", true)
	s.sheet = newDrawn(d, "foam")
	s.sheet.board.SetMargins(board.Margins{Top: 108, Right: 40, Bottom: 66, Left: 64})
	s.all = &fyne.Container{Layout: pilled{}, Objects: []fyne.CanvasObject{s.sheet.all, s.pill}}
	return s
}

func (s *foam) Middle() fyne.CanvasObject { return s.all }
func (s *foam) Frames() []float64         { return s.sheet.board.Frames() }
func (s *foam) OwnSheet() bool            { return true }
func (s *foam) Form() *kit.Form           { return s.form }

func (s *foam) foam() (job.Foam, bool) { return s.desk.Shown().Foam(s.desk.Goods(true)) }

// Refresh shows the chosen foam.
func (s *foam) Refresh() {
	f, ok := s.foam()
	if !ok {
		return
	}
	id := string(f.ID)
	g := s.desk.Plan().Find(id)
	words, fine := s.desk.status(id, g)
	s.pill.Set(words, fine)
	s.sheet.showLays(s.desk.lays(id, g))
	s.form.Set(s.desk.withCautions(s.groups(f, g), "foam", "", id))
	kit.Relayout(s.all)
}

func (s *foam) groups(f job.Foam, g *plan.GoodsPlan) []kit.Group {
	m := s.desk.maker()
	id := f.ID
	at := func(path string) kit.Entry { return m.measure(id, path) }
	sheet := kit.Group{Head: s.desk.say("foam.head.sheets"), Entries: []kit.Entry{
		m.text(id, "name"), at("thickness"), at("sheet_width"), at("sheet_length"), at("saw_cut"), at("trim"), m.plain(id, "price"),
	}}
	quality := kit.Group{Head: s.desk.say("foam.head.quality"), Entries: []kit.Entry{
		m.plain(id, "firmness"), m.count(id, "firmness_at"), m.plain(id, "density"),
	}}
	out := []kit.Group{sheet, quality}
	if g != nil {
		out = withProblems(m, out, g.Faults)
	}
	return out
}

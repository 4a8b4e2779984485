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
	desk *Desk
	lay  *hands
	form *kit.Form
	look *kit.Button
}

// NewFoam makes the stage.
func NewFoam(d *Desk) Stage {
	s := &foam{desk: d, form: kit.NewForm(d.Menu)}
	s.look = kit.NewButton("button:foam-look", "", d.say("roll.look-on"), s.goOn).Tip(d.say("foam.look-on.tip"))
	s.lay = newHands(d, "foam", true, s.Refresh, s.look)
	s.lay.board.SetMargins(board.Margins{Top: 108, Right: 40, Bottom: 66, Left: 64})
	return s
}

func (s *foam) Middle() fyne.CanvasObject { return s.lay.all }
func (s *foam) Frames() []float64         { return s.lay.board.Frames() }
func (s *foam) OwnSheet() bool            { return true }
func (s *foam) Form() *kit.Form           { return s.form }

func (s *foam) foam() (job.Foam, bool) { return s.desk.Shown().Foam(s.desk.Goods(true)) }

// goOn starts or ends the search for fewer sheets.
func (s *foam) goOn() {
	if s.desk.Searching(string(s.desk.Goods(true))) {
		s.desk.StopSearch()
	} else {
		s.desk.GoOn()
	}
}

// Refresh shows the chosen foam.
func (s *foam) Refresh() {
	f, ok := s.foam()
	if !ok {
		return
	}
	id := string(f.ID)
	g := s.desk.Plan().Find(id)
	s.look.SetWords(s.desk.say("roll.look-on"))
	if s.desk.Searching(id) {
		s.look.SetWords(s.desk.say("roll.stop"))
	}
	setVisible(s.look, g != nil && g.Lay != nil && !g.Lay.Proved)
	s.lay.show(id)
	s.form.Set(s.desk.withCautions(s.groups(f, g), "foam", "", id))
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
	out := s.lay.withHand(m, []kit.Group{sheet, quality})
	if g != nil {
		out = withProblems(m, out, g.Faults)
	}
	return out
}

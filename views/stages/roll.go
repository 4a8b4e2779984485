package stages

import (
	"strconv"

	"fyne.io/fyne/v2"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
	"slipseat/views/board"
	"slipseat/views/kit"
)

// roll is the third stage: the pieces on a cloth.
type roll struct {
	desk *Desk
	lay  *hands
	form *kit.Form
	free *kit.Button
	rows *kit.Button
	look *kit.Button
}

// NewRoll makes the stage.
func NewRoll(d *Desk) Stage {
	s := &roll{desk: d, form: kit.NewForm(d.Menu)}
	s.free = kit.NewButton("button:roll-free", "", d.say("roll.free"), func() { s.setRows(false) }).Tip(d.say("roll.free.tip"))
	s.rows = kit.NewButton("button:roll-rows", "", d.say("roll.rows"), func() { s.setRows(true) }).Tip(d.say("roll.rows.tip"))
	s.look = kit.NewButton("button:roll-look", "", d.say("roll.look-on"), s.goOn).Tip(d.say("roll.look-on.tip"))
	s.lay = newHands(d, "roll", false, s.Refresh, s.free, s.rows, s.look)
	s.lay.board.SetMargins(board.Margins{Top: 112, Right: 52, Bottom: 112, Left: 64})
	return s
}

func (s *roll) Middle() fyne.CanvasObject { return s.lay.all }
func (s *roll) Frames() []float64         { return s.lay.board.Frames() }
func (s *roll) OwnSheet() bool            { return true }
func (s *roll) Form() *kit.Form           { return s.form }

func (s *roll) cloth() (job.Cloth, bool) { return s.desk.Shown().Cloth(s.desk.Goods(false)) }

func (s *roll) setRows(on bool) {
	if c, ok := s.cloth(); ok {
		s.desk.Do(edit.Set{Object: c.ID, Field: edit.ClothRowsOnly, Text: strconv.FormatBool(on)})
	}
}

// goOn starts or ends the search for a shorter lay.
func (s *roll) goOn() {
	if s.desk.Searching(string(s.desk.Goods(false))) {
		s.desk.StopSearch()
	} else {
		s.desk.GoOn()
	}
}

// Refresh shows the chosen cloth.
func (s *roll) Refresh() {
	c, ok := s.cloth()
	if !ok {
		return
	}
	id := string(c.ID)
	g := s.desk.Plan().Find(id)
	s.free.SetChosen(!c.RowsOnly)
	s.rows.SetChosen(c.RowsOnly)
	s.look.SetWords(s.desk.say("roll.look-on"))
	if s.desk.Searching(id) {
		s.look.SetWords(s.desk.say("roll.stop"))
	}
	setVisible(s.look, g != nil && g.Lay != nil && !g.Lay.Proved)
	s.lay.show(id)
	s.form.Set(s.desk.withCautions(s.groups(c, g), "roll", "", id))
}

func (s *roll) groups(c job.Cloth, g *plan.GoodsPlan) []kit.Group {
	m := s.desk.maker()
	id := c.ID
	at := func(path string) kit.Entry { return m.measure(id, path) }
	general := kit.Group{Head: s.desk.say("roll.head.cloth"), Entries: []kit.Entry{
		m.text(id, "name"), at("width"), at("selvedge_near"), at("selvedge_far"),
		m.choice(id, "direction", "direction"),
		m.choice(id, "lay_direction", "lie"),
		at("gap"), at("square_up"),
	}}
	pattern := kit.Group{Head: s.desk.say("roll.head.pattern"), Entries: []kit.Entry{at("repeat_along"), at("repeat_across")}}
	if c.RepeatAlong.Or(0) > 0 || c.RepeatAcross.Or(0) > 0 {
		es := &pattern.Entries
		if c.RepeatAlong.Or(0) > 0 && c.RepeatAcross.Or(0) > 0 {
			*es = append(*es, m.choice(id, "drop", "drop"))
			if c.Drop != job.StraightDrop && c.Drop != "" {
				*es = append(*es, m.choice(id, "across_is", "across-is"))
			}
		}
		if c.RepeatAlong.Or(0) > 0 {
			*es = append(*es, m.choice(id, "rule_along", "phase-rule"), at("first_along"))
		}
		if c.RepeatAcross.Or(0) > 0 {
			*es = append(*es, m.choice(id, "rule_across", "phase-rule"), at("first_across"))
		}
		*es = append(*es, m.yesNo(id, "no_up_or_down"))
	}
	buy := kit.Group{Head: s.desk.say("roll.head.buy")}
	if g != nil && g.Lay != nil && len(g.Faults) == 0 {
		e := m.reading("roll.buy", m.u.ClothLabel(g.Buy.Length()))
		e.Strong, e.Hint = true, s.desk.pictures().WhyLine(g.Buy)
		buy.Entries = append(buy.Entries, e)
	}
	buy.Entries = append(buy.Entries, m.measureIn(id, "step", m.u.Cloth), m.plain(id, "spare"),
		m.plain(id, "price"), m.measureIn(id, "price_unit", m.u.Cloth), m.yesNo(id, "customers_own"))
	out := []kit.Group{general, pattern, s.looks(m, c), buy}
	if e, ok := s.cutAs(m, c); ok {
		out[0].Entries = append(out[0].Entries, e)
	}
	out = s.lay.withHand(m, out)
	if g != nil {
		out = withProblems(m, out, g.Faults)
	}
	return out
}

// cutAs is the choice of squared or shaped blanks for all seats whose cover is
// cut from a cloth.
func (s *roll) cutAs(m maker, c job.Cloth) (kit.Entry, bool) {
	kinds := []job.CutAs{job.CutSquared, job.CutShaped}
	e := kit.Entry{Kind: kit.AChoice, Name: "field:cut-as-all", Label: m.say("field.build_up.cut_as"), Wide: true, Chosen: -1}
	for _, k := range kinds {
		e.Words = append(e.Words, m.w.Term("cut-as."+string(k)))
	}
	var seats []job.ID
	same := true
	for _, st := range m.j.Seats {
		if st.Cover != c.ID || st.Kind == job.BoxedPad {
			continue
		}
		seats = append(seats, st.ID)
		for i, k := range kinds {
			if now := st.Build.CutAs; now == k || now == "" && i == 0 {
				same = same && (e.Chosen < 0 || e.Chosen == i)
				e.Chosen = i
			}
		}
	}
	if !same {
		e.Chosen = -1
	}
	e.Choose = func(i int) {
		all := edit.Many{Name: edit.Label{Code: "cut-as", Args: []unit.Arg{arg("name", c.Name)}}}
		for _, id := range seats {
			all.Commands = append(all.Commands, edit.Set{Object: id, Field: edit.BuildCutAs, Text: string(kinds[i])})
		}
		s.lay.do(all)
	}
	return e, len(seats) > 0
}

// pilled lays a pill over the top right corner of the sheet, on the first line
// if it fits beside the tools, else below them.
type pilled struct{}

func (pilled) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Move(fyne.NewPos(0, 0))
	o[0].Resize(s)
	m := o[1].MinSize()
	y := float32(drawnEdge)
	if tools, ok := o[0].(*fyne.Container); ok && len(tools.Objects) > 1 {
		var used float32
		for _, t := range tools.Objects[1].(*fyne.Container).Objects {
			if t.Visible() {
				used += t.MinSize().Width + kit.Gap6
			}
		}
		if used+m.Width+2*drawnEdge+kit.Gap12 > s.Width {
			y += kit.FieldHeight() + kit.Gap8
		}
	}
	o[1].Move(fyne.NewPos(s.Width-m.Width-drawnEdge, y))
	o[1].Resize(m)
}

func (pilled) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(120, 120) }

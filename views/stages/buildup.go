package stages

import (
	"strconv"

	"fyne.io/fyne/v2"

	"slipseat/app/job"
	"slipseat/engine/buildup"
	"slipseat/engine/drawing"
	"slipseat/engine/plan"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
	"slipseat/views/board"
	"slipseat/views/kit"
)

// build is the second stage: the layers on the board and how far the cover
// wraps.
type build struct {
	desk    *Desk
	sheet   *drawn
	form    *kit.Form
	all     *fyne.Container
	section *pictureCard
	key     *kit.Panel
	lastFor job.ID
}

// NewBuild makes the stage.
func NewBuild(d *Desk) Stage {
	s := &build{desk: d, form: kit.NewForm(d.Menu)}
	s.sheet = newDrawn(d, "build-up")
	s.section = newPictureCard(d.say("build.section"))
	s.key = kit.NewPanel(kit.Raised, kit.Line, 9, kit.Inset(kit.NewColumn(kit.Gap10,
		kit.NewText(d.say("build.key"), kit.Small, kit.Ink2),
		s.keyLine("build.key.cover", drawing.CoverLine, drawing.LongDash),
		s.keyLine("build.key.foam", drawing.FoamLine, drawing.DashDot),
		s.keyLine("build.key.board", drawing.BoardLine, drawing.Solid),
		s.keyLine("build.key.dust", drawing.DustLine, drawing.Dash),
	), 14))
	s.all = &fyne.Container{Layout: beside{s.sheet.board}, Objects: []fyne.CanvasObject{s.sheet.all, s.section.panel, s.key}}
	return s
}

func (s *build) keyLine(key string, role drawing.Role, line drawing.Line) fyne.CanvasObject {
	return kit.NewRow(kit.Gap14, newLineSample(role, line), kit.NewText(s.desk.say(key), kit.Body, kit.Ink))
}

func (s *build) Middle() fyne.CanvasObject { return s.all }
func (s *build) Frames() []float64         { return s.sheet.board.Frames() }
func (s *build) OwnSheet() bool            { return true }
func (s *build) Form() *kit.Form           { return s.form }

// Refresh shows the chosen seat.
func (s *build) Refresh() {
	st, p, i, ok := s.desk.seat()
	if !ok {
		return
	}
	u := s.desk.Units()
	if p.OK() {
		d := drawing.NewSeat(s.desk.pictures().Seat(i, false, true))
		s.sheet.board.SetScene(board.Scene{Bounds: d.Geometry().Bounds, Paint: paint(s.desk.Words, u, d.Draw), Fit: fit(s.desk.Words, u, d.Draw), Grid: gridSteps(u)})
		s.lastFor = st.ID
		in := s.desk.pictures().Section(i)
		s.section.set(fitted(s.desk.Words, u, 16, func(st drawing.Style) drawing.Drawing { return drawing.Section(in, st) }))
	} else if s.lastFor != st.ID {
		s.sheet.board.SetScene(board.Scene{Grid: gridSteps(u)})
		s.section.set(nil)
	}
	s.sheet.viewed()
	s.form.Set(s.desk.withCautions(s.groups(st, p), "build-up", string(st.ID), ""))
}

func (s *build) groups(st job.Seat, p *plan.SeatPlan) []kit.Group {
	m := s.desk.maker()
	id := st.ID
	b := st.Build
	at := func(path string) kit.Entry { return m.measure(id, "build_up."+path) }

	layers := kit.Group{Head: s.desk.say("build.head.layers"), Entries: []kit.Entry{at("board"), at("foam_thickness")}}
	add := func(g *kit.Group, es ...kit.Entry) { g.Entries = append(g.Entries, es...) }
	foams, foamNames := s.foams()
	if len(foams) > 1 {
		add(&layers, m.goods(id, "foam", foams, foamNames))
	}
	add(&layers, at("oversize"), at("overhang"), m.plain(id, "build_up.compression"),
		m.choice(id, "build_up.foam_edge", "foam-edge"))
	if b.FoamEdge != job.SquareEdge && b.FoamEdge != "" {
		add(&layers, at("edge_size"))
	}
	add(&layers, at("dome"), at("wadding_thickness"))
	if b.Wadding.Or(0) > 0 {
		add(&layers, m.yesNo(id, "build_up.wadding_covers_board_edge"))
	}

	cover := kit.Group{Head: s.desk.say("build.head.cover"), Entries: []kit.Entry{
		s.cloth(m, id, "cover", job.UseCover, false),
		at("turn_under"), at("pull"),
		m.switched(id, "build_up.cut_as", "cut-as"),
		at("fixed_wrap"),
	}}
	if p.OK() {
		cover.Entries = append(cover.Entries, s.wraps(m, p)...)
	}
	out := []kit.Group{layers, cover}
	if st.Kind == job.DropIn {
		g := kit.Group{Head: s.desk.say("build.head.frame"), Entries: []kit.Entry{
			at("frame_width"), at("frame_depth"), at("cover_thickness"), m.yesNo(id, "build_up.corners_trimmed"),
		}}
		if p.OK() {
			g.Entries = append(g.Entries, s.gaps(m, p)...)
		}
		out = append(out, g)
	}
	under := kit.Group{Head: s.desk.say("build.head.under"), Entries: []kit.Entry{
		s.cloth(m, id, "dust_cloth", job.UseDustCloth, true), at("dust_inset"), at("dust_hem"),
		at("staple_pitch"), at("dust_pitch"), at("staple_leg"),
	}}
	if p.OK() && p.Result.Staples.Value() > 0 {
		under.Entries = append(under.Entries, m.reading("build.staples", strconv.Itoa(int(p.Result.Staples.Value()))))
	}
	more := kit.Group{Head: s.desk.say("build.head.more"), Entries: []kit.Entry{
		s.cloth(m, id, "lining", job.UseLining, true), s.cloth(m, id, "fire_barrier", job.UseFireBarrier, true),
		s.cloth(m, id, "wadding", job.UseWadding, true),
	}}
	return withProblems(m, append(out, under, more), p.Faults)
}

// wraps are the wraps needed, with the terms that make them up.
func (s *build) wraps(m maker, p *plan.SeatPlan) []kit.Entry {
	ws := p.Result.Wraps
	if len(ws) == 0 {
		return nil
	}
	same := true
	for _, w := range ws {
		same = same && unit.Text(w.Computed.Length(), m.u.Size) == unit.Text(ws[0].Computed.Length(), m.u.Size)
	}
	if same {
		e := m.reading("build.wrap", unit.Text(ws[0].Computed.Length(), m.u.Size))
		e.Strong, e.Hint = true, m.w.WhySentence(ws[0].Computed, m.u)
		return []kit.Entry{e}
	}
	var out []kit.Entry
	for i, w := range ws {
		e := m.reading("build.wrap-"+w.Role.String(), unit.Text(w.Computed.Length(), m.u.Size))
		e.Strong = true
		if i == 0 || w.Role == seat.Front {
			e.Hint = m.w.WhySentence(w.Computed, m.u)
		}
		out = append(out, e)
	}
	return out
}

// gaps say whether a drop-in seat fits its frame.
func (s *build) gaps(m maker, p *plan.SeatPlan) []kit.Entry {
	var out []kit.Entry
	for i, g := range p.Result.Gaps {
		name := "build.gap." + strconv.Itoa(i)
		where := [...]string{buildup.Across: "across", buildup.Along: "along", buildup.AtPost: "post"}[g.At]
		args := []unit.Arg{unit.A("gap", g.Have.Length()), unit.A("need", g.Need.Length()), unit.A("plane", g.Plane), unit.A("pack", g.Pack)}
		switch {
		case g.Binds():
			out = append(out, kit.Entry{Kind: kit.ACaution, Name: name, Label: m.say("build.gap.binds." + where), Hint: m.say("build.gap.binds", args...)})
		case g.Pack > 0:
			out = append(out, kit.Entry{Kind: kit.ACaution, Name: name, Label: m.say("build.gap.loose." + where), Hint: m.say("build.gap.loose", args...)})
		default:
			out = append(out, kit.Entry{Kind: kit.AGood, Name: name, Label: m.say("build.gap.fits." + where), Hint: m.say("build.gap.fits", args...)})
		}
	}
	return out
}

// cloth is a choice among the job's cloths of a use, with "none" first where
// the seat can do without.
func (s *build) cloth(m maker, id job.ID, path string, use job.ClothUse, none bool) kit.Entry {
	var ids []job.ID
	var names []string
	if none {
		ids, names = append(ids, ""), append(names, m.say("build.none"))
	}
	for _, c := range m.j.Cloths {
		if c.Use == use {
			ids, names = append(ids, c.ID), append(names, c.Name)
		}
	}
	return m.goods(id, path, ids, names)
}

func (s *build) foams() (ids []job.ID, names []string) {
	for _, f := range s.desk.Shown().Foams {
		ids, names = append(ids, f.ID), append(names, f.Name)
	}
	return ids, names
}

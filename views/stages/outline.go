package stages

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/picture"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
	"slipseat/views/board"
	"slipseat/views/kit"
)

// outline is the first stage: the shape of the board.
type outline struct {
	desk     *Desk
	sheet    *drawn
	form     *kit.Form
	measured *kit.Button
	round    *kit.Button
	traced   *kit.Button
	draw     *kit.Button
	trace    *tracer
	wrong    string // why the last command on the shape was refused
	// last is the drawing of the last outline that could be worked out; it
	// stays in sight, while the form says what is wrong.
	last    *drawing.Seat
	lastFor job.ID
	// Of a traced shape: where its own frame lies, and its edges to be
	// labelled.
	shift geom.Pt
	edges []geom.Segment
	bows  []unit.Length
}

// NewOutline makes the stage.
func NewOutline(d *Desk) Stage {
	s := &outline{desk: d, form: kit.NewForm(d.Menu)}
	s.measured = kit.NewButton("button:outline-measured", "", d.say("outline.measured"), func() { s.from(job.Measured) }).Tip(d.say("outline.measured.tip"))
	s.round = kit.NewButton("button:outline-round", "", d.say("outline.round"), func() { s.from(job.Round) }).Tip(d.say("outline.round.tip"))
	s.traced = kit.NewButton("button:outline-traced", "", d.say("outline.traced"), func() {
		s.trace.stop()
		s.tell(s.desk.Do(edit.ToTrace{Seat: s.desk.Seat()}))
	}).Tip(d.say("outline.traced.tip"))
	s.draw = kit.NewButton("button:outline-draw", "", d.say("outline.draw"), func() { s.trace.begin() }).Tip(d.say("outline.draw.tip"))
	file := kit.NewButton("button:outline-file", "", d.say("outline.file"), func() { s.trace.stop(); d.Act("outline-file") }).Tip(d.say("outline.file.tip"))
	photo := kit.NewButton("button:outline-photo", "", d.say("outline.photo"), func() { s.trace.stop(); d.Act("outline-photo") }).Tip(d.say("outline.photo.tip"))
	s.trace = &tracer{s: s}
	s.sheet = newDrawn(d, "outline", s.measured, s.round, s.traced, s.draw, file, photo)
	s.sheet.board.SetMargins(board.Margins{Top: 58, Right: 30, Bottom: 58, Left: 30})
	b := s.sheet.board
	b.OnPreview, b.OnCommit, b.OnCancel = s.preview, s.commit, d.CancelPreview
	b.OnNudge = s.nudge
	b.OnType = func(id string, r rune) { s.form.FocusField(fieldOf(id), r) }
	b.OnPick = func(id string, add bool) {
		if s.isTraced() {
			s.trace.pick(id, add)
		}
	}
	b.OnHandleKey = s.trace.handleKey
	b.OnTrace, b.OnPoint, b.OnTraceKey = s.trace.follow, s.trace.point, s.trace.key
	return s
}

func (s *outline) Middle() fyne.CanvasObject { return s.sheet.all }
func (s *outline) Frames() []float64         { return s.sheet.board.Frames() }
func (s *outline) OwnSheet() bool            { return true }
func (s *outline) Form() *kit.Form           { return s.form }

// TakeBack takes the last point of a shape being clicked back: what undo means
// then.
func (s *outline) TakeBack() bool { return s.trace.back() }

func (s *outline) isTraced() bool {
	st, _, ok := s.desk.jobSeat()
	return ok && st.Outline.From == job.Traced
}

// tell shows why a command was refused, until the next one.
func (s *outline) tell(faults []unit.Fault) {
	s.wrong = s.desk.maker().first(faults)
	s.Refresh()
	s.wrong = ""
}

func (s *outline) from(f job.OutlineFrom) {
	s.trace.stop()
	s.desk.Do(edit.Set{Object: s.desk.Seat(), Field: "outline.from", Text: string(f)})
}

// fieldOf gives the form's field that a handle changes.
func fieldOf(handle string) string {
	field, _, _ := strings.Cut(handle, ":")
	return "field:outline." + field
}

func (s *outline) handles(p *plan.SeatPlan) []board.Handle {
	var out []board.Handle
	for _, h := range p.Outline.Handles() {
		way := board.Across
		if h.Dir.X == 0 {
			way = board.UpDown
		}
		out = append(out, board.Handle{ID: picture.HandleID(h), At: h.At, Way: way})
	}
	return out
}

// pull makes the command for a handle that was dragged to a point.
func (s *outline) pull(id string, to geom.Pt) (edit.Command, bool) {
	if s.isTraced() {
		return s.trace.drag(id, to)
	}
	st, _, i, ok := s.desk.seat()
	if !ok {
		return nil, false
	}
	field, l, ok := s.desk.pictures().Drag(i, id, to)
	return edit.Handle{Seat: st.ID, Field: "outline." + field, To: l}, ok
}

func (s *outline) preview(id string, to geom.Pt) {
	if c, ok := s.pull(id, to); ok {
		s.desk.Preview(c)
	}
}

func (s *outline) commit(id string, to geom.Pt) {
	c, ok := s.pull(id, to)
	if !ok || len(s.desk.Do(c)) > 0 {
		s.desk.CancelPreview()
	}
}

// nudge changes the measurement of the chosen handle by marking steps: an
// arrow key that points away from the board makes it larger.
func (s *outline) nudge(id string, dx, dy int, coarse bool) {
	if s.isTraced() {
		s.trace.nudge(id, dx, dy, coarse)
		return
	}
	st, p, _, ok := s.desk.seat()
	if !ok {
		return
	}
	for _, h := range p.Outline.Handles() {
		n := dx*int(h.Dir.X) + dy*int(h.Dir.Y)
		if picture.HandleID(h) != id || n == 0 {
			continue
		}
		if coarse {
			n *= coarseSteps
		}
		j := s.desk.Shown()
		path := "outline." + h.Field
		typed, _ := j.Get(st.ID, path)
		s.desk.Do(edit.Handle{Seat: st.ID, Field: path, To: j.Nudged(job.Measure(typed).Or(0), n)})
	}
}

// Refresh shows the chosen seat.
func (s *outline) Refresh() {
	st, p, i, ok := s.desk.seat()
	if !ok {
		return
	}
	if s.trace.on && s.trace.for_ != st.ID {
		s.trace.on, s.trace.pts = false, nil
	}
	s.measured.SetChosen(st.Outline.From == job.Measured && !s.trace.on)
	s.round.SetChosen(st.Outline.From == job.Round && !s.trace.on)
	s.traced.SetChosen(st.Outline.From == job.Traced && !s.trace.on)
	s.draw.SetChosen(s.trace.on)
	u := s.desk.Units()
	shape := st.Outline.Traced()
	s.trace.chosen(st.ID, len(shape.Points))
	if len(p.Outline.Board) > 1 {
		s.last, s.lastFor = drawing.NewSeat(s.desk.pictures().Seat(i, true, false)), st.ID
		scene := board.Scene{Handles: s.handles(p), Grid: gridSteps(u)}
		s.shift, s.edges, s.bows = geom.Pt{}, nil, nil
		if st.Outline.From == job.Traced {
			// In the trace's own frame, which does not move with its points.
			s.shift = p.Outline.Moved.Mul(-1)
			scene.Handles = s.trace.handles(shape)
			for i := range shape.Points {
				s.edges = append(s.edges, shape.Edge(i))
				s.bows = append(s.bows, shape.Points[i].Bow)
			}
		}
		if s.trace.on {
			scene.Handles = nil
		}
		s.show(scene, u)
	} else if s.lastFor != st.ID {
		s.last = nil
		s.sheet.board.SetScene(board.Scene{Grid: gridSteps(u)})
	} else if st.Outline.From == job.Traced && s.last != nil {
		// The points follow the hand even where they make no shape.
		scene := board.Scene{Handles: s.trace.handles(shape), Grid: gridSteps(u)}
		s.show(scene, u)
	}
	if s.trace.on {
		s.sheet.board.SetTracing(true, s.trace.mark)
	} else {
		s.sheet.board.SetTracing(false, nil)
	}
	s.sheet.viewed()
	s.form.Set(s.desk.withCautions(s.groups(st, p), "outline", string(st.ID), ""))
}

func (s *outline) show(scene board.Scene, u unit.Units) {
	d := s.last
	shift, edges, bows := s.shift, geom.PathOf(s.edges), s.bows
	clicking := s.trace.on
	build := func(st drawing.Style) drawing.Drawing {
		if clicking { // the shape before lies under the new one, without words
			return faded(d.Geometry()).Placed(1, shift)
		}
		out := d.Draw(st).Placed(1, shift)
		if len(edges) > 0 && len(edges) <= mostLabelled {
			labels := drawing.EdgeLengths(edges, bows, st)
			out.Append(labels)
		}
		return out
	}
	b := d.Geometry().Bounds
	scene.Bounds = geom.Rect{Min: b.Min.Add(shift), Max: b.Max.Add(shift)}
	scene.Paint, scene.Fit = paint(s.desk.Words, u, build), fit(s.desk.Words, u, build)
	s.sheet.board.SetScene(scene)
}

// faded is a drawing for the background.
func faded(d drawing.Drawing) drawing.Drawing {
	out := drawing.Drawing{Bounds: d.Bounds}
	for _, it := range d.Items {
		if s, ok := it.(drawing.Shape); ok {
			s.Fill, s.Stroke, s.Width = drawing.None, drawing.Rule, drawing.Thin
			out.Add(s)
		}
	}
	return out
}

// mostLabelled is how many edges a traced shape may have with a length beside
// each; on more they would cover it.
const mostLabelled = 24

// groups makes the form.
func (s *outline) groups(st job.Seat, p *plan.SeatPlan) []kit.Group {
	m := s.desk.maker()
	id := st.ID
	if s.trace.on {
		return s.withWrong(m, s.trace.tracingGroups(m))
	}
	general := kit.Group{Entries: []kit.Entry{
		m.text(id, "name"),
		m.count(id, "count"),
		m.choiceOf(id, "kind", "seat-kind", seatKinds(st.Kind)),
	}}
	var shape, corners kit.Group
	if st.Outline.From == job.Traced {
		shape = kit.Group{}
	} else if st.Outline.From == job.Round {
		shape = kit.Group{Head: s.desk.say("outline.head.round"), Entries: []kit.Entry{
			relabel(m, m.measure(id, "outline.front_width"), "field.round-width"),
			relabel(m, m.measure(id, "outline.depth"), "field.round-depth"),
		}}
	} else {
		shape = kit.Group{Head: s.desk.say("outline.head.measured"), Entries: []kit.Entry{
			m.measure(id, "outline.front_width"), m.measure(id, "outline.back_width"),
			m.measure(id, "outline.depth"), m.measure(id, "outline.front_bow"), m.measure(id, "outline.side_bow"),
			m.yesNo(id, "outline.over_rounded"),
		}}
		corners = kit.Group{Head: s.desk.say("outline.head.corners"), Entries: []kit.Entry{
			m.measure(id, "outline.front_radius"), m.measure(id, "outline.back_radius"),
			m.measure(id, "outline.notch_width"), m.measure(id, "outline.notch_depth"),
		}}
	}
	on := kit.Group{Head: s.desk.say("outline.head.measured-on"), Entries: []kit.Entry{
		m.choice(id, "outline.measured_on", "measured-on"),
	}}
	if st.Outline.MeasuredOn == job.OldCoverOn {
		on.Entries = append(on.Entries, m.measure(id, "outline.old_layers"))
	}
	out := []kit.Group{general, shape}
	if st.Outline.From == job.Traced {
		parts := s.trace.groups(m, st, p)
		out = append([]kit.Group{parts[0], general}, parts[1:]...)
	}
	if len(corners.Entries) > 0 {
		out = append(out, corners)
	}
	out = append(out, on)
	if p.OK() || len(p.Outline.Board) > 0 {
		out = append(out, s.check(m, p))
	}
	return s.withWrong(m, withProblems(m, out, p.Faults))
}

// withWrong puts why a command was refused on top.
func (s *outline) withWrong(_ maker, groups []kit.Group) []kit.Group {
	if s.wrong == "" {
		return groups
	}
	return append([]kit.Group{{Entries: []kit.Entry{{Kind: kit.ACaution, Name: "trace.refused", Hint: s.wrong}}}}, groups...)
}

// check is what the board is checked by.
func (s *outline) check(m maker, p *plan.SeatPlan) kit.Group {
	g := kit.Group{Head: s.desk.say("outline.head.check")}
	if one, other, ok := p.Outline.Diagonals(); ok {
		text := unit.Text(one, m.u.Size)
		if o := unit.Text(other, m.u.Size); o != text {
			text += " / " + o
		}
		g.Entries = append(g.Entries, m.reading("outline.diagonals", text))
	}
	g.Entries = append(g.Entries, good("outline.figures", m.say("outline.figures",
		unit.A("area", p.Outline.Area()), unit.A("edge", p.Outline.Edge()))))
	return g
}

// seatKinds are the kinds offered: a boxed pad only where the job has one.
func seatKinds(now job.SeatKind) []string {
	out := []string{string(job.PulledOver), string(job.DropIn), string(job.Stool)}
	if now == job.BoxedPad {
		out = append(out, string(job.BoxedPad))
	}
	return out
}

// relabel gives an entry other words.
func relabel(m maker, e kit.Entry, key string) kit.Entry {
	e.Label, e.Hint = m.say(key), m.optional(key+".hint")
	return e
}

// withProblems writes faults beside their fields; one without a field in the
// form becomes a box of its own at the top.
func withProblems(m maker, groups []kit.Group, faults []unit.Fault) []kit.Group {
	var rest []kit.Entry
	for i, f := range faults {
		placed, path := false, m.j.FieldOf(f)
		for gi := range groups {
			for ei := range groups[gi].Entries {
				e := &groups[gi].Entries[ei]
				if path != "" && e.Name == "field:"+path {
					e.Problem, placed = m.fault(f), true
				}
			}
		}
		if !placed {
			rest = append(rest, kit.Entry{Kind: kit.ACaution, Name: "fault:" + strconv.Itoa(i), Hint: m.fault(f)})
		}
	}
	if len(rest) > 0 {
		groups = append([]kit.Group{{Entries: rest}}, groups...)
	}
	return groups
}

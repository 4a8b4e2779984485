package stages

import (
	"image"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/raster"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/plan"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
	"slipseat/views/board"
	"slipseat/views/kit"
)

// tracer is the work on traced shapes of the Outline stage: clicking one, and
// changing one afterwards. Places are in the trace's own frame, which stays
// where it is while points move.
type tracer struct {
	s *outline
	// While a shape is clicked:
	on    bool
	for_  job.ID // the seat it is for
	pts   []seat.TracedPoint
	under bool // the underside is up
	at    seat.Snapped
	has   bool // the pointer is over the board
	// What is chosen of a traced shape: points, or edges by the point they
	// leave.
	points, edges []int
	seat          job.ID // whose they are
}

// catchReach is how near in window units a point is caught.
const catchReach = 9

func (t *tracer) desk() *Desk         { return t.s.desk }
func (t *tracer) board() *board.Board { return t.s.sheet.board }

// snapping is what points catch hold of now; skip are points that do not
// count.
func (t *tracer) snapping(pts []geom.Pt) seat.Snapping {
	b := t.board()
	return seat.Snapping{Points: pts, Axis: true, Grid: b.GridStep(), Reach: catchReach / b.View().Scale, Step: t.desk().Shown().Step.Length()}
}

// begin starts a new shape for the chosen seat.
func (t *tracer) begin() {
	t.on, t.pts, t.has, t.for_ = true, nil, false, t.desk().Seat()
	t.board().Choose("")
	t.s.Refresh()
	if c := fyne.CurrentApp().Driver().CanvasForObject(t.board()); c != nil {
		c.Focus(t.board())
	}
}

// stop leaves the shape that was being clicked.
func (t *tracer) stop() {
	if t.on {
		t.on, t.pts = false, nil
		t.board().SetTracing(false, nil)
		t.s.Refresh()
	}
}

// follow shows where the next point would go.
func (t *tracer) follow(at geom.Pt) {
	t.at, t.has = t.snapping(t.places()).Snap(at), true
	t.board().SetTracing(true, t.mark)
}

func (t *tracer) places() []geom.Pt {
	var out []geom.Pt
	for _, p := range t.pts {
		out = append(out, p.At)
	}
	return out
}

// point takes a click: the next point, or the first one again, which closes the
// shape.
func (t *tracer) point(at geom.Pt) {
	t.at, t.has = t.snapping(t.places()).Snap(at), true
	if t.at.To == seat.SnapPoint {
		if t.at.Index == 0 && len(t.pts) > 2 {
			t.close(false)
		}
		return // a point on another is none
	}
	t.pts = append(t.pts, seat.TracedPoint{At: t.at.At})
	t.s.Refresh()
}

// back takes the last point back; false when there is none.
func (t *tracer) back() bool {
	if !t.on || len(t.pts) == 0 {
		return false
	}
	t.pts = t.pts[:len(t.pts)-1]
	t.s.Refresh()
	return true
}

// close makes the points the seat's outline; with half they are mirrored
// first.
func (t *tracer) close(half bool) {
	shape := seat.Traced{Points: t.pts}
	if half {
		shape = seat.MirrorChain(t.pts)
	}
	face := job.FaceTop
	if t.under {
		face = job.FaceUnderside
	}
	if faults := t.desk().Do(edit.SetTrace{Seat: t.for_, Shape: shape, Face: face, From: edit.TracedDrawn}); len(faults) > 0 {
		t.s.tell(faults)
		return
	}
	t.on, t.pts, t.points, t.edges = false, nil, nil, nil
	t.board().SetTracing(false, nil)
	t.board().Fit()
	t.s.Refresh()
}

// key is a key pressed while a shape is clicked.
func (t *tracer) key(k fyne.KeyName, r rune) bool {
	switch {
	case k == fyne.KeyEscape:
		t.stop()
	case k == fyne.KeyBackspace || k == fyne.KeyDelete:
		t.back()
	case k == fyne.KeyReturn || k == fyne.KeyEnter:
		if len(t.pts) > 2 {
			t.close(false)
		}
	case r == 'm' || r == 'M':
		if len(t.pts) > 2 {
			t.close(true)
		}
	default:
		return false
	}
	return true
}

// mark paints the shape so far over the sheet.
func (t *tracer) mark(dst *image.RGBA, f board.Frame) {
	tr := transform(f)
	d := drawing.Tracing{To: t.at.At, HasTo: t.has, Guides: t.at.Guides, Caught: t.at.To == seat.SnapPoint}
	for _, p := range t.pts {
		d.Path = append(d.Path, geom.Vertex{Pt: p.At})
	}
	switch t.at.To {
	case seat.SnapPoint:
		d.Words = t.desk().say("trace.snap.point")
		if t.at.Index == 0 && len(t.pts) > 2 {
			d.Words = t.desk().say("trace.snap.close")
		}
	case seat.SnapGrid:
		d.Words = t.desk().say("trace.snap.grid")
	case seat.SnapAlign:
		d.Words = t.desk().say("trace.snap.align")
	}
	raster.Render(dst, d.Draw(style(t.desk().Words, t.desk().Units(), tr)), tr, palette())
}

// IDs of handles: "point:3" and "bend:3", counted from 1.
const (
	pointHandle = "point:"
	bendHandle  = "bend:"
)

// handleIndex reads a handle's ID.
func handleIndex(id string) (index int, bend, ok bool) {
	rest, bend := strings.CutPrefix(id, bendHandle)
	if !bend {
		if rest, ok = strings.CutPrefix(id, pointHandle); !ok {
			return 0, false, false
		}
	}
	n, err := strconv.Atoi(rest)
	return n - 1, bend, err == nil
}

// mostHandles is how many points may have handles for their edges too; more
// would hide the shape.
const mostHandles = 60

// handles are the points and the middles of the edges.
func (t *tracer) handles(shape seat.Traced) []board.Handle {
	var out []board.Handle
	for i, p := range shape.Points {
		out = append(out, board.Handle{ID: pointHandle + strconv.Itoa(i+1), At: p.At, Held: slices.Contains(t.points, i), Small: len(shape.Points) > mostHandles})
	}
	if len(shape.Points) <= mostHandles {
		for i := range shape.Points {
			out = append(out, board.Handle{ID: bendHandle + strconv.Itoa(i+1), At: shape.Edge(i).At(0.5), Small: true, Held: slices.Contains(t.edges, i)})
		}
	}
	return out
}

// pick chooses a point or an edge; add keeps the ones chosen before.
func (t *tracer) pick(id string, add bool) {
	i, bend, ok := handleIndex(id)
	list, other := &t.points, &t.edges
	if bend {
		list, other = other, list
	}
	switch {
	case !ok && add:
		return
	case !ok:
		t.points, t.edges = nil, nil
	case add && slices.Contains(*list, i):
		*list = slices.DeleteFunc(*list, func(k int) bool { return k == i })
	case add:
		*list, *other = append(slices.Clone(*list), i), nil
	case !slices.Contains(*list, i):
		*list, *other = []int{i}, nil
	}
	t.seat = t.desk().Seat()
	t.s.Refresh()
}

// chosen drops what is no longer there: the shape may have fewer points after
// an undo.
func (t *tracer) chosen(id job.ID, n int) {
	if t.seat != id {
		t.points, t.edges = nil, nil
	}
	gone := func(i int) bool { return i >= n }
	t.points = slices.DeleteFunc(slices.Clone(t.points), gone)
	t.edges = slices.DeleteFunc(slices.Clone(t.edges), gone)
}

// drag is the command for a handle that was dragged to a place.
func (t *tracer) drag(id string, to geom.Pt) (edit.Command, bool) {
	i, bend, ok := handleIndex(id)
	st, _, found := t.desk().jobSeat()
	shape := st.Outline.Traced()
	if !ok || !found || !shape.In(i) {
		return nil, false
	}
	if bend {
		return edit.Trace{Seat: st.ID, How: edit.TraceBend, Which: []int{i}, At: to}, true
	}
	which := []int{i}
	for _, k := range t.points {
		if k != i && slices.Contains(t.points, i) {
			which = append(which, k)
		}
	}
	var others []geom.Pt
	for k, p := range shape.Points {
		if !slices.Contains(which, k) {
			others = append(others, p.At)
		}
	}
	sn := t.snapping(others)
	got := sn.Snap(to)
	if got.To == seat.SnapPoint {
		// Two points on each other are no shape: in line with it will do.
		sn.Points, sn.Reach = nil, 0
		got = sn.Snap(to)
	}
	return edit.Trace{Seat: st.ID, How: edit.TraceMove, Which: which, At: got.At.Sub(shape.Points[i].At)}, true
}

// nudge moves what is chosen by marking steps.
func (t *tracer) nudge(id string, dx, dy int, coarse bool) {
	i, bend, ok := handleIndex(id)
	if !ok {
		return
	}
	step := t.desk().Shown().Step.Length().MM()
	if coarse {
		step *= coarseSteps
	}
	by := geom.P(float64(dx)*step, float64(dy)*step)
	if bend {
		st, _, found := t.desk().jobSeat()
		shape := st.Outline.Traced()
		if found && shape.In(i) {
			t.do(edit.Trace{How: edit.TraceBend, Which: []int{i}, At: shape.Edge(i).At(0.5).Add(by)})
		}
		return
	}
	which := t.points
	if !slices.Contains(which, i) {
		which = []int{i}
	}
	t.do(edit.Trace{How: edit.TraceNudge, Which: which, At: by})
}

// handleKey is a key pressed while a point or an edge is chosen.
func (t *tracer) handleKey(id string, k fyne.KeyName, r rune) bool {
	i, bend, ok := handleIndex(id)
	if !ok {
		return false
	}
	edges, points := t.edges, t.points
	if bend && !slices.Contains(edges, i) {
		edges = []int{i}
	}
	if !bend && !slices.Contains(points, i) {
		points = []int{i}
	}
	switch {
	case (k == fyne.KeyDelete || k == fyne.KeyBackspace) && !bend:
		t.do(edit.Trace{How: edit.TraceDelete, Which: points})
		t.points = nil
		t.s.Refresh()
	case k == fyne.KeyDelete || k == fyne.KeyBackspace || bend && (r == 's' || r == 'S'):
		t.do(edit.Trace{How: edit.TraceStraight, Which: edges})
	case bend && (r == 'a' || r == 'A'):
		t.do(edit.Trace{How: edit.TraceArc, Which: edges})
	case bend && (r == 'i' || r == 'I'):
		t.insert(i)
	case !bend && (r == 'r' || r == 'R'):
		t.s.form.FocusField("field:trace.radius", 0)
	case r >= '0' && r <= '9':
		name := "field:trace.across"
		if bend {
			name = "field:trace.length"
		}
		t.s.form.FocusField(name, r)
	default:
		return false
	}
	return true
}

// insert puts a point in the middle of an edge and chooses it.
func (t *tracer) insert(edge int) {
	st, _, ok := t.desk().jobSeat()
	shape := st.Outline.Traced()
	if !ok || !shape.In(edge) {
		return
	}
	if t.do(edit.Trace{How: edit.TraceInsert, Which: []int{edge}, At: shape.Edge(edge).At(0.5)}) == "" {
		t.points, t.edges, t.seat = []int{edge + 1}, nil, st.ID
		t.board().Choose(pointHandle + strconv.Itoa(edge+2))
		t.s.Refresh()
	}
}

// do changes the chosen seat's shape and says what is wrong, if anything.
func (t *tracer) do(c edit.Trace) string {
	c.Seat = t.desk().Seat()
	faults := t.desk().Do(c)
	if len(faults) > 0 {
		t.s.tell(faults)
	}
	return t.desk().maker().first(faults)
}

// typed is the commit of a field of what is chosen.
func (t *tracer) typed(how edit.TraceHow, which []int) func(string) string {
	return func(text string) string {
		faults := t.desk().Do(edit.Trace{Seat: t.desk().Seat(), How: how, Which: which, Text: text})
		return t.desk().maker().first(faults)
	}
}

// tracingGroups are the form while a shape is clicked.
func (t *tracer) tracingGroups(m maker) []kit.Group {
	face := 0
	if t.under {
		face = 1
	}
	n := len(t.pts)
	g := kit.Group{Head: m.say("trace.head.clicking"), Entries: []kit.Entry{
		{Kind: kit.ASwitch, Name: "trace-face", Label: m.say("trace.face"), Hint: m.say("trace.face.hint"),
			Words: []string{m.say("trace.face.top"), m.say("trace.face.underside")}, Chosen: face,
			Choose: func(i int) { t.under = i == 1; t.s.Refresh() }},
		note("trace.how", m.say("trace.how")),
		m.reading("trace.count", strconv.Itoa(n)),
	}}
	done := m.button("trace-close", func() { t.close(false) })
	done.Kind, done.Off = kit.AnAction, n < 3
	half := m.button("trace-half", func() { t.close(true) })
	half.Off = n < 3
	back := m.button("trace-back", func() { t.back() })
	back.Off = n == 0
	g.Entries = append(g.Entries, done, half, back, m.button("trace-stop", t.stop))
	return []kit.Group{g}
}

// signed writes a length with a minus in front of it where it has one.
func signed(l unit.Length, u unit.Unit) string {
	if l < 0 {
		return "-" + unit.Text(-l, u)
	}
	return unit.Text(l, u)
}

// groups are the form of a traced shape.
func (t *tracer) groups(m maker, st job.Seat, p *plan.SeatPlan) []kit.Group {
	shape := st.Outline.Traced()
	general := kit.Group{Head: m.say("trace.head.shape")}
	from := m.reading("outline.traced_face", m.w.Term("traced-face."+faceOf(st)))
	general.Entries = append(general.Entries, from, m.button("trace-flip", func() { t.do(edit.Trace{How: edit.TraceFlip}) }))
	out := []kit.Group{t.chosenGroup(m, shape), general}
	out = append(out, kit.Group{Head: m.say("trace.head.notches"), Entries: []kit.Entry{
		inUnits(m, st.ID, edit.OutlineLeftNotchW), inUnits(m, st.ID, edit.OutlineLeftNotchD),
		inUnits(m, st.ID, edit.OutlineRightNotchW), inUnits(m, st.ID, edit.OutlineRightNotchD),
		m.button("trace-notches", func() { t.do(edit.Trace{How: edit.TraceNotches}) }),
	}})
	return append(out, t.halvesGroup(m, shape), t.trueGroup(m, st, shape))
}

// inUnits is a field for a length that may have come out of reckoning: it is
// shown in the job's units, to their fineness.
func inUnits(m maker, id job.ID, path string) kit.Entry {
	e := m.measure(id, path)
	typed, _ := m.j.Get(id, path)
	if l := job.Measure(typed).Or(0); l != 0 && strings.HasSuffix(typed, "mm") && !m.u.Size.Metric() {
		e.Text = unit.Text(l, m.u.Size)
	}
	return e
}

func faceOf(st job.Seat) string {
	if st.Outline.TracedFace == job.FaceUnderside {
		return string(job.FaceUnderside)
	}
	return string(job.FaceTop)
}

// chosenGroup is what is chosen of the shape, with its figures to type.
func (t *tracer) chosenGroup(m maker, shape seat.Traced) kit.Group {
	field := func(name, text string, commit func(string) string) kit.Entry {
		e := m.base(kit.AField, name)
		e.Text, e.Commit = text, commit
		return e
	}
	switch {
	case len(t.points) > 0:
		which := slices.Clone(t.points)
		q := shape.Points[which[0]]
		head := m.say("trace.head.point", arg("number", which[0]+1))
		if len(which) > 1 {
			head = m.say("trace.head.points", arg("count", len(which)))
		}
		del := m.button("trace-delete", func() {
			if t.do(edit.Trace{How: edit.TraceDelete, Which: which}) == "" {
				t.points = nil
				t.s.Refresh()
			}
		})
		return kit.Group{Head: head, Entries: []kit.Entry{
			field("trace.across", signed(unit.Length(q.At.X), m.u.Size), t.typed(edit.TraceAcross, which)),
			field("trace.back", signed(unit.Length(q.At.Y), m.u.Size), t.typed(edit.TraceBack, which)),
			field("trace.radius", zeroEmpty(q.Radius, m.u.Size), t.typed(edit.TraceRadius, which)),
			del,
		}}
	case len(t.edges) > 0:
		which := slices.Clone(t.edges)
		i := which[0]
		e, q := shape.Edge(i), shape.Points[i]
		role := m.base(kit.AChoice, "trace.edge")
		roles := job.EdgeRole("").Choices()
		now := string(job.EdgeByDirection)
		if q.HasRole {
			now = q.Role.String()
		}
		role.Wide = true
		for k, r := range roles {
			role.Words = append(role.Words, m.w.Term("edge-role."+r))
			if r == now {
				role.Chosen = k
			}
		}
		role.Choose = func(k int) { t.do(edit.Trace{How: edit.TraceEdge, Which: which, Text: roles[k]}) }
		bend := m.button("trace-arc", func() { t.do(edit.Trace{How: edit.TraceArc, Which: which}) })
		if q.Bow != 0 {
			bend = m.button("trace-straight", func() { t.do(edit.Trace{How: edit.TraceStraight, Which: which}) })
		}
		head := m.say("trace.head.edge", arg("from", i+1), arg("to", (i+1)%len(shape.Points)+1))
		if len(which) > 1 {
			head = m.say("trace.head.edges", arg("count", len(which)))
		}
		return kit.Group{Head: head, Entries: []kit.Entry{
			field("trace.length", unit.Text(unit.Length(e.A.Dist(e.B)), m.u.Size), t.typed(edit.TraceLength, which[:1])),
			field("trace.bow", zeroEmptySigned(q.Bow, m.u.Size), t.typed(edit.TraceBow, which)),
			role, bend, m.button("trace-insert", func() { t.insert(i) }),
		}}
	}
	return kit.Group{Entries: []kit.Entry{note("trace.choose", m.say("trace.choose"))}}
}

func zeroEmpty(l unit.Length, u unit.Unit) string {
	if l == 0 {
		return ""
	}
	return unit.Text(l, u)
}

func zeroEmptySigned(l unit.Length, u unit.Unit) string {
	if l == 0 {
		return ""
	}
	return signed(l, u)
}

// halvesGroup tells how far the halves differ, before they are made alike.
func (t *tracer) halvesGroup(m maker, shape seat.Traced) kit.Group {
	h, f := shape.Compare()
	words := ""
	switch {
	case f != nil:
		words = m.fault(*f)
	case h.Most < unit.SixteenthInch/16:
		words = m.say("trace.halves.alike")
	default:
		words = m.say("trace.halves.differ", arg("off", h.Most))
	}
	sym := m.button("trace-symmetric", func() { t.do(edit.Trace{How: edit.TraceSymmetric}) })
	sym.Off = f != nil
	return kit.Group{Head: m.say("trace.head.halves"), Entries: []kit.Entry{
		note("trace.halves", words), sym,
		m.button("trace-mirror-right", func() { t.do(edit.Trace{How: edit.TraceHalf}) }),
		m.button("trace-mirror-left", func() { t.do(edit.Trace{How: edit.TraceHalf, Left: true}) }),
		m.button("trace-turn", func() { t.do(edit.Trace{How: edit.TraceTurn}) }),
	}}
}

// trueGroup holds the shape against one measurement.
func (t *tracer) trueGroup(m maker, st job.Seat, shape seat.Traced) kit.Group {
	g := kit.Group{Head: m.say("trace.head.true-up"), Entries: []kit.Entry{m.choiceOf(st.ID, edit.OutlineKnown, "known", knownOffered(st))}}
	if len(t.points) == 2 && !(st.Outline.KnownWhat == job.KnownPoints && st.Outline.KnownFrom == t.points[0]+1 && st.Outline.KnownTo == t.points[1]+1) {
		from, to := t.points[0], t.points[1]
		g.Entries = append(g.Entries, m.button("trace-known", func() {
			if faults := t.desk().Do(edit.KnownOf{Seat: st.ID, From: from, To: to}); len(faults) > 0 {
				t.s.tell(faults)
			}
		}))
	}
	k := st.Outline.Known()
	if k.What == seat.KnownNothing {
		return g
	}
	g.Entries = append(g.Entries, m.measure(st.ID, edit.OutlineKnownLength))
	read, ok := shape.Read(k)
	if !ok {
		return g
	}
	g.Entries = append(g.Entries, m.reading("trace.reads", unit.Text(read, m.u.Size)))
	scale := m.button("trace-true-up", func() { t.do(edit.Trace{How: edit.TraceTrueUp}) })
	scale.Off = k.Length <= 0
	g.Entries = append(g.Entries, scale)
	return g
}

// knownOffered leaves two points out until two are chosen.
func knownOffered(st job.Seat) []string {
	all := job.KnownWhat("").Choices()
	if st.Outline.KnownWhat == job.KnownPoints {
		return all
	}
	return slices.DeleteFunc(all, func(w string) bool { return w == string(job.KnownPoints) })
}

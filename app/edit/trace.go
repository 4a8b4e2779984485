package edit

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"slipseat/app/job"
	"slipseat/engine/geom"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// CodeNotTraced is the fault of tracing on a seat whose outline is none.
const CodeNotTraced = "trace.not-traced"

// SetTrace gives a seat a traced outline: drawn, out of a file or out of a
// picture. Shape is as it was seen; with FaceUnderside it is turned over, so
// that the outline is kept as seen from the top. Notches drawn with points
// become notches.
type SetTrace struct {
	Seat  job.ID
	Shape seat.Traced
	Face  job.TracedFace
	From  string // TracedDrawn and so on
}

// Where a traced outline comes from.
const (
	TracedDrawn = "drawn"
	TracedFile  = "file"
	TracedPhoto = "photo"
)

// Label names the seat.
func (c SetTrace) Label(j job.Job) Label {
	return label("trace-"+c.From, unit.A("name", nameOf(j, c.Seat)))
}

// Apply replaces the outline's points.
func (c SetTrace) Apply(j job.Job) (job.Job, []unit.Fault) {
	s, i, ok := j.Seat(c.Seat)
	if !ok {
		return gone(j)
	}
	t := c.Shape.CounterClockwise()
	if c.Face == job.FaceUnderside {
		t = t.Flipped()
	}
	if _, f := t.Path(); f != nil {
		return refuse(j, *f)
	}
	t, _ = t.NotchesFromPoints()
	o := s.Outline
	o.Points = nil
	o = o.WithTraced(t, writer(j))
	o.TracedFace = c.Face
	if o.TracedFace == "" {
		o.TracedFace = job.FaceTop
	}
	o.KnownWhat, o.KnownLength, o.KnownFrom, o.KnownTo = job.KnownNothing, "", 0, 0
	return withOutline(j, i, o)
}

func withOutline(j job.Job, i int, o job.Outline) (job.Job, []unit.Fault) {
	out := j
	out.Seats = slices.Clone(j.Seats)
	out.Seats[i].Outline = o
	return formed(j, out)
}

// ToTrace turns a measured or round outline into a traced one to go on from.
// One that was traced before comes back as it was left.
type ToTrace struct{ Seat job.ID }

// Label names the seat.
func (c ToTrace) Label(j job.Job) Label {
	return label("to-trace", unit.A("name", nameOf(j, c.Seat)))
}

// Apply takes the outline apart.
func (c ToTrace) Apply(j job.Job) (job.Job, []unit.Fault) {
	s, i, ok := j.Seat(c.Seat)
	if !ok {
		return gone(j)
	}
	if s.Outline.From == job.Traced {
		return j, nil
	}
	drawn, faults := s.Outline.Draw()
	if len(faults) > 0 {
		return j, faults
	}
	o := s.Outline
	o.Points = nil
	o = o.WithTraced(drawn.Trace(), writer(j))
	o.TracedFace = job.FaceTop
	return withOutline(j, i, o)
}

// Trace changes a traced outline. Which are points, or edges by the point they
// leave, as How needs them.
type Trace struct {
	Seat  job.ID
	How   TraceHow
	Which []int
	At    geom.Pt // a place in the trace's own frame, or a way to move
	Text  string  // what was typed
	Left  bool    // the half to keep
}

// TraceHow names what Trace does; the words of its label are under
// "label.edit.trace-<how>".
type TraceHow string

// What Trace does.
const (
	TraceMove      TraceHow = "move"      // Which by At, the first of them onto the marking step
	TraceNudge     TraceHow = "nudge"     // Which by At as it is
	TraceInsert    TraceHow = "insert"    // a point on the edge Which[0], near At
	TraceDelete    TraceHow = "delete"    // Which
	TraceBend      TraceHow = "bend"      // the middle of the edge Which[0] to At
	TraceStraight  TraceHow = "straight"  // the edges Which
	TraceArc       TraceHow = "arc"       // the edges Which, those that are straight
	TraceAcross    TraceHow = "across"    // Which to Text, minus for left
	TraceBack      TraceHow = "back"      // Which to Text, minus for in front
	TraceLength    TraceHow = "length"    // of the edge Which[0] to Text
	TraceBow       TraceHow = "bow"       // of the edges Which to Text, minus for hollow
	TraceRadius    TraceHow = "radius"    // of the corners Which to Text
	TraceEdge      TraceHow = "edge"      // the side of the edges Which to Text, a job.EdgeRole
	TraceNotches   TraceHow = "notches"   // out of points
	TraceHalf      TraceHow = "half"      // mirrored over the other
	TraceSymmetric TraceHow = "symmetric" // both halves averaged
	TraceFlip      TraceHow = "flip"      // it was traced from the other face
	TraceTurn      TraceHow = "turn"      // a quarter counter-clockwise
	TraceTrueUp    TraceHow = "true-up"   // scaled to what was measured
)

// Label says what was done, and for the averaging by how much the halves
// differed.
func (c Trace) Label(j job.Job) Label {
	args := []unit.Arg{unit.A("name", nameOf(j, c.Seat))}
	if c.How == TraceSymmetric {
		if s, _, ok := j.Seat(c.Seat); ok {
			h, _ := s.Outline.Traced().Compare()
			args = append(args, unit.A("off", h.Most))
		}
	}
	return label("trace-"+string(c.How), args...)
}

// Apply does it.
func (c Trace) Apply(j job.Job) (job.Job, []unit.Fault) {
	s, i, ok := j.Seat(c.Seat)
	if !ok {
		return gone(j)
	}
	if s.Outline.From != job.Traced {
		return refuse(j, unit.Fault{Code: CodeNotTraced})
	}
	t := s.Outline.Traced()
	next, f := c.shape(j, s.Outline, t)
	if f != nil {
		return refuse(j, *f)
	}
	o := s.Outline.WithTraced(next, writer(j))
	c.asTyped(&o, j)
	switch c.How {
	case TraceFlip:
		if o.TracedFace = job.FaceUnderside; s.Outline.TracedFace == job.FaceUnderside {
			o.TracedFace = job.FaceTop
		}
	case TraceInsert, TraceDelete, TraceHalf, TraceNotches:
		// Points were counted otherwise before.
		if o.KnownWhat == job.KnownPoints {
			o.KnownWhat, o.KnownLength = job.KnownNothing, ""
		}
		o.KnownFrom, o.KnownTo = 0, 0
	}
	return withOutline(j, i, o)
}

// shape does it to the shape.
func (c Trace) shape(j job.Job, o job.Outline, t seat.Traced) (seat.Traced, *unit.Fault) {
	first := -1
	if len(c.Which) > 0 {
		first = c.Which[0]
	}
	none := func() (seat.Traced, *unit.Fault) { return t, &unit.Fault{Code: seat.CodeNoPoint} }
	switch c.How {
	case TraceMove, TraceInsert, TraceBend, TraceLength, TraceAcross, TraceBack, TraceBow, TraceRadius, TraceStraight, TraceArc, TraceEdge:
		if !t.In(first) {
			return none()
		}
	}
	for _, w := range c.Which {
		if !t.In(w) {
			return none()
		}
	}
	switch c.How {
	case TraceMove:
		step := j.Step.Length()
		to := t.Points[first].At.Add(c.At)
		to = geom.P(unit.RoundNearest(unit.Length(to.X), step).MM(), unit.RoundNearest(unit.Length(to.Y), step).MM())
		// What was not moved along one axis stays where it is on it.
		by := to.Sub(t.Points[first].At)
		if c.At.X == 0 {
			by.X = 0
		}
		if c.At.Y == 0 {
			by.Y = 0
		}
		return t.Moved(c.Which, by)
	case TraceNudge:
		return t.Moved(c.Which, c.At)
	case TraceInsert:
		return t.Inserted(first, c.At)
	case TraceDelete:
		return t.Deleted(c.Which)
	case TraceBend:
		bent, f := t.Bent(first, c.At)
		if f == nil {
			p := &bent.Points[first]
			p.Bow = unit.RoundNearest(p.Bow, j.Step.Length())
		}
		return bent, f
	case TraceStraight, TraceArc:
		return c.each(t, func(t seat.Traced, w int) (seat.Traced, *unit.Fault) {
			switch bow := t.Points[w].Bow; {
			case c.How == TraceStraight:
				return t.Bowed(w, 0)
			case bow == 0:
				e := t.Edge(w)
				return t.Bowed(w, max(j.Step.Length(), unit.RoundNearest(unit.Length(e.A.Dist(e.B)/arcShare), j.Step.Length())))
			}
			return t, nil
		})
	case TraceEdge:
		out := t
		out.Points = slices.Clone(t.Points)
		for _, w := range c.Which {
			p := &out.Points[w]
			p.HasRole = false
			for _, r := range seat.Roles() {
				if r.String() == c.Text {
					p.Role, p.HasRole = r, true
				}
			}
		}
		return out, nil
	case TraceNotches:
		out, n := t.NotchesFromPoints()
		if n == 0 {
			return t, &unit.Fault{Code: seat.CodeNoNotch}
		}
		return out, nil
	case TraceHalf:
		return t.MirrorHalf(!c.Left)
	case TraceSymmetric:
		out, _, f := t.Symmetric()
		return out, f
	case TraceFlip:
		return t.Flipped(), nil
	case TraceTurn:
		return t.TurnedQuarter(), nil
	case TraceTrueUp:
		return t.TrueUp(o.Known())
	}
	v, f := c.length(j)
	if f != nil {
		return t, f
	}
	switch c.How {
	case TraceLength:
		return t.Lengthened(first, v)
	case TraceRadius:
		if v < 0 {
			return t, &unit.Fault{Code: unit.CodeNegative, Args: []unit.Arg{unit.A("text", c.Text)}}
		}
		return t.Rounded(c.Which, v)
	case TraceBow:
		return c.each(t, func(t seat.Traced, w int) (seat.Traced, *unit.Fault) { return t.Bowed(w, v) })
	}
	return c.each(t, func(t seat.Traced, w int) (seat.Traced, *unit.Fault) {
		by := geom.P(v.MM()-t.Points[w].At.X, 0)
		if c.How == TraceBack {
			by = geom.P(0, v.MM()-t.Points[w].At.Y)
		}
		return t.Moved([]int{w}, by)
	})
}

// arcShare is the bow that a straight edge gets first: an eighth of its
// length, plain to see and to drag.
const arcShare = 8

func (c Trace) each(t seat.Traced, do func(seat.Traced, int) (seat.Traced, *unit.Fault)) (seat.Traced, *unit.Fault) {
	out := t
	for _, w := range c.Which {
		var f *unit.Fault
		if out, f = do(out, w); f != nil {
			return t, f
		}
	}
	return out, nil
}

// length reads what was typed, a minus in front allowed; nothing typed is 0.
func (c Trace) length(j job.Job) (unit.Length, *unit.Fault) {
	text, minus := unsigned(c.Text)
	if text == "" {
		return 0, nil
	}
	l, err := unit.Parse(text, j.Units.Unit())
	if err != nil {
		f := err.(unit.Fault)
		return 0, &f
	}
	if minus {
		l = -l
	}
	return l, nil
}

// unsigned takes a minus off what was typed.
func unsigned(text string) (string, bool) {
	text = strings.TrimSpace(text)
	for _, m := range []string{"-", "−", "–"} {
		if rest, ok := strings.CutPrefix(text, m); ok {
			return strings.TrimSpace(rest), true
		}
	}
	return text, false
}

// asTyped keeps what was typed as it was typed.
func (c Trace) asTyped(o *job.Outline, j job.Job) {
	switch c.How {
	case TraceAcross, TraceBack, TraceRadius, TraceBow:
	default:
		return
	}
	text, minus := unsigned(c.Text)
	typed, err := unit.Canonical(text, j.Units.Unit())
	if err != nil {
		return
	}
	l, _ := unit.Parse(typed, j.Units.Unit())
	minus = minus && l != 0
	for _, w := range c.Which {
		p := &o.Points[w]
		switch c.How {
		case TraceAcross:
			p.Across, p.Left = job.Measure(typed), minus
		case TraceBack:
			p.Back, p.Before = job.Measure(typed), minus
		case TraceRadius:
			if l > 0 {
				p.Radius = job.Measure(typed)
			}
		case TraceBow:
			if l > 0 {
				p.Bow, p.Hollow = job.Measure(typed), minus
			}
		}
	}
}

// writer writes lengths of traced points: those on the marking step as a field
// holds them, others to a ten-thousandth of a millimetre, so that roundings
// still run smoothly into their edges.
func writer(j job.Job) func(unit.Length) job.Measure {
	return func(l unit.Length) job.Measure {
		if d := unit.RoundNearest(l, j.Step.Length()) - l; d < onStep && d > -onStep {
			return Written(j, l)
		}
		return job.Measure(strconv.FormatFloat(math.Round(l.MM()*1e4)/1e4, 'f', -1, 64) + " mm")
	}
}

// onStep in millimetres: a length that is off by less lies on the step.
const onStep unit.Length = 1e-6

// KnownOf sets what a traced outline is held against: two points, counted from
// 0, with the other fields as they are.
type KnownOf struct {
	Seat     job.ID
	From, To int
}

// Label names the seat.
func (c KnownOf) Label(j job.Job) Label {
	return label("set", unit.A("field", fieldWords+"outline.known"), unit.A("name", nameOf(j, c.Seat)))
}

// Apply sets the two points.
func (c KnownOf) Apply(j job.Job) (job.Job, []unit.Fault) {
	s, i, ok := j.Seat(c.Seat)
	if !ok {
		return gone(j)
	}
	o := s.Outline
	if n := len(o.Points); c.From < 0 || c.To < 0 || c.From >= n || c.To >= n || c.From == c.To {
		return refuse(j, unit.Fault{Code: seat.CodeNoPoint})
	}
	o.KnownWhat, o.KnownFrom, o.KnownTo, o.KnownLength = job.KnownPoints, c.From+1, c.To+1, ""
	return withOutline(j, i, o)
}

package drawing

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// labels writes what each part is and how thick, and draws the dimensions of
// the cover's way round the edge.
func (s *section) labels() {
	st := s.st
	size := st.text(Normal)
	s.placed.air, s.placed.side = st.Model(0.3), st.Model(1.2)
	s.side()
	s.under(size)
	// Names of the layers stand in a row in their middles or, where a layer is
	// too thin, over the drawing with a line down to it.
	left := max(s.u*0.9, s.end*0.3)
	if s.b > 0 {
		s.name(st.word("section-board", unit.A("length", st.Units.Figure(s.in.Board))), -s.b, 0, left, BoardLine, size)
	}
	y := 0.0
	for _, f := range s.in.Foams {
		s.name(st.word("section-foam", unit.A("length", st.Units.Figure(f))), y, y+f.MM(), left, FoamLine, size)
		y += f.MM()
	}
	if s.in.Crown > 0 {
		left = max(left, s.in.CrownIn.MM()-s.o+s.in.Crown.MM()*0.6)
		s.name(st.word("section-crown", unit.A("length", st.Units.Figure(s.in.Crown))), s.t, s.crownTop, left, FoamLine, size)
	}
	if s.w > 0 {
		s.name(st.word("section-wadding", unit.A("length", st.Units.Figure(s.in.Wadding))), s.crownTop, s.crownTop+s.w, left, WaddingLine, size)
	}
	s.over()
}

// note is a label over the drawing, with a line down to foot unless it is
// about the whole.
type note struct {
	text   Text
	foot   geom.Pt
	leader bool
}

// name labels the layer between two levels.
func (s *section) name(text string, y0, y1, left float64, r Role, size float64) {
	st := s.st
	mid := (y0 + y1) / 2
	t := Text{Layer: "name", S: text, Size: size, Role: Ink, Anchor: MidCentre, At: geom.P((left+s.end)/2, mid)}
	if st.Paper(y1-y0) >= size*1.45 && st.Paper(s.end-left) > textWidth(t, st.Metrics)+1 {
		if t, ok := s.placed.first(st, t); ok {
			s.d.Add(t)
			return
		}
	}
	t.Role, t.Anchor = r, BaseLeft
	s.notes = append(s.notes, note{t, geom.P(0, mid), true})
}

// over sets the notes over the drawing: first what is about the whole and the
// edge, from the left, then the thin layers, the right-most one lowest, so that
// no line crosses a label.
func (s *section) over() {
	st := s.st
	top := s.top()
	n := 0
	for i := range s.notes {
		if s.notes[i].leader && s.notes[i].text.Layer == "name" {
			s.notes[i].foot.X = s.end*0.58 + st.Model(2.2*float64(n))
			s.notes[i].text.At.X = s.notes[i].foot.X
			n++
		}
	}
	for i := len(s.notes) - 1; i >= 0; i-- {
		if q := s.notes[i]; q.text.Layer != "name" {
			s.note(q, top)
		}
	}
	for i := len(s.notes) - 1; i >= 0; i-- {
		if q := s.notes[i]; q.text.Layer == "name" {
			s.note(q, top)
		}
	}
}

// top is the upper end of what is drawn.
func (s *section) top() float64 { return s.crownTop + s.w }

// note sets one note in the lowest row that is free.
func (s *section) note(q note, top float64) {
	st := s.st
	t := q.text
	for row := range 16 {
		up := 2.4 + float64(row)*st.text(Normal)*1.4
		t.At, t.Off = geom.P(q.text.At.X, top), geom.P(0, up)
		if q.leader {
			t.Off.X = 0.8
		}
		b := textBox(t, st)
		if !s.placed.free(b) {
			continue
		}
		s.placed.block(b)
		s.d.Add(t)
		if q.leader {
			s.d.Add(line(t.Layer, q.foot, geom.P(q.foot.X, top+st.Model(up+t.Size*0.35)), t.Role, Hair, Solid),
				Mark{Layer: t.Layer, Kind: Disc, At: q.foot, Size: 1.1, Fill: t.Role})
		}
		s.d.Bounds = s.d.Bounds.Union(b)
		return
	}
}

// under draws the two stretches under the board.
func (s *section) under(size float64) {
	st := s.st
	end := s.u
	if s.p > 0 {
		end = s.u + s.p
	}
	if end <= 0 {
		return
	}
	low := s.d.Bounds.Min.Y
	level := low - st.Model(3.2)
	stretch := func(x0, x1 float64) {
		for _, x := range []float64{x0, x1} {
			s.d.Add(line("dimension", geom.P(x, -s.b-st.Model(2)), geom.P(x, level-st.Model(1)), Ink2, Hair, Solid))
		}
		s.d.Add(Arrow{Layer: "dimension", From: geom.P(x0, level), To: geom.P(x1, level), HeadFrom: true, HeadTo: true, Head: 1.6, Role: Ink2, Width: Hair})
	}
	write := func(text string, x float64) {
		t := Text{Layer: "dimension", S: text, Size: size, Role: CoverLine, At: geom.P(x, level)}
		var places []Text
		for row := range 4 {
			for _, a := range []Anchor{TopCentre, TopLeft} {
				c := t
				c.Anchor = a
				c.Off = geom.P(0, -1.6-float64(row)*size*1.35)
				if a == TopLeft {
					c.Off.X = 1
				}
				places = append(places, c)
			}
		}
		if c, ok := s.placed.first(st, places...); ok {
			s.d.Add(c)
		}
	}
	if s.u > 0 {
		stretch(0, s.u)
		write(st.word("section-under", unit.A("length", st.Units.Figure(s.in.TurnUnder))), s.u/2)
	}
	if s.p > 0 {
		stretch(s.u, s.u+s.p)
		write(st.word("section-pull", unit.A("length", st.Units.Figure(s.in.Pull))), s.u+s.p/2)
	}
	s.d.Bounds = s.d.Bounds.Include(geom.P(0, level))
}

// side draws the height of foam and board together on the left, and notes the
// overhang, the rounding and the whole wrap.
func (s *section) side() {
	st := s.st
	left := -s.o - s.w
	if h := s.in.Board + unit.Length(s.t); h > 0 {
		d := dimension{a: geom.P(left, -s.b), b: geom.P(left, s.t), upright: true, base: left, away: -6, label: st.Units.Figure(h)}
		items, b := d.draw(st)
		s.d.Add(items...)
		s.d.Bounds = s.d.Bounds.Union(b)
		s.placed.block(b)
	}
	if s.in.Wrap > 0 {
		s.notes = append(s.notes, note{text: Text{Layer: "wrap", S: st.word("section-wrap", unit.A("length", st.Units.Label(s.in.Wrap))),
			At: geom.P(left, 0), Size: st.text(Normal), Weight: Bold, Role: CoverLine, Anchor: BaseLeft}})
	}
	text := ""
	over, round := unit.A("length", st.Units.Figure(s.in.Overhang)), unit.A("radius", st.Units.Figure(s.in.Radius))
	switch {
	case s.o > 0 && s.r > 0:
		text = st.word("section-over-round", over, round)
	case s.o > 0:
		text = st.word("section-over", over)
	case s.r > 0:
		text = st.word("section-round", round)
	default:
		return
	}
	// The middle of the rounding, or the foam's upper edge.
	at := geom.P(s.r-s.o-s.r*math.Sqrt2/2, s.t-s.r+s.r*math.Sqrt2/2)
	s.notes = append(s.notes, note{Text{Layer: "edge", S: text, At: geom.P(at.X, 0), Size: st.text(Small), Role: Ink2, Anchor: BaseLeft}, at, true})
}

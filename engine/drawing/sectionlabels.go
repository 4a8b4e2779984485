package drawing

import (
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// labels writes what each part is and how thick, and draws the dimensions of
// the cover's way round the edge.
func (s *section) labels() {
	st := s.st
	size := st.text(Normal)
	// Names of the layers stand in a row in their middles, or, where a layer
	// is too thin, beside it on the right with a line.
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
	s.under(size)
	s.side(size)
}

// name labels the layer between two levels.
func (s *section) name(text string, y0, y1, left float64, r Role, size float64) {
	st := s.st
	t := Text{Layer: "name", S: text, Size: size, Role: Ink, Anchor: MidCentre}
	mid := (left + s.end) / 2
	if st.Paper(y1-y0) >= size*1.45 {
		t.At = geom.P(mid, (y0+y1)/2)
		s.d.Add(t)
		return
	}
	// A thin layer: a dot in it and a line up to the label over the drawing.
	top := s.d.Bounds.Max.Y
	x := s.end * 0.62
	t.Anchor = BaseLeft
	t.Role = r
	n := 0
	for _, it := range s.d.Items {
		if prev, ok := it.(Text); ok && prev.Layer == "thin" {
			n++
		}
	}
	t.Layer = "thin"
	x += st.Model(2 * float64(n))
	up := 2.4 + float64(n)*size*1.4
	t.At, t.Off = geom.P(x, top), geom.P(0.8, up)
	s.d.Add(
		line("thin", geom.P(x, (y0+y1)/2), geom.P(x, top+st.Model(up+size*0.35)), r, Hair, Solid),
		Mark{Layer: "thin", Kind: Disc, At: geom.P(x, (y0+y1)/2), Size: 1.2, Fill: r}, t)
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
	var p placer
	write := func(text string, x float64) {
		t := Text{Layer: "dimension", S: text, Size: size, Role: CoverLine, At: geom.P(x, level)}
		var places []Text
		for row := range 3 {
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
		if c, ok := p.first(st, places...); ok {
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

// side draws the height of foam and board together, the overhang and the
// radius on the left.
func (s *section) side(size float64) {
	st := s.st
	left := -s.o - s.w
	if h := s.in.Board + unit.Length(s.t); h > 0 {
		d := dimension{a: geom.P(left, -s.b), b: geom.P(left, s.t), upright: true, base: left, away: -6, label: st.Units.Figure(h)}
		items, b := d.draw(st)
		s.d.Add(items...)
		s.d.Bounds = s.d.Bounds.Union(b)
	}
	top := s.t + s.w
	if s.in.Crown > 0 {
		top += s.in.Crown.MM()
	}
	text := ""
	switch {
	case s.o > 0 && s.r > 0:
		text = st.word("section-over-round", unit.A("length", st.Units.Figure(s.in.Overhang)), unit.A("radius", st.Units.Figure(s.in.Radius)))
	case s.o > 0:
		text = st.word("section-over", unit.A("length", st.Units.Figure(s.in.Overhang)))
	case s.r > 0:
		text = st.word("section-round", unit.A("radius", st.Units.Figure(s.in.Radius)))
	}
	y := top + st.Model(2.6)
	if text != "" {
		at := geom.P(s.r-s.o-s.r*0.7071, s.t-s.r+s.r*0.7071)
		t := Text{Layer: "edge", S: text, At: geom.P(left, y), Size: st.text(Small), Role: Ink2, Anchor: BaseLeft}
		s.d.Add(t, line("edge", at, geom.P(at.X, y-st.Model(0.8)), Ink2, Hair, Solid), Mark{Layer: "edge", Kind: Disc, At: at, Size: 1, Fill: Ink2})
		s.d.Bounds = s.d.Bounds.Union(textBox(t, st))
		y += st.Model(size * 1.5)
	}
	if s.in.Wrap > 0 {
		t := Text{Layer: "wrap", S: st.word("section-wrap", unit.A("length", st.Units.Label(s.in.Wrap))), At: geom.P(left, y), Size: size, Weight: Bold, Role: CoverLine, Anchor: BaseLeft}
		s.d.Add(t)
		s.d.Bounds = s.d.Bounds.Union(textBox(t, st))
	}
}

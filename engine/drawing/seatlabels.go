package drawing

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// leastDim is the extent on paper below which a shape is too small to carry
// dimension lines.
const leastDim = 16

// centre draws the centre line and the word FRONT that interrupts it.
func (s *Seat) centre(st Style) []Item {
	b := s.in.Board.Bounds()
	x, front, back := b.Center().X, b.Min.Y, b.Max.Y
	if m := s.in.Measures; m != nil {
		x = (m.FrontLeft.X + m.FrontRight.X) / 2
	}
	const past = 2.6
	word := Text{Layer: "front", S: st.word("front-mark"), Size: st.text(Small), Anchor: BaseCentre, Role: BoardLine, Spaced: 0.14}
	word.At = geom.P(x, front+st.Model(4.2))
	over := s.in.Board
	if s.in.Overlays {
		b = s.geom.Bounds
	}
	box := textBox(word, st)
	small := st.Paper(back-front) < 14 || st.Paper(b.W()) < st.Paper(box.W())+4 || !over.Contains(box.Min)
	chain := func(y0, y1 float64) Item {
		return line("centre", geom.P(x, y1), geom.P(x, y0), Ink2, Hair, Chain)
	}
	if small {
		return []Item{chain(front, back)}
	}
	return []Item{
		chain(box.Max.Y+st.Model(0.8), back+st.Model(past)),
		word,
	}
}

// dims draws the dimension lines: back width on top, front width below, depth
// on the right, bow and notches on the left, so that no two can meet.
// lift is the height in paper millimetres of what stands over the drawing
// already.
func (s *Seat) dims(st Style, lift float64) []Item {
	board := s.in.Board.Bounds()
	b := board
	m := s.in.Measures
	if m == nil {
		m = &Measures{
			FrontLeft: board.Min, FrontRight: geom.P(board.Max.X, board.Min.Y),
			BackRight: board.Max, BackLeft: geom.P(board.Min.X, board.Max.Y),
			FrontWidth: unit.Length(board.W()), Depth: unit.Length(board.H()),
		}
	} else {
		for _, p := range []geom.Pt{m.FrontLeft, m.FrontRight, m.BackLeft, m.BackRight} {
			b = b.Include(p)
		}
	}
	if s.in.Overlays {
		b = b.Union(s.geom.Bounds)
	}
	if st.Paper(b.W()) < leastDim || st.Paper(b.H()) < leastDim {
		return nil
	}
	var items []Item
	add := func(d dimension) box {
		its, bx := d.draw(st)
		items = append(items, its...)
		return bx
	}
	if m.BackWidth > 0 {
		add(dimension{a: m.BackLeft, b: m.BackRight, base: b.Max.Y, away: dimAway + lift, label: st.Units.Label(m.BackWidth)})
	}
	if m.FrontWidth > 0 {
		add(dimension{a: m.FrontLeft, b: m.FrontRight, base: b.Min.Y, away: -dimAway, label: st.Units.Label(m.FrontWidth)})
	}
	if m.Depth > 0 {
		top := geom.P(b.Max.X, m.BackRight.Y)
		add(dimension{a: geom.P(b.Max.X, board.Min.Y), b: top, upright: true, base: b.Max.X, away: dimAway, label: st.Units.Label(m.Depth)})
	}
	if m.Bow > 0 {
		// From the level of the front corners down to the front of the bow.
		y := m.FrontLeft.Y
		items = append(items, line("dimension", geom.P(b.Center().X, board.Min.Y), geom.P(b.Min.X, board.Min.Y), Ink2, Hair, Dot))
		add(dimension{a: geom.P(b.Min.X, board.Min.Y), b: geom.P(b.Min.X, y), upright: true, base: b.Min.X, away: -dimAway,
			label: st.word("bow", unit.A("length", st.Units.Label(m.Bow)))})
	}
	items = append(items, s.notchLabels(st, b)...)
	return items
}

// notchLabels writes the sizes of the notches beside the back corners, each
// with a line to the notch's inner corner. Two equal notches need one label.
func (s *Seat) notchLabels(st Style, b geom.Rect) []Item {
	var items []Item
	for i, n := range s.in.Notches {
		if i > 0 && n.Width == s.in.Notches[0].Width && n.Depth == s.in.Notches[0].Depth {
			continue
		}
		t := Text{Layer: "notch", S: st.word("notch", unit.A("size", st.Units.PairLabel(n.Width, n.Depth))), Size: st.text(Small), Role: Ink2}
		x, side := b.Max.X, 1.0
		t.Anchor = MidLeft
		if n.Left {
			x, side, t.Anchor = b.Min.X, -1, MidRight
		} else {
			side = 1
			x += st.Model(dimAway + dimPast) // past the depth's line
		}
		y := n.Inner.Y + (b.Max.Y-n.Inner.Y)/2
		knee := geom.P(x+side*st.Model(2.5), y)
		t.At, t.Off = knee, geom.P(side*0.8, 0)
		items = append(items,
			Shape{Layer: "notch", Path: geom.Path{{Pt: n.Inner}, {Pt: geom.P(x, y)}, {Pt: knee}}, Open: true, Stroke: Ink2, Width: Hair},
			Mark{Layer: "notch", Kind: Disc, At: n.Inner, Size: 1, Fill: Ink2, Role: None},
			t)
	}
	return items
}

// sizes labels board, foam and cover. Each label stands in its own band near
// the back edge; where the bands are too thin, all stand in a column over the
// drawing, each with a line down to its edge.
// lift is the height in paper millimetres of that column.
func (s *Seat) sizes(st Style) (items []Item, lift float64) {
	type entry struct {
		key         string
		path        geom.Path
		width, dept unit.Length
		role        Role
	}
	var es []entry
	add := func(key string, b Blank, r Role) {
		if len(b.Path) > 1 && b.Width > 0 {
			es = append(es, entry{key, b.Path, b.Width, b.Depth, r})
		}
	}
	add("size-cover", s.in.Cover, CoverLine)
	add("size-wadding", s.in.Wadding, WaddingLine)
	add("size-foam", s.in.Foam, FoamLine)
	add("size-board", Blank{s.in.Board, s.in.Size[0], s.in.Size[1]}, BoardLine)
	size := st.text(Small)
	var outside []entry
	placed := &placer{}
	for _, e := range es {
		placed.keepOff(e.path, 0.5)
	}
	if len(s.in.DustCloth.Path) > 1 {
		placed.keepOff(s.in.DustCloth.Path, 0.5)
	}
	centre := s.in.Board.Bounds().Center().X
	placed.lines = append(placed.lines, geom.P(centre, s.geom.Bounds.Min.Y), geom.P(centre, s.geom.Bounds.Max.Y+st.Model(4)))
	for _, e := range es {
		text := Text{Layer: "size", S: st.word(e.key, unit.A("size", st.Units.Pair(e.width, e.dept))), Size: size, Anchor: TopRight, Role: e.role}
		b := e.path.Bounds()
		var places []Text
		// Under its own back edge, as far right as it fits, then further down
		// inside the board only.
		for _, down := range []float64{1.6, 2.4, 3.4} {
			for _, right := range []float64{0.94, 0.88, 0.82, 0.76, 0.7, 0.64, 0.58} {
				t := text
				t.At, t.Off = geom.P(b.Min.X+b.W()*right, b.Max.Y), geom.P(0, -down)
				places = append(places, t)
			}
		}
		if t, ok := placed.first(st, places...); ok {
			items = append(items, t)
		} else {
			outside = append(outside, e)
		}
	}
	if len(outside) == 0 {
		return items, 0
	}
	// The column over the drawing, the outermost on top.
	top := s.geom.Bounds.Max.Y
	lineHeight := size * 1.45
	for i, e := range outside {
		up := 3 + lineHeight*float64(len(outside)-1-i)
		b := e.path.Bounds()
		text := Text{Layer: "size", S: st.word(e.key, unit.A("size", st.Units.Pair(e.width, e.dept))), Size: size, Anchor: BaseLeft, Role: e.role}
		// Lines stand side by side so that they never cross a label.
		x := s.geom.Bounds.Center().X + st.Model(4+1.8*float64(i))
		foot := edgeAbove(e.path, x, b)
		text.At, text.Off = geom.P(x, top), geom.P(0.8, up)
		knee := geom.P(x, top+st.Model(up+size*0.35))
		items = append(items, line("size", geom.P(x, foot), knee, e.role, Hair, Solid),
			Mark{Layer: "size", Kind: Disc, At: geom.P(x, foot), Size: 1, Fill: e.role, Role: None}, text)
	}
	return items, 3 + lineHeight*float64(len(outside))
}

// edgeAbove gives the y at which the upright line through x leaves the path at
// the top.
func edgeAbove(p geom.Path, x float64, b geom.Rect) float64 {
	ring := p.Flatten(0.5)
	best := math.Inf(-1)
	for i, a := range ring {
		c := ring[(i+1)%len(ring)]
		if (a.X <= x) != (c.X <= x) {
			best = max(best, a.Y+(c.Y-a.Y)*(x-a.X)/(c.X-a.X))
		}
	}
	if math.IsInf(best, -1) {
		return b.Max.Y
	}
	return best
}

func ceilDiv(v, step float64) int { return int(math.Ceil(v / step)) }

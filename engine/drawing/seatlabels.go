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
func (s *Seat) dims(st Style) []Item {
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
		add(dimension{a: m.BackLeft, b: m.BackRight, base: b.Max.Y, away: dimAway, label: st.Units.Label(m.BackWidth)})
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

// sized is a blank to be labelled with its size.
type sized struct {
	text string
	path geom.Path
	role Role
}

// sizes labels board, foam and cover. Each label stands along its own back
// edge: inside its band, or just over it in the next band. Where neither has
// room, it stands on the left of the drawing with a line to its edge.
func (s *Seat) sizes(st Style) []Item {
	var all []sized
	add := func(key string, b Blank, r Role) {
		if len(b.Path) > 1 && b.Width > 0 {
			all = append(all, sized{st.word(key, unit.A("size", st.Units.Pair(b.Width, b.Depth))), b.Path, r})
		}
	}
	add("size-cover", s.in.Cover, CoverLine)
	add("size-wadding", s.in.Wadding, WaddingLine)
	add("size-foam", s.in.Foam, FoamLine)
	add("size-board", Blank{s.in.Board, s.in.Size[0], s.in.Size[1]}, BoardLine)
	board := s.in.Board.Bounds()
	placed := &placer{air: st.Model(0.5)}
	for _, e := range all {
		placed.keepOff(e.path, 0.5)
	}
	if len(s.in.DustCloth.Path) > 1 {
		placed.keepOff(s.in.DustCloth.Path, 0.5)
	}
	x := board.Center().X
	placed.lines = append(placed.lines, geom.P(x, board.Min.Y), geom.P(x, board.Max.Y+st.Model(4)))
	if m := s.in.Measures; m != nil && s.in.Dims { // the extension lines of the back width
		for _, p := range []geom.Pt{m.BackLeft, m.BackRight} {
			placed.lines = append(placed.lines, p, geom.P(p.X, s.geom.Bounds.Max.Y))
		}
	}
	var items []Item
	var outside []sized
	for i, e := range all {
		text := Text{Layer: "size", S: e.text, Size: st.text(Small), Role: e.role}
		b := e.path.Bounds()
		in := func(t Text) bool { // in its own band
			c := textBox(t, st).Center()
			return e.path.Contains(c) && (i+1 == len(all) || !all[i+1].path.Contains(c))
		}
		over := func(t Text) bool { // in the band just outside
			c := textBox(t, st).Center()
			return i > 0 && !e.path.Contains(c) && all[i-1].path.Contains(c)
		}
		var places []Text
		try := func(ok func(Text) bool, right, left Anchor, off float64) {
			for _, share := range [...]float64{0.94, 0.88, 0.82, 0.76, 0.7, 0.64, 0.58, 0.06, 0.12, 0.18, 0.24, 0.3, 0.36, 0.42} {
				t := text
				t.At, t.Off, t.Anchor = geom.P(b.Min.X+b.W()*share, b.Max.Y), geom.P(0, off), right
				if share < 0.5 {
					t.Anchor = left
				}
				if ok(t) {
					places = append(places, t)
				}
			}
		}
		for _, down := range [...]float64{1.5, 2.4, 3.4} {
			try(in, TopRight, TopLeft, -down)
		}
		try(over, BaseRight, BaseLeft, 1.3)
		if t, ok := placed.first(st, places...); ok {
			items = append(items, t)
			continue
		}
		outside = append(outside, e)
	}
	return append(items, s.callouts(outside, st)...)
}

// callouts writes size labels in a column on the left of the drawing, each
// with a level line to its own left edge; under the notch's label and only as
// many as stand clear of the bow's.
func (s *Seat) callouts(all []sized, st Style) []Item {
	board, b := s.in.Board.Bounds(), s.geom.Bounds
	y := board.Max.Y - st.Model(4)
	for _, n := range s.in.Notches {
		y = min(y, n.Inner.Y-st.Model(3))
	}
	size := st.text(Small)
	lowest := board.Min.Y + board.H()*0.3
	var items []Item
	for _, e := range all {
		if y < lowest {
			break
		}
		edge, ok := leave(e.path.Flatten(0.5), geom.P(board.Center().X, y), geom.P(-1, 0))
		if !ok {
			continue
		}
		end := geom.P(b.Min.X-st.Model(3), y)
		items = append(items, line("size", edge, end, e.role, Hair, Solid),
			Mark{Layer: "size", Kind: Disc, At: edge, Size: 1, Fill: e.role},
			Text{Layer: "size", S: e.text, At: end, Off: geom.P(-0.8, 0), Size: size, Role: e.role, Anchor: MidRight})
		y -= st.Model(size * 1.6)
	}
	return items
}

func ceilDiv(v, step float64) int { return int(math.Ceil(v / step)) }

package drawing

import (
	"math"

	"slipseat/engine/geom"
)

// markLong is the length of a centre mark, paper millimetres.
const markLong = 2

// onPiece draws what stands on one piece: its number, name and size as far as
// there is room, centre marks on its edges, the arrow to the seat's front.
func (l *Lay) onPiece(p *Piece, st Style) []Item {
	if len(p.Shape) < 2 {
		return nil
	}
	shape := p.Shape.Translate(l.up)
	role := Ink
	if l.in.Stale || p.Elsewhere {
		role = Ink2
	}
	var items []Item
	if p.Front != (geom.Pt{}) {
		items = append(items, l.centreMarks(p, shape, st)...)
	}
	if p.State == Locked {
		// A pin in the corner: the word may not find room on a small piece.
		b := shape.Bounds()
		items = append(items, Mark{Layer: "pin", Kind: Disc, At: geom.P(b.Min.X, b.Max.Y), Off: geom.P(2.4, -2.4), Size: 2.6, Fill: Action, Role: Paper, Width: Thin})
	}
	if p.HasMotif {
		items = append(items, Mark{Layer: "motif-point", Kind: Disc, At: p.Motif.Add(l.up), Size: 1.6, Fill: Paper, Role: Motif, Width: Thin})
	}
	spot, room := labelSpot(shape)
	lines := l.lines(p, st, role)
	// Keep the label clear of the motif point: the number over it, the rest
	// under it.
	if p.HasMotif {
		if its, b, ok := roundMotif(lines, p.Motif.Add(l.up), shape, st); ok {
			items = append(items, its...)
			if p.Front != (geom.Pt{}) {
				items = append(items, l.frontArrow(p, shape, b, st)...)
			}
			return items
		}
	}
	// Try all lines level, then all turned, then fewer, then smaller.
	var chosen []Item
	var taken box
	for n := len(lines); n > 0 && chosen == nil; n-- {
		for _, turned := range []bool{false, true} {
			its, b := stackLines(lines[:n], spot, turned, st)
			if chosen == nil && fits(b, shape, st) {
				chosen, taken = its, b
			}
		}
	}
	for _, share := range []float64{0.8, 0.62, 0.5} {
		if chosen != nil {
			break
		}
		for _, turned := range []bool{room.H() > room.W(), room.H() <= room.W()} {
			t := lines[0]
			t.Size *= share
			l.plain(&t, p)
			its, b := stackLines([]Text{t}, spot, turned, st)
			if chosen = its; fits(b, shape, st) {
				taken = b
				break
			}
			chosen = nil
		}
	}
	if chosen == nil { // never leave a piece without its number
		t := lines[0]
		t.Size *= 0.5
		l.plain(&t, p)
		chosen, taken = stackLines([]Text{t}, spot, room.H() > room.W(), st)
	}
	items = append(items, chosen...)
	if p.Front != (geom.Pt{}) {
		items = append(items, l.frontArrow(p, shape, taken, st)...)
	}
	return items
}

// plain gives a number that is too large for its piece a plate of the piece's
// own colour instead of a badge.
func (l *Lay) plain(t *Text, p *Piece) {
	t.Plate, t.Role, t.Pad = l.tint(p), Ink, 0.2
}

// roundMotif sets the first line over a motif point and the others under it,
// if that fits.
func roundMotif(lines []Text, m geom.Pt, shape geom.Path, st Style) ([]Item, box, bool) {
	const clear = 1.7
	for n := len(lines); n > 0; n-- {
		up, b := stackLines(lines[:1], m, false, st)
		by := st.Model(clear) - (b.Min.Y - m.Y)
		up, b = stackLines(lines[:1], geom.P(m.X, m.Y+by), false, st)
		if n > 1 {
			down, c := stackLines(lines[1:n], m, false, st)
			by := st.Model(clear) + c.Max.Y - m.Y
			down, c = stackLines(lines[1:n], geom.P(m.X, m.Y-by), false, st)
			up, b = append(up, down...), b.Union(c)
		}
		if fits(b, shape, st) {
			return up, b, true
		}
	}
	return nil, box{}, false
}

// lines are the texts of a piece, the most important first.
func (l *Lay) lines(p *Piece, st Style, role Role) []Text {
	id := Text{Layer: "piece", S: p.ID, Size: st.text(Large), Weight: Bold, Role: role, Anchor: MidCentre}
	if st.Print {
		id.Plate, id.Role, id.Pad = Action, OnAction, 1.3
	}
	if p.Elsewhere {
		id.Size, id.Weight, id.Plate, id.Role = st.text(Small), Regular, None, role
		return []Text{id}
	}
	lines := []Text{id}
	if p.Width > 0 && p.Depth > 0 {
		lines = append(lines, Text{Layer: "piece-size", S: st.Units.Pair(p.Width, p.Depth), Size: st.text(Small), Role: role, Anchor: MidCentre})
	}
	if s := l.state(p, st); s != "" {
		lines = append(lines, Text{Layer: "piece-state", S: s, Size: st.text(Small), Weight: Bold, Role: role, Anchor: MidCentre})
	}
	if p.Name != "" {
		lines = append(lines, Text{Layer: "piece-name", S: p.Name, Size: st.text(Small), Role: role, Anchor: MidCentre})
	}
	// A plate of the piece's own colour keeps pattern and hatch off the words.
	for i := range lines {
		if lines[i].Plate == None {
			lines[i].Plate, lines[i].Pad = l.tint(p), 0.35
		}
	}
	return lines
}

func (l *Lay) state(p *Piece, st Style) string {
	switch p.State {
	case Locked:
		return st.word("locked")
	case IsCut:
		return st.word("is-cut")
	case Spoiled:
		return st.word("spoiled")
	case Misplaced:
		return st.word("misplaced")
	case Pushing:
		return st.word("pushing")
	}
	return ""
}

// stackLines sets lines under one another around a point, level or turned to
// read upwards, and gives the box they cover.
func stackLines(lines []Text, at geom.Pt, turned bool, st Style) ([]Item, box) {
	total := 0.0
	heights := make([]float64, len(lines))
	for i, t := range lines {
		heights[i] = t.Size * 1.32
		if t.Pad > 1 {
			heights[i] = st.Metrics.CapHeight(t.Size, t.Weight) + 2*t.Pad + 1
		}
		total += heights[i]
	}
	down := total / 2
	var items []Item
	var b box
	for i, t := range lines {
		mid := down - heights[i]/2
		down -= heights[i]
		t.At = at
		t.Off = geom.P(0, mid)
		if turned {
			t.Off, t.Turned = geom.P(-mid, 0), 90
		}
		items = append(items, t)
		if tb := textBox(t, st); i == 0 {
			b = tb
		} else {
			b = b.Union(tb)
		}
	}
	return items, b
}

// fits tells whether a box lies inside a shape with a little air.
func fits(b box, shape geom.Path, st Style) bool {
	b = b.Grow(st.Model(0.7))
	ring := shape.Flatten(1)
	if !ring.Contains(b.Center()) {
		return false
	}
	for i, a := range ring {
		if crosses(b, a, ring[(i+1)%len(ring)]) {
			return false
		}
	}
	return true
}

// labelSpot is a good place for a label in a shape: the middle of its box when
// that is well inside, else the point of a coarse net that lies deepest.
func labelSpot(shape geom.Path) (geom.Pt, geom.Rect) {
	b := shape.Bounds()
	ring := shape.Flatten(1)
	depth := func(p geom.Pt) float64 {
		if !ring.Contains(p) {
			return -1
		}
		d := math.Inf(1)
		for i, a := range ring {
			d = min(d, geom.Segment{A: a, B: ring[(i+1)%len(ring)]}.Distance(p))
		}
		return d
	}
	if c := b.Center(); depth(c) >= 0.35*min(b.W(), b.H()) {
		return c, b
	}
	best, spot := -1.0, b.Center()
	const net = 12
	for i := 1; i < net; i++ {
		for j := 1; j < net; j++ {
			p := geom.P(b.Min.X+b.W()*float64(i)/net, b.Min.Y+b.H()*float64(j)/net)
			if d := depth(p); d > best+1e-9 {
				best, spot = d, p
			}
		}
	}
	return spot, b
}

// centreMarks are short strokes inwards from the edges where the seat's centre
// line and its cross line leave the piece.
func (l *Lay) centreMarks(p *Piece, shape geom.Path, st Style) []Item {
	ring := shape.Flatten(0.5)
	c := p.Centre.Add(l.up)
	var items []Item
	for i := range 4 {
		dir := p.Front.Turned(i)
		if at, ok := leave(ring, c, dir); ok {
			end := at.Sub(dir.Mul(st.Model(markLong)))
			m := line("centre-mark", at, end, Cut, Medium, Solid)
			if i == 0 { // the front one is a double stroke
				side := dir.Turned(1).Mul(st.Model(0.55))
				items = append(items, line("centre-mark", at.Add(side), end.Add(side), Cut, Medium, Solid),
					line("centre-mark", at.Sub(side), end.Sub(side), Cut, Medium, Solid))
				continue
			}
			items = append(items, m)
		}
	}
	return items
}

// leave gives the last point in which the ray from p along dir leaves a ring.
func leave(ring geom.Polygon, p, dir geom.Pt) (geom.Pt, bool) {
	best := -1.0
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		e := b.Sub(a)
		den := dir.Cross(e)
		if math.Abs(den) < 1e-12 {
			continue
		}
		t := a.Sub(p).Cross(e) / den
		u := a.Sub(p).Cross(dir) / den
		if t > 0 && u >= -1e-9 && u <= 1+1e-9 {
			best = max(best, t)
		}
	}
	return p.Add(dir.Mul(best)), best > 0
}

// frontArrow points to the seat's front from inside the piece's front edge,
// with the word where there is room. It lies along the side of the piece,
// outside the board's outline if it can, clear of the label.
func (l *Lay) frontArrow(p *Piece, shape geom.Path, taken box, st Style) []Item {
	ring := shape.Flatten(0.5)
	centre := p.Centre.Add(l.up)
	side := p.Front.Turned(1)
	sideEdge, okA := leave(ring, centre, side)
	otherEdge, okB := leave(ring, centre, side.Mul(-1))
	if !okA || !okB {
		return nil
	}
	board := &placer{}
	if len(p.Board) > 1 {
		board.keepOff(p.Board.Translate(l.up), 1)
	}
	a, b := side.Dot(sideEdge.Sub(centre)), side.Dot(otherEdge.Sub(centre))
	in := st.Model(2.4)
	shifts := []float64{a - in, b + in, a - 1.6*in, b + 1.6*in, st.Model(4), st.Model(-4), st.Model(8), st.Model(-8)}
	for _, word := range []frontWord{wordBehind, wordOver, noWord} {
		for _, clear := range []bool{true, false} {
			for _, shift := range shifts {
				items, cover := l.frontAt(p, ring, centre.Add(side.Mul(shift)), word, st)
				if items == nil || cover.Overlaps(taken) || !fits(cover, shape, st) || clear && !board.free(cover) {
					continue
				}
				return items
			}
		}
	}
	return nil
}

// frontWord is where the word stands beside the arrow to the front.
type frontWord uint8

const (
	wordBehind frontWord = iota // at the arrow's tail
	wordOver                    // along the shaft
	noWord
)

// frontAt draws the arrow on the line through from towards the front.
func (l *Lay) frontAt(p *Piece, ring geom.Polygon, from geom.Pt, word frontWord, st Style) ([]Item, box) {
	edge, ok := leave(ring, from, p.Front)
	if !ok {
		return nil, box{}
	}
	tip := edge.Sub(p.Front.Mul(st.Model(1.6)))
	tail := tip.Sub(p.Front.Mul(st.Model(4.2)))
	cover := geom.Rect{Min: tip, Max: tip}.Include(tail).Grow(st.Model(0.7))
	items := []Item{Arrow{Layer: "front", From: tail, To: tip, HeadTo: true, Head: 1.8, Role: BoardLine, Width: Thin}}
	if word == noWord {
		return items, cover
	}
	t := Text{Layer: "front", S: st.word("front"), Size: st.text(Small * 0.95), Role: BoardLine, At: tail, Plate: l.tint(p), Pad: 0.3}
	// The word reads level, or upwards for an arrow that points up or down.
	right := p.Front.X > 0.5 || p.Front.X >= -0.5 && p.Front.Y > 0
	level := math.Abs(p.Front.X) > 0.5
	if !level {
		t.Turned = 90
	}
	if word == wordOver {
		t.At, t.Anchor, t.Off = tip, BaseLeft, geom.P(0, 1.4)
		if right {
			t.Anchor = BaseRight
		}
		if !level {
			t.Off = geom.P(-1.4, 0)
		}
	} else {
		along := 1.0
		t.Anchor = MidLeft
		if right {
			t.Anchor, along = MidRight, -1
		}
		t.Off = geom.P(along, 0)
		if !level {
			t.Off = geom.P(0, along)
		}
	}
	cover = cover.Union(textBox(t, st))
	return append(items, t), cover
}

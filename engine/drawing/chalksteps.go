package drawing

import (
	"cmp"
	"math"
	"slices"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// ChalkOp is what one step of the chalk list asks to be done.
type ChalkOp uint8

// Steps of the chalk list.
const (
	ChalkSquare  ChalkOp = iota // square the cut end; all readings count from it
	ChalkOnTable                // have From to To, counted from the squared end, on the table
	ChalkBase                   // mark both edges at At; what follows counts from the line between the marks
	ChalkLineOp                 // chalk one straight line
	ChalkMotif                  // draw a piece from its own motif
	ChalkLay                    // mark points and draw round a template, or join them
	CutAcross                   // cut straight across at At, from edge to edge of what lies there
	CutAlong                    // cut straight along at At, From to To
	CutOut                      // cut pieces out by their lines
)

// Code names the step in words.
func (o ChalkOp) Code() string {
	return [...]string{"square", "on-table", "base", "line", "motif", "lay", "cut-across", "cut-along", "cut-out"}[o]
}

// ChalkStep is one step. At, From and To are tape readings: along the goods
// from the end that lies on the table (the squared end, the last straight cut
// or the last marks at both edges), across them from the near selvedge's outer edge.
// Only what the Op needs is set. All readings are whole marking steps.
type ChalkStep struct {
	Op       ChalkOp
	Across   bool // of a line
	At       unit.Length
	From, To unit.Length
	Pieces   []string

	// Motif is where the piece's own motif should read on the tape, as a check;
	// an unset one has no place in that direction.
	MotifAlong, MotifAcross unit.Opt
	// What the piece reaches from its motif, seen as the seat is seen from the
	// top; unset where the pattern does not bind the piece.
	Front, Back, Left, Right unit.Opt

	Template string       // what is laid on the points; empty when they are joined
	Points   []ChalkPoint // of ChalkLay
	// TooLong tells that what must lie on the table is longer than it: a piece
	// that no cut can shorten.
	TooLong bool
}

// ChalkPoint is a point to mark.
type ChalkPoint struct {
	Mark          PointMark
	Along, Across unit.Length
}

// PointMark says which point of a template or piece a point is.
type PointMark uint8

// Points to mark.
const (
	FrontMark PointMark = iota // the centre mark in front
	BackMark                   // the centre mark at the back
	Corner                     // a corner, to be joined to the next
)

// Code names the point in words.
func (m PointMark) Code() string { return [...]string{"front", "back", "corner"}[m] }

// MotifApart is how far motif and tape may differ before the repeat has to be
// measured again (common practice, no source).
const MotifApart = unit.In / 4

// ChalkSteps is the list by which a lay is drawn and cut without looking at the
// picture: stretch by stretch as the goods come onto the table, in each first
// what is drawn across, then along, then the cuts. No stretch is longer than
// the table, unless a single piece is. Pieces that the pattern binds are given
// from their own motif; pieces that are no rectangles by points and a template.
func ChalkSteps(in LayIn) []ChalkStep {
	c := &chalker{in: in, rects: printed(in)}
	for i, p := range in.Pieces {
		if len(p.Shape) > 1 {
			c.left = append(c.left, i)
		}
	}
	if len(c.left) == 0 {
		return nil
	}
	slices.SortStableFunc(c.left, func(a, b int) int { return cmp.Compare(c.rects[a].Min.X, c.rects[b].Min.X) })
	if in.Sheet {
		c.stretch(0, in.Length.MM(), c.left, false)
		return c.steps
	}
	c.add(ChalkStep{Op: ChalkSquare})
	c.roll()
	return c.steps
}

// printed are the boxes of the pieces as they are printed: in the drawing's own
// frame, the near corner at the nearest marking step, the size in whole steps
// where the piece is squared. Rounding keeps the order of edges, so that pieces
// that lie clear of each other still do.
func printed(in LayIn) []geom.Rect {
	by := in.shift()
	out := make([]geom.Rect, len(in.Pieces))
	near := func(x float64) float64 { return unit.RoundNearest(unit.Length(x), in.Step).MM() }
	for i, p := range in.Pieces {
		if len(p.Shape) < 2 {
			continue
		}
		b := p.Shape.Bounds()
		b = geom.Rect{Min: b.Min.Add(by), Max: b.Max.Add(by)}
		if !squared(p.Shape) {
			out[i] = geom.Rect{Min: geom.P(near(b.Min.X), near(b.Min.Y)), Max: geom.P(near(b.Max.X), near(b.Max.Y))}
			continue
		}
		lo := geom.P(near(b.Min.X), near(b.Min.Y))
		out[i] = geom.Rect{Min: lo, Max: lo.Add(geom.P(near(b.W()), near(b.H())))}
	}
	return out
}

// chalker makes the steps of one lay.
type chalker struct {
	in    LayIn
	rects []geom.Rect
	left  []int // pieces still to be cut, by their near end
	steps []ChalkStep
	base  float64 // where the tape begins
}

func (c *chalker) add(s ChalkStep) { c.steps = append(c.steps, s) }

// roll takes the goods onto the table stretch by stretch.
func (c *chalker) roll() {
	table := c.in.Table.MM()
	if !(table > 0) {
		table = math.Inf(1)
	}
	end := max(c.in.Length.MM(), c.in.Buy.MM())
	for len(c.left) > 0 {
		first := c.rects[c.left[0]]
		// What lies before the first piece and takes the piece off the table is
		// cut off by itself.
		if first.Max.X-c.base > table+chalkSame && first.Min.X > c.base+chalkSame {
			to := min(first.Min.X, c.base+table)
			c.add(ChalkStep{Op: ChalkOnTable, From: unit.Length(c.base), To: unit.Length(to)})
			c.add(ChalkStep{Op: CutAcross, At: unit.Length(to - c.base)})
			c.base = to
			continue
		}
		// Whole rows first: a straight cut across ends the stretch.
		n, to := 0, 0.0
		reach := 0.0
		for i, k := range c.left {
			if i > 0 && c.rects[k].Min.X >= reach-chalkSame && reach-c.base <= table+chalkSame {
				n, to = i, reach
			}
			reach = max(reach, c.rects[k].Max.X)
		}
		if reach-c.base <= table+chalkSame {
			n, to = len(c.left), reach
		}
		if n > 0 {
			now, later := c.left[:n], c.left[n:]
			next := min(to+2*MotifApart.MM(), end)
			if len(later) > 0 {
				next = c.rects[later[0]].Min.X
			}
			to = min(c.between(to, next, true, now, later), c.base+table)
			c.stretch(c.base, to, now, to < end-chalkSame)
			c.left, c.base = later, to
			continue
		}
		// No straight cut fits the table: what lies on it whole is cut out, and
		// the goods are pulled on to marks at both edges.
		var now, later []int
		for _, k := range c.left {
			if c.rects[k].Max.X-c.base <= table+chalkSame {
				now = append(now, k)
			} else {
				later = append(later, k)
			}
		}
		long := len(now) == 0
		if long { // a piece longer than the table
			now, later = c.left[:1], c.left[1:]
		}
		to = 0
		for _, k := range now {
			to = max(to, c.rects[k].Max.X)
		}
		if !long && !math.IsInf(table, 1) {
			to = max(to, min(c.base+table, end))
		}
		next := math.Inf(1)
		for _, k := range later {
			next = min(next, c.rects[k].Min.X)
		}
		c.add(ChalkStep{Op: ChalkOnTable, From: unit.Length(c.base), To: unit.Length(to), TooLong: long})
		c.draw(now)
		switch {
		case len(later) == 0:
		case next <= to+chalkSame:
			c.add(ChalkStep{Op: ChalkBase, At: unit.Length(next - c.base)})
		default: // nothing of the later pieces lies here
			next = to
			c.add(ChalkStep{Op: CutAcross, At: unit.Length(to - c.base)})
		}
		c.cut(now)
		c.left = later
		if len(later) > 0 {
			c.base = next
		}
	}
}

// stretch is a part of the goods between two straight ends.
func (c *chalker) stretch(from, to float64, pieces []int, cutOff bool) {
	c.base = from
	if !c.in.Sheet {
		c.add(ChalkStep{Op: ChalkOnTable, From: unit.Length(from), To: unit.Length(to)})
	}
	c.draw(pieces)
	if cutOff {
		c.add(ChalkStep{Op: CutAcross, At: unit.Length(to - from)})
	}
	c.part(pieces, geom.Rect{Min: geom.P(from, 0), Max: geom.P(to, c.in.Width.MM())}, true)
	c.cut(pieces)
}

// draw gives the lines of pieces: across, from the motifs, along, points.
func (c *chalker) draw(pieces []int) {
	var across, along []ChalkLine
	for _, i := range pieces {
		p, r := &c.in.Pieces[i], c.rects[i]
		if !squared(p.Shape) {
			continue
		}
		u0, u1, v0, v1 := unit.Length(r.Min.X-c.base), unit.Length(r.Max.X-c.base), unit.Length(r.Min.Y), unit.Length(r.Max.Y)
		if !p.bound(true, c.in.Lattice) {
			across = append(across, ChalkLine{true, u0, v0, v1, []string{p.ID}}, ChalkLine{true, u1, v0, v1, []string{p.ID}})
		}
		if !p.bound(false, c.in.Lattice) {
			along = append(along, ChalkLine{false, v0, u0, u1, []string{p.ID}}, ChalkLine{false, v1, u0, u1, []string{p.ID}})
		}
	}
	line := func(ls []ChalkLine) {
		for _, l := range mergeLines(ls, chalkJoin) {
			c.add(ChalkStep{Op: ChalkLineOp, Across: l.Across, At: l.At, From: l.From, To: l.To, Pieces: l.Pieces})
		}
	}
	line(across)
	for _, i := range pieces {
		c.motif(i)
	}
	line(along)
	for _, i := range pieces {
		c.points(i)
	}
}

// bound tells whether the pattern says where the piece lies in a direction.
func (p *Piece) bound(along bool, l lay.Lattice) bool {
	if !p.HasMotif || p.Front == (geom.Pt{}) {
		return false
	}
	if along {
		return p.BoundAlong && l.Along > 0
	}
	return p.BoundAcross && l.Across > 0
}

// motif gives a piece from its own motif: the one nearest to its motif point.
func (c *chalker) motif(i int) {
	p, r, l := &c.in.Pieces[i], c.rects[i], c.in.Lattice
	along, across := p.bound(true, l), p.bound(false, l)
	if !along && !across {
		return
	}
	q := nearestMotif(p.Motif, l)
	at := q.Add(c.in.shift())
	s := ChalkStep{Op: ChalkMotif, Pieces: []string{p.ID}}
	near := func(x float64) unit.Length { return unit.RoundNearest(unit.Length(x), c.in.Step) }
	if along {
		s.MotifAlong = unit.Some(near(at.X) - unit.Length(c.base))
	}
	if across {
		s.MotifAcross = unit.Some(near(at.Y))
	}
	// The exact box, and the size as printed: one side is rounded, the other
	// follows, so that the two add up to the piece.
	b := p.Shape.Bounds()
	by := c.in.shift()
	b = geom.Rect{Min: b.Min.Add(by), Max: b.Max.Add(by)}
	side := func(dir geom.Pt) *unit.Opt {
		switch p.Front {
		case dir:
			return &s.Front
		case dir.Mul(-1):
			return &s.Back
		case dir.Turned(3): // facing the front, the seat's right is a quarter turn on
			return &s.Right
		}
		return &s.Left
	}
	if along {
		low := near(at.X - b.Min.X)
		*side(geom.P(-1, 0)) = unit.Some(low)
		*side(geom.P(1, 0)) = unit.Some(unit.Length(r.W()) - low)
	}
	if across {
		low := near(at.Y - b.Min.Y)
		*side(geom.P(0, -1)) = unit.Some(low)
		*side(geom.P(0, 1)) = unit.Some(unit.Length(r.H()) - low)
	}
	c.add(s)
}

// nearestMotif is the motif of a lattice that a point belongs to, as package
// lay reckons it: that of the nearest column, and along it the nearest one. A
// direction without a repeat keeps the point's own place.
func nearestMotif(p geom.Pt, l lay.Lattice) geom.Pt {
	q := p.Sub(l.Phase)
	out := p
	drop := 0.0
	if h := l.Across.MM(); h > 0 {
		column := math.Round(q.Y / h)
		out.Y = l.Phase.Y + column*h
		_, frac := math.Modf(column * l.Drop)
		drop = frac
	}
	if v := l.Along.MM(); v > 0 {
		out.X = l.Phase.X + drop*v + math.Round((q.X-drop*v)/v)*v
	}
	return out
}

// points gives the points of a piece that is no rectangle: the centre marks in
// front and at the back, which its template carries, or its corners.
func (c *chalker) points(i int) {
	p := &c.in.Pieces[i]
	if squared(p.Shape) {
		return
	}
	by := c.in.shift()
	s := ChalkStep{Op: ChalkLay, Pieces: []string{p.ID}, Template: p.Template}
	point := func(m PointMark, q geom.Pt) {
		near := func(x float64) unit.Length { return unit.RoundNearest(unit.Length(x), c.in.Step) }
		s.Points = append(s.Points, ChalkPoint{m, near(q.X+by.X) - unit.Length(c.base), near(q.Y + by.Y)})
	}
	if p.Template != "" && p.Front != (geom.Pt{}) {
		ring := p.Shape.Flatten(0.05)
		front, ok := leave(ring, p.Centre, p.Front)
		back, ok2 := leave(ring, p.Centre, p.Front.Mul(-1))
		if ok && ok2 {
			point(FrontMark, front)
			point(BackMark, back)
			c.add(s)
			return
		}
	}
	s.Template = ""
	for _, v := range p.Shape {
		point(Corner, v.Pt)
	}
	c.add(s)
}

// part cuts a rectangle of goods apart by straight cuts that meet no piece:
// across first, then along, as far as there are any.
func (c *chalker) part(pieces []int, box geom.Rect, across bool) {
	if len(pieces) < 2 {
		return
	}
	slabs := c.slabs(pieces, across)
	if len(slabs) == 1 {
		slabs = c.slabs(pieces, !across)
		if len(slabs) == 1 {
			return // cut out by the lines
		}
		across = !across
	}
	for n, s := range slabs {
		b, at := box, s.to
		if n < len(slabs)-1 {
			at = c.between(s.to, slabs[n+1].from, across, s.pieces, slabs[n+1].pieces)
			if across {
				b.Max.X = at
				c.add(ChalkStep{Op: CutAcross, At: unit.Length(at - c.base), From: unit.Length(box.Min.Y), To: unit.Length(box.Max.Y)})
			} else {
				b.Max.Y = at
				c.add(ChalkStep{Op: CutAlong, At: unit.Length(at), From: unit.Length(box.Min.X - c.base), To: unit.Length(box.Max.X - c.base)})
			}
		}
		c.part(s.pieces, b, !across)
		if across {
			box.Min.X = at
		} else {
			box.Min.Y = at
		}
	}
}

// between is where a straight cut goes between pieces that end at to and others
// that begin at from: on the line of the first, so that it serves as their edge;
// in the middle where pieces on either side are drawn from their motif, which
// may lie a little off the tape.
func (c *chalker) between(to, from float64, across bool, a, b []int) float64 {
	for _, list := range [2][]int{a, b} {
		for _, i := range list {
			if c.in.Pieces[i].bound(across, c.in.Lattice) || !squared(c.in.Pieces[i].Shape) {
				mid := unit.RoundNearest(unit.Length((to+from)/2), c.in.Step).MM()
				return max(to, min(mid, from))
			}
		}
	}
	return to
}

// slabs groups pieces that no straight cut in a direction parts.
func (c *chalker) slabs(pieces []int, across bool) []layRow {
	ends := func(i int) (float64, float64) {
		if r := c.rects[i]; across {
			return r.Min.X, r.Max.X
		}
		return c.rects[i].Min.Y, c.rects[i].Max.Y
	}
	order := slices.Clone(pieces)
	slices.SortStableFunc(order, func(a, b int) int {
		x, _ := ends(a)
		y, _ := ends(b)
		return cmp.Compare(x, y)
	})
	var out []layRow
	for _, i := range order {
		lo, hi := ends(i)
		if n := len(out); n > 0 && lo < out[n-1].to-chalkSame {
			out[n-1].to = max(out[n-1].to, hi)
			out[n-1].pieces = append(out[n-1].pieces, i)
			continue
		}
		out = append(out, layRow{lo, hi, []int{i}})
	}
	return out
}

// cut is the last step of a stretch.
func (c *chalker) cut(pieces []int) {
	s := ChalkStep{Op: CutOut}
	for _, i := range pieces {
		s.Pieces = append(s.Pieces, c.in.Pieces[i].ID)
	}
	slices.SortStableFunc(s.Pieces, byNumber)
	c.add(s)
}

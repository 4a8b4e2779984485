package drawing

import (
	"strings"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// CutSheetIn is what a cut sheet says about one cloth or one foam. Texts are
// finished sentences; an empty one is left out. Everything that can be read
// off the lays (numbers, sizes, places, chalk lines) is.
type CutSheetIn struct {
	Title   string // "Cut sheet, cloth"
	Job     string // "Reading room, 9 seats"
	Goods   string // "Fern sprig, 54 in wide, one way, repeat 9 in"
	Buy     string // "Buy 4 yd"
	BuyWhy  string // "129⅝ in laid, 1 in to square up"
	Draft   string // why the sheet is not final yet
	Lays    []LayIn
	Notes   []string // before the first cut
	Remarks []string // on shaped pieces, joints, offcuts
	// Cautions are shown in a box, each with its title.
	Cautions []SheetCaution
	Stamp    string // date and revision, at the foot
}

// SheetCaution is a caution in words.
type SheetCaution struct{ Title, Text string }

// Scales of the picture of a lay on a cut sheet.
const (
	// leastScale keeps a 20 in piece 25 mm long, room for its number and size
	// at arm's length; a longer roll is broken into parts.
	leastScale = 1 / 20.0
	// mostScale keeps a small lay from filling a page with a few pieces.
	mostScale = 1 / 6.0
	// sidebarWidth is the least room beside a picture for the chalk lines.
	sidebarWidth = 58
)

// CutSheet sets a cut sheet on pages of a size, as many as it needs. Each page
// is a drawing in millimetres of paper, origin at the lower left, and is to be
// painted with Print's palette at 1 paper mm to the model mm.
func CutSheet(in CutSheetIn, size PageSize, st Style) []Drawing {
	st.Print = true
	if size.Name == Long().Name {
		size = longFor(in, size)
	}
	c := &sheet{in: in}
	c.pager = newPager(st, size, c.head)
	c.draft()
	for i := range in.Lays {
		c.lay(i)
	}
	if !c.beside {
		c.notesBelow()
	}
	c.cautions()
	for i := range in.Lays {
		c.pieces(i)
	}
	for i := range in.Lays {
		c.steps(i)
	}
	c.feet()
	return c.pages
}

// longFor gives the page on which the longest of the lays stands in one piece,
// as large as the page's height allows.
func longFor(in CutSheetIn, size PageSize) PageSize {
	for _, l := range in.Lays {
		if across := l.Width.MM(); across > 0 && !l.Sheet {
			scale := min((size.H-2*PageMargin)*tallShare/across, mostScale)
			size.W = max(size.W, max(l.Length.MM(), l.Buy.MM())*scale+2*PageMargin+rulerRoom+8)
		}
	}
	size.W = min(size.W, longestPage)
	return size
}

// tallShare is how much of a page's height a picture may take.
const tallShare = 0.6

// sheet carries one cut sheet while it is set.
type sheet struct {
	*pager
	in     CutSheetIn
	beside bool // the notes stand beside a picture already
	scale  float64
}

// head writes the heading: in full on the first page, in one line on others.
func (c *sheet) head(p *pager) {
	in, m := &c.in, p.st.Metrics
	if len(p.pages) > 1 {
		size := p.st.text(Normal)
		p.y -= size
		p.write(shorten(m, strings.TrimSuffix(in.Title+" · "+in.Job, " · "), size, Bold, p.width()*0.7), p.left(), p.y, size, Bold, BaseLeft, Ink)
		p.write(in.Buy, p.right(), p.y, size, Bold, BaseRight, Ink)
		p.y -= 2
		p.rule(p.left(), p.right(), p.y, Medium, Ink)
		p.y -= 5
		return
	}
	p.y -= 5.6
	w := m.Width(in.Buy, Title, Bold)
	p.write(shorten(m, in.Title, Title, Bold, p.width()-w-6), p.left(), p.y, Title, Bold, BaseLeft, Ink)
	p.write(in.Buy, p.right(), p.y, Title, Bold, BaseRight, Ink)
	p.y -= 2
	size := p.st.text(Normal)
	who := in.Job
	if who != "" && in.Goods != "" {
		who += ". "
	}
	who += in.Goods
	half := p.width()*0.5 - 3
	left := wrap(m, who, size, Regular, half)
	right := wrap(m, in.BuyWhy, size, Regular, half)
	for i := range max(len(left), len(right)) {
		p.y -= size * 1.35
		if i < len(left) {
			p.write(left[i], p.left(), p.y, size, Regular, BaseLeft, Ink2)
		}
		if i < len(right) {
			p.write(right[i], p.right(), p.y, size, Regular, BaseRight, Ink2)
		}
	}
	p.y -= 2.6
	p.rule(p.left(), p.right(), p.y, Thick, Ink)
	p.y -= 4
}

// draft says in a box that the sheet is not final.
func (c *sheet) draft() {
	if c.in.Draft != "" {
		c.box([]paragraph{{text: c.in.Draft, size: c.st.text(Normal), weight: Bold, role: Ink}}, c.left(), c.width())
	}
}

// box sets paragraphs in a rimmed box; the rim makes a caution of it where
// colour is lost.
func (c *sheet) box(ps []paragraph, x, width float64) {
	const pad = 2.6
	h := -c.column(ps, 0, 0, width-2*pad-2, false) + 2*pad
	c.need(h + 3)
	top := c.y
	c.add(Shape{Layer: "box", Path: geom.Box(x, top-h, x+width, top), Fill: Caution, Stroke: CautionRim, Width: Medium},
		Shape{Layer: "box", Path: geom.Box(x, top-h, x+1.4, top), Fill: Ink})
	c.column(ps, x+pad+2, top-pad, width-2*pad-2, true)
	c.y = top - h - 4
}

// lay draws one lay, in parts if it is long.
func (c *sheet) lay(i int) {
	in := c.in.Lays[i]
	across := in.Width.MM()
	length := max(in.Length.MM(), in.Buy.MM())
	if !(across > 0) || !(length > 0) {
		return
	}
	const rulerLeft = rulerRoom + 3
	room := c.width() - rulerLeft - 4 // the buying line's label may stand a little past
	over := rulerRoom + 2.0           // tape over the picture
	if in.Title != "" {
		over += 6
	}
	tall := (c.size.H - 2*PageMargin) * tallShare
	parts := roomyWindows(&in, room)
	scale := min(room/longest(parts), tall/across, mostScale)
	c.scale = scale
	for n, w := range parts {
		part := in.part(w)
		up := over
		if len(parts) > 1 {
			up += 8
		}
		st := c.st
		st.PaperPerModel = scale
		d := NewLay(part).Draw(st)
		under := st.Paper(-Reach(d, st).Min.Y) + 4 // arrows, notes and what to buy
		h := across*scale + up + under
		c.need(h)
		top := c.y
		if len(parts) > 1 {
			c.key(parts, n, length, top)
		}
		origin := geom.P(c.left()+rulerLeft, top-up-across*scale)
		c.add(d.Placed(scale, origin).Items...)
		c.y = top - h
		free := c.right() - (origin.X + (w.to-w.from)*scale) - 8
		if i == 0 && n == 0 && len(parts) == 1 && free >= sidebarWidth && c.sidebarFits(free, top-over+4) {
			c.beside = true
			c.y = min(c.y, c.column(c.notes(), c.right()-free, top-2, free, true)-4)
		}
	}
	c.y -= 2
}

// key shows which part of the roll a picture is.
func (c *sheet) key(parts []window, n int, length, top float64) {
	w := parts[n]
	text := c.st.word("part", unit.A("part", n+1), unit.A("parts", len(parts)),
		unit.A("from", c.along(w.from)), unit.A("to", c.along(w.to)))
	size := c.st.text(Normal)
	c.write(text, c.left(), top-size, size, Bold, BaseLeft, Ink)
	const wide, high = 60, 3.2
	x, y := c.right()-wide, top-size
	c.add(Shape{Layer: "key", Path: geom.Box(x, y, x+wide, y+high), Fill: None, Stroke: Ink2, Width: Thin})
	for i, o := range parts {
		s := Shape{Layer: "key", Path: geom.Box(x+wide*o.from/length, y, x+wide*o.to/length, y+high), Stroke: Ink2, Width: Hair}
		if i == n {
			s.Fill, s.Stroke, s.Width = Action, Action, Thin
		}
		c.add(s)
	}
}

// along writes a distance from the cut end: yards and inches, or metres.
func (c *sheet) along(mm float64) string {
	if c.st.Units.Size.Metric() {
		return c.st.Units.ClothLabel(unit.Length(mm))
	}
	return unit.YardsLabel(unit.Length(mm))
}

// notes are the paragraphs on what to do before the first cut, and remarks.
func (c *sheet) notes() []paragraph {
	head, size := c.st.text(Large), c.st.text(Normal)
	var ps []paragraph
	title := func(key string) {
		ps = append(ps, paragraph{text: c.st.word(key), size: head, weight: Bold, role: Ink, above: 4})
	}
	text := func(s string, above float64) {
		ps = append(ps, paragraph{text: s, size: size, role: Ink, above: above, bullet: true})
	}
	if len(c.in.Notes) > 0 {
		title("before-cut")
		for _, n := range c.in.Notes {
			text(n, 0.6)
		}
	}
	if len(c.in.Remarks) > 0 {
		title("remarks")
		for _, n := range c.in.Remarks {
			text(n, 0.6)
		}
	}
	return ps
}

func (c *sheet) sidebarFits(width, top float64) bool {
	return c.column(c.notes(), 0, top, width, false) > c.low+6
}

// notesBelow sets the notes under the picture, in two columns where there are
// remarks too.
func (c *sheet) notesBelow() {
	gap := 8.0
	width := (c.width() - gap) / 2
	part := func(head string, texts []string) []paragraph {
		if len(texts) == 0 {
			return nil
		}
		ps := []paragraph{{text: c.st.word(head), size: c.st.text(Large), weight: Bold, role: Ink}}
		for _, t := range texts {
			ps = append(ps, paragraph{text: t, size: c.st.text(Normal), role: Ink, above: 0.6, bullet: true})
		}
		return ps
	}
	left, right := part("before-cut", c.in.Notes), part("remarks", c.in.Remarks)
	if len(left) == 0 {
		left, right = right, nil
	}
	if len(left) == 0 {
		return
	}
	if len(right) == 0 {
		width = c.width()
	}
	h := max(-c.column(left, 0, 0, width, false), -c.column(right, 0, 0, width, false))
	c.need(h + 4)
	a := c.column(left, c.left(), c.y, width, true)
	b := c.column(right, c.left()+width+gap, c.y, width, true)
	c.y = min(a, b) - 4
}

func (c *sheet) cautions() {
	for _, k := range c.in.Cautions {
		ps := []paragraph{{text: k.Title, size: c.st.text(Normal), weight: Bold, role: Ink}}
		if k.Text != "" {
			ps = append(ps, paragraph{text: k.Text, size: c.st.text(Normal), role: Ink})
		}
		c.box(ps, c.left(), c.width())
	}
}

// feet writes the foot of every page, with the bar that shows the scale.
func (c *sheet) feet() {
	size := c.st.text(Small)
	for i := range c.pages {
		d := &c.pages[i]
		y := float64(PageMargin)
		d.Add(Text{Layer: "foot", S: c.in.Stamp, At: geom.P(c.left(), y), Size: size, Role: Ink2},
			Text{Layer: "foot", S: c.st.word("page", unit.A("page", i+1), unit.A("pages", len(c.pages))), At: geom.P(c.right(), y), Size: size, Role: Ink2, Anchor: BaseRight})
		if i == 0 && c.scale > 0 {
			bar, label := 12*25.4, "12 in"
			if c.st.Units.Size.Metric() {
				bar, label = 300, c.st.Units.Label(300)
			}
			x1 := c.right() - 34
			x0 := x1 - bar*c.scale
			text := c.st.word("scale", unit.A("length", label))
			w := c.st.Metrics.Width(text, size, Regular)
			d.Add(Text{Layer: "scale", S: text, At: geom.P(x0-w-2, y), Size: size, Role: Ink2},
				line("scale", geom.P(x0, y+1), geom.P(x1, y+1), Ink, 0.8, Solid),
				line("scale", geom.P(x0, y), geom.P(x0, y+2), Ink, Medium, Solid),
				line("scale", geom.P(x1, y), geom.P(x1, y+2), Ink, Medium, Solid))
		}
	}
}

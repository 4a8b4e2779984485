package drawing

import (
	"strconv"

	"slipseat/engine/geom"
)

// DocumentIn is a paper that is read rather than cut from: a quote, an order, a
// bill, a bench sheet.
type DocumentIn struct {
	Title, Right  string // the heading, and what stands large beside it
	Sub, SubRight string // under it
	Blocks        []Block
	Stamp         string // at the foot
}

// Block is one part of a document: Heading, Para, Bullets, Facts, Steps, List,
// Boxed, Picture, Blanks or NewPage.
type Block interface{ isBlock() }

// Heading is a line in bold over what follows; it never stands alone at the
// end of a page.
type Heading struct{ Text string }

// Para is running text.
type Para struct {
	Text string
	Bold bool
}

// Bullets is a list.
type Bullets struct{ Items []string }

// Facts are short figures with their names, set in two columns.
type Facts struct{ Pairs [][2]string }

// Steps are things to do one after the other, each numbered and with a box to
// tick. A step is never torn apart by the end of a page.
type Steps struct{ Steps []Step }

// Step is one thing to do: a few words, and how.
type Step struct{ Title, Text string }

// Boxed is something to mind, in a box.
type Boxed struct{ Title, Text string }

// Picture is a drawing set into the page, at most as high as High millimetres.
// Build makes it for a style whose scale fits.
type Picture struct {
	Build func(Style) Drawing
	High  float64
}

// Blanks are lines to be filled in by hand, side by side, each with its label
// under it: a date, a signature.
type Blanks struct{ Labels []string }

// NewPage begins a new page.
type NewPage struct{}

func (Heading) isBlock() {}
func (Para) isBlock()    {}
func (Bullets) isBlock() {}
func (Facts) isBlock()   {}
func (Steps) isBlock()   {}
func (List) isBlock()    {}
func (Boxed) isBlock()   {}
func (Picture) isBlock() {}
func (Blanks) isBlock()  {}
func (NewPage) isBlock() {}

// Document sets a paper on pages, as many as it needs, in millimetres of paper.
func Document(in DocumentIn, size PageSize, st Style) []Drawing {
	st.Print = true
	head := &sheet{in: CutSheetIn{Title: in.Title, Buy: in.Right, Goods: in.Sub, BuyWhy: in.SubRight, Stamp: in.Stamp}}
	head.pager = newPager(st, size, head.head)
	p := head.pager
	body := p.st.text(Normal)
	for i, b := range in.Blocks {
		switch b := b.(type) {
		case Heading:
			high := 14.0
			if i+1 < len(in.Blocks) {
				if pic, ok := in.Blocks[i+1].(Picture); ok {
					high += pic.High
				}
			}
			p.need(high)
			p.y = p.column([]paragraph{{text: b.Text, size: p.st.text(Large), weight: Bold, role: Ink}}, p.left(), p.y-1.5, p.width(), true) - 1.5
		case Para:
			w := Regular
			if b.Bold {
				w = Bold
			}
			p.flow(paragraph{text: b.Text, size: body, weight: w, role: Ink})
			p.y -= 1.5
		case Bullets:
			for _, s := range b.Items {
				p.flow(paragraph{text: s, size: body, role: Ink, bullet: true})
			}
			p.y -= 1.5
		case Facts:
			p.facts(b)
		case Steps:
			p.steps(b)
		case List:
			p.table(b)
		case Boxed:
			head.box([]paragraph{{text: b.Title, size: body, weight: Bold, role: Ink}, {text: b.Text, size: body, role: Ink}}, p.left(), p.width())
		case Picture:
			p.picture(b)
		case Blanks:
			p.blanks(b)
		case NewPage:
			p.next()
		}
	}
	head.feet()
	return head.pages
}

// flow sets a paragraph line by line, over a page's end if need be.
func (p *pager) flow(q paragraph) {
	in := 0.0
	if q.bullet {
		in = q.size * bulletRoom
	}
	for i, l := range wrap(p.st.Metrics, q.text, q.size, q.weight, p.width()-in) {
		p.need(q.size * 1.42)
		p.y = p.column([]paragraph{{text: l, size: q.size, weight: q.weight, role: q.role}}, p.left()+in, p.y, p.width(), true)
		if q.bullet && i == 0 {
			p.write("·", p.left(), p.y+q.size*0.38, q.size, Bold, BaseLeft, q.role)
		}
	}
}

// facts sets names and figures in two columns, a hair line under each row.
func (p *pager) facts(f Facts) {
	const gap = 10
	size := p.st.text(Normal)
	width := (p.width() - gap) / 2
	// The names share one width, so that the figures stand under one another.
	name := 0.0
	for _, q := range f.Pairs {
		name = max(name, p.st.Metrics.Width(q[0], size, Regular))
	}
	name = min(name+4, width*0.55)
	rows := (len(f.Pairs) + 1) / 2
	for r := range rows {
		high := rowHigh
		var texts [2][2][]string
		for c := range 2 {
			if i := c*rows + r; i < len(f.Pairs) {
				q := f.Pairs[i]
				texts[c] = [2][]string{wrap(p.st.Metrics, q[0], size, Regular, name-2), wrap(p.st.Metrics, q[1], size, Bold, width-name)}
				lines := max(len(texts[c][0]), len(texts[c][1]))
				high = max(high, rowHigh+float64(lines-1)*size*1.3)
			}
		}
		p.need(high)
		for c := range 2 {
			x := p.left() + float64(c)*(width+gap)
			for k, lines := range texts[c] {
				weight, role := Regular, Ink2
				at := x
				if k == 1 {
					weight, role, at = Bold, Ink, x+name
				}
				for n, l := range lines {
					p.write(l, at, p.y-rowHigh*0.68-float64(n)*size*1.3, size, weight, BaseLeft, role)
				}
			}
			if len(texts[c][0]) > 0 {
				p.rule(x, x+width, p.y-high, Hair, Rule)
			}
		}
		p.y -= high
	}
	p.y -= 3
}

// stepRoom is what the box and the number of a step take, paper mm.
const stepRoom = 13

// steps sets numbered steps with boxes to tick.
func (p *pager) steps(s Steps) {
	size := p.st.text(Normal)
	for i, one := range s.Steps {
		ps := []paragraph{{text: one.Title, size: size, weight: Bold, role: Ink}}
		if one.Text != "" {
			ps = append(ps, paragraph{text: one.Text, size: size, role: Ink})
		}
		x := p.left() + stepRoom
		h := -p.column(ps, 0, 0, p.width()-stepRoom, false)
		p.need(h + 2.2)
		base := p.y - size*1.42 + size*0.38
		p.add(Shape{Layer: "tick", Path: geom.Box(p.left()+0.5, base-0.5, p.left()+4.1, base+3.1), Stroke: Ink2, Width: Thin})
		p.write(strconv.Itoa(i+1), x-2.4, base, size, Bold, BaseRight, Ink)
		p.y = p.column(ps, x, p.y, p.width()-stepRoom, true) - 2.2
	}
	p.y -= 1.5
}

// picture sets a drawing into the page, its labels included.
func (p *pager) picture(b Picture) {
	st := p.st
	scale := 1.0
	var d Drawing
	var reach geom.Rect
	// Labels keep their size on paper; a few rounds find the scale at which
	// drawing and labels fit together.
	for range 4 {
		st.PaperPerModel = scale
		d = b.Build(st)
		if d.Bounds.W() <= 0 || d.Bounds.H() <= 0 {
			return
		}
		reach = Reach(d, st)
		beyondX, beyondY := (reach.W()-d.Bounds.W())*scale, (reach.H()-d.Bounds.H())*scale
		scale = min(max(p.width()-beyondX, 10)/d.Bounds.W(), max(b.High-beyondY, 10)/d.Bounds.H())
	}
	st.PaperPerModel = scale
	d = b.Build(st)
	reach = Reach(d, st)
	high := reach.H() * scale
	p.need(high + 2)
	by := geom.P(p.left()-reach.Min.X*scale, p.y-high-reach.Min.Y*scale)
	p.add(d.Placed(scale, by).Items...)
	p.y -= high + 4
}

// blanks draws lines to fill in by hand.
func (p *pager) blanks(b Blanks) {
	if len(b.Labels) == 0 {
		return
	}
	p.need(20)
	const gap = 8
	w := (p.width() - gap*float64(len(b.Labels)-1)) / float64(len(b.Labels))
	p.y -= 13
	size := p.st.text(Small)
	for i, s := range b.Labels {
		x := p.left() + float64(i)*(w+gap)
		p.rule(x, x+w, p.y, Thin, Ink)
		p.write(shorten(p.st.Metrics, s, size, Regular, w), x, p.y-size*1.2, size, Regular, BaseLeft, Ink2)
	}
	p.y -= size*1.2 + 4
}

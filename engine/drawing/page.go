package drawing

import (
	"strings"

	"slipseat/engine/geom"
)

// PageSize is a sheet of paper, millimetres.
type PageSize struct {
	Name string
	W, H float64
}

// The sizes of paper: A series after ISO 216, the others after ANSI/ASME Y14.1
// (Letter is size A, Tabloid size B).
func A2() PageSize      { return PageSize{"a2", 420, 594} }
func A3() PageSize      { return PageSize{"a3", 297, 420} }
func A4() PageSize      { return PageSize{"a4", 210, 297} }
func Letter() PageSize  { return PageSize{"letter", 215.9, 279.4} }
func Tabloid() PageSize { return PageSize{"tabloid", 279.4, 431.8} }

// Long is a page as long as the goods on it ask for; its own size is the least
// it has, that of A3.
func Long() PageSize { return PageSize{"long", 420, 297} }

// PageOf finds a size by its name.
func PageOf(name string) (PageSize, bool) {
	for _, p := range []PageSize{A4(), A3(), A2(), Letter(), Tabloid(), Long()} {
		if p.Name == strings.ToLower(name) {
			return p, true
		}
	}
	return PageSize{}, false
}

// Landscape is the sheet with its long side level.
func (p PageSize) Landscape() PageSize { return PageSize{p.Name, max(p.W, p.H), min(p.W, p.H)} }

// Portrait is the sheet with its long side upright.
func (p PageSize) Portrait() PageSize { return PageSize{p.Name, min(p.W, p.H), max(p.W, p.H)} }

// PageMargin keeps clear of what common printers cannot reach, and leaves room
// for a hole punch.
const PageMargin = 12

// pager sets blocks under one another on pages. A page is a drawing whose
// model millimetres are millimetres of paper, its origin at the lower left.
type pager struct {
	st    Style // PaperPerModel 1
	size  PageSize
	pages []Drawing
	y     float64 // top of what is still free
	low   float64 // least y that may be used
	head  func(p *pager)
}

func newPager(st Style, size PageSize, head func(p *pager)) *pager {
	st.PaperPerModel = 1
	p := &pager{st: st, size: size, head: head, low: PageMargin + 7}
	p.next()
	return p
}

// next begins a new page.
func (p *pager) next() {
	p.pages = append(p.pages, Drawing{Bounds: geom.Rect{Max: geom.P(p.size.W, p.size.H)}})
	p.y = p.size.H - PageMargin
	if p.head != nil {
		p.head(p)
	}
}

// need begins a new page unless h millimetres are free on this one.
func (p *pager) need(h float64) {
	if p.y-h < p.low && p.y < p.size.H-PageMargin-30 {
		p.next()
	}
}

func (p *pager) page() *Drawing    { return &p.pages[len(p.pages)-1] }
func (p *pager) add(items ...Item) { p.page().Add(items...) }
func (p *pager) left() float64     { return PageMargin }
func (p *pager) right() float64    { return p.size.W - PageMargin }
func (p *pager) width() float64    { return p.size.W - 2*PageMargin }

// write sets one line of text with its baseline at y.
func (p *pager) write(s string, x, y, size float64, w Weight, a Anchor, r Role) {
	if s != "" {
		p.add(Text{Layer: "text", S: s, At: geom.P(x, y), Size: size, Weight: w, Anchor: a, Role: r})
	}
}

// rule draws a level line.
func (p *pager) rule(x0, x1, y, width float64, r Role) {
	p.add(line("rule", geom.P(x0, y), geom.P(x1, y), r, width, Solid))
}

// wrap breaks a text into lines no wider than width paper millimetres; a
// single longer word stands alone on its line.
func wrap(m Metrics, s string, size float64, w Weight, width float64) []string {
	var lines []string
	for _, para := range strings.Split(s, "\n") {
		line := ""
		for _, word := range strings.Fields(para) {
			try := word
			if line != "" {
				try = line + " " + word
			}
			if line != "" && m.Width(try, size, w) > width {
				lines = append(lines, line)
				line = word
				continue
			}
			line = try
		}
		lines = append(lines, line)
	}
	return lines
}

// shorten cuts a text to a width, ending in an ellipsis.
func shorten(m Metrics, s string, size float64, w Weight, width float64) string {
	if m.Width(s, size, w) <= width {
		return s
	}
	rs := []rune(s)
	for len(rs) > 1 {
		rs = rs[:len(rs)-1]
		if t := strings.TrimRight(string(rs), " ,·") + "…"; m.Width(t, size, w) <= width {
			return t
		}
	}
	return "…"
}

// paragraph is text to be set in a column.
type paragraph struct {
	text   string
	size   float64
	weight Weight
	role   Role
	above  float64 // space before it
	bullet bool    // begins with a dot that the text hangs beside
}

// bulletRoom is what the dot of a bullet takes, as a share of the size.
const bulletRoom = 0.75

// column sets paragraphs under one another from the top at y and gives the y
// under the last one. A nil pager only measures.
func (p *pager) column(ps []paragraph, x, y, width float64, draw bool) float64 {
	for i, q := range ps {
		if i > 0 {
			y -= q.above
		}
		in := 0.0
		if q.bullet {
			in = q.size * bulletRoom
		}
		for j, l := range wrap(p.st.Metrics, q.text, q.size, q.weight, width-in) {
			y -= q.size * 1.42
			if draw {
				if q.bullet && j == 0 {
					p.write("·", x, y+q.size*0.38, q.size, Bold, BaseLeft, q.role)
				}
				p.write(l, x+in, y+q.size*0.38, q.size, q.weight, BaseLeft, q.role)
			}
		}
	}
	return y
}

package drawing

import (
	"slipseat/engine/geom"
)

// Column is a column of a List.
type Column struct {
	Head  string
	Right bool // figures stand on the right
	Wrap  bool // long texts take several lines; others are cut short
	Bold  bool
	width float64
	pad   float64 // kept free after figures that a text follows
}

// List is a table with headed columns. It breaks over pages by rows, with its
// heading on each.
type List struct {
	Columns []Column
	Rows    [][]string
	// Strong tells which rows stand out, as headings among the others; it may be
	// shorter than Rows.
	Strong []bool
	// Sums are rows under a strong line, in bold.
	Sums [][]string
	Tick bool // a box to tick before every row
	// Fill is the share of the width it takes at least; 0 lets it be as wide as
	// its texts.
	Fill float64
	// Ruled draws upright lines between the columns too, for tables that are
	// filled in by hand, and makes the rows higher.
	Ruled bool
	// TwoBlocks lets short rows stand in two blocks beside each other.
	TwoBlocks bool
}

const (
	rowHigh   = 6.2  // of a row of one line, paper mm
	tickWide  = 7.0  // of the box to tick
	cellMost  = 70.0 // of a column that does not wrap
	cellGap   = 4.0
	ruledMore = 2.2 // what a row to be filled in by hand is higher
	// wrapLeast is the least width of a column that wraps.
	wrapLeast = 28.0
	// wrapMost is the most lines of a cell, so that a row fits on any page.
	wrapMost = 14
)

// table sets a table at the pager's place, over as many pages as needed.
func (p *pager) table(t List) {
	if len(t.Rows)+len(t.Sums) == 0 {
		return
	}
	size := p.st.text(Normal)
	cols := append([]Column(nil), t.Columns...)
	total := p.fitColumns(cols, t, size)
	blocks := 1
	const gap = 10
	if t.TwoBlocks && 2*narrow(cols, total)+gap <= p.width() && len(t.Rows) > 8 && len(t.Sums) == 0 {
		blocks = 2
	}
	width := (p.width() - gap*float64(blocks-1)) / float64(blocks)
	if blocks == 1 {
		width = min(p.width(), max(total, p.width()*t.Fill))
	}
	squeeze(cols, width, t.Tick)
	spread(cols, width, t.Tick)
	rows, strong := t.Rows, t.Strong
	for {
		p.need(rowHigh * 4)
		n := min(len(rows), max(p.fitting(cols, rows, size, t.Ruled), 1)*blocks)
		per := (n + blocks - 1) / blocks
		top, low := p.y, p.y
		for b := range blocks {
			from, to := min(b*per, n), min((b+1)*per, n)
			part := rows[from:to]
			if len(part) == 0 && b > 0 {
				continue
			}
			t.Strong = strong[min(from, len(strong)):min(to, len(strong))]
			low = min(low, p.rows(cols, part, t, p.left()+float64(b)*(width+gap), top, size))
		}
		rows, strong = rows[n:], strong[min(n, len(strong)):]
		p.y = low
		if len(rows) == 0 {
			break
		}
		p.next()
	}
	if len(t.Sums) > 0 {
		p.need(rowHigh*float64(len(t.Sums)) + 2)
		p.y = p.sums(cols, t, p.left(), p.y, size)
	}
	p.y -= 4
}

// narrow is how little room a table can do with and still read well: a column
// that wraps gives up a quarter of its width.
func narrow(cols []Column, total float64) float64 {
	for _, k := range cols {
		if k.Wrap {
			total -= min(k.width*0.25, max(0, k.width-wrapLeast))
		}
	}
	return total
}

func tableWidth(cols []Column, tick bool) float64 {
	w := 0.0
	if tick {
		w = tickWide
	}
	for _, k := range cols {
		w += k.width
	}
	return w
}

// fitColumns sets each column to what its widest text needs and gives the sum.
func (p *pager) fitColumns(cols []Column, t List, size float64) float64 {
	m := p.st.Metrics
	for i := range cols {
		w := m.Width(cols[i].Head, size*0.92, Bold)
		for _, rows := range [][][]string{t.Rows, t.Sums} {
			for _, r := range rows {
				if i < len(r) {
					w = max(w, m.Width(r[i], size, Bold))
				}
			}
		}
		if !cols[i].Wrap {
			w = min(w, cellMost)
		}
		if cols[i].Right && i+1 < len(cols) && !cols[i+1].Right {
			cols[i].pad = 3.5
		}
		cols[i].width = w + cellGap + cols[i].pad
	}
	return tableWidth(cols, t.Tick)
}

// spread shares out what is left of the width, the same to every column.
func spread(cols []Column, width float64, tick bool) {
	if extra := width - tableWidth(cols, tick); extra > 0 {
		for i := range cols {
			cols[i].width += extra / float64(len(cols))
		}
	}
}

// squeeze narrows columns until the table fits: those that wrap first, then
// all alike.
func squeeze(cols []Column, width float64, tick bool) {
	for i := range cols {
		if over := tableWidth(cols, tick) - width; cols[i].Wrap && over > 0 {
			cols[i].width -= min(over, max(cols[i].width-wrapLeast, 0))
		}
	}
	if total := tableWidth(cols, tick); total > width {
		for i := range cols {
			cols[i].width *= width / total
		}
	}
}

// fitting is how many rows fit under a heading on what is left of the page.
func (p *pager) fitting(cols []Column, rows [][]string, size float64, ruled bool) int {
	n, free := 0, p.y-p.low-rowHigh
	for _, r := range rows {
		if ruled {
			free -= ruledMore
		}
		if free -= p.rowHeight(cols, r, size); free < 0 {
			break
		}
		n++
	}
	return n
}

// rowHeight is the height of a row, more than one line where a text wraps.
func (p *pager) rowHeight(cols []Column, r []string, size float64) float64 {
	lines := 1
	for i, k := range cols {
		if k.Wrap && i < len(r) {
			lines = max(lines, len(p.cellLines(k, r[i], size)))
		}
	}
	return rowHigh + float64(lines-1)*size*1.3
}

// cellLines breaks a cell's text into lines, at most wrapMost of them.
func (p *pager) cellLines(k Column, s string, size float64) []string {
	lines := wrap(p.st.Metrics, s, size, Regular, k.width-2)
	if len(lines) > wrapMost {
		lines = lines[:wrapMost]
		lines[wrapMost-1] = shorten(p.st.Metrics, lines[wrapMost-1]+" …", size, Regular, k.width-2)
	}
	return lines
}

// rows sets a heading and rows and gives their lower end.
func (p *pager) rows(cols []Column, rows [][]string, t List, x, y, size float64) float64 {
	width := tableWidth(cols, t.Tick)
	start := x
	if t.Tick {
		start += tickWide
	}
	heads := make([]string, len(cols))
	for i, k := range cols {
		heads[i] = k.Head
	}
	p.cells(cols, heads, start, y-rowHigh*0.68, size*0.92, true, Ink2)
	y -= rowHigh
	p.rule(x, x+width, y, Medium, Ink)
	for i, r := range rows {
		base := y - rowHigh*0.68
		if i < len(t.Strong) && t.Strong[i] {
			p.add(Shape{Layer: "strong", Path: geom.Box(x, y-p.rowHeight(cols, r, size), x+width, y), Fill: Selvedge})
		}
		if t.Tick {
			p.add(Shape{Layer: "tick", Path: geom.Box(x+0.5, base-0.4, x+4, base+3.1), Stroke: Ink2, Width: Thin})
		}
		p.cells(cols, r, start, base, size, false, Ink)
		high := p.rowHeight(cols, r, size)
		if t.Ruled {
			high += ruledMore
		}
		y -= high
		p.rule(x, x+width, y, Hair, Rule)
		if t.Ruled {
			at := start
			for _, k := range cols[:len(cols)-1] {
				at += k.width
				p.add(line("rule", geom.P(at-2, y), geom.P(at-2, y+high), Rule, Hair, Solid))
			}
		}
	}
	return y
}

// sums sets the bold rows under a table.
func (p *pager) sums(cols []Column, t List, x, y, size float64) float64 {
	width := tableWidth(cols, t.Tick)
	p.rule(x, x+width, y, Medium, Ink)
	start := x
	if t.Tick {
		start += tickWide
	}
	for _, r := range t.Sums {
		p.cells(cols, r, start, y-rowHigh*0.68, size, true, Ink)
		y -= rowHigh
	}
	return y
}

// cells writes one row of texts with their baseline at base.
func (p *pager) cells(cols []Column, texts []string, x, base, size float64, bold bool, r Role) {
	m := p.st.Metrics
	for i, k := range cols {
		if i >= len(texts) {
			return
		}
		w := Regular
		if bold || k.Bold {
			w = Bold
		}
		lines := []string{shorten(m, texts[i], size, w, k.width-2-k.pad)}
		if k.Wrap && !bold {
			lines = p.cellLines(k, texts[i], size)
		}
		for n, s := range lines {
			y := base - float64(n)*size*1.3
			if k.Right {
				p.write(s, x+k.width-2-k.pad, y, size, w, BaseRight, r)
				continue
			}
			p.write(s, x, y, size, w, BaseLeft, r)
		}
		x += k.width
	}
}

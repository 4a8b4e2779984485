package drawing

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// PieceRow is one line of the list of pieces: where a piece lies and how large
// it is cut, for lists outside the drawing.
type PieceRow struct {
	ID, For  string
	FromEnd  unit.Length // nearest point to the cut end
	FromEdge unit.Length // nearest point to the near selvedge's outer edge
	Width    unit.Length
	Depth    unit.Length
	Along    unit.Length // extent along the goods as laid
	Across   unit.Length // extent across the goods as laid
	Squared  bool
	Marks    string
}

// PieceRows lists the pieces of a lay in their order.
func PieceRows(in LayIn) []PieceRow {
	var rows []PieceRow
	for _, p := range in.Pieces {
		if len(p.Shape) < 2 {
			continue
		}
		b := p.Shape.Bounds()
		who := p.For
		if who == "" {
			who = p.Name
		}
		rows = append(rows, PieceRow{
			ID: p.ID, For: who, FromEnd: unit.Length(b.Min.X), FromEdge: unit.Length(b.Min.Y) + in.Selvedge,
			Width: p.Width, Depth: p.Depth, Along: unit.Length(b.W()), Across: unit.Length(b.H()),
			Squared: squared(p.Shape), Marks: p.Marks,
		})
	}
	return rows
}

// col is a column of a table.
type col struct {
	head  string
	right bool
	wrap  bool // long texts take several lines
	width float64
	text  func(r PieceRow) string
}

const rowHigh = 6.2

// table lists the pieces of one lay, over as many pages as needed; short rows
// stand in two blocks beside each other on a wide page.
func (c *sheet) table(i int) {
	in := c.in.Lays[i]
	rows := PieceRows(in)
	if len(rows) == 0 {
		return
	}
	slices.SortStableFunc(rows, func(a, b PieceRow) int { return byNumber(a.ID, b.ID) })
	u := c.st.Units
	same := true
	for _, r := range rows {
		same = same && r.Marks == rows[0].Marks
	}
	fig := func(f func(r PieceRow) unit.Length) func(PieceRow) string {
		return func(r PieceRow) string { return u.Figure(f(r)) }
	}
	end, edge := "from-end", "from-selvedge"
	if in.Sheet {
		end, edge = "from-left", "from-near"
	}
	cols := []col{
		{head: c.st.word("piece"), text: func(r PieceRow) string { return r.ID }},
		{head: c.st.word("for"), text: func(r PieceRow) string { return r.For }},
		{head: c.st.word(end), right: true, text: fig(func(r PieceRow) unit.Length { return r.FromEnd })},
		{head: c.st.word(edge), right: true, text: fig(func(r PieceRow) unit.Length { return r.FromEdge })},
		{head: c.st.word("width"), right: true, text: fig(func(r PieceRow) unit.Length { return r.Width })},
		{head: c.st.word("depth"), right: true, text: fig(func(r PieceRow) unit.Length { return r.Depth })},
	}
	if !same {
		cols = append(cols, col{head: c.st.word("marks"), wrap: true, text: func(r PieceRow) string { return r.Marks }})
	}
	size := c.st.text(Normal)
	total := c.fitColumns(cols, rows, size)
	blocks := 1
	const gap = 10
	if 2*total+gap <= c.width() && len(rows) > 8 {
		blocks = 2
	}
	c.need(8 + rowHigh*5) // heading, marks and the first rows stay together
	if in.Title != "" || len(c.in.Lays) > 1 {
		c.y -= size
		c.write(in.Title, c.left(), c.y, size, Bold, BaseLeft, Ink)
		c.y -= 2
	}
	if same && rows[0].Marks != "" {
		c.y = c.column([]paragraph{{text: c.st.word("marks-all", unit.A("marks", rows[0].Marks)), size: size, role: Ink}}, c.left(), c.y, c.width(), true) - 2
	}
	blockWidth := (c.width() - gap*float64(blocks-1)) / float64(blocks)
	if blocks == 1 {
		blockWidth = min(c.width(), max(total, c.width()*0.75))
	}
	squeeze(cols, blockWidth)
	spread(cols, blockWidth)
	for len(rows) > 0 {
		c.need(rowHigh * 4)
		fit := max(c.fitting(cols, rows, size)-1, 1)
		n := min(len(rows), fit*blocks)
		per := (n + blocks - 1) / blocks
		top, low := c.y, c.y
		for b := range blocks {
			part := rows[min(b*per, n):min((b+1)*per, n)]
			if len(part) == 0 {
				continue
			}
			low = min(low, c.block(cols, part, c.left()+float64(b)*(blockWidth+gap), top, size))
		}
		rows = rows[n:]
		c.y = low - 4
		if len(rows) > 0 {
			c.next()
		}
	}
}

// fitting is how many rows, the heading among them, fit on what is left of the
// page.
func (c *sheet) fitting(cols []col, rows []PieceRow, size float64) int {
	n, free := 1, c.y-c.low-rowHigh
	for _, r := range rows {
		free -= c.rowHeight(cols, r, size)
		if free < 0 {
			break
		}
		n++
	}
	return n
}

// rowHeight is the height of a row, more than one line where a text wraps.
func (c *sheet) rowHeight(cols []col, r PieceRow, size float64) float64 {
	lines := 1
	for _, k := range cols {
		if k.wrap {
			lines = max(lines, len(wrap(c.st.Metrics, k.text(r), size, Regular, k.width-2)))
		}
	}
	return rowHigh + float64(lines-1)*size*1.3
}

// squeeze narrows the columns that wrap until the table fits.
func squeeze(cols []col, width float64) {
	total := 7.0
	for _, k := range cols {
		total += k.width
	}
	for i := range cols {
		if over := total - width; cols[i].wrap && over > 0 {
			cut := min(over, cols[i].width*0.7)
			cols[i].width -= cut
			total -= cut
		}
	}
}

// byNumber orders piece numbers: A1, A2, A10, B1, B2-1.
func byNumber(a, b string) int {
	split := func(s string) (string, int, string) {
		k := strings.IndexAny(s, "0123456789")
		if k < 0 {
			return s, 0, ""
		}
		e := k
		for e < len(s) && s[e] >= '0' && s[e] <= '9' {
			e++
		}
		n, _ := strconv.Atoi(s[k:e]) // digits only; a number too large to read sorts as 0
		return s[:k], n, s[e:]
	}
	la, na, ra := split(a)
	lb, nb, rb := split(b)
	return cmp.Or(cmp.Compare(len(la), len(lb)), cmp.Compare(la, lb), cmp.Compare(na, nb), cmp.Compare(ra, rb))
}

// fitColumns sets each column to what its widest text needs and gives the sum.
func (c *sheet) fitColumns(cols []col, rows []PieceRow, size float64) float64 {
	m := c.st.Metrics
	total := 7.0 // the box to tick
	for i := range cols {
		w := m.Width(cols[i].head, size*0.92, Bold)
		for _, r := range rows {
			w = max(w, m.Width(cols[i].text(r), size, Bold))
		}
		if !cols[i].wrap {
			w = min(w, 70)
		}
		cols[i].width = w + 4
		total += cols[i].width
	}
	return total
}

// spread gives what is left of the width to the columns with words.
func spread(cols []col, width float64) {
	total := 7.0
	words := 0
	for _, k := range cols {
		total += k.width
		if !k.right {
			words++
		}
	}
	if extra := width - total; extra > 0 && words > 0 {
		for i := range cols {
			cols[i].width += extra / float64(len(cols))
		}
	}
}

// block sets one block of the table and gives its lower end.
func (c *sheet) block(cols []col, rows []PieceRow, x, y, size float64) float64 {
	m := c.st.Metrics
	width := 7.0
	for _, k := range cols {
		width += k.width
	}
	cell := func(k col, at float64, s string, size float64, w Weight, r Role, base float64) {
		s = shorten(m, s, size, w, k.width-2)
		if k.right {
			c.write(s, at+k.width-2, base, size, w, BaseRight, r)
			return
		}
		c.write(s, at, base, size, w, BaseLeft, r)
	}
	base := y - rowHigh*0.68
	at := x + 7
	for _, k := range cols {
		cell(k, at, k.head, size*0.92, Bold, Ink2, base)
		at += k.width
	}
	y -= rowHigh
	c.rule(x, x+width, y, Medium, Ink)
	for _, r := range rows {
		base := y - rowHigh*0.68
		c.add(Shape{Layer: "tick", Path: geom.Box(x+0.5, base-0.4, x+4, base+3.1), Stroke: Ink2, Width: Thin})
		at := x + 7
		for j, k := range cols {
			w := Regular
			if j == 0 {
				w = Bold
			}
			if k.wrap {
				for n, l := range wrap(m, k.text(r), size, w, k.width-2) {
					c.write(l, at, base-float64(n)*size*1.3, size, w, BaseLeft, Ink)
				}
				at += k.width
				continue
			}
			cell(k, at, k.text(r), size, w, Ink, base)
			at += k.width
		}
		y -= c.rowHeight(cols, r, size)
		c.rule(x, x+width, y, Hair, Rule)
	}
	return y
}

package drawing

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"slipseat/engine/unit"
)

// PieceRow is one line of the list of pieces: where a piece lies and how large
// it is cut, for lists outside the drawing.
type PieceRow struct {
	ID, For  string
	FromEnd  unit.Length // nearest point to the cut end, on a sheet to its left edge
	FromEdge unit.Length // nearest point to the near selvedge's outer edge, on a sheet to its near edge
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
	by := in.shift()
	for _, p := range in.Pieces {
		if len(p.Shape) < 2 || p.State == Spoiled {
			continue
		}
		b := p.Shape.Bounds()
		who := p.For
		if who == "" {
			who = p.Name
		}
		rows = append(rows, PieceRow{
			ID: p.ID, For: who, FromEnd: unit.Length(b.Min.X + by.X), FromEdge: unit.Length(b.Min.Y + by.Y),
			Width: p.Width, Depth: p.Depth, Along: unit.Length(b.W()), Across: unit.Length(b.H()),
			Squared: squared(p.Shape), Marks: p.Marks,
		})
	}
	return rows
}

// pieces lists the pieces of one lay.
func (c *sheet) pieces(i int) {
	in := c.in.Lays[i]
	rows := PieceRows(in)
	if len(rows) == 0 {
		return
	}
	slices.SortStableFunc(rows, func(a, b PieceRow) int { return byNumber(a.ID, b.ID) })
	same := true
	for _, r := range rows {
		same = same && r.Marks == rows[0].Marks
	}
	end, edge := "from-end", "from-selvedge"
	if in.Sheet {
		end, edge = "from-left", "from-near"
	}
	w := c.st.word
	t := List{Tick: true, Fill: 0.75, TwoBlocks: true, Columns: []Column{
		{Head: w("piece"), Bold: true}, {Head: w("for")}, {Head: w(end), Right: true}, {Head: w(edge), Right: true},
		{Head: w("width"), Right: true}, {Head: w("depth"), Right: true},
	}}
	if !same {
		t.Columns = append(t.Columns, Column{Head: w("marks"), Wrap: true})
	}
	u := c.st.Units
	for _, r := range rows {
		line := []string{r.ID, r.For, u.Figure(r.FromEnd), u.Figure(r.FromEdge), u.Figure(r.Width), u.Figure(r.Depth)}
		if !same {
			line = append(line, r.Marks)
		}
		t.Rows = append(t.Rows, line)
	}
	size := c.st.text(Normal)
	c.need(8 + rowHigh*5) // heading, marks and the first rows stay together
	if in.Title != "" || len(c.in.Lays) > 1 {
		c.y -= size
		c.write(in.Title, c.left(), c.y, size, Bold, BaseLeft, Ink)
		c.y -= 2
	}
	if same && rows[0].Marks != "" {
		c.y = c.column([]paragraph{{text: w("marks-all", unit.A("marks", rows[0].Marks)), size: size, role: Ink}}, c.left(), c.y, c.width(), true) - 2
	}
	c.table(t)
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

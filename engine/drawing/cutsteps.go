package drawing

import (
	"strconv"
	"strings"

	"slipseat/engine/unit"
)

// ChalkText is one step of the chalk list in words, for tables: what to do, the
// tape reading, how far or how, and the pieces.
type ChalkText struct{ Do, At, How, Pieces string }

// Text writes a step. Figures are without their unit, which stands over the
// list.
func (s ChalkStep) Text(st Style) ChalkText {
	f := st.Units.Figure
	w := st.word
	span := func() string { return w("chalk-span", unit.A("from", f(s.From)), unit.A("to", f(s.To))) }
	t := ChalkText{Do: w("chalk-do-" + s.Op.Code()), Pieces: pieceRanges(s.Pieces)}
	switch s.Op {
	case ChalkSquare:
		t.How = w("chalk-square")
	case ChalkOnTable:
		t.How = w("chalk-on-table", unit.A("from", f(s.From)), unit.A("to", f(s.To)))
		if s.TooLong {
			t.How += " " + w("chalk-too-long")
		}
	case ChalkBase:
		t.At, t.How = f(s.At), w("chalk-base")
	case ChalkLineOp:
		t.Do = w("chalk-do-along")
		if s.Across {
			t.Do = w("chalk-do-across")
		}
		t.At, t.How = f(s.At), span()
	case ChalkMotif:
		t.At, t.How = s.motifText(st)
	case ChalkLay:
		var at []string
		for i, p := range s.Points {
			name := w("chalk-mark-" + p.Mark.Code())
			if p.Mark == Corner {
				name += " " + strconv.Itoa(i+1)
			}
			at = append(at, w("chalk-point", unit.A("name", name), unit.A("along", f(p.Along)), unit.A("across", f(p.Across))))
		}
		t.How = strings.Join(at, "; ")
		if s.Template != "" {
			t.How += "; " + s.Template
		} else {
			t.How += "; " + w("chalk-join")
		}
	case CutAcross:
		t.At, t.How = f(s.At), w("chalk-edge-to-edge")
	case CutAlong:
		t.At, t.How = f(s.At), span()
	case CutOut:
		t.How = w("chalk-cut-out")
	}
	return t
}

// motifText gives the tape's place of a motif, as a check, and what the piece
// reaches from it.
func (s ChalkStep) motifText(st Style) (at, how string) {
	f := st.Units.Figure
	var tape []string
	if s.MotifAlong.Set {
		tape = append(tape, f(s.MotifAlong.Value))
	}
	if s.MotifAcross.Set {
		a := f(s.MotifAcross.Value)
		if !s.MotifAlong.Set {
			a = "– / " + a
		}
		tape = append(tape, a)
	}
	var sides []string
	for _, e := range []struct {
		key string
		l   unit.Opt
	}{{"front", s.Front}, {"back", s.Back}, {"left", s.Left}, {"right", s.Right}} {
		if e.l.Set {
			sides = append(sides, st.word("chalk-side-"+e.key, unit.A("length", f(e.l.Value))))
		}
	}
	return strings.Join(tape, " / "), strings.Join(sides, ", ")
}

// steps lists how to chalk and cut one lay, in order.
func (c *sheet) steps(i int) {
	in := c.in.Lays[i]
	list := ChalkSteps(in)
	if len(list) == 0 {
		return
	}
	w := c.st.word
	size, head := c.st.text(Normal), c.st.text(Large)
	motif := false
	t := List{Tick: true, TwoBlocks: true, Columns: []Column{
		{Head: w("chalk-do"), Bold: true}, {Head: w("chalk-at", unit.A("unit", c.st.Units.Size.Symbol())), Right: true, Bold: true}, {Head: w("chalk-how"), Wrap: true}, {Head: w("pieces"), Wrap: true},
	}}
	for _, s := range list {
		x := s.Text(c.st)
		motif = motif || s.Op == ChalkMotif
		t.Rows = append(t.Rows, []string{x.Do, x.At, x.How, x.Pieces})
		t.Strong = append(t.Strong, s.Op == ChalkOnTable || s.Op == ChalkSquare)
	}
	room := 20 + rowHigh*5 // heading and first rows stay together
	if motif {
		room += 26
	}
	c.need(room)
	title := w("chalk")
	if in.Title != "" {
		title += ": " + in.Title
	}
	c.y = c.column([]paragraph{{text: title, size: head, weight: Bold, role: Ink}}, c.left(), c.y-1, c.width(), true) - 1
	how := w("chalk-read")
	if in.Sheet {
		how = w("chalk-read-sheet")
	}
	c.y = c.column([]paragraph{{text: how, size: size, role: Ink}}, c.left(), c.y, c.width(), true) - 2.5
	if motif {
		c.box([]paragraph{{text: w("chalk-motif-title"), size: size, weight: Bold, role: Ink},
			{text: w("chalk-motif", unit.A("length", c.st.Units.Label(motifApart(c.st.Units)))), size: size, role: Ink}}, c.left(), c.width())
	}
	c.table(t)
}

// motifApart is MotifApart as it is said in the units: a quarter of an inch, or
// 6 mm.
func motifApart(u unit.Units) unit.Length {
	if u.Size.Metric() {
		return 6
	}
	return MotifApart
}

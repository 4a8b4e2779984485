package drawing

import (
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Tracing is a shape while its points are being set.
type Tracing struct {
	Path   geom.Path // so far, not closed
	To     geom.Pt   // where the next point would go
	HasTo  bool
	Guides [][2]geom.Pt // what it is in line with
	Caught bool         // it lies on an existing point
	Words  string       // what it caught hold of, beside the pointer
}

// Draw draws the edges so far, with the length of the last one and of the one
// under way, and what the next point has caught hold of.
func (t Tracing) Draw(st Style) Drawing {
	var d Drawing
	for _, g := range t.Guides {
		d.Add(line("guide", g[0], g[1], Action, Hair, Dash))
	}
	if len(t.Path) > 1 {
		d.Add(Shape{Layer: "trace", Path: t.Path, Open: true, Stroke: BoardLine, Width: Thick})
	}
	for i := 0; i+1 < len(t.Path); i++ {
		s := t.Path.Segment(i)
		if l := edgeLabel(s, st, unit.Length(s.A.Dist(s.B)), Ink2); fitsEdge(l, s, st) {
			d.Add(l)
		}
	}
	if n := len(t.Path); t.HasTo && n > 0 {
		from := t.Path[n-1].Pt
		d.Add(line("trace", from, t.To, Action, Medium, Dash))
		if from.Dist(t.To) > 1e-6 {
			l := edgeLabel(geom.Segment{A: from, B: t.To}, st, unit.Length(from.Dist(t.To)), Action)
			l.Off = geom.P(3.2, 2.4) // at the pointer, where the eye is
			l.At, l.Anchor = t.To, BaseLeft
			d.Add(l)
		}
	}
	for i, v := range t.Path {
		m := Mark{Layer: "trace", Kind: Disc, At: v.Pt, Size: 2.6, Fill: Paper, Role: Action, Width: 0.5}
		if i == 0 {
			m.Size = 3.4
		}
		d.Add(m)
	}
	if t.HasTo {
		size := 2.4
		if t.Caught {
			size = 5
		}
		d.Add(Mark{Layer: "trace", Kind: Disc, At: t.To, Size: size, Role: Action, Width: 0.6})
		if t.Words != "" {
			d.Add(Text{Layer: "trace", S: t.Words, At: t.To, Off: geom.P(3.2, -4.4), Size: st.text(Small), Role: Action, Anchor: BaseLeft})
		}
	}
	for _, it := range d.Items {
		if s, ok := it.(Shape); ok {
			d.Bounds = d.Bounds.Union(s.Path.Bounds())
		}
	}
	return d
}

// edgeLabel writes an edge's length on its inner side, a third of the way
// along it: clear of its middle, of the centre line and of dimension lines.
func edgeLabel(s geom.Segment, st Style, l unit.Length, role Role) Text {
	n := s.Normal(0.3)
	t := Text{Layer: "edge", S: st.Units.Label(l), At: s.At(0.3), Off: n.Mul(-2.6), Size: st.text(Small), Role: role, Anchor: MidCentre}
	switch {
	case n.X > 0.7:
		t.Anchor, t.Off = MidRight, geom.P(-1.4, 0)
	case n.X < -0.7:
		t.Anchor, t.Off = MidLeft, geom.P(1.4, 0)
	}
	return t
}

// EdgeLengths writes the straight length of each edge of a closed shape beside
// it, and the bow of each bowed one. Edges shorter on paper than their label
// go without.
func EdgeLengths(p geom.Path, bows []unit.Length, st Style) Drawing {
	d := Drawing{Bounds: p.Bounds()}
	for i := range p {
		s := p.Segment(i)
		t := edgeLabel(s, st, unit.Length(s.A.Dist(s.B)), Ink2)
		if i < len(bows) && bows[i] != 0 {
			t.S += " · " + st.word("bow", unit.A("length", st.Units.Label(max(bows[i], -bows[i]))))
		}
		if fitsEdge(t, s, st) {
			d.Add(t)
		}
	}
	return d
}

// fitsEdge tells whether a label has room along its edge.
func fitsEdge(t Text, s geom.Segment, st Style) bool {
	b := textBox(t, st)
	need := b.H() * 2
	if t.Anchor == MidCentre {
		need = b.W()
	}
	return s.Length() >= need*1.4
}

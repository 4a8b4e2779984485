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
		d.Add(edgeLabel(t.Path.Segment(i), st, unit.Length(t.Path[i].Dist(t.Path[i+1].Pt)), Ink2))
	}
	if n := len(t.Path); t.HasTo && n > 0 {
		from := t.Path[n-1].Pt
		d.Add(line("trace", from, t.To, Action, Medium, Dash))
		if from.Dist(t.To) > 1e-6 {
			d.Add(edgeLabel(geom.Segment{A: from, B: t.To}, st, unit.Length(from.Dist(t.To)), Action))
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

// edgeLabel writes an edge's length beside its middle, outside of it.
func edgeLabel(s geom.Segment, st Style, l unit.Length, role Role) Text {
	n := s.Normal(0.5)
	t := Text{Layer: "edge", S: st.Units.Label(l), At: s.At(0.5), Off: n.Mul(3.4), Size: st.text(Small), Role: role, Anchor: MidCentre}
	switch {
	case n.X > 0.7:
		t.Anchor, t.Off = MidLeft, geom.P(1.6, 0)
	case n.X < -0.7:
		t.Anchor, t.Off = MidRight, geom.P(-1.6, 0)
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
		b := textBox(t, st)
		if st.Paper(s.Length()) < st.Paper(b.H())*2 || t.Anchor == MidCentre && st.Paper(s.Length()) < st.Paper(b.W()) {
			continue
		}
		d.Add(t)
	}
	return d
}

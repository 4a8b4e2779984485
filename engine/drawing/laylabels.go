package drawing

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Labels draws the ruler, what stands on every piece, the line where the goods
// are cut off, and the notes under the picture.
func (l *Lay) Labels(st Style) Drawing {
	d := Drawing{Bounds: l.geom.Bounds}
	if !(st.PaperPerModel > 0) {
		return d
	}
	in := &l.in
	w, length := l.geom.Bounds.Max.Y, l.geom.Bounds.Max.X
	d.Add(l.motifs(st)...)
	if !in.NoRuler {
		d.Add(ruler{from: -in.From.MM(), to: length, first: in.From.MM(), level: w, yards: !in.Sheet, units: st.Units}.draw(st)...)
		d.Add(ruler{to: w, upright: true, units: st.Units}.draw(st)...)
	}
	if in.Title != "" {
		up := 1.5
		if !in.NoRuler {
			up += rulerRoom
		}
		d.Add(Text{Layer: "title", S: in.Title, At: geom.P(0, w), Off: geom.P(0, up), Size: st.text(Normal), Weight: Bold, Role: Ink})
	}
	for _, o := range in.Offcuts {
		d.Add(l.offcut(o, st)...)
	}
	for _, f := range in.Flaws {
		t := Text{Layer: "flaw", S: st.word("flaw"), Size: st.text(Small), Weight: Bold, Role: Cut, Anchor: MidCentre, At: f.Bounds().Center().Add(l.up), Plate: Paper, Pad: 0.6}
		if b := f.Bounds(); st.Paper(b.W()) < st.Paper(textBox(t, st).W()) {
			t.Anchor, t.Plate = BaseCentre, Paper
			t.At = geom.P(t.At.X, b.Max.Y+l.up.Y)
			t.Off = geom.P(0, 1)
		}
		d.Add(t)
	}
	for i := range in.Pieces {
		d.Add(l.onPiece(&in.Pieces[i], st)...)
	}
	d.Add(l.ends(st)...)
	d.Add(l.foot(st)...)
	return d
}

// motifs marks the points where the pattern's motifs lie. Where they would
// stand closer than 5 mm on paper the lines alone are drawn.
func (l *Lay) motifs(st Style) []Item {
	lt := l.in.Lattice
	along, across := lt.Along.MM(), lt.Across.MM()
	if along <= 0 || across <= 0 || st.Paper(min(along, across)) < 5 {
		return nil
	}
	b := l.geom.Bounds
	var items []Item
	y0 := lt.Phase.Y + l.up.Y
	for j := ceilDiv(-y0, across); y0+float64(j)*across <= b.Max.Y; j++ {
		_, frac := math.Modf(float64(j) * lt.Drop)
		x0 := lt.Phase.X + frac*along
		for i := ceilDiv(-x0, along); x0+float64(i)*along <= b.Max.X; i++ {
			items = append(items, Mark{Layer: "motif", Kind: Cross, At: geom.P(x0+float64(i)*along, y0+float64(j)*across), Size: 1.6, Role: Motif, Width: Hair})
		}
	}
	return items
}

func (l *Lay) offcut(o Offcut, st Style) []Item {
	r := geom.Rect{Min: o.Rect.Min.Add(l.up), Max: o.Rect.Max.Add(l.up)}
	t := Text{Layer: "offcut", S: st.word("offcut", unit.A("size", st.Units.Pair(o.Length, o.Width))), Size: st.text(Small), Role: Ink2, Anchor: MidCentre, At: r.Center()}
	if r.H() > r.W() {
		t.Turned = 90
	}
	if b := textBox(t, st); b.W() > r.W() || b.H() > r.H() {
		t.S = st.Units.Pair(o.Length, o.Width)
		if b := textBox(t, st); b.W() > r.W() || b.H() > r.H() {
			return nil // too small to write in; the list of offcuts has it
		}
	}
	return []Item{t}
}

// ends draws the line where the goods are cut off, with what to buy, and the
// end of the lay.
func (l *Lay) ends(st Style) []Item {
	in := &l.in
	w := l.geom.Bounds.Max.Y
	var items []Item
	if in.Laid > 0 && in.Buy-in.Laid > 0.5 && !in.Sheet {
		items = append(items, line("laid", geom.P(in.Laid.MM(), 0), geom.P(in.Laid.MM(), w), Ink2, Hair, Dash))
	}
	if in.Buy > 0 {
		x := in.Buy.MM()
		items = append(items, line("cut-line", geom.P(x, -st.Model(6)), geom.P(x, w+st.Model(rulerGap+tickLong)), Cut, Thick, Solid))
		label := in.BuyLabel
		if label == "" {
			label = st.word("buy", unit.A("length", st.Units.ClothLabel(max(in.Buy, in.buyShown))))
		}
		items = append(items, Text{Layer: "cut-line", S: label, At: geom.P(x, 0), Off: geom.P(-1.5, -5.6), Size: st.text(Large), Weight: Bold, Role: Cut, Anchor: BaseRight})
	}
	return items
}

// foot writes what the cloth is and which way it lies, with arrows.
func (l *Lay) foot(st Style) []Item {
	in := &l.in
	var items []Item
	x, size := 0.0, st.text(Small)
	y := -5.4 // paper mm under the goods
	if in.Buy > 0 && st.Paper(l.geom.Bounds.Max.X) < 75 {
		y -= size * 1.8 // under the buying line's label
	}
	put := func(s string, w Weight) {
		items = append(items, Text{Layer: "foot", S: s, Off: geom.P(x, y), Size: size, Weight: w, Role: Ink2})
		x += st.Metrics.Width(s, size, w) + 1.2
	}
	arrow := func(dir geom.Pt) {
		mid := geom.P(st.Model(x+3.2), st.Model(y+size*0.36))
		half := dir.Mul(st.Model(3))
		if dir.Y != 0 {
			half = dir.Mul(st.Model(1.9))
		}
		items = append(items, Arrow{Layer: "foot", From: mid.Sub(half), To: mid.Add(half), HeadTo: true, Head: 1.8, Filled: true, Role: Ink, Width: Thin})
		x += 8
	}
	if in.Top != (geom.Pt{}) {
		put(st.word("pattern-top"), Regular)
		arrow(in.Top)
	}
	if in.Nap != (geom.Pt{}) {
		put(st.word("nap"), Regular)
		arrow(in.Nap)
	}
	notes := []string{}
	if !in.Lattice.None() && !in.PhaseKnown {
		notes = append(notes, st.word("phase-unknown"))
	}
	if in.Foot != "" {
		notes = append(notes, in.Foot)
	}
	for _, note := range notes {
		// A note goes beside what stands there if it fits before the buying
		// line, else under it.
		room := st.Paper(l.geom.Bounds.Max.X) - x - 30
		if x > 0 && st.Metrics.Width(note, size, Regular) > room {
			x, y = 0, y-size*1.5
		}
		put(note, Regular)
		x += 1.5
	}
	return items
}

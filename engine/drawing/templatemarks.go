package drawing

import (
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// seams draws the lines on which neighbouring tiles are laid over each other,
// with crosses that both of them carry. The line runs in the middle of the
// overlap.
func (t template) seams(i, j int, by geom.Pt) []Item {
	var items []Item
	w := t.window(i, j)
	cross := func(p geom.Pt) {
		q := p.Add(by)
		items = append(items, Mark{Layer: "match", Kind: Cross, At: q, Size: 7, Role: Ink, Width: Hair},
			Mark{Layer: "match", Kind: Disc, At: q, Size: 3.4, Role: Ink, Width: Hair})
	}
	name := func(s string, at geom.Pt, turned float64, a Anchor) {
		items = append(items, Text{Layer: "match", S: s, At: at.Add(by), Size: 2.6, Turned: turned, Anchor: a, Role: Ink2})
	}
	const half = tileOverlap / 2
	upright := func(x float64, other string, left bool) {
		items = append(items, line("seam", geom.P(x, w.Min.Y).Add(by), geom.P(x, w.Max.Y).Add(by), Ink2, Hair, Chain))
		for _, share := range []float64{0.25, 0.75} {
			cross(geom.P(x, w.Min.Y+t.h*share))
		}
		mid := geom.P(x-1.2, w.Min.Y+t.h/2)
		if left {
			mid.X = x + 3
		}
		name(other, mid, 90, BaseCentre)
	}
	level := func(y float64, other string, low bool) {
		items = append(items, line("seam", geom.P(w.Min.X, y).Add(by), geom.P(w.Max.X, y).Add(by), Ink2, Hair, Chain))
		for _, share := range []float64{0.25, 0.75} {
			cross(geom.P(w.Min.X+t.w*share, y))
		}
		mid := geom.P(w.Min.X+t.w/2, y-3)
		if low {
			mid.Y = y + 1.2
		}
		name(other, mid, 0, BaseCentre)
	}
	if t.needed(i-1, j) {
		upright(w.Min.X+half, t.name(i-1, j), true)
	}
	if t.needed(i+1, j) {
		upright(w.Max.X-half, t.name(i+1, j), false)
	}
	if t.needed(i, j-1) {
		level(w.Min.Y+half, t.name(i, j-1), true)
	}
	if t.needed(i, j+1) {
		level(w.Max.Y-half, t.name(i, j+1), false)
	}
	return items
}

// labels says on every tile what it is, which face is up and where the front
// is.
func (t template) labels(i, j int, frame geom.Rect) []Item {
	st := t.st
	y := frame.Max.Y + 2.4
	who := shorten(st.Metrics, t.in.Name+" · "+t.in.Job, 3.4, Bold, frame.W()-30)
	items := []Item{
		Text{Layer: "text", S: who, At: geom.P(frame.Min.X, y), Size: 3.4, Weight: Bold, Role: Ink},
		Text{Layer: "text", S: st.word("tile", unit.A("tile", t.name(i, j))), At: geom.P(frame.Max.X, y), Size: 3.4, Weight: Bold, Anchor: BaseRight, Role: Ink},
	}
	if t.roll {
		items = append(items, Text{Layer: "text", S: shorten(st.Metrics, st.word("print-100"), 3.4, Bold, frame.W()), At: geom.P(frame.Min.X, y+5.4), Size: 3.4, Weight: Bold, Role: Ink})
	}
	// The front arrow stands in a corner of the frame that is free of the
	// outline, with the face beside it.
	dir := geom.P(0, -1)
	if t.turned {
		dir = geom.P(1, 0)
	}
	w := t.window(i, j)
	by := frame.Min.Sub(w.Min)
	block := &placer{}
	for _, p := range append([]geom.Path{t.in.Path}, t.in.Inner...) {
		for _, run := range clipRuns(p.Flatten(geom.ChordTol), w) {
			for k := 1; k < len(run); k++ {
				block.lines = append(block.lines, run[k-1].Add(by), run[k].Add(by))
			}
		}
	}
	for _, p := range append(append([]geom.Path{}, t.in.Marks...), t.in.Cuts...) {
		for k := 1; k < len(p); k++ {
			block.lines = append(block.lines, p[k-1].Pt.Add(by), p[k].Pt.Add(by))
		}
	}
	block.lines = append(block.lines, t.in.Centre[0].Add(by), t.in.Centre[1].Add(by))
	const inset = tileOverlap + 6
	text := Text{Layer: "text", S: st.word("tile-front"), Size: 3.2, Weight: Bold, Role: Ink}
	face := Text{Layer: "text", S: t.in.Face, Size: 3.2, Role: Ink}
	for try := range 9 {
		at := geom.P(frame.Min.X+inset+(frame.W()-2*inset-46)*float64(try%3)/2, frame.Min.Y+inset+(frame.H()-2*inset-14)*float64(try/3)/2)
		tail, tip := at.Add(geom.P(3, 12)), at.Add(geom.P(3, 0))
		if dir.X > 0 {
			tail, tip = at.Add(geom.P(0, 6)), at.Add(geom.P(12, 6))
		}
		a, b := text, face
		a.At, b.At = at.Add(geom.P(14, 7.6)), at.Add(geom.P(14, 2.6))
		all := textBox(a, st).Union(textBox(b, st)).Include(tail).Include(tip)
		if !block.free(all) && try < 8 {
			continue
		}
		items = append(items, Arrow{Layer: "front", From: tail, To: tip, HeadTo: true, Filled: true, Head: 4, Role: Ink, Width: Thick}, a, b)
		break
	}
	return items
}

// checkBars draws a bar of 100 mm or 4 in along the lower and the left edge of
// a tile's frame.
func checkBars(frame geom.Rect, k int, label string, st Style) []Item {
	length := []float64{checkMetric, checkInches}[k]
	off := 3.2 + 4.0*float64(k)
	var items []Item
	bar := func(a, b geom.Pt, upright bool) {
		tick := geom.P(0, 1.1)
		t := Text{Layer: "check", S: label, Size: 2.5, Role: Ink2, At: a.Add(b).Mul(0.5), Anchor: MidCentre, Plate: Paper, Pad: 0.5}
		if upright {
			tick, t.Turned = geom.P(1.1, 0), 90
		}
		items = append(items, line("check", a, b, Ink, Hair, Solid), line("check", a.Sub(tick), a.Add(tick), Ink, Hair, Solid),
			line("check", b.Sub(tick), b.Add(tick), Ink, Hair, Solid), t)
	}
	lo := frame.Min
	bar(geom.P(lo.X, lo.Y-off), geom.P(lo.X+length, lo.Y-off), false)
	bar(geom.P(lo.X-off, lo.Y), geom.P(lo.X-off, lo.Y+length), true)
	return items
}

// cover is the first page: the map of the tiles, the squares to measure, and
// how to print.
func (t template) cover(tiles int) Drawing {
	st := t.st
	p := newPager(st, t.page, nil)
	p.y -= 5.6
	p.write(shorten(st.Metrics, t.in.Name, Title, Bold, p.width()), p.left(), p.y, Title, Bold, BaseLeft, Ink)
	p.y -= 2
	size := st.text(Normal)
	info := t.in.Job
	if t.in.Width > 0 {
		info += " · " + st.Units.PairLabel(t.in.Width, t.in.Depth)
	}
	p.y = p.column([]paragraph{{text: info, size: size, role: Ink2}}, p.left(), p.y, p.width(), true) - 3
	p.rule(p.left(), p.right(), p.y, Thick, Ink)
	p.y -= 3
	p.y = p.column([]paragraph{
		{text: st.word("print-100"), size: st.text(Large), weight: Bold, role: Ink},
		{text: st.word("print-check"), size: size, role: Ink, above: 1},
		{text: st.word("print-join", unit.A("tiles", tiles)), size: size, role: Ink, above: 1},
		{text: t.in.Face, size: size, weight: Bold, role: Ink, above: 1},
	}, p.left(), p.y, p.width(), true) - 6
	// The squares, one in the other from the same corner.
	at := geom.P(p.left()+2, p.y-checkInches-2)
	d := p.page()
	d.Add(Shape{Layer: "check-square", Path: geom.Box(at.X, at.Y, at.X+checkMetric, at.Y+checkMetric), Stroke: Ink, Width: Thin},
		Shape{Layer: "check-square", Path: geom.Box(at.X, at.Y, at.X+checkInches, at.Y+checkInches), Stroke: Ink, Width: Thin, Line: Dash},
		Text{Layer: "check-square", S: st.word("square"), At: at.Add(geom.P(checkMetric/2, checkMetric/2)), Size: size, Anchor: MidCentre, Role: Ink})
	d.Add(t.pageMap(geom.Rect{Min: geom.P(at.X+checkInches+8, at.Y), Max: geom.P(p.right(), at.Y+checkInches)}, geom.Rect{Min: geom.P(p.left(), p.low), Max: geom.P(p.right(), at.Y-8)})...)
	return *d
}

// pageMap draws how the tiles lie, in the larger of two free places.
func (t template) pageMap(a, b geom.Rect) []Item {
	lo, hi := t.window(0, 0).Min, t.window(t.nx-1, t.ny-1).Max
	scaleIn := func(r geom.Rect) float64 { return min(r.W()/(hi.X-lo.X), r.H()/(hi.Y-lo.Y)) }
	place := a
	if scaleIn(b) > scaleIn(a) {
		place = b
	}
	s := min(scaleIn(place), 0.25)
	by := place.Center().Sub(lo.Add(hi).Mul(0.5 * s))
	m := Drawing{}
	m.Add(Shape{Layer: "map", Path: t.in.Path, Stroke: Ink, Width: Medium})
	size := min(t.st.text(Large), t.w*s*0.3)
	for j := range t.ny {
		for i := range t.nx {
			w := t.window(i, j)
			if !t.needed(i, j) {
				m.Add(Shape{Layer: "map", Path: w.Path(), Stroke: Rule, Width: Hair, Line: Dot})
				continue
			}
			m.Add(Shape{Layer: "map", Path: w.Path(), Stroke: Ink2, Width: Hair},
				Text{Layer: "map", S: t.name(i, j), At: w.Center(), Size: size, Weight: Bold, Anchor: MidCentre, Role: Ink})
		}
	}
	return m.Placed(s, by).Items
}

// stretched gives a page with all positions scaled apart level and upright
// about the middle of the page; arcs become short chords.
func stretched(d Drawing, fx, fy float64) Drawing {
	c := d.Bounds.Center()
	at := func(p geom.Pt) geom.Pt { return geom.P(c.X+(p.X-c.X)*fx, c.Y+(p.Y-c.Y)*fy) }
	out := Drawing{Bounds: d.Bounds}
	for _, it := range d.Items {
		switch it := it.(type) {
		case Shape:
			ring := it.Path
			if !it.Open {
				ring = it.Path.Flatten(geom.ChordTol).Path()
			}
			path := make(geom.Path, len(ring))
			for i, v := range ring {
				path[i] = geom.Vertex{Pt: at(v.Pt)}
			}
			it.Path = path
			out.Add(it)
		case Text:
			it.At = at(it.At)
			out.Add(it)
		case Arrow:
			it.From, it.To = at(it.From), at(it.To)
			out.Add(it)
		case Mark:
			it.At = at(it.At)
			out.Add(it)
		}
	}
	return out
}

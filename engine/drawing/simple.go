package drawing

import (
	"math"
	"sort"

	"slipseat/engine/geom"
)

// Simple gives the drawing with arrows, marks, hatches and the plates behind
// texts turned into plain shapes, for files that know only paths and text. At
// the given scale it looks the same.
func Simple(d Drawing, paperPerModel float64, m Metrics) Drawing {
	st := Style{PaperPerModel: paperPerModel, Metrics: m}
	out := Drawing{Bounds: d.Bounds}
	for _, it := range d.Items {
		switch it := it.(type) {
		case Shape:
			out.Add(simpleShape(it, st)...)
		case Text:
			out.Add(simpleText(it, st)...)
		case Arrow:
			out.Add(simpleArrow(it, st)...)
		case Mark:
			out.Add(simpleMark(it, st)...)
		}
	}
	return out
}

func simpleShape(s Shape, st Style) []Item {
	if s.Hatch == Plain || s.Open {
		return []Item{s}
	}
	hatch, outline, ground := s.Hatch, s, s
	ground.Hatch, ground.Stroke = Plain, None
	outline.Hatch, outline.Fill = Plain, None
	items := []Item{ground}
	ring := s.Path.Flatten(ChordOnPaper / st.PaperPerModel)
	for _, l := range hatchLines(ring, hatch, st.Model(HatchGap)) {
		items = append(items, line(s.Layer, l[0], l[1], s.Stroke, Hair, Solid))
	}
	return append(items, outline)
}

// ChordOnPaper is the largest distance in paper millimetres between an arc and
// the line drawn for it: a tenth of a pixel at scale 1.
const ChordOnPaper = 0.1 / PxPerPaper

// hatchLines gives the lines of a hatch inside a ring. Each line at 45 degrees
// is cut by the ring's edges; between an odd and the next crossing it runs
// inside.
func hatchLines(ring geom.Polygon, h Hatch, gap float64) [][2]geom.Pt {
	var out [][2]geom.Pt
	b := ring.Bounds()
	step := gap * math.Sqrt2
	if !(step > 0) || (b.W()+b.H())/step > 1e5 {
		return nil
	}
	for _, dir := range []float64{-1, 1} { // y = c + x rises to the right
		if dir > 0 && h != Crossed {
			break
		}
		lo := min(b.Min.X*dir, b.Max.X*dir) + b.Min.Y
		hi := max(b.Min.X*dir, b.Max.X*dir) + b.Max.Y
		for c := math.Ceil(lo/step) * step; c < hi; c += step {
			var xs []float64
			for i, p := range ring {
				q := ring[(i+1)%len(ring)]
				dp, dq := p.X*dir+p.Y-c, q.X*dir+q.Y-c
				if dp < 0 != (dq < 0) {
					xs = append(xs, p.X+(q.X-p.X)*dp/(dp-dq))
				}
			}
			sort.Float64s(xs)
			for i := 0; i+1 < len(xs); i += 2 {
				out = append(out, [2]geom.Pt{geom.P(xs[i], c-xs[i]*dir), geom.P(xs[i+1], c-xs[i+1]*dir)})
			}
		}
	}
	return out
}

// simpleText gives the plate as a shape and the text anchored at the start of
// its baseline, without a shift on paper.
func simpleText(t Text, st Style) []Item {
	w, capH := textWidth(t, st.Metrics), st.Metrics.CapHeight(t.Size, t.Weight)
	across, up := t.Anchor.Share()
	sin, cos := math.Sincos(t.Turned * math.Pi / 180)
	x0, y0 := -across*w, -up*capH
	at := func(x, y float64) geom.Pt { // from the text's own paper axes
		return t.At.Add(geom.P(x*cos-y*sin+t.Off.X, x*sin+y*cos+t.Off.Y).Mul(1 / st.PaperPerModel))
	}
	var items []Item
	if t.Plate != None || t.Rim != None {
		left, right := x0-t.Pad*1.25, x0+w+t.Pad*1.25
		low, high := y0-t.Pad, y0+capH+t.Pad
		if short := (high - low) - (w + 2*t.Pad); short > 0 {
			left, right = left-short/2, right+short/2
		}
		r := min((high-low)/2, t.Pad*1.5)
		q := math.Tan(math.Pi / 8) // quarter circles
		path := geom.Path{
			{Pt: at(left+r, low)}, {Pt: at(right-r, low), Bulge: q}, {Pt: at(right, low+r)}, {Pt: at(right, high-r), Bulge: q},
			{Pt: at(right-r, high)}, {Pt: at(left+r, high), Bulge: q}, {Pt: at(left, high-r)}, {Pt: at(left, low+r), Bulge: q},
		}
		s := Shape{Layer: t.Layer, Path: path, Fill: t.Plate, Stroke: t.Rim}
		if t.Rim != None {
			s.Width = Thin
		}
		items = append(items, s)
	}
	bare := t
	bare.At, bare.Off, bare.Anchor, bare.Plate, bare.Rim, bare.Pad = at(x0, y0), geom.Pt{}, BaseLeft, None, None, 0
	return append(items, bare)
}

func simpleArrow(a Arrow, st Style) []Item {
	l := a.From.Dist(a.To)
	if l == 0 {
		return nil
	}
	dir := unitTo(a.From, a.To)
	head := min(st.Model(a.Head), l*0.9)
	from, to := a.From, a.To
	if a.Filled { // the line stops inside a solid head so that the tip stays sharp
		if a.HeadFrom {
			from = from.Add(dir.Mul(head * 0.7))
		}
		if a.HeadTo {
			to = to.Sub(dir.Mul(head * 0.7))
		}
	}
	items := []Item{line(a.Layer, from, to, a.Role, a.Width, a.Line)}
	tip := func(at, dir geom.Pt) {
		spread := 0.42
		if a.Filled {
			spread = 0.36
		}
		back := at.Sub(dir.Mul(head))
		side := dir.Turned(1).Mul(head * spread)
		path := geom.Path{{Pt: back.Add(side)}, {Pt: at}, {Pt: back.Sub(side)}}
		s := Shape{Layer: a.Layer, Path: path, Open: true, Stroke: a.Role, Width: a.Width}
		if a.Filled {
			s = Shape{Layer: a.Layer, Path: path, Fill: a.Role}
		}
		items = append(items, s)
	}
	if a.HeadFrom {
		tip(a.From, dir.Mul(-1))
	}
	if a.HeadTo {
		tip(a.To, dir)
	}
	return items
}

func simpleMark(m Mark, st Style) []Item {
	at := m.At.Add(m.Off.Mul(1 / st.PaperPerModel))
	sin, cos := math.Sincos(m.Turned * math.Pi / 180)
	along := geom.P(cos, sin).Mul(st.Model(m.Size))
	switch m.Kind {
	case Disc:
		return []Item{Shape{Layer: m.Layer, Path: geom.Circle(at, st.Model(m.Size)/2), Fill: m.Fill, Stroke: m.Role, Width: m.Width}}
	case Cross:
		half, up := along.Mul(0.5), along.Turned(1).Mul(0.5)
		return []Item{line(m.Layer, at.Sub(half), at.Add(half), m.Role, m.Width, Solid), line(m.Layer, at.Sub(up), at.Add(up), m.Role, m.Width, Solid)}
	case Tick:
		half := along.Mul(0.5)
		return []Item{line(m.Layer, at.Sub(half), at.Add(half), m.Role, m.Width, Solid)}
	}
	return []Item{line(m.Layer, at, at.Add(along), m.Role, m.Width, Solid)}
}

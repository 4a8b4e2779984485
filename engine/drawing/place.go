package drawing

import (
	"math"

	"slipseat/engine/geom"
)

// box is a rectangle in model coordinates.
type box = geom.Rect

// textBox is the rectangle that a text and its plate cover, in model
// coordinates; for turned text the box around it.
func textBox(t Text, st Style) box {
	w := textWidth(t, st.Metrics)
	cap, desc := st.Metrics.CapHeight(t.Size, t.Weight), st.Metrics.Descent(t.Size, t.Weight)
	top := st.Metrics.Ascent(t.Size, t.Weight)
	across, up := t.Anchor.Share()
	x0, x1 := -across*w, (1-across)*w
	y0, y1 := -up*cap-desc, -up*cap+top
	if t.Plate != None || t.Rim != None {
		x0, x1 = x0-t.Pad*1.25, x1+t.Pad*1.25
		y0, y1 = min(y0, -up*cap-t.Pad), max(y1, -up*cap+cap+t.Pad)
	}
	sin, cos := math.Sincos(t.Turned * math.Pi / 180)
	out := box{Min: geom.P(math.Inf(1), math.Inf(1)), Max: geom.P(math.Inf(-1), math.Inf(-1))}
	for _, c := range [4]geom.Pt{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}} {
		p := geom.P(c.X*cos-c.Y*sin+t.Off.X, c.X*sin+c.Y*cos+t.Off.Y).Mul(1 / st.PaperPerModel).Add(t.At)
		out.Min = geom.P(min(out.Min.X, p.X), min(out.Min.Y, p.Y))
		out.Max = geom.P(max(out.Max.X, p.X), max(out.Max.Y, p.Y))
	}
	return out
}

// textWidth is the width of a text on paper, without its plate.
func textWidth(t Text, m Metrics) float64 {
	w := m.Width(t.S, t.Size, t.Weight)
	if n := len([]rune(t.S)); n > 1 {
		w += t.Spaced * t.Size * float64(n-1)
	}
	return w
}

// TextBox is the rectangle in model millimetres that a text covers at a scale,
// for hit tests and for tests of what overlaps.
func TextBox(t Text, st Style) geom.Rect { return textBox(t, st) }

// Reach is the part of the model that a drawing covers at a scale: its bounds,
// its texts and the ends of its lines. A view that has to show every label
// fits this.
func Reach(d Drawing, st Style) geom.Rect {
	r := d.Bounds
	for _, it := range d.Items {
		switch it := it.(type) {
		case Shape:
			for _, v := range it.Path {
				r = r.Include(v.Pt)
			}
		case Text:
			r = r.Union(textBox(it, st))
		case Arrow:
			r = r.Include(it.From).Include(it.To)
		case Mark:
			at := it.At.Add(it.Off.Mul(1 / st.PaperPerModel))
			r = r.Union(geom.Rect{Min: at, Max: at}.Grow(st.Model(it.Size / 2)))
		}
	}
	return r
}

// placer finds free places for labels: none over another, none over a line
// that was given to it.
type placer struct {
	air   float64 // model mm kept free round every label
	side  float64 // and as much again on its left and right
	taken []box
	lines []geom.Pt // pairs: the ends of segments to keep clear of
}

func (p *placer) block(b box) { p.taken = append(p.taken, b) }

// keepOff adds the outline of a path to the lines that labels keep clear of.
func (p *placer) keepOff(path geom.Path, tol float64) {
	ring := path.Flatten(tol)
	for i, a := range ring {
		p.lines = append(p.lines, a, ring[(i+1)%len(ring)])
	}
}

// free tells whether a label may cover b.
func (p *placer) free(b box) bool {
	b = b.Grow(p.air)
	b.Min.X, b.Max.X = b.Min.X-p.side, b.Max.X+p.side
	for _, t := range p.taken {
		if b.Overlaps(t) {
			return false
		}
	}
	for i := 0; i+1 < len(p.lines); i += 2 {
		if crosses(b, p.lines[i], p.lines[i+1]) {
			return false
		}
	}
	return true
}

// crosses tells whether any part of the segment a-b lies inside the box (Liang
// and Barsky, 1984).
func crosses(r box, a, b geom.Pt) bool {
	t0, t1 := 0.0, 1.0
	d := b.Sub(a)
	for _, e := range [4][2]float64{
		{-d.X, a.X - r.Min.X}, {d.X, r.Max.X - a.X}, {-d.Y, a.Y - r.Min.Y}, {d.Y, r.Max.Y - a.Y},
	} {
		switch {
		case e[0] == 0:
			if e[1] < 0 {
				return false
			}
		case e[0] < 0:
			t0 = max(t0, e[1]/e[0])
		default:
			t1 = min(t1, e[1]/e[0])
		}
	}
	return t0 <= t1
}

// first takes the first of several places for one label that is free, and
// reports whether there was one.
func (p *placer) first(st Style, places ...Text) (Text, bool) {
	for _, t := range places {
		if b := textBox(t, st); p.free(b) {
			p.block(b)
			return t, true
		}
	}
	return Text{}, false
}

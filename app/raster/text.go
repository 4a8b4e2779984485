package raster

import (
	"image"
	"image/draw"
	"math"

	"github.com/golang/freetype/truetype"
	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"

	"slipseat/engine/drawing"
)

// maskPx is the size in pixels up to which level text is painted from kept
// masks of its letters; larger and turned text is filled from the outlines.
const maskPx = 40

// hugePx is the size beyond which text is left out; one letter would fill the
// window.
const hugePx = 4096

func (r *renderer) text(t drawing.Text) {
	size := t.Size * r.t.Paper
	x, y := r.t.Px(t.At)
	x += t.Off.X * r.t.Paper
	y -= t.Off.Y * r.t.Paper
	if t.S == "" || !finite(x, y, size, t.Turned) || size < 1 || size > hugePx {
		return
	}
	w := (Metrics{}).Width(t.S, size, t.Weight) + t.Spaced*size*float64(len([]rune(t.S))-1)
	capH := (Metrics{}).CapHeight(size, t.Weight)
	reach := w + 2*size + 2*t.Pad*r.t.Paper
	if x+reach < r.view.x0 || x-reach > r.view.x1 || y+reach < r.view.y0 || y-reach > r.view.y1 {
		return
	}
	across, up := t.Anchor.Share()
	sin, cos := math.Sincos(t.Turned * math.Pi / 180)
	// Start of the baseline, from the anchor, in the text's own axes.
	dx, dy := -across*w, -up*capH
	bx, by := x+dx*cos-dy*sin, y-(dx*sin+dy*cos)
	if t.Plate != drawing.None || t.Rim != drawing.None {
		r.plate(t, bx, by, w, capH, sin, cos)
	}
	if sin == 0 && cos == 1 && size <= maskPx {
		r.levelText(t, bx, by, size)
		return
	}
	r.gg.SetColor(r.palette.Color(t.Role))
	r.glyph.walk(t.S, t.Weight, t.Spaced, func(s glyphStep) {
		px := func(x, y float64) (float64, float64) {
			x, y = x*size, y*size
			return bx + x*cos - y*sin, by - (x*sin + y*cos)
		}
		switch x, y := px(s.x, s.y); s.kind {
		case 'M':
			r.gg.MoveTo(x, y)
		case 'L':
			r.gg.LineTo(x, y)
		case 'Q':
			cx, cy := px(s.cx, s.cy)
			r.gg.QuadraticTo(cx, cy, x, y)
		case 'Z':
			r.gg.ClosePath()
		}
	})
	r.gg.Fill()
}

// levelText paints text from kept masks; the baseline lies on a whole pixel,
// so that a row of labels is sharp.
func (r *renderer) levelText(t drawing.Text, x, y, size float64) {
	tf := typefaceOf(t.Weight)
	r.ink.C = r.palette.Color(t.Role)
	baseline := int(math.Floor(y + 0.5)) // the same in every band of a page
	for _, c := range t.S {
		left := math.Floor(x)
		m := r.mask(t.Weight, size, c, int((x-left)*subPixels))
		if m.alpha != nil {
			at := m.at.Add(image.Pt(int(left), baseline))
			draw.DrawMask(r.dst, m.alpha.Rect.Add(at), &r.ink, image.Point{}, m.alpha, image.Point{}, draw.Over)
		}
		x += (tf.advance(c) + t.Spaced) * size
	}
}

// plate paints the rounded ground of a text whose baseline starts at x, y.
func (r *renderer) plate(t drawing.Text, x, y, w, capH, sin, cos float64) {
	pad := t.Pad * r.t.Paper
	low, high := -pad, capH+pad
	if short := (high - low) - (w + 2*pad); short > 0 { // at least as wide as high
		x -= short / 2 * cos
		y += short / 2 * sin
		w += short
	}
	left, right := -pad*1.25, w+pad*1.25
	rad := min((high-low)/2, pad*1.5)
	corner := func(cx, cy, from float64) {
		for i := range 7 {
			s, c := math.Sincos((from + 15*float64(i)) * math.Pi / 180)
			px, py := cx+c*rad, cy+s*rad
			r.pts = append(r.pts, xy{x + px*cos - py*sin, y - (px*sin + py*cos)})
		}
	}
	r.pts = r.pts[:0]
	corner(right-rad, high-rad, 0)
	corner(left+rad, high-rad, 90)
	corner(left+rad, low+rad, 180)
	corner(right-rad, low+rad, 270)
	if t.Plate != drawing.None {
		r.fill(r.pts, r.palette.Color(t.Plate))
	}
	if t.Rim != drawing.None {
		r.stroke(r.pts, true, drawing.Thin*r.t.Paper, drawing.Solid, r.palette.Color(t.Rim))
	}
}

// OutlineStep is one step of the outline of a text, in ems from the start of
// its baseline, y upwards: Kind M moves, L draws a line, Q a curve over the
// control point CX, CY, Z closes.
type OutlineStep struct {
	Kind   byte
	X, Y   float64
	CX, CY float64
}

// Outline gives the outlines of a text; spaced is extra space between letters
// in ems. Letters may overlap themselves: fill by winding.
func Outline(text string, w drawing.Weight, spaced float64, step func(OutlineStep)) {
	var g glyphReader
	g.walk(text, w, spaced, func(s glyphStep) { step(OutlineStep{s.kind, s.x, s.y, s.cx, s.cy}) })
}

// glyphStep is one step of an outline, in ems from the start of the baseline,
// y up: M move, L line, Q curve over the control point, Z close.
type glyphStep struct {
	kind   byte
	x, y   float64
	cx, cy float64
}

// glyphReader reads the outlines of letters.
type glyphReader struct{ buf truetype.GlyphBuf }

// walk gives the outlines of a whole text.
func (g *glyphReader) walk(text string, w drawing.Weight, spaced float64, step func(glyphStep)) {
	tf := typefaceOf(w)
	x := 0.0
	for _, c := range text {
		g.letter(tf, c, x, step)
		x += tf.advance(c) + spaced
	}
}

func (g *glyphReader) letter(tf *typeface, c rune, x float64, step func(glyphStep)) {
	if err := g.buf.Load(tf.font, fixed.Int26_6(tf.font.FUnitsPerEm()), tf.font.Index(c), font.HintingNone); err != nil {
		return
	}
	start := 0
	for _, end := range g.buf.Ends {
		contour(g.buf.Points[start:end], func(s glyphStep) {
			s.x, s.cx = s.x/tf.perEm+x, s.cx/tf.perEm+x
			s.y, s.cy = s.y/tf.perEm, s.cy/tf.perEm
			step(s)
		})
		start = end
	}
}

// contour turns a TrueType contour into steps: between two control points lies
// an implied point half way (TrueType reference manual, "Digitizing letterform
// designs").
func contour(ps []truetype.Point, step func(glyphStep)) {
	n := len(ps)
	if n < 2 {
		return
	}
	on := func(i int) bool { return ps[i%n].Flags&1 != 0 }
	at := func(i int) (float64, float64) { return float64(ps[i%n].X), float64(ps[i%n].Y) }
	first := 0
	for first < n && !on(first) {
		first++
	}
	var x, y float64
	if first == n { // control points only: start half way
		first = 0
		x0, y0 := at(0)
		x1, y1 := at(n - 1)
		x, y = (x0+x1)/2, (y0+y1)/2
		first = -1
	} else {
		x, y = at(first)
	}
	step(glyphStep{kind: 'M', x: x, y: y})
	sx, sy := x, y
	for i := first + 1; i <= first+n; i++ {
		px, py := at(i)
		if on(i) {
			if i%n != first {
				step(glyphStep{kind: 'L', x: px, y: py})
			}
			continue
		}
		ex, ey := at(i + 1)
		switch {
		case i == first+n || first >= 0 && (i+1)%n == first:
			ex, ey = sx, sy
		case on(i + 1):
			i++
		default:
			ex, ey = (px+ex)/2, (py+ey)/2
		}
		step(glyphStep{kind: 'Q', cx: px, cy: py, x: ex, y: ey})
	}
	step(glyphStep{kind: 'Z', x: sx, y: sy})
}

// Package raster paints drawings into images and measures text with the
// program's own typeface.
package raster

import (
	"image"
	"image/draw"
	"math"
	"sync"

	"github.com/fogleman/gg"
	"golang.org/x/image/vector"

	"slipseat/engine/drawing"
	"slipseat/engine/geom"
)

// Transform maps a drawing to an image. Model y runs upwards, pixels run
// downwards; this is the only place that flips.
type Transform struct {
	Scale float64 // pixels for a model millimetre
	X, Y  float64 // pixel at which the model's origin lies
	Paper float64 // pixels for a paper millimetre; drawing.PxPerPaper at scale 1
}

// Px maps a model point to a pixel position.
func (t Transform) Px(p geom.Pt) (x, y float64) {
	return t.X + p.X*t.Scale, t.Y - p.Y*t.Scale
}

// Model maps a pixel position to a model point.
func (t Transform) Model(x, y float64) geom.Pt {
	return geom.P((x-t.X)/t.Scale, (t.Y-y)/t.Scale)
}

// PaperPerModel is the scale that a drawing's style is made with.
func (t Transform) PaperPerModel() float64 { return t.Scale / t.Paper }

// Fit gives the transform that shows bounds in the middle of an image of
// w by h pixels, with margin pixels free on every side. A drawing without
// extent is shown at 1 pixel a millimetre.
func Fit(bounds geom.Rect, w, h int, margin, paper float64) Transform {
	free := func(px int) float64 { return max(float64(px)-2*margin, 1) }
	bw, bh := bounds.Max.X-bounds.Min.X, bounds.Max.Y-bounds.Min.Y
	s := math.Inf(1)
	if bw > 0 {
		s = free(w) / bw
	}
	if bh > 0 {
		s = min(s, free(h)/bh)
	}
	if math.IsInf(s, 1) {
		s = 1
	}
	cx, cy := (bounds.Min.X+bounds.Max.X)/2, (bounds.Min.Y+bounds.Max.Y)/2
	return Transform{Scale: s, X: float64(w)/2 - cx*s, Y: float64(h)/2 + cy*s, Paper: paper}
}

// FitLabelled gives the transform that shows a drawing with all of its labels,
// which keep their size whatever the scale: it fits what the labels reach,
// draws again at that scale and settles in a few rounds. st needs no scale of
// its own.
func FitLabelled(w, h int, margin, paper float64, st drawing.Style, build func(drawing.Style) drawing.Drawing) Transform {
	st.PaperPerModel = 1
	d := build(st)
	t := Fit(d.Bounds, w, h, margin+drawing.DimensionRoom*paper, paper)
	for range 4 {
		st.PaperPerModel = t.PaperPerModel()
		d := build(st)
		reach, b := drawing.Reach(d, st), d.Bounds
		// The labels' reach past the bounds is the same on paper at the next
		// scale; take it off the room and fit the bounds in what is left.
		l, r := (b.Min.X-reach.Min.X)*t.Scale, (reach.Max.X-b.Max.X)*t.Scale
		low, top := (b.Min.Y-reach.Min.Y)*t.Scale, (reach.Max.Y-b.Max.Y)*t.Scale
		fw, fh := float64(w)-2*margin-l-r, float64(h)-2*margin-low-top
		next := Fit(b, int(max(fw, 16)), int(max(fh, 16)), 0, paper)
		cx, cy := (b.Min.X+b.Max.X)/2, (b.Min.Y+b.Max.Y)/2
		next.X = margin + l + max(fw, 16)/2 - cx*next.Scale
		next.Y = margin + top + max(fh, 16)/2 + cy*next.Scale
		done := math.Abs(next.Scale/t.Scale-1) < 0.002
		t = next
		if done {
			break
		}
	}
	return t
}

// Render paints a drawing over what dst holds. It may be called from several
// goroutines at once, on images of their own. What is not finite or lies
// wholly outside is left out.
func Render(dst *image.RGBA, d drawing.Drawing, t Transform, p *drawing.Palette) {
	if dst.Bounds().Empty() || !(t.Scale > 0) || !(t.Paper > 0) || !finite(t.Scale, t.X, t.Y, t.Paper) {
		return
	}
	r := pool.Get().(*renderer)
	defer pool.Put(r)
	r.start(dst, t, p)
	for _, it := range d.Items {
		switch it := it.(type) {
		case drawing.Shape:
			r.shape(it)
		case drawing.Text:
			r.text(it)
		case drawing.Arrow:
			r.arrow(it)
		case drawing.Mark:
			r.mark(it)
		case drawing.Ground:
			r.ground(it)
		}
	}
	r.dst, r.gg = nil, nil
}

// Clear fills the whole image with a role's colour.
func Clear(dst *image.RGBA, role drawing.Role, p *drawing.Palette) {
	draw.Draw(dst, dst.Bounds(), image.NewUniform(p.Color(role)), image.Point{}, draw.Src)
}

// pool keeps renderers with their fonts and buffers; each is used by one
// goroutine at a time, as font faces demand.
var pool = sync.Pool{New: func() any { return newRenderer() }}

// renderer holds what one goroutine needs to paint.
type renderer struct {
	dst     *image.RGBA
	gg      *gg.Context
	t       Transform
	palette *drawing.Palette
	// view is the image in pixels, grown by what a line or a join can reach.
	view  box
	pts   []xy
	clip  []xy
	masks map[maskKey]mask
	glyph glyphReader
	vec   vector.Rasterizer
	ink   image.Uniform
}

func newRenderer() *renderer { return &renderer{masks: map[maskKey]mask{}} }

func (r *renderer) start(dst *image.RGBA, t Transform, p *drawing.Palette) {
	// gg counts from 0; a part of a larger image is painted through its own
	// window on the same pixels.
	b := dst.Bounds()
	if b.Min != (image.Point{}) {
		dst = &image.RGBA{Pix: dst.Pix, Stride: dst.Stride, Rect: image.Rect(0, 0, b.Dx(), b.Dy())}
		t.X -= float64(b.Min.X)
		t.Y -= float64(b.Min.Y)
	}
	r.dst, r.t, r.palette = dst, t, p
	r.gg = gg.NewContextForRGBA(dst)
	w, h := float64(b.Dx()), float64(b.Dy())
	const grow = 16
	r.view = box{-grow, -grow, w + grow, h + grow}
}

// farthest is the largest pixel position that is drawn, a picture of a metre
// at a million pixels a millimetre: from there on sums of dashes lose their
// precision.
const farthest = 1e9

// finite tells whether all numbers are pixel positions that can be drawn.
func finite(vs ...float64) bool {
	for _, v := range vs {
		if !(math.Abs(v) <= farthest) {
			return false
		}
	}
	return true
}

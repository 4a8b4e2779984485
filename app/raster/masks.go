package raster

import (
	"image"
	"image/draw"
	"math"

	"slipseat/engine/drawing"
)

// subPixels is the number of places within a pixel that a letter may start at;
// quarters are finer than the eye tells.
const subPixels = 4

// maskKey names a letter at a size in 1/64 pixel and a place within a pixel.
type maskKey struct {
	letter rune
	size   int32
	weight drawing.Weight
	sub    uint8
}

// mask is a letter's coverage and where it lies from the whole pixel at the
// start of its baseline. A letter without ink has no coverage.
type mask struct {
	alpha *image.Alpha
	at    image.Point
}

// maxMasks bounds what a renderer keeps: a window shows a few hundred letters
// of a dozen sizes, at about 200 bytes each.
const maxMasks = 8192

// mask gives a letter's mask, made at most once. The outlines of the typeface
// overlap themselves; the rasteriser fills by winding, so that no holes show.
func (r *renderer) mask(w drawing.Weight, size float64, letter rune, sub int) mask {
	key := maskKey{letter, int32(math.Round(size * 64)), w, uint8(sub)}
	if m, ok := r.masks[key]; ok {
		return m
	}
	if len(r.masks) >= maxMasks {
		clear(r.masks)
	}
	m := r.makeMask(typefaceOf(w), float64(key.size)/64, letter, float64(sub)/subPixels)
	r.masks[key] = m
	return m
}

func (r *renderer) makeMask(tf *typeface, size float64, letter rune, shift float64) mask {
	b := tf.bounds(letter)
	if b.Empty() {
		return mask{}
	}
	scale := size / tf.perEm
	x0, x1 := int(math.Floor(float64(b.Min.X)*scale+shift)), int(math.Ceil(float64(b.Max.X)*scale+shift))
	y0, y1 := int(math.Floor(-float64(b.Max.Y)*scale)), int(math.Ceil(-float64(b.Min.Y)*scale))
	r.vec.Reset(x1-x0, y1-y0)
	r.vec.DrawOp = draw.Src
	place := func(x, y float64) (float32, float32) {
		return float32(x*size + shift - float64(x0)), float32(-y*size - float64(y0))
	}
	r.glyph.letter(tf, letter, 0, func(s glyphStep) {
		switch x, y := place(s.x, s.y); s.kind {
		case 'M':
			r.vec.MoveTo(x, y)
		case 'L':
			r.vec.LineTo(x, y)
		case 'Q':
			cx, cy := place(s.cx, s.cy)
			r.vec.QuadTo(cx, cy, x, y)
		case 'Z':
			r.vec.ClosePath()
		}
	})
	a := image.NewAlpha(image.Rect(0, 0, x1-x0, y1-y0))
	r.vec.Draw(a, a.Rect, image.Opaque, image.Point{})
	return mask{a, image.Pt(x0, y0)}
}

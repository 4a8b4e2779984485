package raster

import (
	"image"
	"math"

	"slipseat/engine/drawing"
)

// ground paints patterned cloth.
func (r *renderer) ground(g drawing.Ground) {
	if g.Tile == nil || !(g.Scale > 0) {
		return
	}
	x0, y1 := r.t.Px(g.Box.Min)
	x1, y0 := r.t.Px(g.Box.Max)
	if !finite(x0, y0, x1, y1) {
		return
	}
	b := r.dst.Bounds()
	// Far outside a pixel's number would not fit an int.
	clip := func(v float64, lo, hi int) int { return int(math.Round(min(max(v, float64(lo)), float64(hi)))) }
	part := image.Rect(clip(x0, b.Min.X, b.Max.X), clip(y0, b.Min.Y, b.Max.Y), clip(x1, b.Min.X, b.Max.X), clip(y1, b.Min.Y, b.Max.Y))
	if part.Empty() {
		return
	}
	mm := 1 / (r.t.Scale * g.Scale)
	at := r.t.Model(float64(part.Min.X)+0.5, float64(part.Max.Y)-0.5).Sub(g.Motif).Mul(1 / g.Scale)
	g.Tile.Paint(r.dst, part, at.X, at.Y, mm)
}

package portrait

import (
	"image"

	"slipseat/engine/geom"
	"slipseat/engine/seatview"
)

// Slant draws one seat large, as it is seen by somebody who stands before the
// chair. It gives nil when the seat cannot be shown.
func Slant(o Options, seat, number int, look seatview.Slant, size Size) *image.RGBA {
	img := blank(size)
	if img == nil {
		return nil
	}
	for _, f := range o.figures() {
		if f.seat != seat || f.number != number || f.cloth.Tile == nil {
			continue
		}
		p := newPage(size)
		y := p.heading(o)
		low := p.foot(o, []figure{f})
		room := image.Rect(0, int((p.h-y)*size.PerMM), size.W, size.H-int(low*size.PerMM))
		if room.Empty() {
			return nil
		}
		part := image.NewRGBA(image.Rect(0, 0, room.Dx(), room.Dy()))
		for y := range room.Dy() {
			copy(part.Pix[y*part.Stride:(y+1)*part.Stride], img.Pix[img.PixOffset(0, room.Min.Y+y):])
		}
		band := f.cloth
		band.Motif = geom.Pt{}
		f.pad.Slant(part, f.pad.Camera(look, part.Bounds().Size()), seatview.Dress{Cover: f.cloth, Band: band})
		for y := range room.Dy() {
			copy(img.Pix[img.PixOffset(0, room.Min.Y+y):img.PixOffset(0, room.Min.Y+y)+part.Stride], part.Pix[y*part.Stride:])
		}
		p.paint(img)
		return img
	}
	return nil
}

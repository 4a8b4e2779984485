package swatch

import (
	"image"
	"image/color"
	"math"
)

// pick is the level whose texels are about as large as a pixel of mm.
func (t *Tile) pick(mm float64) *level {
	n := 0
	for n+1 < len(t.levels) {
		l := &t.levels[n]
		// The larger texel side decides, so that nothing is blurred in vain.
		if texel := min(t.Along.MM()/float64(l.nu), t.Across.MM()/float64(l.nv)); texel*math.Sqrt2 >= mm {
			break
		}
		n++
	}
	return &t.levels[n]
}

// row is one row of texels across: its texels and where it starts along, in
// texels.
type row struct {
	pix   []uint32
	start float64
}

// rowAt is row number r counted over all columns of the cloth.
func (t *Tile) rowAt(l *level, r int) row {
	col := int(math.Floor(float64(r) / float64(l.nv)))
	i := r - col*l.nv
	drop := t.Drop * float64(col)
	drop -= math.Floor(drop)
	return row{pix: l.pix[i*l.nu : (i+1)*l.nu], start: drop * float64(l.nu)}
}

// rows gives the two rows between which v lies and the share of the second, in
// 256ths.
func (t *Tile) rows(l *level, v float64) (a, b row, share uint32) {
	y := (v/t.Across.MM()+t.offV)*float64(l.nv) - 0.5
	f := math.Floor(y)
	return t.rowAt(l, int(f)), t.rowAt(l, int(f)+1), uint32((y - f) * 256)
}

// along blends the two texels of a row between which x lies, in texels.
func (r *row) along(x float64, nu int) uint32 {
	x -= r.start + 0.5
	f := math.Floor(x)
	i := int(f) & (nu - 1)
	return blend(r.pix[i], r.pix[(i+1)&(nu-1)], uint32((x-f)*256))
}

// blend mixes two texels, share 0 to 256 of the second.
func blend(a, b, share uint32) uint32 {
	const rb, g = 0xff00ff, 0x00ff00
	keep := 256 - share
	return ((a&rb)*keep+(b&rb)*share)>>8&rb | ((a&g)*keep+(b&g)*share)>>8&g
}

// At is the colour at (u, v) as seen by a pixel of mm.
func (t *Tile) At(u, v, mm float64) color.RGBA {
	l := t.pick(mm)
	a, b, share := t.rows(l, v)
	x := (u/t.Along.MM() + t.offU) * float64(l.nu)
	return opaque(blend(a.along(x, l.nu), b.along(x, l.nu), share))
}

// Paint fills the part r of dst with cloth as it lies on the roll, u to the
// right and v upwards: the middle of the pixel at r's lower left shows (u, v),
// and a pixel is mm wide and high.
func (t *Tile) Paint(dst *image.RGBA, r image.Rectangle, u, v, mm float64) {
	part := r.Intersect(dst.Bounds())
	if part.Empty() || !(mm > 0) {
		return
	}
	l := t.pick(mm)
	perPx := mm / t.Along.MM() * float64(l.nu)
	start := (u/t.Along.MM()+t.offU)*float64(l.nu) + float64(part.Min.X-r.Min.X)*perPx
	line := make([]uint32, part.Dx())
	// Along, places are counted in 65,536ths of a texel.
	const one = 1 << 16
	step := int64(math.Round(perPx * one))
	mask := l.nu - 1
	for y := part.Min.Y; y < part.Max.Y; y++ {
		a, b, share := t.rows(l, v+float64(r.Max.Y-1-y)*mm)
		xa, xb := int64((start-a.start-0.5)*one), int64((start-b.start-0.5)*one)
		for i := range line {
			ia, ib := int(xa>>16)&mask, int(xb>>16)&mask
			fa, fb := uint32(xa>>8)&255, uint32(xb>>8)&255
			line[i] = blend(blend(a.pix[ia], a.pix[(ia+1)&mask], fa), blend(b.pix[ib], b.pix[(ib+1)&mask], fb), share)
			xa += step
			xb += step
		}
		o := dst.PixOffset(part.Min.X, y)
		out := dst.Pix[o : o+4*len(line)]
		for i, p := range line {
			q := out[4*i : 4*i+4 : 4*i+4]
			q[0], q[1], q[2], q[3] = uint8(p>>16), uint8(p>>8), uint8(p), 255
		}
	}
}

// Package swatch is the picture of a patterned cloth: one repeat of it, made
// flat, and that repeat painted over any stretch of the roll or of a seat.
//
// Places on the cloth are (u, v) in millimetres, u along the roll and v across
// it as everywhere, with a motif at (0, 0). A picture of cloth shows its face
// with the top of the pattern up: u points up in it and v to the left.
package swatch

import (
	"image"
	"image/color"
	"math"

	"golang.org/x/image/draw"

	"slipseat/engine/unit"
)

// Codes of the faults of a tile.
const (
	CodeNoPicture = "swatch.no-picture" // the picture has no pixels
	CodeRepeat    = "swatch.repeat"     // a repeat is not a length above 0
)

// Sides of the finest level of a tile, in texels; both are powers of two, so
// that every coarser level halves them exactly.
const (
	leastTexels = 16
	mostTexels  = 1024
)

// Tile is one repeat of a cloth: its colours over Along by Across, from which
// the whole cloth follows. A tile is never changed once it is made.
type Tile struct {
	Along, Across unit.Length
	// Drop is the fraction of Along by which the next column starts later.
	Drop float64

	levels []level
	// offU and offV place the motif: the texel it falls on, as shares of the
	// repeat.
	offU, offV float64
}

// level is the repeat at one fineness: nv rows across of nu texels along, each
// 0x00RRGGBB.
type level struct {
	nu, nv int
	pix    []uint32
}

// New makes a tile from a flat picture of one repeat, top of the pattern up.
// motifX and motifY say where in the picture the motif lies, as shares of its
// width from the left and of its height from the top; they may lie outside.
func New(pic image.Image, along, across unit.Length, drop, motifX, motifY float64) (*Tile, *unit.Fault) {
	b := pic.Bounds()
	if b.Empty() {
		return nil, &unit.Fault{Code: CodeNoPicture}
	}
	if !(along > 0 && across > 0) || math.IsInf(along.MM()+across.MM(), 0) {
		return nil, &unit.Fault{Code: CodeRepeat}
	}
	nv, nu := texels(b.Dx()), texels(b.Dy())
	flat := image.NewRGBA(image.Rect(0, 0, nv, nu))
	// A transparent picture is shown on white, as on a page.
	draw.Draw(flat, flat.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.CatmullRom.Scale(flat, flat.Bounds(), pic, b, draw.Over, nil)
	l := level{nu: nu, nv: nv, pix: make([]uint32, nu*nv)}
	for y := range nu {
		for x := range nv {
			p := flat.Pix[flat.PixOffset(x, y):]
			// The picture's top is the far end of the repeat, its left the far edge.
			l.pix[(nv-1-x)*nu+nu-1-y] = uint32(p[0])<<16 | uint32(p[1])<<8 | uint32(p[2])
		}
	}
	t := &Tile{Along: along, Across: across, Drop: drop, levels: []level{l}, offU: 1 - motifY, offV: 1 - motifX}
	for l.nu > 1 || l.nv > 1 {
		l = l.halved()
		t.levels = append(t.levels, l)
	}
	return t, nil
}

// texels is the power of two nearest to a picture's side, within limits.
func texels(px int) int {
	n := leastTexels
	for n < mostTexels && n*3 < px*2 {
		n *= 2
	}
	return n
}

// halved averages blocks of texels, in linear light so that fine stripes keep
// their brightness from afar.
func (l level) halved() level {
	du, dv := min(2, l.nu), min(2, l.nv)
	h := level{nu: l.nu / du, nv: l.nv / dv}
	h.pix = make([]uint32, h.nu*h.nv)
	for v := range h.nv {
		for u := range h.nu {
			var sum [3]float32
			for b := range dv {
				for a := range du {
					p := l.pix[(v*dv+b)*l.nu+u*du+a]
					sum[0] += linear[p>>16&255]
					sum[1] += linear[p>>8&255]
					sum[2] += linear[p&255]
				}
			}
			n := float32(du * dv)
			h.pix[v*h.nu+u] = encode(sum[0]/n)<<16 | encode(sum[1]/n)<<8 | encode(sum[2]/n)
		}
	}
	return h
}

// linear is the light of an 8-bit value (IEC 61966-2-1, sRGB, 1999).
var linear = func() (t [256]float32) {
	for i := range t {
		c := float64(i) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		t[i] = float32(c)
	}
	return t
}()

// encode is the opposite of linear, to the nearest value.
func encode(f float32) uint32 {
	return uint32(encoded[min(len(encoded)-1, max(0, int(f*float32(len(encoded)-1)+0.5)))])
}

// encoded is encode at equal steps, fine enough for the steep dark end.
var encoded = func() (t [1 << 14]uint8) {
	for i := range t {
		c := float64(i) / float64(len(t)-1)
		if c <= 0.0031308 {
			c *= 12.92
		} else {
			c = 1.055*math.Pow(c, 1/2.4) - 0.055
		}
		t[i] = uint8(math.Round(c * 255))
	}
	return t
}()

// Mean is the tile's average colour.
func (t *Tile) Mean() color.RGBA { return opaque(t.levels[len(t.levels)-1].pix[0]) }

// Picture gives the repeat back as a picture of its own, top up, the motif
// where it was.
func (t *Tile) Picture() *image.RGBA {
	l := t.levels[0]
	img := image.NewRGBA(image.Rect(0, 0, l.nv, l.nu))
	for y := range l.nu {
		for x := range l.nv {
			img.SetRGBA(x, y, opaque(l.pix[(l.nv-1-x)*l.nu+l.nu-1-y]))
		}
	}
	return img
}

func opaque(p uint32) color.RGBA {
	return color.RGBA{R: uint8(p >> 16), G: uint8(p >> 8), B: uint8(p), A: 255}
}

package swatch

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/trace"
	"slipseat/engine/unit"
)

// CodeCorners is the fault of four corners that do not go round an area.
const CodeCorners = "swatch.corners"

// Flatten makes a slanted picture of one repeat flat: corners are the repeat's,
// from the upper left one clockwise, as shares of the picture's width and
// height; shape is the repeat's width over its height. to takes places on the
// picture, as shares, to shares of the flat one.
func Flatten(pic image.Image, corners [4]geom.Pt, shape float64) (flat *image.RGBA, to func(geom.Pt) geom.Pt, fault *unit.Fault) {
	b := pic.Bounds()
	if b.Empty() {
		return nil, nil, &unit.Fault{Code: CodeNoPicture}
	}
	w, h := float64(b.Dx()), float64(b.Dy())
	px := make([]geom.Pt, 4)
	for i, c := range corners {
		px[i] = geom.P(c.X*w, c.Y*h)
	}
	// In a picture y runs down, so a ring that goes clockwise to the eye turns
	// left in its coordinates.
	if f := geom.Polygon(px).Validate(); f != nil || !geom.Polygon(px).Convex() || !(shape > 0) {
		return nil, nil, &unit.Fault{Code: CodeCorners}
	}
	// As many pixels as the marked part has, no more than a tile keeps.
	area := math.Abs(geom.Polygon(px).Area())
	fh := math.Sqrt(area / shape)
	k := min(1, mostTexels/max(fh, fh*shape))
	nw, nh := max(2, int(math.Round(fh*shape*k))), max(2, int(math.Round(fh*k)))
	ring := []geom.Pt{{}, geom.P(float64(nw), 0), geom.P(float64(nw), float64(nh)), geom.P(0, float64(nh))}
	back, ok := trace.FitHomography(ring, px)
	there, ok2 := trace.FitHomography(px, ring)
	if !ok || !ok2 {
		return nil, nil, &unit.Fault{Code: CodeCorners}
	}
	src, isRGBA := pic.(*image.RGBA)
	if !isRGBA {
		src = image.NewRGBA(b)
		draw.Draw(src, b, pic, b.Min, draw.Src)
	}
	flat = image.NewRGBA(image.Rect(0, 0, nw, nh))
	// Where the picture is finer than the flat one, several of its places make
	// a pixel.
	n := min(4, max(1, int(math.Ceil(math.Sqrt(area/float64(nw*nh))))))
	for y := range nh {
		for x := range nw {
			var sum [3]float64
			for s := range n * n {
				at, _ := back.Apply(geom.P(float64(x)+(float64(s%n)+0.5)/float64(n), float64(y)+(float64(s/n)+0.5)/float64(n)))
				c := between(src, at.X, at.Y)
				for j := range 3 {
					sum[j] += c[j]
				}
			}
			m := func(j int) uint8 { return uint8(math.Round(sum[j] / float64(n*n))) }
			flat.SetRGBA(x, y, color.RGBA{R: m(0), G: m(1), B: m(2), A: 255})
		}
	}
	return flat, func(p geom.Pt) geom.Pt {
		q, _ := there.Apply(geom.P(p.X*w, p.Y*h))
		return geom.P(q.X/float64(nw), q.Y/float64(nh))
	}, nil
}

// between blends the four pixels round a place; outside, the nearest are
// taken.
func between(src *image.RGBA, x, y float64) (c [3]float64) {
	b := src.Bounds()
	x, y = x-0.5, y-0.5
	fx, fy := math.Floor(x), math.Floor(y)
	dx, dy := x-fx, y-fy
	at := func(i, j int) []uint8 {
		i, j = min(max(i, 0), b.Dx()-1), min(max(j, 0), b.Dy()-1)
		return src.Pix[src.PixOffset(b.Min.X+i, b.Min.Y+j):]
	}
	i, j := int(fx), int(fy)
	p, q, r, s := at(i, j), at(i+1, j), at(i, j+1), at(i+1, j+1)
	for k := range 3 {
		top := float64(p[k]) + dx*(float64(q[k])-float64(p[k]))
		low := float64(r[k]) + dx*(float64(s[k])-float64(r[k]))
		c[k] = top + dy*(low-top)
	}
	return c
}

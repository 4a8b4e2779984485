package seatview

import (
	"image/color"
	"math"
)

// The light comes from the upper left and a little from behind the viewer. A
// face that looks straight up keeps the cloth's own colour.
var light = unit3([3]float64{-0.42, 0.30, 0.86})

const (
	ambient = 0.54
)

func unit3(v [3]float64) [3]float64 {
	l := math.Sqrt(dot3(v, v))
	return [3]float64{v[0] / l, v[1] / l, v[2] / l}
}

func dot3(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// shade darkens or lightens a colour by how its face looks at the light.
func shade(c color.RGBA, normal [3]float64) color.RGBA {
	if normal[2] == 1 {
		return c
	}
	up := light[2]
	k := ambient + (1-ambient)*max(0, dot3(normal, light))/up
	return dim(c, min(k, 1.12))
}

// dim multiplies the light of a colour; the values are powers of the light
// with an exponent of about 1/2.2.
func dim(c color.RGBA, k float64) color.RGBA {
	f := math.Pow(k, 1/2.2)
	m := func(v uint8) uint8 { return uint8(min(255, math.Round(float64(v)*f))) }
	return color.RGBA{R: m(c.R), G: m(c.G), B: m(c.B), A: c.A}
}

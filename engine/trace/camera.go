package trace

import (
	"math"

	"slipseat/engine/geom"
)

// Camera is where the picture was taken from, as far as the reference tells.
// Known is false for two points, which tell nothing of it.
type Camera struct {
	Known  bool
	Foot   geom.Pt // the point of the model's plane straight below the camera
	Height float64 // above that plane, millimetres
	Tilt   float64 // between the line of sight and straight down, radians
	Focal  float64 // pixels
	// Misfit is how far the reference is from a rectangle of its sides under
	// this camera: a relative figure, 0.01 is one per cent.
	Misfit float64
}

// Focal lengths of cameras at hand, as a share of the picture's diagonal: main
// cameras of phones are at 24 to 28 mm for 35 mm film, that is 0.55 to 0.65;
// the spread takes in wide ones and twofold ones. A figure from the camera is
// believed to 5 %.
const (
	usualFocal       = 0.62
	usualFocalSpread = 0.30
	knownFocalSpread = 0.05
	// rectNoise is how well a sheet's four corners tell its sides and angles: a
	// pixel of curl and lens error on a side of some five hundred.
	rectNoise = 0.003
)

// cameraOf finds the camera for which the map h from the model's plane to the
// photo is a view of an undistorted plane: of all focal lengths the one for
// which the images of the axes come out equally long and square to each other,
// weighed against usual focal lengths.
func cameraOf(h Homography, p *Photo) (Camera, float64) {
	w, hh := p.Size()
	cx, cy := float64(w)/2, float64(hh)/2
	var m Homography
	for j := range 3 {
		m[j] = h[j] - cx*h[6+j]
		m[3+j] = h[3+j] - cy*h[6+j]
		m[6+j] = h[6+j]
	}
	f0, spread := usualFocal*p.diagonal(), usualFocalSpread
	if p.focal > 0 {
		f0, spread = p.focal, knownFocalSpread
	}
	cost := func(lf float64) (misfit, total float64) {
		f := math.Exp(lf)
		x1, y1, z1 := m[0]/f, m[3]/f, m[6]
		x2, y2, z2 := m[1]/f, m[4]/f, m[7]
		l1, l2 := math.Sqrt(x1*x1+y1*y1+z1*z1), math.Sqrt(x2*x2+y2*y2+z2*z2)
		dot, ratio := (x1*x2+y1*y2+z1*z2)/(l1*l2), math.Log(l1/l2)
		misfit = math.Sqrt(dot*dot + ratio*ratio)
		away := (lf - math.Log(f0)) / spread
		return misfit, misfit*misfit/(rectNoise*rectNoise) + away*away
	}
	best, least := math.Log(f0), math.Inf(1)
	for span, steps := 1.2, 40; span > 1e-4; span /= 15 {
		mid := best
		for i := -steps; i <= steps; i++ {
			lf := mid + span*float64(i)/float64(steps)
			if _, c := cost(lf); c < least {
				best, least = lf, c
			}
		}
	}
	f := math.Exp(best)
	misfit, _ := cost(best)
	r1 := [3]float64{m[0] / f, m[3] / f, m[6]}
	r2 := [3]float64{m[1] / f, m[4] / f, m[7]}
	t := [3]float64{m[2] / f, m[5] / f, m[8]}
	k := 2 / (norm3(r1) + norm3(r2))
	for i := range 3 {
		r1[i], r2[i], t[i] = r1[i]*k, r2[i]*k, t[i]*k
	}
	r3 := cross3(r1, r2)
	n3 := norm3(r3)
	for i := range 3 {
		r3[i] /= n3
	}
	c := Camera{Known: true, Focal: f, Misfit: misfit,
		Foot: geom.P(-dot3(r1, t), -dot3(r2, t)), Height: -dot3(r3, t),
		Tilt: math.Acos(max(-1, min(1, -r3[2])))}
	return c, least
}

func dot3(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func norm3(a [3]float64) float64   { return math.Sqrt(dot3(a, a)) }
func cross3(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// seenBelow is where a point at depth below the plane under p appears in the
// plane: the line of sight through it, cut with the plane.
func (c Camera) seenBelow(p geom.Pt, depth float64) geom.Pt {
	return p.Lerp(c.Foot, depth/(c.Height+depth))
}

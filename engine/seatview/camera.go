package seatview

import (
	"image"
	"math"

	"slipseat/engine/geom"
)

// Slant is a place to look at the seat from. The zero value is of no use; take
// Usual.
type Slant struct {
	Turn  float64 // round the seat, 0 straight in front, positive to the right, radians
	Rise  float64 // above the horizon, radians
	Steps float64 // distance from the seat's middle, in widths of the seat
}

// Usual looks at the seat as somebody does who stands before the chair, a
// little to its right.
var Usual = Slant{Turn: 0.42, Rise: 0.62, Steps: 3.4}

// Camera is a Slant set up for one seat and one picture.
type Camera struct {
	eye, right, up, ahead [3]float64
	focal, cx, cy         float64
}

// margin is the free part of the picture on every side.
const margin = 0.07

// Camera sets up the view so that the seat fills a picture of that size.
func (p *Pad) Camera(s Slant, size image.Point) Camera {
	b := p.Bounds()
	c := b.Center()
	far := s.Steps * math.Max(b.W(), b.H())
	from := [3]float64{math.Sin(s.Turn) * math.Cos(s.Rise), -math.Cos(s.Turn) * math.Cos(s.Rise), math.Sin(s.Rise)}
	mid := [3]float64{c.X, c.Y, p.high() / 2}
	cam := Camera{focal: 1}
	for i := range 3 {
		cam.eye[i] = mid[i] + far*from[i]
		cam.ahead[i] = -from[i]
	}
	cam.right = [3]float64{math.Cos(s.Turn), math.Sin(s.Turn), 0}
	cam.up = cross3(cam.right, cam.ahead)
	lo, hi := geom.P(math.Inf(1), math.Inf(1)), geom.P(math.Inf(-1), math.Inf(-1))
	p.each(func(at [3]float64) {
		x, y, _ := cam.Project(at)
		lo, hi = geom.P(min(lo.X, x), min(lo.Y, y)), geom.P(max(hi.X, x), max(hi.Y, y))
	})
	w, h := float64(size.X), float64(size.Y)
	cam.focal = min(w*(1-2*margin)/(hi.X-lo.X), h*(1-2*margin)/(hi.Y-lo.Y))
	cam.cx, cam.cy = w/2-cam.focal*(lo.X+hi.X)/2, h/2-cam.focal*(lo.Y+hi.Y)/2
	return cam
}

// Project gives the pixel of a point in space and its distance ahead of the
// eye in millimetres; pixels run downwards.
func (c Camera) Project(at [3]float64) (x, y, ahead float64) {
	var d [3]float64
	for i := range 3 {
		d[i] = at[i] - c.eye[i]
	}
	ahead = dot3(d, c.ahead)
	return c.cx + c.focal*dot3(d, c.right)/ahead, c.cy - c.focal*dot3(d, c.up)/ahead, ahead
}

// scaled is the camera for a picture k times as large.
func (c Camera) scaled(k float64) Camera {
	c.focal, c.cx, c.cy = c.focal*k, c.cx*k, c.cy*k
	return c
}

// ground gives the point at height z that a pixel shows.
func (c Camera) ground(x, y, z float64) (at [3]float64, ok bool) {
	var d [3]float64
	for i := range 3 {
		d[i] = c.ahead[i] + c.right[i]*(x-c.cx)/c.focal - c.up[i]*(y-c.cy)/c.focal
	}
	if d[2] == 0 {
		return at, false
	}
	t := (z - c.eye[2]) / d[2]
	for i := range 3 {
		at[i] = c.eye[i] + t*d[i]
	}
	return at, t > 0
}

func cross3(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// each calls f with the points of the side's mesh.
func (p *Pad) each(f func(at [3]float64)) {
	for _, s := range p.rim {
		for _, st := range p.steps {
			f(s.point(st))
		}
	}
}

func (s spoke) point(st step) [3]float64 {
	q := s.at.Add(s.out.Mul(st.out))
	return [3]float64{q.X, q.Y, st.z}
}

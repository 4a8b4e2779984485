package seatview

import (
	"image"
	"image/color"
	"math"
	"slices"

	"slipseat/engine/geom"
)

// Dress is what a seat seen from a slant is dressed in.
type Dress struct {
	Cover Cloth
	// Band is the cloth of a boxed pad's sides; places on it are how far along
	// the edge and how high.
	Band Cloth
}

// fine is how many rows and columns a pixel is drawn in, for smooth edges.
const fine = 2

// Slant paints the seat into dst as seen by the camera, over what is there,
// with its shadow on the ground.
func (p *Pad) Slant(dst *image.RGBA, cam Camera, d Dress) {
	b := dst.Bounds()
	w, h := b.Dx()*fine, b.Dy()*fine
	s := sight{p: p, d: d, cam: cam.scaled(fine), w: w, h: h, near: make([]float32, w*h), pix: make([]color.RGBA, w*h)}
	s.top()
	s.sides()
	p.shadow(dst, cam)
	for y := range b.Dy() {
		for x := range b.Dx() {
			var sum [3]float64
			n := 0.0
			for k := range fine * fine {
				i := (y*fine+k/fine)*w + x*fine + k%fine
				if s.near[i] > 0 {
					c := s.pix[i]
					sum[0] += float64(c.R)
					sum[1] += float64(c.G)
					sum[2] += float64(c.B)
					n++
				}
			}
			if n > 0 {
				c := color.RGBA{R: uint8(sum[0]/n + 0.5), G: uint8(sum[1]/n + 0.5), B: uint8(sum[2]/n + 0.5), A: 255}
				over(dst, b.Min.X+x, b.Min.Y+y, c, n/(fine*fine))
			}
		}
	}
}

// sight is a picture in the making. near holds 1/distance, 0 for nothing yet.
type sight struct {
	p    *Pad
	d    Dress
	cam  Camera
	w, h int
	near []float32
	pix  []color.RGBA
}

// spans calls f for the stretches of pixels whose middles lie in a polygon of
// the picture.
func spans(g geom.Polygon, w, h int, f func(y, x0, x1 int)) {
	box := g.Bounds()
	var xs []float64
	for y := max(0, int(box.Min.Y)); y < h && float64(y) <= box.Max.Y; y++ {
		at := float64(y) + 0.5
		xs = xs[:0]
		for i, a := range g {
			b := g[(i+1)%len(g)]
			if (a.Y > at) != (b.Y > at) {
				xs = append(xs, a.X+(b.X-a.X)*(at-a.Y)/(b.Y-a.Y))
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			x0, x1 := max(0, int(math.Ceil(xs[i]-0.5))), min(w, int(math.Ceil(xs[i+1]-0.5)))
			if x0 < x1 {
				f(y, x0, x1)
			}
		}
	}
}

// top paints the flat top.
func (s *sight) top() {
	z := s.p.high()
	seen := make(geom.Polygon, len(s.p.flat))
	for i, q := range s.p.flat {
		x, y, _ := s.cam.Project([3]float64{q.X, q.Y, z})
		seen[i] = geom.P(x, y)
	}
	spans(seen, s.w, s.h, func(y, x0, x1 int) {
		for x := x0; x < x1; x++ {
			at, ok := s.cam.ground(float64(x)+0.5, float64(y)+0.5, z)
			if !ok {
				continue
			}
			_, _, ahead := s.cam.Project(at)
			i := y*s.w + x
			s.near[i] = float32(1 / ahead)
			s.pix[i] = s.d.Cover.at(s.p.blank(geom.P(at[0], at[1])), ahead/s.cam.focal)
		}
	})
}

// corner is a corner of the mesh as it is seen.
type corner struct {
	x, y, near float64 // pixel and 1/distance
	on         geom.Pt // on the spread cloth
	normal     [3]float64
}

// sides paints the mesh between the spokes.
func (s *sight) sides() {
	p := s.p
	column := func(k spoke, end float64) []corner {
		out := make([]corner, 0, 2*len(p.steps))
		for i, st := range p.steps {
			at := k.point(st)
			c := corner{}
			var ahead float64
			c.x, c.y, ahead = s.cam.Project(at)
			c.near = 1 / ahead
			c.on = p.blank(k.at).Add(k.out.Mul(st.along))
			out1, up := p.normal(max(1, i), boolTo(i > 0))
			c.normal = [3]float64{k.out.X * out1, k.out.Y * out1, up}
			out = append(out, c)
			if i >= p.drop && i+1 < len(p.steps) {
				// A new face begins: its first corner has the face's own normal.
				n, u := p.normal(i+1, 0)
				c.normal = [3]float64{k.out.X * n, k.out.Y * n, u}
				if p.banded {
					c.on = geom.P(end, st.z)
				}
				out = append(out, c)
			}
		}
		if p.banded {
			out[len(out)-1].on = geom.P(end, 0)
		}
		return out
	}
	n := len(p.rim)
	total := p.flat.Length()
	for i := range n {
		a, b := p.rim[i], p.rim[(i+1)%n]
		end := b.side
		if i == n-1 {
			end = total
		}
		ca, cb := column(a, a.side), column(b, end)
		for k := 0; k+1 < len(ca); k++ {
			cloth := s.d.Cover
			if p.banded && k > p.drop {
				cloth = s.d.Band
			}
			s.triangle(cloth, ca[k], ca[k+1], cb[k])
			s.triangle(cloth, ca[k+1], cb[k+1], cb[k])
		}
	}
}

func boolTo(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// triangle paints one triangle where nothing nearer is.
func (s *sight) triangle(cloth Cloth, a, b, c corner) {
	area := (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x)
	if math.Abs(area) < 1e-9 {
		return
	}
	spans(geom.Polygon{geom.P(a.x, a.y), geom.P(b.x, b.y), geom.P(c.x, c.y)}, s.w, s.h, func(y, x0, x1 int) {
		py := float64(y) + 0.5
		for x := x0; x < x1; x++ {
			px := float64(x) + 0.5
			kb := ((px-a.x)*(c.y-a.y) - (py-a.y)*(c.x-a.x)) / area
			kc := ((b.x-a.x)*(py-a.y) - (b.y-a.y)*(px-a.x)) / area
			ka := 1 - kb - kc
			near := ka*a.near + kb*b.near + kc*c.near
			i := y*s.w + x
			// A hair of preference keeps seams between equal depths steady.
			if float32(near) <= s.near[i]*(1+1e-6) {
				continue
			}
			wa, wb, wc := ka*a.near/near, kb*b.near/near, kc*c.near/near
			on := a.on.Mul(wa).Add(b.on.Mul(wb)).Add(c.on.Mul(wc))
			var normal [3]float64
			for j := range 3 {
				normal[j] = wa*a.normal[j] + wb*b.normal[j] + wc*c.normal[j]
			}
			s.near[i] = float32(near)
			s.pix[i] = shade(cloth.at(on, 1/near/s.cam.focal), unit3(normal))
		}
	})
}

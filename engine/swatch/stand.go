package swatch

import (
	"image"
	"image/color"
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Kind is a simple drawing that stands in for a cloth whose picture is not at
// hand.
type Kind uint8

// The stand-ins.
const (
	Plain  Kind = iota
	Stripe      // bands along the roll, or across it where nothing repeats across
	Check
	Sprig // a small plant that shows which way is up
)

// Stand is a stand-in with its two colours.
type Stand struct {
	Kind           Kind
	Ground, Figure color.RGBA
}

// uniform is the side of a stand-in in a direction in which nothing repeats:
// any length would do.
const uniform = 100 * unit.MM

// standSide is the side of a stand-in's picture in pixels, and samples how
// many points along each side of a pixel are tried for its edge.
const (
	standSide = 384
	samples   = 3
)

// Tile draws the stand-in at its repeats, either of which may be 0 for none.
// The motif is the middle of the drawing.
func (s Stand) Tile(along, across unit.Length, drop float64) (*Tile, *unit.Fault) {
	kind := s.Kind
	switch {
	case along == 0 && across == 0:
		kind = Plain
	case (along == 0 || across == 0) && kind != Plain:
		kind = Stripe
	}
	stripesAcross := across == 0
	if along == 0 {
		along, drop = uniform, 0
	}
	if across == 0 {
		across, drop = uniform, 0
	}
	w, h := across.MM(), along.MM()
	inked := func(geom.Pt) bool { return false }
	switch kind {
	case Stripe:
		inked = func(p geom.Pt) bool {
			x := p.X / w
			if stripesAcross {
				x = p.Y / h
			}
			return math.Abs(x-0.5) < 0.18 || math.Abs(x-0.5) > 0.46
		}
	case Check:
		inked = func(p geom.Pt) bool { return math.Abs(p.X/w-0.5) < 0.25 != (math.Abs(p.Y/h-0.5) < 0.25) }
	case Sprig:
		plant := newPlant(geom.P(w/2, h/2), 0.42*min(w, h))
		inked = plant.covers
	}
	img := image.NewRGBA(image.Rect(0, 0, standSide, standSide))
	for py := range standSide {
		for px := range standSide {
			n := 0
			for k := range samples * samples {
				x := (float64(px) + (float64(k%samples)+0.5)/samples) / standSide * w
				y := (1 - (float64(py)+(float64(k/samples)+0.5)/samples)/standSide) * h
				if inked(geom.P(x, y)) {
					n++
				}
			}
			img.SetRGBA(px, py, s.mix(float32(n)/(samples*samples)))
		}
	}
	return New(img, along, across, drop, 0.5, 0.5)
}

// mix is the colour of so large a share of figure, mixed in linear light.
func (s Stand) mix(share float32) color.RGBA {
	m := func(a, b uint8) uint8 { return uint8(encode(linear[a] + (linear[b]-linear[a])*share)) }
	return color.RGBA{R: m(s.Ground.R, s.Figure.R), G: m(s.Ground.G, s.Figure.G), B: m(s.Ground.B, s.Figure.B), A: 255}
}

// plant is a stem with five leaves and a bud at its top.
type plant struct {
	at    geom.Pt
	size  float64
	leafs []leaf
}

// leaf is the part common to two circles, between its two tips.
type leaf struct{ from, to geom.Pt }

func newPlant(at geom.Pt, size float64) plant {
	p := plant{at: at, size: size}
	for _, l := range [][4]float64{
		{0, -0.55, -0.72, -0.12}, {0, -0.55, 0.72, -0.12},
		{0, -0.1, -0.62, 0.38}, {0, -0.1, 0.62, 0.38},
		{0, 0.38, 0, 1},
	} {
		p.leafs = append(p.leafs, leaf{geom.P(l[0], l[1]), geom.P(l[2], l[3])})
	}
	return p
}

func (p plant) covers(q geom.Pt) bool {
	q = q.Sub(p.at).Mul(1 / p.size)
	if math.Abs(q.X) < 0.035 && q.Y > -1 && q.Y < 0.5 {
		return true
	}
	for _, l := range p.leafs {
		mid, half := l.from.Mid(l.to), l.to.Sub(l.from).Mul(0.5)
		// Circles through both tips, whose centres lie a leaf's length aside.
		side := half.Left().Mul(1.3)
		r := math.Sqrt(1+1.3*1.3) * half.Len()
		if q.Dist(mid.Add(side)) < r && q.Dist(mid.Sub(side)) < r {
			return true
		}
	}
	return false
}

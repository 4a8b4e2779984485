package geom

import (
	"math"
	"math/rand/v2"
)

// randomOutline is a board-like shape: a quadrangle with bowed edges and
// rounded corners, now and then a notch or a waist.
func randomOutline(r *rand.Rand) Path {
	for {
		wf, wb, d := 200+400*r.Float64(), 200+400*r.Float64(), 200+400*r.Float64()
		bow := func() float64 {
			if r.IntN(3) == 0 {
				return 0
			}
			return (r.Float64() - 0.3) * 0.3
		}
		p := Path{{Pt{-wf / 2, 0}, bow()}, {Pt{wf / 2, 0}, bow()}, {Pt{wb / 2, d}, bow()}, {Pt{-wb / 2, d}, bow()}}
		if r.IntN(4) == 0 { // a notch at the back right corner
			w, h := 20+40*r.Float64(), 20+40*r.Float64()
			c := p[2].Pt
			p = append(append(p[:2:2], Vertex{Pt{c.X, c.Y - h}, 0}, Vertex{Pt{c.X - w, c.Y - h}, 0}, Vertex{Pt{c.X - w, c.Y}, p[2].Bulge}), p[3])
		}
		ok := p.Validate() == nil
		for i := len(p) - 1; i >= 0 && ok; i-- {
			if r.IntN(2) == 0 {
				q, f := p.Fillet(i, 5+60*r.Float64())
				if f == nil {
					p = q
				}
			}
		}
		if ok && p.Validate() == nil {
			return p
		}
	}
}

// randomStar is a rough shape round the origin: 3 to 11 corners at random
// distances, edges bent either way, some corners rounded.
func randomStar(r *rand.Rand) Path {
	for {
		n := 3 + r.IntN(9)
		var p Path
		for i := range n {
			sin, cos := sincos(2 * math.Pi * (float64(i) + 0.8*r.Float64()) / float64(n))
			v := Vertex{Pt: Pt{cos, sin}.Mul(50 + 250*r.Float64())}
			if r.IntN(2) == 0 {
				v.Bulge = (r.Float64() - 0.5) * 1.2
			}
			p = append(p, v)
		}
		if p.Validate() != nil {
			continue
		}
		for i := len(p) - 1; i >= 0; i-- {
			if r.IntN(2) == 0 {
				if q, f := p.Fillet(i, 3+30*r.Float64()); f == nil && q.Validate() == nil {
					p = q
				}
			}
		}
		return p
	}
}

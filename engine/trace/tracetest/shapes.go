package tracetest

import "math"

// XY is a point in millimetres.
type XY struct{ X, Y float64 }

// Shape is a named outline as a dense counter-clockwise ring, half a millimetre
// from point to point at most.
type Shape struct {
	Name string
	Ring []XY
}

// pen draws a ring piece by piece.
type pen struct{ pts []XY }

func (p *pen) to(x, y float64) {
	if len(p.pts) == 0 {
		p.pts = append(p.pts, XY{x, y})
		return
	}
	a := p.pts[len(p.pts)-1]
	n := int(math.Ceil(math.Hypot(x-a.X, y-a.Y) / 0.5))
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		p.pts = append(p.pts, XY{a.X + (x-a.X)*t, a.Y + (y-a.Y)*t})
	}
}

// bow draws to (x, y) along the arc that stands s out to the right.
func (p *pen) bow(x, y, s float64) {
	a := p.pts[len(p.pts)-1]
	dx, dy := x-a.X, y-a.Y
	c := math.Hypot(dx, dy)
	if s == 0 || c == 0 {
		p.to(x, y)
		return
	}
	r := (c*c/4 + s*s) / (2 * math.Abs(s))
	// Centre on the left of the chord for s > 0.
	off := r - math.Abs(s)
	sign := 1.0
	if s < 0 {
		sign = -1
	}
	cx := (a.X+x)/2 - dy/c*off*sign
	cy := (a.Y+y)/2 + dx/c*off*sign
	a0 := math.Atan2(a.Y-cy, a.X-cx)
	a1 := math.Atan2(y-cy, x-cx)
	turn := a1 - a0
	for sign*turn < 0 {
		turn += sign * 2 * math.Pi
	}
	n := int(math.Ceil(math.Abs(turn) * r / 0.5))
	for i := 1; i <= n; i++ {
		t := a0 + turn*float64(i)/float64(n)
		p.pts = append(p.pts, XY{cx + r*math.Cos(t), cy + r*math.Sin(t)})
	}
}

// corner is a vertex with what follows it: a bow to the next vertex and a
// radius at the vertex.
type corner struct{ x, y, bow, r float64 }

// ring draws corners with radii. A radius is cut between straight chords of the
// neighbouring edges, which is exact for straight edges and a smooth blend for
// bowed ones: the bow then starts where the radius ends.
func ring(cs ...corner) []XY {
	n := len(cs)
	type cut struct{ in, out XY }
	cuts := make([]cut, n)
	arcs := make([][]XY, n)
	for i, c := range cs {
		a, b := cs[(i+n-1)%n], cs[(i+1)%n]
		ux, uy := c.x-a.x, c.y-a.y
		vx, vy := b.x-c.x, b.y-c.y
		lu, lv := math.Hypot(ux, uy), math.Hypot(vx, vy)
		ux, uy, vx, vy = ux/lu, uy/lu, vx/lv, vy/lv
		if c.r == 0 {
			cuts[i] = cut{XY{c.x, c.y}, XY{c.x, c.y}}
			continue
		}
		turn := math.Atan2(ux*vy-uy*vx, ux*vx+uy*vy)
		d := c.r * math.Tan(math.Abs(turn)/2)
		in, out := XY{c.x - ux*d, c.y - uy*d}, XY{c.x + vx*d, c.y + vy*d}
		cuts[i] = cut{in, out}
		p := pen{[]XY{in}}
		s := c.r * (1 - math.Cos(turn/2))
		if turn < 0 {
			s = -s
		}
		p.bow(out.X, out.Y, s)
		arcs[i] = p.pts
	}
	var p pen
	for i := range cs {
		if arcs[i] != nil {
			if len(p.pts) > 0 {
				arcs[i] = arcs[i][1:]
			}
			p.pts = append(p.pts, arcs[i]...)
		} else if len(p.pts) == 0 {
			p.pts = append(p.pts, cuts[i].in)
		}
		next := cuts[(i+1)%n].in
		p.bow(next.X, next.Y, cs[i].bow)
	}
	return p.pts[:len(p.pts)-1]
}

func oval(a, b, power float64) []XY {
	var out []XY
	n := int(2 * math.Pi * math.Max(a, b) / 0.4)
	for i := range n {
		t := 2 * math.Pi * float64(i) / float64(n)
		c, s := math.Cos(t), math.Sin(t)
		f := func(v float64) float64 { return math.Copysign(math.Pow(math.Abs(v), 2/power), v) }
		out = append(out, XY{a * f(c), b * f(s)})
	}
	return out
}

// Shapes are the twenty known outlines: rounded, notched, bowed, round and
// asymmetric boards of the sizes that seats have.
func Shapes() []Shape {
	notch := func(wf, wb, d, bow, r, nw, nd, nr float64) []XY {
		return ring(
			corner{-wf / 2, -d / 2, bow, r}, corner{wf / 2, -d / 2, 0, r},
			corner{wb / 2, d/2 - nd, 0, 0}, corner{wb/2 - nw, d/2 - nd, 0, nr}, corner{wb/2 - nw, d / 2, 0, 0},
			corner{-wb/2 + nw, d / 2, 0, 0}, corner{-wb/2 + nw, d/2 - nd, 0, nr}, corner{-wb / 2, d/2 - nd, 0, 0})
	}
	four := func(wf, wb, d, bf, bs, bb, rf, rb float64) []XY {
		return ring(corner{-wf / 2, -d / 2, bf, rf}, corner{wf / 2, -d / 2, bs, rf},
			corner{wb / 2, d / 2, bb, rb}, corner{-wb / 2, d / 2, bs, rb})
	}
	return []Shape{
		{"square", four(420, 420, 420, 0, 0, 0, 0, 0)},
		{"rounded square", four(430, 430, 420, 0, 0, 0, 30, 30)},
		{"trapezoid", four(460, 380, 410, 0, 0, 0, 0, 0)},
		{"rounded trapezoid", four(470, 390, 430, 0, 0, 0, 40, 25)},
		{"bowed front", four(470, 400, 420, 22, 0, 0, 12, 8)},
		{"bowed all round", four(450, 400, 410, 25, 9, 12, 35, 30)},
		{"deep bow", four(480, 400, 400, 55, 0, 0, 20, 15)},
		{"hollow back", four(460, 420, 430, 15, 0, -14, 25, 15)},
		{"hollow sides", four(480, 430, 420, 12, -8, 0, 30, 20)},
		{"notched", notch(460, 400, 420, 0, 0, 36, 30, 0)},
		{"notched, bowed", notch(480, 420, 440, 20, 25, 42, 38, 0)},
		{"notched, round inside", notch(470, 430, 420, 12, 35, 45, 45, 10)},
		{"one notch", ring(corner{-225, -205, 10, 20}, corner{225, -205, 0, 20}, corner{205, 170, 0, 0},
			corner{165, 170, 0, 0}, corner{165, 205, 0, 0}, corner{-205, 205, 0, 15})},
		{"round", oval(215, 215, 2)},
		{"oval", oval(240, 205, 2)},
		{"soft square", oval(225, 215, 3.5)},
		{"D", ring(corner{-220, -60, 0, 0}, corner{-220, -60.5, 170, 0}, corner{220, -60, 0, 0}, corner{210, 200, 0, 25}, corner{-210, 200, 0, 25})},
		{"asymmetric", ring(corner{-235, -200, 14, 45}, corner{215, -215, 4, 15}, corner{205, 195, 0, 30}, corner{-190, 210, -5, 10})},
		{"six-sided", ring(corner{-150, -215, 0, 8}, corner{150, -215, 0, 8}, corner{240, -60, 0, 15},
			corner{200, 205, 0, 10}, corner{-200, 205, 0, 10}, corner{-240, -60, 0, 15})},
		{"corner chair", ring(corner{-210, -60, 0, 20}, corner{-60, -230, 18, 30}, corner{235, -120, 0, 25}, corner{225, 215, 0, 12}, corner{-215, 225, 0, 12})},
	}
}

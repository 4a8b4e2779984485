package drawing

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// SectionIn is a build-up cut through at one edge, here the front: thicknesses
// from the board up and what the cover does at the edge.
type SectionIn struct {
	Board    unit.Length   // thickness of the board
	Foams    []unit.Length // thicknesses of the foam layers, from the board up
	Crown    unit.Length   // thickness of a crown layer on top, set back from the edge
	CrownIn  unit.Length   // how far the crown layer is set back
	Wadding  unit.Length   // thickness of the wadding
	Overhang unit.Length   // how far the foam stands past the board when pulled
	Radius   unit.Length   // of the foam's upper edge
	// WaddingDown tells that the wadding covers the board's edge too; else it
	// stops at the foam's lower edge.
	WaddingDown     bool
	TurnUnder, Pull unit.Length
	// Wrap is the reach of the cover past the board's edge, all told; 0 leaves
	// its label away.
	Wrap unit.Length
}

// coverWidth is the line that stands for the cover, paper millimetres.
const coverWidth = 0.85

// Section draws the edge cut through: x into the seat, y up, the board's upper
// edge at the origin.
func Section(in SectionIn, st Style) Drawing {
	s := section{in: in, st: st}
	for _, f := range in.Foams {
		s.t += f.MM()
	}
	s.b, s.w, s.o = in.Board.MM(), in.Wadding.MM(), in.Overhang.MM()
	s.r = min(max(in.Radius.MM(), 0), s.t)
	s.u, s.p = in.TurnUnder.MM(), in.Pull.MM()
	if !(s.b > 0) && !(s.t > 0) {
		return Drawing{}
	}
	s.end = max(s.u+s.p+max(s.t+s.b, 25), 1.6*(s.t+s.b+s.w), 70, in.CrownIn.MM()+55)
	s.layers()
	s.cover()
	s.labels()
	return s.d
}

// section carries one section while it is drawn; lengths in millimetres.
type section struct {
	in            SectionIn
	st            Style
	d             Drawing
	b, t, w, o, r float64 // board, foam in all, wadding, overhang, radius
	u, p          float64 // turn-under, pull
	end           float64 // x where the drawing breaks off
	crownTop      float64 // y of the top of the foam and crown
	placed        placer
	notes         []note
}

// cut is a shape that runs out of the picture at x = end: filled as a whole,
// outlined without its right side.
func (s *section) cut(layer string, left geom.Path, fill, rim Role, width float64, l Line, hatch Hatch) {
	s.d.Append(Drawing{Bounds: left.Bounds(), Items: []Item{
		Shape{Layer: layer, Path: left, Fill: fill, Hatch: hatch, Stroke: rim},
		Shape{Layer: layer, Path: left, Open: true, Stroke: rim, Width: width, Line: l},
	}})
}

// layers draws board, foam and wadding. Paths start and end at the break on
// the right.
func (s *section) layers() {
	if s.b > 0 {
		s.cut("board", geom.Path{v(s.end, -s.b), v(0, -s.b), v(0, 0), v(s.end, 0)}, BoardFill, BoardLine, Medium, Solid, Plain)
	}
	s.crownTop = s.t
	if s.w > 0 {
		s.cut("wadding", s.waddingPath(), WaddingFill, WaddingLine, Thin, Dot, Plain)
	}
	if s.in.Crown > 0 {
		c, in := s.in.Crown.MM(), s.in.CrownIn.MM()-s.o
		s.crownTop = s.t + c
		s.cut("crown", geom.Path{v(s.end, s.t), v(in, s.t), v(in+c*0.6, s.t+c), v(s.end, s.t+c)}, FoamFill, FoamLine, Thin, DashDot, Plain)
	}
	if s.t > 0 {
		s.cut("foam", s.foamPath(), FoamFill, FoamLine, Medium, DashDot, Plain)
		y := 0.0
		for _, f := range s.in.Foams[:max(len(s.in.Foams)-1, 0)] {
			y += f.MM()
			s.d.Add(line("foam", geom.P(-s.o, y), geom.P(s.end, y), FoamLine, Thin, Solid))
		}
	}
}

func (s *section) foamPath() geom.Path {
	p := geom.Path{v(s.end, s.t)}
	if s.r > 0 {
		p = append(p, arcTo(s.r-s.o, s.t), v(-s.o, s.t-s.r))
	} else {
		p = append(p, v(-s.o, s.t))
	}
	return append(p, v(-s.o, 0), v(s.end, 0))
}

// outer is the line along which the cover lies, from the right down to the
// board's lower edge.
func (s *section) outer() geom.Path {
	top := s.t + s.w
	p := geom.Path{v(s.end, top)}
	if s.in.Crown > 0 {
		c, in := s.in.Crown.MM(), s.in.CrownIn.MM()-s.o
		// Over the crown layer, then straight down to where the edge bends.
		p = geom.Path{v(s.end, top+c), v(in+c*0.6, top+c)}
	}
	if rr := s.r + s.w; rr > 0 {
		p = append(p, arcTo(s.r-s.o, top), v(-s.o-s.w, s.t-s.r))
	} else {
		p = append(p, v(-s.o, top))
	}
	p = append(p, v(-s.o-s.w, 0))
	if s.b > 0 {
		if s.in.WaddingDown && s.w > 0 {
			p = append(p, v(-s.w, -s.b))
		}
		p = append(p, v(0, -s.b))
	}
	return dropDoubles(p)
}

func (s *section) waddingPath() geom.Path {
	outer := s.outer()
	if s.b > 0 && !s.in.WaddingDown {
		outer = outer[:len(outer)-1] // stops at the foam's lower edge
	}
	if s.in.WaddingDown {
		return append(outer, v(0, 0), v(s.end, 0))
	}
	return append(outer, v(-s.o, 0), v(s.end, 0))
}

// cover draws the cover round the edge, the turn-under, the pull and two
// staples. The line lies outside what it covers.
func (s *section) cover() {
	off := s.st.Model(coverWidth / 2)
	outer := s.outer()
	var path geom.Path
	for i, q := range outer {
		q.Pt = q.Add(outward(outer, i).Mul(off))
		path = append(path, q)
	}
	under := -s.b - off
	path[len(path)-1] = geom.Vertex{Pt: geom.P(path[len(path)-1].X, under)}
	path = append(path, v(s.u, under))
	if s.p > 0 {
		// The part to pull by hangs down a little.
		sin, cos := math.Sincos(22 * math.Pi / 180)
		path = append(path, v(s.u+s.p*cos, under-s.p*sin))
	}
	s.d.Append(Drawing{Bounds: path.Bounds(), Items: []Item{
		Shape{Layer: "cover", Path: path, Open: true, Stroke: CoverLine, Width: coverWidth},
	}})
	if s.u > 0 && s.b > 0 {
		leg := min(s.b*0.7, 9)
		for _, x := range []float64{0.4, 0.72} {
			s.d.Add(line("staple", geom.P(s.u*x, under-s.st.Model(0.5)), geom.P(s.u*x, -s.b+leg), Ink, 0.55, Solid))
		}
	}
}

// outward is the mean of the outward normals of the segments that meet at a
// vertex of the outer line, which runs with the seat on its left-hand side
// behind it; long enough to keep both segments' distance.
func outward(p geom.Path, i int) geom.Pt {
	normal := func(j int, end float64) (geom.Pt, bool) {
		if j < 0 || j+1 >= len(p) {
			return geom.Pt{}, false
		}
		t := geom.Segment{A: p[j].Pt, B: p[j+1].Pt, Bulge: p[j].Bulge}.Tangent(end)
		return geom.P(t.Y, -t.X), true
	}
	a, okA := normal(i-1, 1)
	b, okB := normal(i, 0)
	switch {
	case !okA:
		return b
	case !okB:
		return a
	}
	sum := a.Add(b)
	// The mitre of two lines at distance 1 is 1/cos of half the turn, along
	// the mean; sharp ones are held back.
	k := 2 / max(sum.Dot(sum), 0.5)
	return sum.Mul(k)
}

func v(x, y float64) geom.Vertex { return geom.Vertex{Pt: geom.P(x, y)} }

// arcTo is the start of a quarter circle to the next vertex,
// counter-clockwise.
func arcTo(x, y float64) geom.Vertex {
	return geom.Vertex{Pt: geom.P(x, y), Bulge: math.Tan(math.Pi / 8)}
}

func dropDoubles(p geom.Path) geom.Path {
	out := p[:0:0]
	for i, q := range p {
		if i > 0 && q.Dist(out[len(out)-1].Pt) < 1e-9 {
			continue
		}
		out = append(out, q)
	}
	return out
}

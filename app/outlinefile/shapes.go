package outlinefile

import (
	"cmp"
	"math"
	"slices"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// run is a stretch of drawn line without a break, in the order it was drawn.
type run struct {
	pieces []piece
	closed bool
	name   string
	fault  *unit.Fault // why it ends where it ends
}

// collector gathers runs in millimetres and makes shapes of them.
type collector struct {
	runs []run
	left []Left
}

func (c *collector) leave(kind string) {
	for i := range c.left {
		if c.left[i].Kind == kind {
			c.left[i].Count++
			return
		}
	}
	c.left = append(c.left, Left{kind, 1})
}

// add takes a run over, mapped into millimetres.
func (c *collector) add(m matrix, r run) {
	if len(r.pieces) == 0 && r.fault == nil {
		return
	}
	for i, p := range r.pieces {
		r.pieces[i] = p.mapped(m)
	}
	c.runs = append(c.runs, r)
}

// chain is a run as lines and arcs.
type chain struct {
	segs   []geom.Segment
	closed bool
	name   string
	fault  *unit.Fault
}

func (c chain) start() geom.Pt { return c.segs[0].A }
func (c chain) end() geom.Pt   { return c.segs[len(c.segs)-1].B }

func (c chain) length() float64 {
	var l float64
	for _, s := range c.segs {
		l += s.Length()
	}
	return l
}

// speck is the length in millimetres below which a segment is a slip of the
// program that wrote it.
const speck = 1e-4

// finish joins runs into shapes and puts them into the drawing.
func (c *collector) finish(d *Drawing, join float64) *unit.Fault {
	chains, f := c.chains()
	if f != nil {
		return f
	}
	for _, ch := range joined(chains, join) {
		s, ok := shapeOf(ch, join)
		if !ok {
			c.leave("small")
			continue
		}
		d.Shapes = append(d.Shapes, s)
	}
	slices.SortStableFunc(d.Shapes, func(a, b Shape) int {
		rank := func(s Shape) int {
			switch {
			case s.Fault == nil:
				return 0
			case s.Fault.Code == CodeOpen:
				return 1
			}
			return 2
		}
		return cmp.Or(rank(a)-rank(b), cmp.Compare(b.Path.Area(), a.Path.Area()))
	})
	d.Shapes = slices.CompactFunc(d.Shapes, same)
	for len(d.Shapes) > maxShapes {
		c.leave("more")
		d.Shapes = d.Shapes[:len(d.Shapes)-1]
	}
	d.Left = c.left
	if len(d.Shapes) == 0 {
		return &unit.Fault{Code: CodeNoShape}
	}
	return nil
}

// same tells that two shapes are drawn over each other.
func same(a, b Shape) bool {
	if (a.Fault == nil) != (b.Fault == nil) || a.Fault != nil && a.Fault.Code != b.Fault.Code || len(a.Path) == 0 {
		return false
	}
	r, s := a.Path.Bounds(), b.Path.Bounds()
	return r.Min.Dist(s.Min) < 0.01 && r.Max.Dist(s.Max) < 0.01 && math.Abs(a.Path.Area()-b.Path.Area()) < 0.01*max(1, a.Path.Length())
}

// chains follows every run with lines and arcs, in a frame near the origin.
func (c *collector) chains() ([]chain, *unit.Fault) {
	var box geom.Rect
	first := true
	for _, r := range c.runs {
		for _, p := range r.pieces {
			if !p.finite() {
				return nil, huge()
			}
			for _, q := range [...]geom.Pt{p.start(), p.end()} {
				if first {
					box, first = geom.Rect{Min: q, Max: q}, false
				}
				box = box.Include(q)
			}
		}
	}
	var away matrix
	if away = unity; box.Max.Len() > 5e3 || box.Min.Len() > 5e3 {
		m := box.Center()
		away = translated(-m.X, -m.Y)
	}
	var out []chain
	total := 0
	for _, r := range c.runs {
		ch := chain{closed: r.closed, name: r.name, fault: r.fault}
		for _, p := range r.pieces {
			for _, s := range p.mapped(away).segments() {
				if s.A.Dist(s.B) > speck {
					ch.segs = append(ch.segs, s)
				}
			}
			if total+len(ch.segs) > maxSegments {
				return nil, tooMany(maxSegments)
			}
		}
		total += len(ch.segs)
		if len(ch.segs) > 0 || ch.fault != nil {
			out = append(out, ch)
		}
	}
	return out, nil
}

func huge() *unit.Fault {
	return &unit.Fault{Code: CodeHuge, Args: []unit.Arg{unit.A("limit", unit.Length(1e5))}}
}

// shapeOf closes a chain. ok is false for one too small to be a board.
func shapeOf(c chain, join float64) (Shape, bool) {
	s := Shape{Name: c.name}
	if c.fault != nil {
		s.Fault = c.fault
		if len(c.segs) > 1 {
			s.Path = ring(c.segs, false)
		}
		return s, true
	}
	gap := c.start().Dist(c.end())
	shut := c.closed || gap <= join
	s.Path = ring(c.segs, shut)
	b := s.Path.Bounds()
	if max(b.W(), b.H()) < smallest || len(s.Path) < 2 {
		return s, false
	}
	if !shut {
		s.Gap = unit.Length(gap)
		at := c.start().Mid(c.end())
		if len(c.segs) == 1 && c.segs[0].Straight() {
			return s, false // a lone line is a fold mark or a centre line
		}
		s.Fault = &unit.Fault{Code: CodeOpen, Where: unit.Where{X: at.X, Y: at.Y, HasXY: true}, Args: []unit.Arg{unit.A("gap", s.Gap)}}
	}
	if s.Path.Area() < 0 {
		s.Path = s.Path.Reverse()
	}
	if len(s.Path) > MaxPoints {
		s.Path = thinned(s.Path)
	}
	if len(s.Path) > MaxPoints {
		s.Fault = &unit.Fault{Code: CodePoints, Args: []unit.Arg{unit.A("points", len(s.Path)), unit.A("limit", MaxPoints)}}
	} else if f := s.Path.Validate(); f != nil {
		s.Fault = f
	}
	return s, true
}

// smallest is the least size of a shape in millimetres that is handed on; a
// screw hole is smaller.
const smallest = 10

// ring makes a closed path of segments that follow each other; where two do
// not quite meet, the point between them serves both. When it is not shut, a
// straight line leads back to the start.
func ring(segs []geom.Segment, shut bool) geom.Path {
	n := len(segs)
	out := make(geom.Path, 0, n+1)
	for i, s := range segs {
		at := s.A
		if i > 0 || shut {
			at = segs[(i+n-1)%n].B.Mid(s.A)
		}
		out = append(out, geom.Vertex{Pt: at, Bulge: s.Bulge})
	}
	if !shut {
		out = append(out, geom.Vertex{Pt: segs[n-1].B})
	}
	return out
}

// thinned takes away points of straight stretches that stand off the line
// between their neighbours by less than geom.ChordTol (Ramer 1972, Douglas and
// Peucker 1973). Ends of arcs stay.
func thinned(p geom.Path) geom.Path {
	n := len(p)
	keep := make([]bool, n)
	fixed := []int{0}
	for i := range p {
		if !p.Segment(i).Straight() || !p.Segment((i+n-1)%n).Straight() {
			keep[i] = true
			if i > 0 {
				fixed = append(fixed, i)
			}
		}
	}
	if len(fixed) == 1 { // the point furthest from the first halves the ring
		far, at := 0.0, 0
		for i, v := range p {
			if d := v.Dist(p[0].Pt); d > far {
				far, at = d, i
			}
		}
		fixed = append(fixed, at)
	}
	type part struct{ from, to int }
	var work []part
	for i, a := range fixed {
		keep[a] = true
		to := n
		if i+1 < len(fixed) {
			to = fixed[i+1]
		}
		work = append(work, part{a, to})
	}
	for len(work) > 0 {
		w := work[len(work)-1]
		work = work[:len(work)-1]
		chord := geom.Segment{A: p[w.from].Pt, B: p[w.to%n].Pt}
		far, at := geom.ChordTol, -1
		for i := w.from + 1; i < w.to; i++ {
			if d := chord.Distance(p[i].Pt); d > far {
				far, at = d, i
			}
		}
		if at >= 0 {
			keep[at] = true
			work = append(work, part{w.from, at}, part{at, w.to})
		}
	}
	var out geom.Path
	for i, v := range p {
		if keep[i] {
			out = append(out, v)
		}
	}
	return out
}

package seat

import (
	"math"
	"slices"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Halves says how far the two halves of a traced shape differ.
type Halves struct {
	Axis float64     // x of the line that halves it
	Most unit.Length // largest distance between a point and its opposite's mirror image
	At   geom.Pt     // where that is
	// Pairs give for each point its opposite; a point on the axis is its own.
	Pairs []int
}

// Compare pairs every point with the one opposite and measures how far they
// are from being mirror images. The fault is that the halves do not have the
// same points.
func (t Traced) Compare() (Halves, *unit.Fault) {
	n := len(t.Points)
	if n < 3 {
		return Halves{}, &unit.Fault{Code: geom.CodeTooFew, Args: []unit.Arg{unit.A("points", n)}}
	}
	x := t.Bounds().Center().X
	best, sum := -1, math.Inf(1)
	// In a shape that runs round once, point i lies opposite point k-i.
	for k := range n {
		var s float64
		for i := range n {
			p, q := t.Points[i].At, t.Points[(k-i+n)%n].At
			s += geom.P(2*x-q.X, q.Y).Dist(p)
		}
		if s < sum-1e-9 {
			best, sum = k, s
		}
	}
	h := Halves{Pairs: make([]int, n)}
	b := t.Bounds()
	for i := range n {
		h.Pairs[i] = (best - i + n) % n
		h.Axis += (t.Points[i].At.X + t.Points[h.Pairs[i]].At.X) / float64(2*n)
	}
	for i, k := range h.Pairs {
		p, q := t.Points[i].At, t.Points[k].At
		if d := unit.Length(geom.P(2*h.Axis-q.X, q.Y).Dist(p)); d > h.Most {
			h.Most, h.At = d, p
		}
		if e, o := t.Points[i].Bow, t.Points[(k+n-1)%n].Bow; max(e-o, o-e) > h.Most {
			h.Most, h.At = max(e-o, o-e), t.Edge(i).At(0.5)
		}
	}
	// Points further apart than a sixth of the width are no pair.
	if h.Most.MM() > b.W()/6 {
		right := 0
		for _, p := range t.Points {
			if p.At.X > b.Center().X {
				right++
			}
		}
		return h, &unit.Fault{Code: CodeHalves, Where: unit.Where{X: h.At.X, Y: h.At.Y, HasXY: true},
			Args: []unit.Arg{unit.A("right", right), unit.A("left", n-right), unit.A("most", h.Most)}}
	}
	for _, right := range [...]bool{true, false} {
		c, o := t.notch(right), t.notch(!right)
		h.Most = max(h.Most, c.Width-o.Width, c.Depth-o.Depth)
	}
	return h, nil
}

// notch is the notch on one side, zero for none.
func (t Traced) notch(right bool) Cut {
	for _, c := range t.Notches {
		if c.Right == right {
			return c
		}
	}
	return Cut{Right: right}
}

// Symmetric averages the two halves. What they differed by comes along.
func (t Traced) Symmetric() (Traced, Halves, *unit.Fault) {
	h, f := t.Compare()
	if f != nil {
		return t, h, f
	}
	n := len(t.Points)
	out := t.with()
	for i, k := range h.Pairs {
		p, q := t.Points[i], t.Points[k]
		edge := t.Points[(k+n-1)%n] // the edge opposite the one that leaves i
		out.Points[i].At = geom.P((p.At.X+2*h.Axis-q.At.X)/2, (p.At.Y+q.At.Y)/2)
		out.Points[i].Bow = (p.Bow + edge.Bow) / 2
		out.Points[i].Radius = (p.Radius + q.Radius) / 2
		if p.HasRole != edge.HasRole || p.Role != mirrored(edge.Role) {
			out.Points[i].HasRole = false
		}
	}
	if len(t.Notches) > 0 {
		r, l := t.notch(true), t.notch(false)
		w, d := (r.Width+l.Width)/2, (r.Depth+l.Depth)/2
		if len(t.Notches) == 1 {
			w, d = r.Width+l.Width, r.Depth+l.Depth
		}
		out.Notches = []Cut{{true, w, d}, {false, w, d}}
	}
	return out, h, nil
}

// MirrorHalf keeps one half and makes the other its mirror image, across the
// line halfway between the outermost points. The fault is that this line meets
// the shape at more than two places.
func (t Traced) MirrorHalf(keepRight bool) (Traced, *unit.Fault) {
	if !keepRight {
		f, fault := t.Flipped().MirrorHalf(true)
		return f, fault
	}
	if f := t.sharp().Validate(); f != nil {
		return t, f
	}
	b := t.Bounds()
	x := b.Center().X
	out := t
	var on []int // points on the axis, when all are there
	for i := 0; i < len(out.Points); i++ {
		if math.Abs(out.Points[i].At.X-x) < onAxis {
			out = out.with()
			out.Points[i].At.X = x
			continue
		}
		next := out.Points[(i+1)%len(out.Points)].At
		if math.Abs(next.X-x) < onAxis || (out.Points[i].At.X > x) == (next.X > x) {
			continue
		}
		e := out.Edge(i)
		// Both ends lie on different sides, so the edge crosses once, or three
		// times for an edge that is no board's.
		lo, hi := 0.0, 1.0
		for range 60 {
			mid := (lo + hi) / 2
			if (e.At(mid).X > x) == (e.A.X > x) {
				lo = mid
			} else {
				hi = mid
			}
		}
		at := e.At(lo)
		a, c := e.Part(0, lo), e.Part(lo, 1)
		out = out.with()
		p := out.Points[i]
		p.At, p.Radius, p.Bow = geom.P(x, at.Y), 0, unit.Length(c.Sagitta())
		out.Points[i].Bow = unit.Length(a.Sagitta())
		out.Points = slices.Insert(out.Points, i+1, p)
	}
	for i, p := range out.Points {
		if p.At.X == x {
			on = append(on, i)
		}
	}
	if len(on) != 2 {
		return t, &unit.Fault{Code: CodeAxis, Args: []unit.Arg{unit.A("crossings", len(on))}}
	}
	front, back := on[0], on[1]
	if out.Points[front].At.Y > out.Points[back].At.Y {
		front, back = back, front
	}
	n := len(out.Points)
	var half []TracedPoint // from the front's crossing, counter-clockwise
	for i := front; i != back; i = (i + 1) % n {
		half = append(half, out.Points[i])
	}
	half = append(half, out.Points[back])
	r := mirrorChain(half, x)
	if cut := t.notch(true); cut.Width > 0 {
		r.Notches = []Cut{cut, {false, cut.Width, cut.Depth}}
	}
	return r, nil
}

// onAxis is how near in millimetres to the axis a point lies on it.
const onAxis = 0.01

// MirrorChain makes a whole shape of one half that was traced from the centre
// line to the centre line: the line through its first point. The last point is
// moved onto it.
func MirrorChain(half []TracedPoint) Traced {
	half = slices.Clone(half)
	if len(half) < 2 {
		return Traced{Points: half}
	}
	x := half[0].At.X
	half[len(half)-1].At.X = x
	return mirrorChain(half, x).CounterClockwise()
}

// mirrorChain adds the mirror image of a chain whose ends lie on the axis. An
// end where the two halves run into each other level needs no point.
func mirrorChain(half []TracedPoint, x float64) Traced {
	m := len(half)
	pts := slices.Clone(half)
	for i := m - 2; i >= 1; i-- {
		p, edge := half[i], half[i-1]
		p.At.X = 2*x - p.At.X
		p.Bow, p.Role, p.HasRole = edge.Bow, mirrored(edge.Role), edge.HasRole
		pts = append(pts, p)
	}
	// The back's own point leaves along the mirror image of the last edge.
	pts[m-1].Bow, pts[m-1].Role, pts[m-1].HasRole = half[m-2].Bow, mirrored(half[m-2].Role), half[m-2].HasRole
	t := Traced{Points: pts}
	return t.levelled(m - 1).levelled(0)
}

// levelled takes point i, on the axis, away where the edges on both sides meet
// in it level: they are one edge.
func (t Traced) levelled(i int) Traced {
	n := len(t.Points)
	if n < 4 || t.Points[i].Radius > 0 {
		return t
	}
	before := (i + n - 1) % n
	in, leave := t.Edge(before), t.Edge(i)
	if u := in.Tangent(1); math.Abs(u.Y) > 1e-3 || in.Straight() != leave.Straight() {
		return t
	}
	out := t.with()
	var bow float64
	if !in.Straight() {
		// Twice the arc: its bow over the whole chord, by the bulges' angles.
		a, b := in.A, leave.B
		bow = math.Tan(2*math.Atan(in.Bulge)) * a.Dist(b) / 2
		if !(math.Abs(bow) < 1.2*a.Dist(b)) {
			return t
		}
	}
	out.Points[before].Bow = unit.Length(bow)
	out.Points = slices.Delete(out.Points, i, i+1)
	return out
}

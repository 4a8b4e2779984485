package seat

import (
	"math"
	"slices"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// with gives a copy whose points can be changed.
func (t Traced) with() Traced {
	t.Points = slices.Clone(t.Points)
	return t
}

// In tells whether there is a point i.
func (t Traced) In(i int) bool { return i >= 0 && i < len(t.Points) }

func noPoint() *unit.Fault { return &unit.Fault{Code: CodeNoPoint} }

// CounterClockwise gives the shape running counter-clockwise, whichever way
// its points were clicked.
func (t Traced) CounterClockwise() Traced {
	if len(t.Points) < 2 || t.sharp().Area() >= 0 {
		return t
	}
	n := len(t.Points)
	out := Traced{Notches: t.Notches, Points: make([]TracedPoint, n)}
	for i := range t.Points {
		p, edge := t.Points[(n-i)%n], t.Points[(2*n-1-i)%n]
		p.Bow, p.Role, p.HasRole = -edge.Bow, edge.Role, edge.HasRole
		out.Points[i] = p
	}
	return out
}

// Flipped is the shape seen from the other face: mirrored, left and right
// exchanged.
func (t Traced) Flipped() Traced {
	n := len(t.Points)
	out := Traced{Points: make([]TracedPoint, n)}
	x := t.Bounds().Center().X
	for i := range t.Points {
		p, edge := t.Points[(n-i)%n], t.Points[(2*n-1-i)%n]
		p.At.X = 2*x - p.At.X
		p.Bow, p.Role, p.HasRole = edge.Bow, mirrored(edge.Role), edge.HasRole
		out.Points[i] = p
	}
	for _, c := range t.Notches {
		c.Right = !c.Right
		out.Notches = append(out.Notches, c)
	}
	return out
}

func mirrored(r Role) Role {
	switch r {
	case Left:
		return Right
	case Right:
		return Left
	}
	return r
}

// Moved moves some points by d. The bows of edges stay as they are.
func (t Traced) Moved(which []int, d geom.Pt) (Traced, *unit.Fault) {
	out := t.with()
	for _, i := range which {
		if !t.In(i) {
			return t, noPoint()
		}
		out.Points[i].At = out.Points[i].At.Add(d)
	}
	return out, nil
}

// Inserted puts a point on the edge that leaves point i, at the place of the
// edge nearest to at; the shape stays the same.
func (t Traced) Inserted(i int, at geom.Pt) (Traced, *unit.Fault) {
	if !t.In(i) {
		return t, noPoint()
	}
	e := t.Edge(i)
	share := min(max(e.ShareOf(at), 0.02), 0.98) // a point on another is none
	a, b := e.Part(0, share), e.Part(share, 1)
	out := t.with()
	p := out.Points[i]
	p.At, p.Radius, p.Bow = b.A, 0, unit.Length(b.Sagitta())
	out.Points[i].Bow = unit.Length(a.Sagitta())
	out.Points = slices.Insert(out.Points, i+1, p)
	return out, nil
}

// Deleted takes points away; at least three stay, or two with a bow.
func (t Traced) Deleted(which []int) (Traced, *unit.Fault) {
	out := Traced{Notches: t.Notches}
	for i, p := range t.Points {
		if !slices.Contains(which, i) {
			// An edge that runs on to another point is straight again.
			if slices.Contains(which, (i+1)%len(t.Points)) {
				p.Bow = 0
			}
			out.Points = append(out.Points, p)
		}
	}
	if len(out.Points) < 3 {
		return t, &unit.Fault{Code: geom.CodeTooFew, Args: []unit.Arg{unit.A("points", len(out.Points))}}
	}
	return out, nil
}

// Bent makes the edge that leaves point i an arc through m, nearest to its
// middle: m counts by how far it stands off the straight line.
func (t Traced) Bent(i int, m geom.Pt) (Traced, *unit.Fault) {
	if !t.In(i) {
		return t, noPoint()
	}
	e := t.Edge(i)
	chord := e.B.Sub(e.A)
	// Not further out than a three-quarter circle bows.
	limit := 1.2 * chord.Len()
	bow := m.Sub(e.A).Dot(chord.Unit().Right())
	return t.Bowed(i, unit.Length(min(max(bow, -limit), limit)))
}

// Bowed sets the bow of the edge that leaves point i, positive outwards, 0 for
// a straight edge.
func (t Traced) Bowed(i int, bow unit.Length) (Traced, *unit.Fault) {
	if !t.In(i) {
		return t, noPoint()
	}
	out := t.with()
	out.Points[i].Bow = bow
	return out, nil
}

// Lengthened gives the straight distance from point i to the next: the next
// one moves along the edge.
func (t Traced) Lengthened(i int, l unit.Length) (Traced, *unit.Fault) {
	if !t.In(i) {
		return t, noPoint()
	}
	e := t.Edge(i)
	u := e.B.Sub(e.A).Unit()
	if u == (geom.Pt{}) {
		u = geom.P(1, 0)
	}
	out := t.with()
	out.Points[(i+1)%len(t.Points)].At = e.A.Add(u.Mul(l.MM()))
	return out, nil
}

// Rounded gives some corners a radius.
func (t Traced) Rounded(which []int, r unit.Length) (Traced, *unit.Fault) {
	out := t.with()
	for _, i := range which {
		if !t.In(i) {
			return t, noPoint()
		}
		out.Points[i].Radius = r
	}
	return out, nil
}

// Scaled multiplies everything by k about the origin; notches and radii too.
func (t Traced) Scaled(k float64) (Traced, *unit.Fault) {
	if !(k > 0.01 && k < 100) {
		return t, &unit.Fault{Code: CodeScale}
	}
	out := t.with()
	for i := range out.Points {
		p := &out.Points[i]
		p.At, p.Bow, p.Radius = p.At.Mul(k), p.Bow*unit.Length(k), p.Radius*unit.Length(k)
	}
	out.Notches = slices.Clone(t.Notches)
	for i := range out.Notches {
		out.Notches[i].Width *= unit.Length(k)
		out.Notches[i].Depth *= unit.Length(k)
	}
	return out, nil
}

// TurnedQuarter turns the shape by a quarter counter-clockwise, for a file
// whose front lies elsewhere. Roles and notches stay with their sides of the
// board as it is now and are dropped.
func (t Traced) TurnedQuarter() Traced {
	out := t.with()
	out.Notches = nil
	for i := range out.Points {
		p := &out.Points[i]
		p.At, p.HasRole = p.At.Turned(1), false
	}
	return out
}

// NotchesFromPoints takes rectangular cut-outs that were drawn with points at
// the back corners and makes notches of them: the three points of each become
// one corner. It reports how many it found.
func (t Traced) NotchesFromPoints() (Traced, int) {
	out, found := t, 0
	b := t.Bounds()
	for _, right := range [...]bool{true, false} {
		if i := out.notchAt(right, b); i >= 0 && !slices.ContainsFunc(out.Notches, func(c Cut) bool { return c.Right == right }) {
			out = out.filledAt(i, right)
			found++
		}
	}
	return out, found
}

// square is how far in radians the faces of a drawn notch may stand off the
// axes, three degrees.
const square = 3 * math.Pi / 180

// notchAt finds the inner corner of a notch on one side: an inward corner
// between an outward one on the side and one on the back, with faces along the
// axes.
func (t Traced) notchAt(right bool, b geom.Rect) int {
	n := len(t.Points)
	if n < 6 {
		return -1
	}
	for i, p := range t.Points {
		q := p.At
		if q.Y < b.Center().Y || (q.X > b.Center().X) != right || p.Radius > 0 {
			continue
		}
		before, after := (i+n-1)%n, (i+1)%n
		in, leave := t.Edge(before), t.Edge(i)
		if !in.Straight() || !leave.Straight() {
			continue
		}
		turn := func(k int) float64 { return t.sharp().TurnAt(k) }
		if turn(i) > -1.2 || turn(before) < 0.8 || turn(after) < 0.8 {
			continue
		}
		// On the right the path comes in along x and leaves along y; on the
		// left the other way about.
		along, deep := in, leave
		if !right {
			along, deep = leave, in
		}
		if u := along.Tangent(0.5); math.Abs(u.Y) > square {
			continue
		}
		if u := deep.Tangent(0.5); math.Abs(u.X) > square {
			continue
		}
		return i
	}
	return -1
}

// filledAt replaces the three points round inner corner i by the corner where
// the side and the back meet when they are extended.
func (t Traced) filledAt(i int, right bool) Traced {
	n := len(t.Points)
	before, after := (i+n-1)%n, (i+1)%n
	side, back := t.Edge((before+n-1)%n), t.Edge(after)
	inner := t.Points[i].At
	corner, ok := geom.Extended(side, back, geom.P(t.Points[before].At.X, t.Points[after].At.Y))
	if !right {
		corner, ok = geom.Extended(side, back, geom.P(t.Points[after].At.X, t.Points[before].At.Y))
	}
	if !ok {
		return t
	}
	w, d := math.Abs(corner.X-inner.X), corner.Y-inner.Y
	if !(w > minBite && d > minBite) {
		return t
	}
	out := Traced{Notches: append(slices.Clone(t.Notches), Cut{right, unit.Length(w), unit.Length(d)})}
	for k, p := range t.Points {
		switch k {
		case i, after:
			continue
		case before:
			p = TracedPoint{At: corner, Bow: rebowed(back, corner, back.B), Role: t.Points[after].Role, HasRole: t.Points[after].HasRole}
		case (before + n - 1) % n:
			p.Bow = rebowed(side, side.A, corner)
		}
		out.Points = append(out.Points, p)
	}
	return out
}

// rebowed is the bow of an edge's own line or circle between two other points
// on it.
func rebowed(e geom.Segment, a, b geom.Pt) unit.Length {
	if e.Straight() {
		return 0
	}
	r, half := e.Radius(), a.Dist(b)/2
	if half > r {
		return unit.Length(e.Sagitta())
	}
	return unit.Length(math.Copysign(half*half/(r+math.Sqrt((r-half)*(r+half))), e.Bulge))
}

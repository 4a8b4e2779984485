package seat

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// FromPath makes an outline of a traced path with the notches filled, in any
// place; it is moved into the frame. roles, one for each segment, overrides
// what the normals say and may be nil. Notches are cut at the back corners.
// The fault is that of geom.Validate, of a size out of bounds, or of a notch.
func FromPath(p geom.Path, roles []Role, notches ...Cut) (Outline, *unit.Fault) {
	if f := p.Validate(); f != nil {
		return Outline{}, f
	}
	b := p.Bounds()
	for _, f := range append(size("width", unit.Length(b.W())), size("depth", unit.Length(b.H()))...) {
		return Outline{}, &f
	}
	// Edges so near to each other that their chords cross cannot be cut.
	if f := p.Flatten(geom.ChordTol).Validate(); f != nil {
		return Outline{}, f
	}
	p = p.Translate(geom.P(-(b.Min.X+b.Max.X)/2, -b.Min.Y))
	o := Outline{Board: p, Filled: p, Roles: rolesOf(p)}
	if len(roles) == len(p) {
		o.Roles = append([]Role(nil), roles...)
	}
	o.BoardRoles = o.Roles
	o.main = mainCorners(p)
	o.BowPoint, _ = o.CentreLine()
	for _, c := range notches {
		for _, f := range c.check() {
			return Outline{}, &f
		}
		if f := o.cut(c); f != nil {
			return Outline{}, f
		}
	}
	return o, nil
}

// outerTurn is the least turn that counts as a corner a cover is folded round.
const outerTurn = 20 * math.Pi / 180

// outerCorners finds the outside corners, sharp or rounded, of a path.
func outerCorners(p geom.Path) []corner {
	var out []corner
	is := p.CornerArcs()
	for i := range p {
		if p.TurnAt(i) > outerTurn {
			out = append(out, corner{at: p[i].Pt, arc: geom.Segment{A: p[i].Pt, B: p[i].Pt}})
		}
		if s := p.Segment(i); is[i] && s.Sweep() > outerTurn {
			n := len(p)
			if at, ok := geom.Extended(p.Segment((i+n-1)%n), p.Segment((i+1)%n), s.At(0.5)); ok {
				out = append(out, corner{at, s})
			}
		}
	}
	return out
}

// mainCorners finds the four main corners of a path: of its outside corners
// the one that lies furthest towards each corner of the bounding box, in its
// own quarter of it. None when one of the four is missing.
func mainCorners(p geom.Path) []corner {
	all, b := outerCorners(p), p.Bounds()
	var out []corner
	for _, q := range [...]geom.Pt{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: 1, Y: 1}, {X: -1, Y: 1}} {
		best, far := -1, 0.0
		for i, c := range all {
			v := c.at.Sub(b.Center())
			x, y := v.X*q.X/b.W(), v.Y*q.Y/b.H()
			if x > 0 && y > 0 && x+y > far+1e-9 {
				best, far = i, x+y
			}
		}
		if best < 0 {
			return nil
		}
		out = append(out, all[best])
	}
	return out
}

// Grown is the outline with every edge moved outwards by the amount for its
// role, inwards when negative; roles, corners and notches go along, a notch
// keeping its distance from the edges it lies beside. It stays in place, so
// that both can be drawn over each other: y = 0 is the old front line.
func (o Outline) Grown(by func(Role) unit.Length) (Outline, *unit.Fault) {
	if o.Empty() {
		return o, nil
	}
	m, err := geom.OffsetFrom(o.Filled, func(edge int) float64 { return by(o.Roles[edge]).MM() })
	if err != nil {
		f := asFault(err)
		return Outline{}, &f
	}
	g := Outline{Board: m.Path, Filled: m.Path, Roles: make([]Role, len(m.Path)), round: o.round, Moved: o.Moved}
	for i, s := range m.From {
		g.Roles[i] = o.Roles[s.Edge]
		if s.Join && !o.round {
			g.Roles[i] = RoleOf(m.Path.Segment(i).Normal(0.5))
		}
	}
	g.BoardRoles = g.Roles
	g.BowPoint, _ = g.CentreLine()
	if o.main == nil {
		return g, nil
	}
	if g.main = mainCorners(m.Path); g.main == nil && len(o.Notches) > 0 {
		f := fault(CodeNoCorner, "notch_width")
		return Outline{}, &f
	}
	if o.Corners != nil {
		for _, c := range g.main {
			g.Corners = append(g.Corners, c.at)
		}
	}
	for _, n := range o.Notches {
		at, dx := g.main[2].at, by(Right).MM()
		if !n.Right {
			at, dx = g.main[3].at, -by(Left).MM()
		}
		// Its faces move with the board: outwards of the board is into the notch.
		if f := g.cutAt(n.Right, at, n.Inner.Add(geom.P(dx, by(Back).MM()))); f != nil {
			return Outline{}, f
		}
	}
	return g, nil
}

// Shrunk is the bare board under layers of a thickness all round that it was
// measured over.
func (o Outline) Shrunk(layers unit.Length) (Outline, *unit.Fault) {
	return o.Grown(func(Role) unit.Length { return -layers })
}

func asFault(err error) unit.Fault {
	if f, ok := err.(unit.Fault); ok {
		return f
	}
	return unit.Fault{Code: CodeImpossible}
}

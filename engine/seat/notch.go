package seat

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Notch is a cut-out at a back corner for the chair's post. Its faces run
// along the axes.
type Notch struct {
	Right  bool    // at the right back corner
	Side   geom.Pt // where it leaves the side
	Inner  geom.Pt // its inner corner
	Back   geom.Pt // where it leaves the back
	Corner geom.Pt // the corner it cuts away, between the extended edges
	// Width and Depth run from Corner to Inner.
	Width, Depth unit.Length
}

// Box is the smallest box round what the notch cuts away.
func (n Notch) Box() geom.Rect {
	return geom.Rect{Min: n.Inner, Max: n.Inner}.Include(n.Corner).Include(n.Side).Include(n.Back)
}

// role is the side that the notch lies on.
func (n Notch) role() Role {
	if n.Right {
		return Right
	}
	return Left
}

// Cut asks for a back-post notch; Width and Depth run from the corner of the
// extended edges.
type Cut struct {
	Right        bool // at the right back corner, else at the left
	Width, Depth unit.Length
}

// check finds the faults of the figures alone.
func (c Cut) check() []unit.Fault {
	out := append(extra("notch_width", c.Width), extra("notch_depth", c.Depth)...)
	if len(out) == 0 && c.Width == 0 {
		out = append(out, fault(CodeNotchHalf, "notch_width"))
	}
	if len(out) == 0 && c.Depth == 0 {
		out = append(out, fault(CodeNotchHalf, "notch_depth"))
	}
	return out
}

// cut makes a notch in the board.
func (o *Outline) cut(c Cut) *unit.Fault {
	if len(o.main) != 4 {
		f := fault(CodeNoCorner, "notch_width")
		return &f
	}
	at, out := o.main[2].at, 1.0
	if !c.Right {
		at, out = o.main[3].at, -1
	}
	return o.cutAt(c.Right, at, geom.P(at.X-out*c.Width.MM(), at.Y-c.Depth.MM()))
}

// cutAt makes a notch from the corner at with a given inner corner.
func (o *Outline) cutAt(right bool, at, inner geom.Pt) *unit.Fault {
	out := 1.0
	if !right {
		out = -1
	}
	b := o.Filled.Bounds()
	n := Notch{Right: right, Corner: at, Inner: inner, Width: unit.Length(out * (at.X - inner.X)), Depth: unit.Length(at.Y - inner.Y)}
	big := func(field string, given unit.Length, limit float64) *unit.Fault {
		f := fault(CodeNotchTooBig, field, unit.A("given", given), unit.A("limit", unit.Length(max(limit, 0))))
		return &f
	}
	// Between two notches there is board left, and half the depth before them.
	if limit := out*(at.X-o.centre()) - Least.MM()/2; n.Width.MM() > limit {
		return big("notch_width", n.Width, limit)
	}
	if limit := (at.Y - b.Min.Y) / 2; n.Depth.MM() > limit {
		return big("notch_depth", n.Depth, limit)
	}
	far := b.W() + b.H()
	onSide := o.Board.Hits(inner, inner.Add(geom.P(out*far, 0)))
	onBack := o.Board.Hits(inner, inner.Add(geom.P(0, far)))
	if !o.Board.Contains(inner) || len(onSide) == 0 || len(onBack) == 0 || o.Board.Distance(inner) < minBite {
		f := fault(CodeNotchNowhere, "notch_width")
		return &f
	}
	from, to := onSide[0], onBack[0]
	if !right {
		from, to = to, from
	}
	board, src := o.Board.Detour(from, to, inner)
	if board.Validate() != nil || board.Area() >= o.Board.Area() {
		f := fault(CodeNotchNowhere, "notch_width")
		return &f
	}
	roles := make([]Role, len(board))
	for i, s := range src {
		roles[i] = o.BoardRoles[s.Edge]
		if s.Join { // the face that faces back belongs to the back, the other to its side
			roles[i] = n.role()
			if t := board.Segment(i).Tangent(0.5); math.Abs(t.X) > math.Abs(t.Y) {
				roles[i] = Back
			}
		}
	}
	n.Side, n.Back = onSide[0].At, onBack[0].At
	o.Board, o.BoardRoles, o.Notches = board, roles, append(o.Notches, n)
	return nil
}

// minBite is the least depth of a notch, in millimetres; less is a slip.
const minBite = 1

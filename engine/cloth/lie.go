package cloth

import (
	"slipseat/engine/geom"
	"slipseat/engine/lay"
)

// Lie is the lay direction of a cloth: where the back of every seat, and with
// it the top of the pattern, points on the roll (DESIGN section 3).
type Lie uint8

// Lay directions.
const (
	UpTheRoll       Lie = iota // back towards +u; depth lies along the roll
	TopAtCutEnd                // back towards the cut end; depth lies along the roll
	RailroadedLeft             // back towards +v, the far selvedge; width lies along the roll
	RailroadedRight            // back towards v = 0; width lies along the roll
)

// Base gives the quarter turns, counter-clockwise, that bring the seat's frame
// (x right, y back) onto the roll's (u, v) at turn 0. Up the roll is
// (x, y) -> (y, -x), railroaded left is (x, y) as it stands.
func (l Lie) Base() lay.Turn {
	switch l {
	case TopAtCutEnd:
		return 1
	case RailroadedLeft:
		return 0
	case RailroadedRight:
		return 2
	}
	return 3
}

// ToRoll turns a point of the seat's frame into the roll's frame at turn 0;
// the place of the piece is then added.
func (l Lie) ToRoll(p geom.Pt) geom.Pt { return quarter(l.Base(), p) }

// FromRoll is the inverse of ToRoll.
func (l Lie) FromRoll(p geom.Pt) geom.Pt { return quarter((4-l.Base())%4, p) }

// Railroaded tells whether the seats' width lies along the roll.
func (l Lie) Railroaded() bool { return l == RailroadedLeft || l == RailroadedRight }

func quarter(t lay.Turn, p geom.Pt) geom.Pt {
	switch t % 4 {
	case 1:
		return geom.P(-p.Y, p.X)
	case 2:
		return geom.P(-p.X, -p.Y)
	case 3:
		return geom.P(p.Y, -p.X)
	}
	return p
}

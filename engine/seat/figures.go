package seat

import (
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Size is the outline's own bounding box, width × depth.
func (o Outline) Size() (w, d unit.Length) {
	b := o.Board.Bounds()
	return unit.Length(b.W()), unit.Length(b.H())
}

// Area is the board's area.
func (o Outline) Area() unit.Area { return unit.Area(o.Board.Area()) }

// Edge is the length of the board's edge.
func (o Outline) Edge() unit.Length { return unit.Length(o.Board.Length()) }

// EdgeLength is the length of the board's edges of one role.
func (o Outline) EdgeLength(r Role) unit.Length {
	var l float64
	for i := range o.Board {
		if o.BoardRoles[i] == r {
			l += o.Board.Segment(i).Length()
		}
	}
	return unit.Length(l)
}

// Empty tells that there is no outline.
func (o Outline) Empty() bool { return len(o.Board) == 0 }

// IsRound tells whether the outline is round or oval.
func (o Outline) IsRound() bool { return o.round }

// CornersOutside counts the corners that a cover is folded round: rounded ones
// and sharp ones of more than 20 degrees, notches filled.
func (o Outline) CornersOutside() int {
	if o.round {
		return 0
	}
	return len(outerCorners(o.Filled))
}

// Diagonals are what a tape reads from corner to corner, to see whether the
// board is square: front left to back right and front right to back left. The
// tape is laid over rounded corners, so each is the distance between the two
// arcs' centres and both radii; with notches it ends in the notch's inner
// corner. ok is false for outlines without four corners.
func (o Outline) Diagonals() (one, other unit.Length, ok bool) {
	if len(o.main) != 4 {
		return 0, 0, false
	}
	span := func(front, back int, right bool) unit.Length {
		p, rp := o.main[front].centre()
		q, rq := o.main[back].centre()
		for _, n := range o.Notches {
			if n.Right == right {
				q, rq = n.Inner, 0
			}
		}
		return unit.Length(p.Dist(q) + rp + rq)
	}
	return span(0, 2, true), span(1, 3, false), true
}

// centre is the x of the centre line.
func (o Outline) centre() float64 {
	if len(o.Corners) == 4 || o.round {
		return 0
	}
	return o.Filled.Bounds().Center().X
}

// CentreLine gives the points where the centre line meets the front and the
// back of the board.
func (o Outline) CentreLine() (front, back geom.Pt) {
	b, x := o.Filled.Bounds(), o.centre()
	hits := o.Filled.Hits(geom.P(x, b.Min.Y-1), geom.P(x, b.Max.Y+1))
	if len(hits) == 0 {
		return geom.P(x, b.Min.Y), geom.P(x, b.Max.Y)
	}
	return hits[0].At, hits[len(hits)-1].At
}

// MotifPoint is where a motif sits unless the user moves it: on the centre
// line at half the depth of the board's top.
func (o Outline) MotifPoint() geom.Pt {
	front, back := o.CentreLine()
	return front.Mid(back)
}

// RoleAt is the role of the edge of the notch-filled outline nearest to p.
func (o Outline) RoleAt(p geom.Pt) Role {
	if i, _ := o.Filled.Nearest(p); i >= 0 {
		return o.Roles[i]
	}
	return Front
}

// Handle is a point of the drawing that can be dragged to change one
// measurement.
type Handle struct {
	Field string // the measurement
	At    geom.Pt
	Dir   geom.Pt // the direction that makes it larger
	// Per is how much the measurement grows for a millimetre along Dir: 2 for a
	// width, whose other side moves too.
	Per float64
}

// Handles are the points to drag on a measured or round outline; others have
// none.
func (o Outline) Handles() []Handle {
	if o.round {
		b := o.Board.Bounds()
		return []Handle{
			{"width", geom.P(b.Min.X, b.Center().Y), geom.P(-1, 0), 2}, {"width", geom.P(b.Max.X, b.Center().Y), geom.P(1, 0), 2},
			{"depth", geom.P(b.Center().X, b.Max.Y), geom.P(0, 1), 1},
		}
	}
	if len(o.Corners) != 4 {
		return nil
	}
	c := o.Corners
	return []Handle{
		{"front_width", c[0], geom.P(-1, 0), 2}, {"front_width", c[1], geom.P(1, 0), 2},
		{"back_width", c[2], geom.P(1, 0), 2}, {"back_width", c[3], geom.P(-1, 0), 2},
		{"depth", geom.P(0, c[2].Y), geom.P(0, 1), 1}, {"front_bow", o.BowPoint, geom.P(0, -1), 1},
	}
}

// Moved is the measurement when the handle, which stands for value, is dragged
// to a point; never below nothing.
func (h Handle) Moved(value unit.Length, to geom.Pt) unit.Length {
	return max(0, value+unit.Length(h.Per*to.Sub(h.At).Dot(h.Dir)))
}

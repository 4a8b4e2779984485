package seat

import (
	"math"

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
	n, count := len(o.Filled), 0
	corner := o.Filled.CornerArcs()
	for i := range o.Filled {
		a, b := o.Filled.Segment((i+n-1)%n), o.Filled.Segment(i)
		turn := math.Atan2(a.Tangent(1).Cross(b.Tangent(0)), a.Tangent(1).Dot(b.Tangent(0)))
		if turn > 20*math.Pi/180 || corner[i] && b.Sweep() > 20*math.Pi/180 {
			count++
		}
	}
	return count
}

// Diagonals are what a tape reads from corner to corner, to see whether the
// board is square: front left to back right and front right to back left. The
// tape is laid over rounded corners, so each is the distance between the two
// arcs' centres and both radii; with notches it ends in the notch's inner
// corner. ok is false for outlines without four corners.
func (o Outline) Diagonals() (one, other unit.Length, ok bool) {
	if len(o.Corners) != 4 {
		return 0, 0, false
	}
	// Corner i is rounded by the arc nearest to it, if there is one.
	at := func(i int) (geom.Pt, float64) {
		if i >= 2 && len(o.Notches) == 2 {
			return o.Notches[i-2].Inner, 0
		}
		best, r, d := o.Corners[i], 0.0, math.Inf(1)
		for k, is := range o.Filled.CornerArcs() {
			s := o.Filled.Segment(k)
			if dd := s.At(0.5).Dist(o.Corners[i]); is && dd < d && dd < s.Radius() {
				best, r, d = s.Center(), s.Radius(), dd
			}
		}
		return best, r
	}
	span := func(i, k int) unit.Length {
		p, rp := at(i)
		q, rq := at(k)
		return unit.Length(p.Dist(q) + rp + rq)
	}
	return span(0, 2), span(1, 3), true
}

// onCentreLine is the foremost (or rearmost) point of the board on the line
// through the middle of its box.
func (o Outline) onCentreLine(front bool) geom.Pt {
	b := o.Board.Bounds()
	x, best := b.Center().X, math.NaN()
	for i := range o.Board {
		s := o.Board.Segment(i)
		for k := range 64 {
			a, c := s.At(float64(k)/64), s.At(float64(k+1)/64)
			if (a.X-x)*(c.X-x) > 0 || a.X == c.X {
				continue
			}
			y := a.Y + (c.Y-a.Y)*(x-a.X)/(c.X-a.X)
			if math.IsNaN(best) || front && y < best || !front && y > best {
				best = y
			}
		}
	}
	if math.IsNaN(best) {
		return b.Center()
	}
	return geom.P(x, best)
}

// MotifPoint is where a motif sits unless the user moves it: on the centre
// line at half the depth of the board's top.
func (o Outline) MotifPoint() geom.Pt {
	b := o.Board.Bounds()
	return b.Center()
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

// Handles are the points to drag on a measured outline; others have none.
func (o Outline) Handles() []Handle {
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

// Package seat is the board's outline: from four measurements, from traced
// points, round, with its corners, notches and the figures to check it by.
//
// The frame: x to the right, y towards the back, looking down on the top. The
// origin is the middle of the line through the two front corners (of the
// bounding box's lower edge for traced and round outlines), so that the centre
// line is x = 0 and a front bow reaches to y = -bow.
package seat

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Outline is the board's shape. The zero value is empty. Nobody changes one
// that was handed out.
type Outline struct {
	Board  geom.Path // as the board is, with notches
	Filled geom.Path // with the notches filled
	Roles  []Role    // of Filled's segments
	// BoardRoles are those of Board's segments; a notch's edges belong to the
	// back and to the side that they face.
	BoardRoles []Role
	Notches    []Notch // right before left
	// Corners are the four corners between extended edges for a measured
	// outline: front left, front right, back right, back left. Others have none.
	Corners []geom.Pt
	// BowPoint is the foremost point of the front edge on the centre line.
	BowPoint geom.Pt
	// Moved is what was added to the points of a traced shape to bring them into
	// this frame.
	Moved geom.Pt
	round bool
	// main are the four main corners of measured and traced outlines, in the
	// order of Corners; none where an outline has fewer.
	main []corner
}

// corner is a main corner between extended edges and the arc that rounds it,
// without length for a sharp one.
type corner struct {
	at  geom.Pt
	arc geom.Segment
}

// centre is the middle of the rounding and its radius; the corner itself for a
// sharp one.
func (c corner) centre() (geom.Pt, float64) {
	if c.arc.Straight() {
		return c.at, 0
	}
	return c.arc.Center(), c.arc.Radius()
}

// RoleOf gives the side that an edge with this outward normal belongs to: the
// nearest of the four directions; a tie goes to the front or back.
func RoleOf(normal geom.Pt) Role {
	const tie = 1e-9 // of a normal's unit: halfway, but for what arithmetic loses
	if math.Abs(normal.Y) >= math.Abs(normal.X)-tie {
		if normal.Y < 0 {
			return Front
		}
		return Back
	}
	if normal.X > 0 {
		return Right
	}
	return Left
}

func rolesOf(p geom.Path) []Role {
	out := make([]Role, len(p))
	for i := range p {
		out[i] = RoleOf(p.Segment(i).Normal(0.5))
	}
	return out
}

// Codes of the faults of measurements. Where.Field names the measurement.
const (
	CodeMissing      = "seat.missing"
	CodeNotANumber   = "seat.not-a-number"
	CodeNegative     = "seat.negative"
	CodeTooSmall     = "seat.too-small"
	CodeAbsurd       = "seat.absurdly-large"
	CodeBowTooBig    = "seat.bow-too-big"
	CodeRadius       = "seat.radius-too-big"
	CodeNotchTooBig  = "seat.notch-too-big"
	CodeNotchHalf    = "seat.notch-incomplete"
	CodeNotchNowhere = "seat.notch-misses"     // lies within the corner's rounding
	CodeNoCorner     = "seat.no-corner"        // a notch where there is no back corner
	CodeImpossible   = "seat.shape-impossible" // edges cross
	CodeOverRounded  = "seat.over-rounded"     // no outline has these widths over its roundings
)

// Limits on measurements: nothing smaller than a fingertip is a seat, nothing
// of five metres a bench that is recovered on a table.
const (
	Least unit.Length = 20
	Most  unit.Length = 5000
)

// Round is a round (width = depth) or oval outline, an ellipse to within
// ovalTol. All its edge has the role front.
func Round(width, depth unit.Length) (Outline, []unit.Fault) {
	faults := append(size("width", width), size("depth", depth)...)
	if len(faults) > 0 {
		return Outline{}, faults
	}
	w, d := width.MM(), depth.MM()
	p := geom.Ellipse(geom.P(0, d/2), w/2, d/2, ovalTol)
	o := Outline{Board: p, Filled: p, Roles: make([]Role, len(p)), round: true, BowPoint: geom.P(0, 0)}
	o.BoardRoles = o.Roles
	return o, nil
}

// ovalTol is how far the arcs of an oval may stand off the ellipse, in
// millimetres; with geom.ChordTol it stays under a tenth.
const ovalTol = 0.02

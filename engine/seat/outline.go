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

// Notch is a cut-out at a back corner for the chair's post.
type Notch struct {
	Right  bool    // at the right back corner
	Side   geom.Pt // where it leaves the side
	Inner  geom.Pt // its inner corner
	Back   geom.Pt // where it leaves the back
	Corner geom.Pt // the corner it cuts away, between the extended edges
}

// Outline is the board's shape. The zero value is empty. Nobody changes one
// that was handed out.
type Outline struct {
	Board  geom.Path // as the board is, with notches
	Filled geom.Path // with the notches filled
	Roles  []Role    // of Filled's segments
	// BoardRoles are those of Board's segments; a notch's edges have the role
	// of the edge they were cut from.
	BoardRoles []Role
	Notches    []Notch
	// Corners are the four corners between extended edges for a measured
	// outline: front left, front right, back right, back left. Others have none.
	Corners []geom.Pt
	// BowPoint is the foremost point of the front edge on the centre line.
	BowPoint geom.Pt
	round    bool
}

// RoleOf gives the side that an edge with this outward normal belongs to: the
// nearest of the four directions; a tie goes to the front or back.
func RoleOf(normal geom.Pt) Role {
	if math.Abs(normal.Y) >= math.Abs(normal.X) {
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
		t := p.Segment(i).Tangent(0.5)
		out[i] = RoleOf(geom.P(t.Y, -t.X))
	}
	return out
}

// FromPath makes an outline of a traced path with the notches filled, in any
// place; it is moved into the frame. roles overrides what the normals say and
// may be nil. The fault is that of Validate.
func FromPath(p geom.Path, roles []Role) (Outline, *unit.Fault) {
	if f := p.Validate(); f != nil {
		return Outline{}, f
	}
	b := p.Bounds()
	p = p.Translate(geom.P(-(b.Min.X+b.Max.X)/2, -b.Min.Y))
	o := Outline{Board: p, Filled: p, Roles: rolesOf(p)}
	if len(roles) == len(p) {
		o.Roles = append([]Role(nil), roles...)
	}
	o.BoardRoles = o.Roles
	o.BowPoint = o.onCentreLine(true)
	return o, nil
}

// Codes of the faults of measurements. Where.Field names the measurement.
const (
	CodeMissing     = "seat.missing"
	CodeNotANumber  = "seat.not-a-number"
	CodeNegative    = "seat.negative"
	CodeTooSmall    = "seat.too-small"
	CodeAbsurd      = "seat.absurdly-large"
	CodeBowTooBig   = "seat.bow-too-big"
	CodeRadius      = "seat.radius-too-big"
	CodeNotchTooBig = "seat.notch-too-big"
	CodeNotchHalf   = "seat.notch-incomplete"
	CodeImpossible  = "seat.shape-impossible"
)

// Limits on measurements: nothing smaller than a fingertip is a seat, nothing
// larger than five metres a bench that is recovered on a table.
const (
	Least unit.Length = 20
	Most  unit.Length = 5000
)

// Round is a round (width = depth) or oval outline. An oval is drawn as four
// arcs, two at the ends of the long axis and two along it, tangent where they
// meet. All its edge has the role front.
func Round(width, depth unit.Length) (Outline, []unit.Fault) {
	var faults []unit.Fault
	faults = append(faults, size("width", width)...)
	faults = append(faults, size("depth", depth)...)
	if len(faults) > 0 {
		return Outline{}, faults
	}
	w, d := width.MM(), depth.MM()
	c := geom.P(0, d/2)
	var p geom.Path
	if math.Abs(w-d) < 1e-9 {
		p = geom.Circle(c, w/2)
	} else {
		p = oval(c, w/2, d/2)
	}
	o := Outline{Board: p, Filled: p, Roles: make([]Role, len(p)), round: true, BowPoint: geom.P(0, 0)}
	o.BoardRoles = o.Roles
	return o, nil
}

// oval is the four-centred oval with half axes a and b (textbook construction,
// from memory): with h = hypot(a, b) for a >= b, the perpendicular bisector of
// the end chord less a - b carries the centres, which gives the end radius
// (h - a + b)h/2a and the side radius (h + a - b)h/2b. A test checks extents and
// tangents.
func oval(c geom.Pt, a, b float64) geom.Path {
	turned := b > a
	if turned {
		a, b = b, a
	}
	h := math.Hypot(a, b)
	half := (h - (a - b)) / 2
	r1 := half * h / a // at the ends of the long axis
	r2 := (h - half) * h / b
	// The arcs meet on the line through both centres.
	c1, c2 := geom.P(a-r1, 0), geom.P(0, b-r2)
	u := c1.Sub(c2)
	u = u.Mul(1 / u.Len())
	q := c2.Add(u.Mul(r2))
	pts := [...]geom.Pt{{X: q.X, Y: -q.Y}, q, {X: -q.X, Y: q.Y}, {X: -q.X, Y: -q.Y}}
	end := 2 * math.Asin(q.Y/r1)
	if q.X < c1.X {
		end = 2*math.Pi - end
	}
	side := 2 * math.Asin(q.X/r2)
	p := geom.Path{{Pt: pts[0], Bulge: math.Tan(end / 4)}, {Pt: pts[1], Bulge: math.Tan(side / 4)}, {Pt: pts[2], Bulge: math.Tan(end / 4)}, {Pt: pts[3], Bulge: math.Tan(side / 4)}}
	if turned {
		p = p.Turned(1)
	}
	return p.Translate(c)
}

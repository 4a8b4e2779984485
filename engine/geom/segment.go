package geom

import "math"

// Tolerances. Coordinates stay under 1e5 mm, where a float64 resolves
// 1.5e-11 mm; chains of a few hundred operations lose three or four digits of
// that.
const (
	// coincide is the distance in millimetres below which two computed points
	// are the same point: a tenth of a nanometre, a thousand times what the
	// arithmetic loses and a millionth of what a knife can follow.
	coincide = 1e-7
	// flat is the bulge below which an arc is a straight line: the sagitta of
	// a 5 m chord is then under 0.003 µm.
	flat = 1e-9
	// flatRadius is the radius in millimetres above which a place is no longer
	// reckoned from the centre, which is too far away to carry it.
	flatRadius = 1e4
)

// Segment is one piece of a path: a straight line for Bulge 0, else a circular
// arc from A to B, counter-clockwise for a positive bulge.
type Segment struct {
	A, B  Pt
	Bulge float64
}

// Straight tells whether the segment is a line.
func (s Segment) Straight() bool { return math.Abs(s.Bulge) < flat }

// Sweep is the included angle, positive counter-clockwise; 0 for a line.
func (s Segment) Sweep() float64 {
	if s.Straight() {
		return 0
	}
	return 4 * atan(s.Bulge)
}

// Radius is the arc's radius, positive; +Inf for a line.
func (s Segment) Radius() float64 {
	if s.Straight() {
		return math.Inf(1)
	}
	b := math.Abs(s.Bulge)
	return mul(s.A.Dist(s.B), 1+mul(b, b)) / (4 * b)
}

// Center is the arc's centre; the middle of the chord for a line.
func (s Segment) Center() Pt {
	mid := s.A.Mid(s.B)
	if s.Straight() {
		return mid
	}
	// From the middle of the chord the centre lies (1-b²)/(4b) chords to the
	// left of the direction of travel.
	k := (1 - mul(s.Bulge, s.Bulge)) / (4 * s.Bulge)
	return mid.Add(s.B.Sub(s.A).Left().Mul(k))
}

// Sagitta is how far the arc stands off its chord, positive to the right of the
// direction of travel.
func (s Segment) Sagitta() float64 { return mul(s.Bulge, s.A.Dist(s.B)) / 2 }

// Length is the length along the segment.
func (s Segment) Length() float64 {
	c := s.A.Dist(s.B)
	if s.Straight() {
		return c
	}
	// radius times sweep, written so that a flat arc loses no digits
	return mul(mul(c, 1+mul(s.Bulge, s.Bulge)), atan(s.Bulge)/s.Bulge)
}

// At gives the point a share t of the way along, 0 at A and 1 at B; the ends
// exactly.
func (s Segment) At(t float64) Pt {
	switch {
	case t <= 0:
		return s.A
	case t >= 1:
		return s.B
	case s.Straight():
		return s.A.Lerp(s.B, t)
	}
	// The chord to the point is the whole chord turned by half the angle that is
	// left, shortened by sin(ta/2)/sin(a/2); flat arcs lose no digits to a
	// centre that is far away.
	half := s.Sweep() / 2
	part, _ := sincos(mul(t, half))
	whole, _ := sincos(half)
	return s.A.Add(s.B.Sub(s.A).Rotated(mul(t-1, half)).Mul(part / whole))
}

// Tangent is the unit direction of travel at the share t; zero for a segment
// without length.
func (s Segment) Tangent(t float64) Pt {
	chord := s.B.Sub(s.A).Unit()
	if s.Straight() {
		return chord
	}
	return chord.Rotated(mul(s.Sweep(), t-0.5))
}

// Normal is the unit vector to the right of the direction of travel at the
// share t: outwards on a counter-clockwise path.
func (s Segment) Normal(t float64) Pt { return s.Tangent(t).Right() }

// Reverse runs the segment the other way.
func (s Segment) Reverse() Segment { return Segment{s.B, s.A, -s.Bulge} }

// Part is the stretch of the segment between two shares of its length.
func (s Segment) Part(from, to float64) Segment {
	p := Segment{A: s.At(from), B: s.At(to)}
	if !s.Straight() {
		p.Bulge = tan(mul(to-from, s.Sweep()) / 4)
	}
	return p
}

// Bounds is the smallest box round the segment.
func (s Segment) Bounds() Rect {
	r := Rect{s.A, s.A}.Include(s.B)
	if s.Straight() {
		return r
	}
	c, rad := s.Center(), s.Radius()
	for _, dir := range [...]Pt{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} {
		if p := c.Add(dir.Mul(rad)); s.facing(c, p) {
			r = r.Include(p)
		}
	}
	return r
}

// facing tells whether p lies in the direction of the arc as seen from its
// centre c.
func (s Segment) facing(c, p Pt) bool {
	a, b, v := s.A.Sub(c), s.B.Sub(c), p.Sub(c)
	if s.Bulge < 0 {
		a, b = b, a
	}
	if math.Abs(s.Bulge) <= 1 {
		return a.Cross(v) >= 0 && v.Cross(b) >= 0
	}
	return !(b.Cross(v) > 0 && v.Cross(a) > 0)
}

// arcSide tells whether p lies on the side of the chord where the arc runs. A
// point exactly on the chord's line lies where crossesRay counts it: to the
// right of the direction of travel, or above a level chord.
func (s Segment) arcSide(p Pt) bool {
	cross := s.B.Sub(s.A).Cross(p.Sub(s.A))
	left := cross > 0 || cross == 0 && s.A.Y == s.B.Y && s.B.X > s.A.X
	return left == (s.Bulge < 0)
}

// inCap tells whether q lies between the arc and its chord.
func (s Segment) inCap(q Pt) bool {
	return s.arcSide(q) && q.Dist(s.Center()) < s.Radius()
}

// Nearest is the point of the segment nearest to p.
func (s Segment) Nearest(p Pt) Pt {
	if s.Straight() {
		d := s.B.Sub(s.A)
		n := d.Dot(d)
		switch t := p.Sub(s.A).Dot(d); {
		case n == 0 || t <= 0:
			return s.A
		case t >= n:
			return s.B
		default:
			return s.A.Add(d.Mul(t / n))
		}
	}
	if c := s.Center(); s.facing(c, p) {
		if v := p.Sub(c); v == (Pt{}) {
			return s.At(0.5)
		} else if r := s.Radius(); r < flatRadius {
			return c.Add(v.Unit().Mul(r))
		}
		return curveOf(s).foot(p)
	}
	if p.Dist(s.A) <= p.Dist(s.B) {
		return s.A
	}
	return s.B
}

// Distance is the least distance from p to the segment.
func (s Segment) Distance(p Pt) float64 { return s.Nearest(p).Dist(p) }

// ShareOf is the share of the length from A to the point of the segment that
// is nearest to p.
func (s Segment) ShareOf(p Pt) float64 {
	p = s.Nearest(p)
	if s.Straight() {
		if l := s.A.Dist(s.B); l > 0 {
			return min(p.Dist(s.A)/l, 1)
		}
		return 0
	}
	switch { // so near to an end a direction means nothing
	case p.Dist(s.A) < coincide:
		return 0
	case p.Dist(s.B) < coincide:
		return 1
	}
	switch b := math.Abs(s.Bulge); {
	case b < 0.25: // a flat arc: by the chord from A, which is 2r sin(ta/2)
		whole, _ := sincos(2 * atan(b))
		return min(asin(min(p.Dist(s.A)/s.A.Dist(s.B)*whole, 1))/(2*atan(b)), 1)
	case b > 1: // most of a circle: by the angle at its centre
		c := s.Center()
		turn := signedAngle(s.A.Sub(c), p.Sub(c)) * math.Copysign(1, s.Bulge)
		if turn < 0 {
			turn += 2 * math.Pi
		}
		return min(turn/math.Abs(s.Sweep()), 1)
	}
	// The angle at A between the chord to p and the whole chord is half of what
	// is left of the sweep.
	left := math.Abs(signedAngle(s.B.Sub(s.A), p.Sub(s.A))) * 2
	return min(max(1-left/math.Abs(s.Sweep()), 0), 1)
}

// twiceArea is twice the signed area between the segment and the origin.
func (s Segment) twiceArea() float64 {
	a := s.A.Cross(s.B)
	if s.Straight() {
		return a
	}
	r := s.Radius()
	return a + mul(mul(r, r), lessSine(s.Sweep()))
}

// lessSine is a - sin a, without losing digits to the difference where a is
// small.
func lessSine(a float64) float64 {
	if q := mul(a, a); q < 0.04 {
		// a³/3! - a⁵/5! + a⁷/7! - a⁹/9! + a¹¹/11!; the rest is under 1e-16 of it
		return mul(mul(a, q)/6, 1-mul(q/20, 1-mul(q/42, 1-mul(q/72, 1-q/110))))
	}
	sin, _ := sincos(a)
	return a - sin
}

// steps is the number of chords that keep an arc within tol of its polygon;
// none spans more than a third of a turn.
func (s Segment) steps(tol float64) int {
	if s.Straight() {
		return 1
	}
	most := 2 * math.Pi / 3
	if x := tol / s.Radius(); x < 0.5 {
		// sin²(most/4) = x/2, the stable form of 1 - cos(most/2) = x.
		most = 4 * asin(math.Sqrt(x/2))
	}
	n := math.Ceil(math.Abs(s.Sweep())/most - 1e-9)
	return int(min(max(n, 1), maxSteps))
}

// maxSteps bounds the chords of one arc, whatever the tolerance.
const maxSteps = 4096

// ArcThrough is the segment from a to b whose middle lies s to the right of
// the chord: the sagitta of an arc that bulges outwards on a counter-clockwise
// path. A negative s bulges inwards. Its radius is (c²/4 + s²)/2s over a chord
// of c.
func ArcThrough(a, b Pt, s float64) Segment {
	c := a.Dist(b)
	if c == 0 {
		return Segment{A: a, B: b}
	}
	return Segment{a, b, 2 * s / c}
}

// ArcThroughPoint is the segment from a to b that passes through m; straight
// when the three are on one line.
func ArcThroughPoint(a, m, b Pt) Segment {
	// The angle amb is half a turn less half the sweep, on the other side.
	at := signedAngle(b.Sub(m), a.Sub(m))
	half := math.Pi - math.Abs(at)
	s := Segment{a, b, tan(half / 2)}
	if at < 0 {
		s.Bulge = -s.Bulge
	}
	if s.Straight() || at == 0 {
		s.Bulge = 0
	}
	return s
}

// intersections gives the points that two segments share, within coincide.
// Where they run along each other, ends of the common stretch are given.
func intersections(a, b Segment) []Pt {
	var out []Pt
	add := func(p Pt) {
		if a.Distance(p) <= coincide && b.Distance(p) <= coincide {
			out = append(out, p)
		}
	}
	for _, p := range curveOf(a).meet(curveOf(b)) {
		add(p)
	}
	for _, p := range [...]Pt{a.A, a.B, b.A, b.B} {
		add(p)
	}
	return out
}

package geom

import "math"

// Tolerances. Coordinates are at most a few metres, so a float64 carries them
// to better than 1e-12 m; sums over a path lose at most three more digits.
const (
	// coincide is the distance in millimetres below which two computed points
	// are the same point.
	coincide = 1e-7
	// flat is the bulge below which an arc is a straight line: the sagitta of
	// a 5 m chord is then under 0.003 µm.
	flat = 1e-9
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
	return 4 * math.Atan(s.Bulge)
}

// Radius is the arc's radius, positive; +Inf for a line.
func (s Segment) Radius() float64 {
	if s.Straight() {
		return math.Inf(1)
	}
	b := math.Abs(s.Bulge)
	return s.A.Dist(s.B) * (1 + b*b) / (4 * b)
}

// Center is the arc's centre; the middle of the chord for a line.
func (s Segment) Center() Pt {
	mid := s.A.Add(s.B).Mul(0.5)
	if s.Straight() {
		return mid
	}
	// From the middle of the chord the centre lies (1-b²)/(4b) chords to the
	// left of the direction of travel.
	d := s.B.Sub(s.A)
	k := (1 - s.Bulge*s.Bulge) / (4 * s.Bulge)
	return mid.Add(Pt{-d.Y, d.X}.Mul(k))
}

// Length is the length along the segment.
func (s Segment) Length() float64 {
	if s.Straight() {
		return s.A.Dist(s.B)
	}
	return s.Radius() * math.Abs(s.Sweep())
}

// At gives the point a share t of the way along, 0 at A and 1 at B.
func (s Segment) At(t float64) Pt {
	switch {
	case t <= 0:
		return s.A
	case t >= 1:
		return s.B
	case s.Straight():
		return s.A.Add(s.B.Sub(s.A).Mul(t))
	}
	c := s.Center()
	return c.Add(rotate(s.A.Sub(c), s.Sweep()*t))
}

// Tangent is the unit direction of travel at the share t; zero for a segment
// without length.
func (s Segment) Tangent(t float64) Pt {
	chord := unitVec(s.B.Sub(s.A))
	if s.Straight() {
		return chord
	}
	return rotate(chord, s.Sweep()*(t-0.5))
}

// Reverse runs the segment the other way.
func (s Segment) Reverse() Segment { return Segment{s.B, s.A, -s.Bulge} }

// Bounds is the smallest box round the segment.
func (s Segment) Bounds() Rect {
	r := Rect{s.A, s.A}.Include(s.B)
	if s.Straight() {
		return r
	}
	c, rad := s.Center(), s.Radius()
	for _, dir := range [...]Pt{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} {
		if p := c.Add(dir.Mul(rad)); s.onArc(p) {
			r = r.Include(p)
		}
	}
	return r
}

// onArc tells whether a point of the arc's circle lies between A and B.
func (s Segment) onArc(p Pt) bool {
	c := s.Center()
	a := angleFrom(s.A.Sub(c), p.Sub(c), s.Bulge > 0)
	return a <= math.Abs(s.Sweep())+coincide/s.Radius()
}

// angleFrom is the angle from a to b, in [0, 2π), counter-clockwise if ccw.
func angleFrom(a, b Pt, ccw bool) float64 {
	t := math.Atan2(a.Cross(b), a.Dot(b))
	if !ccw {
		t = -t
	}
	if t < 0 {
		t += 2 * math.Pi
	}
	return t
}

// shareOf gives the share along the segment of a point that lies on it.
func (s Segment) shareOf(p Pt) float64 {
	if s.Straight() {
		d := s.B.Sub(s.A)
		if n := d.Dot(d); n > 0 {
			return p.Sub(s.A).Dot(d) / n
		}
		return 0
	}
	c := s.Center()
	a := angleFrom(s.A.Sub(c), p.Sub(c), s.Bulge > 0)
	sweep := math.Abs(s.Sweep())
	// A point just before A counts as before it, not as a whole turn after.
	if a > math.Pi+sweep/2 {
		a -= 2 * math.Pi
	}
	return a / sweep
}

// Distance is the least distance from p to the segment.
func (s Segment) Distance(p Pt) float64 {
	near := math.Min(s.A.Dist(p), s.B.Dist(p))
	if s.Straight() {
		if t := s.shareOf(p); t > 0 && t < 1 {
			return p.Dist(s.At(t))
		}
		return near
	}
	c := s.Center()
	if s.onArc(p) && p.Dist(c) > coincide {
		return math.Abs(p.Dist(c) - s.Radius())
	}
	return near
}

// steps is the number of chords that keep an arc within tol of its polygon.
func (s Segment) steps(tol float64) int {
	if s.Straight() {
		return 1
	}
	r := s.Radius()
	if tol >= r {
		tol = r / 2
	}
	most := 2 * math.Acos(1-tol/r)
	return max(1, int(math.Ceil(math.Abs(s.Sweep())/most-1e-9)))
}

func rotate(v Pt, a float64) Pt {
	sin, cos := math.Sincos(a)
	return Pt{v.X*cos - v.Y*sin, v.X*sin + v.Y*cos}
}

func unitVec(v Pt) Pt {
	if l := v.Len(); l > 0 {
		return v.Mul(1 / l)
	}
	return Pt{}
}

// ArcThrough is the segment from a to b whose middle lies s to the right of
// the chord: the sagitta of an arc that bulges outwards on a counter-clockwise
// path. A negative s bulges inwards.
func ArcThrough(a, b Pt, s float64) Segment {
	c := a.Dist(b)
	if c == 0 {
		return Segment{A: a, B: b}
	}
	return Segment{a, b, 2 * s / c}
}

// intersections gives the points that two segments share, each within both.
// Overlapping segments of one line or circle give the ends of the overlap.
func intersections(a, b Segment) []Pt {
	var out []Pt
	for _, p := range curveOf(a).meet(curveOf(b)) {
		if within(a, p) && within(b, p) {
			out = append(out, p)
		}
	}
	for _, p := range [...]Pt{a.A, a.B} {
		if b.Distance(p) < coincide {
			out = append(out, p)
		}
	}
	for _, p := range [...]Pt{b.A, b.B} {
		if a.Distance(p) < coincide {
			out = append(out, p)
		}
	}
	return out
}

func within(s Segment, p Pt) bool {
	t := s.shareOf(p)
	slack := coincide / math.Max(s.Length(), coincide)
	return t >= -slack && t <= 1+slack
}

// Package geom is plane geometry on closed paths of lines and circular arcs
// and on polygons. Coordinates are float64 millimetres, x to the right, y up;
// closed shapes run counter-clockwise, so the inside lies to the left of every
// segment and outwards is to the right. Angles are radians, counter-clockwise.
//
// Products that go into a sum are rounded on their own (a conversion to
// float64 forbids a fused multiply-add), so results agree on every processor.
package geom

import "math"

// Pt is a point or a vector.
type Pt struct{ X, Y float64 }

// P is short for Pt{x, y}.
func P(x, y float64) Pt { return Pt{x, y} }

// Add gives p + q.
func (p Pt) Add(q Pt) Pt { return Pt{p.X + q.X, p.Y + q.Y} }

// Sub gives p - q.
func (p Pt) Sub(q Pt) Pt { return Pt{p.X - q.X, p.Y - q.Y} }

// Mul gives s times p.
func (p Pt) Mul(s float64) Pt { return Pt{mul(p.X, s), mul(p.Y, s)} }

// Dot is the scalar product.
func (p Pt) Dot(q Pt) float64 { return mul(p.X, q.X) + mul(p.Y, q.Y) }

// Cross is the z part of the vector product, positive when q lies
// counter-clockwise of p.
func (p Pt) Cross(q Pt) float64 { return mul(p.X, q.Y) - mul(p.Y, q.X) }

// Len is the length of the vector. At the sizes of seats nothing overflows, and
// a square root is rounded the same way everywhere, which math.Hypot is not.
func (p Pt) Len() float64 { return math.Sqrt(p.Dot(p)) }

// Dist is the distance between two points.
func (p Pt) Dist(q Pt) float64 { return p.Sub(q).Len() }

// Unit is the vector of length 1 in p's direction; the zero vector stays zero.
func (p Pt) Unit() Pt {
	if l := p.Len(); l > 0 {
		return Pt{p.X / l, p.Y / l}
	}
	return Pt{}
}

// Left is p turned a quarter counter-clockwise, exactly.
func (p Pt) Left() Pt { return Pt{-p.Y, p.X} }

// Right is p turned a quarter clockwise, exactly.
func (p Pt) Right() Pt { return Pt{p.Y, -p.X} }

// Mid is the point halfway between p and q.
func (p Pt) Mid(q Pt) Pt { return Pt{(p.X + q.X) / 2, (p.Y + q.Y) / 2} }

// Lerp is the point at share t of the way from p to q.
func (p Pt) Lerp(q Pt, t float64) Pt { return p.Add(q.Sub(p).Mul(t)) }

// Rotated is p turned about the origin by an angle.
func (p Pt) Rotated(angle float64) Pt {
	sin, cos := sincos(angle)
	return Pt{mul(p.X, cos) - mul(p.Y, sin), mul(p.X, sin) + mul(p.Y, cos)}
}

// Turned is p turned by n quarter turns counter-clockwise about the origin,
// exactly.
func (p Pt) Turned(n int) Pt {
	switch n & 3 {
	case 1:
		return Pt{-p.Y, p.X}
	case 2:
		return Pt{-p.X, -p.Y}
	case 3:
		return Pt{p.Y, -p.X}
	}
	return p
}

// Finite tells whether neither coordinate is NaN or infinite.
func (p Pt) Finite() bool { return finite(p.X) && finite(p.Y) }

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// Vertex is a corner of a path and the segment that leaves it: straight for
// Bulge 0, else a circular arc with Bulge = tan(a/4), a being the included
// angle, positive counter-clockwise.
type Vertex struct {
	Pt
	Bulge float64
}

// V is short for a vertex at (x, y).
func V(x, y, bulge float64) Vertex { return Vertex{Pt{x, y}, bulge} }

// Path is a closed path; segment i runs from vertex i to vertex i+1, the last
// one back to vertex 0. The zero value is empty and has no area. A Path is
// treated as immutable: functions return new ones.
type Path []Vertex

// Polygon is a closed ring of points, not repeated at the end. The zero value
// is empty. A Polygon is treated as immutable.
type Polygon []Pt

// Rect is a box with its sides along the axes.
type Rect struct{ Min, Max Pt }

// W is the extent along x, H along y.
func (r Rect) W() float64 { return r.Max.X - r.Min.X }

// H is the extent along y.
func (r Rect) H() float64 { return r.Max.Y - r.Min.Y }

// ChordTol is the largest distance in millimetres between an arc and the
// polygon it becomes (DESIGN section 4).
const ChordTol = 0.05

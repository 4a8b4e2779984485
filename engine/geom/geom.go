// Package geom is plane geometry on closed paths of lines and circular arcs
// and on polygons. Coordinates are float64 millimetres, x to the right, y up;
// closed shapes run counter-clockwise. Angles are radians, counter-clockwise.
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
func (p Pt) Mul(s float64) Pt { return Pt{p.X * s, p.Y * s} }

// Dot is the scalar product.
func (p Pt) Dot(q Pt) float64 { return p.X*q.X + p.Y*q.Y }

// Cross is the z part of the vector product, positive when q lies
// counter-clockwise of p.
func (p Pt) Cross(q Pt) float64 { return p.X*q.Y - p.Y*q.X }

// Len is the length of the vector.
func (p Pt) Len() float64 { return math.Hypot(p.X, p.Y) }

// Dist is the distance between two points.
func (p Pt) Dist(q Pt) float64 { return p.Sub(q).Len() }

// Vertex is a corner of a path and the segment that leaves it: straight for
// Bulge 0, else a circular arc with Bulge = tan(a/4), a being the included
// angle, positive counter-clockwise.
type Vertex struct {
	Pt
	Bulge float64
}

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

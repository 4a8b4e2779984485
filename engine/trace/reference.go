package trace

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Kind is what lies in the picture to measure by.
type Kind int

// Kinds of reference.
const (
	SheetA4     Kind = iota // ISO 216: 210 × 297 mm
	SheetLetter             // ANSI/ASME Y14.1 size A: 8.5 × 11 in
	AnyRect                 // a rectangle with typed sides
	TwoPoints               // two points with a known distance
)

// Reference is a thing of known size. W is the side between corners 0 and 1, H
// the one between 1 and 2; for two points W is their distance.
type Reference struct {
	Kind Kind
	W, H unit.Length
}

// A4 is the sheet of ISO 216.
func A4() Reference { return Reference{SheetA4, 210, 297} }

// Letter is the sheet of 8.5 × 11 in (ANSI/ASME Y14.1, size A).
func Letter() Reference { return Reference{SheetLetter, 215.9, 279.4} }

// Rectangle is any rectangle whose sides were typed.
func Rectangle(w, h unit.Length) Reference { return Reference{AnyRect, w, h} }

// Distance is a known distance between two points. Perspective cannot be
// corrected from it.
func Distance(d unit.Length) Reference { return Reference{TwoPoints, d, 0} }

// Turned has the two sides exchanged.
func (r Reference) Turned() Reference { r.W, r.H = r.H, r.W; return r }

// IsSheet tells whether the reference is a sheet of paper, which FindSheet can
// look for.
func (r Reference) IsSheet() bool { return r.Kind == SheetA4 || r.Kind == SheetLetter }

// Reference sides that make sense: below 20 mm one pixel of error is a tenth
// of the board, above 10 m nothing is a seat.
const (
	minReference = 20
	maxReference = 10000
)

// Validate gives the fault CodeBadReference for sides that cannot be.
func (r Reference) Validate() error {
	ok := func(l unit.Length) bool { return l >= minReference && l <= maxReference } // false for NaN
	if !ok(r.W) || r.Kind != TwoPoints && !ok(r.H) {
		return &unit.Fault{Code: CodeBadReference, Args: []unit.Arg{
			unit.A("least", unit.Length(minReference)), unit.A("most", unit.Length(maxReference))}}
	}
	return nil
}

// corners are the reference's corners in the model.
func (r Reference) corners() [4]geom.Pt {
	w, h := float64(r.W)/2, float64(r.H)/2
	return [4]geom.Pt{{X: -w, Y: -h}, {X: w, Y: -h}, {X: w, Y: h}, {X: -w, Y: h}}
}

// Corners are the reference's corners in the photo, counter-clockwise to the
// eye from the lower left one. For two points only the first two count.
type Corners [4]geom.Pt

// valid tells whether the corners make a convex figure, counter-clockwise to
// the eye, with no side shorter than a few pixels.
func (c Corners) valid() bool {
	for i := range c {
		a, b, d := c[i], c[(i+1)%4], c[(i+2)%4]
		if !a.Finite() || a.Dist(b) < 8 {
			return false
		}
		// y runs down, so a turn to the left is negative.
		u, v := b.Sub(a), d.Sub(b)
		if -u.Cross(v) < 0.05*u.Len()*v.Len() {
			return false
		}
	}
	return true
}

// Arranged puts four corners, given in any order, into the order of Corners.
func Arranged(pts [4]geom.Pt) Corners {
	var mid geom.Pt
	for _, p := range pts {
		mid = mid.Add(p.Mul(0.25))
	}
	c := Corners(pts)
	angle := func(p geom.Pt) float64 { return math.Atan2(-(p.Y - mid.Y), p.X-mid.X) }
	for i := range c {
		for j := i + 1; j < 4; j++ {
			if angle(c[j]) < angle(c[i]) {
				c[i], c[j] = c[j], c[i]
			}
		}
	}
	return c.fromLowerLeft()
}

// fromLowerLeft turns the order so that the first side is the one that runs
// most to the right, which makes its start the lower left corner.
func (c Corners) fromLowerLeft() Corners {
	best, most := 0, math.Inf(-1)
	for i := range c {
		d := c[(i+1)%4].Sub(c[i]).Unit()
		e := c[(i+3)%4].Sub(c[(i+2)%4]).Unit() // the opposite side runs to the left
		if v := d.X - e.X; v > most {
			best, most = i, v
		}
	}
	return Corners{c[best], c[(best+1)%4], c[(best+2)%4], c[(best+3)%4]}
}

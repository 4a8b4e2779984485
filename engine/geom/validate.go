package geom

import (
	"cmp"
	"math"
	"slices"

	"slipseat/engine/unit"
)

// Codes of the faults that Validate returns; each but the first two carries
// its place.
const (
	CodeTooFew    = "outline.too-few-points"
	CodeNotFinite = "outline.not-a-number"
	CodeDouble    = "outline.double-point"
	CodeCrosses   = "outline.crosses-itself"
	CodeClockwise = "outline.clockwise"
	CodeNoArea    = "outline.no-area"
	CodeTooFar    = "outline.too-far"
)

// maxCoordinate is the largest coordinate in millimetres for which the
// tolerances hold, a hundred metres.
const maxCoordinate = 1e5

// minArea is the least area in square millimetres that counts as one, that of
// a square of a tenth of a millimetre.
const minArea = 0.01

// maxBulge keeps an arc from being so nearly a full circle that its two ends
// cannot be told apart.
const maxBulge = 1000

// Validate tells whether the path can be an outline: (1) every figure is a
// number, and every point within a hundred metres of the origin; (2) it has at least three points, or two when one of the segments is
// an arc; (3) no two points in a row are the same; (4) it neither crosses nor
// touches itself; (5) it encloses an area; (6) it runs counter-clockwise. The
// first rule that is broken is returned with its place; nil means valid.
func (p Path) Validate() *unit.Fault {
	for _, v := range p {
		if !v.Finite() || !(math.Abs(v.Bulge) <= maxBulge) {
			return &unit.Fault{Code: CodeNotFinite}
		}
		if max(math.Abs(v.X), math.Abs(v.Y)) > maxCoordinate {
			f := placed(CodeTooFar, v.Pt)
			f.Args = []unit.Arg{unit.A("limit", unit.Length(maxCoordinate))}
			return f
		}
	}
	arcs := 0
	for i := range p {
		if !p.Segment(i).Straight() {
			arcs++
		}
	}
	if len(p) < 2 || len(p) == 2 && arcs == 0 {
		return &unit.Fault{Code: CodeTooFew, Args: []unit.Arg{unit.A("points", len(p))}}
	}
	for i := range p {
		if s := p.Segment(i); s.A.Dist(s.B) < coincide {
			return placed(CodeDouble, s.A)
		}
	}
	if at, crosses := p.crossing(); crosses {
		return placed(CodeCrosses, at)
	}
	switch a := p.Area(); {
	case math.Abs(a) < minArea:
		return placed(CodeNoArea, p[0].Pt)
	case a < 0:
		return placed(CodeClockwise, p[0].Pt)
	}
	return nil
}

func placed(code string, at Pt) *unit.Fault {
	return &unit.Fault{Code: code, Where: unit.Where{X: at.X, Y: at.Y, HasXY: true}}
}

// crossing finds a point where the path meets itself other than at the shared
// ends of neighbouring segments. Segments are swept by the left ends of their
// boxes.
func (p Path) crossing() (Pt, bool) {
	n := len(p)
	type boxed struct {
		Rect
		i int
	}
	segs, boxes := p.Segments(), make([]boxed, n)
	for i, s := range segs {
		boxes[i] = boxed{s.Bounds().Grow(coincide), i}
	}
	slices.SortFunc(boxes, func(a, b boxed) int {
		return cmp.Or(cmp.Compare(a.Min.X, b.Min.X), a.i-b.i)
	})
	for k, a := range boxes {
		for _, b := range boxes[k+1:] {
			if b.Min.X > a.Max.X {
				break
			}
			if a.Min.Y > b.Max.Y || b.Min.Y > a.Max.Y {
				continue
			}
			i, j := min(a.i, b.i), max(a.i, b.i)
			for _, q := range intersections(segs[i], segs[j]) {
				// Ten times coincide leaves room for the second solution where
				// neighbours join smoothly.
				shared := j == i+1 && q.Dist(segs[j].A) <= 10*coincide ||
					i == 0 && j == n-1 && q.Dist(segs[0].A) <= 10*coincide
				if !shared {
					return q, true
				}
			}
		}
	}
	return Pt{}, false
}

package geom

import (
	"math"

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
)

// Validate tells whether the path can be an outline: (1) every figure is a
// number; (2) it has at least three points, or two when one of the segments is
// an arc; (3) no two points in a row are the same; (4) it neither crosses nor
// touches itself; (5) it encloses an area; (6) it runs counter-clockwise. The
// first rule that is broken is returned with its place; nil means valid.
func (p Path) Validate() *unit.Fault {
	for _, v := range p {
		for _, x := range [...]float64{v.X, v.Y, v.Bulge} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return &unit.Fault{Code: CodeNotFinite}
			}
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
	case math.Abs(a) < coincide:
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
// ends of neighbouring segments.
func (p Path) crossing() (Pt, bool) {
	n := len(p)
	segs := p.Segments()
	boxes := make([]Rect, n)
	for i, s := range segs {
		boxes[i] = s.Bounds().Grow(coincide)
	}
	for i := range segs {
		for j := i + 1; j < n; j++ {
			if !boxes[i].Overlaps(boxes[j]) {
				continue
			}
			for _, q := range intersections(segs[i], segs[j]) {
				shared := j == i+1 && q.Dist(segs[i].B) < 10*coincide ||
					i == 0 && j == n-1 && q.Dist(segs[0].A) < 10*coincide
				if !shared {
					return q, true
				}
			}
		}
	}
	return Pt{}, false
}

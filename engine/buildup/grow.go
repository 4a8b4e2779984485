package buildup

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// Words' codes of the terms of sizes.
const (
	WhyBoard     = "size.board"
	WhyWrapLeft  = "size.wrap-left"
	WhyWrapRight = "size.wrap-right"
	WhyWrapFront = "size.wrap-front"
	WhyWrapBack  = "size.wrap-back"
	WhyOversize  = "size.oversize"
	WhyInset     = "size.inset"
	WhySlant     = "size.slant"
	WhyFoam      = "size.foam"
	WhyDrop      = "size.drop"
	WhyTrim      = "size.trim"
	WhyHem       = "size.hem"
	WhyFinished  = "size.finished"
	WhySqueeze   = "size.squeeze"
	WhySeam      = "size.seam"
	WhyZipSeam   = "size.zip-seam"
	WhyThick     = "size.thickness"
	WhyHalfThick = "size.half-thickness"
	WhyBandEdge  = "size.band-edge"
	WhyTie       = "size.tie"
)

// amounts is how far each side of a bounding box moves out.
type amounts struct{ left, right, front, back float64 }

// sides gives how far a rectangle must reach past the outline's bounding box
// for edges that each move out by their role's amount: the amount of the side
// of that name, and more where some edge's own strip needs more (roles that
// the user changed, an outline without a side of that name, a round one).
func sides(o seat.Outline, amount func(seat.Role) float64) amounts {
	var a amounts
	for _, r := range o.Roles {
		switch r {
		case seat.Left:
			a.left = amount(r)
		case seat.Right:
			a.right = amount(r)
		case seat.Front:
			a.front = amount(r)
		case seat.Back:
			a.back = amount(r)
		}
	}
	if len(rolesOf(o)) == 1 {
		// One role all round: its amount holds for every side.
		a = amounts{a.front, a.front, a.front, a.front}
		if o.Roles[0] != seat.Front {
			v := amount(o.Roles[0])
			a = amounts{v, v, v, v}
		}
	}
	b := o.Filled.Bounds()
	corner := o.Filled.CornerArcs()
	n := len(o.Filled)
	for i := range o.Filled {
		d := amount(o.Roles[i])
		if corner[i] {
			d = math.Min(amount(o.Roles[(i+n-1)%n]), amount(o.Roles[(i+1)%n]))
		}
		m := moved(o.Filled.Segment(i), d).Bounds()
		a.left = math.Max(a.left, b.Min.X-m.Min.X-sameLength)
		a.right = math.Max(a.right, m.Max.X-b.Max.X-sameLength)
		a.front = math.Max(a.front, b.Min.Y-m.Min.Y-sameLength)
		a.back = math.Max(a.back, m.Max.Y-b.Max.Y-sameLength)
	}
	return a
}

// rolesOf lists the roles that occur, in order.
func rolesOf(o seat.Outline) []seat.Role {
	var has [4]bool
	for _, r := range o.Roles {
		has[r] = true
	}
	var out []seat.Role
	for _, r := range seat.Roles() {
		if has[r] {
			out = append(out, r)
		}
	}
	return out
}

// moved shifts a segment of a counter-clockwise path outwards by d. An arc
// keeps its centre; a hollow one with less radius than d keeps its place.
func moved(s geom.Segment, d float64) geom.Segment {
	if s.Straight() {
		n := s.Normal(0).Mul(d)
		return geom.Segment{A: s.A.Add(n), B: s.B.Add(n)}
	}
	c, r := s.Center(), s.Radius()
	if s.Bulge < 0 {
		d = -d
	}
	if r+d <= 0 {
		return s
	}
	k := (r + d) / r
	return geom.Segment{A: c.Add(s.A.Sub(c).Mul(k)), B: c.Add(s.B.Sub(c).Mul(k)), Bulge: s.Bulge}
}

// squared is the outline's box grown by a, rounded up to the marking step; the
// rounding goes half to each side, so that centre marks keep their place.
func squared(b geom.Rect, a amounts, step unit.Length) (geom.Rect, unit.Why, unit.Why) {
	w := unit.Why{Kind: unit.KindLength}
	w.Add(WhyBoard, b.W())
	w.Add(WhyWrapLeft, a.left)
	w.Add(WhyWrapRight, a.right)
	w, upW := rounded(w, step)
	d := unit.Why{Kind: unit.KindLength}
	d.Add(WhyBoard, b.H())
	d.Add(WhyWrapFront, a.front)
	d.Add(WhyWrapBack, a.back)
	d, upD := rounded(d, step)
	return geom.Rect{
		Min: geom.P(b.Min.X-a.left-upW/2, b.Min.Y-a.front-upD/2),
		Max: geom.P(b.Max.X+a.right+upW/2, b.Max.Y+a.back+upD/2),
	}, w, d
}

// rounded lifts a size to the marking step and tells by how much.
func rounded(w unit.Why, step unit.Length) (unit.Why, float64) {
	if step <= 0 {
		return w, 0
	}
	size := w.Value()
	up := math.Ceil((size-sameLength)/step.MM())*step.MM() - size
	if up <= sameLength {
		return w, 0
	}
	w.Add(WhyRounding, up, unit.A("step", step))
	return w, up
}

// fitted adds the term that slanted sides make to a shaped blank's size, so
// that the terms add up to the path's own box.
func fitted(w unit.Why, size float64) unit.Why {
	if rest := size - w.Value(); math.Abs(rest) > 1e-10 {
		w.Add(WhySlant, rest)
	}
	return w
}

// box tells whether a path is a rectangle along the axes.
func box(p geom.Path) bool {
	b := p.Bounds()
	return len(p) > 0 && math.Abs(p.Area()-b.W()*b.H()) < sameLength*(b.W()+b.H())
}

// grownRect is the rectangle of a blank that is cut square: the box grown to
// whole marking steps, half to each side.
func grownRect(b geom.Rect, w, d unit.Why, step unit.Length) (geom.Rect, unit.Why, unit.Why) {
	w, upW := rounded(w, step)
	d, upD := rounded(d, step)
	return geom.Rect{Min: geom.P(b.Min.X-upW/2, b.Min.Y-upD/2), Max: geom.P(b.Max.X+upW/2, b.Max.Y+upD/2)}, w, d
}

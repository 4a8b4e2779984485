package plan

import (
	"math"
	"slices"

	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Faults of glue-ups that the user set.
const (
	CodeJoint      = "plan.joint-outside"
	CodePartNarrow = "plan.part-too-narrow"
	CodeJoints     = "plan.joint-count"
)

// WhyPart is the words' code of a part of a glue-up.
const WhyPart = "size.part"

// glued cuts the blanks of a lot into the parts that they are glued of.
func (p *Plan) glued(s SeatPlan, l lot) ([]lot, []unit.Fault) {
	var out []lot
	var faults []unit.Fault
	split := func(l lot, g GlueUp) {
		f := p.foam(l.blank.Goods)
		parts, bad := Parts(l.blank, g, f)
		if bad != nil {
			faults = append(faults, *bad)
			out = append(out, l)
			return
		}
		for i, b := range parts {
			out = append(out, lot{b, l.numbers, i + 1})
		}
	}
	for _, g := range p.In.GlueUps {
		if g.Seat != s.ID || g.Layer != l.blank.Layer || g.Piece == 0 {
			continue
		}
		if i := slices.Index(l.numbers, g.Piece); i >= 0 {
			one := l
			one.numbers = []int{g.Piece}
			l.numbers = slices.Delete(slices.Clone(l.numbers), i, i+1)
			split(one, g)
		}
	}
	if len(l.numbers) == 0 {
		return out, faults
	}
	for _, g := range p.In.GlueUps {
		if g.Seat == s.ID && g.Layer == l.blank.Layer && g.Piece == 0 {
			split(l, g)
			return out, faults
		}
	}
	return append([]lot{l}, out...), faults
}

func (p *Plan) foam(id string) cloth.Sheet {
	for _, f := range p.In.Foams {
		if f.ID == id {
			return f
		}
	}
	return cloth.Sheet{}
}

// Parts cuts a foam blank into the parts of a glue-up, from left to right or
// from front to back. A curved edge is cut as the polygon around it that the
// lay uses too, so that the parts make up the blank exactly. The fault names
// what is wrong with the joints.
func Parts(b buildup.Blank, g GlueUp, f cloth.Sheet) ([]buildup.Blank, *unit.Fault) {
	bad := func(code string, args ...unit.Arg) ([]buildup.Blank, *unit.Fault) {
		return nil, &unit.Fault{Code: code, Where: unit.Where{Goods: b.Goods, Field: "glue_ups"}, Args: args}
	}
	if n := len(g.At); n < 1 || n > 2 {
		return bad(CodeJoints, unit.A("got", n+1))
	}
	shape := b.Path.FlattenOut(geom.ChordTol)
	box := shape.Bounds()
	size, from := box.H(), box.Min.Y
	if g.FrontToBack {
		size, from = box.W(), box.Min.X
	}
	least := f.Glue.MinWidth
	if least <= 0 {
		least = min(cloth.UsualGlueLeast, unit.Length(size)/3)
	}
	at := slices.Clone(g.At)
	slices.Sort(at)
	cuts := []float64{0}
	for _, a := range at {
		if math.IsNaN(a.MM()) || a <= 0 || a.MM() >= size {
			return bad(CodeJoint, unit.A("got", a), unit.A("most", unit.Length(size)))
		}
		cuts = append(cuts, a.MM())
	}
	cuts = append(cuts, size)
	var out []buildup.Blank
	for i := range len(cuts) - 1 {
		if w := unit.Length(cuts[i+1] - cuts[i]); w < least-1e-6 {
			return bad(CodePartNarrow, unit.A("got", w), unit.A("least", least))
		}
		part := within(shape, g.FrontToBack, from+cuts[i], from+cuts[i+1], i == 0, i == len(cuts)-2)
		if part.Path().Validate() != nil {
			return bad(CodeJoint, unit.A("got", at[min(i, len(at)-1)]), unit.A("most", unit.Length(size)))
		}
		n := b
		n.Path, n.Lines = part.Path(), nil
		n.Square = isBox(part)
		n.W, n.D = unit.Why{}, unit.Why{}
		n.W.Add(WhyPart, part.Bounds().W(), unit.A("part", i+1), unit.A("parts", len(cuts)-1))
		n.D.Add(WhyPart, part.Bounds().H(), unit.A("part", i+1), unit.A("parts", len(cuts)-1))
		for k := i; k <= i+1; k++ {
			if k > 0 && k < len(cuts)-1 {
				n.Lines = append(n.Lines, buildup.Line{Kind: buildup.LineJoint, Path: jointIn(part, g.FrontToBack, from+cuts[k])})
			}
		}
		out = append(out, n)
	}
	return out, nil
}

// within is what of a polygon lies between two lines across x (or y), cut by
// Sutherland and Hodgman's way (1974).
func within(g geom.Polygon, acrossX bool, lo, hi float64, first, last bool) geom.Polygon {
	val := func(p geom.Pt) float64 {
		if acrossX {
			return p.X
		}
		return p.Y
	}
	clip := func(g geom.Polygon, in func(float64) float64, at float64) geom.Polygon {
		var out geom.Polygon
		for i, p := range g {
			q := g[(i+1)%len(g)]
			a, b := in(val(p)), in(val(q))
			if a >= 0 {
				out = append(out, p)
			}
			if a > 0 && b < 0 || a < 0 && b > 0 {
				c := p.Add(q.Sub(p).Mul(a / (a - b)))
				// On the line to the last bit, so that both sides meet.
				if acrossX {
					c.X = at
				} else {
					c.Y = at
				}
				out = append(out, c)
			}
		}
		return out
	}
	if !first {
		g = clip(g, func(v float64) float64 { return v - lo }, lo)
	}
	if !last {
		g = clip(g, func(v float64) float64 { return hi - v }, hi)
	}
	return g
}

func isBox(g geom.Polygon) bool {
	b := g.Bounds()
	for _, q := range g {
		if q.X != b.Min.X && q.X != b.Max.X || q.Y != b.Min.Y && q.Y != b.Max.Y {
			return false
		}
	}
	return len(g) == 4
}

// jointIn is the glued edge of a part: from end to end of where the part meets
// the line.
func jointIn(part geom.Polygon, acrossX bool, at float64) geom.Path {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range part {
		v, w := q.Y, q.X
		if acrossX {
			v, w = q.X, q.Y
		}
		if math.Abs(v-at) < 1e-6 {
			lo, hi = math.Min(lo, w), math.Max(hi, w)
		}
	}
	if acrossX {
		return geom.Path{{Pt: geom.P(at, lo)}, {Pt: geom.P(at, hi)}}
	}
	return geom.Path{{Pt: geom.P(lo, at)}, {Pt: geom.P(hi, at)}}
}

// frontJoint tells whether a glued joint of a seat's foam lies under its front
// edge: nearer to it than the joints of that foam keep off.
func (p *Plan) frontJoint(s SeatPlan) bool {
	for _, g := range p.In.GlueUps {
		if g.Seat != s.ID || g.FrontToBack {
			continue
		}
		i := layer(s.Result, g.Layer)
		if i < 0 {
			continue
		}
		keep := p.foam(s.Result.Blanks[i].Goods).Glue.KeepOff
		if keep <= 0 {
			keep = cloth.UsualKeepOff
		}
		for _, at := range g.At {
			if at < keep-1e-6 {
				return true
			}
		}
	}
	return false
}

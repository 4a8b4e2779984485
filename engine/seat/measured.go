package seat

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Measurements describe a board with a straight or bowed front, straight or
// bowed sides and a straight back. Widths run between the extended edges, or
// over the rounded corners when OverRounded is set. Depth runs on the centre
// line and includes the bow.
type Measurements struct {
	FrontWidth, BackWidth, Depth unit.Length
	FrontBow                     unit.Length // how far the front curves out past its corners
	SideBow                      unit.Length
	FrontRadius, BackRadius      unit.Length
	OverRounded                  bool
	NotchWidth, NotchDepth       unit.Length // back-post notches; both 0 for none
}

// FromMeasurements draws the outline (DESIGN section 4): the front edge is the
// arc through both front corners with sagitta FrontBow, radius (Wf²/4 + s²)/2s;
// the corners sit at depth D - s. Every fault names its field.
func FromMeasurements(m Measurements) (Outline, []unit.Fault) {
	if faults := m.check(); len(faults) > 0 {
		return Outline{}, faults
	}
	wf, wb := m.FrontWidth.MM(), m.BackWidth.MM()
	if m.OverRounded {
		var ok bool
		if wf, wb, ok = m.extended(); !ok {
			return Outline{}, []unit.Fault{fault(CodeImpossible, "front_width")}
		}
	}
	return m.draw(wf, wb)
}

func fault(code, field string, args ...unit.Arg) unit.Fault {
	return unit.Fault{Code: code, Where: unit.Where{Field: field}, Args: args}
}

// size checks a length that a seat cannot do without.
func size(field string, l unit.Length) []unit.Fault {
	switch x := float64(l); {
	case math.IsNaN(x) || math.IsInf(x, 0):
		return []unit.Fault{fault(CodeNotANumber, field)}
	case x == 0:
		return []unit.Fault{fault(CodeMissing, field)}
	case x < 0:
		return []unit.Fault{fault(CodeNegative, field)}
	case l < Least:
		return []unit.Fault{fault(CodeTooSmall, field, unit.A("given", l), unit.A("limit", Least))}
	case l > Most:
		return []unit.Fault{fault(CodeAbsurd, field, unit.A("given", l), unit.A("limit", Most))}
	}
	return nil
}

// extra checks a length that may be nothing.
func extra(field string, l unit.Length) []unit.Fault {
	switch x := float64(l); {
	case math.IsNaN(x) || math.IsInf(x, 0):
		return []unit.Fault{fault(CodeNotANumber, field)}
	case x < 0:
		return []unit.Fault{fault(CodeNegative, field)}
	case l > Most:
		return []unit.Fault{fault(CodeAbsurd, field, unit.A("given", l), unit.A("limit", Most))}
	}
	return nil
}

func (m Measurements) check() []unit.Fault {
	var out []unit.Fault
	out = append(out, size("front_width", m.FrontWidth)...)
	out = append(out, size("back_width", m.BackWidth)...)
	out = append(out, size("depth", m.Depth)...)
	for _, e := range []struct {
		field string
		l     unit.Length
	}{{"front_bow", m.FrontBow}, {"side_bow", m.SideBow}, {"front_radius", m.FrontRadius}, {"back_radius", m.BackRadius},
		{"notch_width", m.NotchWidth}, {"notch_depth", m.NotchDepth}} {
		out = append(out, extra(e.field, e.l)...)
	}
	if len(out) > 0 {
		return out
	}
	if limit := min(m.FrontWidth/2, m.Depth-Least); m.FrontBow > limit {
		out = append(out, fault(CodeBowTooBig, "front_bow", unit.A("given", m.FrontBow), unit.A("limit", limit)))
	}
	if limit := (m.Depth - m.FrontBow) / 2; m.SideBow > limit {
		out = append(out, fault(CodeBowTooBig, "side_bow", unit.A("given", m.SideBow), unit.A("limit", limit)))
	}
	if (m.NotchWidth > 0) != (m.NotchDepth > 0) {
		field := "notch_width"
		if m.NotchWidth > 0 {
			field = "notch_depth"
		}
		out = append(out, fault(CodeNotchHalf, field))
	}
	if limit := m.BackWidth/2 - Least/2; m.NotchWidth > 0 && m.NotchWidth > limit {
		out = append(out, fault(CodeNotchTooBig, "notch_width", unit.A("given", m.NotchWidth), unit.A("limit", limit)))
	}
	if limit := m.Depth - m.FrontBow - m.FrontRadius - Least/2; m.NotchDepth > 0 && m.NotchDepth > limit {
		out = append(out, fault(CodeNotchTooBig, "notch_depth", unit.A("given", m.NotchDepth), unit.A("limit", max(0, limit))))
	}
	return out
}

// draw makes the outline for widths between the extended edges.
func (m Measurements) draw(wf, wb float64) (Outline, []unit.Fault) {
	s, back := m.FrontBow.MM(), (m.Depth - m.FrontBow).MM()
	corners := []geom.Pt{{X: -wf / 2}, {X: wf / 2}, {X: wb / 2, Y: back}, {X: -wb / 2, Y: back}}
	front := geom.ArcThrough(corners[0], corners[1], s)
	right := geom.ArcThrough(corners[1], corners[2], m.SideBow.MM())
	left := geom.ArcThrough(corners[3], corners[0], m.SideBow.MM())
	sharp := geom.PathOf([]geom.Segment{front, right, {A: corners[2], B: corners[3]}, left})
	if f := sharp.Validate(); f != nil {
		return Outline{}, []unit.Fault{fault(CodeImpossible, "back_width")}
	}
	o := Outline{Corners: corners, BowPoint: geom.P(0, -s)}
	var f *unit.Fault
	if o.Filled, f = m.rounded(sharp, [4]bool{true, true, true, true}); f != nil {
		return Outline{}, []unit.Fault{*f}
	}
	o.Roles = rolesOf(o.Filled)
	o.Board, o.BoardRoles = o.Filled, o.Roles
	if m.NotchWidth > 0 {
		if f := m.notch(&o, sharp); f != nil {
			return Outline{}, []unit.Fault{*f}
		}
	}
	return o, nil
}

// rounded rounds the corners front left, front right, back right, back left as
// asked, from the last to the first so that the indices stay.
func (m Measurements) rounded(p geom.Path, which [4]bool) (geom.Path, *unit.Fault) {
	for i := 3; i >= 0; i-- {
		r, field := m.FrontRadius, "front_radius"
		if i >= 2 {
			r, field = m.BackRadius, "back_radius"
		}
		if !which[i] {
			continue
		}
		q, f := p.Fillet(i, r.MM())
		if f != nil {
			bad := fault(CodeRadius, field, f.Args...)
			return nil, &bad
		}
		p = q
	}
	return p, nil
}

// notch cuts the two back corners out of the board.
func (m Measurements) notch(o *Outline, sharp geom.Path) *unit.Fault {
	nw, nd := m.NotchWidth.MM(), m.NotchDepth.MM()
	br, bl := o.Corners[2], o.Corners[3]
	y := br.Y - nd
	onSide := func(s geom.Segment) (geom.Pt, float64) {
		lo, hi := 0.0, 1.0
		rising := s.B.Y > s.A.Y
		for range 80 {
			mid := (lo + hi) / 2
			if (s.At(mid).Y < y) == rising {
				lo = mid
			} else {
				hi = mid
			}
		}
		return s.At(lo), lo
	}
	right, left := sharp.Segment(1), sharp.Segment(3)
	pr, tr := onSide(right)
	pl, tl := onSide(left)
	ir, il := geom.P(br.X-nw, y), geom.P(bl.X+nw, y)
	cut := func(s geom.Segment, from, to float64) geom.Segment {
		bulge := math.Tan(math.Atan(s.Bulge) * (to - from))
		return geom.Segment{A: s.At(from), B: s.At(to), Bulge: bulge}
	}
	lower, upper := cut(right, 0, tr), cut(left, tl, 1)
	lower.B, upper.A = pr, pl
	p := geom.PathOf([]geom.Segment{sharp.Segment(0), lower, {A: pr, B: ir}, {A: ir, B: geom.P(ir.X, br.Y)},
		{A: geom.P(ir.X, br.Y), B: geom.P(il.X, bl.Y)}, {A: geom.P(il.X, bl.Y), B: il}, {A: il, B: pl}, upper})
	if p.Validate() != nil {
		f := fault(CodeNotchTooBig, "notch_width", unit.A("given", m.NotchWidth), unit.A("limit", m.BackWidth/4))
		return &f
	}
	p, f := m.rounded(p, [4]bool{true, true, false, false})
	if f != nil {
		return f
	}
	o.Board, o.BoardRoles = p, rolesOf(p)
	o.Notches = []Notch{
		{Right: true, Side: pr, Inner: ir, Back: geom.P(ir.X, br.Y), Corner: br},
		{Side: pl, Inner: il, Back: geom.P(il.X, bl.Y), Corner: bl},
	}
	return nil
}

// extended finds the widths between the extended edges that give the measured
// widths over the rounded corners. Each step corrects a width by what it
// misses; corners change the widths by less than they are wide, so the steps
// shrink.
func (m Measurements) extended() (wf, wb float64, ok bool) {
	wf, wb = m.FrontWidth.MM(), m.BackWidth.MM()
	for range 200 {
		o, faults := m.draw(wf, wb)
		if len(faults) > 0 {
			return 0, 0, false
		}
		f, b := o.widthsOverCorners()
		df, db := m.FrontWidth.MM()-f, m.BackWidth.MM()-b
		if math.Abs(df) < 1e-11 && math.Abs(db) < 1e-11 {
			return wf, wb, true
		}
		wf, wb = wf+df, wb+db
	}
	o, faults := m.draw(wf, wb)
	if len(faults) > 0 {
		return 0, 0, false
	}
	f, b := o.widthsOverCorners()
	return wf, wb, math.Abs(f-m.FrontWidth.MM()) < 1e-9 && math.Abs(b-m.BackWidth.MM()) < 1e-9
}

// widthsOverCorners is what a tape reads across the two front corners and
// across the two back corners: the extent of their arcs.
func (o Outline) widthsOverCorners() (front, back float64) {
	corner := o.Filled.CornerArcs()
	f, b := geom.Rect{}, geom.Rect{}
	nf, nb := 0, 0
	for i, is := range corner {
		if !is {
			continue
		}
		s := o.Filled.Segment(i)
		if s.Center().Y < o.Corners[2].Y/2 {
			if nf == 0 {
				f = s.Bounds()
			}
			f, nf = f.Union(s.Bounds()), nf+1
		} else {
			if nb == 0 {
				b = s.Bounds()
			}
			b, nb = b.Union(s.Bounds()), nb+1
		}
	}
	front, back = f.W(), b.W()
	if nf < 2 {
		front = o.Corners[1].X - o.Corners[0].X
	}
	if nb < 2 {
		back = o.Corners[2].X - o.Corners[3].X
	}
	return front, back
}

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
// the corners sit at depth D - s. Every fault names its field; with a fault
// there is no outline.
func FromMeasurements(m Measurements) (Outline, []unit.Fault) {
	if faults := m.check(); len(faults) > 0 {
		return Outline{}, faults
	}
	wf, wb := m.FrontWidth.MM(), m.BackWidth.MM()
	path, f := m.filled(wf, wb)
	if f == nil && m.OverRounded {
		path, f = m.extend(&wf, &wb)
	}
	if f != nil {
		return Outline{}, []unit.Fault{*f}
	}
	o := Outline{Board: path, Filled: path, Roles: rolesOf(path), BowPoint: geom.P(0, -m.FrontBow.MM())}
	o.BoardRoles = o.Roles
	o.main = m.corners(wf, wb)
	for _, c := range o.main {
		o.Corners = append(o.Corners, c.at)
	}
	if m.NotchWidth > 0 {
		for _, right := range [...]bool{true, false} {
			if f := o.cut(Cut{right, m.NotchWidth, m.NotchDepth}); f != nil {
				return Outline{}, []unit.Fault{*f}
			}
		}
	}
	return o, nil
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
	case l >= Most:
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
	case l >= Most:
		return []unit.Fault{fault(CodeAbsurd, field, unit.A("given", l), unit.A("limit", Most))}
	}
	return nil
}

func (m Measurements) check() []unit.Fault {
	var out []unit.Fault
	out = append(out, size("front_width", m.FrontWidth)...)
	out = append(out, size("back_width", m.BackWidth)...)
	out = append(out, size("depth", m.Depth)...)
	for _, e := range [...]struct {
		field string
		l     unit.Length
	}{{"front_bow", m.FrontBow}, {"side_bow", m.SideBow}, {"front_radius", m.FrontRadius}, {"back_radius", m.BackRadius},
		{"notch_width", m.NotchWidth}, {"notch_depth", m.NotchDepth}} {
		out = append(out, extra(e.field, e.l)...)
	}
	if len(out) > 0 {
		return out
	}
	if limit := max(min(m.FrontWidth/2, m.Depth-Least), 0); m.FrontBow > limit {
		out = append(out, fault(CodeBowTooBig, "front_bow", unit.A("given", m.FrontBow), unit.A("limit", limit)))
	}
	if limit := max((m.Depth-m.FrontBow)/2, 0); m.SideBow > limit {
		out = append(out, fault(CodeBowTooBig, "side_bow", unit.A("given", m.SideBow), unit.A("limit", limit)))
	}
	if (m.NotchWidth > 0) != (m.NotchDepth > 0) {
		field := "notch_width"
		if m.NotchWidth > 0 {
			field = "notch_depth"
		}
		out = append(out, fault(CodeNotchHalf, field))
	}
	return out
}

// sharp is the outline with sharp corners for widths between the extended
// edges, from the front left corner.
func (m Measurements) sharp(wf, wb float64) geom.Path {
	s, back := m.FrontBow.MM(), (m.Depth - m.FrontBow).MM()
	fl, fr, br, bl := geom.P(-wf/2, 0), geom.P(wf/2, 0), geom.P(wb/2, back), geom.P(-wb/2, back)
	return geom.PathOf([]geom.Segment{
		geom.ArcThrough(fl, fr, s), geom.ArcThrough(fr, br, m.SideBow.MM()),
		{A: br, B: bl}, geom.ArcThrough(bl, fl, m.SideBow.MM()),
	})
}

// radius is the rounding of a corner of sharp, and its measurement.
func (m Measurements) radius(corner int) float64 {
	if corner < 2 {
		return m.FrontRadius.MM()
	}
	return m.BackRadius.MM()
}

// filled is the outline with rounded corners, without notches.
func (m Measurements) filled(wf, wb float64) (geom.Path, *unit.Fault) {
	sharp := m.sharp(wf, wb)
	if sharp.Validate() != nil {
		f := fault(CodeImpossible, "back_width")
		return nil, &f
	}
	if p := m.rounded(sharp); p != nil {
		return p, nil
	}
	return nil, m.radiusFault(sharp)
}

// rounded rounds the corners; nil when the roundings do not fit.
func (m Measurements) rounded(sharp geom.Path) geom.Path {
	p, ok := sharp.TryFillets(m.radius)
	if !ok || p.Validate() != nil {
		return nil
	}
	return p
}

// radiusFault names the radius that does not fit, with the largest that does
// beside the other one.
func (m Measurements) radiusFault(sharp geom.Path) *unit.Fault {
	with := func(front, back unit.Length) bool {
		n := m
		n.FrontRadius, n.BackRadius = front, back
		return n.rounded(sharp) != nil
	}
	field, given := "back_radius", m.BackRadius
	fits := func(r unit.Length) bool { return with(m.FrontRadius, r) }
	if !with(m.FrontRadius, 0) {
		field, given = "front_radius", m.FrontRadius
		fits = func(r unit.Length) bool { return with(r, 0) }
	}
	lo, hi := unit.Length(0), given
	for range 40 {
		if mid := (lo + hi) / 2; fits(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	f := fault(CodeRadius, field, unit.A("radius", given), unit.A("limit", lo))
	return &f
}

// corners gives the four main corners with their roundings.
func (m Measurements) corners(wf, wb float64) []corner {
	sharp := m.sharp(wf, wb)
	out := make([]corner, len(sharp))
	for i, v := range sharp {
		out[i] = corner{at: v.Pt, arc: geom.Segment{A: v.Pt, B: v.Pt}}
		if arc, ok := sharp.Rounding(i, m.radius(i)); ok {
			out[i].arc = arc
		}
	}
	return out
}

// widthTol is how near solved widths come to the measured ones, in millimetres.
const widthTol = 1e-10

// extend finds the widths between the extended edges that give the measured
// widths over the rounded corners: each is twice the largest x of the corner's
// rounding. A rounding moves with its corner almost one to one, so correcting
// by what is missed converges in a few steps.
func (m Measurements) extend(wf, wb *float64) (geom.Path, *unit.Fault) {
	for range 100 {
		path, f := m.filled(*wf, *wb)
		if f != nil {
			return nil, f
		}
		c := m.corners(*wf, *wb)
		df := m.FrontWidth.MM() - 2*c[1].arc.Bounds().Max.X
		db := m.BackWidth.MM() - 2*c[2].arc.Bounds().Max.X
		if math.Abs(df) < widthTol && math.Abs(db) < widthTol {
			return path, nil
		}
		*wf, *wb = *wf+df, *wb+db
		if most := 2 * Most.MM(); !(*wf > 0 && *wb > 0 && *wf < most && *wb < most) {
			break
		}
	}
	f := fault(CodeOverRounded, "front_width")
	return nil, &f
}

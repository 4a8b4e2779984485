package buildup

import (
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// base is t, the thickness of all layers that reach the foam's edge.
func (s Spec) base() unit.Length {
	var t unit.Length
	for _, l := range s.Foam {
		if l.Inset == 0 {
			t += l.Thickness
		}
	}
	return t
}

// edgeHeight is T = t (1 - c).
func (s Spec) edgeHeight() unit.Length { return s.base() * unit.Length(1-s.Compression) }

// FoamThickness is the thickness of all layers in the middle of the seat.
func (s Spec) FoamThickness() unit.Length {
	var t unit.Length
	for _, l := range s.Foam {
		t += l.Thickness
	}
	return t
}

// waddingOverBoard tells whether the wadding covers the board's edge; a
// drop-in seat has no room for it there.
func (s Spec) waddingOverBoard() bool {
	return s.Wadding.Thickness > 0 && !s.Wadding.StopsAtFoam && s.Kind != DropIn
}

// Section gives the cross-section at an edge of a seat whose foam blank is w
// wide and d deep. round is true for an outline with a single role; its dome
// is reckoned over the smaller size, which adds the more.
func (s Spec) Section(r seat.Role, w, d unit.Length, round bool) Section {
	out := Section{
		Foam:      s.edgeHeight(),
		Overhang:  s.Overhang.At(r).Or(max(0, s.Oversize)),
		Wadding:   s.Wadding.Thickness,
		OverBoard: s.waddingOverBoard(),
		Board:     s.Board,
		TurnUnder: s.Cover.TurnUnder,
		Pull:      s.Cover.Pull,
		Crown:     CrownExtra(s.Foam) / 2,
	}
	switch s.Edge {
	case RoundedEdge:
		out.Radius = s.EdgeSize
	case BevelBelow:
		out.Bevel = s.EdgeSize
	}
	if s.Dome > 0 {
		span := d
		switch {
		case round:
			span = min(w, d)
		case r == seat.Left || r == seat.Right:
			span = w
		}
		out.Dome = DomeExtra(s.Dome, span) / 2
	}
	return out
}

// Wrap is how far the cover reaches past one edge of the board.
type Wrap struct {
	Role     seat.Role
	Computed unit.Why // from the section
	Used     unit.Why // Computed, or the user's own as its one term
	Fixed    bool
	Section  Section
}

// Reach is the least wrap that still takes the staples, the staples' line
// being short of the turn-under: wrap - p - u + line.
func (w Wrap) Reach(line unit.Length) unit.Length {
	return w.Computed.Length() - w.Section.Pull - w.Section.TurnUnder + line
}

// PullLeft is what the wrap in use leaves to hold by, never below nothing.
func (w Wrap) PullLeft() unit.Length {
	return max(0, w.Used.Length()-(w.Computed.Length()-w.Section.Pull))
}

// RawEdge is how far inside the board's edge the cover's trimmed edge lies
// under the board: the turn-under, or less when the wrap in use is short of
// it. It is negative when the cover does not come round the board at all.
func (w Wrap) RawEdge() unit.Length {
	way := w.Computed.Length() - w.Section.Pull - w.Section.TurnUnder
	return min(w.Section.TurnUnder, w.Used.Length()-way)
}

func (s Spec) wrapAt(r seat.Role, w, d unit.Length, round bool) Wrap {
	sec := s.Section(r, w, d, round)
	out := Wrap{Role: r, Computed: sec.Wrap(), Section: sec}
	out.Used = out.Computed
	if f := s.Cover.Fixed.At(r); f.Set {
		out.Fixed = true
		out.Used = unit.Why{Kind: unit.KindLength}
		out.Used.Add(WhyFixed, f.Value.MM(), unit.A("computed", out.Computed.Length()))
	}
	return out
}

// Line is the distance of the row of staples from the board's edge.
func (s Spec) Line() unit.Length { return s.Staples.Line.Or(UsualLine) }

package caution

import (
	"strings"

	"slipseat/engine/buildup"
	"slipseat/engine/unit"
)

// tol in millimetres: figures that differ by less are the same figure.
const tol = 1e-6

func at(s Seat, field string) unit.Where { return unit.Where{Seat: s.ID, Field: field} }

// wraps looks at fixed wraps: too short to take the staples, too short for the
// turn-under, or leaving less to pull by than was set. One caution a seat and
// kind; its figures are those of the edge that misses most, edges counts them.
//
// Source: derived (DESIGN section 4); the common complaint behind it is in
// facts 5.2.
func wraps(f Facts) []Caution {
	var out []Caution
	for _, s := range f.Seats {
		line := s.Spec.Line()
		worst := map[string]unit.Length{}
		args := map[string][]unit.Arg{}
		edges := map[string]int{}
		for _, w := range s.Result.Wraps {
			if !w.Fixed {
				continue
			}
			used, whole := w.Used.Length(), w.Computed.Length()
			code, need := "", unit.Length(0)
			switch reach, bare := w.Reach(line), whole-w.Section.Pull; {
			case used < reach-tol:
				code, need = CannotReach, reach
			case used < bare-tol:
				code, need = WrapShort, bare
			case used < whole-tol:
				code, need = LessPull, whole
			default:
				continue
			}
			edges[code]++
			if miss := need - used; miss > worst[code] {
				worst[code] = miss
				args[code] = []unit.Arg{unit.A("seat", s.Name), unit.A("edge", w.Role.String()), unit.A("wrap", used), unit.A("need", need),
					unit.A("computed", whole), unit.A("missing", miss), unit.A("left", w.PullLeft()), unit.A("set", w.Section.Pull)}
			}
		}
		for _, code := range []string{CannotReach, WrapShort, LessPull} {
			if edges[code] == 0 {
				continue
			}
			sev := Spoils
			if code == LessPull {
				sev = Check
			}
			out = append(out, Caution{Code: code, Severity: sev, Where: at(s, "fixed_wrap"),
				Args: append(args[code], unit.A("edges", edges[code]))})
		}
	}
	return out
}

// dustCloth wants the dust cloth's finished edge outside the cover's raw edge
// and the row of staples.
func dustCloth(f Facts) []Caution {
	var out []Caution
	for _, s := range f.Seats {
		if s.Spec.Dust.None || s.Spec.Kind == buildup.BoxedPad || len(s.Result.Wraps) == 0 {
			continue
		}
		cover := s.Spec.Line()
		for _, w := range s.Result.Wraps {
			cover = min(cover, w.RawEdge())
		}
		if inset := s.Spec.Dust.Inset; inset >= cover-tol {
			out = append(out, Caution{Code: DustShort, Severity: Check, Where: at(s, "dust_inset"),
				Args: []unit.Arg{unit.A("seat", s.Name), unit.A("inset", inset), unit.A("most", max(0, cover))}})
		}
	}
	return out
}

// foamSmall looks for foam that does not reach the board's edge.
func foamSmall(f Facts) []Caution {
	var out []Caution
	for _, s := range f.Seats {
		b, ok := s.Result.Blank(buildup.PartFoam)
		if !ok || s.Spec.Kind == buildup.BoxedPad {
			continue
		}
		w, d := b.Size()
		if w < s.Width-tol || d < s.Depth-tol {
			out = append(out, Caution{Code: FoamSmall, Severity: Spoils, Where: at(s, "oversize"),
				Args: []unit.Arg{unit.A("seat", s.Name), unit.A("width", w), unit.A("depth", d),
					unit.A("board_width", s.Width), unit.A("board_depth", s.Depth)}})
		}
	}
	return out
}

// bite looks at staples that come through the board or will not hold.
//
// Source: S50 (fastener supplier, grade B).
func bite(f Facts) []Caution {
	var out []Caution
	for _, s := range f.Seats {
		b := s.Result.Bite
		if !b.Known {
			continue
		}
		if b.Through {
			out = append(out, Caution{Code: StaplesThrough, Severity: Harms, Where: at(s, "staple_leg"),
				Args: []unit.Arg{unit.A("seat", s.Name), unit.A("leg", s.Spec.Staples.Leg), unit.A("bite", b.Side.Length()),
					unit.A("board", s.Spec.Board), unit.A("most", s.Spec.Board-buildup.BiteSpare+(s.Spec.Staples.Leg-b.Side.Length()))}})
		}
		if b.Loose {
			out = append(out, Caution{Code: StaplesLoose, Severity: Spoils, Where: at(s, "staple_leg"),
				Args: []unit.Arg{unit.A("seat", s.Name), unit.A("leg", s.Spec.Staples.Leg), unit.A("bite", max(0, b.Corner.Length())),
					unit.A("least", buildup.BiteLeast)}})
		}
	}
	return out
}

// frame looks at a drop-in seat in its frame.
//
// Source: S47 (school textbook 1919, grade A), S42, S94 (grade B).
func frame(f Facts) []Caution {
	var out []Caution
	for _, s := range f.Seats {
		for _, g := range s.Result.Gaps {
			field := [...]string{"frame_width", "frame_depth", "post_gap"}[g.At]
			args := []unit.Arg{unit.A("seat", s.Name), unit.A("gap", g.Have.Length()), unit.A("need", g.Need.Length())}
			switch {
			case g.Binds():
				out = append(out, Caution{Code: Binds, Severity: Spoils, Where: at(s, field), Args: append(args, unit.A("plane", g.Plane))})
			case g.Pack > 0:
				out = append(out, Caution{Code: PackEdge, Severity: Check, Where: at(s, field), Args: append(args, unit.A("pack", g.Pack))})
			}
		}
	}
	return out
}

// oldCover asks for the bare board.
func oldCover(f Facts) []Caution {
	var out []Caution
	for _, s := range f.Seats {
		if s.OverOldCover {
			out = append(out, Caution{Code: OverOldCover, Severity: Check, Where: at(s, "measured_on"), Args: []unit.Arg{unit.A("seat", s.Name)}})
		}
	}
	return out
}

// notFlipped looks for shapes traced from the underside and not turned over.
//
// Source: S147 (newspaper 2006, grade B) tells of the spoiled work.
func notFlipped(f Facts) []Caution {
	var out []Caution
	for _, s := range f.Seats {
		if s.TracedBelow && !s.Flipped {
			out = append(out, Caution{Code: NotFlipped, Severity: Spoils, Where: at(s, "outline"), Args: []unit.Arg{unit.A("seat", s.Name)}})
		}
	}
	return out
}

// offBy is how far a traced outline may read off a measurement: what a tape is
// read to, 1/16 in (common practice, no source).
const offBy = unit.In / 16

// tracedOff holds traced outlines against a measurement of the real board.
func tracedOff(f Facts) []Caution {
	var out []Caution
	for _, s := range f.Seats {
		if d := s.Traced - s.Known; s.Known > 0 && max(d, -d) > offBy+tol {
			out = append(out, Caution{Code: TracedOff, Severity: Spoils, Where: at(s, "known_length"),
				Args: []unit.Arg{unit.A("seat", s.Name), unit.A("measured", s.Known), unit.A("traced", s.Traced), unit.A("off", max(d, -d))}})
		}
	}
	return out
}

// joints looks for a glued joint under the front edge, where it is sat on and
// seen most (common practice, no source).
func joints(f Facts) []Caution {
	var out []Caution
	for _, s := range f.Seats {
		if s.FrontJoint {
			out = append(out, Caution{Code: JointInFront, Severity: Check, Where: at(s, "foam_1"), Args: []unit.Arg{unit.A("seat", s.Name)}})
		}
	}
	return out
}

// differentRolls looks for seats of one set whose covers come from different
// lots, which seldom match in colour.
//
// Source: S150 (how-to page, grade C) for dye lots.
func differentRolls(f Facts) []Caution {
	var out []Caution
	for _, s := range f.Seats {
		if len(s.Lots) > 1 {
			out = append(out, Caution{Code: DifferentRolls, Severity: Check, Where: at(s, "lot"),
				Args: []unit.Arg{unit.A("seat", s.Name), unit.A("lots", strings.Join(s.Lots, ", "))}})
		}
	}
	return out
}

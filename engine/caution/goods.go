package caution

import (
	"slipseat/engine/cloth"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// blankTooWide looks for blanks that do not fit across the cloth at any turn
// that is allowed. One caution a cloth and seat.
func blankTooWide(f Facts) []Caution {
	var out []Caution
	for _, c := range f.Cloths {
		usable := c.Cloth.UsableWidth()
		turns := cloth.Turns(c.Cloth)
		for _, b := range c.Blanks {
			across, along := b.W, b.D
			if c.Cloth.Lie.Railroaded() {
				across, along = along, across
			}
			if turns.Has(1) || turns.Has(3) {
				across = min(across, along)
			}
			if across > usable+tol {
				out = append(out, Caution{Code: BlankTooWide, Severity: Spoils,
					Where: unit.Where{Seat: b.Seat, Goods: c.Cloth.ID, Piece: b.Piece},
					Args: []unit.Arg{unit.A("seat", b.Name), unit.A("part", b.Part.Code()), unit.A("across", across),
						unit.A("usable", usable), unit.A("cloth", c.Cloth.Name)}})
			}
		}
	}
	return out
}

// foamTooLarge looks for foam blanks larger than the sheet that are not glued
// of parts.
func foamTooLarge(f Facts) []Caution {
	var out []Caution
	for _, s := range f.Foams {
		l, w := s.Sheet.Usable()
		if l == 0 || w == 0 {
			continue
		}
		glued := map[string]bool{}
		for _, id := range s.Glued {
			glued[id] = true
		}
		for _, b := range s.Blanks {
			if glued[b.Seat] || max(b.W, b.D) <= max(l, w)+tol && min(b.W, b.D) <= min(l, w)+tol {
				continue
			}
			out = append(out, Caution{Code: FoamTooLarge, Severity: Spoils,
				Where: unit.Where{Seat: b.Seat, Goods: s.Sheet.ID, Piece: b.Piece},
				Args: []unit.Arg{unit.A("seat", b.Name), unit.A("width", b.W), unit.A("depth", b.D),
					unit.A("sheet_width", w), unit.A("sheet_length", l), unit.A("foam", s.Sheet.Name)}})
		}
	}
	return out
}

// turning looks for turns that go against nap or pattern.
//
// Source: S75 (trade handbook, grade B).
func turning(f Facts) []Caution {
	var out []Caution
	for _, c := range f.Cloths {
		if cloth.Bends(c.Cloth) {
			out = append(out, Caution{Code: TurningAllowed, Severity: Spoils, Where: unit.Where{Goods: c.Cloth.ID, Field: "turning"},
				Args: []unit.Arg{unit.A("cloth", c.Cloth.Name)}})
		}
	}
	return out
}

// patternStart looks for a repeat whose first motif was not measured on the
// roll, and for a centred one that is bought without a repeat to spare.
//
// Source: geometry in facts 2.5; S5 (grade C) shows the case.
func patternStart(f Facts) []Caution {
	var out []Caution
	for _, c := range f.Cloths {
		p := c.Cloth.Pattern
		along := p.Along > 0 && p.RuleAlong == lay.Centred && !p.FirstAlong.Set
		across := p.Across > 0 && p.RuleAcross == lay.Centred && !p.FirstAcross.Set
		if !along && !across {
			continue
		}
		field := "first_across"
		if !across {
			field = "first_along"
		}
		out = append(out, Caution{Code: PatternStart, Severity: Check, Where: unit.Where{Goods: c.Cloth.ID, Field: field},
			Args: []unit.Arg{unit.A("cloth", c.Cloth.Name), unit.A("along", p.Along), unit.A("across", p.Across)}})
		if along && !c.RepeatSpare && c.Needed > 0 {
			out = append(out, Caution{Code: NoRepeatSpare, Severity: Spoils, Where: unit.Where{Goods: c.Cloth.ID, Field: "first_along"},
				Args: []unit.Arg{unit.A("cloth", c.Cloth.Name), unit.A("repeat", p.Along)}})
		}
	}
	return out
}

// phaseAcross looks for a length that hangs on where the pattern starts across
// the roll.
//
// Source: geometry in facts 2.5 (S5, grade C): twice the cloth where a motif
// lies on the selvedge.
func phaseAcross(f Facts) []Caution {
	var out []Caution
	for _, c := range f.Cloths {
		at := unit.Where{Goods: c.Cloth.ID, Field: "first_across"}
		name := unit.A("cloth", c.Cloth.Name)
		if c.Best > 0 && c.Worst > c.Best+tol {
			out = append(out, Caution{Code: PhaseAcross, Severity: Check, Where: at, Args: []unit.Arg{name, unit.A("worst", c.Worst), unit.A("best", c.Best)}})
		}
		if c.NoRoom {
			out = append(out, Caution{Code: MayNotFit, Severity: Spoils, Where: at, Args: []unit.Arg{name}})
		}
	}
	return out
}

// pieceTooShort looks for a piece at hand that does not carry the lay.
func pieceTooShort(f Facts) []Caution {
	var out []Caution
	for _, c := range f.Cloths {
		if have := c.Cloth.AtHand; have > 0 && c.Missing > 0 {
			out = append(out, Caution{Code: PieceTooShort, Severity: Spoils, Where: unit.Where{Goods: c.Cloth.ID, Field: "at_hand"},
				Args: []unit.Arg{unit.A("cloth", c.Cloth.Name), unit.A("have", have), unit.A("pieces", c.Missing), unit.A("missing", c.Needed)}})
		}
	}
	return out
}

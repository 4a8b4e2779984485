package caution

import (
	"slices"

	"slipseat/engine/unit"
)

// Checked is the day on which the sources behind the safety and fire pointers
// were read; the words show it.
const Checked = "2026-11-24"

// workshop gives general care: knives when anything is cut, staplers when
// anything is stapled, adhesive when it is in the order, old filling when it is
// kept.
//
// Source: knives common practice, no source; eyes WAC 296-807-14040, S120, and
// OSHA letters, S121, S122 (grade A), goggles S46, S49 (grade B); adhesive 16
// CFR 1500.133, S117, and 16 CFR 1302, S116 (grade A); old filling S123, S127,
// S128 (grade B).
func workshop(f Facts) []Caution {
	var out []Caution
	checked := unit.A("checked", Checked)
	if f.KeepOldFilling {
		out = append(out, Caution{Code: OldFilling, Severity: Harms, Where: unit.Where{Field: "old_filling"}, Args: []unit.Arg{checked}})
	}
	if f.Adhesive {
		out = append(out, Caution{Code: Adhesive, Severity: Advice, Where: unit.Where{Field: "adhesive"}, Args: []unit.Arg{checked}})
	}
	stapled, cut := false, false
	for _, s := range f.Seats {
		if s.Count <= 0 {
			continue
		}
		stapled = stapled || s.Result.Staples.Value() > 0
		cut = cut || len(s.Result.Blanks) > 0
	}
	if stapled {
		out = append(out, Caution{Code: Stapler, Severity: Advice, Args: []unit.Arg{checked}})
	}
	if cut {
		out = append(out, Caution{Code: Knives, Severity: Advice})
	}
	return out
}

// europe lists the countries for whose standards bodies EN 1021 is a national
// standard: members of the European Union, Iceland, Liechtenstein, Norway and
// Switzerland (from memory).
func europe() []string {
	return []string{"AT", "BE", "BG", "CH", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU", "IE", "IS", "IT",
		"LI", "LT", "LU", "LV", "MT", "NL", "NO", "PL", "PT", "RO", "SE", "SI", "SK"}
}

// fire points to the rules on how upholstery burns, by country and purpose.
// They are pointers with the day they were looked up: which rules apply, and
// whether they are met, is for local codes and qualified people to say.
//
// Source: UK SI 1988/1324 (S95, S99) as amended by SI 2025/531 (S98), BS 7176
// (S115, grade B); US 16 CFR 1640 (S105, S106), TB 117-2013 (S110); EN 1021-1
// and -2 (S112, S113); grade A unless said.
func fire(f Facts) []Caution {
	if !slices.ContainsFunc(f.Seats, func(s Seat) bool { return s.Count > 0 }) {
		return nil
	}
	add := func(codes ...string) []Caution {
		var out []Caution
		for _, code := range codes {
			out = append(out, Caution{Code: code, Severity: Advice, Where: unit.Where{Field: "country"}, Args: []unit.Arg{unit.A("checked", Checked)}})
		}
		return out
	}
	switch {
	case f.Country == "GB" && f.Purpose == Contract:
		return add(FireUKContract)
	case f.Country == "GB":
		return add(FireUK)
	case f.Country == "US":
		return add(FireUS)
	case slices.Contains(europe(), f.Country):
		return add(FireEurope)
	}
	return add(FireGeneral)
}

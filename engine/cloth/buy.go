package cloth

import (
	"math"

	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// Words' codes of the terms of Buy.
const (
	WhySquareUp = "buy.square-up"
	WhyLay      = "buy.lay"
	WhyRepeat   = "buy.repeat-spare"
	WhySpare    = "buy.spare"
	WhyRounding = "buy.rounding"
)

// RepeatSpare is what a centred pattern may cost at the start of the roll: one
// repeat along while the first motif's distance from the cut end is not
// measured, else nothing (DESIGN section 5).
func RepeatSpare(c Cloth) unit.Length {
	p := c.Pattern
	if p.Along > 0 && p.RuleAlong == lay.Centred && !p.FirstAlong.Set {
		return p.Along
	}
	return 0
}

// Buy gives the length to buy for a lay of the given length, as its terms:
// (square-up + lay + repeat spare) * (1 + spare), rounded up to the selling
// step. A lay of nothing buys nothing.
//
// Law: need <= Buy < need + step, need being the sum without the rounding.
func Buy(c Cloth, length unit.Length) unit.Why {
	w := unit.Why{Kind: unit.KindLength}
	if length <= 0 {
		return w
	}
	if c.SquareUp > 0 {
		w.Add(WhySquareUp, c.SquareUp.MM())
	}
	w.Add(WhyLay, length.MM())
	if r := RepeatSpare(c); r > 0 {
		w.Add(WhyRepeat, r.MM(), unit.A("repeat", r))
	}
	if c.Spare > 0 {
		w.Add(WhySpare, w.Value()*c.Spare.Float(), unit.A("share", c.Spare))
	}
	return RoundUp(w, c.Step, WhyRounding)
}

// Needed is the sum of a figure's terms before its rounding.
func Needed(w unit.Why) float64 {
	var s float64
	for _, t := range w.Terms {
		if t.Code != WhyRounding {
			s += t.Value
		}
	}
	return s
}

// RoundUp appends the term that lifts w to the next whole multiple of step. A
// step of 0 leaves w as it is.
func RoundUp(w unit.Why, step unit.Length, code string) unit.Why {
	if step <= 0 {
		return w
	}
	need := w.Value()
	if up := float64(Steps(unit.Length(need), step))*step.MM() - need; up > stepTol {
		w.Add(code, up, unit.A("step", step))
	}
	return w
}

// Steps is the number of whole steps that cover need.
func Steps(need, step unit.Length) int64 {
	return int64(math.Ceil((need.MM() - stepTol) / step.MM()))
}

// stepTol in millimetres: a need that passes a step by no more counts as that
// step. Sums of typed lengths carry rounding errors of about 1e-12 of a roll
// of 1e6 mm; nobody can cut to a nanometre.
const stepTol = 1e-6

// Words' codes of the terms of PatternedCut.
const (
	WhyCut     = "cut.length"
	WhyRepeats = "cut.to-repeat"
)

// PatternedCut lengthens a cut to the next whole number of repeats, the
// rounding rule of workrooms: 116 in on a 25 in repeat is 125 in. A repeat of
// 0 leaves the cut as it is.
//
// Law: 0 <= PatternedCut - cut < repeat.
// Source: S14, S15 (trade, grade B); see testdata/hand/SOURCES.md.
func PatternedCut(cut, repeat unit.Length) (w unit.Why, repeats int) {
	w = unit.Why{Kind: unit.KindLength}
	w.Add(WhyCut, cut.MM())
	if repeat <= 0 {
		return w, 0
	}
	n := Steps(cut, repeat)
	if up := float64(n)*repeat.MM() - cut.MM(); up > stepTol {
		w.Add(WhyRepeats, up, unit.A("repeat", repeat), unit.A("repeats", int(n)))
	}
	return w, int(n)
}

package unit

import "math"

// StepTol is the share of a step that counts as float noise: a length that is
// a whole number of steps to within it is never rounded up by another step.
// Sums of a dozen typed lengths err by less than 1e-12 m; a thousandth of a
// sixteenth of an inch is 1.6 µm, far below what a tape shows.
const StepTol = 1e-3

// RoundUp gives the smallest multiple of step not below l; l itself for a step
// of 0.
func RoundUp(l, step Length) Length {
	if step <= 0 {
		return l
	}
	return Length(math.Ceil(float64(l/step)-StepTol)) * step
}

// RoundNearest gives the multiple of step nearest to l; l itself for a step of
// 0.
func RoundNearest(l, step Length) Length {
	if step <= 0 {
		return l
	}
	return Length(math.Round(float64(l/step))) * step
}

// The marking steps that a job can have (DESIGN section 3).
const (
	SixteenthInch Length = In / 16
	OneMillimetre Length = MM
)

// SellingSteps are the usual steps that cloth is sold in (common practice; 1/8,
// 1/4 and 1/2 yd, 1/4 m and whole centimetres are seen in shops, 0.1 m is
// common practice without a source), smallest first.
func SellingSteps(metric bool) []Length {
	if metric {
		return []Length{CM, 10 * CM, 25 * CM, 50 * CM, M}
	}
	return []Length{Yd / 8, Yd / 4, Yd / 2, Yd}
}

// MarkingSteps are the marking steps that a job can have.
func MarkingSteps() []Length { return []Length{SixteenthInch, OneMillimetre} }

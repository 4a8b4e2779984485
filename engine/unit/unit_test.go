package unit

import (
	"math"
	"testing"
)

// TestPublishedConversions: facts.md section 9, value 15. Yard, inch:
// international yard and pound agreement of 1959 (unit pages that cite the
// Federal Register notice, S129, S130, grade B); A4: ISO 216 (S141, grade B);
// the rest is arithmetic on them.
func TestPublishedConversions(t *testing.T) {
	const point = In / 72 // typographic point of page files
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"54 in", (54 * In).MM(), 1371.6},
		{"1 yd", Yd.MM(), 914.4},
		{"1 yd in metres", Yd.M(), 0.9144},
		{"1 in", In.CM(), 2.54},
		{"1/8 yd", (Yd / 8).MM(), 114.3},
		{"1/4 yd", (Yd / 4).MM(), 228.6},
		{"1/2 yd", (Yd / 2).MM(), 457.2},
		{"1 yd in inches", Yd.In(), 36},
		{"140 cm against 54 in", (140*CM - 54*In).MM(), 28.4},
		{"A4 width in points", float64(210 * MM / point), 595.276},
		{"A4 height in points", float64(297 * MM / point), 841.890},
		{"Letter width", (8.5 * In).MM(), 215.9},
		{"Letter height", (11 * In).MM(), 279.4},
		{"50 square inches in cm²", float64(Area(50*In*In)) / float64(CM*CM), 322.58},
	} {
		if math.Abs(c.got-c.want) > 1e-3 {
			t.Errorf("%s: got %v, want %v", c.what, c.got, c.want)
		}
	}
	if Yd != 914.4 || Ft != 304.8 || In != 25.4 {
		t.Error("a unit is not exact")
	}
}

// TestSteps: every step of cloth is a whole number of the next smaller one or
// of a marking step, and rounding to it never goes down or a whole step up.
func TestSteps(t *testing.T) {
	for _, metric := range []bool{false, true} {
		steps := SellingSteps(metric)
		for i, s := range steps {
			if i > 0 && s <= steps[i-1] {
				t.Errorf("steps do not grow: %v", steps)
			}
			for _, l := range []Length{0, 1, 89 * In, 1017 * CM, 3.875 * Yd, s, 7 * s, 7*s + 0.1} {
				up := RoundUp(l, s)
				if up < l-s*StepTol || up >= l+s || math.Abs(float64(RoundUp(up, s)-up)) > 1e-9 {
					t.Errorf("%v mm up to steps of %v: got %v", l, s, up)
				}
			}
		}
	}
	if got := RoundUp(89*In, Yd/2); got != 2.5*Yd { // facts.md value 5 (S5, grade C)
		t.Errorf("89 in by the half yard: got %v yd", got.Yd())
	}
	if got := RoundUp(12, 0); got != 12 {
		t.Errorf("without a step: got %v", got)
	}
}

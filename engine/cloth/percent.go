package cloth

import (
	"math"

	"slipseat/engine/unit"
)

// RepeatPercent is the trade table's rough share of extra cloth for a repeat,
// by the sum of the repeats along and across rounded up to whole inches. It is
// shown beside the true lay as a cross-check and used for nothing: the table
// was made for whole chairs and sofas. It knows goods of 54 in and of 50 to 52
// in and sums up to 54 in; ok is false for all else. One source moves the last
// two bands to 37-43 and 44-51 in; the other's 37-45 and 46-54 are taken here.
//
// Source: S11, a variant in S12 (trade, grade B).
func RepeatPercent(width, along, across unit.Length) (extra unit.Share, ok bool) {
	extra = 0
	switch {
	case math.Abs((width - 54*unit.In).MM()) < widthTol:
	case width > 50*unit.In-widthTol && width < 52*unit.In+widthTol:
		extra = 10 * unit.Percent
	default:
		return 0, false
	}
	if along < 0 || across < 0 {
		return 0, false
	}
	sum := int(Steps(along+across, unit.In))
	if sum == 0 {
		return extra, true
	}
	for i, most := range []int{14, 19, 27, 36, 45, 54} {
		if sum <= most {
			return extra + unit.Share(10+5*i)*unit.Percent, true
		}
	}
	return 0, false
}

// widthTol lets goods of 137 cm read the column of 54 in (137.16 cm).
const widthTol = 2

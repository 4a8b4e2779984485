package separate

import "math"

// severity turns an overlap into the loss of a pair of weight 1. The square
// root makes one large overlap cheaper than several small ones of the same
// area together, so overlaps gather where they can be resolved.
type severity struct{ scale, slope float64 }

// of is the loss of an overlap of so much area and depth, in grid units.
func (s severity) of(area, depth float64) float64 {
	return s.scale * math.Sqrt(area+float64(s.slope*depth))
}

// pairSeverity weighs a pair by its size (LAY.md section 4.3).
func pairSeverity(a, b *form) severity {
	const decimetre = 100 * perMM
	size := math.Sqrt(math.Sqrt(a.hull*b.hull)) / decimetre
	return severity{
		scale: math.Pow(size, sizePower) / decimetre,
		slope: slopeShare * math.Sqrt(min(a.hull, b.hull)),
	}
}

package separate

import "math"

// severity turns the depth of an overlap into the loss of a pair of weight 1.
// The square root makes one deep overlap cheaper than several shallow ones of
// the same depth together, which drives overlaps to gather where they can be
// resolved.
type severity struct{ scale float64 }

// of is the loss at depth d.
func (s severity) of(d float64) float64 { return s.scale * math.Sqrt(d) }

// pairSeverity weighs a pair by its size: large shapes settle first (LAY.md
// section 4.3).
func pairSeverity(a, b *form) severity {
	return severity{math.Pow(math.Sqrt(math.Sqrt(a.hull*b.hull))/perMM/100, sizePower)}
}

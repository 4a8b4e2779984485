package separate

import "math"

// severity turns the depth of an overlap into the loss of a pair of weight 1.
type severity struct{ scale, slope float64 }

// of is the loss at depth d.
func (s severity) of(area, d float64) float64 { return s.scale * math.Sqrt(areaShare*area+s.slope*d) }

// pairSeverity weighs a pair by its size: large shapes settle first (LAY.md
// section 4.3).
func pairSeverity(a, b *form) severity {
	return severity{math.Pow(math.Sqrt(math.Sqrt(a.hull*b.hull))/perMM/100, sizePower), slopeShare * min(math.Sqrt(a.hull), math.Sqrt(b.hull))}
}

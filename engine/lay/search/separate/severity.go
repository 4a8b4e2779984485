package separate

import "math"

// severity turns the depth of an overlap into the loss of a pair of weight 1.
type severity struct {
	scale, soft float64
}

// of is the loss at depth d.
func (s severity) of(d float64) float64 { return s.scale * math.Sqrt(d+s.soft) }

package trace

import (
	"math"

	"slipseat/engine/geom"
)

// Straight is the angle, counter-clockwise and at most an eighth of a turn
// either way, by which an outline is turned so that it stands square: so that
// its box is as small as it can be. A sheet of paper rarely lies square on the
// board, and the outline comes in the sheet's frame.
func Straight(p geom.Path) float64 {
	hull := p.Flatten(geom.ChordTol).ConvexHull()
	best, turn := math.Inf(1), 0.0
	for i, a := range hull {
		d := hull[(i+1)%len(hull)].Sub(a)
		if d.Len() == 0 {
			continue
		}
		// The smallest box has a side along an edge of the hull (H. Freeman and
		// R. Shapira, Determining the minimum-area encasing rectangle for an
		// arbitrary closed curve, Communications of the ACM 18(7), 1975).
		angle := -math.Atan2(d.Y, d.X)
		angle -= math.Round(angle/(math.Pi/2)) * math.Pi / 2
		var lo, hi geom.Pt
		for k, q := range hull {
			q = q.Rotated(angle)
			if k == 0 {
				lo, hi = q, q
			}
			lo, hi = geom.P(min(lo.X, q.X), min(lo.Y, q.Y)), geom.P(max(hi.X, q.X), max(hi.Y, q.Y))
		}
		area := (hi.X - lo.X) * (hi.Y - lo.Y)
		// Of equally small boxes the one that turns least.
		if area < best*(1-1e-9) || area < best*(1+1e-9) && math.Abs(angle) < math.Abs(turn) {
			best, turn = area, angle
		}
	}
	return turn
}

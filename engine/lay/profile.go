package lay

import (
	"math"
	"slices"

	"slipseat/engine/geom"
)

// The bounds reckon widths in whole units of 50 nm, so that a width that is
// exactly a half or a third of the goods is told from one that is more.
const (
	boundPerMM = 20000
	// sizeNoise is the share of a unit that counts as float noise, as in the
	// search.
	sizeNoise = 1e-3
	// widthSlack widens the goods for the bounds, in units: the search lets
	// pieces that are no whole number of units overhang by 16 in all, far
	// below CheckTol, and a bound must not deny a lay that the judge accepts.
	widthSlack = 17
	// flat is the difference in units below which the two ends of a chord's
	// run count as equal.
	flat = 1e-3
)

// run is a stretch along the goods on which a piece's chord across changes
// evenly from a to b units.
type run struct{ dx, a, b float64 }

// profile is how a piece covers lines across the goods: the runs of all its
// chords. Where the piece has several chords on a line each has its own run.
type profile []run

// profileOf measures a shape grown by half the gap on all sides. Grown so, two
// pieces that keep the gap are apart, and the goods are wider and longer by
// one gap. A convex shape is grown by a polygon inside the circle, so never too
// far; any other by the gap across alone, once for each line.
func profileOf(g geom.Polygon, gap float64) profile {
	if gap > 0 && isConvex(g) {
		return chords(grown(g, gap/2), 0)
	}
	return chords(g, gap)
}

// chords cuts the shape at its corners; plus is added to the longest chord of
// every stretch.
func chords(g geom.Polygon, plus float64) profile {
	xs := make([]float64, 0, len(g))
	for _, p := range g {
		xs = append(xs, p.X)
	}
	slices.Sort(xs)
	var out profile
	type crossing struct{ a, mid, b float64 }
	var cut []crossing
	for i := 1; i < len(xs); i++ {
		x0, x1 := xs[i-1], xs[i]
		if x1-x0 < 1e-9 {
			continue
		}
		cut = cut[:0]
		for j, p := range g {
			q := g[(j+1)%len(g)]
			if p.X > q.X {
				p, q = q, p
			}
			if p.X > x0 || q.X < x1 {
				continue
			}
			at := func(x float64) float64 { return p.Y + (q.Y-p.Y)*(x-p.X)/(q.X-p.X) }
			cut = append(cut, crossing{at(x0), at((x0 + x1) / 2), at(x1)})
		}
		slices.SortFunc(cut, func(a, b crossing) int {
			if a.mid < b.mid {
				return -1
			}
			if a.mid > b.mid {
				return 1
			}
			return 0
		})
		longest, first := -1, len(out)
		for j := 0; j+1 < len(cut); j += 2 {
			r := run{x1 - x0, math.Max(0, cut[j+1].a-cut[j].a) * boundPerMM, math.Max(0, cut[j+1].b-cut[j].b) * boundPerMM}
			if longest < 0 || r.a+r.b > out[longest].a+out[longest].b {
				longest = len(out)
			}
			out = append(out, r)
		}
		if longest >= first {
			out[longest].a += plus * boundPerMM
			out[longest].b += plus * boundPerMM
		}
	}
	return out
}

// capSides is the number of corners of the polygon that stands for the gap's
// circle; it is inscribed and touches the circle in the four directions.
const capSides = 16

// grown is the convex polygon g with a polygon inside a circle of radius r
// swept along its edge (Minkowski sum).
func grown(g geom.Polygon, r float64) geom.Polygon {
	disc := make(geom.Polygon, capSides)
	for i := range disc {
		s, c := math.Sincos(2 * math.Pi * float64(i) / capSides)
		disc[i] = geom.Pt{X: r * c, Y: r * s}
	}
	// Both rings start at their lowest corner, then their edges are merged by
	// angle.
	a, b := fromLowest(g), fromLowest(disc)
	out := make(geom.Polygon, 0, len(a)+len(b))
	for i, j := 0, 0; i < len(a) || j < len(b); {
		out = append(out, a[i%len(a)].Add(b[j%len(b)]))
		ea := a[(i+1)%len(a)].Sub(a[i%len(a)])
		eb := b[(j+1)%len(b)].Sub(b[j%len(b)])
		switch turn := ea.Cross(eb); {
		case j >= len(b) || i < len(a) && turn >= 0:
			i++
		default:
			j++
		}
	}
	return out
}

func fromLowest(g geom.Polygon) geom.Polygon {
	low := 0
	for i, p := range g {
		if p.Y < g[low].Y || p.Y == g[low].Y && p.X < g[low].X {
			low = i
		}
	}
	return append(append(geom.Polygon(nil), g[low:]...), g[:low]...)
}

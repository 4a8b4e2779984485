package outlinefile

import (
	"cmp"
	"math"
	"slices"

	"slipseat/engine/geom"
)

// Two ends of a chain: 2i is the start of chain i, 2i+1 its end.
type link struct {
	gap  float64
	a, b int
	same bool // of the same layer
}

// maxNear is how many ends near one end are looked at. Where more than that
// come together, nobody can tell which belong to each other.
const maxNear = 24

// joined links open chains whose ends lie within join of each other, the
// nearest ends first, those of one layer before others, else in the order of
// the file. Lines drawn twice count once. Chains that are closed go along
// untouched.
func joined(in []chain, join float64) []chain {
	var out, open []chain
	seen := map[[6]int64]bool{}
	for _, c := range in {
		switch {
		case len(c.segs) == 0 || c.closed || c.fault != nil:
			out = append(out, c)
		case c.start().Dist(c.end()) <= join && c.length() > 4*join:
			c.closed = true
			out = append(out, c)
		default:
			if len(c.segs) == 1 {
				k := drawnOnce(c.segs[0])
				if seen[k] {
					continue
				}
				seen[k] = true
			}
			open = append(open, c)
		}
	}
	partner := linked(open, links(open, join))
	used := make([]bool, len(open))
	walk := func(first int, closed bool) {
		c := chain{name: open[first/2].name, closed: closed}
		for at := first; ; {
			i := at / 2
			used[i] = true
			segs := open[i].segs
			if at%2 == 1 {
				segs = reversed(segs)
			}
			c.segs = append(c.segs, segs...)
			next := partner[at^1]
			if next < 0 || used[next/2] {
				break
			}
			at = next
		}
		out = append(out, c)
	}
	// Chains with a free end first, from that end; what is left runs in rings.
	for e := range partner {
		if partner[e] < 0 && !used[e/2] {
			walk(e, false)
		}
	}
	for i := range open {
		if !used[i] {
			walk(2*i, true)
		}
	}
	return out
}

// drawnOnce is a key for a line or arc, whichever way it was drawn.
func drawnOnce(s geom.Segment) [6]int64 {
	const fine = 1e3 // to a micrometre
	r := func(x float64) int64 { return int64(math.Round(x * fine)) }
	m := s.At(0.5)
	k := [6]int64{r(s.A.X), r(s.A.Y), r(s.B.X), r(s.B.Y), r(m.X), r(m.Y)}
	if k[0] > k[2] || k[0] == k[2] && k[1] > k[3] {
		k[0], k[1], k[2], k[3] = k[2], k[3], k[0], k[1]
	}
	return k
}

func reversed(segs []geom.Segment) []geom.Segment {
	out := make([]geom.Segment, len(segs))
	for i, s := range segs {
		out[len(segs)-1-i] = s.Reverse()
	}
	return out
}

// links finds the pairs of ends within join of each other. Ends are sorted
// into squares of that size.
func links(open []chain, join float64) []link {
	type square struct{ x, y int64 }
	size := max(join, 1e-3)
	cell := func(p geom.Pt) square {
		return square{int64(math.Floor(p.X / size)), int64(math.Floor(p.Y / size))}
	}
	end := func(e int) geom.Pt {
		if e%2 == 0 {
			return open[e/2].start()
		}
		return open[e/2].end()
	}
	squares := map[square][]int{}
	for e := range 2 * len(open) {
		k := cell(end(e))
		squares[k] = append(squares[k], e)
	}
	var out []link
	for a := range 2 * len(open) {
		k, near := cell(end(a)), 0
		for dx := int64(-1); dx <= 1; dx++ {
			for dy := int64(-1); dy <= 1; dy++ {
				for _, b := range squares[square{k.x + dx, k.y + dy}] {
					if b <= a || near >= maxNear {
						continue
					}
					near++
					gap := end(a).Dist(end(b))
					if gap > join || a/2 == b/2 && open[a/2].length() <= 4*join {
						continue
					}
					out = append(out, link{gap, a, b, open[a/2].name == open[b/2].name})
				}
			}
		}
	}
	slices.SortFunc(out, func(x, y link) int {
		layer := 0
		if x.same != y.same {
			if layer = 1; x.same {
				layer = -1
			}
		}
		// Gaps that differ by less than a micrometre are the same gap.
		return cmp.Or(cmp.Compare(math.Round(x.gap*1e3), math.Round(y.gap*1e3)), layer, x.a-y.a, x.b-y.b)
	})
	return out
}

// linked gives every end its partner, -1 for a free one.
func linked(open []chain, links []link) []int {
	partner := make([]int, 2*len(open))
	for i := range partner {
		partner[i] = -1
	}
	for _, l := range links {
		if partner[l.a] < 0 && partner[l.b] < 0 {
			partner[l.a], partner[l.b] = l.b, l.a
		}
	}
	return partner
}

package separate

import (
	"cmp"
	"slices"
)

func sortPoints(p ipoly) {
	slices.SortFunc(p, func(a, b ipt) int {
		if c := cmp.Compare(a.x, b.x); c != 0 {
			return c
		}
		return cmp.Compare(a.y, b.y)
	})
}

// convex tells whether no corner turns right.
func (p ipoly) convex() bool {
	for i := range p {
		if orient(p[i], p[(i+1)%len(p)], p[(i+2)%len(p)]) < 0 {
			return false
		}
	}
	return true
}

// convexTries is the number of triangulations that convexParts looks at.
const convexTries = 32

// convexParts cuts a simple polygon along lines between its own corners into
// few convex parts. Several triangulations are tried, each has its needless
// cuts removed, and the one with the fewest parts is kept. Because no new
// corners are made, everything stays whole and the parts join without a gap.
func convexParts(p ipoly) []ipoly {
	if p.convex() {
		return []ipoly{p}
	}
	var best []ipoly
	for try := range convexTries {
		tri := triangulate(p, try)
		if tri == nil {
			continue
		}
		parts := mergeParts(p, tri, try)
		if best == nil || len(parts) < len(best) {
			best = parts
		}
	}
	if best == nil { // a corner touches another edge: the hull is safe
		return []ipoly{p.hull()}
	}
	return best
}

// triangulate clips ears. try chooses the corner to begin with and which ear
// is taken first: the next one, or the one with the shortest or longest cut.
func triangulate(p ipoly, try int) [][3]int {
	n := len(p)
	ring := make([]int, n)
	for i := range ring {
		ring[i] = (i + try/4) % n
	}
	var out [][3]int
	for len(ring) > 3 {
		best, found := 0, false
		var bestKey float64
		for k := range ring {
			m := len(ring)
			a, b, c := ring[(k+m-1)%m], ring[k], ring[(k+1)%m]
			if !isEar(p, ring, a, b, c) {
				continue
			}
			d := p[c].sub(p[a])
			key := float64(d.x)*float64(d.x) + float64(d.y)*float64(d.y)
			switch try % 4 {
			case 1:
				key = -key
			case 2:
				key = float64(k)
			case 3:
				key = -fatness(p[a], p[b], p[c])
			}
			if !found || key < bestKey {
				best, bestKey, found = k, key, true
			}
		}
		if !found {
			return nil
		}
		m := len(ring)
		out = append(out, [3]int{ring[(best+m-1)%m], ring[best], ring[(best+1)%m]})
		ring = slices.Delete(ring, best, best+1)
	}
	if orient(p[ring[0]], p[ring[1]], p[ring[2]]) <= 0 {
		return nil
	}
	return append(out, [3]int{ring[0], ring[1], ring[2]})
}

// fatness is the area of a triangle over the square of its longest side.
func fatness(a, b, c ipt) float64 {
	long := 0.0
	for _, e := range []ipt{b.sub(a), c.sub(b), a.sub(c)} {
		long = max(long, float64(e.x)*float64(e.x)+float64(e.y)*float64(e.y))
	}
	return float64(orient(a, b, c)) / long
}

func isEar(p ipoly, ring []int, a, b, c int) bool {
	if orient(p[a], p[b], p[c]) <= 0 {
		return false
	}
	for _, k := range ring {
		v := p[k]
		if k == a || k == b || k == c {
			continue
		}
		if orient(p[a], p[b], v) >= 0 && orient(p[b], p[c], v) >= 0 && orient(p[c], p[a], v) >= 0 {
			return false
		}
	}
	return true
}

// mergeParts joins neighbouring triangles as long as the result is convex
// (Hertel and Mehlhorn 1983: at most four times the fewest parts possible, in
// practice far fewer). The cuts are tried longest first or shortest first.
func mergeParts(p ipoly, tri [][3]int, try int) []ipoly {
	parts := make([][]int, len(tri))
	for i, t := range tri {
		parts[i] = t[:]
	}
	type cut struct {
		a, b int
		len2 float64
	}
	var cuts []cut
	n := len(p)
	for _, t := range tri {
		for k := range 3 {
			a, b := t[k], t[(k+1)%3]
			if a < b && b != a+1 && !(a == 0 && b == n-1) {
				d := p[b].sub(p[a])
				cuts = append(cuts, cut{a, b, float64(d.x)*float64(d.x) + float64(d.y)*float64(d.y)})
			}
		}
	}
	slices.SortFunc(cuts, func(u, v cut) int {
		c := cmp.Compare(u.len2, v.len2)
		if try/4%2 == 0 {
			c = -c
		}
		if c != 0 {
			return c
		}
		if c = cmp.Compare(u.a, v.a); c != 0 {
			return c
		}
		return cmp.Compare(u.b, v.b)
	})
	for _, c := range cuts {
		i, j := -1, -1
		var ki, kj int
		for x, part := range parts {
			for k := range part {
				a, b := part[k], part[(k+1)%len(part)]
				if a == c.a && b == c.b {
					i, ki = x, k
				}
				if a == c.b && b == c.a {
					j, kj = x, k
				}
			}
		}
		if i < 0 || j < 0 {
			continue
		}
		var joined []int
		for k := 1; k <= len(parts[i]); k++ {
			joined = append(joined, parts[i][(ki+k)%len(parts[i])])
		}
		for k := 2; k < len(parts[j]); k++ {
			joined = append(joined, parts[j][(kj+k)%len(parts[j])])
		}
		if !pick(p, joined).convex() {
			continue
		}
		parts[i] = joined
		parts = slices.Delete(parts, j, j+1)
	}
	out := make([]ipoly, len(parts))
	for i, part := range parts {
		out[i] = pick(p, part)
	}
	return out
}

func pick(p ipoly, idx []int) ipoly {
	q := make(ipoly, len(idx))
	for i, k := range idx {
		q[i] = p[k]
	}
	return q
}

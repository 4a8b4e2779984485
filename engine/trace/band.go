package trace

import (
	"math"

	"slipseat/engine/geom"
)

// mark is a point of the outline as it was read from the picture.
type mark struct {
	p      geom.Pt
	n      geom.Pt // outwards
	step   float64 // change of colour across, units of the table
	margin float64 // how much dearer an outline elsewhere would be
}

const markStep = 1.5 // mm from mark to mark

// spaced puts points on a closed ring at even distances of about step.
func spaced(ring []geom.Pt, step float64) []geom.Pt {
	var total float64
	for i := range ring {
		total += ring[i].Dist(ring[(i+1)%len(ring)])
	}
	n := max(8, int(total/step))
	each := total / float64(n)
	out := make([]geom.Pt, 0, n)
	need := 0.0
	for i := range ring {
		a, b := ring[i], ring[(i+1)%len(ring)]
		l := a.Dist(b)
		for need < l && len(out) < n {
			out = append(out, a.Lerp(b, need/l))
			need += each
		}
		need -= l
	}
	return out
}

// normals are the outward normals of a counter-clockwise ring, from the chord
// over reach points to either side.
func normals(ring []geom.Pt, reach int) []geom.Pt {
	n := len(ring)
	out := make([]geom.Pt, n)
	for i := range ring {
		out[i] = ring[(i+reach)%n].Sub(ring[(i+n-reach)%n]).Unit().Right()
	}
	return out
}

// drawn moves a ring onto the sharpest change of colour near it: offsets along
// the normals, chosen together by dynamic programming so that neighbours agree.
// depth is the board's thickness for the partner on the lower edge, 0 for none.
func (f *Flat) drawn(ring []geom.Pt, half, depth float64, reach int) []mark {
	const fine = 0.2 // mm
	m := int(math.Round(half / fine))
	n := len(ring)
	ns := normals(ring, reach)
	s := sampler{f.Img, &even}
	w := 2*m + 1
	const wing = 5 // fine steps averaged on either side
	read := func(c, nn, u geom.Pt, from, count int, out [][3]float32) {
		for j := range count {
			o := float64(from+j) * fine
			var v [3]float32
			for _, al := range [3]float64{-1.1, 0, 1.1} {
				q := c.Add(nn.Mul(o)).Add(u.Mul(al))
				x, y := f.Pixel(q)
				g := s.rgb(x, y)
				for k := range v {
					v[k] += g[k] / 3
				}
			}
			out[j] = v
		}
	}
	steps := func(prof [][3]float32, out []float64) {
		for j := range out {
			var sum float64
			for k := range 3 {
				var a, b float32
				for q := 1; q <= wing; q++ {
					b += prof[j+wing+q][k]
					a += prof[j+wing-q][k]
				}
				d := float64(b-a) / wing
				sum += d * d
			}
			out[j] = math.Sqrt(sum)
		}
	}
	all := make([][]float64, n)
	cost := make([][]float64, n)
	prof := make([][3]float32, w+2*wing)
	part := make([]float64, w)
	const half2 = 36.0 // a change of six units counts as half an edge
	for i, c := range ring {
		all[i], cost[i] = make([]float64, w), make([]float64, w)
		u := ns[i].Left()
		read(c, ns[i], u, -m-wing, w+2*wing, prof)
		steps(prof, all[i])
		e := geom.Pt{}
		if depth > 0 && f.Camera.Known {
			e = f.Camera.seenBelow(c, depth).Sub(c)
		}
		out := e.Dot(ns[i])
		if out > 1 {
			read(c.Add(e), ns[i], u, -m-wing, w+2*wing, prof)
			steps(prof, part)
		}
		for j := range w {
			v := all[i][j] * all[i][j]
			o := float64(j-m) * fine
			cost[i][j] = -v/(v+half2) + 0.012*o*o
			if out > 1 {
				p := part[j] * part[j]
				cost[i][j] -= 0.6 * min(1, out-1) * p / (p + half2)
			}
		}
	}
	// Closed: two turns, the second kept.
	total := 2 * n
	best := make([]float64, w)
	copy(best, cost[0])
	from := make([][]int8, total)
	next := make([]float64, w)
	for t := 1; t < total; t++ {
		i := t % n
		from[t] = make([]int8, w)
		for j := range w {
			b, arg := math.Inf(1), 0
			for d := -2; d <= 2; d++ {
				if q := j + d; q >= 0 && q < w {
					if v := best[q] + 0.05*float64(d*d); v < b {
						b, arg = v, d
					}
				}
			}
			next[j] = b + cost[i][j]
			from[t][j] = int8(arg)
		}
		best, next = next, best
	}
	j := 0
	for q := range best {
		if best[q] < best[j] {
			j = q
		}
	}
	marks := make([]mark, n)
	for t := total - 1; t >= n; t-- {
		i := t % n
		o := float64(j - m)
		if j > 0 && j < w-1 {
			l, c, r := all[i][j-1], all[i][j], all[i][j+1]
			if d := l - 2*c + r; d < 0 {
				o += max(-1, min(1, (l-r)/(2*d)))
			}
		}
		marks[i] = mark{p: ring[i].Add(ns[i].Mul(o * fine)), n: ns[i], step: all[i][j]}
		j += int(from[t][j])
	}
	return marks
}

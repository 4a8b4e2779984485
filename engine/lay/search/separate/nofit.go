package separate

import "math"

// plane is one edge of a forbidden region: an offset d is outside of it, and
// so clear, when n·d >= c. The float form has a unit normal, so that n·d − c
// is the signed distance; the whole-number form decides when that is near 0.
type plane struct {
	nx, ny, c float64
	ix, iy    int64
	ic        int64
}

// near is the distance, in grid units, below which the float form of a plane
// is not trusted. Offsets tested lie inside the region's box, below 2^28 units
// (13 m), so the float sum is within 2^28 · 2^-52 · 4 < 1e-6 of the truth.
const near = 1e-3

// side is the signed distance of d to the plane; a value in [-near, near] is
// replaced by one with the exact sign (0 counts as clear).
func (p *plane) side(dx, dy float64) float64 {
	s := p.distance(dx, dy)
	if s > -near && s < near {
		if p.ix*int64(dx)+p.iy*int64(dy) >= p.ic {
			return near
		}
		return -near
	}
	return s
}

// distance is the signed distance of a point that need not be whole.
func (p *plane) distance(x, y float64) float64 {
	return float64(p.nx*x) + float64(p.ny*y) - p.c
}

// clearOf tells exactly whether the plane keeps d out.
func (p *plane) clearOf(dx, dy int64) bool { return p.ix*dx+p.iy*dy >= p.ic }

// makePlane is the plane with outward normal n through q, moved out by gap.
// The whole-number threshold is rounded up, away from the piece, once.
func makePlane(n, q ipt, gap float64) plane {
	l := math.Hypot(float64(n.x), float64(n.y))
	ic := n.dot(q)
	if gap > 0 {
		ic += int64(math.Ceil(gap * l))
	}
	return plane{nx: float64(n.x) / l, ny: float64(n.y) / l, c: float64(ic) / l, ix: n.x, iy: n.y, ic: ic}
}

// arcTol is how far, in grid units (0.01 mm, what a lay is checked to), the
// planes that stand for the rounded corner of a gap may lie outside the arc.
const arcTol = 0.01 * perMM

// arcScale is the length of the normals of those planes.
const arcScale = 1 << 20

// noFit gives the planes of the forbidden offsets b − a of two convex
// polygons: {q − r : q in a, r in b reflected}, that is a + (−b), grown on
// this one side by the gap. It is a merge of the edges by direction. Where a
// gap is kept, each corner gets enough planes tangent to its arc.
func noFit(a, b ipoly, gap float64) []plane {
	verts := minkowski(a, negated(b))
	n := len(verts)
	step := math.Pi
	if gap > 0 {
		step = 2 * math.Acos(1/(1+arcTol/gap))
		step = min(step, math.Pi/4)
	}
	var out []plane
	for i, q := range verts {
		e := verts[(i+1)%n].sub(q)
		normal := ipt{e.y, -e.x}
		if gap > 0 {
			p := q.sub(verts[(i+n-1)%n])
			before := math.Atan2(float64(-p.x), float64(p.y))
			sweep := math.Atan2(float64(-e.x), float64(e.y)) - before
			if sweep < 0 {
				sweep += 2 * math.Pi
			}
			k := int(math.Ceil(sweep / step))
			for j := 1; j < k; j++ {
				s, c := math.Sincos(before + float64(sweep*float64(j)/float64(k)))
				out = append(out, makePlane(ipt{int64(math.Round(c * arcScale)), int64(math.Round(s * arcScale))}, q, gap))
			}
		}
		out = append(out, makePlane(normal, q, gap))
	}
	return out
}

func negated(p ipoly) ipoly {
	q := make(ipoly, len(p))
	for i, v := range p {
		q[i] = ipt{-v.x, -v.y}
	}
	return q
}

// minkowski is the sum of two convex polygons, without corners on its edges.
func minkowski(a, b ipoly) ipoly {
	i0, j0 := lowest(a), lowest(b)
	out := make(ipoly, 0, len(a)+len(b))
	cur := a[i0].add(b[j0])
	push := func(v ipt) {
		for len(out) >= 2 && orient(out[len(out)-2], out[len(out)-1], v) == 0 {
			out = out[:len(out)-1]
		}
		out = append(out, v)
	}
	i, j := 0, 0
	for i < len(a) || j < len(b) {
		push(cur)
		ea := a[(i0+i+1)%len(a)].sub(a[(i0+i)%len(a)])
		eb := b[(j0+j+1)%len(b)].sub(b[(j0+j)%len(b)])
		switch {
		case i == len(a):
			cur = cur.add(eb)
			j++
		case j == len(b):
			cur = cur.add(ea)
			i++
		default:
			if ea.cross(eb) >= 0 {
				cur = cur.add(ea)
				i++
			} else {
				cur = cur.add(eb)
				j++
			}
		}
	}
	// The first corner is the lowest one, so only the last may lie on an edge.
	for len(out) > 3 && orient(out[len(out)-2], out[len(out)-1], out[0]) == 0 {
		out = out[:len(out)-1]
	}
	return out
}

// lowest is the index of the lowest, then leftmost corner.
func lowest(p ipoly) int {
	best := 0
	for i, v := range p {
		if v.y < p[best].y || v.y == p[best].y && v.x < p[best].x {
			best = i
		}
	}
	return best
}

// fpt is a point in grid units that need not be whole.
type fpt struct{ x, y float64 }

// outline gives the corners of the region inside the planes.
func outline(ps []plane) []fpt {
	n := len(ps)
	out := make([]fpt, n)
	for i := range ps {
		p, q := &ps[(i+n-1)%n], &ps[i]
		det := float64(p.nx*q.ny) - float64(p.ny*q.nx)
		out[i] = fpt{(float64(p.c*q.ny) - float64(q.c*p.ny)) / det, (float64(p.nx*q.c) - float64(q.nx*p.c)) / det}
	}
	return out
}

package trace

import (
	"context"
	"math"

	"slipseat/engine/geom"
)

// What the search weighs. A ray's share of the outline earns up to 1 for a
// sharp change of colour across the outline there.
const (
	// crossing is what it costs to pass a sharp edge on the way out: the upper
	// edge of the board comes before the lower one and before any joint of the
	// floor.
	crossing = 0.8
	// perLike is what a millimetre of ground earns or costs for looking like the
	// board or like the floor.
	perLike = 0.012
	// perJump is what a millimetre of change of radius from ray to ray costs.
	perJump = 0.035
	// partnered is what the board's lower edge, where it must be in sight, adds.
	partnered = 0.6
	// leastSlope keeps the noise of an even board from counting as edges.
	leastSlope = 1.6
)

// rounds is the search for a closed outline round a middle: one radius for
// every ray, found by dynamic programming.
type rounds struct {
	c      *chart
	mid    geom.Pt
	na, nr int
	dr     float64
	reach  int       // largest change of radius from ray to ray, in steps
	depth  float64   // assumed thickness of the board; 0 for none in sight
	pay    []float32 // cost of the way out to a node
	// The colour tensor in the ray's own axes, and that of the node's partner on
	// the lower edge, with the way to it.
	rr, rt, tt    []float32
	prr, prt, ptt []float32
	er, et        []float32
	soft          float32 // squared slope that counts as half an edge
	nrm           []float32
	lo, hi        []int // the steps of every ray that are looked at, hi excluded
}

// band limits the search to radii within width of a ring found before.
type band struct {
	ring  func(angle float64) float64
	width float64
}

// newRounds lays rays from a middle. Rays beyond the picture end there.
func newRounds(c *chart, mid geom.Pt, na int, dr float64, depth float64, b *band) *rounds {
	box := c.f.Bounds()
	most := 0.0
	for _, q := range []geom.Pt{box.Min, box.Max, {X: box.Min.X, Y: box.Max.Y}, {X: box.Max.X, Y: box.Min.Y}} {
		most = max(most, mid.Dist(q))
	}
	r := &rounds{c: c, mid: mid, na: na, dr: dr, depth: depth, nr: int(most / dr)}
	r.reach = int(math.Ceil(9 / dr * 720 / float64(na) * 0.8))
	s := max(leastSlope, 1.6*c.texture)
	r.soft = float32(s * s)
	n := r.na * r.nr
	r.pay = make([]float32, n)
	r.rr, r.rt, r.tt = make([]float32, n), make([]float32, n), make([]float32, n)
	if depth > 0 {
		r.prr, r.prt, r.ptt = make([]float32, n), make([]float32, n), make([]float32, n)
		r.er, r.et = make([]float32, n), make([]float32, n)
	}
	r.lo, r.hi = make([]int, na), make([]int, na)
	for a := range na {
		r.hi[a] = r.nr
		if b != nil {
			at := b.ring(2*math.Pi*(float64(a)+0.5)/float64(na)) / dr
			r.lo[a] = max(0, min(r.nr-2, int(at-b.width/dr)))
			r.hi[a] = max(r.lo[a]+2, min(r.nr, int(at+b.width/dr)+1))
		}
		r.ray(a)
	}
	// Normals of every change of radius at every radius.
	k := 2*r.reach + 1
	r.nrm = make([]float32, 2*k*r.nr)
	dt := 2 * math.Pi / float64(na)
	for j := range r.nr {
		along := (float64(j) + 0.5) * dr * dt
		for i := range k {
			d := float64(i-r.reach) * dr
			l := math.Hypot(along, d)
			r.nrm[2*(j*k+i)] = float32(along / l)
			r.nrm[2*(j*k+i)+1] = float32(-d / l)
		}
	}
	return r
}

func (r *rounds) dir(a int) geom.Pt {
	t := 2 * math.Pi * (float64(a) + 0.5) / float64(r.na)
	return geom.P(math.Cos(t), math.Sin(t))
}

func (r *rounds) at(a, j int) geom.Pt { return r.mid.Add(r.dir(a).Mul((float64(j) + 0.5) * r.dr)) }

// ray fills one ray's nodes.
func (r *rounds) ray(a int) {
	c, u := r.c, r.dir(a)
	v := u.Left()
	turned := func(i int) (rr, rt, tt float32) {
		xx, xy, yy := float64(c.xx[i]), float64(c.xy[i]), float64(c.yy[i])
		rr = float32(xx*u.X*u.X + 2*xy*u.X*u.Y + yy*u.Y*u.Y)
		tt = float32(xx*v.X*v.X + 2*xy*v.X*v.Y + yy*v.Y*v.Y)
		rt = float32(xx*u.X*v.X + xy*(u.X*v.Y+u.Y*v.X) + yy*u.Y*v.Y)
		return
	}
	base := a * r.nr
	cost := float32(0)
	for j := range r.nr {
		i := c.cell(r.at(a, j))
		k := base + j
		if i < 0 || !c.ok[i] {
			r.pay[k] = cost + 4
			continue
		}
		if c.own[i] {
			r.pay[k] = 1e6 // the outline does not cross what is surely inside
			for q := range j {
				r.pay[base+q] = 1e6
			}
			cost = 0
			continue
		}
		r.rr[k], r.rt[k], r.tt[k] = turned(i)
		cost -= perLike * float32(r.dr) * c.like[i]
		r.pay[k] = cost
		if r.depth > 0 && j >= r.lo[a] && j < r.hi[a] {
			p := r.at(a, j)
			q := c.f.Camera.seenBelow(p, r.depth)
			e := q.Sub(p)
			r.er[k], r.et[k] = float32(e.Dot(u)), float32(e.Dot(v))
			if l := c.cell(q); l >= 0 && c.ok[l] && !c.own[l] {
				r.prr[k], r.prt[k], r.ptt[k] = turned(l)
			}
		}
	}
	// Sharp edges across the ray, each counted once at its peak, weigh on all
	// nodes more than two millimetres further out.
	w := max(1, int(math.Round(2/r.dr)))
	add := float32(0)
	edge := make([]float32, r.nr)
	for j := w; j < r.nr-w; j++ {
		k := base + j
		top := true
		for d := 1; d <= w && top; d++ {
			top = r.rr[k] >= r.rr[k-d] && r.rr[k] > r.rr[k+d]
		}
		if top {
			q := r.rr[k] / (r.rr[k] + r.soft)
			edge[j] = crossing * q * q
		}
	}
	lag := w + 1
	for j := range r.nr {
		if j >= lag {
			add += edge[j-lag]
		}
		r.pay[base+j] += add
	}
}

// far is the cost of a node that no outline reaches.
const far = 1e9

// earn is what an outline with normal (nr, nt) earns at a node.
func (r *rounds) earn(k int, nr, nt float32) float32 {
	s := r.rr[k]*nr*nr + 2*r.rt[k]*nr*nt + r.tt[k]*nt*nt
	e := s / (s + r.soft)
	if r.depth > 0 {
		if out := r.er[k]*nr + r.et[k]*nt; out > 1.2 {
			p := r.prr[k]*nr*nr + 2*r.prt[k]*nr*nt + r.ptt[k]*nt*nt
			// Where the lower edge should be in sight and is not, that tells too.
			e += partnered * min(1, (out-1.2)/2) * (p/(p+2*r.soft) - 0.45)
		}
	}
	return e
}

// found is a closed outline of a search.
type found struct {
	radius []int     // step of the radius, for every ray
	margin []float32 // what another way would cost more, a ray
	cost   float64   // of a ray, mean
}

// solve finds the best closed outline. Three turns are run in a row and the
// middle one kept, so that start and end do not matter.
func (r *rounds) solve(ctx context.Context, margins bool) (found, error) {
	const turns = 3
	k := 2*r.reach + 1
	total := turns * r.na
	fwd := make([]float32, total*r.nr)
	from := make([]int8, total*r.nr)
	step := make([]float32, k)
	for i := range step {
		step[i] = perJump * float32(math.Abs(float64(i-r.reach))*r.dr)
	}
	for i := range fwd {
		fwd[i] = far
	}
	copy(fwd[r.lo[0]:r.hi[0]], r.pay[r.lo[0]:r.hi[0]])
	for t := 1; t < total; t++ {
		if t%64 == 0 && ctx.Err() != nil {
			return found{}, ctx.Err()
		}
		a := t % r.na
		prev, now := fwd[(t-1)*r.nr:t*r.nr], fwd[t*r.nr:(t+1)*r.nr]
		fr := from[t*r.nr : (t+1)*r.nr]
		b := (a + r.na - 1) % r.na
		for j := r.lo[a]; j < r.hi[a]; j++ {
			node := a*r.nr + j
			if r.pay[node] >= 1e5 {
				continue
			}
			best, arg := float32(1e30), 0
			nrm := r.nrm[2*j*k:]
			lo, hi := max(0, j+r.reach-(r.hi[b]-1)), min(k-1, j+r.reach-r.lo[b])
			for i := lo; i <= hi; i++ {
				// i-reach is the change from the ray before.
				c := prev[j+r.reach-i] + step[i]
				if c-1.7 >= best {
					continue // even the best edge would not do
				}
				if c -= r.earn(node, nrm[2*i], nrm[2*i+1]); c < best {
					best, arg = c, i
				}
			}
			if best < far {
				now[j] = best + r.pay[node]
				fr[j] = int8(arg - r.reach)
			}
		}
		// Keep numbers small.
		if t%r.na == 0 {
			least := now[0]
			for _, v := range now {
				least = min(least, v)
			}
			for j := range now {
				if now[j] < far {
					now[j] -= least
				}
			}
		}
	}
	last := fwd[(total-1)*r.nr:]
	j := 0
	for q := range last {
		if last[q] < last[j] {
			j = q
		}
	}
	out := found{radius: make([]int, r.na)}
	for t := total - 1; t >= r.na; t-- {
		if t < 2*r.na {
			out.radius[t%r.na] = j
		}
		j -= int(from[t*r.nr+j])
	}
	var sum float64
	for a := range r.na {
		node, i := r.move(out.radius, a)
		if i < 0 {
			sum += 1
			continue
		}
		sum += float64(r.pay[node]+step[i]) - float64(r.earn(node, r.nrm[2*(out.radius[a]*k+i)], r.nrm[2*(out.radius[a]*k+i)+1]))
	}
	out.cost = sum / float64(r.na)
	if margins {
		out.margin = r.margins(out.radius, step)
	}
	return out, nil
}

// move is the node of ray a and the index of its change from the ray before,
// -1 where the closing jump is too long.
func (r *rounds) move(radius []int, a int) (node, i int) {
	i = radius[a] - radius[(a+r.na-1)%r.na] + r.reach
	if i < 0 || i > 2*r.reach {
		i = -1
	}
	return a*r.nr + radius[a], i
}

// margins tells for every ray how much dearer, a ray, the best other way is
// that stays aside from the outline found over a stretch of window rays.
func (r *rounds) margins(radius []int, step []float32) []float32 {
	const aside, half = 3.0, 4 // mm, rays
	off := int(math.Round(aside / r.dr))
	k := 2*r.reach + 1
	own := make([]float32, r.na)
	for a := range r.na {
		node, i := r.move(radius, a)
		if i >= 0 {
			o := 2 * (radius[a]*k + i)
			own[a] = r.pay[node] + step[i] - r.earn(node, r.nrm[o], r.nrm[o+1])
		}
	}
	out := make([]float32, r.na)
	cur, next := make([]float32, r.nr), make([]float32, r.nr)
	for m := range r.na {
		var mine float32
		for t := 0; t <= 2*half; t++ {
			a := (m - half + t + r.na) % r.na
			b := (a + r.na - 1) % r.na
			mine += own[a]
			for j := max(0, r.lo[a]-1); j < min(r.nr, r.hi[a]+1); j++ {
				next[j] = far
			}
			for j := r.lo[a]; j < r.hi[a]; j++ {
				node := a*r.nr + j
				if d := j - radius[a]; d >= -off && d <= off || r.pay[node] >= 1e5 {
					continue
				}
				best := float32(far)
				for i := range k {
					q := j + r.reach - i
					if q < r.lo[b] || q >= r.hi[b] {
						continue
					}
					var c float32
					if t > 0 {
						c = cur[q]
					}
					if c >= far {
						continue
					}
					if c += step[i] + r.pay[node]; c-1.7 >= best {
						continue
					}
					best = min(best, c-r.earn(node, r.nrm[2*(j*k+i)], r.nrm[2*(j*k+i)+1]))
				}
				next[j] = best
			}
			cur, next = next, cur
		}
		last := (m + half) % r.na
		least := float32(far)
		for j := r.lo[last]; j < r.hi[last]; j++ {
			least = min(least, cur[j])
		}
		out[m] = (least - mine) / (2*half + 1)
	}
	return out
}

// band is the search in finer steps round what was found.
func (r *rounds) band(radius []int, width float64) *band {
	return &band{width: width, ring: func(angle float64) float64 {
		a := int(angle / (2 * math.Pi) * float64(r.na))
		return (float64(radius[clampInt(a, r.na)]) + 0.5) * r.dr
	}}
}

// ring is the outline found, as points.
func (r *rounds) ring(radius []int) []geom.Pt {
	out := make([]geom.Pt, r.na)
	for a := range out {
		out[a] = r.at(a, radius[a])
	}
	return out
}

package trace

import (
	"math"
	"slices"

	"slipseat/engine/geom"
)

// edgePoint is a place on a side where the picture steps most.
type edgePoint struct {
	t   float64 // along the side, 0 to 1
	p   geom.Pt
	ok  bool
	off float64 // across the side, pixels, positive inwards
}

// sideMeasure is what the four sides' edges say.
type sideMeasure struct {
	lines    [4]side
	share    float64    // of the samples that show an edge
	noise    float64    // scatter about the lines, pixels
	off      float64    // mean distance of the lines from the sides given
	residual [4]float64 // at the corners, pixels
}

const sideSamples = 220

// edgesAlong looks for the step from darker outside to lighter inside across
// the side from a to b, up to reach pixels away.
func edgesAlong(p *Photo, a, b geom.Pt, reach float64) []edgePoint {
	s := sampler{p.img, &straight}
	d := b.Sub(a)
	u := d.Unit()
	n := eyeLeft(u)
	out := make([]edgePoint, sideSamples)
	m := int(math.Ceil(reach))
	prof := make([]float64, 2*m+7)
	step := make([]float64, 2*m+7)
	for i := range out {
		t := 0.02 + 0.96*(float64(i)+0.5)/sideSamples
		c := a.Add(d.Mul(t))
		for j := range prof {
			o := float64(j - m - 3)
			prof[j] = 0
			for _, along := range [3]float64{-1.3, 0, 1.3} {
				q := c.Add(n.Mul(o)).Add(u.Mul(along))
				v := s.rgb(q.X, q.Y)
				// Brightness tells places best; blue, which JPEG blurs, tells paper
				// from wood. Half of each.
				prof[j] += (0.25*float64(v[0]) + 0.4*float64(v[1]) + 0.35*float64(v[2])) / 3
			}
		}
		best, at := 0.0, -1
		for j := 2; j < len(prof)-2; j++ {
			step[j] = (2*(prof[j+1]-prof[j-1]) + prof[j+2] - prof[j-2]) / 8
			if j >= 3 && j < len(prof)-3 && step[j] > best {
				best, at = step[j], j
			}
		}
		e := edgePoint{t: t}
		if at >= 0 && best > 1.2 {
			l, r := step[at-1], step[at+1]
			shift := 0.0
			if c := l - 2*best + r; c < 0 {
				shift = max(-0.7, min(0.7, (l-r)/(2*c)))
			}
			e.off = float64(at-m-3) + shift
			e.p = c.Add(n.Mul(e.off))
			e.ok = true
		}
		out[i] = e
	}
	return out
}

// straightest is the line that most edge points agree with to within tol
// pixels, then fitted to them. A curled corner or a shadow leaves the rest of
// the side straight, so its points are outvoted.
func straightest(pts []edgePoint, tol float64) (line side, inliers int, noise float64) {
	var good []edgePoint
	for _, e := range pts {
		if e.ok {
			good = append(good, e)
		}
	}
	if len(good) < 12 {
		return side{}, 0, 0
	}
	best := 0
	var bi, bj int
	n := len(good)
	for _, gap := range []int{n / 3, n / 2, 2 * n / 3, 5 * n / 6} {
		for i := 0; i+gap < n; i += max(1, n/60) {
			a, b := good[i].p, good[i+gap].p
			u := b.Sub(a).Unit()
			c := 0
			for _, e := range good {
				if math.Abs(u.Cross(e.p.Sub(a))) < tol {
					c++
				}
			}
			if c > best {
				best, bi, bj = c, i, i+gap
			}
		}
	}
	a, b := good[bi].p, good[bj].p
	for range 3 {
		u := b.Sub(a).Unit()
		var in []geom.Pt
		for _, e := range good {
			if math.Abs(u.Cross(e.p.Sub(a))) < tol {
				in = append(in, e.p)
			}
		}
		if len(in) < 8 {
			break
		}
		var mid geom.Pt
		for _, q := range in {
			mid = mid.Add(q.Mul(1 / float64(len(in))))
		}
		var xx, xy, yy float64
		for _, q := range in {
			v := q.Sub(mid)
			xx, xy, yy = xx+v.X*v.X, xy+v.X*v.Y, yy+v.Y*v.Y
		}
		angle := math.Atan2(2*xy, xx-yy) / 2
		d := geom.Pt{X: math.Cos(angle), Y: math.Sin(angle)}
		if d.Dot(u) < 0 {
			d = d.Mul(-1)
		}
		a, b = mid, mid.Add(d.Mul(100))
		inliers = len(in)
		noise = 0
		for _, q := range in {
			c := d.Cross(q.Sub(mid))
			noise += c * c / float64(len(in))
		}
	}
	return side{a: a, b: b}, inliers, math.Sqrt(noise)
}

// measureSides finds the four edges near the corners given.
func measureSides(p *Photo, c Corners, reach float64) sideMeasure {
	var m sideMeasure
	var pts [4][]edgePoint
	m.share = 1
	for i := range c {
		pts[i] = edgesAlong(p, c[i], c[(i+1)%4], reach)
		line, in, noise := straightest(pts[i], 0.7)
		if in == 0 {
			return sideMeasure{}
		}
		m.lines[i] = line
		m.share = min(m.share, float64(in)/sideSamples)
		m.noise = max(m.noise, noise)
		for _, q := range []geom.Pt{c[i], c[(i+1)%4]} {
			m.off += math.Abs(line.dir().Cross(q.Sub(line.a))) / 8
		}
	}
	// At each corner: how far the last tenth of both sides stands off.
	for i := range c {
		var offs []float64
		read := func(k int, from, to float64) {
			d := m.lines[k].dir()
			for _, e := range pts[k] {
				if e.ok && e.t >= from && e.t <= to {
					offs = append(offs, math.Abs(d.Cross(e.p.Sub(m.lines[k].a))))
				}
			}
		}
		read((i+3)%4, 0.88, 1)
		read(i, 0, 0.12)
		slices.Sort(offs)
		if len(offs) > 0 {
			m.residual[i] = offs[len(offs)*3/4]
		}
	}
	return m
}

// refined moves a hypothesis onto the edges of the full-size picture.
func refined(p *Photo, h hypothesis, k float64) Sheet {
	s := Sheet{Ref: h.ref, Corners: h.corners}
	for _, reach := range []float64{2*k + 4, k + 4, 4} {
		m := measureSides(p, s.Corners, reach)
		if m.share == 0 {
			return Sheet{}
		}
		var c Corners
		for i := range c {
			x, ok := meet(m.lines[(i+3)%4], m.lines[i])
			if !ok {
				return Sheet{}
			}
			c[i] = x
		}
		if !c.valid() {
			return Sheet{}
		}
		s.Corners, s.Noise, s.Residual = c, m.noise, m.residual
		s.Confidence = min(1, m.share/0.75)
	}
	return s
}

// SnapCorner takes corner i of a sheet as it is being dragged and gives the
// place where the two edges of the sheet nearest to it meet, to a fraction of a
// pixel. ok is false when no edge is near; the corner then stays where it is.
func SnapCorner(p *Photo, s Sheet, i int, at geom.Pt) (geom.Pt, bool) {
	if s.Ref.Kind == TwoPoints || i < 0 || i > 3 || !at.Finite() {
		return at, false
	}
	c := s.Corners
	c[i] = at
	if !c.valid() {
		return at, false
	}
	reach := max(6, 0.006*p.diagonal())
	for round := range 3 {
		var lines [2]side
		for j, k := range [2]int{(i + 3) % 4, i} {
			// Only the half of the side next to the corner: the far end may not have
			// been set yet.
			a, b := c[k], c[(k+1)%4]
			if j == 0 {
				a = b.Lerp(a, 0.5)
			} else {
				b = a.Lerp(b, 0.5)
			}
			line, in, _ := straightest(edgesAlong(p, a, b, reach), 0.7)
			if in < sideSamples/3 {
				return at, false
			}
			lines[j] = line
		}
		x, ok := meet(lines[0], lines[1])
		if !ok || x.Dist(at) > 0.02*p.diagonal() {
			return at, false
		}
		c[i] = x
		reach = max(4, reach/2)
		if round == 2 || !c.valid() {
			break
		}
	}
	return c[i], c.valid()
}

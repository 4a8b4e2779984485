package separate

import (
	"cmp"
	"math"
	"slices"
)

// interval is an open interval of forbidden places along a line.
type interval struct{ lo, hi int64 }

// alongX gives the open interval of dx that part s of the table forbids at dy,
// its ends rounded outwards to whole units so that both ends are clear.
func (t *table) alongX(s span, dy int64) (interval, bool) {
	lo, hi := int64(math.MinInt64), int64(math.MaxInt64)
	for i := s.from; i < s.to; i++ {
		p := &t.planes[i]
		rest := p.ic - p.iy*dy // forbidden while ix·dx < rest
		switch {
		case p.ix > 0:
			hi = min(hi, ceilDiv(rest, p.ix))
		case p.ix < 0:
			lo = max(lo, -ceilDiv(rest, -p.ix))
		case rest <= 0:
			return interval{}, false
		}
	}
	return interval{lo, hi}, lo < hi
}

// alongY is alongX for dy at a given dx.
func (t *table) alongY(s span, dx int64) (interval, bool) {
	lo, hi := int64(math.MinInt64), int64(math.MaxInt64)
	for i := s.from; i < s.to; i++ {
		p := &t.planes[i]
		rest := p.ic - p.ix*dx
		switch {
		case p.iy > 0:
			hi = min(hi, ceilDiv(rest, p.iy))
		case p.iy < 0:
			lo = max(lo, -ceilDiv(rest, -p.iy))
		case rest <= 0:
			return interval{}, false
		}
	}
	return interval{lo, hi}, lo < hi
}

// ceilDiv is a/b rounded up, for b > 0.
func ceilDiv(a, b int64) int64 {
	q := a / b
	if a%b > 0 {
		q++
	}
	return q
}

// forbidX appends the intervals of x in which a piece of form f at height y
// overlaps piece j.
func (s *state) forbidX(out []interval, f int32, y float64, j int) []interval {
	l := &s.m.links[f][s.form[j]]
	dy := int64(l.sign*(s.y[j]-y) + l.oy)
	low := int64(l.t.oy)
	if dy <= low || dy >= low+int64(l.t.h) {
		return out
	}
	base := int64(s.x[j])
	off := int64(l.ox)
	for _, part := range l.t.parts {
		iv, ok := l.t.alongX(part, dy)
		if !ok {
			continue
		}
		// dx = sign·(xj − x) + ox
		if l.sign > 0 {
			out = append(out, interval{base - (iv.hi - off), base - (iv.lo - off)})
		} else {
			out = append(out, interval{base + (iv.lo - off), base + (iv.hi - off)})
		}
	}
	return out
}

// forbidY is forbidX for y at a given x.
func (s *state) forbidY(out []interval, f int32, x float64, j int) []interval {
	l := &s.m.links[f][s.form[j]]
	dx := int64(l.sign*(s.x[j]-x) + l.ox)
	low := int64(l.t.ox)
	if dx <= low || dx >= low+int64(l.t.w) {
		return out
	}
	base := int64(s.y[j])
	off := int64(l.oy)
	for _, part := range l.t.parts {
		iv, ok := l.t.alongY(part, dx)
		if !ok {
			continue
		}
		if l.sign > 0 {
			out = append(out, interval{base - (iv.hi - off), base - (iv.lo - off)})
		} else {
			out = append(out, interval{base + (iv.lo - off), base + (iv.hi - off)})
		}
	}
	return out
}

// firstFree is the least place at or above from that no interval forbids.
// It sorts the intervals.
func firstFree(ivs []interval, from int64) int64 {
	slices.SortFunc(ivs, func(a, b interval) int { return cmp.Compare(a.lo, b.lo) })
	for _, iv := range ivs {
		if iv.lo >= from {
			return from
		}
		from = max(from, iv.hi)
	}
	return from
}

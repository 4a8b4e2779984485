package separate

// seg is a stretch of a region's border.
type seg struct{ a, b fpt }

func (s *seg) dist2(x, y float64) float64 {
	dx, dy := s.b.x-s.a.x, s.b.y-s.a.y
	px, py := x-s.a.x, y-s.a.y
	if l2 := float64(dx*dx) + float64(dy*dy); l2 > 0 {
		k := min(1, max(0, (float64(px*dx)+float64(py*dy))/l2))
		px, py = px-float64(k*dx), py-float64(k*dy)
	}
	return float64(px*px) + float64(py*py)
}

// fbox is a box in grid units.
type fbox struct{ lo, hi fpt }

// apart tells whether two boxes have no inner point in common.
func (b *fbox) apart(o *fbox) bool {
	return b.hi.x <= o.lo.x || b.hi.y <= o.lo.y || b.lo.x >= o.hi.x || b.lo.y >= o.hi.y
}

func boxOf(pts ...fpt) fbox {
	b := fbox{pts[0], pts[0]}
	for _, v := range pts[1:] {
		b.lo.x, b.lo.y = min(b.lo.x, v.x), min(b.lo.y, v.y)
		b.hi.x, b.hi.y = max(b.hi.x, v.x), max(b.hi.y, v.y)
	}
	return b
}

// border gives the border of the union of the parts' regions: every edge
// without the stretches that lie inside another part.
func (t *table) border(corners [][]fpt, boxes []fbox) []seg {
	var out, pieces, rest []seg
	for i, c := range corners {
		for k := range c {
			whole := seg{c[k], c[(k+1)%len(c)]}
			wb := boxOf(whole.a, whole.b)
			pieces = append(pieces[:0], whole)
			for j, s := range t.parts {
				b := &boxes[j]
				if j == i || wb.hi.x < b.lo.x || wb.hi.y < b.lo.y || wb.lo.x > b.hi.x || wb.lo.y > b.hi.y {
					continue
				}
				rest = rest[:0]
				for _, e := range pieces {
					rest = cutAway(rest, e, t.planes[s.from:s.to])
				}
				if pieces, rest = rest, pieces; len(pieces) == 0 {
					break
				}
			}
			out = append(out, pieces...)
		}
	}
	return out
}

// cutAway appends e without the stretch that lies at least one grid unit
// inside all the planes.
func cutAway(out []seg, e seg, ps []plane) []seg {
	lo, hi := 0.0, 1.0
	for i := range ps {
		p := &ps[i]
		sa := p.distance(e.a.x, e.a.y) + 1
		sb := p.distance(e.b.x, e.b.y) + 1
		switch {
		case sa >= 0 && sb >= 0:
			return append(out, e)
		case sa >= 0:
			lo = max(lo, sa/(sa-sb))
		case sb >= 0:
			hi = min(hi, sa/(sa-sb))
		}
		if lo >= hi {
			return append(out, e)
		}
	}
	at := func(k float64) fpt { return fpt{e.a.x + float64(k*(e.b.x-e.a.x)), e.a.y + float64(k*(e.b.y-e.a.y))} }
	if lo > 0 {
		out = append(out, seg{e.a, at(lo)})
	}
	if hi < 1 {
		out = append(out, seg{at(hi), e.b})
	}
	return out
}

package geom

import "slices"

// Hit is a place on a path: share T of the length of segment Edge.
type Hit struct {
	Edge int
	T    float64
	At   Pt
}

// Hits gives the places where the path meets the straight line from a to b, in
// the order from a. A hit on a vertex may be given for both its segments.
func (p Path) Hits(a, b Pt) []Hit {
	line := Segment{A: a, B: b}
	var hits []Hit
	for i := range p {
		s := p.Segment(i)
		for _, q := range curveOf(line).meet(curveOf(s)) {
			if line.Distance(q) <= coincide && s.Distance(q) <= coincide {
				hits = append(hits, Hit{i, s.ShareOf(q), q})
			}
		}
	}
	slices.SortStableFunc(hits, func(x, y Hit) int {
		switch dx, dy := x.At.Dist(a), y.At.Dist(a); {
		case dx < dy:
			return -1
		case dx > dy:
			return 1
		}
		return 0
	})
	return hits
}

// Detour replaces the stretch of the path from one hit forward to another by
// straight lines through the given points. The source of every segment is
// given: the old segment, or a Join on the segment that was left.
func (p Path) Detour(from, to Hit, via ...Pt) (Path, []Source) {
	n := len(p)
	var q Path
	var src []Source
	put := func(v Vertex, s Source) {
		if k := len(q); k > 0 && q[k-1].Pt.Dist(v.Pt) <= coincide {
			q, src = q[:k-1], src[:k-1]
		}
		q, src = append(q, v), append(src, s)
	}
	left := Source{Edge: from.Edge, Join: true}
	put(Vertex{Pt: from.At}, left)
	for _, v := range via {
		put(Vertex{Pt: v}, left)
	}
	// The rest of the segment that is entered, then on around to the one that
	// is left.
	whole := (from.Edge - to.Edge + n) % n
	if whole == 0 && from.T <= to.T {
		whole = n
	}
	if whole == 0 {
		part := p.Segment(to.Edge).Part(to.T, from.T)
		put(Vertex{to.At, part.Bulge}, Source{Edge: to.Edge})
	} else {
		put(Vertex{to.At, p.Segment(to.Edge).Part(to.T, 1).Bulge}, Source{Edge: to.Edge})
		for k := 1; k < whole; k++ {
			i := (to.Edge + k) % n
			put(p[i], Source{Edge: i})
		}
		i := from.Edge
		put(Vertex{p[i].Pt, p.Segment(i).Part(0, from.T).Bulge}, Source{Edge: i})
	}
	if k := len(q); k > 1 && q[k-1].Pt.Dist(q[0].Pt) <= coincide {
		q, src = q[:k-1], src[:k-1]
	}
	return q, src
}

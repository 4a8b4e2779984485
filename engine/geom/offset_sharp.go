package geom

import "math"

// sharp joins moved edge e to moved edge f, whose old common corner is x. It
// sets where e ends and f starts and gives what lies in between.
func sharp(e, f *edge, x Pt) []joinVertex {
	if e.b.Dist(f.a) < coincide {
		e.end, f.start = e.b, e.b
		return nil
	}
	u, v := e.s.Tangent(1), f.s.Tangent(0)
	turn := u.Cross(v)
	if math.Abs(turn) < 1e-9 && u.Dot(v) > 0 {
		return step(e, f, x)
	}
	// A corner opens when both edges move to its outer side: they are extended.
	if turn*e.d >= 0 && turn*f.d >= 0 {
		return open(e, f, x)
	}
	// It closes when both move to its inner side: they are trimmed. With amounts
	// of both signs either may happen, as far as the mitre limit.
	at, ok := e.c.meetNear(f.c, e.b.Add(f.a).Sub(x))
	closes := turn*e.d <= 0 && turn*f.d <= 0
	if ok && (closes && at.Sub(e.b).Dot(u) < coincide && f.a.Sub(at).Dot(v) < coincide ||
		!closes && at.Dist(x) <= mitre(e, f)+coincide) {
		e.end, f.start = at, at
		return nil
	}
	return step(e, f, x)
}

// mitre is how far the corner between two moved edges may stand off the old
// one.
func mitre(e, f *edge) float64 { return MitreLimit * max(math.Abs(e.d), math.Abs(f.d)) }

// maxCurl is the most that an arc is extended along its circle, in radians;
// beyond it, it goes on straight.
const maxCurl = math.Pi / 4

// open extends two moved edges until they meet: along their circles, or, where
// arcs would curl away or into the other's strip, straight on.
func open(e, f *edge, x Pt) []joinVertex {
	for _, straight := range [...]bool{false, true} {
		ce, cf := e.c, f.c
		if straight {
			if ce.r == 0 && cf.r == 0 {
				break // tried already
			}
			ce, cf = curve{p: e.b, dir: e.s.Tangent(1)}, curve{p: f.a, dir: f.s.Tangent(0)}
		}
		at, ok := ce.meetNear(cf, e.b.Add(f.a).Sub(x))
		if !ok || !extends(e, f, ce, cf, x, at) {
			continue
		}
		a, b := at, at
		if limit := mitre(e, f); at.Dist(x) > limit+coincide {
			// Cut off square to the way out.
			out := at.Sub(x).Unit()
			cut := curve{p: x.Add(out.Mul(limit)), dir: out.Left()}
			var ok1, ok2 bool
			a, ok1 = cut.meetNear(ce, cut.p)
			b, ok2 = cut.meetNear(cf, cut.p)
			if !ok1 || !ok2 || !extends(e, f, ce, cf, x, a) || !extends(e, f, ce, cf, x, b) {
				continue
			}
		}
		var way []Pt // from the end of e, but for its last point, where f starts
		if e.end, f.start = a, b; straight {
			e.end, f.start = e.b, f.a
			way = append(way, e.b)
		}
		if straight || a != b {
			way = append(way, a)
		}
		if straight && a != b {
			way = append(way, b)
		}
		join := make([]joinVertex, len(way))
		for i, q := range way {
			join[i] = joinVertex{Vertex{Pt: q}, Source{Edge: e.i, Join: true}}
		}
		return join
	}
	return step(e, f, x)
}

// extends tells whether a point lies ahead of the end of moved edge e and
// behind the start of f, and the way to it along their curves leaves both
// strips whole.
func extends(e, f *edge, ce, cf curve, x, at Pt) bool {
	if at.Sub(e.b).Dot(e.s.Tangent(1)) < -coincide || f.a.Sub(at).Dot(f.s.Tangent(0)) < -coincide {
		return false
	}
	curls := func(c curve, from, to, end Pt) bool {
		if c.r == 0 || from.Dist(to) < coincide {
			return false
		}
		way := c.between(from, to)
		if math.Abs(way.Sweep()) > maxCurl {
			return true
		}
		for _, q := range intersections(way, Segment{A: x, B: end}) {
			if q.Dist(end) > sameStrip {
				return true
			}
		}
		return false
	}
	return !curls(ce, e.b, at, f.a) && !curls(cf, at, f.a, e.b)
}

// step joins two moved edges by the end of the wider one's strip, where the
// narrower one runs into it; failing that by a straight line.
func step(e, f *edge, x Pt) []joinVertex {
	e.end, f.start = e.b, f.a
	wide, narrow, into := e.b, f.c, &f.start
	if math.Abs(e.d) < math.Abs(f.d) {
		wide, narrow, into = f.a, e.c, &e.end
	}
	if side := (Segment{A: x, B: wide}); x.Dist(wide) > coincide {
		if at, ok := narrow.meetNear(curveOf(side), *into); ok && side.Distance(at) < coincide {
			*into = at
		}
	}
	if e.end.Dist(f.start) < coincide {
		f.start = e.end
		return nil
	}
	return []joinVertex{{Vertex{Pt: e.end}, Source{Edge: e.i, Join: true}}}
}

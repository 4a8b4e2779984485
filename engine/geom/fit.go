package geom

import "math"

// A curve is followed in at most 2^fitDepth stretches. A seat's edge of two
// metres is then cut into pieces of 8 mm, on which no curve that a person drew
// strays.
const fitDepth = 8

// fitProbes is the number of places at which a stretch is held against its
// curve; odd, so that the middle is one of them.
const fitProbes = 15

// Fit follows a curve with lines and arcs that are nowhere further than tol
// from it, as far as a look at 15 places of every arc can tell. at gives the
// place and a direction of travel, of any length, for a share from 0 to 1; a
// direction of zero, as where control points coincide, is looked for beside the
// place. Arcs join smoothly where the curve is smooth (biarcs after Bolton,
// "Biarc curves", Computer-Aided Design 7, 1975), and one arc serves where it
// meets both ends' directions. A curve without length gives nothing.
func Fit(at func(t float64) (p, dir Pt), tol float64) []Segment {
	f := fitter{at, tol, nil}
	a, b := f.node(0), f.node(1)
	f.stretch(a, b, 0)
	return f.out
}

type fitter struct {
	at  func(float64) (Pt, Pt)
	tol float64
	out []Segment
}

// fitNode is a place of the curve with its direction.
type fitNode struct {
	t    float64
	p, u Pt
}

func (f *fitter) node(t float64) fitNode {
	p, d := f.at(t)
	u := d.Unit()
	if u == (Pt{}) || !u.Finite() {
		// Looked for inwards, where there is more of the curve.
		const near = 1e-4
		if t < 0.5 {
			q, _ := f.at(t + near)
			u = q.Sub(p).Unit()
		} else {
			q, _ := f.at(t - near)
			u = p.Sub(q).Unit()
		}
	}
	return fitNode{t, p, u}
}

func (f *fitter) stretch(a, b fitNode, depth int) {
	for _, segs := range f.tries(a, b) {
		if f.holds(segs, a.t, b.t) {
			f.out = append(f.out, segs...)
			return
		}
	}
	if depth == fitDepth {
		if a.p.Dist(b.p) > coincide {
			f.out = append(f.out, Segment{A: a.p, B: b.p})
		}
		return
	}
	m := f.node((a.t + b.t) / 2)
	f.stretch(a, m, depth+1)
	f.stretch(m, b, depth+1)
}

// tries are the ways to follow a stretch, the simplest first: nothing, a line,
// one arc, two arcs.
func (f *fitter) tries(a, b fitNode) [][]Segment {
	if a.p.Dist(b.p) <= coincide {
		return [][]Segment{nil}
	}
	chord := b.p.Sub(a.p)
	in, out := signedAngle(a.u, chord), signedAngle(chord, b.u)
	var ways [][]Segment
	if math.Abs(in) < smooth/2 && math.Abs(out) < smooth/2 {
		ways = append(ways, []Segment{{A: a.p, B: b.p}})
	}
	const quarter = math.Pi / 2
	if math.Abs(in-out) < smooth/2 && math.Abs(in) < quarter {
		ways = append(ways, []Segment{{a.p, b.p, tan((in + out) / 4)}})
	}
	if a.u != (Pt{}) && b.u != (Pt{}) && math.Abs(in) < quarter && math.Abs(out) < quarter {
		mid := biarcMid(a.p, a.u, b.p, b.u)
		one := Segment{a.p, mid, bulgeFrom(a.p, a.u, mid)}
		two := Segment{mid, b.p, -bulgeFrom(b.p, b.u.Mul(-1), mid)}
		if mid.Finite() && max(math.Abs(one.Bulge), math.Abs(two.Bulge)) <= 1 && min(a.p.Dist(mid), b.p.Dist(mid)) > coincide {
			ways = append(ways, []Segment{one, two})
		}
	}
	return ways
}

// holds tells whether the segments stay within tol of the curve between two
// shares.
func (f *fitter) holds(segs []Segment, from, to float64) bool {
	start, _ := f.at(from)
	for k := 1; k <= fitProbes; k++ {
		p, _ := f.at(from + (to-from)*float64(k)/(fitProbes+1))
		off := p.Dist(start)
		for i, s := range segs {
			if d := s.Distance(p); i == 0 || d < off {
				off = d
			}
		}
		if !(off <= f.tol) {
			return false
		}
	}
	return true
}

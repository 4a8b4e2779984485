package outlinefile

import (
	"math"

	"slipseat/engine/geom"
)

// matrix is the affine map x' = a x + c y + e, y' = b x + d y + f, its letters
// those of SVG.
type matrix struct{ a, b, c, d, e, f float64 }

var unity = matrix{a: 1, d: 1}

// mul is the map that does n first, then m.
func (m matrix) mul(n matrix) matrix {
	return matrix{
		m.a*n.a + m.c*n.b, m.b*n.a + m.d*n.b,
		m.a*n.c + m.c*n.d, m.b*n.c + m.d*n.d,
		m.a*n.e + m.c*n.f + m.e, m.b*n.e + m.d*n.f + m.f,
	}
}

func (m matrix) pt(p geom.Pt) geom.Pt {
	return geom.P(m.a*p.X+m.c*p.Y+m.e, m.b*p.X+m.d*p.Y+m.f)
}

// vec maps a direction.
func (m matrix) vec(p geom.Pt) geom.Pt { return geom.P(m.a*p.X+m.c*p.Y, m.b*p.X+m.d*p.Y) }

func scaled(x, y float64) matrix     { return matrix{a: x, d: y} }
func translated(x, y float64) matrix { return matrix{a: 1, d: 1, e: x, f: y} }

func rotated(degrees float64) matrix {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return matrix{a: cos, b: sin, c: -sin, d: cos}
}

// piece is a stretch of a drawn line: straight, part of an ellipse, or a
// rational Bézier curve of any degree. All three keep their kind under an
// affine map.
type piece struct {
	kind pieceKind
	// ctrl are the ends of a line, or a curve's control points.
	ctrl []geom.Pt
	w    []float64 // weights of a curve, nil when all are 1
	// An ellipse is centre + u cos t + v sin t, t from from over sweep.
	centre, u, v geom.Pt
	from, sweep  float64
}

type pieceKind uint8

const (
	aLine pieceKind = iota
	anEllipse
	aCurve
)

func line(a, b geom.Pt) piece { return piece{kind: aLine, ctrl: []geom.Pt{a, b}} }

func curve(pts ...geom.Pt) piece { return piece{kind: aCurve, ctrl: pts} }

func ellipse(centre, u, v geom.Pt, from, sweep float64) piece {
	return piece{kind: anEllipse, centre: centre, u: u, v: v, from: from, sweep: sweep}
}

// bulged is a line, or the arc whose bulge is the tangent of a quarter of its
// angle.
func bulged(a, b geom.Pt, bulge float64) piece {
	s := geom.Segment{A: a, B: b, Bulge: bulge}
	if s.Straight() || a == b {
		return line(a, b)
	}
	c := s.Center()
	u := a.Sub(c)
	return ellipse(c, u, u.Left(), 0, s.Sweep())
}

func (p piece) mapped(m matrix) piece {
	q := p
	q.centre, q.u, q.v = m.pt(p.centre), m.vec(p.u), m.vec(p.v)
	q.ctrl = make([]geom.Pt, len(p.ctrl))
	for i, c := range p.ctrl {
		q.ctrl[i] = m.pt(c)
	}
	return q
}

// finite tells whether every figure is one that can be reckoned with.
func (p piece) finite() bool {
	ok := func(q geom.Pt) bool { return math.Abs(q.X) <= 1e7 && math.Abs(q.Y) <= 1e7 }
	for _, c := range p.ctrl {
		if !ok(c) {
			return false
		}
	}
	for _, w := range p.w {
		if !(w >= 1e-6 && w <= 1e6) {
			return false
		}
	}
	return ok(p.centre) && ok(p.u) && ok(p.v) && math.Abs(p.from) < 1e6 && math.Abs(p.sweep) <= 2*math.Pi+1e-9
}

// start and end are the ends of the piece.
func (p piece) start() geom.Pt {
	if p.kind == anEllipse {
		return p.onEllipse(p.from)
	}
	return p.ctrl[0]
}

func (p piece) end() geom.Pt {
	if p.kind == anEllipse {
		return p.onEllipse(p.from + p.sweep)
	}
	return p.ctrl[len(p.ctrl)-1]
}

func (p piece) onEllipse(t float64) geom.Pt {
	sin, cos := math.Sincos(t)
	return p.centre.Add(p.u.Mul(cos)).Add(p.v.Mul(sin))
}

// at is the place at a share of the curve, and a direction there.
func (p piece) at(t float64) (geom.Pt, geom.Pt) {
	if p.kind == anEllipse {
		sin, cos := math.Sincos(p.from + t*p.sweep)
		dir := p.v.Mul(cos).Sub(p.u.Mul(sin)).Mul(p.sweep)
		return p.centre.Add(p.u.Mul(cos)).Add(p.v.Mul(sin)), dir
	}
	return p.casteljau(t)
}

// casteljau evaluates a rational Bézier curve: weighted averages of
// neighbouring control points, until two are left, which give the direction.
func (p piece) casteljau(t float64) (geom.Pt, geom.Pt) {
	n := len(p.ctrl)
	type hom struct{ x, y, w float64 }
	buf := make([]hom, n)
	for i, c := range p.ctrl {
		w := 1.0
		if p.w != nil {
			w = p.w[i]
		}
		buf[i] = hom{c.X * w, c.Y * w, w}
	}
	flat := func(h hom) geom.Pt { return geom.P(h.x/h.w, h.y/h.w) }
	var dir geom.Pt
	for k := n - 1; k > 0; k-- {
		if k == 1 {
			dir = flat(buf[1]).Sub(flat(buf[0]))
		}
		for i := range k {
			a, b := buf[i], buf[i+1]
			buf[i] = hom{a.x + (b.x-a.x)*t, a.y + (b.y-a.y)*t, a.w + (b.w-a.w)*t}
		}
	}
	return flat(buf[0]), dir
}

// segments are the lines and arcs that follow the piece. A circle's arcs are
// exact; none goes further than half round.
func (p piece) segments() []geom.Segment {
	switch p.kind {
	case aLine:
		return []geom.Segment{{A: p.ctrl[0], B: p.ctrl[1]}}
	case anEllipse:
		lu, lv := p.u.Len(), p.v.Len()
		if big := max(lu, lv); math.Abs(lu-lv) <= 1e-9*big && math.Abs(p.u.Dot(p.v)) <= 1e-9*big*big {
			return p.circular()
		}
		// By quarters, so that no stretch turns by more than half.
		n := int(max(1, math.Ceil(math.Abs(p.sweep)/(math.Pi/2)-1e-9)))
		var out []geom.Segment
		for k := range n {
			q := p
			q.from, q.sweep = p.from+p.sweep*float64(k)/float64(n), p.sweep/float64(n)
			out = append(out, geom.Fit(q.at, CurveTol.MM())...)
		}
		return out
	}
	return geom.Fit(p.at, CurveTol.MM())
}

func (p piece) circular() []geom.Segment {
	n := int(max(1, math.Ceil(math.Abs(p.sweep)/math.Pi-1e-9)))
	bulge := math.Tan(p.sweep / float64(4*n))
	if p.u.Cross(p.v) < 0 {
		bulge = -bulge
	}
	out := make([]geom.Segment, n)
	for k := range n {
		out[k] = geom.Segment{A: p.onEllipse(p.from + p.sweep*float64(k)/float64(n)),
			B: p.onEllipse(p.from + p.sweep*float64(k+1)/float64(n)), Bulge: bulge}
	}
	return out
}

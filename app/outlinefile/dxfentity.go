package outlinefile

import (
	"math"
	"strings"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// dxfReader turns entities into runs.
type dxfReader struct {
	file  *dxfFile
	c     *collector
	count int
	using []string
	fault *unit.Fault
}

// maxBlocks is how deep blocks may stand in each other.
const maxBlocks = 20

func (r *dxfReader) entities(list []entity, m matrix, depth int) {
	for _, e := range list {
		if r.fault != nil {
			return
		}
		if r.count++; r.count > maxElements {
			r.fault = tooMany(maxElements)
			return
		}
		r.entity(e, m, depth)
	}
}

// leftKinds are entities that hold no outline.
var leftKinds = map[string]string{
	"TEXT": "text", "MTEXT": "text", "ATTRIB": "text", "ATTDEF": "text", "IMAGE": "picture", "HATCH": "hatch",
	"DIMENSION": "dimension", "LEADER": "dimension", "MULTILEADER": "dimension",
}

// quiet are entities that nobody misses.
var quiet = map[string]bool{"POINT": true, "VIEWPORT": true, "SEQEND": true, "VERTEX": true, "XLINE": true, "RAY": true}

func (r *dxfReader) entity(e entity, m matrix, depth int) {
	if e.whole(67) == 1 {
		return // on the paper beside the drawing
	}
	if r.file.hidden[strings.ToUpper(e.text(8))] || e.whole(60) == 1 {
		r.c.leave("hidden")
		return
	}
	switch e.name {
	case "LINE":
		r.add(e, m, run{pieces: []piece{line(e.point(10), e.point(11))}})
	case "CIRCLE", "ARC":
		r.flat(e, m, func(m matrix) {
			c, rad := e.point(10), e.num(40)
			from, sweep := 0.0, 2*math.Pi
			if e.name == "ARC" { // counter-clockwise from group 50 to group 51, in degrees
				from, sweep = span(e.num(50)*math.Pi/180, e.num(51)*math.Pi/180)
			}
			r.add(e, m, run{closed: e.name == "CIRCLE", pieces: []piece{ellipse(c, geom.P(rad, 0), geom.P(0, rad), from, sweep)}})
		})
	case "ELLIPSE":
		r.ellipse(e, m)
	case "LWPOLYLINE":
		r.flat(e, m, func(m matrix) { r.add(e, m, lwpolyline(e)) })
	case "POLYLINE":
		switch flags := e.whole(70); {
		case flags&(16|64) != 0: // meshes
			r.c.leave("other")
		case flags&8 != 0:
			r.add(e, m, polyline(e))
		default:
			r.flat(e, m, func(m matrix) { r.add(e, m, polyline(e)) })
		}
	case "SPLINE":
		r.spline(e, m)
	case "INSERT":
		r.flat(e, m, func(m matrix) { r.insert(e, m, depth) })
	default:
		kind, known := leftKinds[e.name]
		switch {
		case known:
			r.c.leave(kind)
		case !quiet[e.name]:
			r.c.leave("other")
		}
	}
}

func (e entity) point(code int) geom.Pt { return geom.P(e.num(code), e.num(code+10)) }

// span is the counter-clockwise way from one angle to another, a whole turn
// when they are the same.
func span(from, to float64) (start, sweep float64) {
	sweep = math.Mod(to-from, 2*math.Pi)
	if sweep <= 1e-12 {
		sweep += 2 * math.Pi
	}
	return math.Mod(from, 2*math.Pi), sweep
}

func (r *dxfReader) add(e entity, m matrix, run run) {
	run.name = named(e.text(8))
	for _, p := range run.pieces {
		if !p.finite() {
			r.fault = badFigures(e)
			return
		}
	}
	r.c.add(m, run)
}

func badFigures(e entity) *unit.Fault {
	return &unit.Fault{Code: CodeNumber, Args: []unit.Arg{unit.A("text", named(e.name)), unit.A("line", e.line)}}
}

// flat draws an entity whose figures stand in its own frame (OCS): the plane
// across group 210, 220, 230, whose axes follow the arbitrary axis algorithm.
// Only frames that lie in the drawing's plane are drawn, seen from above or
// from below.
func (r *dxfReader) flat(e entity, m matrix, draw func(matrix)) {
	n := [3]float64{e.num(210), e.num(220), e.numOr(230, 1)}
	l := math.Sqrt(n[0]*n[0] + n[1]*n[1] + n[2]*n[2])
	if !(l > 0) || math.Abs(n[2])/l < 1-1e-6 {
		r.c.leave("tilted")
		return
	}
	if n[2] < 0 {
		// Ax = (0,1,0) × (0,0,-1) = (-1,0,0), Ay = N × Ax = (0,1,0).
		m = m.mul(scaled(-1, 1))
	}
	draw(m)
}

// ellipse: centre 10, end of the major axis from the centre 11, ratio 40, from
// 41 to 42 counter-clockwise in radians. Its figures stand in the drawing's
// frame; the minor axis is the normal times the major.
func (r *dxfReader) ellipse(e entity, m matrix) {
	r.flat(e, m, func(matrix) {
		u := e.point(11)
		v := u.Left().Mul(e.num(40))
		if e.numOr(230, 1) < 0 {
			v = v.Mul(-1)
		}
		from, to := e.num(41), e.numOr(42, 2*math.Pi)
		start, sweep := span(from, to)
		whole := math.Abs(sweep-2*math.Pi) < 1e-9
		r.add(e, m, run{closed: whole, pieces: []piece{ellipse(e.point(10), u, v, start, sweep)}})
	})
}

// knot is a vertex of a polyline.
type knot struct {
	at    geom.Pt
	bulge float64
}

// lwpolyline: vertices 10 and 20, each with its bulge 42; flag 1 of 70 closes
// it. The bulge is the tangent of a quarter of the arc's angle, negative when
// it runs clockwise.
func lwpolyline(e entity) run {
	var ks []knot
	for _, t := range e.tags {
		switch {
		case t.code == 10:
			ks = append(ks, knot{at: geom.P(number(t.text), 0)})
		case t.code == 20 && len(ks) > 0:
			ks[len(ks)-1].at.Y = number(t.text)
		case t.code == 42 && len(ks) > 0:
			ks[len(ks)-1].bulge = number(t.text)
		}
	}
	return knotted(ks, e.whole(70)&1 != 0)
}

// polyline: VERTEX records of its own. Frame points of a smoothed one (flag 16
// of 70) are not on the line.
func polyline(e entity) run {
	var ks []knot
	for _, v := range e.parts {
		if v.whole(70)&(16|128) == 0 {
			ks = append(ks, knot{v.point(10), v.num(42)})
		}
	}
	return knotted(ks, e.whole(70)&1 != 0)
}

func knotted(ks []knot, closed bool) run {
	out := run{closed: closed}
	for i, k := range ks {
		next := i + 1
		if next == len(ks) {
			if !closed {
				break
			}
			next = 0
		}
		out.pieces = append(out.pieces, bulged(k.at, ks[next].at, k.bulge))
	}
	return out
}

// insert puts a block: its base point at 10, scaled by 41 and 42, turned by
// 50, in rows and columns 70, 71 that lie 44, 45 apart.
func (r *dxfReader) insert(e entity, m matrix, depth int) {
	name := strings.ToUpper(e.text(2))
	b, ok := r.file.blocks[name]
	if !ok {
		r.c.leave("other")
		return
	}
	for _, u := range r.using {
		if u == name {
			r.c.leave("other") // it holds itself
			return
		}
	}
	if depth >= maxBlocks {
		r.fault = &unit.Fault{Code: CodeTooDeep, Args: []unit.Arg{unit.A("limit", maxBlocks), unit.A("line", e.line)}}
		return
	}
	r.using = append(r.using, name)
	defer func() { r.using = r.using[:len(r.using)-1] }()
	at := e.point(10)
	place := translated(at.X, at.Y).mul(rotated(e.num(50)))
	cols, rows := max(1, e.whole(70)), max(1, e.whole(71))
	for i := range cols {
		for k := range rows {
			if r.fault != nil {
				return
			}
			r.count++ // empty blocks cost time too
			if r.count > maxElements {
				r.fault = tooMany(maxElements)
				return
			}
			step := translated(float64(i)*e.num(44), float64(k)*e.num(45))
			r.entities(b.entities, m.mul(place).mul(step).mul(scaled(e.numOr(41, 1), e.numOr(42, 1))).mul(translated(-b.x, -b.y)), depth+1)
		}
	}
}

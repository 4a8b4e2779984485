package outlinefile

import (
	"math"

	"slipseat/engine/geom"
)

// pathRuns reads path data (SVG 2 section 9.3, SVG 1.1 section 8.3), one run
// for each subpath. Where it is broken, the subpath that it breaks in gets the
// fault, and nothing behind it is read (SVG 2 section 9.5.4 asks to draw what
// comes before).
func pathRuns(d string) []run {
	p := pathReader{sc: scanner{s: d}}
	for {
		p.sc.space()
		if p.sc.i >= len(p.sc.s) {
			break
		}
		c := p.sc.s[p.sc.i]
		if len(p.runs) == 0 && c != 'M' && c != 'm' {
			p.fail()
			break
		}
		p.sc.i++
		if !p.command(c) {
			p.sc.i--
			p.fail()
			break
		}
		if p.failed {
			break
		}
	}
	return p.runs
}

type pathReader struct {
	sc         scanner
	runs       []run
	at, start  geom.Pt
	ctrl       geom.Pt // last control point, for S and T
	last       byte    // last command, as a capital
	failed     bool
	segmentsIn int
}

// fail gives the last subpath the fault of the present place.
func (p *pathReader) fail() {
	p.failed = true
	if len(p.runs) == 0 {
		p.runs = append(p.runs, run{})
	}
	r := &p.runs[len(p.runs)-1]
	if p.sc.huge {
		r.fault = huge()
	} else {
		r.fault = p.sc.bad()
	}
}

func (p *pathReader) add(q piece) {
	// After a closed subpath the next one starts where that began.
	if r := p.runs[len(p.runs)-1]; r.closed {
		p.runs = append(p.runs, run{})
	}
	r := &p.runs[len(p.runs)-1]
	r.pieces = append(r.pieces, q)
}

// command reads one letter with all its sets of figures; false for a letter
// that is none.
func (p *pathReader) command(c byte) bool {
	rel := c >= 'a'
	up := c &^ 0x20
	n, known := map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 7, 'Z': 0}[up]
	if !known || c < 'A' || c > 'z' {
		return false
	}
	if up == 'Z' {
		r := &p.runs[len(p.runs)-1]
		if !r.closed {
			if p.at != p.start {
				p.add(line(p.at, p.start))
			}
			r.closed = len(r.pieces) > 0
		}
		p.at, p.last = p.start, 'Z'
		return true
	}
	for set := 0; ; set++ {
		var v [7]float64
		begin := p.sc.i
		for k := range n {
			ok := false
			if up == 'A' && (k == 3 || k == 4) {
				var on bool
				if on, ok = p.sc.flag(); on {
					v[k] = 1
				}
			} else {
				v[k], ok = p.sc.number()
			}
			if ok {
				continue
			}
			if k == 0 && set > 0 && !p.sc.huge {
				p.sc.i = begin
				return true // the next command
			}
			p.fail()
			return true
		}
		p.draw(up, rel, set, v)
	}
}

// draw does one set of figures.
func (p *pathReader) draw(c byte, rel bool, set int, v [7]float64) {
	pt := func(i int) geom.Pt {
		q := geom.P(v[i], v[i+1])
		if rel {
			q = p.at.Add(q)
		}
		return q
	}
	to, ctrl := p.at, geom.Pt{}
	switch c {
	case 'M':
		to = pt(0)
		if set == 0 {
			p.at, p.start = to, to
			p.runs = append(p.runs, run{})
		} else { // further points are lines (section 9.3.3)
			p.add(line(p.at, to))
		}
	case 'L':
		to = pt(0)
		p.add(line(p.at, to))
	case 'H':
		if to.X = v[0]; rel {
			to.X += p.at.X
		}
		p.add(line(p.at, to))
	case 'V':
		if to.Y = v[0]; rel {
			to.Y += p.at.Y
		}
		p.add(line(p.at, to))
	case 'C':
		to, ctrl = pt(4), pt(2)
		p.add(curve(p.at, pt(0), ctrl, to))
	case 'S':
		first := p.at
		if p.last == 'C' || p.last == 'S' {
			first = p.at.Mul(2).Sub(p.ctrl)
		}
		to, ctrl = pt(2), pt(0)
		p.add(curve(p.at, first, ctrl, to))
	case 'Q':
		to, ctrl = pt(2), pt(0)
		p.add(curve(p.at, ctrl, to))
	case 'T':
		ctrl = p.at
		if p.last == 'Q' || p.last == 'T' {
			ctrl = p.at.Mul(2).Sub(p.ctrl)
		}
		to = pt(0)
		p.add(curve(p.at, ctrl, to))
	case 'A':
		to = pt(5)
		if q, ok := arcTo(p.at, to, v[0], v[1], v[2], v[3] != 0, v[4] != 0); ok {
			p.add(q)
		}
	}
	p.at, p.ctrl, p.last = to, ctrl, c
}

// arcTo is the elliptical arc between two points (SVG 2 appendix B.2: from
// endpoints to centre, radii made larger where they do not reach; section
// 9.5.1: a radius of nothing is a line). false when the ends are the same.
func arcTo(a, b geom.Pt, rx, ry, turned float64, large, sweep bool) (piece, bool) {
	if a == b {
		return piece{}, false
	}
	rx, ry = math.Abs(rx), math.Abs(ry)
	if rx == 0 || ry == 0 {
		return line(a, b), true
	}
	sin, cos := math.Sincos(turned * math.Pi / 180)
	h := a.Sub(b).Mul(0.5)
	// On the ellipse's own axes, in its radii.
	x, y := (cos*h.X+sin*h.Y)/rx, (cos*h.Y-sin*h.X)/ry
	l := x*x + y*y
	if l > 1 {
		s := math.Sqrt(l)
		rx, ry, x, y, l = rx*s, ry*s, x/s, y/s, 1
	}
	k := math.Sqrt(max(0, 1/l-1))
	if large == sweep {
		k = -k
	}
	cx, cy := k*y, -k*x // centre in radii, from the middle of the chord
	u, v := geom.P(cos, sin).Mul(rx), geom.P(-sin, cos).Mul(ry)
	centre := a.Mid(b).Add(u.Mul(cx)).Add(v.Mul(cy))
	from := math.Atan2(y-cy, x-cx)
	by := math.Atan2(-y-cy, -x-cx) - from
	if sweep && by < 0 {
		by += 2 * math.Pi
	}
	if !sweep && by > 0 {
		by -= 2 * math.Pi
	}
	return ellipse(centre, u, v, from, by), true
}

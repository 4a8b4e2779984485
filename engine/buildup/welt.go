package buildup

import (
	"math"
	"slices"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Words' codes of the terms of welt and bias strips.
const (
	WhyCord      = "welt.cord"
	WhyWeltSeam  = "welt.seam"
	WhyWeltEdge  = "welt.edge"
	WhyOverlap   = "welt.overlap"
	WhyAlongFull = "strip.along"
	WhyAlongWide = "strip.along-width"
	WhyWide      = "strip.width"
	WhyLong      = "strip.length"
)

// weltNeed gives the width of a welt strip and the length of welt of a seat.
// The length is the edge of every row and its closing overlap.
func (m *maker) welt() {
	w := m.s.Welt
	if w.Rows <= 0 {
		return
	}
	m.out.WeltStrip, _ = rounded(StripWidth(w.Cord, w.Seam, w.Double), m.step)
	edge := m.o.Edge()
	if m.s.Kind == BoxedPad {
		edge = unit.Length(m.o.Filled.Length())
	}
	over := w.Overlap.Or(UsualOverlap)
	n := unit.A("rows", w.Rows)
	m.out.WeltEdge.Add(WhyWeltEdge, float64(w.Rows)*edge.MM(), n, unit.A("edge", edge))
	m.out.WeltEdge.Add(WhyOverlap, float64(w.Rows)*over.MM(), n, unit.A("overlap", over))
}

// StripWidth is the width of a welt strip: pi times the cord and two seams; a
// double welt goes round both cords one after the other. 5/32 in cord with
// half-inch seams takes 1.491 in, double about 3 in.
//
// Source: S29, S30 (trade, grade B).
func StripWidth(cord, seam unit.Length, double bool) unit.Why {
	w := unit.Why{Kind: unit.KindLength}
	n := 1.0
	if double {
		n = 2
	}
	w.Add(WhyCord, n*math.Pi*cord.MM(), unit.A("cord", cord))
	w.Add(WhyWeltSeam, n*2*seam.MM(), unit.A("seam", seam))
	return w
}

// Strips is a need of welt cut from a roll.
type Strips struct {
	Width  unit.Length   // of one strip
	Usable unit.Length   // width of the goods between the selvedges
	Count  int           // strips cut, the last may be part of one
	Joins  int           // joins between them
	Along  unit.Why      // of the roll, for all of them
	Pieces []unit.Length // lengths of the strips as cut, longest first
	Yield  unit.Length   // usable length of them all, joins taken off
}

// StraightStrips cuts a length of welt in strips straight across the roll.
// Every join costs join (two seams of straight strips). Count strips give
// count * usable - (count - 1) * join; the last is cut to what is still
// needed. ok is false when the figures cannot be used.
//
// Source: S28 (trade, grade B): 950 in of 1 1/2 in strips on 54 in goods is 18
// strips, 27 in of cloth.
func StraightStrips(need, usable, width, join unit.Length) (s Strips, ok bool) {
	if !(need > 0 && width > 0 && join >= 0 && usable > join) || math.IsInf(need.MM(), 0) || need/(usable-join) > maxStrips {
		return s, false
	}
	s.Width, s.Usable = width, usable
	s.Count = int(math.Ceil(((need - join).MM() - sameLength) / (usable - join).MM()))
	s.Count = max(s.Count, 1)
	s.Joins = s.Count - 1
	left := need + unit.Length(s.Joins)*join
	for range s.Count {
		l := min(left, usable)
		s.Pieces = append(s.Pieces, l)
		left -= l
		s.Yield += l
	}
	s.Yield -= unit.Length(s.Joins) * join
	s.Along = unit.Why{Kind: unit.KindLength}
	s.Along.Add(WhyAlongFull, float64(s.Count)*width.MM(), unit.A("count", s.Count), unit.A("width", width))
	return s, true
}

// maxStrips bounds what anybody cuts for one job.
const maxStrips = 10_000

// BiasStrips cuts a length of welt in strips at 45 degrees. On goods of usable
// width U, n full strips of width w are each U sqrt(2) long and need
// U + n w sqrt(2) along the roll; the two end triangles give strips too, each
// 2 w shorter than the one before, that count with their own length down to
// shortest. Every join costs 2 seam sqrt(2). The fewest full strips that reach
// the need are taken.
//
// Law: Yield <= area / width.
// Source: geometry, U sqrt(2) = 76 in on 54 in goods in S28 (grade B).
func BiasStrips(need, usable, width, seam, shortest unit.Length) (s Strips, ok bool) {
	if !(need > 0 && usable > 0 && width > 0 && seam >= 0 && shortest >= 0) || math.IsInf(need.MM(), 0) {
		return s, false
	}
	full := usable * math.Sqrt2
	join := 2 * seam * math.Sqrt2
	if full <= join || need/(full-join) > maxStrips {
		return s, false
	}
	s.Width, s.Usable = width, usable
	ends := endStrips(usable, width, max(shortest, join))
	for n := 0; ; n++ {
		pieces := make([]unit.Length, 0, n+len(ends))
		for range n {
			pieces = append(pieces, full)
		}
		pieces = append(pieces, ends...)
		got, used := unit.Length(0), 0
		for _, p := range pieces {
			if used > 0 {
				p -= join
			}
			got += p
			used++
			if got >= need-sameLength {
				break
			}
		}
		if got < need-sameLength {
			continue
		}
		s.Count, s.Joins, s.Yield, s.Pieces = used, used-1, got, pieces[:used]
		s.Along = unit.Why{Kind: unit.KindLength}
		s.Along.Add(WhyAlongWide, usable.MM())
		s.Along.Add(WhyAlongFull, float64(n)*width.MM()*math.Sqrt2, unit.A("count", n), unit.A("width", width))
		return s, true
	}
}

// endStrips are the strips that the two end triangles give, longest first: in
// a right triangle with legs U the strip next to the long side is, along its
// shorter edge, U sqrt(2) - 2 w long, the next 2 w less.
func endStrips(usable, width, shortest unit.Length) []unit.Length {
	var out []unit.Length
	for l := usable*math.Sqrt2 - 2*width; l > 0 && l >= shortest; l -= 2 * width {
		out = append(out, l, l)
	}
	return out
}

// BiasSquare is the side of a square of cloth that yields a length of bias
// strip, without joins: sqrt(need * width). 250 in of 2 in strip takes 22.36
// in.
//
// Source: S20, S21 (grade C).
func BiasSquare(need, width unit.Length) unit.Length {
	return unit.Length(math.Sqrt(need.MM() * width.MM()))
}

// BiasYield is what a square of cloth yields at most: its area over the width
// of the strip.
//
// Source: S20, S22, S23 (grade C).
func BiasYield(side, width unit.Length) unit.Length {
	if width <= 0 {
		return 0
	}
	return unit.Length(side.MM() * side.MM() / width.MM())
}

// ContinuousBias gives the square that is sewn to a tube and cut in one long
// spiral: n = sqrt(need / 2 width) strips, rounded up, of a square with the
// side n * width * sqrt(2) and two seams. 98 in of 1 in strip with quarter-inch
// seams takes 7 strips and a square of 10.4 in.
//
// Source: S25 (grade C, algebra verified).
func ContinuousBias(need, width, seam unit.Length) (strips int, side unit.Length) {
	if width <= 0 || need <= 0 {
		return 0, 0
	}
	strips = int(math.Ceil(math.Sqrt(need.MM()/(2*width.MM())) - 1e-9))
	return strips, unit.Length(strips)*width*math.Sqrt2 + 2*seam
}

// Blanks gives the strips as pieces to lay, equal ones together. quarters is
// the number of quarter turns, counter-clockwise, that bring the seat's frame
// onto the roll; the strips are turned back by as many, so that on the roll
// straight ones lie across it and bias ones slant by 45 degrees, their length
// measured along the slant.
//
// Width and length of straight strips are lifted to whole marking steps; a
// full one is as long as the goods are wide.
func (s Strips) Blanks(goods string, bias bool, quarters int, step unit.Length) []Blank {
	var out []Blank
	for i, l := range s.Pieces {
		if i > 0 && math.Abs((s.Pieces[i-1]-l).MM()) < sameLength {
			out[len(out)-1].Count++
			continue
		}
		b := Blank{Part: PartWelt, Goods: goods, Count: 1}
		b.W.Add(WhyWide, s.Width.MM())
		b.D.Add(WhyLong, l.MM())
		var p geom.Path
		if bias {
			h, w := l.MM()/math.Sqrt2, s.Width.MM()*math.Sqrt2
			p = geom.Path{{Pt: geom.P(0, 0)}, {Pt: geom.P(w, 0)}, {Pt: geom.P(w+h, h)}, {Pt: geom.P(h, h)}}
			// Size as it lies: the slant changes both.
			b.W.Add(WhySlant, w+h-s.Width.MM())
			b.D.Add(WhySlant, h-l.MM())
		} else {
			b.W, _ = rounded(b.W, step)
			// A strip from selvedge to selvedge keeps its length.
			if d, _ := rounded(b.D, step); d.Length() <= s.Usable {
				b.D = d
			}
			p = geom.Box(0, 0, b.W.Value(), b.D.Value())
			b.Square = true
		}
		p = p.Turned((4 - quarters%4) % 4)
		if quarters%2 != 0 {
			b.W, b.D = b.D, b.W
		}
		c := p.Bounds().Center()
		b.Path = p.Translate(c.Mul(-1))
		out = append(out, b)
	}
	return out
}

// Block gives the strips as one rectangle across the roll, from which they are
// cut afterwards: as wide as the goods, and as long as they take in all. The
// frame is that of Blanks.
func (s Strips) Block(goods string, quarters int, step unit.Length) Blank {
	b := Blank{Part: PartWelt, Goods: goods, Count: 1, Square: true}
	b.W, _ = rounded(unit.Why{Kind: unit.KindLength, Terms: slices.Clone(s.Along.Terms)}, step)
	b.D.Add(WhyWide, s.Usable.MM())
	p := geom.Box(0, 0, b.W.Value(), b.D.Value()).Turned((4 - quarters%4) % 4)
	if quarters%2 != 0 {
		b.W, b.D = b.D, b.W
	}
	b.Path = p.Translate(p.Bounds().Center().Mul(-1))
	return b
}

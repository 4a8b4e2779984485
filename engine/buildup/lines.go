package buildup

import (
	"fmt"
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/seat"
)

// field names an input of a numbered layer.
func field(what string, i int, rest string) string { return fmt.Sprintf("%s_%d%s", what, i+1, rest) }

// centreMark is the length of a centre mark in millimetres; half of it shows
// at a cut edge.
const centreMark = 12.7

// boardLine draws the board's outline on a blank.
func (m *maker) boardLine(b *Blank) {
	b.Lines = append(b.Lines, Line{Kind: LineBoard, Path: m.o.Board, Closed: true})
}

// notchLines draws the notches as reference lines.
func (m *maker) notchLines(b *Blank) {
	for _, n := range m.o.Notches {
		b.Lines = append(b.Lines, Line{Kind: LineNotch, Right: n.Right, Path: open(n.Side, n.Inner, n.Back)})
	}
}

// relief draws the cut for every post: a diagonal from the blank's corner that
// stops short of the notch's inner corner, then two arms.
//
// Source: S52 (grade C): 1 in short, two half-inch arms.
func (m *maker) relief(b *Blank) {
	r := m.s.Relief
	short, arm := r.ShortOf.Or(UsualShortOf).MM(), r.Arm.Or(UsualArm).MM()
	spread := r.Spread
	if spread == 0 {
		spread = UsualSpread
	}
	for _, n := range m.o.Notches {
		from := cornerOf(b, n)
		way := n.Inner.Sub(from)
		length := way.Len()
		if length <= short {
			continue // the blank's corner is nearer than that: nothing to cut
		}
		dir := way.Mul(1 / length)
		end := from.Add(dir.Mul(length - short))
		b.Lines = append(b.Lines, Line{Kind: LineRelief, Right: n.Right, Path: open(from, end)})
		if arm <= 0 {
			continue
		}
		for _, sign := range [...]float64{1, -1} {
			d := turned(dir, sign*spread*math.Pi/180)
			b.Lines = append(b.Lines, Line{Kind: LineRelief, Right: n.Right, Path: open(end, end.Add(d.Mul(arm)))})
		}
	}
}

// cornerOf is the blank's corner at a notch: of a rectangle its back corner,
// else the point where the line from the notch's inner corner through the
// board's corner leaves the blank.
func cornerOf(b *Blank, n seat.Notch) geom.Pt {
	bounds := b.Path.Bounds()
	if b.Square {
		if n.Right {
			return bounds.Max
		}
		return geom.P(bounds.Min.X, bounds.Max.Y)
	}
	dir := n.Corner.Sub(n.Inner)
	if dir.Len() == 0 {
		return n.Inner
	}
	dir = dir.Mul(1 / dir.Len())
	hits := b.Path.Hits(n.Inner, n.Inner.Add(dir.Mul(bounds.W()+bounds.H())))
	if len(hits) == 0 {
		return n.Inner
	}
	return hits[0].At
}

// centreMarks puts a short line across the blank's edge in front, at the back
// and at both sides, on the seat's centre lines.
func (m *maker) centreMarks(b *Blank) {
	c := m.out.Motif
	bounds := b.Path.Bounds()
	for _, side := range []struct {
		role seat.Role
		dir  geom.Pt
	}{{seat.Front, geom.P(0, -1)}, {seat.Left, geom.P(-1, 0)}, {seat.Right, geom.P(1, 0)}, {seat.Back, geom.P(0, 1)}} {
		// The last place where a line from the middle leaves the blank.
		hits := b.Path.Hits(c, c.Add(side.dir.Mul(bounds.W()+bounds.H())))
		if len(hits) == 0 {
			continue
		}
		at := hits[len(hits)-1].At
		half := side.dir.Mul(centreMark / 2)
		b.Lines = append(b.Lines, Line{Kind: LineCentre, Role: side.role, Path: open(at.Sub(half), at.Add(half))})
	}
}

// holes marks the screw holes.
func (m *maker) holes(b *Blank) {
	for _, h := range m.s.Holes {
		b.Lines = append(b.Lines, Line{Kind: LineHole, Path: geom.Circle(h, HoleRadius), Closed: true})
	}
}

// HoleRadius is how large a screw hole is drawn, in millimetres.
const HoleRadius = 3

func open(pts ...geom.Pt) geom.Path {
	out := make(geom.Path, len(pts))
	for i, p := range pts {
		out[i] = geom.Vertex{Pt: p}
	}
	return out
}

func turned(v geom.Pt, a float64) geom.Pt {
	s, c := math.Sincos(a)
	return geom.P(v.X*c-v.Y*s, v.X*s+v.Y*c)
}

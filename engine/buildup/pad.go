package buildup

import (
	"slipseat/engine/geom"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// pad makes the pieces of a boxed pad whose finished size is the outline:
// panel = finished + 2 seam; band = thickness + 2 seam; each half of a zip band
// = thickness / 2 + seam + zip seam; foam = finished + squeeze.
//
// Source: S9 (grade C, every size recomputed): foam 32 5/8 x 14 5/8 x 3 in,
// seam 5/8 in.
func (m *maker) pad() {
	s := m.s
	for i, l := range s.Foam {
		p := m.offset(all(s.Pad.Squeeze/2-l.Inset), field("foam", i, ""))
		if p == nil {
			return
		}
		b := Blank{Part: PartFoam, Layer: i, Goods: l.Goods, Count: 1, Motif: m.out.Motif}
		b.W, b.D = m.sized(WhyFinished, m.box)
		for _, w := range []*unit.Why{&b.W, &b.D} {
			if s.Pad.Squeeze > 0 {
				w.Add(WhySqueeze, s.Pad.Squeeze.MM())
			}
			if l.Inset > 0 {
				w.Add(WhyInset, -2*l.Inset.MM(), unit.A("side", l.Inset))
			}
		}
		m.finish(&b, p, s.FoamSquared)
		m.centreMarks(&b)
		m.out.Blanks = append(m.out.Blanks, b)
		if i == 0 && s.Wadding.Thickness > 0 {
			// One sheet of wadding over the foam, one under it.
			w := b
			w.Part, w.Goods, w.Count, w.Lines = PartWadding, s.Wadding.Goods, 2, nil
			defer func() { m.out.Blanks = append(m.out.Blanks, w) }()
		}
	}
	m.panel(PartTop)
	m.panel(PartBottom)
	for _, r := range rolesOf(m.o) {
		m.band(r)
	}
	for range min(s.Pad.Ties, 1) {
		t := Blank{Part: PartTie, Goods: s.Cover.Goods, Count: s.Pad.Ties}
		t.W.Add(WhyTie, s.Pad.TieLength.MM())
		t.D.Add(WhyTie, s.Pad.TieWidth.MM())
		m.strip(&t)
	}
}

func (m *maker) panel(part Part) {
	seam := m.s.Pad.Seam
	p := m.offset(all(seam), "pad_seam")
	if p == nil {
		return
	}
	b := Blank{Part: part, Goods: m.s.Cover.Goods, Count: 1, Motif: m.out.Motif}
	b.W, b.D = m.sized(WhyFinished, m.box)
	for _, w := range []*unit.Why{&b.W, &b.D} {
		w.Add(WhySeam, 2*seam.MM(), unit.A("side", seam))
	}
	m.finish(&b, p, false)
	b.Lines = append(b.Lines, Line{Kind: LineBoard, Path: m.o.Filled, Closed: true})
	m.centreMarks(&b)
	m.out.Blanks = append(m.out.Blanks, b)
}

// band adds the border band along the edges of one role: one piece, or two
// halves with a zip between them at the back. A round pad has one edge; its
// zip takes half of it.
func (m *maker) band(r seat.Role) {
	pad := m.s.Pad
	edge := m.edgeLength(r)
	round := len(rolesOf(m.o)) == 1
	zipped := pad.Zip && (r == seat.Back || round)
	length := func(edge unit.Length) unit.Why {
		w := unit.Why{Kind: unit.KindLength}
		w.Add(WhyBandEdge, edge.MM())
		w.Add(WhySeam, 2*pad.Seam.MM(), unit.A("side", pad.Seam))
		return w
	}
	if round && zipped {
		edge /= 2
	}
	if !zipped || round {
		b := Blank{Part: PartBand, Role: r, Goods: m.s.Cover.Goods, Count: 1, W: length(edge)}
		b.D.Add(WhyThick, pad.Thickness.MM())
		b.D.Add(WhySeam, 2*pad.Seam.MM(), unit.A("side", pad.Seam))
		m.strip(&b)
	}
	if zipped {
		b := Blank{Part: PartZipBand, Role: r, Goods: m.s.Cover.Goods, Count: 2, W: length(edge)}
		b.D.Add(WhyHalfThick, pad.Thickness.MM()/2)
		b.D.Add(WhySeam, pad.Seam.MM(), unit.A("side", pad.Seam))
		b.D.Add(WhyZipSeam, pad.ZipSeam.MM())
		m.strip(&b)
	}
}

// strip finishes a piece that is no part of the seat's plan: a rectangle in
// its own frame with its middle at the origin.
func (m *maker) strip(b *Blank) {
	b.W, _ = rounded(b.W, m.step)
	b.D, _ = rounded(b.D, m.step)
	w, d := b.W.Value(), b.D.Value()
	b.Path, b.Square = geom.Box(-w/2, -d/2, w/2, d/2), true
	m.out.Blanks = append(m.out.Blanks, *b)
}

// edgeLength is the length of the finished pad's edges of one role, notches
// filled.
func (m *maker) edgeLength(r seat.Role) unit.Length {
	var l float64
	for i, role := range m.o.Roles {
		if role == r {
			l += m.o.Filled.Segment(i).Length()
		}
	}
	return unit.Length(l)
}

package seatview

import (
	"math"

	"slipseat/engine/buildup"
	"slipseat/engine/geom"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// Pad is a padded seat as a solid.
type Pad struct {
	profile
	// flat is the edge of the flat top, and normals the directions out from its
	// corners in which the edge goes down: one or, round a corner, several.
	flat geom.Polygon
	rim  []spoke
	// stretch is by how much longer the cover is than the domed top it lies
	// on, seen from above, across and along; about centre.
	stretchX, stretchY float64
	centre             geom.Pt
	banded             bool // the sides are bands of their own
}

// spoke is a line down the side of the seat.
type spoke struct {
	at   geom.Pt // on the edge of the flat top
	out  geom.Pt // unit vector
	side float64 // place along the edge of the flat top, for bands
}

// rollEdge is how far a sewn pad's edge rolls over at its seam: a look, not a
// measure.
const rollEdge = 6 * unit.MM

// fanAngle is the greatest angle between two spokes round a corner.
const fanAngle = math.Pi / 24

// New makes the solid of a seat that was worked out. It has none, and tells
// false, where the outline is too small for its edge to round.
func New(o seat.Outline, s buildup.Spec, r buildup.Result) (*Pad, bool) {
	if o.Empty() {
		return nil, false
	}
	p := &Pad{centre: o.Board.Bounds().Center(), stretchX: 1, stretchY: 1}
	if s.Kind == buildup.BoxedPad {
		p.banded = true
		w, d := o.Size()
		p.profile = padProfile(s.Pad.Thickness, min(rollEdge, s.Pad.Thickness/3, w/8, d/8))
	} else {
		wrap, ok := r.Wrap(seat.Front)
		if !ok {
			return nil, false
		}
		var crown, in unit.Length
		for _, l := range s.Foam {
			if l.Inset > 0 {
				crown += l.Thickness
				in = max(in, l.Inset)
			}
		}
		p.profile = sectionProfile(wrap.Section, crown, in)
		w, d := o.Size()
		for _, dome := range []struct {
			role seat.Role
			half unit.Length
			k    *float64
		}{{seat.Left, w / 2, &p.stretchX}, {seat.Front, d / 2, &p.stretchY}} {
			if side, ok := r.Wrap(dome.role); ok && dome.half > 0 {
				*dome.k = 1 + side.Section.Dome.MM()/dome.half.MM()
			}
		}
	}
	flat, err := geom.Offset(o.Board, func(int) float64 { return -p.inset })
	if err != nil || len(flat) == 0 {
		return nil, false
	}
	p.flat = flat.Flatten(geom.ChordTol)
	if len(p.flat) < 3 {
		return nil, false
	}
	p.spokes()
	return p, true
}

// spokes sets the lines down the side, a fan of them round every corner.
func (p *Pad) spokes() {
	n := len(p.flat)
	along := 0.0
	for i, at := range p.flat {
		before, after := p.flat[(i+n-1)%n], p.flat[(i+1)%n]
		in, on := at.Sub(before).Unit().Right(), after.Sub(at).Unit().Right()
		turn := math.Atan2(in.Cross(on), in.Dot(on))
		switch {
		case turn > fanAngle: // outside corner
			k := int(math.Ceil(turn / fanAngle))
			for j := range k + 1 {
				p.rim = append(p.rim, spoke{at, in.Rotated(turn * float64(j) / float64(k)), along})
			}
		default: // smooth, or an inside corner, whose cover is drawn into the crease
			out := in.Add(on)
			if out.Len() < 1e-6 {
				out = on
			}
			p.rim = append(p.rim, spoke{at, out.Unit(), along})
		}
		along += at.Dist(after)
	}
}

// blank gives the place on the spread cover of a point of the flat top.
func (p *Pad) blank(q geom.Pt) geom.Pt {
	d := q.Sub(p.centre)
	return p.centre.Add(geom.P(d.X*p.stretchX, d.Y*p.stretchY))
}

// Bounds is the box of the seat as seen from above.
func (p *Pad) Bounds() geom.Rect { return p.flat.Bounds().Grow(p.reach()) }

// Size is how wide and deep the finished seat is.
func (p *Pad) Size() (w, d unit.Length) {
	b := p.Bounds()
	return unit.Length(b.W()), unit.Length(b.H())
}

// Height is from the board's underside to the flat top.
func (p *Pad) Height() unit.Length { return unit.Length(p.high()) }

// above is what is seen of the cover from straight above at q: the place on
// the spread cover, the normal, and how far inside of the seat's edge it lies
// (negative outside).
func (p *Pad) above(q geom.Pt) (on geom.Pt, normal [3]float64, inside float64) {
	d := p.flat.Distance(q)
	if p.flat.Contains(q) {
		return p.blank(q), [3]float64{0, 0, 1}, d + p.reach()
	}
	if d >= p.reach()+2 {
		return geom.Pt{}, normal, p.reach() - d
	}
	at := nearest(p.flat, q)
	out := q.Sub(at).Unit()
	along, nOut, nUp, ok := p.from(min(d, p.reach()))
	if !ok {
		return geom.Pt{}, normal, p.reach() - d
	}
	on = p.blank(at).Add(out.Mul(along))
	return on, [3]float64{out.X * nOut, out.Y * nOut, nUp}, p.reach() - d
}

// nearest is the point of the ring nearest to q.
func nearest(g geom.Polygon, q geom.Pt) geom.Pt {
	best, at := math.Inf(1), q
	for i, a := range g {
		s := geom.Segment{A: a, B: g[(i+1)%len(g)]}
		if n := s.Nearest(q); n.Dist(q) < best {
			best, at = n.Dist(q), n
		}
	}
	return at
}

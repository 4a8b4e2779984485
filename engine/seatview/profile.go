// Package seatview shows a padded seat with its cover on: from straight above
// and from a slant. The cover is followed over the section of the build-up, so
// that every point of the cloth appears where it will lie.
//
// The seat's frame is the outline's: x to the right, y to the back, z up from
// the board's underside. A point of the cover is named by where it lies on the
// blank spread flat, in the same frame.
package seatview

import (
	"math"

	"slipseat/engine/buildup"
	"slipseat/engine/unit"
)

// step is a point of the cover's section: how far outside of the flat top's
// edge it lies, how high over the board's underside, and how far from the flat
// top's edge along the cover.
type step struct{ out, z, along float64 }

// profile is the cover's section from the edge of the flat top outwards, over
// the edge and down to the board's lower edge.
type profile struct {
	// inset is how far inside of the board's edge the flat top ends.
	inset float64
	steps []step
	drop  int // from this step on it hangs and is not seen from above
}

// softEdge is the radius to which the edge of a cover looks rounded at least,
// in millimetres. A look, not a measure.
const softEdge = 9

// arcSteps is the number of straight pieces of the rounded edge.
const arcSteps = 24

// sectionProfile is the profile of a pulled-over cover, term by term that of
// buildup.Section.Wrap. crown and crownIn are the height of the crown layers
// over the foam's edge and how far inside of it they end.
func sectionProfile(s buildup.Section, crown, crownIn unit.Length) profile {
	t, r, w := s.Foam.MM(), s.Radius.MM(), s.Wadding.MM()
	o, b := s.Overhang.MM(), s.Board.MM()
	top := b + t + w
	var p profile
	add := func(out, z float64) {
		along := 0.0
		if n := len(p.steps); n > 0 {
			last := p.steps[n-1]
			along = last.along + math.Hypot(out-last.out, z-last.z)
		}
		p.steps = append(p.steps, step{out, z, along})
	}
	// A cover never breaks as sharply as a foam's cut edge: it is shaded round
	// over a little on both sides, though it lies where the section says.
	soft := 0.0
	if r+w < softEdge {
		soft = min(softEdge-r-w, t/3)
	}
	// The crown slopes down to where the edge begins to round.
	if h, in := crown.MM(), crownIn.MM(); h > 0 && in > 0 {
		add(0, top+h)
		add(in, top)
		p.inset = in
	} else {
		add(0, top)
		if soft > 0 {
			add(soft, top)
			p.inset = soft
		}
	}
	edge := p.steps[len(p.steps)-1]
	p.inset -= o - r
	radius := r + w
	for i := 1; radius > 0 && i <= arcSteps; i++ {
		a := math.Pi / 2 * float64(i) / arcSteps
		// The true arc's length is kept, not that of its chords.
		p.steps = append(p.steps, step{edge.out + radius*math.Sin(a), top - radius*(1-math.Cos(a)), edge.along + radius*a})
	}
	if soft > 0 {
		add(edge.out+radius, top-radius-soft)
	}
	p.drop = len(p.steps) - 1
	out := edge.out - (o - r) // of the board's edge
	if s.OverBoard {
		add(out+o+w, b)
		add(out+w, 0)
	} else {
		add(out+o+w, b)
		add(out, 0)
	}
	return p
}

// padProfile is the profile of a boxed pad: a flat top to its seam and a band
// that hangs from it, which begins anew in its own cloth.
func padProfile(thickness, roll unit.Length) profile {
	h, r := thickness.MM(), roll.MM()
	p := profile{inset: r, steps: []step{{0, h, 0}}}
	for i := 1; i <= arcSteps/3; i++ {
		a := math.Pi / 2 * float64(i) / (arcSteps / 3)
		p.steps = append(p.steps, step{r * math.Sin(a), h - r*(1-math.Cos(a)), r * a})
	}
	p.drop = len(p.steps) - 1
	p.steps = append(p.steps, step{r, 0, r*math.Pi/2 + h - r})
	return p
}

// from gives the place along the cover and the slope of the section at a
// distance outside of the flat top's edge, as seen from above; false beyond
// the edge. The slope is given as the normal's share outwards and up.
func (p *profile) from(out float64) (along, nOut, nUp float64, ok bool) {
	for i := 1; i <= p.drop; i++ {
		a, b := p.steps[i-1], p.steps[i]
		if out > b.out {
			continue
		}
		t := 0.0
		if b.out > a.out {
			t = (out - a.out) / (b.out - a.out)
		}
		nOut, nUp = p.normal(i, t)
		return a.along + t*(b.along-a.along), nOut, nUp, true
	}
	return 0, 0, 0, false
}

// normal is the cover's normal in the section on piece i, which ends at step
// i, a share t of the way. It is blended from step to step, except where the
// cover has a crease: over the lower edge of the foam.
func (p *profile) normal(i int, t float64) (nOut, nUp float64) {
	at := func(k int) (float64, float64) {
		a, b := p.steps[max(0, k-1)], p.steps[min(k+1, p.drop)]
		l := math.Hypot(b.out-a.out, b.z-a.z)
		if k == 0 || l == 0 {
			return 0, 1
		}
		return (a.z - b.z) / l, (b.out - a.out) / l
	}
	if i > p.drop {
		a, b := p.steps[i-1], p.steps[i]
		l := math.Hypot(b.out-a.out, b.z-a.z)
		if l == 0 {
			return 1, 0
		}
		return (a.z - b.z) / l, (b.out - a.out) / l
	}
	o0, u0 := at(i - 1)
	o1, u1 := at(i)
	if i == p.drop {
		o1, u1 = 1, 0
	}
	nOut, nUp = o0+t*(o1-o0), u0+t*(u1-u0)
	l := math.Hypot(nOut, nUp)
	return nOut / l, nUp / l
}

// reach is how far outside of the flat top's edge the cover goes.
func (p *profile) reach() float64 { return p.steps[p.drop].out }

// high is the height of the flat top.
func (p *profile) high() float64 { return p.steps[0].z }

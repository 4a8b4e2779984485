// Package hand is the hand work on a lay: what a piece that is moved snaps to,
// how it may be turned, and what is wrong with the place it is at. The rules
// are those of lay.Check; this package only finds good places.
package hand

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// Hand holds one piece of a lay while the others stay.
type Hand struct {
	p      lay.Problem // the held piece is not fixed in it
	kind   lay.Kind
	others []other
	all    *lay.Spot // among all other pieces
	held   *lay.Spot // among those that are fixed
}

type other struct {
	lay.Place
	box   geom.Rect
	fixed bool
}

// New takes a piece of a lay into the hand. Places are those of the whole lay.
func New(p lay.Problem, places []lay.Place, kind, copy int) *Hand {
	h := &Hand{p: p, kind: p.Kinds[kind]}
	type key struct{ kind, copy int }
	fixed := map[key]bool{}
	h.p.Fixed = nil
	for _, f := range p.Fixed {
		if f.Kind != kind || f.Copy != copy {
			h.p.Fixed = append(h.p.Fixed, f)
			fixed[key{f.Kind, f.Copy}] = true
		}
	}
	var all, held []lay.Place
	for _, q := range places {
		if q.Kind == kind && q.Copy == copy {
			continue
		}
		o := other{Place: q, box: p.Placed(q).Bounds(), fixed: fixed[key{q.Kind, q.Copy}]}
		h.others = append(h.others, o)
		all = append(all, q)
		if o.fixed {
			held = append(held, q)
		}
	}
	h.all, h.held = lay.NewSpot(h.p, all), lay.NewSpot(h.p, held)
	return h
}

// Verdict is what the judge says of a place.
type Verdict struct {
	// Faults say why the piece cannot stay there, whatever the others do.
	Faults []unit.Fault
	// MakeWay are the pieces, not held themselves, that would have to go
	// elsewhere.
	MakeWay []lay.Place
}

// Clear tells that nothing is in the way.
func (v Verdict) Clear() bool { return len(v.Faults) == 0 && len(v.MakeWay) == 0 }

// Judge says what is wrong with a place.
func (h *Hand) Judge(at lay.Place) Verdict {
	v := Verdict{Faults: h.held.Faults(at)}
	for _, f := range h.all.Faults(at) {
		if f.Code != lay.CodeOverlap && f.Code != lay.CodeGap {
			continue
		}
		for _, a := range f.Args {
			name, _ := a.Value.(string)
			for _, o := range h.others {
				if a.Name == "other" && !o.fixed && h.p.Name(o.Kind, o.Copy) == name {
					v.MakeWay = append(v.MakeWay, o.Place)
				}
			}
		}
	}
	return v
}

// Snap moves a place to the nearest good one. Across and along by themselves: to
// the pattern, where a rule binds the piece to it; else to the edge of the
// goods, a neighbour or a flaw at the least gap, or in line with a neighbour,
// whichever is nearest within reach; else to the marking step.
func (h *Hand) Snap(at lay.Place, reach float64) lay.Place {
	at.At.Y += h.pull(at, true, reach)
	at.At.X += h.pull(at, false, reach)
	return at
}

// Nudge moves a place by so many steps along and across: marking steps, or
// repeats where the pattern binds the piece.
func (h *Hand) Nudge(at lay.Place, along, across int) lay.Place {
	step := max(h.p.Step.MM(), 0.1)
	by := func(n int, across bool) float64 {
		if _, period, ok := h.node(at, across); ok {
			return float64(sign(n)) * period
		}
		return float64(n) * step
	}
	at.At = at.At.Add(geom.P(by(along, false), by(across, true)))
	return h.Snap(at, 0)
}

func sign(n int) int {
	switch {
	case n < 0:
		return -1
	case n > 0:
		return 1
	}
	return 0
}

// Turned gives the next turn that the piece may take, counter-clockwise about
// its middle and kept on the goods; ok is false when there is no other.
func (h *Hand) Turned(at lay.Place) (next lay.Place, ok bool) {
	for i := lay.Turn(1); i < 4; i++ {
		t := (at.Turn + i) % 4
		if !h.kind.Turns.Has(t) {
			continue
		}
		middle := h.box(at).Center()
		at.Turn = t
		at.At = at.At.Add(middle.Sub(h.box(at).Center()))
		return h.Snap(h.inside(at), 0), true
	}
	return at, false
}

func (h *Hand) box(at lay.Place) geom.Rect {
	return h.kind.Shape.Turned(int(at.Turn)).Translate(at.At).Bounds()
}

// inside moves a place onto the goods, as far as they are long enough.
func (h *Hand) inside(at lay.Place) lay.Place {
	b, g := h.box(at), h.p.Bins[at.Bin]
	within := func(lo, hi, most float64) float64 {
		by := 0.0
		if most > 0 && hi > most {
			by = most - hi
		}
		return math.Max(by, -lo)
	}
	at.At = at.At.Add(geom.P(within(b.Min.X, b.Max.X, g.Length.MM()), within(b.Min.Y, b.Max.Y, g.Width.MM())))
	return at
}

// span is a box's extent across or along.
func span(r geom.Rect, across bool) (lo, hi float64) {
	if across {
		return r.Min.Y, r.Max.Y
	}
	return r.Min.X, r.Max.X
}

// pull is how far a place snaps in one direction.
func (h *Hand) pull(at lay.Place, across bool, reach float64) float64 {
	box, bin := h.box(at), h.p.Bins[at.Bin]
	lo, hi := span(box, across)
	end := bin.Length.MM()
	if across {
		end = bin.Width.MM()
	}
	if base, period, ok := h.node(at, across); ok {
		return h.onNode(at, across, base, period, end)
	}
	gap, by, best := h.p.Gap.MM(), 0.0, reach
	try := func(d float64) {
		if math.Abs(d) < best {
			by, best = d, math.Abs(d)
		}
	}
	try(-lo)
	if end > 0 {
		try(end - hi)
	}
	side, far := span(box, !across)
	beside := func(r geom.Rect) bool {
		a, b := span(r, !across)
		return a < far+gap+reach && b > side-gap-reach
	}
	for _, f := range bin.Flaws {
		if r := f.Bounds(); beside(r) {
			a, b := span(r, across)
			try(b + gap - lo)
			try(a - gap - hi)
		}
	}
	for _, o := range h.others {
		if o.Bin != at.Bin || o.Sheet != at.Sheet {
			continue
		}
		a, b := span(o.box, across)
		if beside(o.box) {
			try(b + gap - lo)
			try(a - gap - hi)
		}
		try(a - lo)
		try(b - hi)
	}
	if best < reach {
		return by
	}
	return unit.RoundNearest(unit.Length(lo), h.p.Step).MM() - lo
}

// onNode is how far the nearest place on the pattern lies that is on the goods.
func (h *Hand) onNode(at lay.Place, across bool, base, period, end float64) float64 {
	m := h.p.MotifOf(at)
	now := m.X
	if across {
		now = m.Y
	}
	by := base + math.Round((now-base)/period)*period - now
	lo, hi := span(h.box(at), across)
	const tol = float64(lay.CheckTol)
	if lo+by < -tol {
		by += math.Ceil((-tol-lo-by)/period) * period
	}
	if end > 0 && hi+by > end+tol {
		if back := math.Ceil((hi+by-end-tol)/period) * period; lo+by-back >= -tol {
			by -= back
		}
	}
	return by
}

// node gives one place of the motif point on the pattern in a direction, and
// the repeat there; ok is false where no rule binds the piece.
func (h *Hand) node(at lay.Place, across bool) (base, period float64, ok bool) {
	l := h.p.Bins[at.Bin].Lattice
	rule, period := h.kind.Along, l.Along.MM()
	if across {
		rule, period = h.kind.Across, l.Across.MM()
	}
	if rule == lay.Free || period <= 0 {
		return 0, 0, false
	}
	m := h.p.MotifOf(at).Sub(l.Phase)
	if rule == lay.Centred {
		if across {
			return l.Phase.Y, period, true
		}
		return l.Phase.X + drop(l, m.Y), period, true
	}
	for _, o := range h.others {
		k := h.p.Kinds[o.Kind]
		if k.Group != h.kind.Group || across && k.Across != lay.Alike || !across && k.Along != lay.Alike {
			continue
		}
		q := h.p.MotifOf(o.Place).Sub(h.p.Bins[o.Bin].Lattice.Phase)
		if across {
			return l.Phase.Y + q.Y, period, true
		}
		by := drop(l, m.Y) - drop(l, q.Y)
		if h.kind.Across != lay.Free && k.Across != lay.Free {
			by = drop(l, m.Y-q.Y)
		}
		return l.Phase.X + q.X + by, period, true
	}
	return 0, 0, false // the first of its group sets the pattern
}

// drop is how much later the column nearest to y starts (DESIGN section 5).
func drop(l lay.Lattice, y float64) float64 {
	if l.Across == 0 {
		return 0
	}
	return math.Round(y/l.Across.MM()) * l.Drop * l.Along.MM()
}

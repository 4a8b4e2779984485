package stages

import (
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

// status says in words how good a lay is, and whether that is good news.
func (d *Desk) status(goods string, g *plan.GoodsPlan) (words string, fine bool) {
	switch {
	case g == nil:
		return d.say("lay.none"), false
	case len(g.Faults) > 0 && d.LastLay(goods) != nil:
		return d.say("lay.stale-fault"), false
	case len(g.Faults) > 0:
		return d.say("lay.fault"), false
	case g.Lay == nil && d.LastLay(goods) != nil:
		return d.say("lay.stale"), false
	case g.Lay == nil:
		return d.say("proof.looking"), false
	}
	words = d.progress(g)
	switch {
	case g.Lay.Proved:
	case d.Searching(goods):
		words = d.say("lay.searching", arg("proof", words))
	case !d.Finished(goods):
		words = d.say("lay.stopped", arg("proof", words))
	}
	return words, true
}

// progress is a lay's length and how near it is to the least possible, in one
// line: "3 yd 6 in, 2 % above the least possible".
func (d *Desk) progress(g *plan.GoodsPlan) string {
	long := arg("length", d.reach(g))
	switch {
	case g.Sheet != nil:
		return d.pictures().Proof(g)
	case g.Lay.Proved && d.held(g):
		return d.say("lay.shortest-held", long)
	case g.Lay.Proved:
		return d.say("lay.shortest", long)
	case g.Lay.Bound > 0:
		share := unit.Share(float64(g.Lay.Length/g.Lay.Bound-1) * float64(unit.Whole))
		// Rounded up to a tenth of a per cent, so that it never claims too much.
		const tenth = unit.Percent / 10
		return d.say("lay.above", long, arg("share", (share+tenth-1)/tenth*tenth))
	}
	return d.say("lay.unknown", long)
}

// held tells whether pieces of goods are held, so that the lay is the shortest
// round them only.
func (d *Desk) held(g *plan.GoodsPlan) bool {
	for _, f := range g.Problem.Fixed {
		if g.Kinds[f.Kind].Spoiled == 0 {
			return true
		}
	}
	return false
}

// reach is how long a lay is, as cloth is measured: "3 yd 6 in", "2.84 m"; of
// foam how many sheets it takes.
func (d *Desk) reach(g *plan.GoodsPlan) string {
	if g.Sheet != nil {
		return d.say("lay.sheets", arg("sheets", g.Lay.Sheets))
	}
	if u := d.Units(); u.Cloth.Metric() {
		return u.ClothLabel(g.Lay.Length)
	}
	return unit.YardsLabel(g.Lay.Length)
}

// stack is several lays, one under the other.
type stack struct {
	lays   []*drawing.Lay
	at     []geom.Pt
	bounds geom.Rect
}

// stackGap is the room between two sheets for ruler and title, as a share of a
// sheet's height.
const stackGap = 0.45

func stacked(ins []drawing.LayIn) *stack {
	s := &stack{}
	y := 0.0
	for i, in := range ins {
		l := drawing.NewLay(in)
		b := l.Geometry().Bounds
		if i > 0 {
			y -= b.H() * (1 + stackGap)
		}
		at := geom.P(0, y)
		s.lays, s.at = append(s.lays, l), append(s.at, at)
		box := geom.Rect{Min: b.Min.Add(at), Max: b.Max.Add(at)}
		if i == 0 {
			s.bounds = box
		} else {
			s.bounds = s.bounds.Union(box)
		}
	}
	return s
}

func (s *stack) draw(st drawing.Style) drawing.Drawing {
	var d drawing.Drawing
	for i, l := range s.lays {
		d.Append(l.Draw(st).Placed(1, s.at[i]))
	}
	return d
}

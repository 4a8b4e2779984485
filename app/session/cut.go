package session

import (
	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

// CutCommand is the command that marks all that is laid on goods as cut: every
// piece where it lies, and the rests that are worth keeping for the shelf. It
// reports false while there is no lay.
func (s *Session) CutCommand(goods job.ID) (edit.MarkCut, bool) {
	g := s.plan.Find(string(goods))
	if g == nil || g.Lay == nil || g.Pending {
		return edit.MarkCut{}, false
	}
	c := edit.MarkCut{Goods: goods}
	for _, at := range g.Lay.Places {
		if l := g.Held(s.plan, at); !l.Spoiled {
			l.Cut = true
			c.Locked = append(c.Locked, job.LockOf(l))
		}
	}
	j := s.Job()
	for _, o := range g.Offcuts {
		m := job.Offcut{ID: job.NewID(s.o.Random), Shelf: job.NewID(s.o.Random), Origin: j.Name,
			Length: edit.Written(j, down(o.Rect.W(), j)), Width: edit.Written(j, down(o.Rect.H(), j))}
		if g.Roll != nil {
			m.Name, m.Lot = g.Roll.Name, lotOn(g, o)
			l := g.Problem.Bins[o.Bin].Lattice
			p := g.Roll.Pattern
			if p.FirstAlong.Set && l.Along > 0 {
				m.FirstAlong = edit.Written(j, first(l.Phase.X-o.Rect.Min.X, l.Along))
			}
			if p.FirstAcross.Set && l.Across > 0 && l.Drop == 0 {
				m.FirstAcross = edit.Written(j, first(l.Phase.Y-o.Rect.Min.Y, l.Across))
			}
		} else {
			m.Name = g.Sheet.Name
		}
		c.Made = append(c.Made, m)
	}
	return c, true
}

// down is a size as it can be cut from a rest: whole marking steps.
func down(mm float64, j job.Job) unit.Length {
	step := j.Step.Length()
	l := unit.RoundNearest(unit.Length(mm), step)
	if l > unit.Length(mm)+1e-6 {
		l -= step
	}
	return l
}

// first brings the place of a motif into the first repeat.
func first(at float64, repeat unit.Length) unit.Length {
	v := unit.Length(at)
	for v < 0 {
		v += repeat
	}
	for v >= repeat {
		v -= repeat
	}
	return v
}

// lotOn is the dye lot of the stretch that a rest lies on.
func lotOn(g *plan.GoodsPlan, o plan.Offcut) string {
	for _, piece := range g.Roll.Offcuts {
		if piece.ID == g.Problem.Bins[o.Bin].ID {
			return piece.Lot
		}
	}
	return g.Roll.Lot
}

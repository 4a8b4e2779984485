package session

import (
	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/engine/lay"
	"slipseat/engine/lay/search"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

// Laid is goods as they were laid, with the plan that they belong to.
type Laid struct {
	Plan  *plan.Plan
	Goods *plan.GoodsPlan
}

func (s *Session) layOf(id lay.ProblemID) (lay.Lay, bool) { l, ok := s.lays[id]; return l, ok }

// LastLay is the last lay that was shown for goods, for showing it greyed while
// there is none; nil when there was none.
func (s *Session) LastLay(goods string) *Laid { return s.last[goods] }

// OldLay is the lay of goods from before the last change of an input that
// matters, when it is another one than the present; nil when there is none.
func (s *Session) OldLay(goods string) *Laid {
	o, g := s.old[goods], s.plan.Find(goods)
	if o == nil || g == nil || asks(g, o.Goods.PID) {
		return nil
	}
	return o
}

// asks tells whether a problem is one that the goods ask to be solved now.
func asks(g *plan.GoodsPlan, id lay.ProblemID) bool {
	for _, a := range g.Searches() {
		if a.PID == id {
			return true
		}
	}
	return false
}

// remember keeps the lays that are shown: for when a new one is pending, and
// those of other inputs for having them back.
func (s *Session) remember() {
	if s.preview != nil {
		return
	}
	for i := range s.plan.Goods {
		g := &s.plan.Goods[i]
		if g.Lay == nil {
			continue
		}
		if was := s.last[g.ID]; was != nil && !asks(g, was.Goods.PID) && !sameLay(s.plan, g, was) {
			s.old[g.ID] = was
		}
		s.last[g.ID] = &Laid{s.plan, g}
	}
}

// sameLay tells whether every piece lies where it lay before.
func sameLay(p *plan.Plan, g *plan.GoodsPlan, was *Laid) bool {
	if len(g.Lay.Places) != len(was.Goods.Lay.Places) {
		return false
	}
	places, missing := g.Carried(p, *was.Goods, was.Plan)
	if len(missing) > 0 || len(places) != len(g.Lay.Places) {
		return false
	}
	type key struct{ kind, copy int }
	at := map[key]lay.Place{}
	for _, q := range places {
		at[key{q.Kind, q.Copy}] = q
	}
	for _, q := range g.Lay.Places {
		if o, ok := at[key{q.Kind, q.Copy}]; !ok || o.Turn != q.Turn || o.Sheet != q.Sheet || o.At.Dist(q.At) > float64(lay.CheckTol) {
			return false
		}
	}
	return true
}

// olderVersions is how many versions back a lay from before is looked for when
// a job is opened.
const olderVersions = 8

// findOld looks through the job's versions for the lays from before the last
// changes, so that they can be had back after a restart too.
func (s *Session) findOld() {
	log := s.history.Log()
	for i := log.Cursor - 1; i >= 0 && i >= log.Cursor-olderVersions; i-- {
		p := plan.Make(log.Entries[i].Job.Input(), nil, s.layOf)
		for k := range p.Goods {
			o := &p.Goods[k]
			g := s.plan.Find(o.ID)
			if s.old[o.ID] != nil || o.Lay == nil || g == nil || g.Lay == nil || asks(g, o.PID) || len(lay.Check(o.Problem, *o.Lay)) > 0 {
				continue
			}
			if l := (&Laid{p, o}); !sameLay(s.plan, g, l) {
				s.old[o.ID] = l
			}
		}
	}
}

// manyPieces is from where on a new lay is not also tried with the pieces that
// nothing forces to move.
const manyPieces = 150

// firstLay answers the problems of goods at once: with the lay before where it
// still holds, with as little of it changed as possible, or with a new one; the
// shortest, and of equally short ones the first. The judge sees every lay
// before it is shown. A lay without places says that there is none.
func (s *Session) firstLay(g *plan.GoodsPlan) {
	var places []lay.Place
	all := false
	if was := s.last[g.ID]; was != nil {
		var missing []lay.Place
		places, missing = g.Carried(s.plan, *was.Goods, was.Plan)
		all = len(missing) == 0
	}
	for _, a := range g.Searches() {
		if a.Lay == nil && !a.NoRoom {
			l, faults := answer(a.Problem, places, all)
			s.lays[a.PID] = l
			if len(faults) > 0 {
				s.refused[a.PID] = faults
			}
		}
	}
}

func answer(p lay.Problem, places []lay.Place, all bool) (lay.Lay, []unit.Fault) {
	var best lay.Lay
	take := func(l lay.Lay) {
		if len(lay.Check(p, l)) == 0 && (best.Places == nil || shorter(l, best)) {
			best = l
		}
	}
	if all && len(places) > 0 {
		take(whole(p, places))
	}
	if best.Places == nil && len(places) > 0 && len(places) <= manyPieces {
		if l, ok := mended(p, places); ok {
			take(l)
		}
	}
	l, faults := search.First(p)
	if len(faults) == 0 {
		if faults = lay.Check(p, l); len(faults) == 0 {
			take(l)
		}
	}
	if best.Places == nil {
		return lay.Lay{}, faults
	}
	return best, nil
}

// shorter tells whether a lay is shorter by more than the eye sees.
func shorter(a, b lay.Lay) bool {
	if a.Sheets != b.Sheets {
		return a.Sheets < b.Sheets
	}
	return a.Length < b.Length-lay.ProvedWithin
}

// whole makes a lay of places, with its length and bound.
func whole(p lay.Problem, places []lay.Place) lay.Lay {
	l := lay.Lay{Places: places}
	l.Length, l.Sheets = lay.Extent(p, places)
	lay.Bounded(p, &l)
	return l
}

// mended keeps the pieces that are clear of the held ones and of the flaws
// where they lay, and looks for places for the others.
func mended(p lay.Problem, places []lay.Place) (lay.Lay, bool) {
	type key struct{ kind, copy int }
	held := map[key]bool{}
	for _, f := range p.Fixed {
		held[key{f.Kind, f.Copy}] = true
	}
	spot, q := lay.NewSpot(p, p.Fixed), p
	q.Fixed = append([]lay.Place{}, p.Fixed...)
	for _, at := range places {
		if !held[key{at.Kind, at.Copy}] && len(spot.Faults(at)) == 0 {
			q.Fixed = append(q.Fixed, at)
		}
	}
	if len(q.Fixed) == len(p.Fixed) {
		return lay.Lay{}, false
	}
	l, faults := search.First(q)
	if len(faults) > 0 {
		return lay.Lay{}, false
	}
	return whole(p, l.Places), true
}

// Refused are the reasons why goods have no lay.
func (s *Session) Refused(goods string) []unit.Fault {
	if g := s.plan.Find(goods); g != nil && g.Lay == nil {
		return s.refused[g.PID]
	}
	return nil
}

// Keeping makes the command that holds the pieces of goods where they lie: as
// on screen, or where the lay before had them. left is how many pieces of the
// lay before cannot lie there any more; they are laid around the others.
func (s *Session) Keeping(goods string, old bool) (c edit.KeepLay, left int) {
	g := s.plan.Find(goods)
	c = edit.KeepLay{Goods: job.ID(goods)}
	if g == nil {
		return c, 0
	}
	var places []lay.Place
	switch was := s.OldLay(goods); {
	case old && was != nil:
		places, _ = g.Carried(s.plan, *was.Goods, was.Plan)
	case g.Lay != nil:
		places = g.Lay.Places
	}
	// What is cut or spoiled stays; what was only locked gives way to the lay
	// that is kept.
	p := g.Problem
	p.Fixed = nil
	done := map[[2]int]bool{}
	for _, l := range s.plan.In.Locked {
		if kind, copy, ok := g.Where(s.plan, l); ok && (l.Cut || l.Spoiled) {
			done[[2]int{kind, copy}] = true
		}
	}
	for _, f := range g.Problem.Fixed {
		if done[[2]int{f.Kind, f.Copy}] {
			p.Fixed = append(p.Fixed, f)
		}
	}
	spot := lay.NewSpot(p, p.Fixed)
	for _, at := range places {
		if done[[2]int{at.Kind, at.Copy}] || g.Kinds[at.Kind].Spoiled > 0 {
			continue
		}
		if len(spot.Faults(at)) > 0 {
			left++
			continue
		}
		spot.Add(at)
		c.Locked = append(c.Locked, job.LockOf(g.Held(s.plan, at)))
	}
	return c, left
}

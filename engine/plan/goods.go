package plan

import (
	"slices"

	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// roll builds the problem of a cloth; ok is false when nothing is cut from it.
func (p *Plan) roll(r *Roll, prev *Plan, lays func(lay.ProblemID) (lay.Lay, bool)) (GoodsPlan, bool) {
	g := GoodsPlan{ID: r.ID, Roll: r}
	kinds, problem, faults := p.kinds(r.ID, r.Lie.Base(), false)
	welts, strips, bad := p.welt(r)
	faults = append(faults, bad...)
	if len(kinds)+len(welts)+len(faults) == 0 {
		return g, false
	}
	for i := range problem {
		k := &problem[i]
		k.Turns = cloth.Turns(r.Cloth)
		switch kinds[i].Blank.Part {
		case buildup.PartTie, buildup.PartZipBand:
			// Too small, or out of sight, to be set on the pattern.
		default:
			k.Along, k.Across = r.Pattern.RuleAlong, r.Pattern.RuleAcross
		}
	}
	g.Kinds = append(kinds, welts...)
	g.Problem = lay.Problem{Kinds: append(problem, strips...), Gap: r.Cloth.Marked(p.In.Step).Gap, RowsOnly: r.RowsOnly, Step: p.In.Step}
	g.Faults = append(r.Check(), faults...)
	var phases []unit.Length
	if len(g.Faults) == 0 {
		phases = cloth.PhasesAcross(r.Cloth.Marked(p.In.Step), reaches(g.Problem.Kinds))
	}
	p.finish(&g, prev, lays, phases, func(across unit.Length) []lay.Bin {
		return r.bins(p.In.Step, across, lead(r.Pattern.Along, g.Problem.Kinds))
	})
	if g.Lay != nil && len(g.Faults) == 0 {
		c := toBuy(r.Cloth)
		g.Buy = cloth.Buy(c, g.Lay.Length)
		if g.Phases != nil && !g.Pending {
			g.Best = cloth.Buy(c, best(g.Phases))
		}
		g.Hand = g.hand(p)
		end := unit.Length(0)
		if g.Buy.Value() > 0 {
			end = g.Buy.Length() - c.SquareUp - cloth.RepeatSpare(c)
		}
		g.rests(p, prev, end)
	}
	return g, true
}

// sheet builds the problem of a foam; ok is false when nothing is cut from it.
func (p *Plan) sheet(f *cloth.Sheet, prev *Plan, lays func(lay.ProblemID) (lay.Lay, bool)) (GoodsPlan, bool) {
	g := GoodsPlan{ID: f.ID, Sheet: f}
	kinds, problem, faults := p.kinds(f.ID, 0, true)
	if len(kinds)+len(faults) == 0 {
		return g, false
	}
	for i := range problem {
		problem[i].Turns = f.Turns()
	}
	g.Kinds = kinds
	g.Problem = lay.Problem{Kinds: problem, Gap: f.Marked(p.In.Step).SawCut, Step: p.In.Step}
	g.Faults = append(f.Check(), faults...)
	p.finish(&g, prev, lays, nil, func(unit.Length) []lay.Bin { return sheetBins(*f, p.In.Step) })
	if g.Lay != nil && len(g.Faults) == 0 {
		g.rests(p, prev, 0)
	}
	return g, true
}

// finish counts the pieces, fixes the held ones and asks for the lay, or for
// one for every phase across.
func (p *Plan) finish(g *GoodsPlan, prev *Plan, lays func(lay.ProblemID) (lay.Lay, bool), phases []unit.Length, bins func(unit.Length) []lay.Bin) {
	for i, k := range g.Problem.Kinds {
		if k.Count > 0 && g.Kinds[i].Glued <= 1 {
			g.Pieces += k.Count
		}
	}
	first := unit.Length(0)
	if len(phases) > 0 {
		first = phases[0]
	}
	g.Problem.Bins = bins(first)
	g.hold(p)
	if len(g.Faults) == 0 {
		g.Faults = append(g.Faults, g.Problem.Validate()...)
	}
	if len(g.Faults) == 0 {
		all := []PhaseLay{{Across: first, Problem: g.Problem}}
		for _, at := range phases[min(1, len(phases)):] {
			q := g.Problem
			q.Bins = bins(at)
			all = append(all, PhaseLay{Across: at, Problem: q})
		}
		for i := range all {
			all[i].take(lays)
		}
		g.choose(all)
	}
	for i := range g.Faults {
		g.Faults[i].Where.Goods = g.ID
	}
}

// rests lists what is left over; of a lay that was there before it is taken
// over. end is where the open roll is cut off.
func (g *GoodsPlan) rests(p, prev *Plan, end unit.Length) {
	if prev != nil && prev.In.KeepFrom == p.In.KeepFrom {
		if old := prev.Find(g.ID); old != nil && old.PID == g.PID && old.Lay != nil && old.end == end && slices.Equal(old.Lay.Places, g.Lay.Places) {
			g.Offcuts, g.end = old.Offcuts, end
			return
		}
	}
	least := p.In.KeepFrom
	if least <= 0 {
		least = LeastOffcut
	}
	g.Offcuts, g.end = offcuts(g.Problem, *g.Lay, least, end), end
}

func sortNumbers(list []SeatNumber) {
	slices.SortFunc(list, func(a, b SeatNumber) int {
		if a.Seat != b.Seat {
			return a.Seat - b.Seat
		}
		return a.Number - b.Number
	})
}

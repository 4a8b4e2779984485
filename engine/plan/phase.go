package plan

import (
	"math"
	"slices"

	"slipseat/engine/cloth"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// PhaseLay is a problem with its lay, for one place where the pattern may
// start across.
type PhaseLay struct {
	Across  unit.Length // of the first motif from the near edge of the usable width
	Problem lay.Problem
	PID     lay.ProblemID
	Lay     *lay.Lay // nil while it is pending
	// NoRoom: with the pattern there, not all pieces find a place at all.
	NoRoom bool
}

// reaches tells how far the kinds that are bound across extend to either side
// of their motif point, at every turn that they may take.
func reaches(kinds []lay.Kind) []cloth.Reach {
	var out []cloth.Reach
	for _, k := range kinds {
		if k.Count <= 0 || k.Across != lay.Centred {
			continue
		}
		for t := lay.Turn(0); t < 4; t++ {
			if !k.Turns.Has(t) {
				continue
			}
			box, at := k.Shape.Turned(int(t)).Bounds(), k.Motif.Turned(int(t))
			r := cloth.Reach{Low: unit.Length(at.Y - box.Min.Y), High: unit.Length(box.Max.Y - at.Y)}
			if !slices.Contains(out, r) {
				out = append(out, r)
			}
		}
	}
	return out
}

// lead is where the first motif along would lie best, as far as one kind alone
// can tell: where the pieces that take most cloth begin right at the cut end.
// Wherever it lies in truth, the lay is moved along by less than one repeat.
func lead(repeat unit.Length, kinds []lay.Kind) unit.Length {
	most, at := 0.0, 0.0
	for _, k := range kinds {
		if area := k.Shape.Area() * float64(k.Count); k.Along == lay.Centred && area > most {
			most, at = area, k.Motif.X-k.Shape.Bounds().Min.X
		}
	}
	if repeat <= 0 || most == 0 {
		return 0
	}
	at = math.Mod(at, repeat.MM())
	if at < 0 {
		at += repeat.MM()
	}
	return unit.Length(at)
}

// CodeNoLay is the fault of goods on which not all pieces find a place: flaws,
// held pieces or the pattern leave no room.
const CodeNoLay = "plan.no-room"

// take asks for the lay of a problem. A lay without places for a problem with
// pieces says that there is none.
func (s *PhaseLay) take(lays func(lay.ProblemID) (lay.Lay, bool)) {
	s.PID = s.Problem.ID()
	l, ok := lays(s.PID)
	switch {
	case !ok:
	case len(l.Places) == 0 && len(s.Problem.Kinds) > 0:
		s.NoRoom = true
	default:
		s.Lay = &l
	}
}

// choose settles the goods on one of their problems: the only one, or of all
// phases the one that takes most. Until every phase has its lay they are
// pending, with the worst so far to show.
func (g *GoodsPlan) choose(all []PhaseLay) {
	worst := 0
	none := true
	for i, s := range all {
		g.Pending = g.Pending || s.Lay == nil && !s.NoRoom
		none = none && s.NoRoom
		if longer(s.Lay, all[worst].Lay) {
			worst = i
		}
	}
	g.Problem, g.PID, g.Lay = all[worst].Problem, all[worst].PID, all[worst].Lay
	if len(all) > 1 {
		g.Phases = all
	}
	if none {
		g.Faults = append(g.Faults, unit.Fault{Code: CodeNoLay, Where: unit.Where{Goods: g.ID}})
	}
}

func longer(a, b *lay.Lay) bool { return a != nil && (b == nil || a.Length > b.Length) }

// best is the shortest length of the phases' lays.
func best(all []PhaseLay) unit.Length {
	least, any := unit.Length(0), false
	for _, s := range all {
		if s.Lay != nil && (!any || s.Lay.Length < least) {
			least, any = s.Lay.Length, true
		}
	}
	return least
}

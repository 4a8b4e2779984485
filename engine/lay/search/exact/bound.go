package exact

import (
	"slipseat/engine/lay"
	"slipseat/engine/lay/search/skyline"
	"slipseat/engine/unit"
)

// Bound is a proved lower bound on the length of a lay, reckoned at once: the
// area of the squared pieces over the widest sum of them that fits side by side,
// and the longest of them, rounded up to the next length that a lay of them can
// have; for equal pieces on a pattern the closed form (LAY section 7). Leaving out the other
// pieces, flaws, pattern, rows and locked places only ever makes a lay shorter,
// so the bound holds with all of them. It is 0 where nothing can be said.
func Bound(p lay.Problem, in *skyline.Instance) unit.Length {
	l, _ := OnPattern(p)
	return max(l, inSteps(in))
}

func inSteps(in *skyline.Instance) unit.Length {
	g := in.Grid(true)
	if g == nil || !g.Exact {
		return 0
	}
	least := startBound(g, g.Reachable(reachFor(g)))
	if least == 0 {
		return 0
	}
	return max(0, g.MM(least)-boundSafety)
}

// startBound is the bound in steps; 0 where there is no squared piece.
func startBound(g *skyline.Grid, can []bool) int64 {
	t := newTask(g).bare()
	if t.n == 0 {
		return 0
	}
	least := t.bound(t.byWidth())
	for size := range t.count {
		least = max(least, t.shortest(size))
	}
	return nextReach(can, least)
}

// boundSafety is taken off bounds, in mm, for float noise.
const boundSafety = 1e-4

// reachFor is a length, in steps, up to which it is worth knowing what can be
// reached: twice what the area asks for, and the longest piece.
func reachFor(g *skyline.Grid) int64 {
	longest := int64(0)
	for _, ways := range g.Sizes {
		for _, z := range ways {
			longest = max(longest, z.L)
		}
	}
	return 2*(g.Area()/max(1, g.W)) + 2*longest
}

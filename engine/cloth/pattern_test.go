package cloth

import (
	"math"
	"testing"

	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

func TestColumns(t *testing.T) {
	for _, c := range []struct {
		name string
		p    Pattern
		want unit.Length
	}{
		{"none", Pattern{}, 0},
		{"straight, either way the same", Pattern{Across: 300, AcrossIs: OnOneLevel}, 300},
		{"half-drop between columns", Pattern{Along: 500, Across: 300, Drop: 0.5}, 300},
		{"half-drop on one level", Pattern{Along: 500, Across: 600, AcrossIs: OnOneLevel, Drop: 0.5}, 300},
		{"third on one level", Pattern{Along: 500, Across: 900, AcrossIs: OnOneLevel, Drop: 0.333}, 300},
		{"two thirds on one level", Pattern{Along: 500, Across: 900, AcrossIs: OnOneLevel, Drop: 2.0 / 3}, 300},
		{"quarter on one level", Pattern{Along: 500, Across: 1200, AcrossIs: OnOneLevel, Drop: 0.25}, 300},
		{"no simple fraction", Pattern{Along: 500, Across: 900, AcrossIs: OnOneLevel, Drop: 0.2871}, 0},
	} {
		if got := c.p.Columns(); math.Abs((got - c.want).MM()) > 1e-9 {
			t.Errorf("%s: got %v, want %v mm", c.name, got, c.want)
		}
	}
}

func TestLattice(t *testing.T) {
	c := Cloth{Pattern: Pattern{
		Along: 500, Across: 600, AcrossIs: OnOneLevel, Drop: 0.5,
		FirstAlong: unit.Some(620), FirstAcross: unit.Some(40),
	}}
	got := Lattice(c)
	want := lay.Lattice{Along: 500, Across: 300, Drop: 0.5, Phase: got.Phase}
	if got != want || got.Phase.X != 120 || got.Phase.Y != 40 {
		t.Errorf("got %+v", got)
	}
	c.Pattern.Across = 0
	if got := Lattice(c); got.Drop != 0 || got.Across != 0 || got.Phase.Y != 0 {
		t.Errorf("a cross stripe has no columns and no drop: got %+v", got)
	}
	if !Lattice(Cloth{}).None() {
		t.Error("plain cloth has a lattice")
	}
}

// fits counts the columns that can carry a piece of the given reach.
func fits(usable, h, phase unit.Length, r Reach) int {
	n := 0
	for v := phase; v <= usable; v += h {
		if v >= r.Low-1e-9 && v <= usable-r.High+1e-9 {
			n++
		}
	}
	return n
}

// Motifs 27 in apart on 54 in goods: two 27 in seats fit when the centres lie
// at 13 1/2 and 40 1/2 in, but only one when a motif lies on the selvedge.
// Source: S5 for the two motifs, the geometry is derived.
func TestWorstPhaseHalvesTheRow(t *testing.T) {
	c := Cloth{Width: 54 * unit.In, Pattern: Pattern{Along: 27 * unit.In, Across: 27 * unit.In, RuleAcross: lay.Centred}}
	r := Reach{13.5 * unit.In, 13.5 * unit.In}
	if got := fits(c.UsableWidth(), 27*unit.In, 13.5*unit.In, r); got != 2 {
		t.Errorf("centres at 13 1/2 and 40 1/2: got %d across, want 2", got)
	}
	phases := PhasesAcross(c, []Reach{r})
	worst := 99
	for _, p := range phases {
		worst = min(worst, fits(c.UsableWidth(), 27*unit.In, p, r))
	}
	if len(phases) != 1 || worst != 1 {
		t.Errorf("unmeasured: got phases %v, worst %d across; want one phase, 1 across", phases, worst)
	}
	c.Pattern.FirstAcross = unit.Some(13.5 * unit.In)
	if got := PhasesAcross(c, []Reach{r}); len(got) != 1 || got[0] != 13.5*unit.In {
		t.Errorf("measured: got %v, want the measured one", got)
	}
	c.Pattern.FirstAcross = unit.Opt{}
	c.Pattern.RuleAcross = lay.Alike
	if got := PhasesAcross(c, []Reach{r}); len(got) != 1 {
		t.Errorf("alike: the program chooses; got %v, want one phase", got)
	}
}

// The few phases must hold the worst of a fine sweep, for several kinds.
func TestPhasesHoldTheWorst(t *testing.T) {
	for _, c := range []struct {
		usable, h unit.Length
		reaches   []Reach
	}{
		{1371.6, 685.8, []Reach{{300, 300}}},
		{1371.6, 343, []Reach{{300, 310}, {290, 270}}},
		{1400, 410, []Reach{{250, 330}, {120, 100}, {400, 380}}},
		{1000, 250, []Reach{{125, 125}}},
	} {
		cl := Cloth{Usable: unit.Some(c.usable), Pattern: Pattern{Along: c.h, Across: c.h, RuleAcross: lay.Centred}}
		phases := PhasesAcross(cl, c.reaches)
		if len(phases) > 2*len(c.reaches) {
			t.Errorf("usable %v: %d phases for %d kinds", c.usable, len(phases), len(c.reaches))
		}
		for i, r := range c.reaches {
			worst := 99
			for _, p := range phases {
				worst = min(worst, fits(c.usable, c.h, p, r))
			}
			sweep := 99
			for k := range 20000 {
				sweep = min(sweep, fits(c.usable, c.h, c.h*unit.Length(k)/20000, r))
			}
			if worst != sweep {
				t.Errorf("usable %v kind %d: worst of the phases %d, of a sweep %d", c.usable, i, worst, sweep)
			}
		}
	}
}

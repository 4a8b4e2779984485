package cloth

import (
	"math"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

func TestUsableWidth(t *testing.T) {
	c := New("c1")
	if got, want := c.UsableWidth(), 53*unit.In; got != want {
		t.Errorf("54 in less two half-inch selvedges: got %v, want %v mm", got, want)
	}
	c.Usable = unit.Some(51 * unit.In)
	if got, want := c.UsableWidth(), 51*unit.In; got != want {
		t.Errorf("measured 51 in: got %v, want %v mm", got, want)
	}
	var none Cloth
	if got := none.UsableWidth(); got != 0 {
		t.Errorf("zero value: got %v, want 0", got)
	}
	c = Cloth{Width: 10, SelvedgeNear: 8, SelvedgeFar: 8}
	if got := c.UsableWidth(); got != 0 {
		t.Errorf("selvedges wider than the cloth: got %v, want 0", got)
	}
}

func TestTurns(t *testing.T) {
	v := Pattern{Along: 27 * unit.In}
	vNone := Pattern{Along: 27 * unit.In, NoUpDown: true}
	for _, c := range []struct {
		name  string
		cloth Cloth
		want  lay.Turns
		bends bool
	}{
		{"plain", Cloth{}, lay.AnyTurn, false},
		{"set direction", Cloth{Direction: SetDirection}, lay.EitherWay, false},
		{"nap", Cloth{Direction: OneWay}, lay.OneWay, false},
		{"pattern with up and down", Cloth{Pattern: v}, lay.OneWay, false},
		{"pattern without up or down", Cloth{Pattern: vNone}, lay.EitherWay, false},
		{"pattern without up or down on nap", Cloth{Pattern: vNone, Direction: OneWay}, lay.OneWay, false},
		{"repeat across only", Cloth{Pattern: Pattern{Across: 3 * unit.In}}, lay.OneWay, false},
		{"nap, half turns allowed all the same", Cloth{Direction: OneWay, Turning: AllowHalf}, lay.EitherWay, true},
		{"set direction, half turns allowed", Cloth{Direction: SetDirection, Turning: AllowHalf}, lay.EitherWay, false},
		{"pattern, quarter turns allowed", Cloth{Pattern: vNone, Turning: AllowQuarter}, lay.AnyTurn, true},
		{"plain, never turned", Cloth{Turning: NeverTurn}, lay.OneWay, false},
	} {
		if got := Turns(c.cloth); got != c.want {
			t.Errorf("%s: got %04b, want %04b", c.name, got, c.want)
		}
		if got := Bends(c.cloth); got != c.bends {
			t.Errorf("%s: bends got %v, want %v", c.name, got, c.bends)
		}
	}
}

// An L-shaped seat, 6 wide and 5 deep, with its upper right quarter missing:
//
//	(0,5)--(2,5)
//	  |      |
//	  |    (2,3)-----(6,3)
//	  |                |
//	(0,0)------------(6,0)   front at the bottom
//
// Worked by hand: up the roll the back (0,5) lies furthest from the cut end,
// at u = 5, and the seat's right (x = 6) lies towards the near selvedge,
// v = -6, because the roll is seen face up and nothing is mirrored.
func TestLieOfAnL(t *testing.T) {
	seat := []geom.Pt{{X: 0, Y: 0}, {X: 6, Y: 0}, {X: 6, Y: 3}, {X: 2, Y: 3}, {X: 2, Y: 5}, {X: 0, Y: 5}}
	for _, c := range []struct {
		name string
		lie  Lie
		want []geom.Pt
	}{
		{"up the roll", UpTheRoll, []geom.Pt{{X: 0, Y: 0}, {X: 0, Y: -6}, {X: 3, Y: -6}, {X: 3, Y: -2}, {X: 5, Y: -2}, {X: 5, Y: 0}}},
		{"top at the cut end", TopAtCutEnd, []geom.Pt{{X: 0, Y: 0}, {X: 0, Y: 6}, {X: -3, Y: 6}, {X: -3, Y: 2}, {X: -5, Y: 2}, {X: -5, Y: 0}}},
		{"railroaded left", RailroadedLeft, seat},
		{"railroaded right", RailroadedRight, []geom.Pt{{X: 0, Y: 0}, {X: -6, Y: 0}, {X: -6, Y: -3}, {X: -2, Y: -3}, {X: -2, Y: -5}, {X: 0, Y: -5}}},
	} {
		for i, p := range seat {
			if got := c.lie.ToRoll(p); got != c.want[i] {
				t.Errorf("%s, corner %d: got %v, want %v", c.name, i, got, c.want[i])
			}
			if got := c.lie.FromRoll(c.lie.ToRoll(p)); got != p {
				t.Errorf("%s, corner %d back again: got %v, want %v", c.name, i, got, p)
			}
		}
	}
}

func TestCheckCloth(t *testing.T) {
	if f := New("c1").Check(); len(f) != 0 {
		t.Fatalf("a new cloth has faults: %v", f)
	}
	for _, c := range []struct {
		name, code, field string
		spoil             func(*Cloth)
	}{
		{"no width", CodeMissing, "width", func(c *Cloth) { c.Width = 0 }},
		{"width not a number", CodeNotANumber, "width", func(c *Cloth) { c.Width = unit.Length(math.NaN()) }},
		{"width without end", CodeNotANumber, "width", func(c *Cloth) { c.Width = unit.Length(math.Inf(1)) }},
		{"width below nothing", CodeNegative, "width", func(c *Cloth) { c.Width = -1 }},
		{"width absurd", CodeTooLarge, "width", func(c *Cloth) { c.Width = 5001 }},
		{"selvedges eat it up", CodeNoWidthLeft, "selvedge_near", func(c *Cloth) { c.SelvedgeNear, c.SelvedgeFar = 30*unit.In, 24*unit.In }},
		{"usable wider than the cloth", CodeUsableWider, "usable", func(c *Cloth) { c.Usable = unit.Some(55 * unit.In) }},
		{"usable of nothing", CodeMissing, "usable", func(c *Cloth) { c.Usable = unit.Some(0) }},
		{"drop of one", CodeDrop, "drop", func(c *Cloth) { c.Pattern.Drop = 1 }},
		{"drop below nothing", CodeDrop, "drop", func(c *Cloth) { c.Pattern.Drop = -0.5 }},
		{"odd drop measured on one level", CodeDropFraction, "drop", func(c *Cloth) {
			c.Pattern = Pattern{Along: 500, Across: 500, AcrossIs: OnOneLevel, Drop: 0.2871}
		}},
		{"repeat below nothing", CodeNegative, "repeat_along", func(c *Cloth) { c.Pattern.Along = -1 }},
		{"first motif below nothing", CodeNegative, "first_across", func(c *Cloth) { c.Pattern.FirstAcross = unit.Some(-1) }},
		{"gap as wide as a hand", CodeTooLarge, "gap", func(c *Cloth) { c.Gap = 101 }},
		{"more than as much again spare", CodeSpare, "spare", func(c *Cloth) { c.Spare = unit.Whole + 1 }},
		{"spare below nothing", CodeSpare, "spare", func(c *Cloth) { c.Spare = -1 }},
		{"price below nothing", CodeNegative, "price", func(c *Cloth) { c.Price = -1 }},
		{"flaw turned inside out", CodeFlawOutside, "flaws", func(c *Cloth) {
			c.Flaws = []Flaw{{ID: "f", Box: geom.Rect{Min: geom.P(9, 0), Max: geom.P(5, 5)}}}
		}},
		{"flaw not a number", CodeNotANumber, "flaws", func(c *Cloth) {
			c.Flaws = []Flaw{{ID: "f", Box: geom.Rect{Min: geom.P(math.NaN(), 0), Max: geom.P(5, 5)}}}
		}},
		{"flaw on the selvedge", CodeFlawOutside, "flaws", func(c *Cloth) {
			c.Flaws = []Flaw{{ID: "f", Box: geom.Rect{Min: geom.P(0, 1400), Max: geom.P(5, 1500)}}}
		}},
		{"offcut of nothing", CodeMissing, "offcut_width", func(c *Cloth) { c.Offcuts = []Offcut{{ID: "o", Length: 500}} }},
	} {
		cl := New("c1")
		c.spoil(&cl)
		wantOne(t, c.name, cl.Check(), c.code, c.field, "c1")
	}
	c := New("c1")
	c.Width, c.Usable = 0, unit.Some(51*unit.In)
	if f := c.Check(); len(f) != 0 {
		t.Errorf("usable width alone is enough: %v", f)
	}
}

func wantOne(t *testing.T, name string, faults []unit.Fault, code, field, goods string) {
	t.Helper()
	if len(faults) != 1 {
		t.Errorf("%s: got %v, want one fault", name, faults)
		return
	}
	f := faults[0]
	if f.Code != code || f.Where.Field != field || f.Where.Goods != goods {
		t.Errorf("%s: got %s at %s of %s, want %s at %s of %s", name, f.Code, f.Where.Field, f.Where.Goods, code, field, goods)
	}
}

func TestFlawZoneRunsCounterClockwise(t *testing.T) {
	z := Flaw{Box: geom.Rect{Min: geom.P(1, 2), Max: geom.P(5, 4)}}.Zone()
	var area float64
	for i, p := range z {
		area += p.Cross(z[(i+1)%len(z)]) / 2
	}
	if area != 8 {
		t.Errorf("area: got %v, want 8", area)
	}
}

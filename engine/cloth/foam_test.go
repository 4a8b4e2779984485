package cloth

import (
	"math"
	"testing"

	"slipseat/engine/unit"
)

// Factors as NIST Special Publication 811, appendix B.8 (grade A), prints them;
// the printed digits are from memory, the constants themselves come from the
// exact definitions of pound, foot and standard gravity.
func TestConversionsNIST(t *testing.T) {
	near(t, "1 lb/ft3 in kg/m3", float64(LbPerFt3), 1.601846e1, 5e-6)
	near(t, "1 lbf in N", float64(PoundF), 4.448222, 5e-7)
	near(t, "50 in2 in cm2", 50*(unit.In*unit.In).MM()/100, 322.58, 1e-9)
	near(t, "2.5 lb/ft3 and back", (2.5 * LbPerFt3).LbPerFt3(), 2.5, 1e-12)
	near(t, "35 lbf and back", (35 * PoundF).PoundF(), 35, 1e-12)
	near(t, "1 yd", unit.Yd.MM(), 914.4, 0)
	near(t, "54 in", (54 * unit.In).MM(), 1371.6, 1e-9)
}

func TestFirmnessBand(t *testing.T) {
	// S33, industry standards for foam (grade A): nominal 30 accepts 27 to 33.
	least, most := FirmnessBand(30 * PoundF)
	near(t, "least", least.PoundF(), 27, 1e-9)
	near(t, "most", most.PoundF(), 33, 1e-9)
}

func TestGrade(t *testing.T) {
	// S40, S81 (trade, grade B).
	for text, want := range map[string][2]float64{"2535": {2.5, 35}, "1560": {1.5, 60}} {
		d, f, ok := Grade(text)
		if !ok || f.Percent != 25 {
			t.Errorf("%s: not read", text)
		}
		near(t, text+" density", d.LbPerFt3(), want[0], 1e-9)
		near(t, text+" firmness", f.Force.PoundF(), want[1], 1e-9)
	}
	for _, bad := range []string{"", "253", "25355", "25x5", "0035", "2500", "٢٥٣٥"} {
		if _, _, ok := Grade(bad); ok {
			t.Errorf("%q was read as a grade", bad)
		}
	}
}

func TestCheckSheet(t *testing.T) {
	good := Sheet{ID: "s", Thickness: unit.In, Length: 82 * unit.In, Width: 36 * unit.In}
	if f := good.Check(); len(f) != 0 {
		t.Fatalf("a good sheet has faults: %v", f)
	}
	for _, c := range []struct {
		name, code, field string
		spoil             func(*Sheet)
	}{
		{"no thickness", CodeMissing, "thickness", func(s *Sheet) { s.Thickness = 0 }},
		{"no length yet", CodeMissing, "sheet_length", func(s *Sheet) { s.Length = 0 }},
		{"width below nothing", CodeNegative, "sheet_width", func(s *Sheet) { s.Width = -1 }},
		{"as long as a street", CodeTooLarge, "sheet_length", func(s *Sheet) { s.Length = 11 * unit.M }},
		{"saw cut not a number", CodeNotANumber, "saw_cut", func(s *Sheet) { s.SawCut = unit.Length(math.NaN()) }},
		{"all trimmed away", CodeTrimTooWide, "trim", func(s *Sheet) { s.Trim = 18 * unit.In }},
		{"price below nothing", CodeNegative, "price", func(s *Sheet) { s.Price = -5 }},
		{"firmness below nothing", CodeNegative, "firmness", func(s *Sheet) { s.Firmness.Force = -1 }},
		{"density not a number", CodeNotANumber, "density", func(s *Sheet) { s.Density = Density(math.Inf(1)) }},
		{"four parts", CodeParts, "glue_parts", func(s *Sheet) { s.Glue = Glue{Allow: true, MaxParts: 4} }},
	} {
		s := good
		c.spoil(&s)
		wantOne(t, c.name, s.Check(), c.code, c.field, "s")
	}
	good.Trim = unit.In
	l, w := good.Usable()
	near(t, "usable length, in", l.In(), 80, 1e-9)
	near(t, "usable width, in", w.In(), 34, 1e-9)
	if l, w := (Sheet{}).Usable(); l != 0 || w != 0 {
		t.Errorf("zero value: got %v x %v", l, w)
	}
}

func TestMarked(t *testing.T) {
	s := Sheet{SawCut: 2, Trim: 0}.Marked(unit.SixteenthInch)
	near(t, "a saw cut of 2 mm is 2/16 in", s.SawCut.MM(), 3.175, 1e-12)
	near(t, "no trim stays none", s.Trim.MM(), 0, 0)
	c := Cloth{Gap: unit.In / 8, SelvedgeNear: 10, SelvedgeFar: 12.7}.Marked(unit.SixteenthInch)
	near(t, "an eighth stays an eighth", c.Gap.MM(), 3.175, 1e-12)
	near(t, "10 mm is 7/16 in", c.SelvedgeNear.MM(), 11.1125, 1e-12)
	near(t, "half an inch stays", c.SelvedgeFar.MM(), 12.7, 1e-12)
	if got := (Cloth{Gap: 2.3}).Marked(0).Gap; got != 2.3 {
		t.Errorf("no step: got %v", got)
	}
}

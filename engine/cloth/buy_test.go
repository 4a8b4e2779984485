package cloth

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

var seed = flag.Uint64("seed", 20261124, "seed of the random checks")

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s: got %v, want %v (within %v)", name, got, want, tol)
	}
}

func TestBuyPublished(t *testing.T) {
	bare := Cloth{Width: 54 * unit.In, Step: unit.Yd / 4}
	// S1, fabric retailer's how-to (grade B): two 27 in seats side by side on
	// 54 in goods; rows of 27 in, no gap, selvedge or square-up.
	for seats, yards := range map[int]float64{2: 0.75, 4: 1.5, 6: 2.25, 8: 3} {
		near(t, "27 x 27 in seats, yards", Buy(bare, unit.Length(seats/2)*27*unit.In).Length().Yd(), yards, 1e-12)
	}
	// S2, trade site (grade B): 24 in a pair is 2/3 yd before rounding.
	near(t, "24 in", (24 * unit.In).Yd(), 2.0/3, 1e-12)
	near(t, "24 in for two", Needed(Buy(bare, 24*unit.In)), 24*25.4, 1e-9)
	near(t, "72 in for six", Buy(bare, 72*unit.In).Length().Yd(), 2, 1e-12)
	// S5, how-to article (grade C): 89 in is 2.472 yd, sold as 2 1/2 by the
	// half yard; the quarter and the eighth give the same.
	for _, step := range []unit.Length{unit.Yd / 2, unit.Yd / 4, unit.Yd / 8} {
		c := bare
		c.Step = step
		w := Buy(c, 89*unit.In)
		near(t, "89 in before rounding, yd", unit.Length(Needed(w)).Yd(), 2.472, 0.001)
		near(t, "89 in bought, yd", w.Length().Yd(), 2.5, 1e-12)
	}
}

func TestBuyTermByTerm(t *testing.T) {
	c := New("c")
	c.Pattern = Pattern{Along: 9 * unit.In, Across: 9 * unit.In, RuleAlong: lay.Centred}
	c.Spare = 10 * unit.Percent
	w := Buy(c, 100*unit.In)
	// By hand: 1 + 100 + 9 = 110 in; a tenth more is 121 in = 3.3611 yd;
	// next eighth 3 3/8 yd = 121.5 in.
	want := []struct {
		code string
		in   float64
	}{{WhySquareUp, 1}, {WhyLay, 100}, {WhyRepeat, 9}, {WhySpare, 11}, {WhyRounding, 0.5}}
	if len(w.Terms) != len(want) {
		t.Fatalf("got %d terms %v, want %d", len(w.Terms), w.Terms, len(want))
	}
	for i, x := range want {
		if w.Terms[i].Code != x.code {
			t.Errorf("term %d: got %s, want %s", i, w.Terms[i].Code, x.code)
		}
		near(t, x.code, w.Terms[i].Value, x.in*25.4, 1e-9)
	}
	near(t, "in all", w.Value(), 121.5*25.4, 1e-9)

	c.Pattern.FirstAlong = unit.Some(3 * unit.In)
	if got := RepeatSpare(c); got != 0 {
		t.Errorf("first motif measured: got %v to spare, want 0", got)
	}
	c.Pattern.FirstAlong, c.Pattern.RuleAlong = unit.Opt{}, lay.Alike
	if got := RepeatSpare(c); got != 0 {
		t.Errorf("alike: got %v to spare, want 0", got)
	}
	if got := Buy(c, 0); got.Value() != 0 || len(got.Terms) != 0 {
		t.Errorf("a lay of nothing buys %v", got)
	}
}

// Bought >= needed and bought - needed < one step; the terms add up.
func TestBuyLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 2))
	t.Logf("-seed %d", *seed)
	steps := []unit.Length{unit.Yd / 8, unit.Yd / 4, unit.Yd / 2, unit.Yd, 10 * unit.CM, 50 * unit.CM, unit.M, unit.CM}
	for range 5000 {
		c := Cloth{
			SquareUp: unit.Length(r.IntN(50)),
			Step:     steps[r.IntN(len(steps))],
			Spare:    unit.Share(r.IntN(3)) * 5 * unit.Percent,
			Pattern:  Pattern{Along: unit.Length(r.IntN(700)), RuleAlong: lay.Phase(r.IntN(3))},
		}
		length := unit.Length(r.Float64() * 9000)
		if r.IntN(4) == 0 { // exactly on a step
			length = c.Step * unit.Length(1+r.IntN(60))
			c.SquareUp, c.Spare, c.Pattern = 0, 0, Pattern{}
		}
		w := Buy(c, length)
		need, got := Needed(w), w.Value()
		if got < need-stepTol || got-need >= c.Step.MM() {
			t.Fatalf("need %v, step %v: bought %v", need, c.Step, got)
		}
		if n := got / c.Step.MM(); math.Abs(n-math.Round(n)) > 1e-8 {
			t.Fatalf("bought %v is no whole number of steps of %v", got, c.Step)
		}
		// Never less for a longer lay.
		if longer := Buy(c, length+1).Value(); longer < got-1e-9 {
			t.Fatalf("a longer lay buys less: %v after %v", longer, got)
		}
	}
}

func TestPatternedCutPublished(t *testing.T) {
	// S14, drapery workroom newsletter (grade B): 116 in on 25 in -> 125 in, 5
	// repeats, 9 in waste.
	w, n := PatternedCut(116*unit.In, 25*unit.In)
	near(t, "116 in on 25 in", w.Length().In(), 125, 1e-9)
	near(t, "waste", unit.Length(w.Terms[1].Value).In(), 9, 1e-9)
	if n != 5 {
		t.Errorf("repeats: got %d, want 5", n)
	}
	// S15, curtain-track supplier's sheet (grade B): 240 cm on 37 cm -> 259 cm.
	w, n = PatternedCut(240*unit.CM, 37*unit.CM)
	near(t, "240 cm on 37 cm", w.Length().CM(), 259, 1e-9)
	if n != 7 {
		t.Errorf("repeats: got %d, want 7", n)
	}
	near(t, "four plain", 4*240.0/100, 9.60, 1e-9)
	near(t, "four patterned, m", 4*w.Length().M(), 10.36, 1e-9)
	// The lay itself needs only the last cut's own length: 3 x 259 + 240.
	near(t, "lay of four, cm", 3*w.Length().CM()+240, 1017, 1e-9)
	// S16, drapery page (grade B) for the steps: 114 in on 11 in -> 121 in.
	w, n = PatternedCut(114*unit.In, 11*unit.In)
	near(t, "114 in on 11 in", w.Length().In(), 121, 1e-9)
	if n != 11 {
		t.Errorf("repeats: got %d, want 11", n)
	}
}

// Patterned cut - plain cut is in [0, V); a whole multiple wastes nothing.
func TestPatternedCutLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 3))
	t.Logf("-seed %d", *seed)
	for range 5000 {
		v := unit.Length(1 + r.IntN(1000))
		cut := unit.Length(r.Float64() * 3000)
		if r.IntN(3) == 0 {
			cut = v * unit.Length(1+r.IntN(20))
		}
		w, n := PatternedCut(cut, v)
		if extra := (w.Length() - cut).MM(); extra < -1e-9 || extra >= v.MM() {
			t.Fatalf("cut %v on %v: %v more", cut, v, extra)
		}
		near(t, "whole repeats", w.Value(), float64(n)*v.MM(), 1e-5)
	}
	if w, n := PatternedCut(500, 0); w.Value() != 500 || n != 0 {
		t.Errorf("no repeat: got %v, %d", w.Value(), n)
	}
}

func TestRepeatPercentPublished(t *testing.T) {
	for _, c := range []struct {
		name        string
		width, v, h float64
		plain, want float64
		known       bool
	}{
		{"S11: 8 yd, 10 + 17 in", 54, 10, 17, 8, 9.6, true},
		{"S12: 7 yd, 18 + 13 1/2 in", 54, 18, 13.5, 7, 8.75, true},
		{"S13: 10 yd, 11 3/4 + 18 1/2 in, read as 31", 54, 11.75, 18.5, 10, 12.5, true},
		{"plain", 54, 0, 0, 5, 5, true},
		{"50 in goods, plain", 50, 0, 0, 10, 11, true},
		{"52 in goods, 27 in", 52, 10, 17, 10, 13, true},
		{"beyond the table", 54, 27, 28, 1, 0, false},
		{"another width", 60, 10, 17, 1, 0, false},
	} {
		share, ok := RepeatPercent(unit.Length(c.width)*unit.In, unit.Length(c.v)*unit.In, unit.Length(c.h)*unit.In)
		if ok != c.known {
			t.Errorf("%s: known %v, want %v", c.name, ok, c.known)
			continue
		}
		if ok {
			near(t, c.name, c.plain*(1+share.Float()), c.want, 1e-9)
		}
	}
	if share, ok := RepeatPercent(137*unit.CM, 10*unit.In, 17*unit.In); !ok || share != 20*unit.Percent {
		t.Errorf("137 cm reads the 54 in column: got %v %v", share, ok)
	}
}

package plan_test

import (
	"math"
	"testing"

	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/lay/search"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

func near(t *testing.T, what string, got, want unit.Length) {
	t.Helper()
	if math.Abs(float64(got-want)) > 1e-6 {
		t.Errorf("%s: got %v in, want %v in", what, got.In(), want.In())
	}
}

// TestWorstStartAcross: facts 2.5 (geometry; two motifs across 54 in goods after
// S5, grade C). Six covers of 27 × 27 in on a 27 in repeat, centred. With motifs
// at 13.5 and 40.5 in two lie across, 81 in; with one on the selvedge and one at
// 27 in only one does, 162 in. One repeat along is bought to spare.
func TestWorstStartAcross(t *testing.T) {
	in := chairs(21, 21, 3, 0, 6)
	r := &in.Rolls[0]
	r.Direction = cloth.OneWay
	r.Pattern = cloth.Pattern{Along: 27 * unit.In, Across: 27 * unit.In, RuleAlong: lay.Centred, RuleAcross: lay.Centred}
	r.Step = 0
	g := newSolver(t).settle(in, nil).Find("cloth")
	if g.Pending || len(g.Faults) > 0 {
		t.Fatalf("pending %v, %v", g.Pending, g.Faults)
	}
	near(t, "worst lay", g.Lay.Length, 6*27*unit.In)
	near(t, "a repeat to spare", g.Buy.Length(), 7*27*unit.In)
	// Measured where one motif is a quarter of the width in, both fit.
	r.Pattern.FirstAcross = unit.Some(13.5 * unit.In)
	r.Pattern.FirstAlong = unit.Some(13.5 * unit.In)
	h := newSolver(t).settle(in, nil).Find("cloth")
	if h.Phases != nil {
		t.Error("measured, and yet phases")
	}
	near(t, "measured at 13.5", h.Lay.Length, 81*unit.In)
	near(t, "nothing to spare", h.Buy.Length(), 81*unit.In)
	for _, c := range newSolver(t).settle(in, nil).Cautions {
		if c.Code == "pattern-start-across" {
			t.Error("a caution on what is measured")
		}
	}
}

func TestWorstAndBestAreShown(t *testing.T) {
	in := chairs(20, 20, 3, 0, 6) // 26 in of cover on 27 in: some starts give two
	r := &in.Rolls[0]
	r.Direction = cloth.OneWay
	r.Pattern = cloth.Pattern{Along: 27 * unit.In, Across: 27 * unit.In, RuleAcross: lay.Centred}
	s := newSolver(t)
	p := s.settle(in, nil)
	g := p.Find("cloth")
	least, most := math.Inf(1), 0.0
	for _, ph := range g.Phases {
		least, most = math.Min(least, float64(ph.Lay.Length)), math.Max(most, float64(ph.Lay.Length))
	}
	if float64(g.Lay.Length) != most || most < 1.9*least {
		t.Errorf("chosen %v of %v to %v", g.Lay.Length, least, most)
	}
	if g.Best.Length() >= g.Buy.Length() {
		t.Errorf("best %v, bought %v", g.Best.Length(), g.Buy.Length())
	}
	found := false
	for _, c := range p.Cautions {
		found = found || c.Code == "pattern-start-across"
	}
	if !found {
		t.Error("no caution")
	}
	// The bought length holds for every start: dense trial of true starts.
	for i := range 27 {
		in.Rolls[0].Pattern.FirstAcross = unit.Some(unit.Length(i) * unit.In)
		if l := newSolver(t).settle(in, nil).Find("cloth").Lay.Length; float64(l) > most+1e-6 {
			t.Errorf("first motif at %d in: %v, more than the worst %v", i, l.In(), most/25.4)
		}
	}
}

// Six covers of 27 × 27 in and a piece of 60 in at hand, its end squared by
// none: four are cut from it, two are missing, 27 in of two across.
func TestPieceAtHand(t *testing.T) {
	in := chairs(21, 21, 3, 0, 6)
	in.Rolls[0].AtHand, in.Rolls[0].Step = 60*unit.In, 0
	s := newSolver(t)
	p := s.settle(in, nil)
	g := p.Find("cloth")
	if h := g.Hand; h == nil || h.Pieces != 4 || len(h.Missing) != 2 || len(h.Whole) != 4 || len(h.Short) != 2 {
		t.Fatalf("got %+v", g.Hand)
	}
	near(t, "used of it", g.Hand.Used, 54*unit.In)
	near(t, "to buy", p.Order.Items[0].Buy.Length(), 27*unit.In)
	near(t, "needed in all", unit.Length(p.Order.Items[0].Needed()), 81*unit.In)
	raised := func(p *plan.Plan) bool {
		for _, c := range p.Cautions {
			if c.Code == "piece-at-hand-too-short" {
				return true
			}
		}
		return false
	}
	if !raised(p) {
		t.Error("no caution for what is missing")
	}
	in.Rolls[0].AtHand = 81 * unit.In
	p = s.settle(in, nil)
	if g := p.Find("cloth"); g.Lay.Length != 0 || len(g.Hand.Missing) != 0 || raised(p) || p.Order.Items[0].Buy.Value() > 1e-9 {
		t.Errorf("81 in are enough: %+v, buys %v", g.Hand, p.Order.Items[0].Buy.Value())
	}
	// Centred, with nothing measured, one repeat of it may be lost: 81 in do no
	// longer.
	in.Rolls[0].Pattern = cloth.Pattern{Along: 27 * unit.In, RuleAlong: lay.Centred}
	if g := s.settle(in, nil).Find("cloth"); len(g.Hand.Missing) == 0 {
		t.Error("judged by the best start")
	}
}

// The roll as it came is paid for whole; what it does not give is bought
// besides.
func TestRollAsItCame(t *testing.T) {
	in := chairs(21, 21, 3, 0, 6)
	r := &in.Rolls[0]
	r.Came, r.Price, r.Step = 60*unit.In, 3600, unit.Yd/4
	p := newSolver(t).settle(in, nil)
	it := p.Order.Items[0]
	near(t, "60 in as it came and 27 in besides", it.Buy.Length(), 87*unit.In)
	if it.Cost() != 8700 {
		t.Errorf("costs %d, want 8700 (87 in at 36.00 a yard)", it.Cost())
	}
}

// A piece from the shelf is used before the roll, one too small for a cover is
// left alone, and a held piece stays on it.
func TestShelfPieceFirst(t *testing.T) {
	in := chairs(21, 21, 3, 0, 3)
	in.Rolls[0].Offcuts = []cloth.Offcut{{ID: "small", Length: 20 * unit.In, Width: 54 * unit.In}, {ID: "rest", Length: 28 * unit.In, Width: 54 * unit.In, Lot: "7"}}
	in.Rolls[0].Lot = "9"
	s := newSolver(t)
	p := s.settle(in, nil)
	g := p.Find("cloth")
	near(t, "the third cover", g.Lay.Length, 27*unit.In)
	on := map[int]int{}
	for _, at := range g.Lay.Places {
		on[at.Bin]++
	}
	if on[0] != 0 || on[1] != 2 || on[2] != 1 {
		t.Errorf("on the stretches: %v", on)
	}
	lots := false
	for _, c := range p.Cautions {
		lots = lots || c.Code == "seats-from-different-rolls"
	}
	if !lots {
		t.Error("covers from lots 7 and 9 raise no caution")
	}
	for _, at := range g.Lay.Places {
		if at.Bin != 1 {
			continue
		}
		l := g.Held(p, at)
		if l.On != "rest" {
			t.Errorf("held on %q", l.On)
		}
		in.Locked = []plan.Locked{l}
		if f := plan.Make(in, nil, s.get).Find("cloth").Problem.Fixed; len(f) != 1 || f[0] != at {
			t.Errorf("fixed %+v, want %+v", f, at)
		}
		break
	}
	foam := chairs(17, 19, 2, 0.5, 2)
	foam.Foams[0].Offcuts = []cloth.Offcut{{ID: "rest", Length: 40 * unit.In, Width: 20 * unit.In}}
	if n := newSolver(t).settle(foam, nil).Find("foam").Lay.Sheets; n != 0 {
		t.Errorf("foam from the shelf alone takes %d sheets", n)
	}
}

// A spoiled piece is looked for on what is left over before more is bought.
func TestSpoiledPieceFromAnOffcut(t *testing.T) {
	in := chairs(21, 21, 3, 0, 3) // 54 in of two across, room for a fourth
	s := newSolver(t)
	p := s.settle(in, nil)
	g := p.Find("cloth")
	for _, at := range g.Lay.Places {
		l := g.Held(p, at)
		l.Cut = true
		in.Locked = append(in.Locked, l)
	}
	gone := in.Locked[1]
	gone.Cut, gone.Spoiled = false, true
	in.Locked[1] = gone
	q := s.settle(in, p).Find("cloth")
	near(t, "from what is left over", q.Lay.Length, g.Lay.Length)
	near(t, "none bought", q.Buy.Length(), g.Buy.Length())
	for _, f := range q.Problem.Fixed {
		for _, at := range q.Lay.Places {
			if at.Kind == f.Kind && at.Copy == f.Copy && at != f {
				t.Errorf("a cut piece was moved: %+v to %+v", f, at)
			}
		}
	}
}

// Rests reach to where the roll is cut off, and are listed from the user's own
// size.
func TestRests(t *testing.T) {
	in := chairs(21, 21, 3, 0, 1) // 27 in of one, bought as half a yard steps: 36 in
	p := newSolver(t).settle(in, nil)
	g := p.Find("cloth")
	if len(g.Offcuts) != 2 {
		t.Fatalf("got %v", g.Offcuts)
	}
	area := 0.0
	for _, o := range g.Offcuts {
		area += o.Rect.W() * o.Rect.H()
		for _, at := range g.Lay.Places {
			if o.Rect.Overlaps(g.Problem.Placed(at).Bounds().Grow(-0.01)) {
				t.Errorf("%v lies on a piece", o)
			}
		}
	}
	if want := 54*36 - 27*27.0; math.Abs(area/645.16-want) > 1e-6 {
		t.Errorf("%v in² left over, want %v", area/645.16, want)
	}
	in.KeepFrom = 9.1 * unit.In
	if n := len(newSolver(t).settle(in, nil).Find("cloth").Offcuts); n != 1 {
		t.Errorf("%d rests of more than 9.1 in, want 1", n)
	}
}

func TestNoRoomIsAFault(t *testing.T) {
	in := chairs(21, 21, 3, 0, 1)
	in.Rolls[0].Flaws = []cloth.Flaw{{ID: "f", Box: geom.Rect{Max: geom.P(900000, 54*25.4)}}}
	none := func(lay.ProblemID) (lay.Lay, bool) { return lay.Lay{}, true }
	p := plan.Make(in, nil, none)
	g := p.Find("cloth")
	if g.Pending || len(g.Faults) != 1 || g.Faults[0].Code != plan.CodeNoLay || len(p.Wanted()) != 0 {
		t.Errorf("pending %v, faults %v", g.Pending, g.Faults)
	}
}

func solve(p lay.Problem) (lay.Lay, bool) {
	l, faults := search.First(p)
	return l, len(faults) == 0
}

func answer(t *testing.T, in plan.Input, a plan.Ask) plan.Answer {
	t.Helper()
	is := newSolver(t).settle(in, nil)
	return newSolver(t).settle(in.With(a), nil).Answered(a, is)
}

// TestWhatIf: 27 × 27 in covers on 54 in goods at 36.00 a yard in half yards.
// Six take 81 in, 2½ yd; a seventh and eighth 108 in, 3 yd (facts section 9,
// value 1; S1, grade B). On 28 in goods one lies across: 162 in, 4½ yd.
func TestWhatIf(t *testing.T) {
	in := chairs(21, 21, 3, 0, 6)
	r := &in.Rolls[0]
	r.Price, r.Direction = 3600, cloth.OneWay
	more := answer(t, in, plan.Ask{Kind: plan.AskMore, Seat: "s1", Goods: "cloth", N: 2})
	near(t, "two more", more.Buy.Length(), 3*unit.Yd)
	if more.Extra != 1800 {
		t.Errorf("two more cost %d, want 1800", more.Extra)
	}
	near(t, "narrow goods", answer(t, in, plan.Ask{Kind: plan.AskWidth, Goods: "cloth", Length: 28 * unit.In}).Buy.Length(), 4.5*unit.Yd)
	// 26 × 28 in covers: turned, two lie across 60 in goods on 26 in (facts
	// 1.5).
	turn := chairs(20, 22, 3, 0, 2)
	turn.Rolls[0].Width, turn.Rolls[0].Step, turn.Rolls[0].Direction = 60*unit.In, 0, cloth.OneWay
	near(t, "turned", answer(t, turn, plan.Ask{Kind: plan.AskTurned, Goods: "cloth"}).Buy.Length(), 26*unit.In)
	pat := in
	pat.Rolls = append([]plan.Roll(nil), in.Rolls...)
	pat.Rolls[0].Pattern = cloth.Pattern{Along: 36 * unit.In, RuleAlong: lay.Alike}
	a := answer(t, pat, plan.Ask{Kind: plan.AskPlain, Goods: "cloth"})
	near(t, "plain", a.Buy.Length(), 2.5*unit.Yd)
	if a.Extra >= 0 {
		t.Errorf("the pattern costs nothing: %d", a.Extra)
	}
	other := cloth.Cloth{ID: "x", Name: "Other", Width: 54 * unit.In, Step: unit.Yd, PriceUnit: unit.Yd, Price: 1000}
	b := answer(t, in, plan.Ask{Kind: plan.AskCloth, Goods: "cloth", Cloth: other})
	near(t, "another cloth by the yard", b.Buy.Length(), 3*unit.Yd)
	if b.Extra != 3000-9000 {
		t.Errorf("another cloth: %d more, want -6000", b.Extra)
	}
	for _, c := range []struct {
		length float64
		want   int
	}{{26, 0}, {27, 2}, {53, 2}, {54, 4}, {162, 12}} {
		if n := in.HowMany("s1", "cloth", unit.Length(c.length)*unit.In, solve); n != c.want {
			t.Errorf("%v in would do %d seats, want %d", c.length, n, c.want)
		}
	}
	if in.Seats[0].Count != 6 || in.Rolls[0].Width != 54*unit.In {
		t.Error("a question changed the job")
	}
}

// Facts section 9: the quantity never falls as seats are added, when turning is
// forbidden, or when a repeat is added.
func TestQuantityNeverFalls(t *testing.T) {
	last := unit.Length(0)
	for n := 1; n <= 7; n++ {
		in := chairs(18, 20, 3, 0, n)
		free := newSolver(t).settle(in, nil).Find("cloth").Lay.Length
		in.Rolls[0].Direction = cloth.OneWay
		one := newSolver(t).settle(in, nil).Find("cloth").Lay.Length
		in.Rolls[0].Pattern = cloth.Pattern{Along: 9 * unit.In, RuleAlong: lay.Alike}
		pat := newSolver(t).settle(in, nil).Find("cloth").Lay.Length
		if free < last-1e-6 || one < free-1e-6 || pat < one-1e-6 {
			t.Errorf("%d seats: %v free (before %v), %v one way, %v with a repeat", n, free.In(), last.In(), one.In(), pat.In())
		}
		last = free
	}
}

func partsOf(p *plan.Plan, goods string, part buildup.Part) map[string][2]unit.Length {
	out := map[string][2]unit.Length{}
	g := p.Find(goods)
	for _, at := range g.Lay.Places {
		if k := g.Kinds[at.Kind]; k.Blank.Part == part {
			w, d := k.Blank.Size()
			out[g.PieceName(at, p)] = [2]unit.Length{w, d}
		}
	}
	return out
}

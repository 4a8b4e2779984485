package plan_test

import (
	"math"
	"testing"

	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/lay"
	"slipseat/engine/lay/search"
	"slipseat/engine/order"
	"slipseat/engine/plan"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// solver answers problems with the first lay and remembers the answers.
type solver struct {
	t     testing.TB
	lays  map[lay.ProblemID]lay.Lay
	asked int
}

func (s *solver) get(id lay.ProblemID) (lay.Lay, bool) { l, ok := s.lays[id]; return l, ok }

// settle makes the plan until nothing is pending.
func (s *solver) settle(in plan.Input, prev *plan.Plan) *plan.Plan {
	s.t.Helper()
	p := plan.Make(in, prev, s.get)
	for _, problem := range p.Wanted() {
		l, faults := search.First(problem)
		if len(faults) > 0 {
			s.t.Fatalf("no lay: %v", faults)
		}
		if bad := lay.Check(problem, l); len(bad) > 0 {
			s.t.Fatalf("bad lay: %v", bad)
		}
		s.lays[problem.ID()] = l
		s.asked++
	}
	return plan.Make(in, p, s.get)
}

func newSolver(t testing.TB) *solver { return &solver{t: t, lays: map[lay.ProblemID]lay.Lay{}} }

// chairs is a set of plain chairs: a board of so many inches, fixed wrap and
// fixed oversize, so that the blanks' sizes are known by hand.
func chairs(w, d, wrap, over float64, count int) plan.Input {
	in := unit.In
	b := buildup.Start(buildup.PulledOver)
	b.Foam[0].Goods, b.Cover.Goods, b.Dust.None = "foam", "cloth", true
	b.Oversize = unit.Length(over) * in
	b.Cover.Fixed = buildup.PerEdge{All: unit.Some(unit.Length(wrap) * in)}
	b.FoamSquared = true
	c := cloth.Cloth{ID: "cloth", Name: "Plain", Width: 54 * in, Step: unit.Yd / 2, PriceUnit: unit.Yd}
	return plan.Input{
		Step: unit.SixteenthInch,
		Seats: []plan.Seat{{ID: "s1", Name: "Chair", Letter: "A", Count: count,
			Shape: plan.Shape{Measured: &seat.Measurements{FrontWidth: unit.Length(w) * in, BackWidth: unit.Length(w) * in, Depth: unit.Length(d) * in}}, Build: b}},
		Rolls: []plan.Roll{{Cloth: c}},
		Foams: []cloth.Sheet{{ID: "foam", Name: "Foam", Thickness: in, Length: 82 * in, Width: 36 * in}},
	}
}

// TestTradeHabits: cover cut 2 in larger on each side over 1 in foam, foam ½ in
// larger on each side; a 17 × 19 in seat gives a 21 × 23 in cover and an 18 × 20
// in foam blank; six covers fit in 2 yd of 54 in cloth bought by the half yard,
// two in ¾ yd, six foams on one 36 × 82 in sheet (common practice, no source;
// gap, selvedge, square-up and saw cut 0).
func TestTradeHabits(t *testing.T) {
	s := newSolver(t)
	p := s.settle(chairs(17, 19, 2, 0.5, 6), nil)
	if len(p.Faults) > 0 {
		t.Fatal(p.Faults)
	}
	size := func(part buildup.Part, w, d float64) {
		t.Helper()
		b, _ := p.Seats[0].Result.Blank(part)
		gw, gd := b.Size()
		if math.Abs(gw.In()-w) > 1e-9 || math.Abs(gd.In()-d) > 1e-9 {
			t.Errorf("%s: got %v × %v in, want %v × %v", part.Code(), gw.In(), gd.In(), w, d)
		}
	}
	size(buildup.PartCover, 21, 23)
	size(buildup.PartFoam, 18, 20)
	if got := p.Find("cloth").Buy.Length().Yd(); math.Abs(got-2) > 1e-9 {
		t.Errorf("six covers: buy %v yd, want 2", got)
	}
	if got := p.Find("foam").Lay.Sheets; got != 1 {
		t.Errorf("six foams: %d sheets, want 1", got)
	}
	two := chairs(17, 19, 2, 0.5, 2)
	two.Rolls[0].Step = unit.Yd / 4
	if got := s.settle(two, nil).Find("cloth").Buy.Length().Yd(); math.Abs(got-0.75) > 1e-9 {
		t.Errorf("two covers: buy %v yd, want 0.75", got)
	}
}

// TestPublishedYardage: testdata/hand/SOURCES.md S1, S2, S3, S4 (facts of a
// retailer's, a trade site's and two how-to pages; grades B, B, C, C).
func TestPublishedYardage(t *testing.T) {
	in := unit.In
	for _, c := range []struct {
		name           string
		w, d, wrap     float64
		count          int
		length, cw, cd float64
	}{
		{"S1, two", 21, 21, 3, 2, 27, 27, 27}, {"S1, four", 21, 21, 3, 4, 54, 27, 27}, {"S1, six", 21, 21, 3, 6, 81, 27, 27}, {"S1, eight", 21, 21, 3, 8, 108, 27, 27},
		{"S2, two", 21, 18, 3, 2, 24, 27, 24}, {"S2, six", 21, 18, 3, 6, 72, 27, 24},
		{"S3, two", 20, 22, 3, 2, 28, 26, 28}, {"S4, one", 17.5, 17, 3, 1, 23, 23.5, 23},
	} {
		job := chairs(c.w, c.d, c.wrap, 0, c.count)
		job.Rolls[0].Direction = cloth.OneWay
		p := newSolver(t).settle(job, nil)
		b, _ := p.Seats[0].Result.Blank(buildup.PartCover)
		w, d := b.Size()
		if math.Abs(w.In()-c.cw) > 1e-9 || math.Abs(d.In()-c.cd) > 1e-9 {
			t.Errorf("%s: cut %v × %v in, want %v × %v", c.name, w.In(), d.In(), c.cw, c.cd)
		}
		if got := p.Find("cloth").Lay.Length; math.Abs(float64(got-unit.Length(c.length)*in)) > 1e-6 {
			t.Errorf("%s: lay of %v in, want %v", c.name, got.In(), c.length)
		}
	}
	// S3's trap: one seat needs at least 26 in, never half of a pair.
	if got := newSolver(t).settle(chairs(20, 22, 3, 0, 1), nil).Find("cloth").Lay.Length.In(); got < 26-1e-9 {
		t.Errorf("one seat from %v in of cloth", got)
	}
}

// TestLShapedSeatOnTheRoll lays an L-shaped board up the roll and compares its
// corners with figures worked by hand: (x, y) becomes (u, v) = (y, -x).
func TestLayFrame(t *testing.T) {
	job := chairs(10, 10, 1, 0, 1)
	r := job.Rolls[0]
	for lie, want := range map[cloth.Lie][2]float64{cloth.UpTheRoll: {20, 10}, cloth.RailroadedLeft: {10, 20}} {
		job = chairs(8, 18, 1, 0, 1)
		r.Lie, r.Direction = lie, cloth.OneWay
		job.Rolls[0] = r
		p := newSolver(t).settle(job, nil)
		b := p.Find("cloth").Problem.Kinds[0].Shape.Bounds()
		if math.Abs(b.W()-want[0]*25.4) > 1e-6 || math.Abs(b.H()-want[1]*25.4) > 1e-6 {
			t.Errorf("lie %d: %v × %v in along × across, want %v", lie, b.W()/25.4, b.H()/25.4, want)
		}
	}
}

func TestStagesAreTakenOver(t *testing.T) {
	s := newSolver(t)
	a := s.settle(chairs(17, 19, 2, 0.5, 6), nil)
	job := chairs(17, 19, 2, 0.5, 6)
	job.Tax = 5 * unit.Percent
	before := s.asked
	b := s.settle(job, a)
	if s.asked != before {
		t.Error("a change of tax asked for a new lay")
	}
	if &a.Seats[0].Result.Blanks[0] != &b.Seats[0].Result.Blanks[0] {
		t.Error("the seat was worked out again")
	}
	job.Seats[0].Count = 7
	c := s.settle(job, b)
	if s.asked == before || c.Find("cloth").Pieces != 7 {
		t.Error("a change of count was not laid anew")
	}
}

func TestPendingFigures(t *testing.T) {
	p := plan.Make(chairs(17, 19, 2, 0.5, 6), nil, func(lay.ProblemID) (lay.Lay, bool) { return lay.Lay{}, false })
	if !p.Pending || !p.Order.Totals.Pending || len(p.Wanted()) != 2 {
		t.Errorf("pending %v, order pending %v, %d wanted", p.Pending, p.Order.Totals.Pending, len(p.Wanted()))
	}
}

func TestFaultsDoNotStopTheOthers(t *testing.T) {
	job := chairs(17, 19, 2, 0.5, 2)
	bad := job.Seats[0]
	bad.ID, bad.Letter = "s2", "B"
	bad.Shape = plan.Shape{Measured: &seat.Measurements{FrontWidth: -1, BackWidth: 400, Depth: 400}}
	job.Seats = append(job.Seats, bad)
	job.Foams[0].Width = 0
	p := newSolver(t).settle(job, nil)
	if len(p.Faults) != 2 || p.Faults[0].Where.Seat != "s2" || p.Faults[0].Where.Field != "front_width" || p.Faults[1].Where.Goods != "foam" {
		t.Errorf("got %v", p.Faults)
	}
	if g := p.Find("cloth"); g == nil || g.Lay == nil || g.Pieces != 2 {
		t.Error("the sound seat was not laid")
	}
}

// TestEveryWhyAddsUp: the terms of every figure sum to its value.
func TestEveryWhyAddsUp(t *testing.T) {
	job := chairs(17, 19, 2, 0.5, 6)
	job.Staples = order.StapleNeed{Box: 1000, Spoiled: 10 * unit.Percent, Each: 650}
	p := newSolver(t).settle(job, nil)
	for _, g := range p.Goods {
		if g.Roll == nil {
			continue
		}
		if need := cloth.Needed(g.Buy); g.Buy.Value() < need-1e-9 || g.Buy.Value()-need >= g.Roll.Step.MM() {
			t.Errorf("%s: bought %v for %v", g.ID, g.Buy.Value(), need)
		}
	}
	if p.Order.Totals.Total.Value() <= 0 {
		t.Error("staples cost nothing")
	}
}

func BenchmarkRecompute(b *testing.B) {
	s := newSolver(b)
	in := readingRoom()
	prev := s.settle(in, nil)
	i := 0
	for b.Loop() {
		i++
		next := in
		next.Seats = append([]plan.Seat(nil), in.Seats...)
		m := *in.Seats[0].Shape.Measured
		m.FrontWidth += unit.Length(i%16) * unit.SixteenthInch
		next.Seats[0].Shape.Measured = &m
		prev = plan.Make(next, prev, s.get)
	}
}

// readingRoom is nine seats of three kinds with rounded, bowed boards.
func readingRoom() plan.Input {
	in := unit.In
	job := chairs(18.5, 17.25, 2, 0.5, 6)
	job.Seats = nil
	for i, s := range []struct {
		name           string
		fw, bw, d, bow float64
		count          int
	}{{"Side chair", 18.5, 16, 17.25, 0.75, 6}, {"Elbow chair", 20, 18, 18, 0.75, 2}, {"Window bench", 42, 42, 14, 0, 1}} {
		b := buildup.Start(buildup.PulledOver)
		b.Foam[0].Goods, b.Cover.Goods, b.Dust.Goods = "foam", "cloth", "dust"
		job.Seats = append(job.Seats, plan.Seat{ID: s.name, Name: s.name, Letter: string(rune('A' + i)), Count: s.count, Build: b,
			Shape: plan.Shape{Measured: &seat.Measurements{FrontWidth: unit.Length(s.fw) * in, BackWidth: unit.Length(s.bw) * in, Depth: unit.Length(s.d) * in,
				FrontBow: unit.Length(s.bow) * in, FrontRadius: 0.875 * in, BackRadius: 0.875 * in}}})
	}
	job.Foams[0].Width, job.Foams[0].Length = 48*in, 72*in
	dust := cloth.New("dust")
	dust.Use, dust.Width = cloth.DustCloth, 36*in
	job.Rolls = append(job.Rolls, plan.Roll{Cloth: dust})
	return job
}

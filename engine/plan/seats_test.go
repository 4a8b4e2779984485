package plan_test

import (
	"math"
	"testing"

	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/plan"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// One chair of four is half an inch wider: its foam is cut for it alone, the
// covers are all cut for the widest (17½ + 4 = 21½ in).
func TestSeatsOfTheirOwn(t *testing.T) {
	in := chairs(17, 19, 2, 0.5, 4)
	m := *in.Seats[0].Shape.Measured
	m.FrontWidth, m.BackWidth = 17.5*unit.In, 17.5*unit.In
	in.Seats[0].Own = []plan.Own{{Number: 3, Shape: plan.Shape{Measured: &m}}, {Number: 9, Shape: plan.Shape{Measured: &m}}}
	p := newSolver(t).settle(in, nil)
	if len(p.Faults) > 0 {
		t.Fatal(p.Faults)
	}
	for name, size := range partsOf(p, "cloth", buildup.PartCover) {
		near(t, "cover of "+name, size[0], 21.5*unit.In)
	}
	foam := partsOf(p, "foam", buildup.PartFoam)
	if len(foam) != 4 {
		t.Fatalf("got %v", foam)
	}
	for name, size := range foam {
		want := 18 * unit.In
		if name == "A3" {
			want = 18.5 * unit.In
		}
		near(t, "foam of "+name, size[0], want)
	}
	// A piece of its own can be held and is found again.
	g := p.Find("foam")
	for _, at := range g.Lay.Places {
		l := g.Held(p, at)
		held := in
		held.Locked = []plan.Locked{l}
		f := plan.Make(held, nil, func(lay.ProblemID) (lay.Lay, bool) { return lay.Lay{}, false }).Find("foam").Problem.Fixed
		if len(f) != 1 || f[0] != at {
			t.Errorf("%s held as %+v: fixed %+v, want %+v", g.PieceName(at, p), l, f, at)
		}
	}
	in.Seats[0].Own[1].Number = 3
	if p := newSolver(t).settle(in, nil); len(p.Faults) == 0 || p.Faults[0].Code != plan.CodeOwnNumber {
		t.Errorf("two entries for one seat: %v", p.Faults)
	}
}

// A drop-in board of 17 in in an opening of 17¼ in has ⅛ in a side; a cover of
// 1/16 in folded three times needs 3/16: 1/16 in is planed off each side, the
// board becomes 16⅞ in and the cover with it.
func TestPlaneToFit(t *testing.T) {
	in := chairs(17, 19, 2, 0.5, 1)
	s := &in.Seats[0]
	s.Build.Kind, s.Build.Cover.Thickness = buildup.DropIn, unit.In/16
	s.Build.Frame = buildup.Frame{Width: 17.25 * unit.In, Depth: 20 * unit.In}
	p := newSolver(t).settle(in, nil)
	if g := p.Seats[0].Result.Gaps[0]; !g.Binds() {
		t.Fatalf("got %+v", g)
	}
	s.Plane = true
	p = newSolver(t).settle(in, nil)
	sp := p.Seats[0]
	w, d := sp.Outline.Size()
	near(t, "board", w, 16.875*unit.In)
	near(t, "depth", d, 19*unit.In)
	if sp.Result.Gaps[0].Binds() || len(sp.Planed) != 1 {
		t.Errorf("planed %+v, gap %+v", sp.Planed, sp.Result.Gaps[0])
	}
	near(t, "planed off", sp.Planed[0].Plane, unit.In/16)
	b, _ := sp.Result.Blank(buildup.PartCover)
	cw, _ := b.Size()
	near(t, "cover", cw, 20.875*unit.In)
	for _, c := range p.Cautions {
		if c.Code == "seat-binds" {
			t.Error("it still binds")
		}
	}
}

// The old layers come off by moving the edges, which for a tapered board is not
// the same as taking them off the widths: at 1:8 on each side the front line
// moves by t and the widths by 2t·√(1+1/64).
func TestOldLayersComeOffTheEdges(t *testing.T) {
	in := chairs(20, 16, 2, 0, 1)
	m := in.Seats[0].Shape.Measured
	m.BackWidth = 16 * unit.In
	in.Seats[0].OldCover = unit.In / 4
	p := newSolver(t).settle(in, nil)
	o := p.Seats[0].Outline
	_, d := o.Size()
	near(t, "depth", d, 15.5*unit.In)
	slant := math.Sqrt(1 + 1.0/64)
	// At depth y the half width is 10 - y/8; the edge moved in by t lies t·√ to
	// the inside, and the front is now at y = ¼.
	want := 2 * (10 - 0.25/8 - 0.25*slant)
	if got := o.Corners[1].X - o.Corners[0].X; math.Abs(got/25.4-want) > 1e-6 {
		t.Errorf("front width %v in, want %v", got/25.4, want)
	}
}

// The seat's motif point moves the motif of its top, not those of its bands.
func TestMotifOfTheTopAlone(t *testing.T) {
	in := padded(1)
	in.Rolls[0].Pattern = cloth.Pattern{Along: 9 * unit.In, RuleAlong: lay.Free}
	was := newSolver(t).settle(in, nil).Find("cloth")
	in.Seats[0].MotifAcross, in.Seats[0].MotifFront = 2*unit.In, unit.Some(3*unit.In)
	now := newSolver(t).settle(in, nil).Find("cloth")
	for i, k := range now.Problem.Kinds {
		moved := k.Motif != was.Problem.Kinds[i].Motif
		top := now.Kinds[i].Blank.Part == buildup.PartTop || now.Kinds[i].Blank.Part == buildup.PartBottom
		if moved != top {
			t.Errorf("%s: moved %v", k.ID, moved)
		}
	}
	// 2 in to the right and 3 in from the front, up the roll: (x, y) lies at
	// (y, -x).
	if k := now.Problem.Kinds[0]; k.Motif.Dist(geom.P(3*25.4, -2*25.4)) > 1e-6 {
		t.Errorf("motif at %v", k.Motif)
	}
}

// padded is a boxed pad with welt and a zip on the cover cloth.
func padded(count int) plan.Input {
	in := chairs(20, 18, 2, 0, count)
	b := buildup.Start(buildup.BoxedPad)
	b.Foam[0].Goods, b.Cover.Goods = "foam", "cloth"
	b.Foam[0].Thickness = unit.In
	b.Pad.Zip = true
	b.Welt = buildup.Welt{Goods: "cloth", Rows: 2, Cord: 5 * unit.In / 32, Seam: unit.In / 2}
	in.Seats[0].Build = b
	return in
}

// Welt of a pad of 20 × 18 in: two rows of 76 in and 2 in to close, 156 in,
// for three pads 468 in, in strips of 1 1/2 in (S29, S30) on 54 in goods with
// joins of 1 in: 53 in each after the first, 9 strips. As one rectangle they
// take 13 1/2 in. The cord is as long as the welt.
func TestWeltIsLaid(t *testing.T) {
	in := padded(3)
	in.Cord = plan.ByLength{Each: 60, PriceUnit: unit.Yd, Step: unit.Yd / 2}
	in.Zip = plan.ByLength{Each: 100, PriceUnit: unit.Yd}
	in.Seats[0].Build.Webbing = buildup.Webbing{Across: 2, Along: 1, Width: 2 * unit.In, Fold: unit.In}
	in.Webbing = plan.ByLength{Each: 90, PriceUnit: unit.Yd, Have: unit.Yd}
	s := newSolver(t)
	p := s.settle(in, nil)
	if len(p.Faults) > 0 {
		t.Fatal(p.Faults)
	}
	welt := partsOf(p, "cloth", buildup.PartWelt)
	if len(welt) != 9 {
		t.Errorf("%d strips, want 9: %v", len(welt), welt)
	}
	if _, ok := welt["welt-9"]; !ok {
		t.Errorf("strips are called %v", welt)
	}
	for _, name := range []string{"A1-panel-top", "A2-zip-band-back-2", "A3-band-front"} {
		g, found := p.Find("cloth"), false
		for _, at := range g.Lay.Places {
			found = found || g.PieceName(at, p) == name
		}
		if !found {
			t.Errorf("no piece %s", name)
		}
	}
	lines := map[string]unit.Length{}
	for _, it := range p.Order.Items {
		lines[it.Code] = it.Buy.Length()
	}
	near(t, "cord, 13 yd", lines["welt-cord"], 13*unit.Yd)
	near(t, "zips of 20 in", lines["zip"], 60*unit.In)
	near(t, "webbing 2 × 22 and 20, three times, a yard there", lines["webbing"], (3*64-36)*unit.In)

	in.Seats[0].Build.Welt.Rectangle = true
	q := s.settle(in, nil)
	welt = partsOf(q, "cloth", buildup.PartWelt)
	for _, size := range welt {
		near(t, "across", max(size[0], size[1]), 54*unit.In)
		near(t, "along", min(size[0], size[1]), 13.5*unit.In)
	}
	if len(welt) != 1 {
		t.Errorf("got %v", welt)
	}
	in.Seats[0].Build.Welt.Rectangle, in.Seats[0].Build.Welt.Bias = false, true
	r := s.settle(in, nil)
	total, area := 0.0, 0.0
	for _, k := range r.Find("cloth").Problem.Kinds {
		if len(k.Shape) == 4 && !k.Square {
			total += float64(k.Count)
			area += k.Shape.Area() * float64(k.Count)
		}
	}
	if total == 0 || area < 468*1.5*645.16 {
		t.Errorf("%v bias strips of %v in²", total, area/645.16)
	}
	in.Seats[0].Build.Welt.Goods = "contrast"
	c := cloth.New("contrast")
	c.Use = cloth.Contrast
	in.Rolls = append(in.Rolls, plan.Roll{Cloth: c})
	if g := s.settle(in, nil).Find("contrast"); g == nil || g.Lay == nil || g.Pieces == 0 {
		t.Error("contrast welt is not laid")
	}
}

// Screw holes are carried to the dust cloth.
func TestHolesReachTheDustCloth(t *testing.T) {
	in := chairs(17, 19, 2, 0.5, 1)
	b := &in.Seats[0].Build
	b.Dust = buildup.Start(buildup.PulledOver).Dust
	b.Dust.Goods = "dust"
	b.Holes = []geom.Pt{{X: 100, Y: 50}, {X: -100, Y: 50}}
	in.Rolls = append(in.Rolls, plan.Roll{Cloth: cloth.New("dust")})
	d, _ := newSolver(t).settle(in, nil).Seats[0].Result.Blank(buildup.PartDust)
	n := 0
	for _, l := range d.Lines {
		if l.Kind == buildup.LineHole {
			n++
		}
	}
	if n != 2 {
		t.Errorf("%d holes on the dust cloth", n)
	}
}

// A bench of 43 × 15 in on sheets of 36 × 30 in is glued of two parts; its
// pieces are called A1-1 and A1-2, its joint counts for the adhesive.
func TestGlueUpTheUserSet(t *testing.T) {
	in := chairs(42, 14, 2, 0.5, 1)
	in.Foams[0].Length, in.Foams[0].Width = 36*unit.In, 30*unit.In
	in.Adhesive = &plan.Adhesive{Coverage: 1e6, Each: 1000}
	s := newSolver(t)
	if p := s.settle2(in); len(p.Find("foam").Faults) == 0 {
		t.Error("43 in of foam fit a sheet of 36 in")
	}
	in.GlueUps = []plan.GlueUp{{Seat: "s1", FrontToBack: true, At: []unit.Length{27 * unit.In}}}
	p := s.settle(in, nil)
	g := p.Find("foam")
	if len(g.Faults) > 0 || g.GlueUps() != 1 || g.Pieces != 1 || g.Lay.Sheets != 1 {
		t.Fatalf("faults %v, %d glue-ups, %d pieces", g.Faults, g.GlueUps(), g.Pieces)
	}
	got := partsOf(p, "foam", buildup.PartFoam)
	near(t, "left part", got["A1-1"][0], 27*unit.In)
	near(t, "right part", got["A1-2"][0], 16*unit.In)
	for _, it := range p.Order.Items {
		if it.Code == "adhesive" {
			if n := len(it.Buy.Terms); n < 2 || math.Abs(it.Buy.Terms[1].Value-15*1*645.16/1e6) > 1e-9 {
				t.Errorf("adhesive terms %+v", it.Buy.Terms)
			}
		}
	}
	for _, at := range g.Lay.Places {
		l := g.Held(p, at)
		held := in
		held.Locked = []plan.Locked{l}
		if f := plan.Make(held, nil, s.get).Find("foam").Problem.Fixed; len(f) != 1 || f[0] != at {
			t.Errorf("%s held: fixed %+v, want %+v", g.PieceName(at, p), f, at)
		}
	}
	raised := func(in plan.Input) bool {
		for _, c := range s.settle(in, nil).Cautions {
			if c.Code == "joint-under-front-edge" {
				return true
			}
		}
		return false
	}
	if raised(in) {
		t.Error("a joint from front to back raised the caution")
	}
	in.Foams[0].Length = 50 * unit.In
	in.Foams[0].Glue.MinWidth = unit.In
	in.GlueUps[0] = plan.GlueUp{Seat: "s1", At: []unit.Length{1.5 * unit.In}}
	if !raised(in) {
		t.Error("a joint 1½ in behind the front edge raised no caution")
	}
	for code, g := range map[string]plan.GlueUp{
		plan.CodeJoint: {Seat: "s1", At: []unit.Length{15 * unit.In}}, plan.CodeJoints: {Seat: "s1"},
		plan.CodePartNarrow: {Seat: "s1", At: []unit.Length{14.5 * unit.In}},
	} {
		in.GlueUps[0] = g
		if p := s.settle2(in); len(p.Faults) == 0 || p.Faults[0].Code != code {
			t.Errorf("got %v, want %s", p.Faults, code)
		}
	}
}

// settle2 makes a plan that may have faults.
func (s *solver) settle2(in plan.Input) *plan.Plan { return plan.Make(in, nil, s.get) }

func TestCautionsAreDealtWith(t *testing.T) {
	in := chairs(17, 19, 2, 0.5, 1)
	p := newSolver(t).settle(in, nil)
	key := p.Cautions[0].Key()
	in.Dismissed = map[string]string{key: "seen"}
	q := newSolver(t).settle(in, nil)
	if len(q.Dismissed) != 1 || len(q.Cautions) != len(p.Cautions)-1 || q.Dismissed[0].Key() != key {
		t.Errorf("%d left of %d, dealt with %v", len(q.Cautions), len(p.Cautions), q.Dismissed)
	}
}

// Parts of shaped foam with a notch and a rounded, bowed front make up the
// blank exactly, whichever way they are cut.
func TestPartsTileShapedFoam(t *testing.T) {
	o, faults := seat.FromMeasurements(seat.Measurements{FrontWidth: 500, BackWidth: 430, Depth: 440, FrontBow: 25, FrontRadius: 25, BackRadius: 10, NotchWidth: 40, NotchDepth: 45})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	s := buildup.Start(buildup.PulledOver)
	s.Foam[0].Goods = "foam"
	r, faults := buildup.Make(o, s, unit.SixteenthInch)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	b, _ := r.Blank(buildup.PartFoam)
	f := cloth.Sheet{ID: "foam", Thickness: unit.In, Glue: cloth.Glue{MinWidth: 60}}
	for _, g := range []plan.GlueUp{{At: []unit.Length{160}}, {At: []unit.Length{120, 300}}, {FrontToBack: true, At: []unit.Length{300}}, {FrontToBack: true, At: []unit.Length{380, 110}}} {
		parts, bad := plan.Parts(b, g, f)
		if bad != nil || len(parts) != len(g.At)+1 {
			t.Fatalf("%+v: %v", g, bad)
		}
		tile(t, b, parts)
	}
}

package buildup

import (
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// rect is a rectangular seat, inches.
func rect(t *testing.T, w, d float64) seat.Outline {
	t.Helper()
	return measured(t, seat.Measurements{FrontWidth: unit.Length(w) * unit.In, BackWidth: unit.Length(w) * unit.In, Depth: unit.Length(d) * unit.In})
}

func measured(t *testing.T, m seat.Measurements) seat.Outline {
	t.Helper()
	o, faults := seat.FromMeasurements(m)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return o
}

func sideChair(t *testing.T) seat.Outline {
	return measured(t, seat.Measurements{
		FrontWidth: 470, BackWidth: 390, Depth: 430, FrontBow: 20, FrontRadius: 30, BackRadius: 12,
	})
}

func notchedChair(t *testing.T) seat.Outline {
	return measured(t, seat.Measurements{
		FrontWidth: 470, BackWidth: 420, Depth: 430, FrontBow: 15, FrontRadius: 25, NotchWidth: 45, NotchDepth: 40,
	})
}

func mustMake(t *testing.T, o seat.Outline, s Spec, step unit.Length) Result {
	t.Helper()
	r, faults := Make(o, s, step)
	if len(faults) > 0 {
		t.Fatalf("faults: %v", faults)
	}
	return r
}

func wantSize(t *testing.T, name string, r Result, p Part, w, d float64) {
	t.Helper()
	b, ok := r.Blank(p)
	if !ok {
		t.Errorf("%s: no %s", name, p.Code())
		return
	}
	near(t, name+", width in", b.W.Length().In(), w, 1e-9)
	near(t, name+", depth in", b.D.Length().In(), d, 1e-9)
}

func fixed(w unit.Length) PerEdge { return PerEdge{All: unit.Some(w)} }

func TestPublishedBlanks(t *testing.T) {
	s := Start(PulledOver)
	// Common practice, no source: over an inch of foam the cover is cut at
	// least 2 in larger on each side and the foam half an inch; a 17 x 19 in
	// seat then gives a 21 x 23 cover and an 18 x 20 foam.
	habit := s
	habit.Cover.Fixed = fixed(2 * unit.In)
	r := mustMake(t, rect(t, 17, 19), habit, unit.SixteenthInch)
	wantSize(t, "17 x 19, 2 in each side", r, PartCover, 21, 23)
	wantSize(t, "17 x 19, half an inch each side", r, PartFoam, 18, 20)
	for _, w := range mustMake(t, rect(t, 17, 19), s, unit.SixteenthInch).Wraps {
		if w.Computed.Length() < 2*unit.In {
			t.Errorf("%s: a computed wrap of %v over an inch of foam, want at least 2 in", w.Role, w.Computed.Length().In())
		}
	}
	// S4, how-to blog (grade C): seat 17 1/2 x 17, 3 in each side -> 23 1/2 x 23.
	three := s
	three.Cover.Fixed = fixed(3 * unit.In)
	wantSize(t, "17 1/2 x 17, 3 in each side", mustMake(t, rect(t, 17.5, 17), three, unit.SixteenthInch), PartCover, 23.5, 23)
	// S3, how-to article (grade C): seat 20 x 22 -> cut 26 x 28.
	wantSize(t, "20 x 22, 3 in each side", mustMake(t, rect(t, 20, 22), three, unit.SixteenthInch), PartCover, 26, 28)
	// S2, trade site (grade B): board 20 x 16, half an inch each side -> 21 x 17.
	wantSize(t, "20 x 16, half an inch each side", mustMake(t, rect(t, 20, 16), s, unit.SixteenthInch), PartFoam, 21, 17)
	// S41, furniture project page (grade B/C): board 16 1/2 square, a quarter
	// each side -> 17 square.
	quarter := s
	quarter.Oversize = unit.In / 4
	wantSize(t, "16 1/2 square, a quarter each side", mustMake(t, rect(t, 16.5, 16.5), quarter, unit.SixteenthInch), PartFoam, 17, 17)
	// S42, woodworking magazine (grade B): foam cut to the board.
	quarter.Oversize = 0
	wantSize(t, "foam as large as the board", mustMake(t, rect(t, 16, 15), quarter, unit.SixteenthInch), PartFoam, 16, 15)
}

func TestOverridesPerEdge(t *testing.T) {
	s := Start(PulledOver)
	s.Cover.Fixed = PerEdge{All: unit.Some(2 * unit.In), Front: unit.Some(3 * unit.In), Left: unit.Some(2.5 * unit.In)}
	r := mustMake(t, rect(t, 17, 19), s, unit.SixteenthInch)
	wantSize(t, "front 3, left 2 1/2, else 2", r, PartCover, 17+2.5+2, 19+3+2)
	b := r.Squared
	near(t, "left edge", unit.Length(b.Min.X).In(), -8.5-2.5, 1e-9)
	near(t, "front edge", unit.Length(b.Min.Y).In(), -3, 1e-9)
	w, ok := r.Wrap(seat.Front)
	if !ok || !w.Fixed || w.Used.Length() != 3*unit.In {
		t.Errorf("front: got %+v", w)
	}
	near(t, "the computed wrap stays in sight", w.Computed.Length().In(), 1+0.5+1+0.5, 1e-9)
	// Reach: wrap - p - u + 1/2 = 3 - 1/2 - 1 + 1/2 = 2 in.
	near(t, "least wrap that takes the staples", w.Reach(s.Line()).In(), 2, 1e-9)
	near(t, "left to pull by", w.PullLeft().In(), 0.5, 1e-9)
	back, _ := r.Wrap(seat.Back)
	near(t, "left to pull by with 2 in", back.PullLeft().In(), 0, 1e-9)
	near(t, "raw edge with 2 in", back.RawEdge().In(), 0.5, 1e-9)
}

func TestRoundingIsATermOfItsOwn(t *testing.T) {
	s := Start(PulledOver)
	s.Cover.Fixed = fixed(51) // mm
	r := mustMake(t, rect(t, 17, 19), s, unit.SixteenthInch)
	b, _ := r.Blank(PartCover)
	// 431.8 + 102 = 533.8 mm = 21.0157 in -> 21 1/16 in = 534.9875 mm.
	near(t, "width", b.W.Value(), 534.9875, 1e-9)
	last := b.W.Terms[len(b.W.Terms)-1]
	if last.Code != WhyRounding {
		t.Errorf("last term is %s, want the rounding", last.Code)
	}
	near(t, "rounding", last.Value, 1.1875, 1e-9)
	near(t, "centre mark stays in the middle", b.Path.Bounds().Center().X, 0, 1e-9)
}

// random builds any seat and build-up that may occur.
func random(r *rand.Rand) (seat.Outline, Spec, bool) {
	var o seat.Outline
	var faults []unit.Fault
	pick := func(most float64) unit.Length { return unit.Length(r.Float64() * most) }
	if r.IntN(6) == 0 {
		o, faults = seat.Round(300+pick(200), 300+pick(200))
	} else {
		m := seat.Measurements{FrontWidth: 350 + pick(250), Depth: 330 + pick(200)}
		m.BackWidth = m.FrontWidth - pick(100)
		if r.IntN(2) == 0 {
			m.FrontBow = pick(30)
		}
		if r.IntN(3) == 0 {
			m.SideBow = pick(10)
		}
		if r.IntN(2) == 0 {
			m.FrontRadius, m.BackRadius = pick(50), pick(30)
		}
		if r.IntN(3) == 0 {
			m.NotchWidth, m.NotchDepth, m.BackRadius = 20+pick(40), 20+pick(40), 0
		}
		o, faults = seat.FromMeasurements(m)
	}
	if len(faults) > 0 {
		return o, Spec{}, false
	}
	s := Start(Kind(r.IntN(4)))
	s.Foam[0].Thickness = 10 + pick(60)
	if s.Kind != BoxedPad {
		s.Oversize, s.Overhang = pick(15), PerEdge{}
	}
	if r.IntN(3) == 0 {
		s.Foam = append(s.Foam, Layer{Thickness: 5 + pick(10), Inset: 30 + pick(30)})
	}
	switch r.IntN(3) {
	case 0:
		s.Edge, s.EdgeSize = RoundedEdge, s.Foam[0].Thickness*unit.Length(r.Float64())/2
	case 1:
		s.Edge, s.EdgeSize = BevelBelow, s.Foam[0].Thickness*unit.Length(r.Float64())/2
	}
	s.Compression = r.Float64() * 0.2
	if r.IntN(2) == 0 {
		s.Wadding = Wadding{Thickness: 3 + pick(15), StopsAtFoam: r.IntN(2) == 0, Squared: r.IntN(5) == 0}
	}
	if r.IntN(4) == 0 {
		s.Dome = pick(20)
	}
	s.Barrier.Use, s.Lining.Use = r.IntN(4) == 0, r.IntN(4) == 0
	s.Lining.TurnUnder = unit.Some(pick(25))
	s.Cover.Shaped, s.FoamSquared, s.Dust.Squared = r.IntN(2) == 0, r.IntN(5) == 0, r.IntN(5) == 0
	s.Cover.Thickness = pick(2)
	s.Staples.Leg = pick(12)
	s.NotchClearance = pick(5)
	if r.IntN(3) == 0 {
		s.Cover.Fixed = PerEdge{All: unit.Some(40 + pick(60))}
	}
	if r.IntN(2) == 0 {
		s.Frame = Frame{Width: 600, Depth: 600, PostGap: unit.Some(pick(6))}
	}
	s.Welt = Welt{Rows: r.IntN(3), Cord: 4, Seam: 12, Bias: r.IntN(2) == 0}
	s.Webbing = Webbing{Across: r.IntN(4), Along: r.IntN(4), Width: 50, Fold: 25, Stretch: 1.23}
	s.Pad.Zip, s.Pad.Ties, s.Pad.TieLength, s.Pad.TieWidth = r.IntN(2) == 0, r.IntN(5), 300, 30
	s.Pad.Thickness = max(s.Pad.Thickness, 10)
	return o, s, true
}

// Every figure's terms add up to it; every blank's size is that of its path;
// every path is a valid outline; squared sizes are whole marking steps; the
// cover contains the board and every edge's own strip; the same input gives
// the same result.
func TestEveryFigure(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 12))
	t.Logf("-seed %d", *seed)
	made, skipped := 0, 0
	for i := range 400 {
		o, s, ok := random(r)
		if !ok {
			skipped++
			continue
		}
		step := []unit.Length{unit.SixteenthInch, unit.OneMillimetre, 0}[i%3]
		res, faults := Make(o, s, step)
		if len(faults) > 0 {
			t.Fatalf("%d: %+v\n%v", i, s, faults)
		}
		made++
		for _, w := range res.Whys() {
			var sum float64
			for _, x := range w.Why.Terms {
				if math.IsNaN(x.Value) || !strings.Contains(x.Code, ".") {
					t.Fatalf("%d %s: term %+v", i, w.Name, x)
				}
				sum += x.Value
			}
			if math.Abs(sum-w.Why.Value()) > 1e-9 {
				t.Fatalf("%d %s: terms add up to %v, value %v", i, w.Name, sum, w.Why.Value())
			}
		}
		for _, b := range res.Blanks {
			box := b.Path.Bounds()
			if math.Abs(box.W()-b.W.Value()) > 1e-9 || math.Abs(box.H()-b.D.Value()) > 1e-9 {
				t.Fatalf("%d %s: path is %v x %v, size says %v x %v", i, b.Part.Code(), box.W(), box.H(), b.W.Value(), b.D.Value())
			}
			if f := b.Path.Validate(); f != nil {
				t.Fatalf("%d %s: %v", i, b.Part.Code(), f)
			}
			if b.Count < 1 {
				t.Fatalf("%d %s: count %d", i, b.Part.Code(), b.Count)
			}
			if b.Square && step > 0 {
				for _, v := range []float64{b.W.Value(), b.D.Value()} {
					if n := v / step.MM(); math.Abs(n-math.Round(n)) > 1e-6 {
						t.Fatalf("%d %s: %v is no whole number of marking steps", i, b.Part.Code(), v)
					}
				}
			}
			if !b.Square && box2(b.Path) {
				t.Fatalf("%d %s: a rectangle that is not called one", i, b.Part.Code())
			}
		}
		if s.Kind == BoxedPad {
			continue
		}
		rect := res.Squared
		for k := range o.Filled {
			w, _ := res.Wrap(o.Roles[k])
			m := moved(o.Filled.Segment(k), 0)
			if o.Filled.CornerArcs()[k] {
				continue
			}
			m = moved(o.Filled.Segment(k), w.Used.Value())
			for _, share := range []float64{0, 0.25, 0.5, 0.75, 1} {
				if q := m.At(share); !rect.Grow(1e-6).Contains(q) {
					t.Fatalf("%d: the strip of edge %d (%s) leaves the squared cover at %v", i, k, o.Roles[k], q)
				}
				if in := m.At(0.02 + 0.96*share).Mul(0.999).Add(o.Filled.Bounds().Center().Mul(0.001)); !res.Shaped.Contains(in) {
					t.Fatalf("%d: the strip of edge %d (%s) leaves the shaped cover at %v", i, k, o.Roles[k], in)
				}
			}
		}
		again, _ := Make(o, s, step)
		if !reflect.DeepEqual(res, again) {
			t.Fatalf("%d: the same input gave another result", i)
		}
	}
	t.Logf("%d made, %d skipped (measurements that make no seat)", made, skipped)
	if made < 300 {
		t.Errorf("only %d made", made)
	}
}

func box2(p geom.Path) bool {
	b := p.Bounds()
	return p.Area() > b.W()*b.H()-1e-6
}

func TestFoamRoundPosts(t *testing.T) {
	o := notchedChair(t)
	s := Start(PulledOver)
	s.NotchClearance = 3
	r := mustMake(t, o, s, 0)
	b, _ := r.Blank(PartFoam)
	for _, n := range o.Notches {
		out := -1.0
		if n.Right {
			out = 1
		}
		inner := n.Inner
		if b.Path.Contains(inner) {
			t.Errorf("foam covers the notch's inner corner %v", inner)
		}
		if keep := inner.Add(geom.P(-out*3.01, -3.01)); !b.Path.Contains(keep) {
			t.Errorf("foam is missing at %v, beyond the clearance", keep)
		}
		// The notch goes on past the foam's edge, oversize and all.
		if far := n.Corner.Add(geom.P(out*5, 5)); b.Path.Contains(far) {
			t.Errorf("foam at %v, outside the board where the post stands", far)
		}
	}
	// Area by hand: the offset of the filled outline less the two corners.
	whole, err := geom.Offset(o.Filled, func(int) float64 { return s.Oversize.MM() })
	if err != nil {
		t.Fatal(err)
	}
	if b.Path.Area() >= whole.Area()-2*45*40 {
		t.Errorf("area %v, want less than %v", b.Path.Area(), whole.Area()-2*45*40)
	}
	c, _ := r.Blank(PartCover)
	if !c.Square {
		t.Error("notches are never cut into a cover")
	}
}

func TestLinesOnACover(t *testing.T) {
	o := notchedChair(t)
	s := Start(PulledOver)
	for _, shaped := range []bool{false, true} {
		s.Cover.Shaped = shaped
		r := mustMake(t, o, s, unit.SixteenthInch)
		c, _ := r.Blank(PartCover)
		count := map[LineKind]int{}
		for _, l := range c.Lines {
			count[l.Kind]++
		}
		if count[LineBoard] != 1 || count[LineNotch] != 2 || count[LineRelief] != 6 || count[LineCentre] != 4 {
			t.Errorf("shaped %v: got %v", shaped, count)
		}
		n := 0
		for _, l := range c.Lines {
			if l.Kind != LineRelief {
				continue
			}
			from, to := l.Path[0].Pt, l.Path[1].Pt
			inner := o.Notches[0].Inner
			if !l.Right {
				inner = o.Notches[1].Inner
			}
			switch n % 3 {
			case 0: // the diagonal
				near(t, "diagonal stops short by, in", unit.Length(to.Dist(inner)).In(), 1, 1e-9)
				// It points at the inner corner.
				near(t, "diagonal's aim", to.Sub(from).Cross(inner.Sub(from))/from.Dist(inner)/from.Dist(to), 0, 1e-9)
				if !shaped {
					b := c.Path.Bounds()
					if math.Abs(math.Abs(from.X)-b.Max.X) > 1e-9 || math.Abs(from.Y-b.Max.Y) > 1e-9 {
						t.Errorf("diagonal begins at %v, want the blank's corner", from)
					}
				} else if grown := c.Path.Bounds().Grow(1e-6); !grown.Contains(from) {
					t.Errorf("diagonal begins at %v, outside the blank", from)
				}
			default: // an arm
				near(t, "arm, in", unit.Length(from.Dist(to)).In(), 0.5, 1e-9)
				if to.Dist(inner) > from.Dist(inner) {
					t.Errorf("an arm leads away from the notch")
				}
			}
			n++
		}
	}
}

func TestWadding(t *testing.T) {
	// Rectangle by hand: T = 2, r = 3/4, overhang 1/2, board 5/8, covering the
	// board's edge: 2 - (2 - pi/2) 3/4 + hypot(1/2, 5/8) = 2 - 0.32190 + 0.80039
	// = 2.47849, plus 1/2 to trim.
	s := Start(PulledOver)
	s.Foam[0].Thickness, s.Board, s.Overhang = 2*unit.In, 5*unit.In/8, PerEdge{}
	s.Edge, s.EdgeSize = RoundedEdge, 3*unit.In/4
	s.Wadding = Wadding{Thickness: unit.In / 4}
	r := mustMake(t, rect(t, 17, 19), s, 0)
	b, _ := r.Blank(PartWadding)
	side := 2.47849 + 0.5
	near(t, "width, in", b.W.Length().In(), 18+2*side, 5e-5)
	near(t, "depth, in", b.D.Length().In(), 20+2*side, 5e-5)
	// The corners are cut out so that it lies single: the cross has the area
	// of the foam and four flaps.
	near(t, "area, in2", b.Path.Area()/unit.In.MM()/unit.In.MM(), 18*20+2*(18+20)*side, 0.01)
	// Where it stops at the foam, the board's share is not there.
	s.Wadding.StopsAtFoam = true
	b, _ = mustMake(t, rect(t, 17, 19), s, 0).Blank(PartWadding)
	near(t, "stops at the foam, in", b.W.Length().In(), 18+2*(2-0.32190+0.5), 5e-5)
	// A drop-in seat has no room for it below the foam.
	s.Wadding.StopsAtFoam, s.Kind = false, DropIn
	b, _ = mustMake(t, rect(t, 17, 19), s, 0).Blank(PartWadding)
	near(t, "drop-in, in", b.W.Length().In(), 18+2*(2-0.32190+0.5), 5e-5)
	// Rounded corners: one V to the middle of each rounding; the flaps reach
	// on by half the rounding, so none of the edge stays bare.
	s.Kind = PulledOver
	o := sideChair(t)
	b, _ = mustMake(t, o, s, 0).Blank(PartWadding)
	foam, _ := mustMake(t, o, s, 0).Blank(PartFoam)
	if b.Path.Area() < foam.Path.Area()+foam.Path.Length()*30 {
		t.Errorf("flaps too small: %v mm2", b.Path.Area()-foam.Path.Area())
	}
	vees := 0
	for i, is := range foam.Path.CornerArcs() {
		if !is {
			continue
		}
		vees++
		mid := foam.Path.Segment(i).At(0.5)
		out := mid.Sub(foam.Path.Segment(i).Center())
		if b.Path.Contains(mid.Add(out.Mul(3 / out.Len()))) {
			t.Errorf("no cut at the rounded corner near %v", mid)
		}
	}
	if vees != 4 {
		t.Errorf("%d rounded corners, want 4", vees)
	}
}

func TestDustCloth(t *testing.T) {
	s := Start(PulledOver)
	s.Dust = Dust{Hem: unit.In / 2, Inset: 3 * unit.In / 8}
	r := mustMake(t, rect(t, 17, 19), s, unit.SixteenthInch)
	wantSize(t, "hem 1/2, inset 3/8", r, PartDust, 17.25, 19.25)
	s.Dust.Hem = 0
	wantSize(t, "no hem", mustMake(t, rect(t, 17, 19), s, unit.SixteenthInch), PartDust, 16.25, 18.25)
	// It follows the notches.
	o := notchedChair(t)
	b, _ := mustMake(t, o, s, 0).Blank(PartDust)
	if in := o.Notches[0].Inner.Add(geom.P(5, 5)); b.Path.Contains(in) {
		t.Errorf("the dust cloth covers the notch at %v", in)
	}
	s.Dust.None = true
	if _, ok := mustMake(t, o, s, 0).Blank(PartDust); ok {
		t.Error("no dust cloth was asked for")
	}
	s.Dust.None = false
	s.Holes = []geom.Pt{{X: 100, Y: 100}, {X: -100, Y: 100}}
	b, _ = mustMake(t, o, s, 0).Blank(PartDust)
	holes := 0
	for _, l := range b.Lines {
		if l.Kind == LineHole {
			holes++
		}
	}
	if holes != 2 {
		t.Errorf("%d screw holes on the dust cloth, want 2", holes)
	}
}

func TestLiningHasItsOwnTurn(t *testing.T) {
	s := Start(PulledOver)
	s.Lining = Undercover{Use: true, Goods: "calico", TurnUnder: unit.Some(3 * unit.In / 4), Pull: unit.Some(unit.In / 4)}
	s.Barrier = Undercover{Use: true}
	r := mustMake(t, rect(t, 17, 19), s, unit.SixteenthInch)
	// Cover wrap 3 in; lining a quarter less turn and a quarter less pull.
	wantSize(t, "cover", r, PartCover, 23, 25)
	wantSize(t, "lining", r, PartLining, 22, 24)
	wantSize(t, "barrier, as the cover", r, PartBarrier, 23, 25)
}

package seat

import (
	"math"
	"math/rand/v2"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// pts makes a traced shape of x, y pairs.
func pts(v ...float64) Traced {
	var t Traced
	for i := 0; i+1 < len(v); i += 2 {
		t.Points = append(t.Points, TracedPoint{At: geom.P(v[i], v[i+1])})
	}
	return t
}

func good(t *testing.T, tr Traced) Outline {
	t.Helper()
	o, f := FromTraced(tr)
	if f != nil {
		t.Fatalf("%v: %+v", f, tr.Points)
	}
	return o
}

func TestTracedBoard(t *testing.T) {
	// 400 × 350 with a front bow of 20, back corners of radius 30: by hand, the
	// bow's radius is (200² + 20²)/40 = 1010, its cap r²(a - sin a)/2 with sin
	// a/2 = 200/1010; each rounded corner loses (1 - π/4)·30².
	tr := pts(100, 50, 500, 50, 500, 400, 100, 400)
	tr.Points[0].Bow = 20
	tr.Points[2].Radius, tr.Points[3].Radius = 30, 30
	o := good(t, tr)
	a := 2 * math.Asin(200./1010)
	near(t, "area", o.Board.Area(), 400*350+1010*1010*(a-math.Sin(a))/2-2*(1-math.Pi/4)*900, 1e-6)
	w, d := o.Size()
	near(t, "width", w.MM(), 400, 1e-9)
	near(t, "depth", d.MM(), 370, 1e-9)
	if o.Moved != geom.P(-300, -30) {
		t.Errorf("moved by %v", o.Moved)
	}
	near(t, "front edge", o.EdgeLength(Front).MM(), 1010*a, 1e-6)
	tr.Points[0].Role, tr.Points[0].HasRole = Left, true
	near(t, "front edge called left", good(t, tr).EdgeLength(Front).MM(), 0, 0)
	tr.Points[2].Radius = 500
	if _, f := FromTraced(tr); f == nil || f.Code != geom.CodeRadius {
		t.Errorf("too large a radius: %v", f)
	}
	if _, f := FromTraced(pts(0, 0, 100, 100, 100, 0, 0, 100)); f == nil || f.Code != geom.CodeCrosses {
		t.Errorf("crossing: %v", f)
	}
	if _, f := FromTraced(Traced{}); f == nil || f.Code != geom.CodeTooFew {
		t.Errorf("nothing: %v", f)
	}
}

// TestMeasuredBecomesTraced: a measured outline taken apart gives the same
// board, its corners as corners.
func TestMeasuredBecomesTraced(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 31))
	t.Logf("-seed %d", *seed)
	four := 0
	for range 300 {
		m := randomSeat(r)
		o, faults := FromMeasurements(m)
		if len(faults) > 0 {
			continue
		}
		tr := o.Trace()
		g, f := FromTraced(tr)
		if f != nil {
			t.Fatalf("%v from %+v", f, m)
		}
		near(t, "area", g.Board.Area(), o.Board.Area(), 0.02*o.Board.Length())
		gw, gd := g.Size()
		ow, od := o.Size()
		near(t, "width", gw.MM(), ow.MM(), 0.02)
		near(t, "depth", gd.MM(), od.MM(), 0.02)
		if len(g.Notches) != len(o.Notches) {
			t.Fatalf("%d notches became %d", len(o.Notches), len(g.Notches))
		}
		if len(tr.Points) == 4 {
			four++
		}
		// From the bare path the same shape comes out.
		again := good(t, TraceOf(o.Filled))
		near(t, "area from the path", again.Board.Area(), o.Filled.Area(), 0.02*o.Filled.Length())
	}
	if four < 100 {
		t.Errorf("only %d kept four corners", four)
	}
	o, _ := Round(400, 300)
	near(t, "oval", good(t, o.Trace()).Board.Area(), o.Board.Area(), 1e-6)
}

func TestRoundedPathBecomesCorners(t *testing.T) {
	p, f := geom.Path{geom.V(-200, 0, 0.1), geom.V(200, 0, 0), geom.V(180, 300, 0), geom.V(-180, 300, 0)}.Fillets(func(i int) float64 { return 15 + 10*float64(i) })
	if f != nil {
		t.Fatal(f)
	}
	tr := TraceOf(p)
	if len(tr.Points) != 4 {
		t.Fatalf("%d points, want 4", len(tr.Points))
	}
	for i, q := range tr.Points {
		want := unit.Length(0)
		for k := range 4 {
			if q.At.Dist(geom.Path{geom.V(-200, 0, 0), geom.V(200, 0, 0), geom.V(180, 300, 0), geom.V(-180, 300, 0)}[k].Pt) < 1e-6 {
				want = 15 + 10*unit.Length(k)
			}
		}
		near(t, "radius", q.Radius.MM(), want.MM(), 1e-6)
		if q.At.Y < 1 && q.At.X < 0 && math.Abs(q.Bow.MM()-20) > 1e-6 { // bulge 0.1 over 400: sagitta 20
			t.Errorf("point %d: bow %v", i, q.Bow)
		}
	}
}

func TestDrawnNotches(t *testing.T) {
	// Right notch 40 × 50, left 30 × 45, drawn with points.
	tr := pts(0, 0, 400, 0, 400, 300, 360, 300, 360, 350, 30, 350, 30, 305, 0, 305)
	got, n := tr.NotchesFromPoints()
	if n != 2 || len(got.Points) != 4 || len(got.Notches) != 2 {
		t.Fatalf("found %d, %d points left", n, len(got.Points))
	}
	if got.Notches[0] != (Cut{true, 40, 50}) || got.Notches[1] != (Cut{false, 30, 45}) {
		t.Errorf("notches %+v", got.Notches)
	}
	o := good(t, got)
	near(t, "board", o.Board.Area(), 400*350-40*50-30*45, 1e-9)
	near(t, "filled", o.Filled.Area(), 400*350, 1e-9)
	near(t, "drawn", good(t, tr).Board.Area(), 400*350-40*50-30*45, 1e-9)
	if _, n := pts(0, 0, 400, 0, 400, 350, 0, 350).NotchesFromPoints(); n != 0 {
		t.Errorf("found %d in a plain box", n)
	}
	// Sides that lean: the corner lies where they meet when extended.
	lean, n := pts(-200, 0, 200, 0, 185, 300, 150, 300, 150, 350, -150, 350, -150, 300, -185, 300).NotchesFromPoints()
	if n != 2 {
		t.Fatalf("leaning: found %d", n)
	}
	// x = 200 - 15·350/300 = 182.5 at the back, 32.5 from the inner corner.
	near(t, "leaning notch", lean.Notches[0].Width.MM(), 32.5, 1e-9)
	near(t, "leaning board", good(t, lean).Board.Area(), good(t, pts(-200, 0, 200, 0, 185, 300, 150, 300, 150, 350, -150, 350, -150, 300, -185, 300)).Board.Area(), 1e-6)
}

func TestSymmetric(t *testing.T) {
	// The right back corner stands 4 mm too far out and 2 mm too far back.
	tr := pts(-200, 0, 200, 0, 184, 352, -180, 350)
	tr.Points[0].Bow, tr.Points[1].Bow, tr.Points[3].Bow = 10, 6, 4
	tr.Points[2].Radius, tr.Points[3].Radius = 20, 30
	got, h, f := tr.Symmetric()
	if f != nil {
		t.Fatal(f)
	}
	// The axis lies at the mean of both pairs' middles, (0 + 2)/2 = 1: the front
	// corners then differ by 2, the back corners by √(2² + 2²).
	near(t, "axis", h.Axis, 1, 1e-9)
	near(t, "difference", h.Most.MM(), math.Hypot(2, 2), 1e-9)
	for i, want := range []geom.Pt{{X: -199, Y: 0}, {X: 201, Y: 0}, {X: 183, Y: 351}, {X: -181, Y: 351}} {
		if got.Points[i].At.Dist(want) > 1e-9 {
			t.Errorf("point %d at %v, want %v", i, got.Points[i].At, want)
		}
	}
	if got.Points[0].Bow != 10 || got.Points[1].Bow != 5 || got.Points[3].Bow != 5 || got.Points[2].Radius != 25 || got.Points[3].Radius != 25 {
		t.Errorf("%+v", got.Points)
	}
	if _, h, _ := got.Symmetric(); h.Most > 1e-9 {
		t.Errorf("made symmetric it still differs by %v", h.Most)
	}
	if _, _, f := pts(0, 0, 400, 0, 400, 300, 360, 300, 360, 350, 0, 350).Symmetric(); f == nil || f.Code != CodeHalves {
		t.Errorf("a notch on one side: %v", f)
	}
	one := pts(-200, 0, 200, 0, 200, 350, -200, 350)
	one.Notches = []Cut{{true, 40, 50}, {false, 36, 50}}
	got, h, _ = one.Symmetric()
	if h.Most != 4 || got.Notches[0] != (Cut{true, 38, 50}) || got.Notches[1] != (Cut{false, 38, 50}) {
		t.Errorf("notches %+v, %v", got.Notches, h.Most)
	}
}

func TestMirror(t *testing.T) {
	// Half a board with a bowed front: the half arc from (0,-20) to (200,0) of
	// the circle of radius 1010 has a sagitta of r(1 - cos(a/4)).
	a := 2 * math.Asin(200./1010)
	half := pts(0, -20, 200, 0, 180, 330, 0, 330).Points
	half[0].Bow = unit.Length(1010 * (1 - math.Cos(a/4)))
	whole := MirrorChain(half)
	if len(whole.Points) != 4 {
		t.Fatalf("%d points: %+v", len(whole.Points), whole.Points)
	}
	o := good(t, whole)
	near(t, "area", o.Board.Area(), (400+360)/2*330+1010*1010*(a-math.Sin(a))/2, 1e-6)
	// A front that comes to a point keeps it.
	if got := MirrorChain(pts(0, -20, 200, 0, 180, 330, 0, 330).Points); len(got.Points) != 5 {
		t.Errorf("%d points with a point in front", len(got.Points))
	}
	// The right half of an uneven board.
	tr := pts(-190, 0, 200, 0, 180, 350, -170, 340)
	m, f := tr.MirrorHalf(true)
	if f != nil {
		t.Fatal(f)
	}
	b := good(t, m).Board.Bounds()
	near(t, "width", b.W(), 390, 1e-9) // 195 on both sides of x = 5
	if _, h, f := m.Symmetric(); f != nil || h.Most > 1e-6 {
		t.Errorf("differs by %v, %v", h.Most, f)
	}
	l, f := tr.MirrorHalf(false)
	if f != nil {
		t.Fatal(f)
	}
	near(t, "depth of the left", l.Bounds().H(), m.Bounds().H(), 10)
	if l.Bounds().H() >= m.Bounds().H() {
		t.Error("the left half is the lower one")
	}
}

// TestTraceLaws: on random boards flipping twice, turning four times, cutting
// an edge in two and running the other way round give the same shape again.
func TestTraceLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 33))
	t.Logf("-seed %d", *seed)
	for range 200 {
		tr := pts(-200-40*r.Float64(), 20*r.Float64(), 200+40*r.Float64(), 20*r.Float64(), 180*r.Float64()+30, 300+80*r.Float64(), -180*r.Float64()-30, 300+80*r.Float64())
		for i := range tr.Points {
			tr.Points[i].Bow = unit.Length(20 * (r.Float64() - 0.3))
			tr.Points[i].Radius = unit.Length(10 * r.Float64())
		}
		o := good(t, tr)
		area := o.Board.Area()
		twice := good(t, tr.Flipped().Flipped())
		near(t, "flipped twice", twice.Board.Area(), area, 1e-6)
		once := good(t, tr.Flipped())
		near(t, "flipped", once.Board.Area(), area, 1e-6)
		near(t, "left becomes right", once.EdgeLength(Right).MM(), o.EdgeLength(Left).MM(), 1e-6)
		near(t, "turned", good(t, tr.TurnedQuarter()).Board.Area(), area, 1e-6)
		i := r.IntN(4)
		cut, f := tr.Inserted(i, tr.Edge(i).At(r.Float64()*0.6+0.2))
		if f != nil || len(cut.Points) != 5 {
			t.Fatal(f)
		}
		near(t, "a point on an edge", good(t, cut).Board.Area(), area, 1e-6)
		big, _ := tr.Scaled(1.5)
		near(t, "scaled", good(t, big).Board.Area(), area*2.25, 1e-5)
		back := Traced{Points: make([]TracedPoint, 4)}
		for k := range tr.Points { // as if clicked clockwise
			p := tr.Points[3-k]
			p.Bow = -tr.Points[(6-k)%4].Bow
			back.Points[k] = p
		}
		near(t, "clicked clockwise", good(t, back.CounterClockwise()).Board.Area(), area, 1e-6)
	}
}

func TestTraceEdits(t *testing.T) {
	tr := pts(0, 0, 400, 0, 400, 300, 0, 300)
	l, f := tr.Lengthened(0, 450)
	if f != nil || l.Points[1].At != geom.P(450, 0) {
		t.Errorf("%v %v", l.Points, f)
	}
	b, f := tr.Bent(0, geom.P(90, -30))
	if f != nil || b.Points[0].Bow != 30 {
		t.Errorf("bow %v, want 30 outwards", b.Points[0].Bow)
	}
	if b, _ = tr.Bent(0, geom.P(90, 25)); b.Points[0].Bow != -25 {
		t.Errorf("bow %v, want 25 inwards", b.Points[0].Bow)
	}
	d, f := tr.Deleted([]int{1})
	if f != nil || len(d.Points) != 3 {
		t.Error(f)
	}
	if _, f = d.Deleted([]int{0}); f == nil || f.Code != geom.CodeTooFew {
		t.Errorf("two points left: %v", f)
	}
	m, _ := tr.Moved([]int{1, 2}, geom.P(10, 5))
	if m.Points[1].At != geom.P(410, 5) || m.Points[2].At != geom.P(410, 305) || tr.Points[1].At != geom.P(400, 0) {
		t.Errorf("%v", m.Points)
	}
	for _, f := range []func() *unit.Fault{
		func() *unit.Fault { _, f := tr.Moved([]int{4}, geom.Pt{}); return f },
		func() *unit.Fault { _, f := tr.Bowed(-1, 3); return f },
		func() *unit.Fault { _, f := tr.Inserted(9, geom.Pt{}); return f },
	} {
		if got := f(); got == nil || got.Code != CodeNoPoint {
			t.Errorf("got %v", got)
		}
	}
	if _, f := tr.Scaled(math.NaN()); f == nil {
		t.Error("scaled by nothing")
	}
}

package seat

import (
	"math"
	"testing"

	"slipseat/engine/unit"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.Abs(got-want) > tol || math.IsNaN(got) {
		t.Errorf("%s: got %.12g, want %.12g", what, got, want)
	}
}

// sideChair is the reading room's: 18 1/2 front, 16 back, 17 1/4 deep, 3/4 bow,
// 7/8 corners.
func sideChair() Measurements {
	in := unit.In
	return Measurements{FrontWidth: 18.5 * in, BackWidth: 16 * in, Depth: 17.25 * in, FrontBow: 0.75 * in, FrontRadius: 0.875 * in, BackRadius: 0.875 * in}
}

func TestSharpTrapezoidByHand(t *testing.T) {
	// 400 and 300 wide, 350 deep, no bow: area (400+300)/2*350 = 122,500 mm²;
	// sides hypot(50, 350); diagonals hypot(350, 350).
	o, f := FromMeasurements(Measurements{FrontWidth: 400, BackWidth: 300, Depth: 350})
	if len(f) > 0 {
		t.Fatal(f)
	}
	near(t, "area", float64(o.Area()), 122500, 1e-6)
	near(t, "edge", o.Edge().MM(), 700+2*math.Hypot(50, 350), 1e-9)
	a, b, ok := o.Diagonals()
	near(t, "diagonal", a.MM(), math.Hypot(350, 350), 1e-9)
	near(t, "other diagonal", b.MM(), a.MM(), 1e-9)
	if !ok || o.CornersOutside() != 4 {
		t.Errorf("got %d corners, %v", o.CornersOutside(), ok)
	}
	for r, want := range map[Role]float64{Front: 400, Back: 300, Left: math.Hypot(50, 350), Right: math.Hypot(50, 350)} {
		near(t, "edge by role", o.EdgeLength(r).MM(), want, 1e-9)
	}
}

func TestSizeIncludesTheBow(t *testing.T) {
	o, f := FromMeasurements(sideChair())
	if len(f) > 0 {
		t.Fatal(f)
	}
	w, d := o.Size()
	near(t, "depth", d.In(), 17.25, 1e-9)
	if w.In() > 18.5 || w.In() < 18.3 {
		t.Errorf("width %v in: the rounded corners take only a little off 18.5", w.In())
	}
	near(t, "bow point", o.BowPoint.Y, -0.75*25.4, 1e-9)
}

func TestOverRoundedCorners(t *testing.T) {
	m := sideChair()
	m.OverRounded = true
	o, f := FromMeasurements(m)
	if len(f) > 0 {
		t.Fatal(f)
	}
	front, back := 0.0, 0.0
	for i, corner := range o.Filled.CornerArcs() {
		if b := o.Filled.Segment(i).Bounds(); corner && b.Min.Y < 200 {
			front = math.Max(front, 2*b.Max.X)
		} else if corner {
			back = math.Max(back, 2*b.Max.X)
		}
	}
	near(t, "front over the corners", front, m.FrontWidth.MM(), 1e-9)
	near(t, "back over the corners", back, m.BackWidth.MM(), 1e-9)
}

func TestNotches(t *testing.T) {
	m := sideChair()
	m.NotchWidth, m.NotchDepth = 1.5*unit.In, 2*unit.In
	o, f := FromMeasurements(m)
	if len(f) > 0 {
		t.Fatal(f)
	}
	if len(o.Notches) != 2 || len(o.BoardRoles) != len(o.Board) {
		t.Fatalf("got %d notches, %d roles for %d edges", len(o.Notches), len(o.BoardRoles), len(o.Board))
	}
	near(t, "inner corner", o.Notches[0].Inner.X, (8-1.5)*25.4, 1e-9)
	near(t, "inner corner", o.Notches[0].Inner.Y, (16.5-2)*25.4, 1e-9)
	if o.Board.Area() >= o.Filled.Area() {
		t.Error("the notches take nothing away")
	}
	a, _, _ := o.Diagonals()
	// By hand: front left arc's centre to the inner corner, plus its radius;
	// the arc's centre is 7/8 in inside both edges.
	if a.In() < 20 || a.In() > 22 {
		t.Errorf("diagonal to the notch: %v in", a.In())
	}
}

func TestMotifPointIsOnTheCentreLine(t *testing.T) {
	o, _ := FromMeasurements(sideChair())
	p := o.MotifPoint()
	near(t, "x", p.X, 0, 1e-9)
	near(t, "y", p.Y, (16.5-0.75)/2*25.4, 1e-9)
}

func TestFaultsNameTheField(t *testing.T) {
	nan := unit.Length(math.NaN())
	for _, c := range []struct {
		name, code, field string
		change            func(m *Measurements)
	}{
		{"none", CodeMissing, "front_width", func(m *Measurements) { m.FrontWidth = 0 }},
		{"negative", CodeNegative, "depth", func(m *Measurements) { m.Depth = -1 }},
		{"not a number", CodeNotANumber, "back_width", func(m *Measurements) { m.BackWidth = nan }},
		{"infinite", CodeNotANumber, "front_bow", func(m *Measurements) { m.FrontBow = unit.Length(math.Inf(1)) }},
		{"absurd", CodeAbsurd, "front_width", func(m *Measurements) { m.FrontWidth = 5001 }},
		{"tiny", CodeTooSmall, "depth", func(m *Measurements) { m.Depth = 5 }},
		{"bow too big", CodeBowTooBig, "front_bow", func(m *Measurements) { m.FrontBow = 9.5 * unit.In }},
		{"radius too big", CodeRadius, "front_radius", func(m *Measurements) { m.FrontRadius = 12 * unit.In }},
		{"back radius too big", CodeRadius, "back_radius", func(m *Measurements) { m.BackRadius = 9 * unit.In }},
		{"half a notch", CodeNotchHalf, "notch_depth", func(m *Measurements) { m.NotchWidth = 20 }},
		{"wide notch", CodeNotchTooBig, "notch_width", func(m *Measurements) { m.NotchWidth, m.NotchDepth = 8*unit.In, 20 }},
		{"deep notch", CodeNotchTooBig, "notch_depth", func(m *Measurements) { m.NotchWidth, m.NotchDepth = 20, 17*unit.In }},
	} {
		m := sideChair()
		c.change(&m)
		o, f := FromMeasurements(m)
		if len(f) == 0 || f[0].Code != c.code || f[0].Where.Field != c.field || !o.Empty() {
			t.Errorf("%s: got %v, want %s at %s", c.name, f, c.code, c.field)
		}
	}
}

func TestRoundAndOval(t *testing.T) {
	o, f := Round(350, 350)
	if len(f) > 0 {
		t.Fatal(f)
	}
	near(t, "round area", float64(o.Area()), math.Pi*175*175, 1e-6)
	for _, wd := range [][2]unit.Length{{400, 300}, {300, 400}, {500, 200}} {
		o, f := Round(wd[0], wd[1])
		if len(f) > 0 {
			t.Fatal(f)
		}
		if bad := o.Board.Validate(); bad != nil {
			t.Fatalf("%v: %v", wd, bad)
		}
		w, d := o.Size()
		near(t, "oval width", w.MM(), wd[0].MM(), 1e-6)
		near(t, "oval depth", d.MM(), wd[1].MM(), 1e-6)
		for i := range o.Board { // arcs meet without a corner
			a, b := o.Board.Segment(i), o.Board.Segment((i+1)%len(o.Board))
			near(t, "tangent", a.Tangent(1).Cross(b.Tangent(0)), 0, 1e-9)
		}
	}
}

func BenchmarkFromMeasurements(b *testing.B) {
	m := sideChair()
	for b.Loop() {
		if _, f := FromMeasurements(m); len(f) > 0 {
			b.Fatal(f)
		}
	}
}

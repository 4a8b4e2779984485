package seat

import (
	"math"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// The figures here are worked by hand from the formulas of DESIGN section 4.

func TestRectangleWithRoundedCornersByHand(t *testing.T) {
	o, f := FromMeasurements(Measurements{FrontWidth: 400, BackWidth: 400, Depth: 350, FrontRadius: 20, BackRadius: 30})
	if len(f) > 0 {
		t.Fatal(f)
	}
	near(t, "area", float64(o.Area()), 400*350-(4-math.Pi)*(2*20*20+2*30*30)/4, 1e-8)
	near(t, "edge", o.Edge().MM(), 2*(400+350)-(8-2*math.Pi)*(20+30)/2, 1e-9)
	// Front arc's centre (-180, 20), back arc's (170, 320).
	a, b, ok := o.Diagonals()
	near(t, "diagonal", a.MM(), math.Hypot(350, 300)+50, 1e-9)
	near(t, "other diagonal", b.MM(), math.Hypot(350, 300)+50, 1e-9)
	if !ok || o.CornersOutside() != 4 {
		t.Errorf("got %d corners, %v", o.CornersOutside(), ok)
	}
}

func TestBowedFrontByHand(t *testing.T) {
	// Front 480 with a bow of 30: radius (480²/4 + 30²)/60 = 975; half the angle
	// asin(240/975); the cap's area r²(a - sin a)/2.
	o, f := FromMeasurements(Measurements{FrontWidth: 480, BackWidth: 480, Depth: 430, FrontBow: 30})
	if len(f) > 0 {
		t.Fatal(f)
	}
	front := o.Filled.Segment(0)
	a := 2 * math.Asin(240.0/975)
	near(t, "radius", front.Radius(), 975, 1e-9)
	near(t, "front edge", o.EdgeLength(Front).MM(), 975*a, 1e-9)
	near(t, "area", float64(o.Area()), 480*400+975*975*(a-math.Sin(a))/2, 1e-6)
	w, d := o.Size()
	near(t, "width", w.MM(), 480, 1e-9)
	near(t, "depth", d.MM(), 430, 1e-9)
	near(t, "bow point", o.BowPoint.Dist(geom.P(0, -30)), 0, 1e-9)
	near(t, "motif", o.MotifPoint().Dist(geom.P(0, 185)), 0, 1e-9)
}

func TestHalfRoundFront(t *testing.T) {
	// The largest bow: half a circle of radius 200 before a rectangle.
	o, f := FromMeasurements(Measurements{FrontWidth: 400, BackWidth: 400, Depth: 450, FrontBow: 200})
	if len(f) > 0 {
		t.Fatal(f)
	}
	near(t, "area", float64(o.Area()), 400*250+math.Pi*200*200/2, 1e-6)
}

func TestRadiusOfHalfTheWidth(t *testing.T) {
	// The back is one half circle of two quarter arcs that just meet.
	o, f := FromMeasurements(Measurements{FrontWidth: 400, BackWidth: 400, Depth: 450, BackRadius: 200})
	if len(f) > 0 {
		t.Fatal(f)
	}
	near(t, "area", float64(o.Area()), 400*250+math.Pi*200*200/2, 1e-6)
	_, f = FromMeasurements(Measurements{FrontWidth: 400, BackWidth: 400, Depth: 450, BackRadius: 200.01})
	if len(f) != 1 || f[0].Code != CodeRadius {
		t.Fatalf("got %v", f)
	}
	near(t, "limit", arg(f[0], "limit"), 200, 1e-4)
}

// arg is a figure of a fault, in millimetres.
func arg(f unit.Fault, name string) float64 {
	for _, a := range f.Args {
		if l, ok := a.Value.(unit.Length); ok && a.Name == name {
			return l.MM()
		}
	}
	return math.NaN()
}

func TestNotchesByHand(t *testing.T) {
	o, f := FromMeasurements(Measurements{FrontWidth: 400, BackWidth: 400, Depth: 350, FrontRadius: 20, NotchWidth: 40, NotchDepth: 50})
	if len(f) > 0 {
		t.Fatal(f)
	}
	near(t, "area", float64(o.Area()), 400*350-2*40*50-(2-math.Pi/2)*20*20, 1e-6)
	near(t, "filled area", o.Filled.Area(), 400*350-(2-math.Pi/2)*20*20, 1e-6)
	near(t, "edge", o.Edge().MM(), 1500-(4-math.Pi)*20, 1e-9) // a notch takes no edge away
	// Front left arc's centre (-180, 20) to the right notch's inner corner.
	a, b, _ := o.Diagonals()
	near(t, "diagonal", a.MM(), math.Hypot(340, 280)+20, 1e-9)
	near(t, "other diagonal", b.MM(), a.MM(), 1e-9)
	if len(o.Notches) != 2 || !o.Notches[0].Right || o.Notches[1].Right {
		t.Fatalf("notches: %+v", o.Notches)
	}
	n := o.Notches[0]
	for _, c := range []struct {
		what string
		got  geom.Pt
		want geom.Pt
	}{
		{"inner", n.Inner, geom.P(160, 300)}, {"corner", n.Corner, geom.P(200, 350)},
		{"on the side", n.Side, geom.P(200, 300)}, {"on the back", n.Back, geom.P(160, 350)},
		{"left inner", o.Notches[1].Inner, geom.P(-160, 300)},
	} {
		near(t, c.what, c.got.Dist(c.want), 0, 1e-9)
	}
	// Front 400 less its roundings; each side as far as the notch and along its
	// inward face; the back between the notches and along their other faces.
	near(t, "back edge", o.EdgeLength(Back).MM(), 320+80, 1e-9)
	w, d := o.Size()
	near(t, "width", w.MM(), 400, 1e-9)
	near(t, "depth", d.MM(), 350, 1e-9)
}

func TestWidthsOverTheRoundingsByHand(t *testing.T) {
	// In a rectangle the roundings do not change the widths.
	m := Measurements{FrontWidth: 400, BackWidth: 400, Depth: 350, FrontRadius: 40, BackRadius: 25, OverRounded: true}
	o, f := FromMeasurements(m)
	if len(f) > 0 {
		t.Fatal(f)
	}
	near(t, "front", o.Corners[1].X-o.Corners[0].X, 400, 1e-9)
	// Sides that lean in by 50 on 350 towards the back: the front rounding's
	// centre lies r above the front and r inside of the side, and it reaches r
	// further to the right.
	m = Measurements{FrontWidth: 400, BackWidth: 300, Depth: 350, FrontRadius: 40, OverRounded: true}
	if o, f = FromMeasurements(m); len(f) > 0 {
		t.Fatal(f)
	}
	// With the extended front width w the side runs from (w/2, 0) to (150, 350);
	// its outward normal is n = (350, w/2-150)/h. The centre has y = 40 and
	// (c - corner).n = -40, so c.x = w/2 - 40(1 + n.y)/n.x, and c.x + 40 = 200.
	w := o.Corners[1].X - o.Corners[0].X
	h := math.Hypot(350, w/2-150)
	nx, ny := 350/h, (w/2-150)/h
	near(t, "half the width over the roundings", w/2-40*(1+ny)/nx+40, 200, 1e-9)
	if w <= 400 || w > 420 {
		t.Errorf("the extended width is %v", w)
	}
}

// TestPublishedSizes: facts.md section 9, values 3 and 14, as far as the board's
// outline goes. Seat 17½ × 17 in with 3 in more each side is cut 23½ × 23 (S4,
// how-to page, grade C, recomputed); board 20 × 16 with ½ in more each side makes
// foam 21 × 17 (S2, trade knowledge site, grade B); board 16½ square with ¼ in
// more makes 17 square (S41, furniture project page, grade C/B).
func TestPublishedSizes(t *testing.T) {
	in := unit.In
	for _, c := range []struct{ w, d, by, wantW, wantD unit.Length }{
		{17.5 * in, 17 * in, 3 * in, 23.5 * in, 23 * in},
		{20 * in, 16 * in, in / 2, 21 * in, 17 * in},
		{16.5 * in, 16.5 * in, in / 4, 17 * in, 17 * in},
	} {
		o, f := FromMeasurements(Measurements{FrontWidth: c.w, BackWidth: c.w, Depth: c.d})
		if len(f) > 0 {
			t.Fatal(f)
		}
		g, fault := o.Grown(func(Role) unit.Length { return c.by })
		if fault != nil {
			t.Fatal(fault)
		}
		w, d := g.Size()
		near(t, "width", w.In(), c.wantW.In(), 1e-12)
		near(t, "depth", d.In(), c.wantD.In(), 1e-12)
	}
}

package seat

import (
	"math"
	"math/rand/v2"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

func TestTracedPathIsMovedIntoTheFrame(t *testing.T) {
	p := geom.Box(1000, 500, 1400, 850)
	o, f := FromPath(p, nil, Cut{Right: true, Width: 40, Depth: 50})
	if f != nil {
		t.Fatal(f)
	}
	b := o.Filled.Bounds()
	near(t, "left", b.Min.X, -200, 1e-12)
	near(t, "front", b.Min.Y, 0, 1e-12)
	if len(o.Notches) != 1 || o.Notches[0].Inner != geom.P(160, 300) || o.Board.Area() != 400*350-2000 {
		t.Errorf("notches %+v, area %v", o.Notches, o.Board.Area())
	}
	one, other, ok := o.Diagonals()
	near(t, "diagonal to the notch", one.MM(), math.Hypot(360, 300), 1e-9)
	near(t, "diagonal to the corner", other.MM(), math.Hypot(400, 350), 1e-9)
	if !ok || len(o.Handles()) != 0 || o.CornersOutside() != 4 {
		t.Errorf("four corners %v, %d handles, %d outside", ok, len(o.Handles()), o.CornersOutside())
	}
	if got := []Role{o.RoleAt(geom.P(0, -9)), o.RoleAt(geom.P(210, 100)), o.RoleAt(geom.P(0, 400)), o.RoleAt(geom.P(-300, 100))}; got[0] != Front || got[1] != Right || got[2] != Back || got[3] != Left {
		t.Errorf("roles %v", got)
	}
}

func TestRolesCanBeChanged(t *testing.T) {
	roles := []Role{Front, Front, Back, Back}
	o, f := FromPath(geom.Box(0, 0, 100, 100), roles)
	if f != nil {
		t.Fatal(f)
	}
	near(t, "front edge", o.EdgeLength(Front).MM(), 200, 1e-12)
	g, f := o.Grown(func(r Role) unit.Length { return map[Role]unit.Length{Front: 10, Back: 20}[r] })
	if f != nil {
		t.Fatal(f)
	}
	b := g.Filled.Bounds()
	if b.Min != geom.P(-70, -10) || b.Max != geom.P(60, 120) {
		t.Errorf("got %v", b)
	}
	for i, r := range g.Roles {
		if r != roles[i] {
			t.Errorf("edge %d became %v", i, r)
		}
	}
}

// TestTracedLikeMeasured: the path of a measured outline, traced, gives the
// same figures.
func TestTracedLikeMeasured(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 4))
	t.Logf("-seed %d", *seed)
	same := 0
	for range 300 {
		m := randomSeat(r)
		m.OverRounded = false
		o, faults := FromMeasurements(m)
		if len(faults) > 0 {
			continue
		}
		var cuts []Cut
		if m.NotchWidth > 0 {
			cuts = []Cut{{true, m.NotchWidth, m.NotchDepth}, {false, m.NotchWidth, m.NotchDepth}}
		}
		q, f := FromPath(o.Filled.Translate(geom.P(77, -33)), nil, cuts...)
		if f != nil {
			t.Fatalf("%v: %+v", f, m)
		}
		same++
		near(t, "area", float64(q.Area()), float64(o.Area()), 1e-6)
		near(t, "edge", q.Edge().MM(), o.Edge().MM(), 1e-8)
		a, _, ok1 := o.Diagonals()
		b, _, ok2 := q.Diagonals()
		if !ok1 || !ok2 {
			t.Errorf("no diagonals: %+v", m)
		}
		near(t, "diagonal", b.MM(), a.MM(), 1e-6)
		near(t, "motif", q.MotifPoint().Y-o.MotifPoint().Y, m.FrontBow.MM(), 1e-6)
		if o.CornersOutside() != q.CornersOutside() {
			t.Errorf("corners %d and %d: %+v", o.CornersOutside(), q.CornersOutside(), m)
		}
	}
	if same < 200 {
		t.Errorf("only %d compared", same)
	}
}

func TestFromPathRefuses(t *testing.T) {
	// Two arcs a fiftieth of a millimetre apart, one of them in two parts.
	arc := geom.Segment{A: geom.P(0, 0), B: geom.P(300, 0), Bulge: 0.5}
	sickle := geom.PathOf([]geom.Segment{arc.Part(0, 0.37), arc.Part(0.37, 1), {A: arc.B, B: arc.A, Bulge: -0.49986}})
	for _, c := range []struct {
		name, code string
		p          geom.Path
		cuts       []Cut
	}{
		{"empty", geom.CodeTooFew, nil, nil},
		{"bow tie", geom.CodeCrosses, geom.Path{geom.V(0, 0, 0), geom.V(100, 100, 0), geom.V(100, 0, 0), geom.V(0, 100, 0)}, nil},
		{"six metres", CodeAbsurd, geom.Box(0, 0, 6000, 400), nil},
		{"a fingernail", CodeTooSmall, geom.Box(0, 0, 10, 400), nil},
		{"notch in a circle", CodeNoCorner, geom.Circle(geom.P(0, 0), 200), []Cut{{true, 40, 40}}},
		{"half a notch", CodeNotchHalf, geom.Box(0, 0, 400, 400), []Cut{{true, 40, 0}}},
		{"wide notch", CodeNotchTooBig, geom.Box(0, 0, 400, 400), []Cut{{true, 250, 40}}},
		{"no number", CodeNotANumber, geom.Box(0, 0, 400, 400), []Cut{{true, unit.Length(math.NaN()), 40}}},
		{"chords of a cusp cross", geom.CodeCrosses, sickle, nil},
	} {
		o, f := FromPath(c.p, nil, c.cuts...)
		if f == nil || f.Code != c.code || !o.Empty() {
			t.Errorf("%s: got %v, want %s", c.name, f, c.code)
		}
	}
}

// TestOldCoverOn by hand: measured over layers of 5, a board of 410 x 360 with
// notches of 40 x 50 is 400 x 350 with notches as deep.
func TestOldCoverOn(t *testing.T) {
	o, f := FromMeasurements(Measurements{FrontWidth: 410, BackWidth: 410, Depth: 360, FrontRadius: 25, NotchWidth: 40, NotchDepth: 50})
	if len(f) > 0 {
		t.Fatal(f)
	}
	s, fault := o.Shrunk(5)
	if fault != nil {
		t.Fatal(fault)
	}
	near(t, "area", float64(s.Area()), 400*350-2*40*50-(2-math.Pi/2)*20*20, 1e-6)
	if s.Notches[0].Inner != geom.P(160, 305) || s.Notches[0].Width != 40 || s.Notches[0].Depth != 50 {
		t.Errorf("notch %+v", s.Notches[0])
	}
	back, fault := s.Shrunk(-5)
	if fault != nil {
		t.Fatal(fault)
	}
	near(t, "area there and back", float64(back.Area()), float64(o.Area()), 1e-6)
	if _, fault := o.Shrunk(180); fault == nil || fault.Code != geom.CodeNothingLeft {
		t.Errorf("layers of 180 on each side: got %v", fault)
	}
}

// TestShrunkKeepsItsDistance: every edge of the bare board lies the layers'
// thickness inside, whatever the shape.
func TestShrunkKeepsItsDistance(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 5))
	t.Logf("-seed %d", *seed)
	for range 200 {
		m := randomSeat(r)
		o, faults := FromMeasurements(m)
		if len(faults) > 0 {
			continue
		}
		layers := 1 + 9*r.Float64()
		s, f := o.Shrunk(unit.Length(layers))
		if f != nil {
			t.Fatalf("%v by %v: %+v", f, layers, m)
		}
		for i := range s.Board {
			for _, u := range [...]float64{0.02, 0.5, 0.98} {
				at := s.Board.Segment(i).At(u)
				if d := o.Board.Distance(at); d < layers-1e-6 || !o.Board.Contains(at) {
					t.Fatalf("%v lies %v inside by layers of %v: %+v", at, d, layers, m)
				}
			}
		}
		if len(s.Corners) != 4 || len(s.Notches) != len(o.Notches) || len(s.BoardRoles) != len(s.Board) {
			t.Fatalf("corners, notches or roles are lost: %+v", m)
		}
	}
}

func TestRoundStool(t *testing.T) {
	for _, wd := range [][2]unit.Length{{350, 350}, {400, 300}, {280, 420}} {
		o, f := Round(wd[0], wd[1])
		if len(f) > 0 {
			t.Fatal(f)
		}
		near(t, "area of an ellipse", float64(o.Area()), math.Pi/4*float64(wd[0]*wd[1]), ovalTol*o.Edge().MM())
		near(t, "front all round", o.EdgeLength(Front).MM(), o.Edge().MM(), 1e-9)
		near(t, "motif", o.MotifPoint().Dist(geom.P(0, wd[1].MM()/2)), 0, 1e-9)
		if _, _, ok := o.Diagonals(); ok || o.CornersOutside() != 0 || len(o.Handles()) != 3 {
			t.Errorf("a round seat has corners: %v", wd)
		}
		for i, is := range o.Board.CornerArcs() {
			if is {
				t.Errorf("%v: arc %d is taken for a corner", wd, i)
			}
		}
		g, fault := o.Grown(func(Role) unit.Length { return 25 })
		if fault != nil {
			t.Fatal(fault)
		}
		w, d := g.Size()
		near(t, "grown width", w.MM(), wd[0].MM()+50, 1e-6)
		near(t, "grown depth", d.MM(), wd[1].MM()+50, 1e-6)
		near(t, "grown area", float64(g.Area()), float64(o.Area())+25*o.Edge().MM()+math.Pi*625, 1e-6) // Steiner
	}
	if _, f := Round(0, unit.Length(math.NaN())); len(f) != 2 || f[0].Where.Field != "width" || f[1].Where.Field != "depth" {
		t.Errorf("got %v", f)
	}
}

package seat

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

var seed = flag.Uint64("seed", 1, "seed of the random trials")

// randomSeat is a likely chair or stool.
func randomSeat(r *rand.Rand) Measurements {
	between := func(a, b float64) unit.Length { return unit.Length(a + (b-a)*r.Float64()) }
	often := func(l unit.Length) unit.Length {
		if r.IntN(3) == 0 {
			return 0
		}
		return l
	}
	m := Measurements{FrontWidth: between(300, 700), Depth: between(300, 600)}
	m.BackWidth = m.FrontWidth * between(0.7, 1.1)
	m.FrontBow, m.SideBow = often(between(0, 60)), often(between(0, 25))
	m.FrontRadius, m.BackRadius = often(between(1, 60)), often(between(1, 60))
	if r.IntN(3) == 0 {
		m.NotchWidth, m.NotchDepth = between(25, 80), between(25, 80)
	}
	m.OverRounded = r.IntN(2) == 0
	return m
}

func library(g geom.Polygon) sf.Geometry {
	xy := make([]float64, 0, 2*len(g)+2)
	for i := range len(g) + 1 {
		xy = append(xy, g[i%len(g)].X, g[i%len(g)].Y)
	}
	return sf.NewPolygon([]sf.LineString{sf.NewLineString(sf.NewSequence(xy, sf.DimXY))}).AsGeometry()
}

// TestRandomSeats: laws of outlines from likely measurements, and the board of a
// notched one against a general geometry library (simplefeatures, P. Stace).
func TestRandomSeats(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 1))
	t.Logf("-seed %d", *seed)
	drawn, notched, over := 0, 0, 0
	for range 600 {
		m := randomSeat(r)
		o, f := FromMeasurements(m)
		if len(f) > 0 {
			for _, x := range f {
				if x.Code != CodeRadius && x.Code != CodeNotchNowhere && x.Code != CodeNotchTooBig {
					t.Fatalf("%v: %+v", x, m)
				}
			}
			continue
		}
		drawn++
		for _, p := range []geom.Path{o.Board, o.Filled} {
			if bad := p.Validate(); bad != nil {
				t.Fatalf("%v: %+v", bad, m)
			}
		}
		if len(o.Roles) != len(o.Filled) || len(o.BoardRoles) != len(o.Board) || len(o.Corners) != 4 {
			t.Fatalf("roles or corners are missing: %+v", m)
		}
		w, d := o.Size()
		near(t, "depth", d.MM(), m.Depth.MM(), 1e-9)
		near(t, "bow point on the edge", o.Board.Distance(o.BowPoint), 0, 1e-9)
		near(t, "area left and right", area(o.Board.Mirror(0)), area(o.Board), 1e-6)
		one, other, _ := o.Diagonals()
		near(t, "diagonals", one.MM(), other.MM(), 1e-9)
		var sum unit.Length
		for _, role := range Roles() {
			sum += o.EdgeLength(role)
		}
		near(t, "edges by role", sum.MM(), o.Edge().MM(), 1e-9)
		if m.OverRounded && (m.FrontRadius > 0 || m.BackRadius > 0) {
			over++
			front, back := caliper(o)
			near(t, "front over the roundings", front, m.FrontWidth.MM(), 1e-9)
			near(t, "back over the roundings", back, m.BackWidth.MM(), 1e-9)
			if m.SideBow == 0 && m.BackWidth < m.FrontWidth && m.FrontRadius > 0 {
				near(t, "width", w.MM(), m.FrontWidth.MM(), 1e-9)
			}
		}
		if m.NotchWidth > 0 {
			notched++
			want := library(o.Filled.Flatten(0.01))
			for _, n := range o.Notches {
				// The notch reaches from its inner corner out of the board.
				out := math.Copysign(1000, n.Inner.X)
				box := geom.Rect{Min: n.Inner, Max: n.Inner}.Include(n.Inner.Add(geom.P(out, 1000)))
				var err error
				if want, err = sf.Difference(want, library(box.Path().Flatten(1))); err != nil {
					t.Fatal(err)
				}
			}
			near(t, "area of the notched board", area(o.Board), want.Area(), 0.01*o.Edge().MM())
			if o.Board.Area() >= o.Filled.Area() {
				t.Fatalf("the notches cut nothing out: %+v", m)
			}
		}
	}
	t.Logf("600 seats: %d drawn, %d notched, %d measured over the roundings", drawn, notched, over)
	if drawn < 500 || notched < 100 || over < 100 {
		t.Error("too few were drawn")
	}
}

func area(p geom.Path) float64 { return p.Area() }

// caliper reads the widths over the roundings the slow way: the points of the
// outline between the side edge and the front (back) edge, sampled and then
// refined.
func caliper(o Outline) (front, back float64) {
	reach := func(corner geom.Pt) float64 {
		// The rounding lies between the feet of the two edges next to the corner:
		// it is the arc nearest to it that is not the front, side or back.
		best, at := math.Inf(1), -1
		for i := range o.Filled {
			s := o.Filled.Segment(i)
			if s.Straight() || s.Radius() > 61 {
				continue
			}
			if d := s.Distance(corner); d < best {
				best, at = d, i
			}
		}
		if at < 0 || best > 61 {
			return corner.X
		}
		s, x, mid := o.Filled.Segment(at), math.Inf(-1), 0.0
		for span := 1.0; span > 1e-10; span /= 8 {
			from := mid
			for k := -64; k <= 64; k++ {
				if u := from + span*float64(k)/64; u >= 0 && u <= 1 && s.At(u).X > x {
					x, mid = s.At(u).X, u
				}
			}
		}
		return x
	}
	return 2 * reach(o.Corners[1]), 2 * reach(o.Corners[2])
}

// TestLimitsAreTrue: the limit that a fault carries works, a little more does
// not.
func TestLimitsAreTrue(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 2))
	fields := map[string]func(*Measurements) *unit.Length{
		"front_bow": func(m *Measurements) *unit.Length { return &m.FrontBow }, "side_bow": func(m *Measurements) *unit.Length { return &m.SideBow },
		"front_radius": func(m *Measurements) *unit.Length { return &m.FrontRadius }, "back_radius": func(m *Measurements) *unit.Length { return &m.BackRadius },
		"notch_width": func(m *Measurements) *unit.Length { return &m.NotchWidth }, "notch_depth": func(m *Measurements) *unit.Length { return &m.NotchDepth },
	}
	seen := map[string]int{}
	for range 800 {
		m := randomSeat(r)
		m.OverRounded = false
		names := []string{"front_bow", "side_bow", "front_radius", "back_radius", "notch_width", "notch_depth"}
		field := names[r.IntN(len(names))]
		*fields[field](&m) = unit.Length(150 + 600*r.Float64())
		_, f := FromMeasurements(m)
		if len(f) != 1 || f[0].Where.Field != field || math.IsNaN(arg(f[0], "limit")) {
			continue
		}
		limit := unit.Length(arg(f[0], "limit"))
		*fields[field](&m) = limit * (1 + 1e-6)
		if _, g := FromMeasurements(m); len(g) == 0 {
			t.Errorf("%s: the limit is %v, but a little more works: %+v", field, limit, m)
		}
		*fields[field](&m) = limit * (1 - 1e-6)
		if _, g := FromMeasurements(m); len(g) > 0 && g[0].Code == f[0].Code && g[0].Where.Field == field {
			t.Errorf("%s: the limit is %v, but a little less is refused: %v %+v", field, limit, g, m)
		}
		seen[field]++
	}
	for _, name := range []string{"front_bow", "side_bow", "front_radius", "back_radius", "notch_width", "notch_depth"} {
		if seen[name] < 10 {
			t.Errorf("%s: only %d limits tried", name, seen[name])
		}
	}
}

// FuzzMeasurements: whatever is typed, the answer is faults that name a field
// or an outline that holds, never both, never a panic.
func FuzzMeasurements(f *testing.F) {
	f.Add(470.0, 400.0, 440.0, 19.0, 0.0, 22.0, 22.0, 0.0, 0.0, false)
	f.Add(470.0, 400.0, 440.0, 235.0, 10.0, 30.0, 30.0, 40.0, 40.0, true)
	f.Add(math.NaN(), -1.0, 0.0, math.Inf(1), 5000.0, 1e-9, 1e300, 20.0, 0.0, true)
	f.Add(20.0, 4999.0, 20.0, 0.0, 0.0, 0.0, 0.0, 2400.0, 9.0, false)
	f.Add(4999.0, 20.0, 4999.0, 2499.5, 1250.0, 500.0, 9.0, 0.0, 0.0, true)
	f.Fuzz(func(t *testing.T, wf, wb, d, bow, side, rf, rb, nw, nd float64, over bool) {
		m := Measurements{FrontWidth: unit.Length(wf), BackWidth: unit.Length(wb), Depth: unit.Length(d), FrontBow: unit.Length(bow), SideBow: unit.Length(side),
			FrontRadius: unit.Length(rf), BackRadius: unit.Length(rb), NotchWidth: unit.Length(nw), NotchDepth: unit.Length(nd), OverRounded: over}
		holds(t, m)
	})
}

func holds(t *testing.T, m Measurements) {
	t.Helper()
	o, faults := FromMeasurements(m)
	if len(faults) > 0 {
		if !o.Empty() {
			t.Fatalf("faults and an outline: %+v", m)
		}
		for _, f := range faults {
			if f.Where.Field == "" || f.Code == "" {
				t.Fatalf("a fault without a field: %v", f)
			}
		}
		return
	}
	if bad := o.Board.Validate(); bad != nil || o.Filled.Validate() != nil {
		t.Fatalf("%v: %+v", bad, m)
	}
	if w, d := o.Size(); !(w > 0 && w < 3*Most && d > 0 && d < 3*Most) || !o.MotifPoint().Finite() {
		t.Fatalf("size %v x %v: %+v", w, d, m)
	}
	o.Handles()
	o.Diagonals()
	if s, f := o.Shrunk(3); f == nil && s.Board.Area() >= o.Board.Area() {
		t.Fatalf("shrunk by 3 it is not smaller: %+v", m)
	}
}

// TestWildMeasurements feeds wild figures through the same laws as the fuzzer.
func TestWildMeasurements(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 3))
	wild := func() unit.Length {
		switch r.IntN(9) {
		case 0:
			return 0
		case 1:
			return unit.Length([]float64{math.NaN(), math.Inf(1), -1, 1e-12, 1e9, 5000, 20, 19.99}[r.IntN(8)])
		}
		return unit.Length(math.Exp(r.Float64()*8.5) - 1)
	}
	for range 2000 {
		holds(t, Measurements{wild(), wild(), wild(), wild(), wild(), wild(), wild(), r.IntN(2) == 0, wild(), wild()})
	}
}

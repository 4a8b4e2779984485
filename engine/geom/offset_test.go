package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

func TestOffsetOfBox(t *testing.T) {
	// Amounts by edge: bottom 1, right 2, top 3, left 4.
	p, from, err := OffsetEdges(Box(0, 0, 10, 10), func(e int) float64 { return float64(e + 1) })
	if err != nil {
		t.Fatal(err)
	}
	b := p.Bounds()
	if len(p) != 4 || b.Min != (Pt{-4, -1}) || b.Max != (Pt{12, 13}) {
		t.Errorf("got %v", p)
	}
	for i, f := range from {
		if f != i {
			t.Errorf("segment %d comes from edge %d", i, f)
		}
	}
}

func TestOffsetRoundsCorner(t *testing.T) {
	p := Box(0, 0, 100, 100)
	for i := 3; i >= 0; i-- {
		var f error
		q, fault := p.Fillet(i, 10)
		if fault != nil {
			t.Fatal(f)
		}
		p = q
	}
	near(t, "rounded area", p.Area(), 10000-(4-math.Pi)*100, 1e-9)
	// Equal amounts: the exact outer parallel (Steiner's formula A + L d + π d²).
	q, err := Offset(p, func(int) float64 { return 7 })
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Steiner", q.Area(), p.Area()+7*p.Length()+math.Pi*49, 1e-6)
	// Unequal amounts: radius grown by the smaller of the two.
	q, err = Offset(p, func(e int) float64 {
		if m := p.Segment(e).At(0.5); m.Y < 1 {
			return 30
		}
		return 20
	})
	if err != nil {
		t.Fatal(err)
	}
	for i := range q {
		if s := q.Segment(i); !s.Straight() {
			near(t, "corner radius", s.Radius(), 30, 1e-6)
		}
	}
	b := q.Bounds()
	near(t, "bottom", b.Min.Y, -30, 1e-6)
	near(t, "left", b.Min.X, -20, 1e-6)
	near(t, "top", b.Max.Y, 120, 1e-6)
}

func TestMitreIsCutOff(t *testing.T) {
	sharp := Path{{Pt{0, 0}, 0}, {Pt{100, -10}, 0}, {Pt{100, 10}, 0}} // about 11° at the left
	p, from, err := OffsetEdges(sharp, func(int) float64 { return 5 })
	if err != nil {
		t.Fatal(err)
	}
	near(t, "leftmost", p.Bounds().Min.X, -10, 1e-9) // 2 × 5 beyond the corner
	cut := 0
	for _, f := range from {
		if f == NoEdge {
			cut++
		}
	}
	if cut != 1 {
		t.Errorf("got %d cut corners, want 1", cut)
	}
}

// TestShallowCornerKeepsTheWiderStrip: at a corner that turns by 30 degrees,
// one edge stays and the next moves out by 10. Extended, the edge that stays
// would run through the other's strip; instead the strip keeps its end, which
// stands at the old corner.
func TestShallowCornerKeepsTheWiderStrip(t *testing.T) {
	sin, cos := sincos(math.Pi / 6)
	p := Path{V(0, 0, 0), V(200, 0, 0), V(200+200*cos, 200*sin, 0), V(100, 300, 0)}
	q, from, err := OffsetEdges(p, func(e int) float64 { return []float64{0, 10, 0, 0}[e] })
	if err != nil {
		t.Fatal(err)
	}
	step := -1
	for i, f := range from {
		if f == NoEdge && q.Segment(i).A.Dist(P(200, 0)) < 1e-9 {
			step = i
		}
	}
	if step < 0 {
		t.Fatalf("no step at the corner: %v from %v", q, from)
	}
	near(t, "end of the strip, x", q.Segment(step).B.X, 200+10*sin, 1e-9)
	near(t, "end of the strip, y", q.Segment(step).B.Y, -10*cos, 1e-9)
}

// TestRoundCornerBetweenUnequalAmounts by hand: a square corner of radius r
// between amounts 20 and 30 becomes an arc of radius r + 20 tangent to both.
func TestRoundCornerBetweenUnequalAmounts(t *testing.T) {
	p, f := Box(0, 0, 200, 200).Fillet(1, 15)
	if f != nil {
		t.Fatal(f)
	}
	m, err := OffsetFrom(p, func(e int) float64 { return map[int]float64{0: 20, 2: 30, 3: 20, 4: 20}[e] })
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range m.From {
		if s.Edge != 1 {
			continue
		}
		arc := m.Path.Segment(i)
		near(t, "radius", arc.Radius(), 35, 1e-9)
		near(t, "centre, x", arc.Center().X, 230-35, 1e-9)
		near(t, "centre, y", arc.Center().Y, -20+35, 1e-9)
		return
	}
	t.Error("the corner arc is gone")
}

// sticksOut finds a point of an edge's own strip that lies outside of q by more
// than tol; the strip is sampled.
func sticksOut(p Path, d []float64, q Path, tol float64) (string, bool) {
	corner := p.CornerArcs()
	for i := range p {
		if corner[i] {
			continue
		}
		s := p.Segment(i)
		for _, share := range [...]float64{0, 0.1, 0.5, 0.8, 1} {
			for _, depth := range [...]float64{0, 0.5, 1} {
				if at := s.At(share).Add(s.Normal(share).Mul(d[i] * depth)); !q.Covers(at, tol) {
					return fmt.Sprintf("strip of edge %d sticks out by %.4f at %v\n%v\n%v\n%v", i, q.Distance(at), at, p, d, q), true
				}
			}
		}
	}
	return "", false
}

// TestOffsetLaws on board-like and rough random shapes: the result is valid,
// contains the shape and every edge's own strip, every segment has its source,
// an edge's segments lie on the moved edge, and more never gives less.
func TestOffsetLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 11))
	t.Logf("-seed %d", *seed)
	tried, slow := map[bool]int{}, map[bool]int{}
	for k := range 350 {
		rough := k%7 == 6
		p := randomOutline(r)
		if rough {
			p = randomStar(r)
		}
		d, base := make([]float64, len(p)), 95*r.Float64()
		for i := range d {
			switch k % 3 {
			case 0:
				d[i] = base
			case 1:
				d[i] = base * (0.7 + 0.3*r.Float64()) // wraps differ, but not wildly
			case 2:
				d[i] = base * r.Float64()
			}
		}
		m, err := OffsetFrom(p, func(e int) float64 { return d[e] })
		if err != nil {
			t.Fatalf("%v: %v by %v", err, p, d)
		}
		tried[rough]++
		tol := 1e-6
		if !m.Exact {
			if rough || !p.hollow() {
				slow[rough]++
			}
			tol = unionSlack
		}
		if f := m.Path.Validate(); f != nil || len(m.From) != len(m.Path) {
			t.Fatalf("%v, %d sources for %d segments: %v by %v", f, len(m.From), len(m.Path), p, d)
		}
		if what, bad := sticksOut(p, d, m.Path, tol); bad {
			t.Fatal(what)
		}
		for i, s := range m.From {
			if e := p.Segment(s.Edge); m.Exact && !s.Join && !p.isCornerArc(s.Edge) {
				c, _ := curveOf(e).moved(d[s.Edge])
				if mid := m.Path.Segment(i).At(0.5); c.foot(mid).Dist(mid) > 1e-6 {
					t.Fatalf("segment %d is not on edge %d moved: %v by %v", i, s.Edge, p, d)
				}
			}
		}
		if m.Exact && k%10 == 0 {
			if wider, err := OffsetFrom(p, func(e int) float64 { return d[e] + 5 }); err != nil || wider.Path.Area() < m.Path.Area() {
				t.Fatalf("more gives less: %v by %v", p, d)
			}
		}
	}
	t.Logf("board-like: %d, %d by strips; rough: %d, %d by strips", tried[false], slow[false], tried[true], slow[true])
	if slow[false] > 0 {
		t.Errorf("%d of %d boards without hollows needed the slow way", slow[false], tried[false])
	}
	// A planted error must be caught: a strip wider than what was asked.
	p := Box(0, 0, 100, 100)
	q, _ := Offset(p, func(int) float64 { return 10 })
	if _, caught := sticksOut(p, []float64{10, 10, 10.001, 10}, q, 1e-6); !caught {
		t.Error("the planted error went unnoticed")
	}
}

// TestInAndOut: moved in and out again, a rounded shape is what it was as long
// as nothing vanishes; moved in, it lies inside; what swallows it is refused.
func TestInAndOut(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 12))
	t.Logf("-seed %d", *seed)
	back := 0
	for range 150 {
		p, d := randomOutline(r), 2+8*r.Float64()
		in, err := OffsetFrom(p, func(int) float64 { return -d })
		if err != nil {
			t.Fatalf("%v: %v by %v", err, p, d)
		}
		for i := range in.Path {
			if at := in.Path.Segment(i).At(0.4); !p.Contains(at) || in.Exact && p.Distance(at) < d-1e-6 {
				t.Fatalf("%v is %v from the edge of %v, moved in by %v", at, p.Distance(at), p, d)
			}
		}
		out, err := Offset(in.Path, func(int) float64 { return d })
		if err != nil {
			t.Fatal(err)
		}
		if in.Exact && len(in.Path) == len(p) && len(out) == len(p) {
			back++
			near(t, "area there and back", out.Area(), p.Area(), 1e-4)
		}
		if q, err := Offset(p, func(int) float64 { return -400 }); err == nil {
			t.Fatalf("moved in by 400, %v leaves %v", p, q)
		}
	}
	if back < 75 {
		t.Errorf("only %d of 150 came back", back)
	}
}

func TestOffsetRefusesWhatIsNoAmount(t *testing.T) {
	for _, d := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e9} {
		if _, err := Offset(Box(0, 0, 10, 10), func(int) float64 { return d }); err == nil {
			t.Errorf("%v was taken", d)
		}
	}
	if q, err := Offset(nil, func(int) float64 { return 1 }); len(q) != 0 && err == nil {
		t.Errorf("an empty path became %v", q)
	}
}

// TestNotchClosesUp: edges that run into each other are put together from
// their strips.
func TestNotchClosesUp(t *testing.T) {
	slot := Path{V(0, 0, 0), V(100, 0, 0), V(100, 100, 0), V(60, 100, 0), V(60, 50, 0), V(40, 50, 0), V(40, 100, 0), V(0, 100, 0)}
	m, err := OffsetFrom(slot, func(int) float64 { return 15 })
	if err != nil || m.Exact {
		t.Fatalf("exact %v, %v", m.Exact, err)
	}
	near(t, "area", m.Path.Area(), 130*130, 0.1)
}

func BenchmarkOffset(b *testing.B) {
	p := Path{{Pt{-235, 0}, 0.08}, {Pt{235, 0}, 0}, {Pt{203, 438}, 0}, {Pt{-203, 438}, 0}}
	for i := 3; i >= 0; i-- {
		p, _ = p.Fillet(i, 22)
	}
	for b.Loop() {
		if _, err := Offset(p, func(e int) float64 { return 75 + float64(e) }); err != nil {
			b.Fatal(err)
		}
	}
}

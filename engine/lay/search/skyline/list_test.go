package skyline

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// rects draws a plain problem on the marking step of 1 mm, or of sizes that
// have no common measure.
func rects(r *rand.Rand, n int, even bool) lay.Problem {
	p := lay.Problem{Gap: unit.Length(r.IntN(2) * 5), Bins: []lay.Bin{{ID: "roll", Width: 1400, Sheets: 1}}}
	turns := []lay.Turns{lay.OneWay, lay.EitherWay, lay.AnyTurn}[r.IntN(3)]
	for left := n; left > 0; {
		k := 1 + r.IntN(left)
		left -= k
		l, w := 100+float64(r.IntN(600)), 100+float64(r.IntN(600))
		if !even {
			l, w = l+r.Float64(), w+r.Float64()
		}
		g := geom.Polygon{{X: 0, Y: 0}, {X: l, Y: 0}, {X: l, Y: w}, {X: 0, Y: w}}
		p.Kinds = append(p.Kinds, lay.Kind{ID: fmt.Sprint(len(p.Kinds)), Shape: g, Count: k, Turns: turns, Square: true, Motif: g.Bounds().Center()})
	}
	return p
}

// TestListLane: its lays are valid and only get shorter, whatever the sizes.
func TestListLane(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 21))
	shorter := 0
	for n := range 40 {
		p := rects(r, 3+r.IntN(30), n%2 == 0)
		in := New(p)
		if g := in.Grid(false); len(p.Kinds) > 2 && g.Exact != (n%2 == 0) {
			t.Fatalf("problem %d: exact %v", n, g.Exact)
		}
		l := NewListLane(in, 7, n%2)
		_, was, ok := l.Best()
		if !ok {
			t.Fatal("no first lay")
		}
		begin := was
		for range 4 {
			l.Step(20_000, func() bool { return false })
			puts, s, _ := l.Best()
			if was.Less(s) {
				t.Errorf("problem %d: %v after %v", n, s, was)
			}
			was = s
			made := in.Lay(puts)
			if f := lay.Check(p, made); len(f) > 0 {
				t.Fatalf("problem %d: %v", n, f)
			}
			if d := Units(made.Length) - s.Length; d > 100 || d < -100 {
				t.Errorf("problem %d: length %v, said %v units", n, made.Length, s.Length)
			}
		}
		if was.Less(begin) {
			shorter++
		}
	}
	if shorter < 10 {
		t.Errorf("only %d lays became shorter", shorter)
	}
}

// TestListLaneAgain: the same seed gives the same lay, however its time is cut
// up, and another lane another one.
func TestListLaneAgain(t *testing.T) {
	in := New(rects(rand.New(rand.NewPCG(3, 21)), 25, true))
	run := func(lane int, steps ...int64) []Put {
		l := NewListLane(in, 5, lane)
		for _, b := range steps {
			l.Step(b, func() bool { return false })
		}
		p, _, _ := l.Best()
		return slices.Clone(p)
	}
	a := run(0, 50_000)
	if !slices.Equal(a, run(0, 50_000)) {
		t.Error("not the same again")
	}
	l := NewListLane(in, 5, 0)
	asked := 0
	l.Step(1<<40, func() bool { asked++; return asked == 3 })
	if asked != 3 {
		t.Errorf("asked %d times", asked)
	}
}

// TestGridThirds: sizes in sixtieths of goods 1400 mm wide are whole steps,
// though none is a whole number of units.
func TestGridThirds(t *testing.T) {
	p := lay.Problem{Bins: []lay.Bin{{ID: "roll", Width: 1400, Sheets: 1}}}
	for i, s := range [][2]float64{{20, 10}, {25, 17}, {7, 33}} {
		l, w := s[0]*1400/60, s[1]*1400/60
		g := geom.Polygon{{X: 0, Y: 0}, {X: l, Y: 0}, {X: l, Y: w}, {X: 0, Y: w}}
		p.Kinds = append(p.Kinds, lay.Kind{ID: fmt.Sprint(i), Shape: g, Count: 1, Turns: lay.AnyTurn, Square: true})
	}
	g := New(p).Grid(true)
	if !g.Exact || g.W != 60 || g.Sizes[1][0].L != 25 || g.Sizes[1][1].L != 17 || g.Sizes[2][0].W != 33 {
		t.Errorf("%+v", g)
	}
	if got := g.MM(30).MM(); math.Abs(got-700) > 1e-9 {
		t.Errorf("30 steps are %v mm", got)
	}
}

// TestReachable holds the sums of lengths against all choices of pieces.
func TestReachable(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 21))
	for range 30 {
		p := lay.Problem{Bins: []lay.Bin{{ID: "roll", Width: 1000, Sheets: 1}}}
		turns := lay.OneWay
		if r.IntN(2) == 0 {
			turns = lay.AnyTurn
		}
		sums := map[int]bool{0: true}
		for i := range 3 {
			l, w, n := 1+r.IntN(9), 1+r.IntN(9), 1+r.IntN(3)
			g := geom.Polygon{{X: 0, Y: 0}, {X: float64(10 * l), Y: 0}, {X: float64(10 * l), Y: float64(10 * w)}, {X: 0, Y: float64(10 * w)}}
			p.Kinds = append(p.Kinds, lay.Kind{ID: fmt.Sprint(i), Shape: g, Count: n, Turns: turns, Square: true})
			for range n {
				next := map[int]bool{}
				for s := range sums {
					next[s], next[s+l] = true, true
					if turns == lay.AnyTurn {
						next[s+w] = true
					}
				}
				sums = next
			}
		}
		in := New(p)
		g := in.Grid(true)
		step := int(math.Round(g.X / PerMM / 10))
		can := g.Reachable(100)
		for s := range 100 {
			if s%step == 0 && can[s/step] != sums[s] {
				t.Fatalf("%d: %v, should be %v\n%+v", s, can[s/step], sums[s], p)
			}
		}
	}
}

// TestMeasure: noise of conversions does not hide a common measure, and sizes
// without one have none.
func TestMeasure(t *testing.T) {
	var sixteenths []float64
	for _, n := range []float64{504, 391, 356, 414, 383, 382, 487, 829, 395, 484, 315} {
		sixteenths = append(sixteenths, n/16*25.4, n*(25.4/16))
	}
	if got := measure(sixteenths); math.Abs(got-25.4/16) > 1e-9 {
		t.Errorf("got %v", got)
	}
	if got := measure([]float64{500, 500 * math.Sqrt2}); got != 0 {
		t.Errorf("got %v", got)
	}
	if got := measure(nil); got != 0 {
		t.Errorf("got %v", got)
	}
}

func BenchmarkSkyFill(b *testing.B) {
	for _, n := range []int{20, 60, 200, 500} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			in := New(rects(rand.New(rand.NewPCG(3, 21)), n, true))
			l := NewListLane(in, 1, 0).(*listLane)
			for b.Loop() {
				l.sky.Fill(l.list, endless, math.Inf(1))
			}
		})
	}
}

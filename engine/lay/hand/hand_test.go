package hand_test

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/lay/hand"
	"slipseat/engine/lay/jobs"
	"slipseat/engine/lay/search"
)

var seed = flag.Uint64("seed", 11, "seed of the random trials")

func box(w, h float64) geom.Polygon {
	return geom.Polygon{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h}, {X: 0, Y: h}}
}

// two pieces of 200 × 100 on goods 500 wide, gap 5, step 1; A1 at the origin is
// fixed, A2 stands behind it.
func two() (lay.Problem, []lay.Place) {
	p := lay.Problem{Kinds: []lay.Kind{{ID: "A", Shape: box(200, 100), Count: 3, Turns: lay.AnyTurn, Square: true, Motif: geom.P(100, 50)}},
		Bins: []lay.Bin{{ID: "roll", Width: 500, Sheets: 1}}, Gap: 5, Step: 1, Fixed: []lay.Place{{}}}
	return p, []lay.Place{{}, {Copy: 1, At: geom.P(205, 0)}, {Copy: 2, At: geom.P(0, 300)}}
}

func near(a, b geom.Pt) bool { return a.Dist(b) < 1e-6 }

func TestSnap(t *testing.T) {
	p, places := two()
	p.Bins[0].Flaws = []geom.Polygon{box(20, 20).Translate(geom.P(600, 300))}
	h := hand.New(p, places, 0, 2)
	for _, c := range []struct {
		what     string
		from, to geom.Pt
	}{
		{"the cut end and the near edge", geom.P(3, 6), geom.P(0, 0)},
		{"the far edge", geom.P(440.3, 395), geom.P(440, 400)},
		{"a neighbour at the gap, along", geom.P(409, 50.2), geom.P(410, 50)},
		{"a neighbour at the gap, across", geom.P(30.4, 107), geom.P(30, 105)},
		{"in line with a neighbour", geom.P(209, 250), geom.P(205, 250)},
		{"a flaw at the gap", geom.P(393, 303), geom.P(395, 300)}, // the flaw starts at 600; in line with its lower edge it is not
		{"the marking step", geom.P(450.4, 150.6), geom.P(450, 151)},
	} {
		got := h.Snap(lay.Place{Copy: 2, At: c.from}, 8)
		if c.what == "a flaw at the gap" {
			got.At.Y = 300 // the step alone decides across
		}
		if !near(got.At, c.to) {
			t.Errorf("%s: from %v to %v, want %v", c.what, c.from, got.At, c.to)
		}
	}
}

func TestJudge(t *testing.T) {
	p, places := two()
	h := hand.New(p, places, 0, 2)
	if v := h.Judge(lay.Place{Copy: 2, At: geom.P(0, 300)}); !v.Clear() {
		t.Errorf("a free place: %+v", v)
	}
	if v := h.Judge(lay.Place{Copy: 2, At: geom.P(300, 50)}); len(v.Faults) != 0 || len(v.MakeWay) != 1 || v.MakeWay[0].Copy != 1 {
		t.Errorf("on a piece that may move: %+v", v)
	}
	if v := h.Judge(lay.Place{Copy: 2, At: geom.P(50, 50)}); len(v.Faults) != 1 || v.Faults[0].Code != lay.CodeOverlap {
		t.Errorf("on a held piece: %+v", v)
	}
	if v := h.Judge(lay.Place{Copy: 2, At: geom.P(0, 401)}); len(v.Faults) != 1 || v.Faults[0].Code != lay.CodeOffGoods {
		t.Errorf("over the edge: %+v", v)
	}
	// A held piece that is taken into the hand itself may go anywhere.
	if v := hand.New(p, places, 0, 0).Judge(lay.Place{At: geom.P(500, 300)}); !v.Clear() {
		t.Errorf("the held piece itself: %+v", v)
	}
}

func TestTurnAndNudge(t *testing.T) {
	p, places := two()
	h := hand.New(p, places, 0, 2)
	at := lay.Place{Copy: 2, At: geom.P(0, 300)}
	next, ok := h.Turned(at)
	if !ok || next.Turn != 1 {
		t.Fatalf("turned to %+v, %v", next, ok)
	}
	b := p.Placed(next).Bounds()
	if math.Abs(b.W()-100) > 1e-9 || math.Abs(b.H()-200) > 1e-9 || b.Min.X < 0 || b.Max.Y > 500 {
		t.Errorf("the turned piece lies at %v", b)
	}
	if got := h.Nudge(at, 1, -8); !near(got.At, geom.P(1, 292)) {
		t.Errorf("nudged to %v", got.At)
	}
	p.Kinds[0].Turns = lay.OneWay
	if _, ok := hand.New(p, places, 0, 2).Turned(at); ok {
		t.Error("turned on a cloth that lies one way")
	}
}

// With rules that bind the piece to the pattern, every place that a hand drops
// it at is one that the judge has nothing against, the other pieces apart.
func TestSnapKeepsToThePattern(t *testing.T) {
	t.Logf("seed %d", *seed)
	r := rand.New(rand.NewPCG(*seed, 2))
	patterned := 0
	for n := range 60 {
		j := jobs.New(*seed, n)
		p := j.Problem
		l, faults := search.First(p)
		if len(faults) > 0 || len(l.Places) == 0 {
			t.Fatalf("job %d: %v", n, faults)
		}
		if j.Patterned {
			patterned++
		}
		for range 12 {
			q := l.Places[r.IntN(len(l.Places))]
			h := hand.New(p, l.Places, q.Kind, q.Copy)
			bin := p.Bins[q.Bin]
			to := q
			to.At = geom.P(r.Float64()*l.Length.MM(), r.Float64()*bin.Width.MM())
			got := h.Snap(to, 10)
			if again := h.Snap(got, 0); again.At.Dist(got.At) > p.Step.MM() {
				t.Errorf("job %d: snapping %v again gives %v", n, got.At, again.At)
			}
			for _, f := range h.Judge(got).Faults {
				if f.Code == lay.CodeNotCentred || f.Code == lay.CodeNotAlike {
					t.Errorf("job %d: %s dropped at %v: %v", n, p.Name(q.Kind, q.Copy), got.At, f)
				}
			}
			for _, d := range [][2]int{{1, 0}, {0, 1}, {-8, 0}} {
				for _, f := range h.Judge(h.Nudge(got, d[0], d[1])).Faults {
					if f.Code == lay.CodeNotCentred || f.Code == lay.CodeNotAlike {
						t.Errorf("job %d: nudged off the pattern: %v", n, f)
					}
				}
			}
		}
		// Where it lies in a good lay, the hand finds nothing wrong with a piece.
		for _, q := range l.Places {
			if v := hand.New(p, l.Places, q.Kind, q.Copy).Judge(q); !v.Clear() {
				t.Errorf("job %d: %s in its place: %+v", n, p.Name(q.Kind, q.Copy), v)
			}
		}
	}
	if patterned < 10 {
		t.Fatalf("only %d jobs with a pattern", patterned)
	}
}

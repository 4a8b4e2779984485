package exact

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"slipseat/engine/lay"
	"slipseat/engine/lay/jobs"
	"slipseat/engine/lay/search/skyline"
)

// everyday are jobs of squared pieces on plain goods.
func everyday(n int) []lay.Problem {
	var out []lay.Problem
	for i := 0; len(out) < n; i++ {
		j := jobs.New(*seed, i)
		if !j.Shaped && !j.Patterned && !j.Flawed && !j.Sheets && !j.AtHand && !j.Locked {
			out = append(out, j.Problem)
		}
	}
	return out
}

// TestLaneSameWhateverTheSteps: how the lane's time is cut up changes neither
// bound nor lay.
func TestLaneSameWhateverTheSteps(t *testing.T) {
	for i, p := range everyday(12) {
		in := skyline.New(p)
		s, _ := first(t, in)
		var bound any
		var puts []skyline.Put
		for k, step := range []int64{300_000, 20_000, 6_000} {
			l := NewLane(in)
			l.Heard(s)
			used := int64(0)
			for used < 300_000 && !l.ended {
				used += l.Step(min(step, 300_000-used), func() bool { return false })
			}
			got, _, _ := l.Best()
			if k == 0 {
				bound, puts = l.Bound(), slices.Clone(got)
			} else if bound != l.Bound() || !slices.Equal(puts, got) {
				t.Errorf("job %d: steps of %d give bound %v, one step %v", i, step, l.Bound(), bound)
			}
			l.Close()
		}
	}
}

// TestLaneStops between two evaluations' worth of time, and can be closed at
// any stage.
func TestLaneStops(t *testing.T) {
	for _, p := range everyday(6) {
		in := skyline.New(p)
		for _, budget := range []int64{1, 3000, 100_000} {
			l := NewLane(in)
			s, _ := first(t, in)
			l.Heard(s)
			asked := 0
			l.Step(budget, func() bool { asked++; return asked > 3 })
			used := l.clock.used
			if l.Step(1_000_000, func() bool { return true }) != 0 || l.clock.used != used {
				t.Error("it went on when told to stop")
			}
			l.Close()
			l.Close()
			if l.Step(1_000_000, func() bool { return false }) != 0 {
				t.Error("it went on when closed")
			}
		}
	}
}

// TestLaneIsValid: its lays pass the judge, and bound and lay do not cross.
func TestLaneIsValid(t *testing.T) {
	lays := 0
	for i, p := range everyday(25) {
		in := skyline.New(p)
		l := NewLane(in)
		s, _ := first(t, in)
		l.Heard(s)
		l.Step(400_000, func() bool { return false })
		if b := skyline.Units(l.Bound()); b > s.Length+2000 {
			t.Errorf("job %d: bound %v above a lay", i, l.Bound())
		}
		if puts, score, ok := l.Best(); ok {
			lays++
			made := in.Lay(puts)
			if f := lay.Check(p, made); len(f) > 0 {
				t.Errorf("job %d: %v", i, f)
			}
			if skyline.Units(l.Bound()) > score.Length+2000 {
				t.Errorf("job %d: bound %v above its own lay %v", i, l.Bound(), made.Length)
			}
		}
		l.Close()
	}
	if lays < 5 {
		t.Errorf("only %d lays were better than the first", lays)
	}
}

// TestWeightsHold: no set of pieces that fits side by side weighs more than a
// weight says, and the bound is never below that of the area.
func TestWeightsHold(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 5))
	for _, p := range everyday(15) {
		task := newTask(skyline.New(p).Grid(true))
		c := &clock{limit: math.MaxInt64}
		w, ok := task.byBars(c)
		if !ok {
			t.Fatal("no weights")
		}
		if b := task.bound(w); b < (task.area()+task.w-1)/task.w-1 {
			t.Errorf("bound %d below the area's %d", b, task.area()/task.w)
		}
		for range 2000 {
			room, sum := task.w, int64(0)
			left := slices.Clone(task.count)
			for range 12 {
				i := r.IntN(len(task.opts))
				if o := task.opts[i]; o.w <= room && left[o.size] > 0 {
					room -= o.w
					left[o.size]--
					sum += w.of[i]
				}
			}
			if sum > w.most {
				t.Fatalf("a set weighs %d, the most is %d", sum, w.most)
			}
		}
	}
}

// TestProgram: max 3x + 5y, x <= 4, 2y <= 12, 3x + 2y <= 18 has its maximum at
// (2, 6), and 3x + 4y <= 24 added moves it to (0, 6) (first part: Hillier and
// Lieberman, "Introduction to Operations Research", the Wyndor Glass example;
// from memory; second part by hand).
func TestProgram(t *testing.T) {
	lp := newProgram(2)
	lp.gain[0], lp.gain[1] = 3, 5
	lp.add([]float64{1, 0}, 4)
	lp.add([]float64{0, 2}, 12)
	lp.add([]float64{3, 2}, 18)
	if x := lp.values(); !lp.solve() || x == nil {
		t.Fatal("not solved")
	}
	if x := lp.values(); math.Abs(x[0]-2) > 1e-9 || math.Abs(x[1]-6) > 1e-9 {
		t.Errorf("got %v", x)
	}
	lp.add([]float64{3, 4}, 24)
	if !lp.solve() {
		t.Fatal("not solved")
	}
	if x := lp.values(); math.Abs(x[0]) > 1e-9 || math.Abs(x[1]-6) > 1e-9 {
		t.Errorf("got %v", x)
	}
}

// TestGapsFillsAPerfectSquare: the 20 by 20 square cut into 17 pieces of
// Hopper and Turton (European Journal of Operational Research 128, 2001), set
// C1 problem 2.
func TestGapsFillsAPerfectSquare(t *testing.T) {
	sizes := [][3]int{{1, 4, 2}, {5, 4, 1}, {4, 9, 1}, {5, 3, 1}, {9, 3, 1}, {4, 1, 1}, {3, 5, 1}, {5, 5, 1}, {2, 7, 2}, {3, 9, 1}, {13, 3, 1}, {8, 2, 1}, {4, 15, 1}, {4, 5, 1}, {6, 10, 1}}
	p := problem(20, 0, lay.OneWay, sizes...)
	in := skyline.New(p)
	task := newTask(in.Grid(true))
	g := newGaps(task, &clock{limit: 3_000_000}, 20)
	found, done := g.run()
	if !found || !done {
		t.Fatalf("found %v, done %v after %d", found, done, g.clock.used)
	}
	made := in.Lay(task.puts(g.spots))
	if f := lay.Check(p, made); len(f) > 0 || math.Abs(made.Length.MM()-20*stepMM) > 1e-6 {
		t.Errorf("%v %v", made.Length, f)
	}
	// The same area with two pieces that cannot lie beside each other.
	none := newTask(skyline.New(problem(6, 0, lay.OneWay, [3]int{3, 4, 2}, [3]int{2, 3, 2})).Grid(true))
	if found, done := newGaps(none, &clock{limit: 3_000_000}, 6).run(); found || !done {
		t.Errorf("found %v, done %v", found, done)
	}
}

func BenchmarkBars(b *testing.B) {
	ps := everyday(10)
	var tasks []*task
	for _, p := range ps {
		tasks = append(tasks, newTask(skyline.New(p).Grid(true)))
	}
	for i := 0; b.Loop(); i++ {
		tasks[i%len(tasks)].byBars(&clock{limit: math.MaxInt64})
	}
}

// BenchmarkLane is the cost of an evaluation of the proving lane.
func BenchmarkLane(b *testing.B) {
	ps := everyday(10)
	evals := int64(0)
	for i := 0; b.Loop(); i++ {
		in := skyline.New(ps[i%len(ps)])
		l := NewLane(in)
		evals += l.Step(1_000_000, func() bool { return false })
		l.Close()
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(max(1, evals)), "ns/evaluation")
}

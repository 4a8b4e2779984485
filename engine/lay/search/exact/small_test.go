package exact

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/lay/search/skyline"
	"slipseat/engine/unit"
)

var (
	seed   = flag.Uint64("seed", 1, "seed of the random trials")
	rounds = flag.Int("rounds", 120, "number of random problems")
)

// stepMM is the step of the small problems.
const stepMM = 10

// problem makes a plain problem of sizes in steps: along, across, count.
func problem(width int, gap int, turns lay.Turns, sizes ...[3]int) lay.Problem {
	p := lay.Problem{Gap: unit.Length(gap * stepMM), Bins: []lay.Bin{{ID: "roll", Width: unit.Length(width * stepMM), Sheets: 1}}}
	for i, s := range sizes {
		l, w := float64(s[0]*stepMM), float64(s[1]*stepMM)
		g := geom.Polygon{{X: 0, Y: 0}, {X: l, Y: 0}, {X: l, Y: w}, {X: 0, Y: w}}
		p.Kinds = append(p.Kinds, lay.Kind{ID: string(rune('A' + i)), Shape: g, Count: s[2], Turns: turns, Square: true, Motif: g.Bounds().Center()})
	}
	return p
}

// small draws a problem whose every lay can be tried.
func small(r *rand.Rand, gap int) lay.Problem {
	width := 4 + r.IntN(6)
	turns := []lay.Turns{lay.OneWay, lay.EitherWay, lay.AnyTurn}[r.IntN(3)]
	var sizes [][3]int
	left := 2 + r.IntN(4)
	if gap > 0 {
		left = 2 + r.IntN(2) // lays with gaps are longer, with many more places
	}
	for left > 0 {
		n := 1 + r.IntN(left)
		sizes = append(sizes, [3]int{1 + r.IntN(6), 1 + r.IntN(min(6, width)), n})
		left -= n
	}
	return problem(width, gap, turns, sizes...)
}

// brute is the length, in steps, of the shortest lay with all places whole
// steps, found by trying them all. It shares nothing with the package.
func brute(p lay.Problem) int {
	type box struct{ x, y, l, w int }
	width, gap := int(p.Bins[0].Width)/stepMM, int(p.Gap)/stepMM
	var kinds []int
	for k, kind := range p.Kinds {
		for range kind.Count {
			kinds = append(kinds, k)
		}
	}
	apart := func(a, b box) bool {
		dx := max(0, a.x-b.x-b.l, b.x-a.x-a.l)
		dy := max(0, a.y-b.y-b.w, b.y-a.y-a.w)
		if gap == 0 {
			return a.x >= b.x+b.l || b.x >= a.x+a.l || a.y >= b.y+b.w || b.y >= a.y+a.w
		}
		return dx*dx+dy*dy >= gap*gap
	}
	var put func(n int, placed []box, length int) bool
	put = func(n int, placed []box, length int) bool {
		if n == len(kinds) {
			return true
		}
		shape := p.Kinds[kinds[n]].Shape.Bounds()
		for t := range 2 {
			if !p.Kinds[kinds[n]].Turns.Has(lay.Turn(t)) {
				continue
			}
			l, w := int(math.Round(shape.W()))/stepMM, int(math.Round(shape.H()))/stepMM
			if t == 1 {
				l, w = w, l
			}
			for x := 0; x+l <= length; x++ {
				for y := 0; y+w <= width; y++ {
					b := box{x, y, l, w}
					// Of equal pieces the later one lies later.
					if n > 0 && kinds[n-1] == kinds[n] && (placed[n-1].x > x || placed[n-1].x == x && placed[n-1].y > y) {
						continue
					}
					clear := true
					for _, o := range placed {
						clear = clear && apart(b, o)
					}
					if clear && put(n+1, append(placed, b), length) {
						return true
					}
				}
			}
		}
		return false
	}
	for length := 1; ; length++ {
		if put(0, nil, length) {
			return length
		}
	}
}

// first is any valid lay, for a length to begin with.
func first(t *testing.T, in *skyline.Instance) (skyline.Score, bool) {
	t.Helper()
	puts, missing := skyline.NewFiller(in).Fill(in.Orders()[0], nil)
	return in.ScoreOf(puts, missing), missing == 0
}

// run lets a lane come to its end, or use up a budget, in steps.
func run(l *Lane, s skyline.Score, step int64) {
	const budget = 400_000
	l.Heard(s)
	for used := int64(0); !l.ended && used < budget; {
		used += l.Step(step, func() bool { return false })
	}
}

// TestShortestOfAll holds bound and lay of small problems against all lays.
func TestShortestOfAll(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 1))
	met := 0
	for n := range *rounds {
		p := small(r, 0)
		in := skyline.New(p)
		s, ok := first(t, in)
		if !ok {
			continue // a piece wider than the goods
		}
		want := unit.Length(brute(p) * stepMM)
		if b := Bound(p, in); b > want {
			t.Fatalf("seed %d, problem %d: the first bound is %v, the shortest lay %v\n%+v", *seed, n, b, want, p)
		}
		l := NewLane(in)
		run(l, s, 5000)
		short := unit.Length(float64(s.Length) / skyline.PerMM)
		if puts, got, ok := l.Best(); ok {
			short = min(short, unit.Length(float64(got.Length)/skyline.PerMM))
			made := in.Lay(puts)
			if f := lay.Check(p, made); len(f) > 0 {
				t.Fatalf("seed %d, problem %d: %v\n%+v", *seed, n, f, p)
			}
			if math.Abs(float64(made.Length-unit.Length(float64(got.Length)/skyline.PerMM))) > 1e-3 {
				t.Errorf("said %v, made %v", got.Length, made.Length)
			}
		}
		if l.Bound() > want+1e-6 || short < want-1e-3 {
			t.Fatalf("seed %d, problem %d: bound %v, lay %v, the shortest there is %v\n%+v", *seed, n, l.Bound(), short, want, p)
		}
		if want-l.Bound() < 0.1 && short-want < 0.1 {
			met++
		} else {
			t.Logf("problem %d: bound %v, lay %v, shortest %v", n, l.Bound(), short, want)
		}
		l.Close()
	}
	if met < *rounds*8/10 {
		t.Errorf("seed %d: only %d of %d small problems were solved and proved", *seed, met, *rounds)
	}
}

// TestBoundMindsCorners: with a gap, pieces may be nearer along and across than
// the gap where they lie corner to corner; the bound must not deny such lays.
func TestBoundMindsCorners(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 2))
	for n := range *rounds / 2 {
		p := small(r, 5)
		in := skyline.New(p)
		s, ok := first(t, in)
		if !ok {
			continue
		}
		want := unit.Length(brute(p) * stepMM)
		l := NewLane(in)
		run(l, s, 5000)
		if l.Bound() > want+1e-6 || Bound(p, in) > want+1e-6 {
			t.Fatalf("seed %d, problem %d: bound %v, a lay has %v\n%+v", *seed, n, l.Bound(), want, p)
		}
		if puts, _, ok := l.Best(); ok {
			if f := lay.Check(p, in.Lay(puts)); len(f) > 0 {
				t.Fatalf("seed %d, problem %d: %v", *seed, n, f)
			}
		}
		l.Close()
	}
	// 3 wide and 3 wide on 9 wide goods with a gap of 5: 3 steps apart across,
	// they need be only 4 apart along.
	p := problem(9, 5, lay.OneWay, [3]int{2, 3, 2})
	in := skyline.New(p)
	l := NewLane(in)
	defer l.Close()
	s, _ := first(t, in)
	run(l, s, 5000)
	if want := unit.Length(8 * stepMM); l.Bound() > want || brute(p) != 8 {
		t.Errorf("bound %v, shortest %d", l.Bound(), brute(p))
	}
}

// guillotine is the shortest lay in rows, by trying all cuts at whole steps.
func guillotine(p lay.Problem) int {
	width := int(p.Bins[0].Width) / stepMM
	var pieces [][2]int
	for _, k := range p.Kinds {
		for range k.Count {
			b := k.Shape.Bounds()
			pieces = append(pieces, [2]int{int(math.Round(b.W())) / stepMM, int(math.Round(b.H())) / stepMM})
		}
	}
	turn := p.Kinds[0].Turns.Has(1)
	known := map[[2]int]int{}
	var least func(set, w int) int
	least = func(set, w int) int {
		key := [2]int{set, w}
		if v, ok := known[key]; ok {
			return v
		}
		best := math.MaxInt32
		if set&(set-1) == 0 {
			for i, q := range pieces {
				if set == 1<<i && q[1] <= w {
					best = min(best, q[0])
				}
				if set == 1<<i && turn && q[0] <= w {
					best = min(best, q[1])
				}
			}
		}
		for a := (set - 1) & set; a > 0; a = (a - 1) & set {
			best = min(best, least(a, w)+least(set&^a, w))
			for v := 1; v < w; v++ {
				best = min(best, max(least(a, v), least(set&^a, w-v)))
			}
		}
		known[key] = best
		return best
	}
	return least(1<<len(pieces)-1, width)
}

// TestRowsAreShortest holds the shortest lay in rows against all of them.
func TestRowsAreShortest(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 3))
	for n := range *rounds {
		p := small(r, 0)
		p.RowsOnly = true
		in := skyline.New(p)
		if _, ok := first(t, in); !ok {
			continue
		}
		want := guillotine(p)
		task := newTask(in.Grid(true))
		c := &clock{limit: math.MaxInt64}
		rows, ok := rowsFor(task, c)
		if !ok {
			t.Fatal("too many sets")
		}
		got, spots, ok := rows.least(math.MaxInt64 / 4)
		made := in.Lay(task.puts(spots))
		if f := lay.Check(p, made); !ok || len(f) > 0 || math.Abs(made.Length.MM()-float64(want*stepMM)) > 1e-6 {
			t.Fatalf("seed %d, problem %d: %d steps, %v, should be %d\n%v %+v", *seed, n, got, made.Length, want, f, p)
		}
	}
}

// TestEqualPieces holds the closed forms against all lays of up to eight equal
// pieces.
func TestEqualPieces(t *testing.T) {
	for _, turns := range []lay.Turns{lay.OneWay, lay.AnyTurn} {
		for _, c := range [][4]int{ // along, across, number, goods
			{2, 3, 8, 7}, {3, 2, 7, 7}, {4, 3, 6, 7}, {3, 4, 5, 8}, {5, 2, 6, 7}, {2, 5, 8, 8}, {5, 3, 4, 8}, {4, 1, 8, 5}, {3, 5, 3, 8}, {1, 2, 8, 3},
		} {
			p := problem(c[3], 0, turns, [3]int{c[0], c[1], c[2]})
			in := skyline.New(p)
			want := brute(p)
			if turns == lay.OneWay {
				if got := OneWay(c[2], int64(c[0]), int64(c[1]), int64(c[3])); got != int64(want) {
					t.Errorf("%v one way: %d, should be %d", c, got, want)
				}
				continue
			}
			l := NewLane(in)
			s, _ := first(t, in)
			run(l, s, 5000)
			if _, got, ok := l.Best(); ok && got.Length < s.Length {
				s = got
			}
			if length := float64(s.Length) / skyline.PerMM; math.Abs(length-float64(want*stepMM)) > 1e-6 || math.Abs(l.Bound().MM()-length) > 0.1 {
				t.Errorf("%v turned: lay %v, bound %v, should be %d", c, length, l.Bound(), want*stepMM)
			}
			l.Close()
		}
	}
}

// TestFiveBlocks: five 2 by 3 pieces round a hole of one step fill 5 by 5 but
// for the hole... four of them; straight cuts alone hold no more than three.
func TestFiveBlocks(t *testing.T) {
	c := &clock{limit: math.MaxInt64}
	s := newSame(c, 3, 2, 5)
	if f := s.most(5, 5); f.n != 4 || f.x2 == 0 {
		t.Errorf("%+v", f)
	}
	got := s.place(nil, 0, 0, 5, 5)
	cells := map[[2]int64]bool{}
	for _, p := range got {
		l, w := int64(3), int64(2)
		if p.turned {
			l, w = w, l
		}
		for x := p.x; x < p.x+l; x++ {
			for y := p.y; y < p.y+w; y++ {
				if cells[[2]int64{x, y}] || x >= 5 || y >= 5 {
					t.Fatalf("overlap at %d, %d: %v", x, y, got)
				}
				cells[[2]int64{x, y}] = true
			}
		}
	}
	if len(cells) != 24 {
		t.Errorf("%d cells", len(cells))
	}
}

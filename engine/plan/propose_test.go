package plan_test

import (
	"flag"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"

	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/lay/search"
	"slipseat/engine/plan"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

var seed = flag.Uint64("seed", 20261125, "seed of the random jobs")

func some(p lay.Problem) (lay.Lay, []lay.Place) {
	l, missing, faults := search.Some(p)
	if len(faults) > 0 {
		return lay.Lay{}, allOf(p)
	}
	return l, missing
}

func allOf(p lay.Problem) []lay.Place {
	var out []lay.Place
	for i, k := range p.Kinds {
		for c := range k.Count {
			out = append(out, lay.Place{Kind: i, Copy: c})
		}
	}
	return out
}

// foamJob is a job of foam alone: boxes of so many inches, without oversize.
func foamJob(sizes [][2]float64, counts []int, length, width, sawCut float64) plan.Input {
	in := plan.Input{Step: unit.SixteenthInch}
	for i, s := range sizes {
		b := buildup.Start(buildup.PulledOver)
		b.Foam[0].Goods, b.Dust.None, b.Oversize, b.FoamSquared = "foam", true, 0, true
		w, d := unit.Length(s[0])*unit.In, unit.Length(s[1])*unit.In
		in.Seats = append(in.Seats, plan.Seat{ID: string(rune('a' + i)), Name: "Seat", Letter: string(rune('A' + i)), Count: counts[i], Build: b,
			Shape: plan.Shape{Measured: &seat.Measurements{FrontWidth: w, BackWidth: w, Depth: d}}})
	}
	in.Foams = []cloth.Sheet{{ID: "foam", Name: "Foam", Thickness: unit.In, Length: unit.Length(length) * unit.In, Width: unit.Length(width) * unit.In,
		SawCut: unit.Length(sawCut) * unit.In, Price: 4000, Glue: cloth.Glue{Allow: true, MinWidth: 3 * unit.In, KeepOff: unit.In}}}
	return in
}

func handOver(p geom.Path) sf.Geometry {
	g := p.Flatten(geom.ChordTol)
	xy := make([]float64, 0, 2*len(g)+2)
	for i := range len(g) + 1 {
		q := g[i%len(g)]
		xy = append(xy, q.X, q.Y)
	}
	return sf.NewPolygon([]sf.LineString{sf.NewLineString(sf.NewSequence(xy, sf.DimXY))}).AsGeometry()
}

// tile holds the parts of a blank against it with the geometry library
// simplefeatures (P. Stace): no area in common, and together the blank.
func tile(t *testing.T, blank buildup.Blank, parts []buildup.Blank) {
	t.Helper()
	whole := handOver(blank.Path.FlattenOut(geom.ChordTol).Path())
	sum := 0.0
	for i, a := range parts {
		sum += handOver(a.Path).Area()
		out, err := sf.Difference(handOver(a.Path), whole)
		if err != nil || out.Area() > 1e-6 {
			t.Errorf("part %d sticks out by %v mm² (%v)", i+1, out.Area(), err)
		}
		for _, b := range parts[i+1:] {
			both, err := sf.Intersection(handOver(a.Path), handOver(b.Path))
			if err != nil || both.Area() > 1e-6 {
				t.Errorf("parts share %v mm² (%v)", both.Area(), err)
			}
		}
	}
	if math.Abs(sum-whole.Area()) > 1e-6*whole.Area() {
		t.Errorf("parts of %v mm² in all for a blank of %v mm²", sum, whole.Area())
	}
}

// obeys holds a proposal against every limit that it was made under.
func obeys(t *testing.T, p *plan.Plan, in plan.Input, q plan.Proposal) {
	t.Helper()
	f := in.Foams[0]
	if bad := lay.Check(q.Problem, q.Lay); len(bad) > 0 {
		t.Errorf("the lay of the glue-ups is not valid: %v", bad)
	}
	if q.Lay.Sheets != q.After || q.Before > 0 && (q.After >= q.Before || q.Saving < 0) {
		t.Errorf("from %d to %d sheets, the lay has %d; saves %d", q.Before, q.After, q.Lay.Sheets, q.Saving)
	}
	for _, g := range q.GlueUps {
		for _, s := range p.Seats {
			if s.ID != g.Seat {
				continue
			}
			b, _ := s.Result.Blank(buildup.PartFoam)
			parts, bad := plan.Parts(b, g, f)
			if bad != nil || len(parts) > 3 {
				t.Fatalf("%d parts, %v", len(parts), bad)
			}
			tile(t, b, parts)
			w, d := b.Size()
			for i, at := range g.At {
				off := at // from the front
				if g.FrontToBack {
					off = unit.Length(math.Abs(float64(at - w/2)))
				} else if at >= d {
					t.Errorf("joint at %v of %v", at, d)
				}
				if off < f.Glue.KeepOff-1e-6 {
					t.Errorf("joint %d keeps off by %v, at least %v", i, off, f.Glue.KeepOff)
				}
			}
			for _, part := range parts {
				pw, pd := part.Size()
				if g.FrontToBack {
					pd = pw
				}
				if pd < f.Glue.MinWidth-1e-6 {
					t.Errorf("a part %v wide", pd)
				}
			}
		}
	}
}

// TestGlueUpsOfRandomJobs: on 200 random foam jobs glue-ups never cost more
// than without, obey every limit, tile their blanks and save a sheet in at
// least half of the jobs where the area bound leaves one to save.
func TestGlueUpsOfRandomJobs(t *testing.T) {
	jobs := 200
	if testing.Short() {
		jobs = 20
	}
	r := rand.New(rand.NewPCG(*seed, 1))
	t.Logf("-seed %d", *seed)
	open, saved, proposals := 0, 0, 0
	for range jobs {
		n := 1 + r.IntN(4)
		var sizes [][2]float64
		var counts []int
		for range n {
			sizes = append(sizes, [2]float64{float64(28+r.IntN(60)) / 2, float64(28+r.IntN(30)) / 2})
			counts = append(counts, 1+r.IntN(6))
		}
		in := foamJob(sizes, counts, float64(60+r.IntN(40)), float64(36+r.IntN(24)), 0.125)
		s := newSolver(t)
		p := s.settle(in, nil)
		g := p.Find("foam")
		if g == nil || g.Lay == nil {
			continue
		}
		area := 0.0
		for _, k := range g.Problem.Kinds {
			area += k.Shape.Area() * float64(k.Count)
		}
		sheet := float64(in.Foams[0].Length * in.Foams[0].Width)
		room := int(math.Ceil(area/sheet-1e-9)) < g.Lay.Sheets
		if room {
			open++
		}
		for _, q := range p.Proposals(some) {
			proposals++
			obeys(t, p, in, q)
			if !room {
				t.Error("saved what the area bound forbids")
			}
			saved++
			// Taken over, the job is cut as was promised.
			with := in
			with.GlueUps = q.GlueUps
			s.lays[q.Problem.ID()] = q.Lay
			if after := s.settle(with, p).Find("foam"); after.PID != q.Problem.ID() || after.Lay.Sheets != q.After || after.GlueUps() != len(q.GlueUps) {
				t.Errorf("taken over: %d sheets, %d glue-ups", after.Lay.Sheets, after.GlueUps())
			}
		}
	}
	t.Logf("%d jobs, %d with a sheet to save by area, %d saved", jobs, open, saved)
	if saved*2 < open {
		t.Errorf("%d of %d saved a sheet, want at least half", saved, open)
	}
}

// TestGlueUpsAgainstExhaustiveSearch: on small jobs whose sizes are whole
// inches, without saw cut, the fewest sheets are those that trying every joint
// on whole inches and every packing finds.
func TestGlueUpsAgainstExhaustiveSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 2))
	done := 0
	for done < 20 {
		n := 2 + r.IntN(2)
		var sizes [][2]float64
		var counts []int
		area := 0.0
		for range n {
			w, d := float64(5+r.IntN(8)), float64(5+r.IntN(6))
			sizes, counts = append(sizes, [2]float64{w, d}), append(counts, 1)
			area += w * d
		}
		l, w := float64(12+r.IntN(6)), float64(9+r.IntN(5))
		in := foamJob(sizes, counts, l, w, 0)
		s := newSolver(t)
		p := plan.Make(in, nil, s.get)
		whole := fewest(sizes, int(l), int(w), false)
		tooLong := slices.ContainsFunc(sizes, func(s [2]float64) bool { return max(s[0], s[1]) > l || min(s[0], s[1]) > w })
		if tooLong || whole < 2 || area > float64(whole-1)*l*w {
			continue // nothing to save
		}
		p = s.settle(in, nil)
		done++
		got := p.Find("foam").Lay.Sheets
		for _, q := range p.Proposals(some) {
			obeys(t, p, in, q)
			got = q.After
		}
		if want := fewest(sizes, int(l), int(w), true); got != want {
			t.Errorf("%v on %v × %v: %d sheets with glue-ups, exhaustive %d (whole %d)", sizes, l, w, got, want, whole)
		}
	}
}

// fewest is the fewest sheets of l × w that hold the boxes, cut of parts where
// allowed, by trying everything on whole inches.
func fewest(sizes [][2]float64, l, w int, glue bool) int {
	var options [][][][2]int // of every box: the ways to divide it
	for _, s := range sizes {
		x, y := int(s[0]), int(s[1])
		ways := [][][2]int{{{x, y}}}
		if glue {
			for _, list := range divided(x) {
				if offCentre(list, x) {
					var parts [][2]int
					for _, v := range list {
						parts = append(parts, [2]int{v, y})
					}
					ways = append(ways, parts)
				}
			}
			for _, list := range divided(y) {
				var parts [][2]int
				for _, v := range list {
					parts = append(parts, [2]int{x, v})
				}
				ways = append(ways, parts)
			}
		}
		options = append(options, ways)
	}
	for n := 1; n <= len(sizes); n++ {
		var try func(i int, boxes [][2]int) bool
		try = func(i int, boxes [][2]int) bool {
			if i == len(options) {
				return packs(boxes, n, l, w)
			}
			for _, way := range options[i] {
				if try(i+1, append(boxes[:len(boxes):len(boxes)], way...)) {
					return true
				}
			}
			return false
		}
		if try(0, nil) {
			return n
		}
	}
	return len(sizes) + 1
}

// divided lists the ways to divide a length into two or three parts of whole
// inches, none under 3, equal multisets once for each order.
func divided(x int) [][]int {
	var out [][]int
	for a := 3; a <= x-3; a++ {
		out = append(out, []int{a, x - a})
		for b := 3; b <= x-a-3; b++ {
			out = append(out, []int{a, b, x - a - b})
		}
	}
	return out
}

// offCentre tells whether no joint lies nearer than an inch to the middle.
func offCentre(parts []int, x int) bool {
	at := 0
	for _, p := range parts[:len(parts)-1] {
		at += p
		if math.Abs(float64(at)-float64(x)/2) < 1 {
			return false
		}
	}
	return true
}

// packs tells whether boxes fit n sheets, trying every place on whole inches
// for each in turn.
func packs(boxes [][2]int, n, l, w int) bool {
	area := 0
	for _, b := range boxes {
		area += b[0] * b[1]
	}
	if area > n*l*w {
		return false
	}
	slices.SortFunc(boxes, func(a, b [2]int) int { return b[0]*b[1] - a[0]*a[1] })
	rows := make([]uint64, n*l) // bits across
	var place func(i int) bool
	place = func(i int) bool {
		if i == len(boxes) {
			return true
		}
		for t := range 2 {
			a, b := boxes[i][0], boxes[i][1]
			if t == 1 {
				if a == b {
					break
				}
				a, b = b, a
			}
			if a > l || b > w {
				continue
			}
			mask := uint64(1)<<b - 1
			for sheet := range n {
				for x := 0; x+a <= l; x++ {
					for y := 0; y+b <= w; y++ {
						ok := true
						for q := range a {
							if rows[sheet*l+x+q]&(mask<<y) != 0 {
								ok = false
								break
							}
						}
						if !ok {
							continue
						}
						for q := range a {
							rows[sheet*l+x+q] |= mask << y
						}
						if place(i + 1) {
							return true
						}
						for q := range a {
							rows[sheet*l+x+q] &^= mask << y
						}
					}
				}
				if i == 0 {
					break // the sheets are alike
				}
			}
		}
		return false
	}
	return place(0)
}

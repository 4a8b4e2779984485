package separate

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// judged demands that the independent judge finds no fault.
func judged(t *testing.T, p lay.Problem, l lay.Lay) {
	t.Helper()
	for _, f := range lay.Check(p, l) {
		t.Errorf("the judge says %v", f)
	}
}

func boxShape(w, h float64) geom.Polygon {
	return geom.Polygon{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h}, {X: 0, Y: h}}
}

// blank is a shaped seat blank: a trapezoid with cut corners, motif in the
// middle.
func blank(front, back, depth float64) geom.Polygon {
	in := (front - back) / 2
	return geom.Polygon{
		{X: 20, Y: 0}, {X: front - 20, Y: 0}, {X: front, Y: 20},
		{X: front - in, Y: depth - 20}, {X: front - in - 20, Y: depth}, {X: in + 20, Y: depth}, {X: in, Y: depth - 20}, {X: 0, Y: 20},
	}
}

func TestGapFlawsAndFixedPieces(t *testing.T) {
	p := lay.Problem{
		Gap: 3,
		Kinds: []lay.Kind{
			{ID: "A", Shape: blank(600, 520, 560), Count: 6, Turns: lay.EitherWay},
			{ID: "B", Shape: geom.Polygon{{X: 0, Y: 0}, {X: 300, Y: 0}, {X: 300, Y: 100}, {X: 100, Y: 100}, {X: 100, Y: 300}, {X: 0, Y: 300}}, Count: 5, Turns: lay.AnyTurn},
		},
		Bins: []lay.Bin{{ID: "roll", Width: 1370, Sheets: 1, Flaws: []geom.Polygon{
			boxShape(30, 40).Translate(geom.P(500, 300)),
			{{X: 900, Y: 0}, {X: 960, Y: 200}, {X: 900, Y: 1370}},
			{{X: 1500, Y: 100}, {X: 1500, Y: 900}, {X: 1500, Y: 500}},
		}}},
		Fixed: []lay.Place{{Kind: 0, Copy: 2, At: geom.P(1000, 700)}, {Kind: 1, Copy: 0, Turn: 1, At: geom.P(1400, 10)}},
	}
	var first unit.Length
	got := Improve(context.Background(), p, lay.Lay{}, Options{Seed: 3, Evaluations: 500_000, Workers: 2, Report: func(l lay.Lay) {
		judged(t, p, l)
		if first == 0 {
			first = l.Length
		}
	}})
	judged(t, p, got)
	if got.Length >= first {
		t.Errorf("length: got %v, want less than the first %v", got.Length, first)
	}
}

// Two boxes of 100 mm with a gap of 5 side by side need 205 mm: the gap is
// kept exactly, no more and no less (floor((W+g)/(w+g)) = 2). On 204.9 mm they
// lie cornerwise, √(5² − 4.9²) = 0.995 mm apart along the goods, found to
// within the tolerance of the arc.
func TestGapIsExact(t *testing.T) {
	for _, c := range []struct {
		width float64
		want  unit.Length
	}{{205, 100}, {204.9, 200.995}, {415, 100}} {
		n := 2
		if c.width > 400 {
			n = 4
		}
		p := lay.Problem{Gap: 5, Bins: []lay.Bin{{Width: unit.Length(c.width), Sheets: 1}}, Kinds: []lay.Kind{{Shape: boxShape(100, 100), Count: n, Turns: lay.OneWay}}}
		got := Improve(context.Background(), p, lay.Lay{}, Options{Seed: 1, Evaluations: 100_000, Workers: 1})
		judged(t, p, got)
		if got.Length != c.want && (c.width != 204.9 || got.Length < c.want || got.Length > c.want+0.1) {
			t.Errorf("width %v: got length %v, want %v", c.width, got.Length, c.want)
		}
	}
}

// The gap between corners is a distance, not a mitre: the forbidden region of
// two boxes grown by the gap is rounded within arcTol.
func TestGapIsRoundAtCorners(t *testing.T) {
	b := ipoly{{0, 0}, {100 * perMM, 0}, {100 * perMM, 100 * perMM}, {0, 100 * perMM}}
	for _, gap := range []float64{1, 5, 20} {
		f := makeForm(0, 0, b, []ipoly{b})
		tb := newTable(&f, &f, gap*perMM, severity{scale: 1})
		for k := range 91 {
			s, c := math.Sincos(float64(k) * math.Pi / 180)
			for _, d := range []struct {
				r    float64
				want bool
			}{{gap - 0.0001, false}, {gap + 0.0102, true}} {
				x, y := int64((100+d.r*c)*perMM), int64((100+d.r*s)*perMM)
				if got := tb.clear(x, y); got != d.want {
					t.Errorf("gap %v, direction %d°, distance %v: clear %v, want %v", gap, k, d.r, got, d.want)
				}
			}
		}
	}
}

func TestOffcutsFirstThenTheRoll(t *testing.T) {
	p := lay.Problem{
		Kinds: []lay.Kind{{ID: "A", Shape: blank(500, 440, 480), Count: 7, Turns: lay.EitherWay}},
		Bins: []lay.Bin{
			{ID: "offcut 1", Width: 560, Length: 1040, Sheets: 1},
			{ID: "offcut 2", Width: 1000, Length: 520, Sheets: 1, Flaws: []geom.Polygon{boxShape(10, 10).Translate(geom.P(250, 250))}},
			{ID: "roll", Width: 1370, Sheets: 1},
		},
	}
	got := Improve(context.Background(), p, lay.Lay{}, Options{Seed: 1, Evaluations: 300_000, Workers: 1})
	judged(t, p, got)
	count := [3]int{}
	for _, at := range got.Places {
		count[at.Bin]++
	}
	// Two on the first offcut, one on the flawed second, four on the roll.
	if count[0] != 2 || count[1] != 1 {
		t.Errorf("pieces per bin: got %v, want 2 and 1 on the offcuts", count)
	}
	p.Kinds[0].Count = 3
	if got = Improve(context.Background(), p, lay.Lay{}, Options{Seed: 1, Evaluations: 300_000, Workers: 1}); got.Length != 0 {
		t.Errorf("three pieces fit the offcuts: got length %v on the roll, want 0", got.Length)
	}
	judged(t, p, got)
}

func TestSheetsAsNeeded(t *testing.T) {
	p := lay.Problem{
		Gap:   4,
		Kinds: []lay.Kind{{ID: "A", Shape: boxShape(480, 480), Count: 9, Turns: lay.AnyTurn}, {ID: "B", Shape: geom.Polygon{{X: 0, Y: 0}, {X: 400, Y: 0}, {X: 0, Y: 400}}, Count: 4, Turns: lay.AnyTurn}},
		Bins:  []lay.Bin{{ID: "sheet", Width: 1000, Length: 1000}},
	}
	got := Improve(context.Background(), p, lay.Lay{}, Options{Seed: 1, Evaluations: 600_000, Workers: 1})
	judged(t, p, got)
	if got.Sheets != 3 {
		t.Errorf("sheets: got %d, want 3 (four squares on each, the triangles beside the ninth)", got.Sheets)
	}
}

// Random jobs of every kind pass the judge, whatever they are.
func TestRandomJobsAreValid(t *testing.T) {
	t.Logf("seed %d", *seed)
	r := rand.New(rand.NewPCG(*seed, 3))
	for n := range 12 {
		p := lay.Problem{Gap: unit.Length(r.IntN(3))}
		for k := range 1 + r.IntN(3) {
			kind := lay.Kind{ID: string(rune('A' + k)), Count: 1 + r.IntN(4), Turns: []lay.Turns{lay.OneWay, lay.EitherWay, lay.AnyTurn}[r.IntN(3)]}
			if r.IntN(2) == 0 {
				kind.Shape = star(r, 4+r.IntN(6), 250)
			} else {
				kind.Shape = blank(300+200*r.Float64(), 250+50*r.Float64(), 300+100*r.Float64())
			}
			p.Kinds = append(p.Kinds, kind)
		}
		switch n % 3 {
		case 0:
			p.Bins = []lay.Bin{{ID: "roll", Width: 1370, Sheets: 1, Flaws: []geom.Polygon{star(r, 5, 100).Translate(geom.P(r.Float64()*800, r.Float64()*1300))}}}
		case 1:
			p.Bins = []lay.Bin{{ID: "offcut", Width: 700, Length: 900, Sheets: 1}, {ID: "roll", Width: 1370, Sheets: 1}}
		case 2:
			p.Bins = []lay.Bin{{ID: "sheet", Width: 1000, Length: 1200, Flaws: []geom.Polygon{star(r, 5, 60).Translate(geom.P(500, 500))}}}
		}
		got := Improve(context.Background(), p, lay.Lay{}, Options{Seed: *seed, Evaluations: 200_000, Workers: 2})
		if len(got.Places) == 0 {
			t.Errorf("job %d: no lay", n)
		}
		judged(t, p, got)
	}
}

// Shaped blanks on a half-drop repeat under every pair of phase rules.
func TestPatternRules(t *testing.T) {
	for _, along := range []lay.Phase{lay.Free, lay.Alike, lay.Centred} {
		for _, across := range []lay.Phase{lay.Free, lay.Alike, lay.Centred} {
			p := lay.Problem{
				Gap: 1,
				Kinds: []lay.Kind{
					{ID: "A", Shape: blank(520, 450, 500), Motif: geom.P(260, 240), Count: 4, Turns: lay.OneWay, Along: along, Across: across, Group: 7},
					{ID: "B", Shape: blank(430, 400, 380), Motif: geom.P(215, 200), Count: 3, Turns: lay.EitherWay, Along: along, Across: across, Group: 7},
					{ID: "W", Shape: boxShape(400, 40), Count: 2, Turns: lay.AnyTurn},
				},
				Bins: []lay.Bin{
					{ID: "offcut", Width: 900, Length: 600, Sheets: 1, Lattice: lay.Lattice{Along: 320, Across: 228.6, Drop: 0.5, Phase: geom.P(11, 300)}},
					{ID: "roll", Width: 1370, Sheets: 1, Lattice: lay.Lattice{Along: 320, Across: 228.6, Drop: 0.5, Phase: geom.P(100, 31.7)}, Flaws: []geom.Polygon{boxShape(20, 20).Translate(geom.P(300, 600))}},
				},
			}
			first := unit.Length(-1)
			got := Improve(context.Background(), p, lay.Lay{}, Options{Seed: 2, Evaluations: 200_000, Workers: 1, Report: func(l lay.Lay) {
				if first < 0 {
					first = l.Length
				}
				judged(t, p, l)
			}})
			judged(t, p, got)
			if len(got.Places) != 9 {
				t.Errorf("along %d, across %d: got %d places, want 9", along, across, len(got.Places))
			}
			t.Logf("along %d, across %d: first %.1f, then %.1f", along, across, first, got.Length)
			// A warm start keeps the phases it finds.
			again := Improve(context.Background(), p, got, Options{Seed: 3, Evaluations: 100_000, Workers: 1})
			judged(t, p, again)
			if again.Length > got.Length {
				t.Errorf("along %d, across %d: warm start went from %v to %v", along, across, got.Length, again.Length)
			}
		}
	}
}

package search

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

func box(w, h unit.Length) geom.Polygon {
	return geom.Polygon{{X: 0, Y: 0}, {X: w.MM(), Y: 0}, {X: w.MM(), Y: h.MM()}, {X: 0, Y: h.MM()}}
}

// blank is a squared kind, along by across.
func blank(along, across unit.Length, n int, turns lay.Turns) lay.Kind {
	s := box(along, across)
	return lay.Kind{ID: "A", Shape: s, Count: n, Turns: turns, Square: true, Motif: s.Bounds().Center()}
}

func roll(width unit.Length) lay.Bin { return lay.Bin{ID: "roll", Width: width, Sheets: 1} }

// must checks a lay and gives its length in inches.
func must(t *testing.T, p lay.Problem) lay.Lay {
	t.Helper()
	l, faults := First(p)
	if len(faults) > 0 {
		t.Fatalf("no lay: %v", faults)
	}
	if f := lay.Check(p, l); len(f) > 0 {
		t.Fatalf("not valid: %v", f)
	}
	return l
}

// TestHandWork holds the first lay against figures that people work out by
// hand.
func TestHandWork(t *testing.T) {
	const in = unit.In
	for _, c := range []struct {
		name string
		p    lay.Problem
		want unit.Length
	}{
		// facts 9.1 (S1, trade site, grade B): 27 x 27 in on 54 in cloth, n = 2, 4, 6, 8 take 0.75, 1.5, 2.25, 3 yd.
		{"27 in square, 2", lay.Problem{Kinds: []lay.Kind{blank(27*in, 27*in, 2, lay.AnyTurn)}, Bins: []lay.Bin{roll(54 * in)}}, 0.75 * unit.Yd},
		{"27 in square, 4", lay.Problem{Kinds: []lay.Kind{blank(27*in, 27*in, 4, lay.AnyTurn)}, Bins: []lay.Bin{roll(54 * in)}}, 1.5 * unit.Yd},
		{"27 in square, 6", lay.Problem{Kinds: []lay.Kind{blank(27*in, 27*in, 6, lay.OneWay)}, Bins: []lay.Bin{roll(54 * in)}}, 2.25 * unit.Yd},
		{"27 in square, 8", lay.Problem{Kinds: []lay.Kind{blank(27*in, 27*in, 8, lay.EitherWay)}, Bins: []lay.Bin{roll(54 * in)}}, 3 * unit.Yd},
		// facts 9.2 (S2, trade site, grade B): 27 wide x 24 deep, two in 24 in; six in 72 in derived.
		{"27 x 24, 2", lay.Problem{Kinds: []lay.Kind{blank(24*in, 27*in, 2, lay.OneWay)}, Bins: []lay.Bin{roll(54 * in)}}, 24 * in},
		{"27 x 24, 6", lay.Problem{Kinds: []lay.Kind{blank(24*in, 27*in, 6, lay.OneWay)}, Bins: []lay.Bin{roll(54 * in)}}, 72 * in},
		// facts 9.4 (S3, hobby page, and derived): 26 wide x 28 deep, 54 in, two in 28 in; one never in 18.
		{"26 x 28, 2", lay.Problem{Kinds: []lay.Kind{blank(28*in, 26*in, 2, lay.OneWay)}, Bins: []lay.Bin{roll(54 * in)}}, 28 * in},
		{"26 x 28, 1", lay.Problem{Kinds: []lay.Kind{blank(28*in, 26*in, 1, lay.AnyTurn)}, Bins: []lay.Bin{roll(54 * in)}}, 26 * in},
		// facts 1.5 (derived): 60 in goods, turned, 26/52/78/104 in for 2/4/6/8.
		{"28 x 26 on 60, 8", lay.Problem{Kinds: []lay.Kind{blank(28*in, 26*in, 8, lay.AnyTurn)}, Bins: []lay.Bin{roll(60 * in)}}, 104 * in},
		// facts 9.7 (S15, trade site, grade B): cuts of 240 cm, one across, repeat 37 cm, four cuts: the lay is 3 x 259 + 240 cm.
		{"240 cm cuts, repeat 37 cm", lay.Problem{Kinds: []lay.Kind{centred(blank(2400, 1300, 4, lay.OneWay), lay.Centred, lay.Free)},
			Bins: []lay.Bin{patterned(roll(1400), lay.Lattice{Along: 370, Phase: geom.P(1200, 0)})}}, 10170},
		// facts 2.5 (derived): 27 in along, V 27, two across: 81 in; V 18: 99 in; L 24, V 13.5: 78 in; V 9: 78 in.
		{"27 in, V 27", six(27*in, 27*in), 81 * in},
		{"27 in, V 18", six(27*in, 18*in), 99 * in},
		{"24 in, V 13 1/2", six(24*in, 13.5*in), 78 * in},
		{"24 in, V 9", six(24*in, 9*in), 78 * in},
		// Common practice, no source: six covers of 21 x 23 in fit in 2 yd of 54 in cloth, two in 3/4 yd; the lays themselves are 3 x 21 and 21 in.
		{"21 x 23, 6", lay.Problem{Kinds: []lay.Kind{blank(23*in, 21*in, 6, lay.AnyTurn)}, Bins: []lay.Bin{roll(54 * in)}}, 63 * in},
		{"21 x 23, 2", lay.Problem{Kinds: []lay.Kind{blank(23*in, 21*in, 2, lay.AnyTurn)}, Bins: []lay.Bin{roll(54 * in)}}, 21 * in},
	} {
		l := must(t, c.p)
		if math.Abs(float64(l.Length-c.want)) > 1e-6 {
			t.Errorf("%s: got %.4f in, want %.4f in", c.name, l.Length.In(), c.want.In())
		}
	}
}

func centred(k lay.Kind, along, across lay.Phase) lay.Kind {
	k.Along, k.Across = along, across
	return k
}

func patterned(b lay.Bin, l lay.Lattice) lay.Bin { b.Lattice = l; return b }

// six is facts 2.5: six seats 27 in across with a centred motif, the first
// motifs 13.5 in from the edge and half the piece from the cut end.
func six(along, v unit.Length) lay.Problem {
	return lay.Problem{
		Kinds: []lay.Kind{centred(blank(along, 27*unit.In, 6, lay.OneWay), lay.Centred, lay.Centred)},
		Bins:  []lay.Bin{patterned(roll(54*unit.In), lay.Lattice{Along: v, Across: 27 * unit.In, Phase: geom.P(along.MM()/2, 13.5*25.4)})},
	}
}

// TestPhaseAcrossDoubles is facts 2.5: with a motif on the selvedge only one
// 27 in seat fits across.
func TestPhaseAcrossDoubles(t *testing.T) {
	p := six(27*unit.In, 27*unit.In)
	p.Bins[0].Lattice.Phase.Y = 0
	if l := must(t, p); math.Abs(l.Length.In()-162) > 1e-6 {
		t.Errorf("got %.3f in, want 162 in", l.Length.In())
	}
}

// TestFoamSheet: common practice, no source: six 18 x 20 in foams lie on one
// 36 x 82 in sheet.
func TestFoamSheet(t *testing.T) {
	const in = unit.In
	p := lay.Problem{Kinds: []lay.Kind{blank(18*in, 20*in, 6, lay.AnyTurn)}, Bins: []lay.Bin{{ID: "sheet", Width: 36 * in, Length: 82 * in}}}
	if l := must(t, p); l.Sheets != 1 {
		t.Errorf("got %d sheets, want 1", l.Sheets)
	}
	p.Kinds[0].Count = 20
	l := must(t, p)
	if l.Sheets != 3 { // 8 fit on a sheet at most: 82*36 = 2952 in², 8.2 foams by area
		t.Errorf("20 foams: got %d sheets, want 3", l.Sheets)
	}
}

func TestFirstSaysWhichPieceIsTooWide(t *testing.T) {
	p := lay.Problem{Kinds: []lay.Kind{blank(300, 400, 2, lay.AnyTurn), blank(1500, 1600, 1, lay.AnyTurn)}, Bins: []lay.Bin{roll(1400)}}
	p.Kinds[1].ID = "B"
	_, f := First(p)
	if len(f) != 1 || f[0].Code != lay.CodeTooWide || f[0].Where.Piece != "B" {
		t.Errorf("got %v", f)
	}
	p = lay.Problem{Kinds: []lay.Kind{blank(600, 600, 5, lay.AnyTurn)}, Bins: []lay.Bin{{ID: "piece", Width: 1200, Length: 1300, Sheets: 1}}}
	_, f = First(p)
	if len(f) != 1 || f[0].Code != CodeNoRoom || f[0].Where.Piece != "A5" {
		t.Errorf("got %v", f)
	}
	if l, miss, f := Some(p); len(f) > 0 || len(l.Places) != 4 || len(miss) != 1 {
		t.Errorf("some: got %d places, %v missing, %v", len(l.Places), miss, f)
	}
}

// randomProblem covers every rule there is; the everyday jobs of the trade are
// in the package jobs.
func randomProblem(r *rand.Rand, most int) lay.Problem {
	p := lay.Problem{Gap: []unit.Length{0, 3, 3.175, 10}[r.IntN(4)], RowsOnly: r.IntN(5) == 0}
	width := unit.Length(900 + r.IntN(700))
	b := roll(width)
	if r.IntN(3) == 0 {
		b.Lattice = lay.Lattice{Along: unit.Length(50 + r.IntN(600)), Phase: geom.P(r.Float64()*500, r.Float64()*500)}
		if r.IntN(2) == 0 {
			b.Lattice.Across = unit.Length(100 + r.IntN(300))
			b.Lattice.Drop = []float64{0, 0.5, 1. / 3}[r.IntN(3)]
		}
	}
	for range r.IntN(4) {
		x, y := r.Float64()*2000, r.Float64()*float64(width)
		b.Flaws = append(b.Flaws, geom.Polygon{{X: x, Y: y}, {X: x + 60*r.Float64(), Y: y + 5}, {X: x + 40, Y: y + 5 + 60*r.Float64()}})
	}
	if r.IntN(3) == 0 {
		at := b
		at.ID, at.Length = "at hand", unit.Length(500+r.IntN(1500))
		p.Bins = append(p.Bins, at)
	}
	if r.IntN(4) == 0 {
		b.Length, b.Sheets = 2000, 0
	}
	p.Bins = append(p.Bins, b)
	left := 1 + r.IntN(most)
	for i := 0; left > 0; i++ {
		n := 1 + r.IntN(left)
		left -= n
		k := blank(unit.Length(100+r.IntN(500)), unit.Length(100+r.IntN(500)), n, []lay.Turns{lay.OneWay, lay.EitherWay, lay.AnyTurn}[r.IntN(3)])
		k.ID = fmt.Sprint("K", i)
		k.Along, k.Across = lay.Phase(r.IntN(3)), lay.Phase(r.IntN(3))
		k.Group = i % 2
		if r.IntN(3) == 0 {
			k.Square = false
			s := k.Shape
			k.Shape = geom.Polygon{s[0], s[1], {X: s[2].X * 0.9, Y: s[2].Y}, {X: s[2].X * 0.1, Y: s[2].Y}}
		}
		p.Kinds = append(p.Kinds, k)
	}
	return p
}

func TestFirstIsAlwaysValid(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 1))
	laid := 0
	for range 120 {
		p := randomProblem(r, 30)
		l, faults := First(p)
		if len(faults) > 0 {
			for _, f := range faults {
				if f.Code != CodeNoRoom && f.Code != lay.CodeTooWide {
					t.Fatalf("%v", faults)
				}
			}
			continue
		}
		laid++
		if f := lay.Check(p, l); len(f) > 0 {
			t.Fatalf("seed %d: %v\n%+v", *seed, f, p)
		}
	}
	if laid < 90 {
		t.Errorf("only %d of 120 problems were laid", laid)
	}
}

// TestQuantityLaws are the properties under the table of facts section 9, for
// one kind of blank.
func TestQuantityLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 2))
	for range 50 {
		along, across := unit.Length(200+r.IntN(500)), unit.Length(200+r.IntN(500))
		b := roll(unit.Length(1000 + r.IntN(500)))
		var before unit.Length
		for n := 1; n <= 12; n++ {
			length := func(turns lay.Turns, v unit.Length) unit.Length {
				k := centred(blank(along, across, n, turns), lay.Centred, lay.Free)
				g := b
				g.Lattice = lay.Lattice{Along: v, Phase: geom.P(along.MM()/2, 0)}
				return must(t, lay.Problem{Kinds: []lay.Kind{k}, Bins: []lay.Bin{g}}).Length
			}
			plain, turned, repeat := length(lay.OneWay, 0), length(lay.AnyTurn, 0), length(lay.OneWay, unit.Length(30+r.IntN(600)))
			if turned < before-1e-6 {
				t.Fatalf("%v x %v: %d pieces take %v, one fewer %v", along, across, n, turned, before)
			}
			if plain < turned-1e-6 {
				t.Fatalf("%v x %v, %d: %v without turning, %v with", along, across, n, plain, turned)
			}
			if repeat < plain-1e-6 {
				t.Fatalf("%v x %v, %d: %v with a repeat, %v without", along, across, n, repeat, plain)
			}
			before = turned
		}
	}
}

func sixty() lay.Problem {
	p := lay.Problem{Gap: 3, Bins: []lay.Bin{roll(1371.6 - 25.4)}}
	for i, s := range [][2]unit.Length{{540, 590}, {600, 650}, {480, 450}, {420, 1200}, {120, 640}, {610, 590}} {
		k := blank(s[0], s[1], 10, lay.AnyTurn)
		k.ID = fmt.Sprint(i)
		p.Kinds = append(p.Kinds, k)
	}
	return p
}

func BenchmarkFirst60(b *testing.B) {
	p := sixty()
	for b.Loop() {
		First(p)
	}
}

func BenchmarkFirst60Patterned(b *testing.B) {
	p := sixty()
	p.Bins[0].Lattice = lay.Lattice{Along: 320, Across: 340, Drop: 0.5, Phase: geom.P(100, 60)}
	for i := range p.Kinds {
		p.Kinds[i].Turns, p.Kinds[i].Along, p.Kinds[i].Across = lay.OneWay, lay.Alike, lay.Centred
	}
	p.Bins[0].Flaws = []geom.Polygon{box(40, 30).Translate(geom.P(700, 500)), box(40, 30).Translate(geom.P(2700, 900))}
	for b.Loop() {
		First(p)
	}
}

func BenchmarkFirst500(b *testing.B) {
	p := lay.Problem{Gap: 3, Bins: []lay.Bin{roll(1371.6 - 25.4)}}
	r := rand.New(rand.NewPCG(5, 5))
	for i := range 50 {
		k := blank(unit.Length(100+r.IntN(600)), unit.Length(100+r.IntN(600)), 10, lay.AnyTurn)
		k.ID = fmt.Sprint(i)
		p.Kinds = append(p.Kinds, k)
	}
	for b.Loop() {
		First(p)
	}
}

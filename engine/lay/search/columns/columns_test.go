package columns

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

var (
	seed   = flag.Uint64("seed", 1, "seed of the random trials")
	rounds = flag.Int("rounds", 30, "number of random problems")
)

func rect(l, w float64) geom.Polygon {
	return geom.Polygon{{X: 0, Y: 0}, {X: l, Y: 0}, {X: l, Y: w}, {X: 0, Y: w}}
}

func oval(l, w float64) geom.Polygon {
	var g geom.Polygon
	for i := range 16 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 16)
		g = append(g, geom.P(l/2*c, w/2*s))
	}
	return g
}

// small draws a problem small enough for every lay of it to be tried.
func small(r *rand.Rand) lay.Problem {
	p := lay.Problem{Gap: []unit.Length{0, 0, 3, 10}[r.IntN(4)]}
	b := lay.Bin{ID: "roll", Width: unit.Length(200 + 10*r.IntN(40)), Sheets: 1}
	b.Lattice = lay.Lattice{Along: unit.Length(60 + r.IntN(150)), Across: unit.Length(50 + r.IntN(150)), Drop: []float64{0, 0, 0.5, 1. / 3}[r.IntN(4)], Phase: geom.P(200*r.Float64(), 200*r.Float64())}
	along, across := lay.Centred, lay.Centred
	switch r.IntN(4) {
	case 0:
		along = lay.Alike
	case 1:
		along, across = lay.Alike, lay.Alike
	}
	pieces := 2 + r.IntN(3)
	kinds := 1 + r.IntN(min(3, pieces))
	for i := range kinds {
		k := lay.Kind{ID: fmt.Sprint("K", i), Count: 1, Turns: []lay.Turns{lay.OneWay, lay.EitherWay, lay.AnyTurn}[r.IntN(3)], Along: along, Across: across}
		l, w := 40+float64(r.IntN(150)), 40+float64(r.IntN(150))
		switch r.IntN(5) {
		case 0:
			k.Shape = oval(l, w)
		case 1: // narrow at one end
			k.Shape = geom.Polygon{{X: 0, Y: 0}, {X: l, Y: w / 8}, {X: l, Y: 7 * w / 8}, {X: 0, Y: w}}
		case 2: // hollow towards one end
			k.Shape = geom.Polygon{{X: 0, Y: 0}, {X: l, Y: 0}, {X: l - l/6, Y: w / 2}, {X: l, Y: w}, {X: 0, Y: w}}
		default:
			k.Shape, k.Square = rect(l, w), true
		}
		k.Motif = k.Shape.Bounds().Center()
		if r.IntN(3) == 0 {
			k.Motif = k.Motif.Add(geom.P(l/5*r.Float64(), w/5*r.Float64()))
		}
		p.Kinds = append(p.Kinds, k)
	}
	p.Kinds[0].Count += pieces - kinds
	for range r.IntN(3) {
		at := geom.P(300*r.Float64(), b.Width.MM()*r.Float64())
		b.Flaws = append(b.Flaws, rect(10+40*r.Float64(), 10+40*r.Float64()).Translate(at))
	}
	if r.IntN(4) == 0 {
		h := b
		h.ID, h.Length, h.Flaws = "at hand", unit.Length(80+r.IntN(200)), nil
		p.Bins = append(p.Bins, h)
	}
	p.Bins = append(p.Bins, b)
	return p
}

// tryAll looks for a lay no longer than most by trying every place of every
// piece on the pattern, with many settings of the phases. It asks the judge
// about every pair and nobody else.
func tryAll(p lay.Problem, most float64, r *rand.Rand) bool {
	l := p.Bins[0].Lattice
	v, h := l.Along.MM(), l.Across.MM()
	as, bs := []float64{0}, []float64{0}
	if p.Kinds[0].Along == lay.Alike {
		as = nil
		for _, k := range p.Kinds {
			for t := lay.Turn(0); t < 4; t++ {
				if !k.Turns.Has(t) {
					continue
				}
				g := k.Shape.Turned(int(t))
				m := k.Motif.Turned(int(t)).X - g.Bounds().Min.X - l.Phase.X
				for q := range 3 {
					as = append(as, math.Mod(m-float64(q)*l.Drop*v, v))
				}
			}
		}
		for range 6 {
			as = append(as, v*r.Float64())
		}
	}
	if p.Kinds[0].Across == lay.Alike {
		bs = nil
		for _, k := range p.Kinds {
			for t := lay.Turn(0); t < 4; t++ {
				if !k.Turns.Has(t) {
					continue
				}
				m := k.Motif.Turned(int(t)).Y - k.Shape.Turned(int(t)).Bounds().Min.Y - l.Phase.Y
				bs = append(bs, math.Mod(m, h))
			}
		}
		for range 6 {
			bs = append(bs, h*r.Float64())
		}
	}
	for _, a := range as {
		for _, b := range bs {
			if tryPhase(p, most, a, b) {
				return true
			}
		}
	}
	return false
}

func tryPhase(p lay.Problem, most, a, b float64) bool {
	l := p.Bins[0].Lattice
	single := func(ats ...lay.Place) bool {
		q := p
		q.Kinds = nil
		var ll lay.Lay
		for i, at := range ats {
			k := p.Kinds[at.Kind]
			k.Count, k.ID = 1, fmt.Sprint(i)
			k.Along, k.Across = lay.Free, lay.Free
			q.Kinds = append(q.Kinds, k)
			at.Kind, at.Copy = i, 0
			ll.Places = append(ll.Places, at)
		}
		ll.Length, ll.Sheets = lay.Extent(q, ll.Places)
		return len(lay.Check(q, ll)) == 0
	}
	var at [][]lay.Place // by kind
	for ki, k := range p.Kinds {
		var list []lay.Place
		for bi, bin := range p.Bins {
			end := most
			if bi < len(p.Bins)-1 {
				end = bin.Length.MM()
			}
			for t := lay.Turn(0); t < 4; t++ {
				if !k.Turns.Has(t) {
					continue
				}
				m := k.Motif.Turned(int(t))
				for j := -12.0; j <= 16; j++ {
					for i := -12.0; i <= 24; i++ {
						d := j * l.Drop
						x := l.Phase.X + a + (i+d-math.Floor(d))*l.Along.MM() - m.X
						y := l.Phase.Y + b + j*l.Across.MM() - m.Y
						u := lay.Place{Kind: ki, Bin: bi, Turn: t, At: geom.P(x, y)}
						box := p.Placed(u).Bounds()
						if box.Min.X < -0.01 || box.Min.Y < -0.01 || box.Max.X > end+0.01 || box.Max.Y > bin.Width.MM()+0.01 {
							continue
						}
						if single(u) {
							list = append(list, u)
						}
					}
				}
			}
		}
		at = append(at, list)
	}
	var lain []lay.Place
	pair := map[[2]lay.Place]bool{}
	var next func(k, from, left int) bool
	next = func(k, from, left int) bool {
		if left == 0 {
			if k++; k == len(p.Kinds) {
				return true
			}
			from, left = 0, p.Kinds[k].Count
		}
		for i := from; i < len(at[k]); i++ {
			ok := true
			for _, o := range lain {
				key := [2]lay.Place{o, at[k][i]}
				v, known := pair[key]
				if !known {
					v = single(o, at[k][i])
					pair[key] = v
				}
				if ok = v; !ok {
					break
				}
			}
			if !ok {
				continue
			}
			lain = append(lain, at[k][i])
			if next(k, i+1, left-1) {
				return true
			}
			lain = lain[:len(lain)-1]
		}
		return false
	}
	return next(0, 0, p.Kinds[0].Count)
}

// TestNothingShorterThanTheBound compares with the trial of every place.
func TestNothingShorterThanTheBound(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 1))
	proved, of := 0, 0
	for n := range *rounds {
		p := small(r)
		if len(p.Validate()) > 0 {
			continue
		}
		m := New(p)
		if m == nil {
			t.Fatalf("problem %d: not taken up", n)
		}
		best := lay.Lay{Length: 3000}
		out := m.Run(best.Length, Options{Evaluations: 400_000, Stop: func() bool { return false }, Take: func(l lay.Lay) bool {
			if f := lay.Check(p, l); len(f) > 0 {
				if m.whole {
					t.Errorf("problem %d: %v", n, f)
				}
				return false
			}
			if l.Length >= best.Length {
				return false
			}
			best = l
			return true
		}})
		if out.Bound > best.Length+lay.ProvedWithin {
			t.Fatalf("problem %d: bound %v over a lay of %v", n, out.Bound, best.Length)
		}
		if best.Length == 3000 {
			continue // no room for some kind
		}
		of++
		if best.Length-out.Bound <= lay.ProvedWithin {
			proved++
		}
		if out.Bound > 1 && tryAll(p, out.Bound.MM()-0.1, r) {
			t.Errorf("problem %d of seed %d: there is a lay shorter than %v", n, *seed, out.Bound)
		}
	}
	t.Logf("%d of %d proved", proved, of)
	if proved < of/2 {
		t.Errorf("only %d of %d proved", proved, of)
	}
}

// TestHandCounts: what a count by hand gives for one kind on a repeat. Six
// seats 27 in square with a centred motif on 54 in cloth, two columns: 81 in
// with V 27, 99 in with V 18 (derived, as in the tests of the first lay).
func TestHandCounts(t *testing.T) {
	const in = unit.In
	for _, c := range []struct{ v, want unit.Length }{{27 * in, 81 * in}, {18 * in, 99 * in}} {
		s := rect((27 * in).MM(), (27 * in).MM())
		p := lay.Problem{
			Kinds: []lay.Kind{{ID: "A", Shape: s, Square: true, Count: 6, Turns: lay.OneWay, Motif: s.Bounds().Center(), Along: lay.Centred, Across: lay.Centred}},
			Bins:  []lay.Bin{{ID: "roll", Width: 54 * in, Sheets: 1, Lattice: lay.Lattice{Along: c.v, Across: 27 * in, Phase: geom.P((13.5 * in).MM(), (13.5 * in).MM())}}},
		}
		best := unit.Length(1e5)
		out := New(p).Run(best, Options{Evaluations: 100_000, Stop: func() bool { return false }, Take: func(l lay.Lay) bool { best = l.Length; return true }})
		if math.Abs((best-c.want).MM()) > 0.01 || best-out.Bound > lay.ProvedWithin {
			t.Errorf("V %v: %v over %v, want %v", c.v.In(), best.In(), out.Bound.In(), c.want.In())
		}
	}
}

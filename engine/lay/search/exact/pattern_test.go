package exact

import (
	"math"
	"math/rand/v2"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// onNodes is the least length of n equal pieces centred on motifs, by trying
// all sets of motifs.
func onNodes(p lay.Problem) float64 {
	k, b := p.Kinds[0], p.Bins[0]
	box := k.Shape.Bounds()
	l, w, gap := box.W(), box.H(), p.Gap.MM()
	var at []geom.Pt
	v, h := b.Lattice.Along.MM(), b.Lattice.Across.MM()
	reach := float64(k.Count+1) * (math.Ceil((l+gap)/v) + 1) * v
	for j := -40; j < 40; j++ {
		y := b.Lattice.Phase.Y + float64(j)*h - k.Motif.Y
		if y < -1e-9 || y+w > b.Width.MM()+1e-9 {
			continue
		}
		d := float64(j) * b.Lattice.Drop
		for i := -40; i < 400; i++ {
			if x := b.Lattice.Phase.X + (float64(i)+d-math.Floor(d))*v - k.Motif.X; x > -1e-9 && x < reach {
				at = append(at, geom.P(x, y))
			}
		}
	}
	best := math.Inf(1)
	var put func(from int, placed []geom.Pt, end float64)
	put = func(from int, placed []geom.Pt, end float64) {
		if end >= best-1e-9 {
			return
		}
		if len(placed) == k.Count {
			best = end
			return
		}
		for i := from; i < len(at); i++ {
			clear := true
			for _, q := range placed {
				dx, dy := max(0, math.Abs(q.X-at[i].X)-l), max(0, math.Abs(q.Y-at[i].Y)-w)
				touching := math.Abs(q.X-at[i].X) < l-1e-9 && math.Abs(q.Y-at[i].Y) < w-1e-9
				clear = clear && !touching && math.Hypot(dx, dy) >= gap-1e-9
			}
			if clear {
				put(i+1, append(placed, at[i]), math.Max(end, at[i].X+l))
			}
		}
	}
	put(0, nil, 0)
	return best
}

// TestOnPattern holds the closed form against all lays of up to eight pieces.
func TestOnPattern(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 4))
	exact := 0
	for n := range 60 {
		l, w := 100+float64(10*r.IntN(20)), 100+float64(10*r.IntN(20))
		g := geom.Polygon{{X: 0, Y: 0}, {X: l, Y: 0}, {X: l, Y: w}, {X: 0, Y: w}}
		p := lay.Problem{Gap: []unit.Length{0, 0, 5}[r.IntN(3)]}
		p.Kinds = []lay.Kind{{ID: "A", Shape: g, Count: 1 + r.IntN(5), Turns: lay.OneWay, Square: true, Motif: g.Bounds().Center(), Along: lay.Centred, Across: lay.Centred}}
		v, h := 70+float64(10*r.IntN(20)), 70+float64(10*r.IntN(20))
		p.Bins = []lay.Bin{{ID: "roll", Width: unit.Length(w + 250*r.Float64()), Sheets: 1, Lattice: lay.Lattice{
			Along: unit.Length(v), Across: unit.Length(h), Drop: []float64{0, 0, 0.5}[r.IntN(3)], Phase: geom.P(v*r.Float64(), h*r.Float64()),
		}}}
		want := onNodes(p)
		if math.IsInf(want, 1) {
			if b, _ := OnPattern(p); b != 0 {
				t.Errorf("problem %d has no lay, bound %v", n, b)
			}
			continue
		}
		got, closed := OnPattern(p)
		if got.MM() > want+1e-6 || closed && want-got.MM() > 0.1 {
			t.Fatalf("seed %d, problem %d: %v (exact %v), the shortest lay is %v\n%+v", *seed, n, got, closed, want, p)
		}
		if closed {
			exact++
		}
	}
	if exact < 10 {
		t.Errorf("only %d closed forms", exact)
	}
}

// TestOnPatternHandWork is facts 2.5 (derived): six seats 27 in across on 54 in
// goods, two across: 81, 99 and 78 in.
func TestOnPatternHandWork(t *testing.T) {
	for _, c := range [][3]float64{{27, 27, 81}, {27, 18, 99}, {24, 13.5, 78}, {24, 9, 78}} {
		l, w := c[0]*25.4, 27*25.4
		g := geom.Polygon{{X: 0, Y: 0}, {X: l, Y: 0}, {X: l, Y: w}, {X: 0, Y: w}}
		p := lay.Problem{
			Kinds: []lay.Kind{{ID: "A", Shape: g, Count: 6, Turns: lay.OneWay, Square: true, Motif: g.Bounds().Center(), Along: lay.Centred, Across: lay.Centred}},
			Bins:  []lay.Bin{{ID: "roll", Width: 54 * unit.In, Sheets: 1, Lattice: lay.Lattice{Along: unit.Length(c[1]) * unit.In, Across: 27 * unit.In, Phase: geom.P(l/2, 13.5*25.4)}}},
		}
		if got, closed := OnPattern(p); !closed || math.Abs(got.In()-c[2]) > 0.004 {
			t.Errorf("%v: %v in, closed %v", c, got.In(), closed)
		}
	}
}

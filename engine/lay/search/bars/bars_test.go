package bars

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

// bowed is a seat with a bowed front, hollow where the bow meets the corners.
func bowed(l, w float64) geom.Polygon {
	g := geom.Polygon{{X: l / 5, Y: 0}, {X: l, Y: w / 10}, {X: l, Y: 9 * w / 10}, {X: l / 5, Y: w}, {X: l / 5, Y: 7 * w / 8}}
	g = append(g, geom.P(l/20, 5*w/8), geom.P(0, w/2), geom.P(l/20, 3*w/8), geom.P(l/5, w/8))
	return g
}

const grid = 50

// small draws a problem small enough for the places on a grid to be tried, on
// which most of its sizes lie.
func small(r *rand.Rand) lay.Problem {
	p := lay.Problem{}
	if r.IntN(3) == 0 {
		p.Gap = 25
	}
	shaped := r.IntN(2) == 0
	b := lay.Bin{ID: "roll", Width: unit.Length(grid * (5 + r.IntN(4))), Sheets: 1}
	pieces := 2 + r.IntN(3)
	kinds := 1 + r.IntN(min(3, pieces))
	turns := []lay.Turns{lay.OneWay, lay.EitherWay, lay.AnyTurn}[r.IntN(3)]
	along := lay.Free
	if r.IntN(3) == 0 {
		along = []lay.Phase{lay.Centred, lay.Alike}[r.IntN(2)]
		b.Lattice = lay.Lattice{Along: unit.Length(grid * (1 + r.IntN(4))), Phase: geom.P(grid/2*float64(r.IntN(4)), 0)}
	}
	for i := range kinds {
		l, w := grid*float64(1+r.IntN(4)), grid*float64(1+r.IntN(5))
		k := lay.Kind{ID: fmt.Sprint("K", i), Count: 1, Turns: turns, Along: along, Shape: rect(l, w), Square: true}
		if shaped && (i == 0 || r.IntN(2) == 0) {
			k.Square = false
			switch r.IntN(3) {
			case 0:
				k.Shape = bowed(l, w)
			case 1:
				k.Shape = geom.Polygon{{X: 0, Y: 0}, {X: l, Y: w / 4}, {X: l, Y: 3 * w / 4}, {X: 0, Y: w}}
			default:
				k.Shape = geom.Polygon{{X: l / 4, Y: 0}, {X: 3 * l / 4, Y: 0}, {X: l, Y: w / 2}, {X: 3 * l / 4, Y: w}, {X: l / 4, Y: w}, {X: 0, Y: w / 2}}
			}
		}
		k.Motif = k.Shape.Bounds().Center()
		p.Kinds = append(p.Kinds, k)
	}
	p.Kinds[0].Count += pieces - kinds
	for range r.IntN(3) {
		at := geom.P(grid*float64(r.IntN(8)), grid*float64(r.IntN(6)))
		b.Flaws = append(b.Flaws, rect(grid/2*float64(1+r.IntN(2)), grid/2*float64(1+r.IntN(3))).Translate(at))
	}
	if r.IntN(5) == 0 {
		h := b
		h.ID, h.Length, h.Flaws = "at hand", unit.Length(grid*(2+r.IntN(3))), nil
		p.Bins = append(p.Bins, h)
	}
	p.Bins = append(p.Bins, b)
	if r.IntN(5) == 0 && along != lay.Alike {
		bin := len(p.Bins) - 1
		at := lay.Place{Bin: bin, At: geom.P(grid*float64(r.IntN(3)), 0)}
		p.Fixed = append(p.Fixed, at)
	}
	return p
}

// tryGrid looks for a lay no longer than most by trying places on a grid for
// every piece. It asks the judge about every pair and nobody else.
func tryGrid(p lay.Problem, most float64) bool {
	ok := func(ats ...lay.Place) bool {
		q := p
		q.Kinds, q.Fixed = nil, nil
		var l lay.Lay
		for i, at := range ats {
			k := p.Kinds[at.Kind]
			k.Count, k.ID = 1, fmt.Sprint(i)
			q.Kinds = append(q.Kinds, k)
			at.Kind, at.Copy = i, 0
			l.Places = append(l.Places, at)
		}
		l.Length, l.Sheets = lay.Extent(q, l.Places)
		return len(lay.Check(q, l)) == 0
	}
	const step = grid / 2
	at := make([][]lay.Place, len(p.Kinds))
	for ki, k := range p.Kinds {
		for bi, b := range p.Bins {
			end := most
			if bi < len(p.Bins)-1 {
				end = b.Length.MM()
			}
			for t := lay.Turn(0); t < 4; t++ {
				if !k.Turns.Has(t) {
					continue
				}
				box := k.Shape.Turned(int(t)).Bounds()
				for x := 0.0; x+box.W() <= end+0.01; x += step {
					for y := 0.0; y+box.H() <= b.Width.MM()+0.01; y += step {
						u := lay.Place{Kind: ki, Bin: bi, Turn: t, At: geom.P(x-box.Min.X, y-box.Min.Y)}
						if ok(u) {
							at[ki] = append(at[ki], u)
						}
					}
				}
			}
		}
	}
	lain := append([]lay.Place(nil), p.Fixed...)
	for _, f := range p.Fixed {
		if f.Bin == len(p.Bins)-1 && p.Placed(f).Bounds().Max.X > most {
			return false
		}
		if !ok(f) {
			return false
		}
	}
	pair := map[[2]lay.Place]bool{}
	left := make([]int, len(p.Kinds))
	for i, k := range p.Kinds {
		left[i] = k.Count
	}
	for _, f := range p.Fixed {
		left[f.Kind]--
	}
	tries := 0
	var next func(k, from, n int) bool
	next = func(k, from, n int) bool {
		for n == 0 {
			if k++; k == len(p.Kinds) {
				return true
			}
			from, n = 0, left[k]
		}
		for i := from; i < len(at[k]); i++ {
			if tries++; tries > 3_000_000 {
				return false
			}
			fits := true
			for _, o := range lain {
				key := [2]lay.Place{o, at[k][i]}
				v, known := pair[key]
				if !known {
					v = ok(o, at[k][i])
					pair[key] = v
				}
				if fits = v; !fits {
					break
				}
			}
			if !fits {
				continue
			}
			lain = append(lain, at[k][i])
			if next(k, i+1, n-1) {
				return true
			}
			lain = lain[:len(lain)-1]
		}
		return false
	}
	return next(0, 0, left[0])
}

// TestNothingShorterThanTheBound compares with the trial of places on a grid.
func TestNothingShorterThanTheBound(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 1))
	met, of := 0, 0
	for n := range *rounds {
		p := small(r)
		if len(p.Validate()) > 0 {
			continue
		}
		m := New(p)
		if m == nil {
			continue
		}
		const far = 3000.0
		out := m.Run(far, Options{Evaluations: 40_000, Stop: func() bool { return false }, Take: func([]Spot) (unit.Length, bool) { return 0, false }})
		if out.Bound > 1 && tryGrid(p, out.Bound.MM()-0.1) {
			t.Errorf("problem %d of seed %d: there is a lay shorter than %v: %+v", n, *seed, out.Bound, p)
		}
		// And how good is it? Where there is room on the grid a little beyond, well.
		if out.Bound > 1 && out.Bound < far-100 {
			of++
			if tryGrid(p, math.Ceil(out.Bound.MM()/(grid/2))*grid/2) {
				met++
			}
		}
	}
	t.Logf("%d of %d bounds were met on the grid", met, of)
	if met < of/3 {
		t.Errorf("only %d of %d bounds were met", met, of)
	}
}

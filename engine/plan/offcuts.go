package plan

import (
	"math"
	"sort"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// Offcut is a rectangle left over, in the frame of the lay.
type Offcut struct {
	Bin, Sheet int
	Rect       geom.Rect
}

// LeastOffcut is the shorter side of a rectangle worth telling of when the
// user set no other size: what a small stool's seat can be cut from (common
// practice, no source).
const LeastOffcut = 8 * unit.In

// offcuts lists the rectangles left over beside the pieces, largest first,
// none lying on another, down to a shorter side of least. On an open-ended roll
// they end where it is cut off, at end, or where the lay ends if that is
// further. Stretches that nothing lies on are no offcuts: nobody cuts them.
func offcuts(p lay.Problem, l lay.Lay, least, end unit.Length) []Offcut {
	type where struct{ bin, sheet int }
	blocked := map[where][]geom.Rect{}
	var order []where
	for _, at := range l.Places {
		k := where{at.Bin, at.Sheet}
		if _, ok := blocked[k]; !ok {
			order = append(order, k)
		}
		blocked[k] = append(blocked[k], p.Placed(at).Bounds().Grow(float64(p.Gap)))
	}
	sort.Slice(order, func(i, j int) bool {
		return order[i].bin < order[j].bin || order[i].bin == order[j].bin && order[i].sheet < order[j].sheet
	})
	var out []Offcut
	for _, k := range order {
		b := p.Bins[k.bin]
		length := float64(b.Length)
		if length == 0 {
			length = math.Max(l.Length.MM(), end.MM())
		}
		taken := blocked[k]
		for _, f := range b.Flaws {
			taken = append(taken, f.Bounds().Grow(float64(p.Gap)))
		}
		for range 12 {
			r, ok := largestFree(taken, length, float64(b.Width))
			if !ok || r.W() < least.MM() || r.H() < least.MM() {
				break
			}
			out = append(out, Offcut{Bin: k.bin, Sheet: k.sheet, Rect: r})
			taken = append(taken, r)
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		return out[i].Rect.W()*out[i].Rect.H() > out[j].Rect.W()*out[j].Rect.H()
	})
	return out
}

// largestFree is the largest rectangle that touches no taken one, by trying
// every pair of left and right borders and sweeping what lies between them:
// O(n² log n) pairs of a few dozen pieces.
func largestFree(taken []geom.Rect, length, width float64) (geom.Rect, bool) {
	xs := []float64{0, length}
	for _, r := range taken {
		xs = append(xs, clamp(r.Min.X, length), clamp(r.Max.X, length))
	}
	sort.Float64s(xs)
	byY := append([]geom.Rect(nil), taken...)
	sort.Slice(byY, func(i, j int) bool { return byY[i].Min.Y < byY[j].Min.Y })
	var best geom.Rect
	area := 0.0
	for i, x0 := range xs {
		for j := len(xs) - 1; j > i; j-- {
			x1 := xs[j]
			if (x1-x0)*width <= area {
				break
			}
			free := 0.0
			try := func(y0, y1 float64) {
				if a := (x1 - x0) * (y1 - y0); y1 > y0 && a > area {
					area, best = a, geom.Rect{Min: geom.P(x0, y0), Max: geom.P(x1, y1)}
				}
			}
			for _, r := range byY {
				if r.Max.X <= x0+1e-9 || r.Min.X >= x1-1e-9 {
					continue
				}
				try(free, math.Min(r.Min.Y, width))
				free = math.Max(free, r.Max.Y)
			}
			try(free, width)
		}
	}
	return best, area > 0
}

func clamp(x, most float64) float64 { return math.Max(0, math.Min(x, most)) }

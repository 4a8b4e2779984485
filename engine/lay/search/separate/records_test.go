package separate

import (
	"math"
	"slices"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
)

// The irregular instances with a published record layout (ESICUP collection,
// records published with arXiv:2509.13329; bench SOURCES.md).
var recorded = []string{
	"albano", "dagli", "fu", "mao", "marques", "shapes0", "shapes1", "shapes2",
	"shirts", "swim", "trousers", "jakobs1", "jakobs2",
}

// record is the published layout of an instance.
func record(in instance, p lay.Problem) lay.Lay {
	copies := map[int]int{}
	kind := map[int]int{}
	for k, it := range in.Items {
		kind[it.ID] = k
	}
	var l lay.Lay
	for _, r := range in.Best.Layout {
		k := kind[int(r[0])]
		l.Places = append(l.Places, lay.Place{
			Kind: k, Copy: copies[k], Turn: lay.Turn(int(math.Round(r[1]/90)+4) % 4),
			At: geom.P(r[2]*in.scale, r[3]*in.scale),
		})
		copies[k]++
	}
	return l
}

// deepest is the greatest depth over all pairs, in millimetres, by the planes
// of the tables.
func deepest(s *state) float64 {
	deep := 0.0
	for i := range s.n {
		for j := range i {
			l := &s.m.links[s.form[i]][s.form[j]]
			dx, dy := float64(l.sign*(s.x[j]-s.x[i]))+l.ox, float64(l.sign*(s.y[j]-s.y[i]))+l.oy
			for _, part := range l.t.parts {
				m := math.Inf(-1)
				for k := part.from; k < part.to; k++ {
					m = max(m, l.t.planes[k].side(dx, dy))
				}
				deep = max(deep, -m)
			}
		}
	}
	return deep / perMM
}

// A record layout overlaps by no more than its printed decimals, and overlaps
// as soon as one of its pieces is shifted by a hundredth of the width.
func TestRecordLayouts(t *testing.T) {
	for _, name := range recorded {
		in, p := readInstance(t, name)
		m := newShapes(p)
		l := record(in, p)
		var want []int
		for _, at := range l.Places {
			if f := m.formOf(at.Kind, at.Turn); !slices.Contains(want, f) {
				want = append(want, f)
			}
		}
		m.makeLinks(want, 1) // those in the record only: jakobs1 has 100 forms
		m.setSheets(1)
		s := newState(m)
		s.take(l)
		// Places are printed with three decimals at least; two pieces off by
		// half of the last one each.
		tol := 0.0015 * in.scale
		if d := deepest(s); d > tol {
			t.Errorf("%s: record overlaps by %.5f mm, want at most %.5f", name, d, tol)
		}
		s.x[0] += math.Round(0.01 * m.bins[0].width)
		s.y[0] += math.Round(0.01 * m.bins[0].width)
		right := deepest(s)
		s.x[0] -= 2 * math.Round(0.01*m.bins[0].width)
		s.y[0] -= 2 * math.Round(0.01*m.bins[0].width)
		left := deepest(s)
		if max(left, right) < 0.001*1400 {
			t.Errorf("%s: a piece shifted by a hundredth overlaps by %.4f or %.4f mm only", name, left, right)
		}
	}
}

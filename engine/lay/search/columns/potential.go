package columns

import (
	"math"
	"slices"

	"slipseat/engine/lay/linear"
)

// potential is a way to weigh pieces so that their weights bound the length.
// Each kind is stretched along to reach[k] on both sides of its middle; pieces
// of columns that are in each other's way never overlap even so, because the
// pattern keeps them further apart than their sizes. A line across the goods
// then meets stretched pieces of such columns only as lie side by side, and no
// such set weighs more than 1. So the weighed reaches of all pieces add up to
// no more than the goods are long: the counting bound of a repeat, and for
// several kinds the best of its kind (a linear program).
type potential struct {
	reach  []float64 // half the stretched length of a kind, units
	weight []float64 // share of the goods across that a kind takes
	worth  []float64 // by kind of the problem: length taken by one piece, units
	before float64   // how far a stretched piece may stand out over the cut end
	after  float64   // and over the end of the lay
}

// cores are by how much, in millimetres, pieces are cut down across when it is
// asked whether two are in each other's way. Cut down, pieces that merely
// graze each other may share a line, and those that do not are further apart.
var cores = [...]float64{0, 15, 50}

// potentials gives the potentials of a set of spots, one for every core that
// gives another bound.
func (m *Model) potentials(spots []spot, far [][]int64) []potential {
	var out []potential
	for _, c := range cores {
		if p, ok := m.potentialOf(spots, far, c); ok {
			out = append(out, p)
		}
	}
	return out
}

type core struct {
	lo, hi float64
	kind   int
}

func (m *Model) potentialOf(spots []spot, far [][]int64, less float64) (potential, bool) {
	n := len(m.kinds)
	half := make([]float64, n)
	for i, k := range m.kinds {
		half[i] = math.Max(k.w/8, k.w/2+m.p.Gap.MM()/2-less-3*give)
	}
	list := make([]core, len(spots))
	for i, s := range spots {
		list[i] = core{s.y - half[s.kind], s.y + half[s.kind], s.kind}
	}
	// The least step between the middles of two kinds in each other's way.
	step := make([][]float64, n)
	for i := range step {
		step[i] = make([]float64, n)
		for j := range step[i] {
			step[i][j] = math.Inf(1)
		}
	}
	for i := range spots {
		for j := range spots {
			if list[i].lo >= list[j].hi || list[j].lo >= list[i].hi {
				continue
			}
			a, b := spots[i].kind, spots[j].kind
			d := m.rounded(far[i][j], spots[j].base-spots[i].base)
			step[a][b] = math.Min(step[a][b], d)
			step[b][a] = math.Min(step[b][a], d)
		}
	}
	slices.SortStableFunc(list, func(a, b core) int {
		if a.hi < b.hi {
			return -1
		}
		if a.hi > b.hi {
			return 1
		}
		return 0
	})
	share := make([]float64, n)
	for i, k := range m.kinds {
		share[i] = float64(m.count[k.of])
	}
	best, ok := potential{}, false
	for range 3 {
		p := potential{reach: m.reaches(step, share)}
		p.weight, p.worth = m.weights(list, p.reach)
		if !ok || m.total(&p) > m.total(&best) {
			best, ok = p, true
		} else {
			break
		}
		for i, k := range m.kinds {
			share[i] = float64(m.count[k.of])*p.weight[i] + 1e-3
		}
	}
	best.before, best.after = math.Inf(-1), math.Inf(-1)
	for i, k := range m.kinds {
		over := best.reach[i] - k.l/2*perMM
		best.before, best.after = math.Max(best.before, over), math.Max(best.after, over)
	}
	return best, ok
}

// rounded is the least step along from one spot to another that the pattern
// allows and that is no less than far.
func (m *Model) rounded(far int64, between float64) float64 {
	if !m.boundAlong {
		return float64(far)
	}
	v := m.lattice.Along.MM() * perMM
	n := math.Ceil((float64(far) - nodeSlack - between) / v)
	return math.Max(0, between+float64(n*v)-2)
}

// reaches stretches the kinds: the best total for given shares.
func (m *Model) reaches(step [][]float64, share []float64) []float64 {
	n := len(m.kinds)
	var a [][]float64
	var b []float64
	for i := range n {
		for j := i; j < n; j++ {
			if math.IsInf(step[i][j], 1) {
				continue
			}
			row := make([]float64, n)
			row[i]++
			row[j]++
			a, b = append(a, row), append(b, step[i][j]/perMM)
		}
	}
	for i := range n { // a kind without a spot
		row := make([]float64, n)
		row[i] = 1
		if math.IsInf(step[i][i], 1) {
			a, b = append(a, row), append(b, m.kinds[i].l/2)
		}
	}
	x, _, _ := linear.Maximise(share, a, b)
	for i := range x {
		x[i] = math.Max(0, x[i]*perMM)
	}
	// Where rounding broke a row, all give way.
	short := 1.0
	for i := range n {
		for j := range n {
			if sum := x[i] + x[j]; sum > step[i][j] {
				short = math.Min(short, step[i][j]/sum)
			}
		}
	}
	for i := range x {
		x[i] *= short
	}
	return x
}

// weights finds the best shares of the goods across: no set of spots side by
// side weighs more than 1.
func (m *Model) weights(list []core, reach []float64) (weight, worth []float64) {
	n, kinds := len(m.kinds), len(m.p.Kinds)
	c := make([]float64, n+kinds)
	for k := range kinds {
		c[n+k] = float64(m.count[k])
	}
	var a [][]float64
	var b []float64
	for i, k := range m.kinds {
		row := make([]float64, n+kinds)
		row[n+k.of], row[i] = 1, -2*reach[i]/perMM
		a, b = append(a, row), append(b, 0)
		top := make([]float64, n+kinds)
		top[i] = 1
		a, b = append(a, top), append(b, 1)
	}
	for k := range kinds {
		if m.count[k] == 0 {
			row := make([]float64, n+kinds)
			row[n+k] = 1
			a, b = append(a, row), append(b, 0)
		}
	}
	weight = make([]float64, n)
	for range 60 {
		x, _, _ := linear.Maximise(c, a, b)
		copy(weight, x)
		v, set := heaviest(list, weight)
		if v <= 1+1e-7 {
			break
		}
		row := make([]float64, n+kinds)
		for _, k := range set {
			row[k]++
		}
		a, b = append(a, row), append(b, 1)
	}
	if v, _ := heaviest(list, weight); v > 1 {
		for i := range weight {
			weight[i] /= v * (1 + 1e-12)
		}
	}
	worth = make([]float64, kinds)
	for k := range worth {
		worth[k] = math.Inf(1)
	}
	for i, k := range m.kinds {
		worth[k.of] = math.Min(worth[k.of], 2*reach[i]*weight[i])
	}
	for k := range worth {
		if math.IsInf(worth[k], 1) {
			worth[k] = 0
		}
	}
	return weight, worth
}

// heaviest is the heaviest set of spots side by side; the list is sorted by
// the far edge.
func heaviest(list []core, weight []float64) (float64, []int) {
	best, from := make([]float64, len(list)+1), make([]int, len(list)+1)
	for i, s := range list {
		before, _ := slices.BinarySearchFunc(list[:i], s.lo, func(o core, v float64) int {
			if o.hi <= v {
				return -1
			}
			return 1
		})
		best[i+1], from[i+1] = best[i], -1
		if v := best[before] + weight[s.kind]; v > best[i+1] {
			best[i+1], from[i+1] = v, before
		}
	}
	var set []int
	for i := len(list); i > 0; {
		if from[i] < 0 {
			i--
			continue
		}
		set = append(set, list[i-1].kind)
		i = from[i]
	}
	return best[len(list)], set
}

func (m *Model) total(p *potential) float64 {
	sum := 0.0
	for k, w := range p.worth {
		sum += float64(m.count[k]) * w
	}
	return sum
}

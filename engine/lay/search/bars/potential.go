package bars

import (
	"math"
	"slices"

	"slipseat/engine/lay/linear"
)

// potential is a way to weigh bars so that their weights bound the length: no
// set of bars that fits side by side weighs more than 1. The best one is that
// of the bar relaxation, the linear program over all such sets; here its dual
// is solved, with the violated sets added one by one (Scheithauer, "LP-based
// bounds for the container and multi-container loading problem", International
// Transactions in Operational Research 6, 1999).
//
// On a pattern that binds along the goods, bars are stretched to both sides as
// far as they can be without two of them ever meeting that did not meet
// before: the repeat keeps them further apart than their lengths.
type potential struct {
	reach  []float64 // half the stretched length of an option, units
	weight []float64
	worth  []float64 // by kind: length taken by one piece, units
	// before and after are how far a stretched bar may stand out over the ends
	// of the lay; negative where every piece has something before its bar.
	before, after, over float64
	walls               []toll
}

// toll is a stretch along the goods on which bars can weigh less than 1.
type toll struct {
	x0, x1 int64
	less   float64
}

func (m *Model) potential() potential {
	n := len(m.opts)
	p := potential{reach: make([]float64, n)}
	for i, o := range m.opts {
		p.reach[i] = float64(o.l) / 2
	}
	if m.step > 0 {
		m.stretch(&p)
	}
	p.weight, p.worth = m.weights(p.reach)
	p.before, p.after = math.Inf(-1), math.Inf(-1)
	for i, o := range m.opts {
		p.before = math.Max(p.before, p.reach[i]-float64(o.l)/2-float64(o.head))
		p.after = math.Max(p.after, p.reach[i]-float64(o.l)/2-float64(o.tail))
	}
	p.over = p.before + p.after
	return p
}

// stretch finds the reaches on a pattern.
func (m *Model) stretch(p *potential) {
	n := len(m.opts)
	v := m.step * perMM
	step := make([][]float64, n)
	for i, a := range m.opts {
		step[i] = make([]float64, n)
		for j, b := range m.opts {
			least := math.Inf(1)
			mid := b.base + float64(b.l)/2 - a.base - float64(a.l)/2
			for _, d := range [2]float64{mid, -mid} {
				k := math.Ceil((float64(a.l+b.l)/2 - slack - d) / v)
				least = math.Min(least, d+float64(k*v))
			}
			step[i][j] = math.Max(float64(a.l+b.l)/2-slack, least-slack)
		}
	}
	share := make([]float64, n)
	for i, o := range m.opts {
		share[i] = float64(m.count[o.kind]) * float64(o.w)
	}
	var a [][]float64
	var b []float64
	for i := range n {
		for j := i; j < n; j++ {
			row := make([]float64, n)
			row[i]++
			row[j]++
			a, b = append(a, row), append(b, step[i][j]/perMM)
		}
	}
	x, _, _ := linear.Maximise(share, a, b)
	short := 1.0
	for i := range x {
		x[i] = math.Max(0, x[i]*perMM)
	}
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
	p.reach = x
}

// weights solves the dual of the bar relaxation.
func (m *Model) weights(reach []float64) (weight, worth []float64) {
	n, kinds := len(m.opts), len(m.count)
	c := make([]float64, n+kinds)
	for k := range kinds {
		c[n+k] = float64(m.count[k])
	}
	var a [][]float64
	var b []float64
	of := make([]int, kinds)
	for i, o := range m.opts {
		of[o.kind]++
		row := make([]float64, n+kinds)
		row[n+o.kind], row[i] = 1, -2*reach[i]/perMM
		a, b = append(a, row), append(b, 0)
		top := make([]float64, n+kinds)
		top[i] = 1
		a, b = append(a, top), append(b, 1)
	}
	for k := range kinds {
		if of[k] == 0 {
			row := make([]float64, n+kinds)
			row[n+k] = 1
			a, b = append(a, row), append(b, 0)
		}
	}
	weight = make([]float64, n)
	for range 60 {
		x, _, _ := linear.Maximise(c, a, b)
		copy(weight, x)
		v, set := m.heaviest(weight, m.width())
		if v <= 1+1e-7 {
			break
		}
		row := make([]float64, n+kinds)
		for i, k := range set {
			row[i] = float64(k)
		}
		a, b = append(a, row), append(b, 1)
	}
	return m.settled(weight, reach)
}

// settled scales weights so that they are right whatever rounding did, and
// gives what the pieces are worth by them.
func (m *Model) settled(weight, reach []float64) (w, worth []float64) {
	if v, _ := m.heaviest(weight, m.width()); v > 1 {
		for i := range weight {
			weight[i] /= v * (1 + 1e-12)
		}
	}
	worth = make([]float64, len(m.count))
	for k := range worth {
		worth[k] = math.Inf(1)
	}
	for i, o := range m.opts {
		worth[o.kind] = math.Min(worth[o.kind], 2*reach[i]*weight[i])
	}
	for k := range worth {
		if math.IsInf(worth[k], 1) {
			worth[k] = 0
		}
	}
	return weight, worth
}

// byWidth weighs bars by their width.
func (m *Model) byWidth() potential {
	p := m.potential()
	for i, o := range m.opts {
		p.weight[i] = float64(o.w) / float64(m.width())
	}
	p.weight, p.worth = m.settled(p.weight, p.reach)
	return p
}

func (m *Model) width() int64 {
	w := int64(0)
	for _, b := range m.bins {
		w = max(w, b.w)
	}
	return w
}

// heaviest is the most that bars side by side can weigh, and how many of each
// option they are.
func (m *Model) heaviest(weight []float64, room int64) (float64, []int) {
	v, set, _ := m.pack(weight, []int64{room})
	return v, set
}

// packNodes ends the search for a heaviest set; what it gives then is an upper
// bound all the same.
const packNodes = 300_000

// pack finds the heaviest bars that fit into rooms across, by depth first
// search with the fractional knapsack as bound. ok is false where it was ended
// early: the weight is then only known to be no more than v.
func (m *Model) pack(weight []float64, rooms []int64) (v float64, set []int, ok bool) {
	type item struct {
		opt     int
		density float64
	}
	var items []item
	for i, w := range weight {
		if w > 1e-12 {
			items = append(items, item{i, w / float64(m.opts[i].w)})
		}
	}
	slices.SortStableFunc(items, func(a, b item) int {
		switch {
		case a.density > b.density:
			return -1
		case a.density < b.density:
			return 1
		}
		return a.opt - b.opt
	})
	left := slices.Clone(m.count)
	now, best := make([]int, len(m.opts)), make([]int, len(m.opts))
	room := slices.Clone(rooms)
	total := int64(0)
	for _, r := range room {
		total += r
	}
	nodes := 0
	upper := 0.0
	var next func(i, r int, sum float64)
	next = func(i, r int, sum float64) {
		if sum > v {
			v = sum
			copy(best, now)
		}
		for ; i < len(items); i, r = i+1, 0 {
			o := &m.opts[items[i].opt]
			if sum+float64(items[i].density*float64(total)) <= v+1e-12 {
				return
			}
			if left[o.kind] == 0 {
				continue
			}
			for ; r < len(room); r++ {
				if o.w > room[r] {
					continue
				}
				if nodes++; nodes > packNodes {
					upper = math.Max(upper, sum+float64(items[i].density*float64(total)))
					return
				}
				left[o.kind]--
				room[r] -= o.w
				total -= o.w
				now[items[i].opt]++
				next(i, r, sum+weight[items[i].opt])
				now[items[i].opt]--
				total += o.w
				room[r] += o.w
				left[o.kind]++
			}
		}
	}
	next(0, 0, 0)
	if nodes > packNodes {
		return math.Max(v, upper), best, false
	}
	return v, best, true
}

func (m *Model) total(p *potential) float64 {
	sum := 0.0
	for k, w := range p.worth {
		sum += float64(m.count[k]) * w
	}
	return sum
}

// setTolls reckons what walls take off the open goods.
func (m *Model) setTolls(p *potential) {
	b := &m.bins[len(m.bins)-1]
	reach := 0.0
	for i, o := range m.opts {
		reach = math.Max(reach, p.reach[i]-float64(o.l)/2)
	}
	var cuts []int64
	for _, w := range b.walls {
		cuts = append(cuts, w.x0, w.x1)
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	for i := 1; i < len(cuts); i++ {
		rooms := b.rooms(cuts[i-1])
		sizes := make([]int64, len(rooms))
		for i, r := range rooms {
			sizes[i] = r.size
		}
		v, _, ok := m.pack(p.weight, sizes)
		x0, x1 := cuts[i-1]+int64(math.Ceil(reach)), cuts[i]-int64(math.Ceil(reach))
		if ok && v < 1-1e-9 && x0 < x1 {
			p.walls = append(p.walls, toll{x0, x1, 1 - v - 1e-9})
		}
	}
}

// tolls is what walls take between two lines.
func (p *potential) tolls(from, to float64) float64 {
	sum := 0.0
	for _, t := range p.walls {
		if lo, hi := math.Max(from, float64(t.x0)), math.Min(to, float64(t.x1)); lo < hi {
			sum += t.less * (hi - lo)
		}
	}
	return sum
}

// room is a free stretch across; an inner one has walls on both sides.
type room struct {
	size  int64
	inner bool
}

// rooms are the free stretches across on the line just behind x.
func (b *bin) rooms(x int64) []room {
	type part struct{ y0, y1 int64 }
	var taken []part
	for _, w := range b.walls {
		if w.x0 <= x && x < w.x1-slack {
			taken = append(taken, part{w.y0, w.y1})
		}
	}
	slices.SortFunc(taken, func(a, b part) int { return sign(a.y0 - b.y0) })
	var out []room
	at := int64(0)
	for i, t := range taken {
		if t.y0 > at {
			out = append(out, room{t.y0 - at, i > 0})
		}
		at = max(at, t.y1)
	}
	if b.w > at {
		out = append(out, room{b.w - at, false})
	}
	return out
}

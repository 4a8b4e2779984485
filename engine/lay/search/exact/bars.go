package exact

import "math"

// weight grades the options so that pieces which a line across the goods can
// meet together never weigh more than most. Then the pieces' grades, each times
// its length, never exceed most times the length of a lay: that is a bound, and
// it stays one for what is left to be laid at any stage of a search. All
// numbers are whole, so nothing is lost by rounding.
type weight struct {
	of   []int64 // by option
	each []int64 // by size: the least that a piece counts, grade times length
	most int64
}

func (t *task) newWeight(of []int64) weight {
	w := weight{of: of, each: make([]int64, len(t.count))}
	for s, os := range t.of {
		w.each[s] = math.MaxInt64
		for _, i := range os {
			w.each[s] = min(w.each[s], of[i]*t.opts[i].l)
		}
	}
	f := make([]float64, len(of))
	for i, v := range of {
		f[i] = float64(v) // far below 2^53
	}
	best, _ := t.heaviest(f)
	w.most = int64(math.Round(best))
	return w
}

// bound is the least reach that the weight allows.
func (t *task) bound(w weight) int64 {
	sum := int64(0)
	for s, n := range t.count {
		sum += int64(n) * w.each[s]
	}
	if w.most == 0 {
		return 0
	}
	return (sum + w.most - 1) / w.most
}

// byWidth weighs options by their width: the area bound, with the widest sum of
// pieces in place of the width of the goods.
func (t *task) byWidth() weight {
	of := make([]int64, len(t.opts))
	for i, o := range t.opts {
		of[i] = o.w
	}
	return t.newWeight(of)
}

const (
	// weightScale turns the fractions of the linear program into whole numbers.
	weightScale = 1 << 20
	// mostBarOptions and mostBarRounds bound the work of the linear program.
	mostBarOptions = 60
	mostBarRounds  = 200
)

// byBars finds the best weights there are, by the bar relaxation: pieces cut
// into bars across the goods, which are packed anew for every line (the linear
// program over all sets of pieces that fit side by side; its dual is solved
// here, with the violated sets added one by one: Scheithauer, "LP-based bounds
// for the container and multi-container loading problem", International
// Transactions in Operational Research 6, 1999). Weights of earlier rounds that
// bound better at some stage are of use too; the last is given.
func (t *task) byBars(c *clock) (weight, bool) {
	if len(t.opts) > mostBarOptions || len(t.opts) == 0 {
		return weight{}, false
	}
	// Unknowns: the grade of each option, then, for each size with two of
	// them, what its pieces count.
	n, extra := len(t.opts), 0
	unknown := make([]int, len(t.count))
	for s, os := range t.of {
		if len(os) > 1 {
			unknown[s] = n + extra
			extra++
		}
	}
	// Sizes far apart make ill numbers: lengths are counted in the longest.
	longest := 0.0
	for _, o := range t.opts {
		longest = max(longest, float64(o.l))
	}
	lp := newProgram(n + extra)
	for s, os := range t.of {
		if len(os) == 1 {
			lp.gain[os[0]] = float64(t.count[s]) * float64(t.opts[os[0]].l) / longest
			continue
		}
		lp.gain[unknown[s]] = float64(t.count[s])
		for _, i := range os {
			row := make([]float64, n+extra)
			row[unknown[s]], row[i] = 1, -float64(t.opts[i].l)/longest
			lp.add(row, 0)
		}
	}
	for i, o := range t.opts {
		row := make([]float64, n+extra)
		row[i] = float64(min(int64(t.count[o.size]), t.w/o.w))
		lp.add(row, 1)
	}
	grades := make([]float64, n)
	for range mostBarRounds {
		c.tick(int64(len(lp.rows) * lp.n / 8))
		if !lp.solve() {
			break
		}
		x := lp.values()
		for i := range grades {
			grades[i] = max(0, x[i])
		}
		best, set := t.heaviest(grades)
		c.tick(int64(len(t.opts)) * (t.w/16 + 8))
		if best <= 1+1e-7 || c.stopped {
			break
		}
		row := make([]float64, n+extra)
		for i, m := range set {
			row[i] = float64(m)
		}
		lp.add(row, 1)
	}
	of := make([]int64, n)
	for i, g := range grades {
		of[i] = int64(math.Floor(g * weightScale))
	}
	w := t.newWeight(of)
	return w, w.most > 0
}

// heaviest is the most that pieces side by side can weigh, and how many of each
// option they are: a knapsack, each size no more often than there are pieces.
func (t *task) heaviest(of []float64) (float64, []int) {
	room := int(t.w)
	best := make([]float64, room+1)
	next := make([]float64, room+1)
	picks := make([][]int32, len(t.count)) // by size and room: how many of the first option, then of the second
	for s, os := range t.of {
		copy(next, best)
		pick := make([]int32, room+1)
		first := t.opts[os[0]]
		for a := int64(0); a <= int64(t.count[s]) && a*first.w <= t.w; a++ {
			b := int64(0)
			for {
				used := a * first.w
				gain := float64(float64(a) * of[os[0]])
				if len(os) > 1 {
					used += b * t.opts[os[1]].w
					gain += float64(float64(b) * of[os[1]])
				}
				if used > t.w || a+b > int64(t.count[s]) {
					break
				}
				if a+b > 0 && gain > 0 {
					code := int32(a)<<16 | int32(b)
					for c := int(used); c <= room; c++ {
						if v := best[c-int(used)] + gain; v > next[c] {
							next[c], pick[c] = v, code
						}
					}
				}
				if len(os) == 1 {
					break
				}
				b++
			}
		}
		picks[s] = pick
		best, next = next, best
	}
	set := make([]int, len(t.opts))
	at := room
	for s := len(t.of) - 1; s >= 0; s-- {
		code := picks[s][at]
		a, b := int(code>>16), int(code&0xffff)
		os := t.of[s]
		set[os[0]] = a
		at -= a * int(t.opts[os[0]].w)
		if len(os) > 1 {
			set[os[1]] = b
			at -= b * int(t.opts[os[1]].w)
		}
	}
	return best[room], set
}

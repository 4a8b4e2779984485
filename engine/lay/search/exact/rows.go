package exact

import (
	"math"
	"slices"
)

// rows finds the shortest lay that straight cuts from edge to edge can take
// apart, however many stages they need: rows across the goods, cut along, and
// across again. For every number of pieces of each size it keeps the smallest
// rectangles that hold them so (what a cut parts are two smaller such
// rectangles); with a few sizes these are few, and the answer is exact.
type rows struct {
	*task
	clock *clock
	step  []int    // what one piece of a size adds to the number of a set
	sets  [][]rect // by set: its smallest rectangles, narrowest first
}

// rect holds a set of pieces. It is cut along (beside) or across into a
// rectangle for the set part and one for the rest, or is one piece.
type rect struct {
	l, w   int64
	part   int32 // set, or -1-option for a piece
	beside bool
}

// mostRowWork is how many pairs of sets may be joined, and mostSets how many
// sets kept.
const (
	mostRowWork = 1 << 21
	mostSets    = 1 << 13
)

// rowsFor prepares the search; ok is false when there are too many sizes or
// pieces.
func rowsFor(t *task, c *clock) (*rows, bool) {
	r := &rows{task: t, clock: c}
	sets, work := 1, 1.0
	for _, n := range t.count {
		r.step = append(r.step, sets)
		work *= float64(n+1) * float64(n+2) / 2
		if sets *= n + 1; sets > mostSets || work > mostRowWork {
			return nil, false
		}
	}
	r.sets = make([][]rect, sets)
	return r, true
}

// least gives the shortest lay in rows, and where its pieces are. ok is false
// when the clock ended it. Rectangles longer than longest are of no use.
func (r *rows) least(longest int64) (length int64, spots []spot, ok bool) {
	best := make([]rect, r.w+1)
	digits := make([]int, len(r.count))
	part := make([]int, len(r.count))
	for set := 1; set < len(r.sets); set++ {
		number := 0
		for s := range digits {
			digits[s] = set / r.step[s] % (r.count[s] + 1)
			number += digits[s]
			part[s] = 0
		}
		for i := range best {
			best[i].l = math.MaxInt64
		}
		put := func(q rect) {
			if q.w <= r.w && q.l <= longest && q.l < best[q.w].l {
				best[q.w] = q
			}
		}
		if number == 1 {
			for i, o := range r.opts {
				if digits[o.size] == 1 {
					put(rect{o.l, o.w, int32(-1 - i), false})
				}
			}
		}
		// All ways to part the set in two, each pair once.
		for {
			s := 0
			for ; s < len(part); s++ {
				if part[s] < digits[s] {
					part[s]++
					break
				}
				part[s] = 0
			}
			if s == len(part) {
				break
			}
			a := 0
			for s, n := range part {
				a += n * r.step[s]
			}
			if a > set-a {
				break
			}
			if !r.clock.tick(int64(1 + (len(r.sets[a])+len(r.sets[set-a]))/4)) {
				return 0, nil, false
			}
			r.join(r.sets[a], r.sets[set-a], int32(a), put)
		}
		least := int64(math.MaxInt64)
		for w := range best {
			if best[w].l < least {
				least = best[w].l
				r.sets[set] = append(r.sets[set], best[w])
			}
		}
	}
	last := r.sets[len(r.sets)-1]
	if len(last) == 0 {
		return math.MaxInt64, nil, true
	}
	q := last[len(last)-1]
	return q.l, r.place(nil, len(r.sets)-1, q, 0, 0), true
}

// join gives the rectangles made of one of a and one of b that can be smallest.
func (r *rows) join(a, b []rect, part int32, put func(rect)) {
	// Behind each other: the width is the wider one's; for every width take the
	// shortest of each.
	for i, j := 0, 0; i < len(a) && j < len(b); {
		w := max(a[i].w, b[j].w)
		for i+1 < len(a) && a[i+1].w <= w {
			i++
		}
		for j+1 < len(b) && b[j+1].w <= w {
			j++
		}
		put(rect{a[i].l + b[j].l, w, part, false})
		switch {
		case i+1 < len(a) && (j+1 >= len(b) || a[i+1].w <= b[j+1].w):
			i++
		default:
			j++
		}
	}
	// Beside each other: the length is the longer one's; for every length take
	// the narrowest of each, from the shortest on.
	for i, j := len(a)-1, len(b)-1; i >= 0 && j >= 0; {
		l := max(a[i].l, b[j].l)
		for i > 0 && a[i-1].l <= l {
			i--
		}
		for j > 0 && b[j-1].l <= l {
			j--
		}
		put(rect{l, a[i].w + b[j].w, part, true})
		switch {
		case i > 0 && (j == 0 || a[i-1].l <= b[j-1].l):
			i--
		default:
			j--
		}
	}
}

// place lays out the pieces of a rectangle.
func (r *rows) place(out []spot, set int, q rect, x, y int64) []spot {
	if q.part < 0 {
		return append(out, spot{int(-1 - q.part), x, y})
	}
	a, b := int(q.part), set-int(q.part)
	fit := func(set int) rect {
		for _, p := range r.sets[set] {
			if q.beside && p.l <= q.l {
				return p // the narrowest that is short enough
			}
		}
		i, _ := slices.BinarySearchFunc(r.sets[set], q.w+1, func(p rect, w int64) int { return int(p.w - w) })
		return r.sets[set][i-1] // the shortest that is narrow enough
	}
	first, second := fit(a), fit(b)
	out = r.place(out, a, first, x, y)
	if q.beside {
		return r.place(out, b, second, x, y+first.w)
	}
	return r.place(out, b, second, x+first.l, y)
}

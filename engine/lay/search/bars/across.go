package bars

import "slices"

// Spot is a piece at a place, in units, for the caller to make a lay of.
type Spot struct {
	Kind, Bin int
	Turn      uint8
	X, Y      int64
}

// acrossNodes is how many tries the places across may take.
const acrossNodes = 3000

// across finds places across for boxes whose places along are given; nil where
// it finds none, and how many were tried. Pieces are taken from the cut end, and each is tried at the
// edges and beside what lies there.
func (m *Model) across(puts []put) (spots []Spot, count int64) {
	gap := int64(m.gap*perMM + 0.5)
	n := len(puts)
	ys := make([]int64, n)
	var nodes int64
	// Two boxes whose bars meet lie beside each other.
	meet := func(i, j int) bool {
		a, b := &puts[i], &puts[j]
		return a.bin == b.bin && a.x < b.x+m.opts[b.opt].l-slack && b.x < a.x+m.opts[a.opt].l-slack
	}
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if c := puts[a].bin - puts[b].bin; c != 0 {
			return c
		}
		return sign(puts[a].x - puts[b].x)
	})
	var tries [][]int64
	for range n {
		tries = append(tries, nil)
	}
	var next func(d int) bool
	next = func(d int) bool {
		if d == n {
			return true
		}
		i := order[d]
		u := &puts[i]
		o := &m.opts[u.opt]
		b := &m.bins[u.bin]
		top := b.w - slack
		cand := append(tries[d][:0], 0, top-o.w)
		for _, j := range order[:d] {
			if meet(i, j) {
				cand = append(cand, ys[j]+m.opts[puts[j].opt].w+gap, ys[j]-gap-o.w)
			}
		}
		for _, w := range b.walls {
			if w.x0 < u.x+o.l && u.x < w.x1 {
				cand = append(cand, w.y1+slack+gap, w.y0-slack-gap-o.w)
			}
		}
		slices.Sort(cand)
		cand = slices.Compact(cand)
		tries[d] = cand
		for _, y := range cand {
			if y < 0 || y+o.w > top {
				continue
			}
			ok := true
			for _, j := range order[:d] {
				if meet(i, j) && y < ys[j]+m.opts[puts[j].opt].w+gap && ys[j] < y+o.w+gap {
					ok = false
					break
				}
			}
			for _, w := range b.walls {
				if w.x0 < u.x+o.l && u.x < w.x1 && y < w.y1+slack+gap && w.y0-slack-gap < y+o.w {
					ok = false
				}
			}
			if !ok {
				continue
			}
			if nodes++; nodes > acrossNodes {
				return false
			}
			ys[i] = y
			if next(d + 1) {
				return true
			}
		}
		return false
	}
	if !next(0) {
		return nil, nodes
	}
	var out []Spot
	for i, u := range puts {
		o := &m.opts[u.opt]
		out = append(out, Spot{Kind: o.kind, Bin: u.bin, Turn: uint8(o.turn), X: u.x, Y: ys[i]})
	}
	return out, nodes
}

package skyline

import (
	"math"
	"slices"
)

// Snap moves squared pieces that no pattern binds to whole marking steps from
// the cut end and from the near edge, each as near to them as the others let
// it. Where flaws or fixed pieces leave no such place without making the lay
// longer, the puts stay as they are in that direction.
func (in *Instance) Snap(puts []Put) []Put {
	step := int64(math.Round(in.p.Step.MM() * PerMM))
	if step <= 0 || in.p.RowsOnly {
		return puts // rows begin at whole steps by themselves, but behind flaws
	}
	for _, k := range in.p.Kinds {
		if !k.Square {
			return puts
		}
	}
	for i := range in.Bins {
		for j := range in.Kinds {
			if binding(&in.Bins[i], &in.Kinds[j]) {
				return puts
			}
		}
	}
	puts = in.snapAxis(puts, step, false)
	return in.snapAxis(puts, step, true)
}

// snapAxis moves pieces towards the cut end (along) or the near edge: each to
// the first whole step behind everything that stands before it.
func (in *Instance) snapAxis(puts []Put, step int64, along bool) []Put {
	flip := func(r Rect) Rect {
		if along {
			return r
		}
		return Rect{r.Y0, r.X0, r.Y1, r.X1}
	}
	onStep := true
	for _, u := range puts {
		onStep = onStep && (along && u.X%step == 0 || !along && u.Y%step == 0)
	}
	if onStep {
		return puts
	}
	order := make([]int, len(puts))
	for i := range order {
		order[i] = i
	}
	was := make([]Rect, len(puts))
	for i, u := range puts {
		was[i] = flip(in.Box(u))
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp(was[a].X0, was[b].X0) })
	now := slices.Clone(was)
	for n, i := range order {
		r, at := was[i], int64(0)
		before := func(old Rect, end int64) {
			if old.Y0 < r.Y1 && r.Y0 < old.Y1 && old.X1 <= r.X0 {
				at = max(at, end)
			}
		}
		for _, j := range order[:n] {
			if puts[j].Bin == puts[i].Bin && puts[j].Sheet == puts[i].Sheet {
				before(was[j], now[j].X1)
			}
		}
		bin := &in.Bins[puts[i].Bin]
		zones := [][]Rect{bin.flaws, bin.fixed[puts[i].Sheet]}
		for _, zs := range zones {
			for _, z := range zs {
				z = flip(z)
				before(z, z.X1)
			}
		}
		at = (at + step - 1) / step * step
		now[i].X1 += at - r.X0
		now[i].X0 = at
		room := bin.W
		if along {
			room = bin.L
		}
		if now[i].X1 > room || along && now[i].X1 > in.endOf(puts, was, puts[i]) {
			return puts
		}
		for _, zs := range zones {
			for _, z := range zs {
				if flip(z).meets(now[i]) {
					return puts
				}
			}
		}
	}
	out := slices.Clone(puts)
	for i := range out {
		if along {
			out[i].X = now[i].X0
		} else {
			out[i].Y = now[i].X0
		}
	}
	return out
}

// endOf is how far the pieces on the same goods as u reached.
func (in *Instance) endOf(puts []Put, was []Rect, u Put) int64 {
	end := int64(0)
	for i, o := range puts {
		if o.Bin == u.Bin && o.Sheet == u.Sheet {
			end = max(end, was[i].X1)
		}
	}
	return end
}

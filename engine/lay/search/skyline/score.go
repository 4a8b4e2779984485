package skyline

import (
	"math"
	"slices"

	"slipseat/engine/lay"
)

// Score tells how good a filling is; smaller is better, the first difference
// decides.
type Score struct {
	Missing int   // pieces without a place
	Sheets  int   // sheets used of a repeated last bin
	Length  int64 // used along the last bin or sheet, in units, the gap taken off
}

// Less tells whether s is better than o.
func (s Score) Less(o Score) bool {
	if s.Missing != o.Missing {
		return s.Missing < o.Missing
	}
	if s.Sheets != o.Sheets {
		return s.Sheets < o.Sheets
	}
	return s.Length < o.Length
}

// ScoreOf reckons the score of puts by their boxes.
func (in *Instance) ScoreOf(puts []Put, missing int) Score {
	s := Score{Missing: missing}
	last := len(in.Bins) - 1
	take := func(sheet int, end int64) {
		if sheet+1 > s.Sheets {
			s.Sheets, s.Length = sheet+1, 0
		}
		if sheet+1 == s.Sheets {
			s.Length = max(s.Length, end-in.Gap)
		}
	}
	for _, u := range puts {
		if u.Bin == last {
			take(u.Sheet, u.X+in.Kinds[u.Kind].Ways[u.Way].L)
		}
	}
	for n := range in.Bins[last].fixed { // a maximum does not mind the order
		for _, r := range in.Bins[last].fixed[n] {
			if n+1 >= s.Sheets {
				take(n, r.X1)
			}
		}
	}
	if in.Bins[last].Sheets != 0 {
		s.Sheets = 0
	}
	return s
}

// Orders gives orders in which filling goes well: largest first by several
// measures of a piece, same kinds together.
func (in *Instance) Orders() [][]Gene {
	type measured struct {
		kind int
		by   [4]int64
	}
	ms := make([]measured, 0, len(in.Kinds))
	for i, k := range in.Kinds {
		if k.Count == 0 || len(k.Ways) == 0 {
			continue
		}
		w := k.Ways[0]
		ms = append(ms, measured{i, [4]int64{max(w.L, w.W), (w.L >> 8) * (w.W >> 8), w.L, w.W}})
	}
	var out [][]Gene
	for by := range 4 {
		slices.SortStableFunc(ms, func(a, b measured) int {
			if c := cmp(b.by[by], a.by[by]); c != 0 {
				return c
			}
			return cmp(b.by[1], a.by[1])
		})
		var order []Gene
		for _, m := range ms {
			for range in.Kinds[m.kind].Count {
				order = append(order, Gene{m.kind, -1})
			}
		}
		if by == 0 || !slices.Equal(order, out[0]) {
			out = append(out, order)
		}
	}
	return out
}

// Lying gives the order with every piece lying one way: way 0, or the last way
// that the kind has.
func (in *Instance) Lying(order []Gene, last bool) []Gene {
	out := slices.Clone(order)
	for i := range out {
		out[i].Way = 0
		if last {
			out[i].Way = len(in.Kinds[out[i].Kind].Ways) - 1
		}
	}
	return out
}

// Phases gives settings of the free phases of Alike groups worth trying: for
// every group those at which some kind lies flush with the cut end, and with
// the near or the far edge. Each entry holds one offset per group, in the
// order of Instance.groups.
func (f *Filler) Phases(limit int) [][]Phase {
	lists := f.phaseLists()
	if len(lists) == 0 {
		return [][]Phase{nil}
	}
	var out [][]Phase
	for n := 0; n < limit; n++ {
		set := make([]Phase, len(lists))
		m := n
		for i, l := range lists {
			set[i] = l[m%len(l)]
			m /= len(l)
		}
		if m > 0 {
			break // every combination was made
		}
		out = append(out, set)
	}
	return out
}

// phaseLists are the phases worth trying for each group.
func (f *Filler) phaseLists() [][]Phase {
	in := f.in
	lists := make([][]Phase, len(in.groups))
	b := in.Bins[len(in.Bins)-1]
	for gi, g := range in.groups {
		var along, across []float64
		for _, k := range in.Kinds {
			if k.group != g || k.Count == 0 {
				continue
			}
			for _, w := range k.Ways {
				along = append(along, w.motif.X-b.lattice.Phase.X)
				across = append(across, w.motif.Y-b.lattice.Phase.Y, mm(b.W-w.W)+w.motif.Y-b.lattice.Phase.Y)
			}
		}
		// Settings across that leave some kind without a place come last.
		slices.SortStableFunc(across, func(x, y float64) int { return f.roomless(g, x) - f.roomless(g, y) })
		for _, l := range along {
			for _, a := range across {
				p := Phase{l, a}
				if !slices.Contains(lists[gi], p) {
					lists[gi] = append(lists[gi], p)
				}
			}
		}
		if len(lists[gi]) == 0 {
			lists[gi] = []Phase{{}}
		}
	}
	return lists
}

// roomless counts the kinds of a group that find no place across the last bin
// with a setting across.
func (f *Filler) roomless(group int, across float64) int {
	b := f.in.Bins[len(f.in.Bins)-1]
	h, n := b.lattice.Across.MM(), 0
	if h == 0 {
		return 0
	}
	for _, k := range f.in.Kinds {
		room := k.group != group || k.Count == 0 || k.across != lay.Alike
		for _, w := range k.Ways {
			base := b.lattice.Phase.Y + aroundZero(across, h) - w.motif.Y
			y := base + h*math.Ceil((-base-mm(nodeSlack))/h)
			room = room || toUnits(y)+w.W <= b.W+nodeSlack
		}
		if !room {
			n++
		}
	}
	return n
}

// Phase is where the pattern lies on the pieces of an Alike group, in
// millimetres from centred.
type Phase struct{ Along, Across float64 }

// SetPhases sets the phases of the Alike groups.
func (f *Filler) SetPhases(ps []Phase) {
	for i := range ps {
		f.offs[i].along, f.offs[i].across = ps[i].Along, ps[i].Across
	}
}

package skyline

import (
	"math"
	"slices"
)

// Gene is one piece in a filling order: its kind, and the one way in which it
// may lie, or -1 for whichever comes out best.
type Gene struct{ Kind, Way int }

// Rule says which of several free places a piece takes.
type Rule uint8

// Rules of filling. Both take the first stretch of goods that has room.
const (
	NearestStart Rule = iota // the place that begins nearest to the cut end
	NearestEnd               // the place where the piece ends nearest to it
)

// Filler lays pieces one after another into the room that is left. It keeps
// the largest free rectangles of every stretch of goods, so it finds a place
// wherever there is one, round flaws and fixed pieces and into holes, on the
// pattern where one binds. It is the general layer; plain goods have a faster
// one in Sky.
type Filler struct {
	in     *Instance
	start  [][]Rect // free rectangles of an empty stretch of each bin
	sheets []sheet
	spare  []sheet // with their room, to be used again
	fresh  []Rect
	offs   []offset
	Rule   Rule
	minL   int64 // least extents of any piece: narrower room is no room
	minW   int64
}

type sheet struct {
	bin, sheet int
	free       []Rect
}

// offset is where the pattern lies on the pieces of an Alike group, relative
// to centred.
type offset struct {
	group         int
	along, across float64
}

// NewFiller makes a filler of empty goods.
func NewFiller(in *Instance) *Filler {
	f := &Filler{in: in, minL: math.MaxInt64, minW: math.MaxInt64}
	for _, k := range in.Kinds {
		for _, w := range k.Ways {
			f.minL, f.minW = min(f.minL, w.L), min(f.minW, w.W)
		}
	}
	for _, b := range in.Bins {
		s := sheet{free: []Rect{{0, 0, b.L, b.W}}}
		for _, r := range b.flaws {
			f.block(&s, r)
		}
		f.start = append(f.start, s.free)
	}
	for _, g := range in.groups {
		f.offs = append(f.offs, offset{group: g})
	}
	return f
}

// Clear empties the goods.
func (f *Filler) Clear() {
	f.spare = append(f.spare, f.sheets...)
	f.sheets = f.sheets[:0]
	for b := range f.in.Bins {
		n := max(1, f.in.Bins[b].Sheets)
		for fixed := range f.in.Bins[b].fixed {
			n = max(n, fixed+1)
		}
		for i := range n {
			f.open(b, i)
		}
	}
}

// open adds an empty stretch of goods.
func (f *Filler) open(bin, number int) {
	var s sheet
	if n := len(f.spare); n > 0 {
		s, f.spare = f.spare[n-1], f.spare[:n-1]
	}
	s.bin, s.sheet = bin, number
	s.free = append(s.free[:0], f.start[bin]...)
	for _, r := range f.in.Bins[bin].fixed[number] {
		f.block(&s, r)
	}
	f.sheets = append(f.sheets, s)
}

// Fill empties the goods and lays the pieces in the order given. Pieces that
// find no place are counted in missing.
func (f *Filler) Fill(order []Gene, puts []Put) (out []Put, missing int) {
	f.Clear()
	out = puts[:0]
	for _, g := range order {
		if u, ok := f.Next(g); ok {
			f.Put(u)
			out = append(out, u)
		} else {
			missing++
		}
	}
	return out, missing
}

// Next is the place that a piece would take.
func (f *Filler) Next(g Gene) (Put, bool) {
	for {
		for i := range f.sheets {
			if u, ok := f.inSheet(&f.sheets[i], g); ok {
				return u, true
			}
		}
		last := len(f.in.Bins) - 1
		if f.in.Bins[last].Sheets != 0 {
			return Put{}, false
		}
		n := len(f.sheets) - 1
		if s := &f.sheets[n]; s.bin == last && slices.Equal(s.free, f.start[last]) {
			return Put{}, false // an empty sheet has no place for it either
		}
		f.open(last, f.sheets[n].sheet+1)
	}
}

// Put lays a piece.
func (f *Filler) Put(u Put) {
	for i := range f.sheets {
		if s := &f.sheets[i]; s.bin == u.Bin && s.sheet == u.Sheet {
			f.block(s, f.in.Box(u))
		}
	}
}

func (f *Filler) inSheet(s *sheet, g Gene) (Put, bool) {
	k := &f.in.Kinds[g.Kind]
	best, found := Put{Kind: g.Kind, Bin: s.bin, Sheet: s.sheet}, false
	var bestKey, bestX int64
	b := &f.in.Bins[s.bin]
	bound := binding(b, k)
	for wi := range k.Ways {
		if g.Way >= 0 && wi != g.Way {
			continue
		}
		w := &k.Ways[wi]
		for _, r := range s.free {
			if r.X1-r.X0 < w.L || r.Y1-r.Y0 < w.W {
				continue
			}
			x, y := r.X0, r.Y0
			if bound {
				var ok bool
				if x, y, ok = f.onPattern(b, k, w, r); !ok {
					continue
				}
			}
			key := x
			if f.Rule == NearestEnd {
				key += w.L
			}
			if !found || key < bestKey || key == bestKey && (x < bestX || x == bestX && y < best.Y) {
				bestKey, bestX, found = key, x, true
				best.Way, best.X, best.Y = wi, x, y
			}
		}
	}
	return best, found
}

// block takes a zone out of the free rectangles.
func (f *Filler) block(s *sheet, z Rect) {
	f.fresh = f.fresh[:0]
	keep := s.free[:0]
	for _, r := range s.free {
		if !r.meets(z) {
			keep = append(keep, r)
			continue
		}
		for _, part := range [4]Rect{{r.X0, r.Y0, z.X0, r.Y1}, {z.X1, r.Y0, r.X1, r.Y1}, {r.X0, r.Y0, r.X1, z.Y0}, {r.X0, z.Y1, r.X1, r.Y1}} {
			if part.X1-part.X0 >= f.minL && part.Y1-part.Y0 >= f.minW {
				f.fresh = append(f.fresh, part)
			}
		}
	}
	old := len(keep)
fresh:
	for i, r := range f.fresh {
		for _, o := range keep[:old] {
			if o.holds(r) {
				continue fresh
			}
		}
		for j, o := range f.fresh {
			// Of two equal ones the first stays.
			if j != i && o.holds(r) && (o != r || j < i) {
				continue fresh
			}
		}
		keep = append(keep, r)
	}
	s.free = keep
}

// sortPuts orders puts by goods, then from the cut end, then across.
func sortPuts(puts []Put) {
	slices.SortStableFunc(puts, func(a, b Put) int {
		switch {
		case a.Bin != b.Bin:
			return a.Bin - b.Bin
		case a.Sheet != b.Sheet:
			return a.Sheet - b.Sheet
		case a.X != b.X:
			return cmp(a.X, b.X)
		case a.Y != b.Y:
			return cmp(a.Y, b.Y)
		}
		return a.Kind - b.Kind
	})
}

func cmp(a, b int64) int {
	if a < b {
		return -1
	}
	if a > b {
		return 1
	}
	return 0
}

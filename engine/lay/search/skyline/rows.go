package skyline

import "math"

// RowFiller lays pieces in rows: straight cuts across the whole goods first,
// then straight cuts along inside each row, then across again between pieces
// that stand behind each other. The first piece of a row sets its length.
type RowFiller struct {
	in     *Instance
	fill   *Filler // for free rectangles and the pattern
	sheets []rowSheet
	tmp    sheet
	// FirstFit takes the first row with room instead of the one that the piece
	// fits best.
	FirstFit bool
}

type rowSheet struct {
	bin, sheet int
	end        int64 // where the next row starts
	rows       []row
}

type row struct {
	x0, x1, y int64
	slots     []slot
}

// slot is a strip of a row in which pieces stand one behind the other.
type slot struct{ y0, y1, x int64 }

// NewRowFiller makes a filler of empty goods.
func NewRowFiller(in *Instance) *RowFiller { return &RowFiller{in: in, fill: NewFiller(in)} }

// Filler gives the place finder inside, to set the phases of Alike groups.
func (f *RowFiller) Filler() *Filler { return f.fill }

// Fill empties the goods and lays the pieces in the order given.
func (f *RowFiller) Fill(order []Gene, puts []Put) (out []Put, missing int) {
	f.sheets = f.sheets[:0]
	for b := range f.in.Bins {
		for i := range max(1, f.in.Bins[b].Sheets) {
			f.sheets = append(f.sheets, rowSheet{bin: b, sheet: i})
		}
	}
	out = puts[:0]
	for _, g := range order {
		if u, ok := f.put(g); ok {
			out = append(out, u)
		} else {
			missing++
		}
	}
	return out, missing
}

func (f *RowFiller) put(g Gene) (Put, bool) {
	for {
		for i := range f.sheets {
			s := &f.sheets[i]
			if u, ok := f.join(s, g); ok {
				return u, true
			}
			if u, ok := f.begin(s, g); ok {
				return u, true
			}
		}
		last := len(f.in.Bins) - 1
		if f.in.Bins[last].Sheets != 0 {
			return Put{}, false
		}
		end := f.sheets[len(f.sheets)-1]
		if end.bin == last && len(end.rows) == 0 {
			return Put{}, false
		}
		f.sheets = append(f.sheets, rowSheet{bin: last, sheet: end.sheet + 1})
	}
}

// join puts a piece into a row that stands.
func (f *RowFiller) join(s *rowSheet, g Gene) (Put, bool) {
	best, found := Put{}, false
	bestLoss := int64(math.MaxInt64)
	var bestRow *row
	bestSlot := -1
	k := &f.in.Kinds[g.Kind]
	b := &f.in.Bins[s.bin]
	for ri := range s.rows {
		r := &s.rows[ri]
		for wi := range k.Ways {
			if g.Way >= 0 && wi != g.Way {
				continue
			}
			w := &k.Ways[wi]
			if w.L > r.x1-r.x0 {
				continue
			}
			for si := -1; si < len(r.slots); si++ {
				room := Rect{r.x0, r.y, r.x1, b.W}
				loss := r.x1 - r.x0 - w.L // beside nothing: the row's length beyond the piece is lost
				if si >= 0 {
					t := r.slots[si]
					room = Rect{t.x, t.y0, r.x1, t.y1}
					loss = t.y1 - t.y0 - w.W
				}
				if room.X1-room.X0 < w.L || room.Y1-room.Y0 < w.W || loss >= bestLoss {
					continue
				}
				if x, y, ok := f.place(s, k, w, room); ok {
					best, found, bestLoss, bestRow, bestSlot = Put{g.Kind, wi, s.bin, s.sheet, x, y}, true, loss, r, si
				}
			}
		}
		if found && f.FirstFit {
			break
		}
	}
	if !found {
		return best, false
	}
	f.enter(bestRow, bestSlot, best)
	return best, true
}

func (f *RowFiller) enter(r *row, si int, u Put) {
	w := &f.in.Kinds[u.Kind].Ways[u.Way]
	if si >= 0 {
		r.slots[si].x = u.X + w.L
		return
	}
	r.slots = append(r.slots, slot{r.y, u.Y + w.W, u.X + w.L})
	r.y = u.Y + w.W
}

// begin opens a row with a piece: the way that makes the shortest row for what
// it fills across.
func (f *RowFiller) begin(s *rowSheet, g Gene) (Put, bool) {
	k := &f.in.Kinds[g.Kind]
	b := &f.in.Bins[s.bin]
	best, found, bestRate := Put{}, false, math.Inf(1)
	for wi := range k.Ways {
		if g.Way >= 0 && wi != g.Way {
			continue
		}
		w := &k.Ways[wi]
		x, y, ok := f.place(s, k, w, Rect{s.end, 0, b.L, b.W})
		if !ok {
			continue
		}
		across := max(1, min(b.W/w.W, int64(k.Count)))
		if rate := float64(x+w.L-s.end) / float64(across); rate < bestRate {
			best, found, bestRate = Put{g.Kind, wi, s.bin, s.sheet, x, y}, true, rate
		}
	}
	if !found {
		return best, false
	}
	r := row{x0: s.end, x1: best.X + k.Ways[best.Way].L}
	f.enter(&r, -1, best)
	s.end = r.x1
	s.rows = append(s.rows, r)
	return best, true
}

// place finds the place in a room nearest to the cut end, clear of flaws and
// off the stretches that fixed pieces lie on.
func (f *RowFiller) place(s *rowSheet, k *Kind, w *Way, room Rect) (x, y int64, ok bool) {
	b := &f.in.Bins[s.bin]
	bound := binding(b, k)
	fixed := b.fixed[s.sheet]
	if len(b.flaws) == 0 && len(fixed) == 0 {
		if room.X1-room.X0 < w.L || room.Y1-room.Y0 < w.W {
			return 0, 0, false
		}
		if !bound {
			return room.X0, room.Y0, true
		}
		return f.fill.onPattern(b, k, w, room)
	}
	f.tmp.free = append(f.tmp.free[:0], room)
	for _, z := range b.flaws {
		f.fill.block(&f.tmp, z)
	}
	for _, z := range fixed {
		f.fill.block(&f.tmp, Rect{z.X0, 0, z.X1, b.W})
	}
	for _, r := range f.tmp.free {
		if r.X1-r.X0 < w.L || r.Y1-r.Y0 < w.W {
			continue
		}
		rx, ry, fits := r.X0, r.Y0, true
		if bound {
			rx, ry, fits = f.fill.onPattern(b, k, w, r)
		}
		if fits && (!ok || rx < x || rx == x && ry < y) {
			x, y, ok = rx, ry, true
		}
	}
	return x, y, ok
}

// Uniform is the best of all row patterns for one kind on plain goods. A row
// holds columns of pieces that lie one way and columns of pieces that lie the
// other, each as many behind each other as the row is long; rows of different
// patterns follow one another so that their lengths add up to least. It gives
// nil when the problem is of another sort.
func Uniform(in *Instance) []Put {
	if !in.Plain {
		return nil
	}
	kind := -1
	for i, k := range in.Kinds {
		if k.Count > 0 {
			if kind >= 0 {
				return nil
			}
			kind = i
		}
	}
	if kind < 0 {
		return nil
	}
	k, width := in.Kinds[kind], in.Bins[0].W
	types := rowTypes(k, width)
	if len(types) == 0 {
		return nil
	}
	n := k.Count
	best, via := make([]int64, n+1), make([]int, n+1)
	for m := 1; m <= n; m++ {
		best[m] = math.MaxInt64
		for t, r := range types {
			if l := best[max(0, m-r.count)] + r.length; l < best[m] {
				best[m], via[m] = l, t
			}
		}
	}
	var out []Put
	x := int64(0)
	for m := n; m > 0; {
		r := types[via[m]]
		placed := 0
		y := int64(0)
		for wi := range k.Ways {
			w := k.Ways[wi]
			deep := r.length / w.L
			for c := 0; c < r.columns[wi]; c++ {
				for d := int64(0); d < deep && placed < m; d++ {
					out = append(out, Put{Kind: kind, Way: wi, X: x + d*w.L, Y: y})
					placed++
				}
				y += w.W
			}
		}
		x += r.length
		m -= placed
	}
	return out
}

type rowType struct {
	length  int64
	columns [2]int
	count   int
}

// deepest is how many pieces stand behind each other in one row at most: with
// more, the row can be cut in two in nearly every case.
const deepest = 12

// rowTypes lists the rows that can be the best ones.
func rowTypes(k Kind, width int64) []rowType {
	var ways []Way
	for i, w := range k.Ways {
		if i < 2 {
			ways = append(ways, w)
		}
	}
	var out []rowType
	for _, w := range ways {
		for d := int64(1); d <= deepest; d++ {
			if d > int64(k.Count) {
				break
			}
			if t := fullest(ways, w.L*d, width); t.count > 0 {
				out = append(out, t)
			}
		}
	}
	return out
}

// fullest is the row of a length that holds most pieces; among equal ones
// that with pieces lying one way only.
func fullest(ways []Way, length, width int64) rowType {
	best := rowType{length: length}
	bestMixed := false
	for a := int64(0); a*ways[0].W <= width; a++ {
		t := rowType{length: length, columns: [2]int{int(a), 0}}
		t.count = int(a * (length / ways[0].L))
		if len(ways) > 1 {
			b := (width - a*ways[0].W) / ways[1].W
			t.columns[1] = int(b)
			t.count += int(b * (length / ways[1].L))
		}
		mixed := t.columns[0] > 0 && t.columns[1] > 0
		if t.count > best.count || t.count == best.count && bestMixed && !mixed {
			best, bestMixed = t, mixed
		}
	}
	return best
}

// Package skyline lays rectangles: squared blanks, and the boxes of shaped
// ones. It works in whole units of 50 nm, so that touching, overlapping and
// clear are told apart exactly; a unit is so chosen that 1/32 in and 0.1 mm
// are both whole numbers of it.
//
// Every piece is grown by the gap on its far sides, and the goods with it, so
// that pieces may then touch. x runs along the goods, y across.
package skyline

import (
	"math"
	"slices"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// PerMM is the number of units in a millimetre.
const PerMM = 20000

const (
	// sizeNoise is the share of a unit by which a size may miss a whole number
	// and still count as that number: typed sizes convert exactly but for the
	// last bits of a float64.
	sizeNoise = 1e-3
	// goodsSlack is added to the width and the fixed length of goods, in
	// units: 0.0008 mm, a twelfth of lay.CheckTol. Sizes that are no whole
	// number of units are rounded outwards by less than one; without the slack
	// three pieces of a third of the width each would not lie side by side.
	goodsSlack = 16
	// nodeSlack is how far from a place of the pattern, in units, a piece may
	// be put to clear its neighbour: 0.005 mm, half of lay.CheckTol. Repeats
	// are seldom whole numbers of units.
	nodeSlack = 100
	// endless stands for the length of open-ended goods: 1,000 km.
	endless = int64(1) << 44
)

// Rect is a box in units; the far sides are not part of it.
type Rect struct{ X0, Y0, X1, Y1 int64 }

func (r Rect) meets(o Rect) bool { return r.X0 < o.X1 && o.X0 < r.X1 && r.Y0 < o.Y1 && o.Y0 < r.Y1 }

func (r Rect) holds(o Rect) bool {
	return r.X0 <= o.X0 && o.X1 <= r.X1 && r.Y0 <= o.Y0 && o.Y1 <= r.Y1
}

// Way is one way in which a kind may lie.
type Way struct {
	Turn lay.Turn
	L, W int64 // extent along and across, grown by the gap
	// l, w are the same before rounding, in mm.
	l, w float64
	// low is the lower left corner of the turned shape's box, motif the motif
	// point's place from that corner, in mm.
	low, motif geom.Pt
}

// Kind is one size of piece.
type Kind struct {
	Ways          []Way
	Count         int // pieces to lay, the fixed ones taken off
	Area          int64
	copies        []int // the copies that are to be laid
	along, across lay.Phase
	group         int
}

// Bin is one stretch of goods, or a kind of sheet.
type Bin struct {
	L, W   int64 // grown by the gap
	Sheets int   // 0 for as many as needed
	// blocked zones: flaws on every sheet, fixed pieces on their own.
	flaws   []Rect
	fixed   map[int][]Rect
	lattice lay.Lattice
}

// Instance is a lay.Problem in units.
type Instance struct {
	Kinds []Kind
	Bins  []Bin
	Gap   int64
	N     int // pieces to lay
	// Plain tells that nothing but the goods' edges and the other pieces
	// limits where a piece may lie: one open-ended bin without flaws, fixed
	// pieces and pattern.
	Plain  bool
	groups []int // groups with a rule Alike, ascending
	p      lay.Problem
}

// unitsUp rounds a size outwards.
func unitsUp(mm float64) int64 { return int64(math.Ceil(mm*PerMM - sizeNoise)) }

// unitsDown rounds a limit inwards.
func unitsDown(mm float64) int64 { return int64(math.Floor(mm*PerMM + sizeNoise)) }

// New converts a valid problem.
func New(p lay.Problem) *Instance {
	in := &Instance{Gap: unitsUp(p.Gap.MM()), p: p}
	taken := make([]map[int]bool, len(p.Kinds))
	for _, f := range p.Fixed {
		if taken[f.Kind] == nil {
			taken[f.Kind] = map[int]bool{}
		}
		taken[f.Kind][f.Copy] = true
	}
	patterned := false
	for _, b := range p.Bins {
		patterned = patterned || !b.Lattice.None()
	}
	seen := map[int]bool{}
	for i, k := range p.Kinds {
		kind := in.kind(k, patterned)
		for c := 0; c < k.Count; c++ {
			if !taken[i][c] {
				kind.copies = append(kind.copies, c)
			}
		}
		kind.Count = len(kind.copies)
		in.N += kind.Count
		if patterned && (k.Along == lay.Alike || k.Across == lay.Alike) && !seen[k.Group] {
			seen[k.Group] = true
			in.groups = append(in.groups, k.Group)
		}
		in.Kinds = append(in.Kinds, kind)
	}
	for i, b := range p.Bins {
		in.Bins = append(in.Bins, in.bin(i, b))
	}
	last := in.Bins[len(in.Bins)-1]
	in.Plain = len(in.Bins) == 1 && last.L == endless && len(last.flaws) == 0 && len(p.Fixed) == 0 && !patterned
	return in
}

func (in *Instance) kind(k lay.Kind, patterned bool) Kind {
	out := Kind{Area: int64(k.Shape.Area()), along: k.Along, across: k.Across, group: k.Group}
	for t := lay.Turn(0); t < 4; t++ {
		if !k.Turns.Has(t) {
			continue
		}
		box := k.Shape.Turned(int(t)).Bounds()
		w := Way{
			Turn: t, L: unitsUp(box.W()) + in.Gap, W: unitsUp(box.H()) + in.Gap,
			l: box.W() + in.p.Gap.MM(), w: box.H() + in.p.Gap.MM(),
			low: box.Min, motif: k.Motif.Turned(int(t)).Sub(box.Min),
		}
		same := false
		for _, o := range out.Ways {
			moved := patterned && (k.Along != lay.Free || k.Across != lay.Free) && o.motif.Dist(w.motif) > 1e-9
			same = same || o.L == w.L && o.W == w.W && !moved
		}
		if !same {
			out.Ways = append(out.Ways, w)
		}
	}
	return out
}

func (in *Instance) bin(i int, b lay.Bin) Bin {
	out := Bin{W: unitsDown(b.Width.MM()) + in.Gap + goodsSlack, L: endless, Sheets: b.Sheets, lattice: b.Lattice}
	if b.Length > 0 {
		out.L = unitsDown(b.Length.MM()) + in.Gap + goodsSlack
	}
	for _, f := range b.Flaws {
		out.flaws = append(out.flaws, in.blocked(f)...)
	}
	for _, at := range in.p.Fixed {
		if at.Bin != i {
			continue
		}
		if out.fixed == nil {
			out.fixed = map[int][]Rect{}
		}
		out.fixed[at.Sheet] = append(out.fixed[at.Sheet], in.blocked(in.p.Placed(at))...)
	}
	return out
}

// blocked covers a zone with boxes, grown by the gap on their far sides. A box
// is covered by itself; anything else by up to zoneSlices slices, so that a
// slanting flaw or a locked round piece blocks little more than itself.
func (in *Instance) blocked(f geom.Polygon) []Rect {
	box := f.Bounds()
	if len(f) < 3 || box.W() <= 0 || box.H() <= 0 {
		return nil
	}
	n := 1
	if math.Abs(f.Area()) < 0.98*box.W()*box.H() {
		n = zoneSlices
	}
	var out []Rect
	step := box.W() / float64(n)
	for i := range n {
		a, b := box.Min.X+float64(i)*step, box.Min.X+float64(i+1)*step
		lo, hi := spanBetween(f, a, b)
		if lo > hi {
			continue
		}
		r := Rect{unitsDown(a), unitsDown(lo), unitsUp(b) + in.Gap, unitsUp(hi) + in.Gap}
		if m := len(out); m > 0 && out[m-1].Y0 == r.Y0 && out[m-1].Y1 == r.Y1 {
			out[m-1].X1 = r.X1
			continue
		}
		out = append(out, r)
	}
	return out
}

const zoneSlices = 12

// spanBetween is the extent across of the part of f between two lines across.
func spanBetween(f geom.Polygon, a, b float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	take := func(y float64) { lo, hi = math.Min(lo, y), math.Max(hi, y) }
	for i, p := range f {
		q := f[(i+1)%len(f)]
		if p.X > q.X {
			p, q = q, p
		}
		if q.X < a || p.X > b {
			continue
		}
		at := func(x float64) float64 {
			if q.X == p.X {
				return p.Y
			}
			t := math.Max(0, math.Min(1, (x-p.X)/(q.X-p.X)))
			return p.Y + t*(q.Y-p.Y)
		}
		take(at(math.Max(a, p.X)))
		take(at(math.Min(b, q.X)))
		if q.X == p.X {
			take(q.Y)
		}
	}
	return lo, hi
}

// Put is a piece at a place, in units.
type Put struct {
	Kind, Way  int
	Bin, Sheet int
	X, Y       int64
}

// Box is the grown box of a put piece.
func (in *Instance) Box(p Put) Rect {
	w := &in.Kinds[p.Kind].Ways[p.Way]
	return Rect{p.X, p.Y, p.X + w.L, p.Y + w.W}
}

// Lay makes the lay of the puts: fixed pieces first, then the copies of each
// kind in the order of their places from the cut end. Pieces are
// snapped to the marking step. Length and Sheets are filled in, bounds are not.
func (in *Instance) Lay(puts []Put) lay.Lay {
	sorted := slices.Clone(in.Snap(puts))
	sortPuts(sorted)
	out := lay.Lay{Places: append([]lay.Place(nil), in.p.Fixed...)}
	next := make([]int, len(in.Kinds))
	for _, u := range sorted {
		w := in.Kinds[u.Kind].Ways[u.Way]
		out.Places = append(out.Places, lay.Place{
			Kind: u.Kind, Copy: in.Kinds[u.Kind].copies[next[u.Kind]], Bin: u.Bin, Sheet: u.Sheet, Turn: w.Turn,
			At: geom.Pt{X: mm(u.X) - w.low.X, Y: mm(u.Y) - w.low.Y},
		})
		next[u.Kind]++
	}
	out.Length, out.Sheets = lay.Extent(in.p, out.Places)
	return out
}

func mm(u int64) float64 { return float64(u) / PerMM }

// Length is a length in units as millimetres.
func Length(u int64) unit.Length { return unit.Length(mm(u)) }

// RowsOnly tells whether only lays in rows are asked for.
func (in *Instance) RowsOnly() bool { return in.p.RowsOnly }

// Units is a length in whole units, to the nearest.
func Units(l unit.Length) int64 { return int64(math.Round(l.MM() * PerMM)) }

// Squared tells that all pieces are boxes.
func (in *Instance) Squared() bool {
	for _, k := range in.p.Kinds {
		if k.Count > 0 && !k.Square {
			return false
		}
	}
	return true
}

// WayOf is the way of a kind that lies as a turn does.
func (in *Instance) WayOf(kind int, t lay.Turn) int {
	box := in.p.Kinds[kind].Shape.Turned(int(t)).Bounds()
	best := 0
	for i, w := range in.Kinds[kind].Ways {
		if w.Turn == t {
			return i
		}
		if w.L == unitsUp(box.W())+in.Gap && w.W == unitsUp(box.H())+in.Gap {
			best = i
		}
	}
	return best
}

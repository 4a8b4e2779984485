package lay

import (
	"math"
	"sort"
	"strconv"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// CheckTol is the one tolerance of the judge: what a lay may miss a rule by.
// Integers of the search round by 0.00005 mm and a printed marking step of
// 1/16 in is exact in them, so 0.01 mm leaves room for rounding alone.
const CheckTol unit.Length = 0.01

// Codes of the faults that Check finds. Where.Piece holds the piece's name,
// Args the figures.
const (
	CodeMissing    = "lay.piece-missing"
	CodeTwice      = "lay.piece-twice"
	CodeUnknown    = "lay.piece-unknown"
	CodeTurn       = "lay.turn-not-allowed"
	CodeOffGoods   = "lay.off-the-goods"
	CodeOverlap    = "lay.pieces-overlap"
	CodeGap        = "lay.gap-too-small"
	CodeFlaw       = "lay.on-a-flaw"
	CodeNotCentred = "lay.motif-not-centred"
	CodeNotAlike   = "lay.pattern-not-alike"
	CodeMoved      = "lay.locked-piece-moved"
	CodeLength     = "lay.length-wrong"
	CodeBound      = "lay.bound-wrong"
	CodeNoRows     = "lay.no-straight-rows"
)

// Name is how a piece is called: the kind's ID and its number from 1, or the
// ID alone when the kind already names a single piece.
func (p Problem) Name(kind, copy int) string {
	if kind < 0 || kind >= len(p.Kinds) {
		return "?"
	}
	return p.Kinds[kind].ID + strconv.Itoa(copy+1)
}

// Placed is the outline of a piece as it lies.
func (p Problem) Placed(at Place) geom.Polygon {
	return p.Kinds[at.Kind].Shape.Turned(int(at.Turn)).Translate(at.At)
}

// Check is the one judge of a lay. It shares no geometry with the search and
// finds every broken rule: each piece there exactly once, turned as it may,
// on the goods, clear of the others by the gap and of the flaws, on the
// pattern as its phase rule asks, locked pieces where they were, straight rows
// where asked, and the lay's own figures (length, sheets, bound) as they are.
// No fault means the lay is valid.
func Check(p Problem, l Lay) []unit.Fault {
	if len(p.Bins) == 0 {
		return []unit.Fault{{Code: CodeNoGoods}}
	}
	j := &judge{p: p}
	j.counts(l)
	if len(j.faults) > 0 {
		return j.faults
	}
	j.take(l)
	for i := range j.pieces {
		j.edges(i)
		j.flaws(i)
	}
	j.pairs()
	j.pattern()
	j.locked(l)
	j.figures(l)
	if p.RowsOnly && len(j.faults) == 0 {
		j.rows()
	}
	return j.faults
}

type judged struct {
	Place
	shape geom.Polygon
	box   geom.Rect
	parts []geom.Polygon
}

type judge struct {
	p      Problem
	pieces []judged
	faults []unit.Fault
	shapes map[turned][]geom.Polygon // convex parts
}

type turned struct {
	kind int
	turn Turn
}

func (j *judge) fault(code string, at Place, args ...unit.Arg) {
	j.faults = append(j.faults, unit.Fault{Code: code, Where: unit.Where{Piece: j.p.Name(at.Kind, at.Copy), X: at.At.X, Y: at.At.Y, HasXY: true}, Args: args})
}

// known tells whether a place is of a piece of the problem and on goods of it.
func (j *judge) known(at Place) bool {
	ok := at.Kind >= 0 && at.Kind < len(j.p.Kinds) && at.Copy >= 0 && at.Copy < j.p.Kinds[at.Kind].Count &&
		at.Bin >= 0 && at.Bin < len(j.p.Bins) && at.Sheet >= 0 && finite(at.At.X) && finite(at.At.Y)
	if ok {
		n := j.p.Bins[at.Bin].Sheets
		ok = n == 0 || at.Sheet < n
	}
	return ok
}

func (j *judge) counts(l Lay) {
	seen := make([][]int, len(j.p.Kinds))
	for i, k := range j.p.Kinds {
		seen[i] = make([]int, max(0, k.Count))
	}
	for _, at := range l.Places {
		if !j.known(at) {
			j.fault(CodeUnknown, at)
			continue
		}
		if seen[at.Kind][at.Copy]++; seen[at.Kind][at.Copy] > 1 {
			j.fault(CodeTwice, at)
		}
		if at.Turn > 3 || !j.p.Kinds[at.Kind].Turns.Has(at.Turn) {
			j.fault(CodeTurn, at)
		}
	}
	for k := range seen {
		for c, n := range seen[k] {
			if n == 0 {
				j.fault(CodeMissing, Place{Kind: k, Copy: c})
			}
		}
	}
}

func (j *judge) take(l Lay) {
	for _, at := range l.Places {
		j.pieces = append(j.pieces, j.shaped(at))
	}
}

// shaped is a piece as it lies, with its convex parts.
func (j *judge) shaped(at Place) judged {
	k := turned{at.Kind, at.Turn}
	parts, ok := j.shapes[k]
	if !ok {
		parts = convexParts(j.p.Kinds[at.Kind].Shape.Turned(int(at.Turn)))
		if j.shapes == nil {
			j.shapes = map[turned][]geom.Polygon{}
		}
		j.shapes[k] = parts
	}
	m := judged{Place: at, shape: j.p.Placed(at)}
	for _, part := range parts {
		m.parts = append(m.parts, part.Translate(at.At))
	}
	m.box = m.shape.Bounds()
	return m
}

func (j *judge) edges(i int) {
	m, tol := j.pieces[i], float64(CheckTol)
	b := j.p.Bins[m.Bin]
	out := math.Max(math.Max(-m.box.Min.X, -m.box.Min.Y), m.box.Max.Y-float64(b.Width))
	if b.Length > 0 {
		out = math.Max(out, m.box.Max.X-float64(b.Length))
	}
	if out > tol {
		j.fault(CodeOffGoods, m.Place, unit.A("by", unit.Length(out)))
	}
}

// reach is how deep two shapes lie in each other, at least: the deepest of
// their convex parts, or the deepest corner of one inside the other. The parts
// alone would miss a sharp tip that pushes in just where two parts meet, the
// corners alone two bars that cross.
func reach(a, b judged) float64 {
	deepest := math.Inf(-1)
	for _, p := range a.parts {
		for _, q := range b.parts {
			deepest = math.Max(deepest, depth(p, q))
		}
	}
	if deepest > 0 && (len(a.parts) > 1 || len(b.parts) > 1) {
		deepest = math.Max(deepest, math.Max(cornerDepth(a.shape, b.shape), cornerDepth(b.shape, a.shape)))
	}
	return deepest
}

// cornerDepth is how far the corners of b lie inside a.
func cornerDepth(a, b geom.Polygon) float64 {
	deepest, box := 0.0, a.Bounds()
	for _, q := range b {
		if !box.Contains(q) || !inside(a, q) {
			continue
		}
		least := math.Inf(1)
		for i := range a {
			least = math.Min(least, toEdge(q, a[i], a[(i+1)%len(a)]))
		}
		deepest = math.Max(deepest, least)
	}
	return deepest
}

// inside is the even-odd rule.
func inside(g geom.Polygon, q geom.Pt) bool {
	in := false
	for i, a := range g {
		b := g[(i+1)%len(g)]
		if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(b.X-a.X)*(q.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

func (j *judge) flaws(i int) {
	m := j.pieces[i]
	for _, f := range j.p.Bins[m.Bin].Flaws {
		if len(f) < 3 {
			continue
		}
		if f.Area() < 0 {
			f = f.Reverse()
		}
		if !m.box.Grow(float64(j.p.Gap)).Overlaps(f.Bounds()) {
			continue
		}
		if d := reach(m, judged{shape: f, parts: convexParts(f)}); d > float64(CheckTol) {
			j.fault(CodeFlaw, m.Place, unit.A("by", unit.Length(d)))
		} else if g := distance(m.shape, f); g < float64(j.p.Gap-CheckTol) {
			j.fault(CodeFlaw, m.Place, unit.A("by", j.p.Gap-unit.Length(g)))
		}
	}
}

func (j *judge) pairs() {
	order := make([]int, len(j.pieces))
	for i := range order {
		order[i] = i
	}
	sort.Slice(order, func(a, b int) bool { return j.pieces[order[a]].box.Min.X < j.pieces[order[b]].box.Min.X })
	gap := float64(j.p.Gap)
	for s, i := range order {
		a := j.pieces[i]
		for _, k := range order[s+1:] {
			b := j.pieces[k]
			if b.box.Min.X >= a.box.Max.X+gap {
				break
			}
			j.pair(a, b)
		}
	}
}

// pair tells whether a lies clear of b.
func (j *judge) pair(a, b judged) {
	gap := float64(j.p.Gap)
	if a.Bin != b.Bin || a.Sheet != b.Sheet || !a.box.Grow(gap).Overlaps(b.box) {
		return
	}
	other := unit.A("other", j.p.Name(b.Kind, b.Copy))
	if d := reach(a, b); d > float64(CheckTol) {
		j.fault(CodeOverlap, a.Place, other, unit.A("by", unit.Length(d)))
	} else if gap > 0 {
		if g := distance(a.shape, b.shape); g < gap-float64(CheckTol) {
			j.fault(CodeGap, a.Place, other, unit.A("gap", unit.Length(g)), unit.A("least", j.p.Gap))
		}
	}
}

// Residue is where a piece's motif point lies within the repeat: along in
// [0, V), across in [0, H), with the drop of its column taken off. A direction
// without repeat gives 0.
func (l Lattice) Residue(motif geom.Pt) (along, across float64) {
	q := motif.Sub(l.Phase)
	column := 0.0
	if l.Across > 0 {
		column = math.Round(q.Y / float64(l.Across))
		across = wrap(q.Y, float64(l.Across))
	}
	if l.Along > 0 {
		drop := column * l.Drop
		along = wrap(q.X-(drop-math.Floor(drop))*float64(l.Along), float64(l.Along))
	}
	return along, across
}

func wrap(x, m float64) float64 {
	r := math.Mod(x, m)
	if r < 0 {
		r += m
	}
	return r
}

// MotifOf is where a placed piece's motif point lies on the goods.
func (p Problem) MotifOf(at Place) geom.Pt {
	return p.Kinds[at.Kind].Motif.Turned(int(at.Turn)).Add(at.At)
}

// pattern holds every piece against its phase rules. Two pieces are alike when
// the step from one motif point to the other is a step of the lattice: as many
// columns across as it is nearest to, and along a whole number of repeats and
// the drop of those columns. Where the rule across leaves the piece free, the
// column nearest to its motif point counts.
func (j *judge) pattern() {
	along, across := map[int]judged{}, map[int]judged{}
	for _, m := range j.pieces {
		k, l := j.p.Kinds[m.Kind], j.p.Bins[m.Bin].Lattice
		if l.None() {
			continue
		}
		at := j.p.MotifOf(m.Place).Sub(l.Phase)
		if l.Along > 0 && k.Along != Free {
			if first, ok := along[k.Group]; k.Along == Centred {
				j.centred(m.Place, offStep(at.X-l.drop(at.Y), l.Along))
			} else if !ok {
				along[k.Group] = m
			} else {
				other := j.p.MotifOf(first.Place).Sub(j.p.Bins[first.Bin].Lattice.Phase)
				dx, dy := at.X-other.X, l.drop(at.Y)-l.drop(other.Y)
				if k.Across != Free && j.p.Kinds[first.Kind].Across != Free {
					dy = l.drop(at.Y - other.Y)
				}
				j.alike(m.Place, first.Place, offStep(dx-dy, l.Along))
			}
		}
		if l.Across > 0 && k.Across != Free {
			if first, ok := across[k.Group]; k.Across == Centred {
				j.centred(m.Place, offStep(at.Y, l.Across))
			} else if !ok {
				across[k.Group] = m
			} else {
				other := j.p.MotifOf(first.Place).Sub(j.p.Bins[first.Bin].Lattice.Phase)
				j.alike(m.Place, first.Place, offStep(at.Y-other.Y, l.Across))
			}
		}
	}
}

func (j *judge) centred(at Place, by float64) {
	if by > float64(CheckTol) {
		j.fault(CodeNotCentred, at, unit.A("by", unit.Length(by)))
	}
}

func (j *judge) alike(at, first Place, by float64) {
	if by > float64(CheckTol) {
		j.fault(CodeNotAlike, at, unit.A("other", j.p.Name(first.Kind, first.Copy)), unit.A("by", unit.Length(by)))
	}
}

// drop is how much later along the goods the column nearest to y starts than
// column 0, in whole columns times the drop; whole repeats do not matter.
func (l Lattice) drop(y float64) float64 {
	if l.Across == 0 {
		return 0
	}
	return math.Round(y/float64(l.Across)) * l.Drop * float64(l.Along)
}

// offStep is how far x is from the nearest multiple of step.
func offStep(x float64, step unit.Length) float64 {
	return math.Abs(x - math.Round(x/float64(step))*float64(step))
}

func (j *judge) locked(l Lay) {
	for _, f := range j.p.Fixed {
		for _, at := range l.Places {
			if at.Kind != f.Kind || at.Copy != f.Copy {
				continue
			}
			if at.Bin != f.Bin || at.Sheet != f.Sheet || at.Turn != f.Turn || at.At.Dist(f.At) > float64(CheckTol) {
				j.fault(CodeMoved, at)
			}
		}
	}
}

// Extent is the length used along the last bin, or along its last sheet, and
// the number of its sheets used, from the corners of the pieces.
func Extent(p Problem, places []Place) (unit.Length, int) {
	last, sheets, end := len(p.Bins)-1, 0, 0.0
	for _, at := range places {
		if at.Bin == last {
			sheets = max(sheets, at.Sheet+1)
		}
	}
	for _, at := range places {
		if at.Bin == last && at.Sheet == sheets-1 {
			end = math.Max(end, p.Placed(at).Bounds().Max.X)
		}
	}
	return unit.Length(end), sheets
}

func (j *judge) figures(l Lay) {
	length, sheets := Extent(j.p, l.Places)
	open := j.p.Bins[len(j.p.Bins)-1].Sheets == 0
	// Written so that a figure that is not a number is a fault.
	if !(math.Abs(float64(length-l.Length)) <= float64(CheckTol)) || open && sheets != l.Sheets {
		j.faults = append(j.faults, unit.Fault{Code: CodeLength, Args: []unit.Arg{unit.A("said", l.Length), unit.A("is", length)}})
	}
	bad := !open && (!(l.Bound <= length+CheckTol) || l.Proved && !(length-l.Bound <= ProvedWithin+CheckTol))
	bad = bad || open && (l.SheetBound > sheets || l.Proved && l.SheetBound < sheets)
	if bad {
		j.faults = append(j.faults, unit.Fault{Code: CodeBound, Args: []unit.Arg{unit.A("bound", l.Bound), unit.A("is", length)}})
	}
}

// ProvedWithin is how near a lay must come to its bound to be called the
// shortest possible (DESIGN section 5).
const ProvedWithin unit.Length = 0.1

// rows tests that each bin and sheet can be cut by straight lines across the
// whole width first, and each row by straight lines then: along or across, as
// often as needed.
func (j *judge) rows() {
	type where struct{ bin, sheet int }
	groups := map[where][]geom.Rect{}
	first := map[where]Place{}
	var order []where
	for _, m := range j.pieces {
		k := where{m.Bin, m.Sheet}
		if _, ok := groups[k]; !ok {
			order, first[k] = append(order, k), m.Place
		}
		groups[k] = append(groups[k], m.box)
	}
	for _, k := range order {
		for _, row := range slabs(groups[k], true) {
			if !straight(row, false) {
				j.fault(CodeNoRows, first[k])
				break
			}
		}
	}
}

// slabs splits boxes at every line, across the goods (or along them), that
// passes through none of them.
func slabs(boxes []geom.Rect, across bool) [][]geom.Rect {
	span := func(r geom.Rect) (float64, float64) {
		if across {
			return r.Min.X, r.Max.X
		}
		return r.Min.Y, r.Max.Y
	}
	sorted := append([]geom.Rect(nil), boxes...)
	sort.Slice(sorted, func(a, b int) bool {
		x, _ := span(sorted[a])
		y, _ := span(sorted[b])
		return x < y
	})
	var out [][]geom.Rect
	end := math.Inf(-1)
	for _, r := range sorted {
		lo, hi := span(r)
		if len(out) == 0 || lo >= end-float64(CheckTol) {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], r)
		end = math.Max(end, hi)
	}
	return out
}

// straight tells whether boxes can be parted by straight lines from edge to
// edge, alternately along and across.
func straight(boxes []geom.Rect, across bool) bool {
	if len(boxes) <= 1 {
		return true
	}
	parts := slabs(boxes, across)
	if len(parts) == 1 {
		parts = slabs(boxes, !across)
		if len(parts) == 1 {
			return false
		}
		across = !across
	}
	for _, part := range parts {
		if !straight(part, !across) {
			return false
		}
	}
	return true
}

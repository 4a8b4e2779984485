package lay

import (
	"math"
	"slices"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// boundSafety is taken off every bound, in millimetres, for the rounding of
// sums of some thousand float64 terms; a hundredth of ProvedWithin.
const boundSafety = 0.001

func floorUnits(u float64) float64 { return math.Floor(u + sizeNoise) }

// Bounded fills in a lay's Bound, SheetBound and Proved from what can be
// reckoned at once. A larger bound that the lay already has stays.
func Bounded(p Problem, l *Lay) {
	length, sheets := Bound(p)
	l.Claim(p, length, sheets)
}

// Claim raises a lay's bounds to those given, which must be proved ones, and
// says whether the lay is proved by them.
func (l *Lay) Claim(p Problem, length unit.Length, sheets int) {
	l.Bound, l.SheetBound = max(l.Bound, length), max(l.SheetBound, sheets)
	// A lay may be shorter than a bound by what the judge's tolerance lets
	// pieces overlap.
	if l.Bound > l.Length && l.Bound-l.Length <= ProvedWithin {
		l.Bound = l.Length
	}
	if last := p.Bins[len(p.Bins)-1]; last.Sheets == 0 {
		l.Bound = 0
		l.Proved = l.SheetBound >= l.Sheets
		return
	}
	l.SheetBound = 0
	l.Proved = l.Length-l.Bound <= ProvedWithin
}

// Bound gives a proved lower bound on the length along the last bin, and on
// the number of sheets of a repeated one. It is quick: the chord bound with the
// usual dual-feasible functions, and the longest piece.
//
// Every line across the goods meets disjoint pieces in disjoint chords, so for
// every dual-feasible function the length is at least the sum of the pieces'
// graded profiles, each in the turn where it is least. Flaws, pattern, rows
// and locked places only ever make a lay longer.
func Bound(p Problem) (unit.Length, int) {
	m := measureAll(p)
	last := p.Bins[len(p.Bins)-1]
	if last.Sheets == 0 {
		if last.Length == 0 {
			return 0, 0
		}
		return 0, m.sheetBound(p)
	}
	best := 0.0
	for _, u := range m.duals() {
		best = math.Max(best, m.length(u)-m.atHand)
	}
	best -= p.Gap.MM() + boundSafety
	if len(p.Bins) == 1 {
		best = math.Max(best, m.longest-boundSafety)
	}
	for _, f := range p.Fixed {
		if f.Bin == len(p.Bins)-1 {
			best = math.Max(best, p.Placed(f).Bounds().Max.X-boundSafety)
		}
	}
	return unit.Length(math.Max(0, best)), 0
}

// measured holds what the bounds need of the pieces.
type measured struct {
	w     int64 // width in units, with the gap and the slack
	kinds []measuredKind
	// atHand is what the pieces at hand before the last bin can take, in
	// millimetres of the last bin.
	atHand  float64
	longest float64
}

type measuredKind struct {
	count int
	ways  []profile
	boxes []geom.Rect // of the turned shapes, beside ways
}

// measureAll takes the profiles of all kinds in the turns that fit the last
// bin; a kind that fits another bin only is left out, which lowers a bound.
func measureAll(p Problem) measured {
	last := p.Bins[len(p.Bins)-1]
	m := measured{w: int64(floorUnits((last.Width+p.Gap).MM()*boundPerMM)) + widthSlack}
	for _, b := range p.Bins[:len(p.Bins)-1] {
		// A line across a wider piece can carry more than one line here; how
		// much more is bounded by how many lines here it could be cut into.
		lines := 1.0
		if b.Width > last.Width {
			lines = 2 * math.Ceil(float64(b.Width/last.Width))
		}
		m.atHand += lines * (b.Length + p.Gap).MM()
	}
	for _, k := range p.Kinds {
		if k.Count == 0 {
			continue
		}
		mk := measuredKind{count: k.Count}
		least := math.Inf(1)
		elsewhere := false
		for t := Turn(0); t < 4; t++ {
			if !k.Turns.Has(t) {
				continue
			}
			shape := k.Shape.Turned(int(t))
			box := shape.Bounds()
			fits := fitsBin(box, last)
			for _, b := range p.Bins[:len(p.Bins)-1] {
				fits = fits || fitsBin(box, b)
				elsewhere = elsewhere || fitsBin(box, b) && box.H() > last.Width.MM()+float64(CheckTol)
			}
			if !fits {
				continue
			}
			mk.ways = append(mk.ways, profileOf(shape, p.Gap.MM()))
			mk.boxes = append(mk.boxes, box)
			least = math.Min(least, box.W())
		}
		if len(mk.ways) == 0 || elsewhere {
			continue
		}
		m.longest = math.Max(m.longest, least)
		m.kinds = append(m.kinds, mk)
	}
	return m
}

func fitsBin(box geom.Rect, b Bin) bool {
	return box.H() <= (b.Width+CheckTol).MM() && (b.Length == 0 || box.W() <= (b.Length+CheckTol).MM())
}

// length is the sum of the graded profiles, gap included.
func (m measured) length(u dual) float64 {
	sum := 0.0
	for _, k := range m.kinds {
		least := math.Inf(1)
		for _, w := range k.ways {
			least = math.Min(least, u.grade(w))
		}
		sum += float64(k.count) * least
	}
	return sum
}

// maxShares is how many of the functions u_k are tried, maxOwn at how many of
// the pieces' own widths the others are.
const (
	maxShares = 30
	maxOwn    = 24
)

// duals lists the functions worth trying: the identity, u_k, and U_e and
// phi_e at the pieces' own widths.
func (m measured) duals() []dual {
	out := []dual{identity(m.w)}
	for k := int64(1); k <= maxShares; k++ {
		out = append(out, share(m.w, k))
	}
	var own []int64
	for _, k := range m.kinds {
		for _, w := range k.ways {
			c := 0.0
			for _, r := range w {
				c = math.Max(c, math.Max(r.a, r.b))
			}
			own = append(own, int64(floorUnits(c)))
		}
	}
	for i := int64(2); i <= 8; i++ {
		own = append(own, m.w*i/20)
	}
	slices.Sort(own)
	own = slices.Compact(own)
	step := max(1, (len(own)+maxOwn-1)/maxOwn)
	for i := 0; i < len(own); i += step {
		for _, e := range [2]int64{own[i], m.w - own[i]} {
			if e > m.w/1000 && e <= m.w/2 {
				out = append(out, without(m.w, e), counted(m.w, e))
			}
		}
	}
	return out
}

// sheetBound is the least number of sheets: lines across, lines along, each
// with every function.
func (m measured) sheetBound(p Problem) int {
	last := p.Bins[len(p.Bins)-1]
	n := 0.0
	over := func(m measured, length unit.Length) {
		for _, u := range m.duals() {
			n = math.Max(n, (m.length(u)-m.atHand)/(length+p.Gap).MM())
		}
	}
	side := measureAll(onItsSide(p))
	over(m, last.Length)
	over(side, last.Width)
	if len(p.Bins) == 1 {
		n = math.Max(n, boxSheets(p, m, side))
	}
	return int(math.Ceil(n - 1e-6))
}

// boxSheets grades squared pieces both ways at once: the product of a
// function of the width and one of the length never adds up to more than one
// sheet (Fekete and Schepers, "A general framework for bounds for
// higher-dimensional orthogonal packing problems", Mathematical Methods of
// Operations Research 60, 2004). Pieces that keep a gap are apart also when
// each is grown by the square inside the gap's circle.
func boxSheets(p Problem, m, side measured) float64 {
	const inCircle = 0.7071 // a little under the half diagonal of the unit square
	plus := p.Gap.MM() * inCircle
	size := func(mm float64) float64 { return floorUnits((mm + plus) * boundPerMM) }
	last := p.Bins[0]
	across := int64(size(last.Width.MM())) + widthSlack
	along := int64(size(last.Length.MM())) + widthSlack
	best := 0.0
	us, vs := m.boxDuals(across), side.boxDuals(along)
	for _, u := range us {
		for _, v := range vs {
			sum := 0.0
			for _, k := range p.Kinds {
				if !k.Square || k.Count == 0 {
					continue
				}
				least := math.Inf(1)
				for t := Turn(0); t < 4; t++ {
					if box := k.Shape.Turned(int(t)).Bounds(); k.Turns.Has(t) && fitsBin(box, last) {
						least = math.Min(least, u.at(size(box.H()))*v.at(size(box.W())))
					}
				}
				if !math.IsInf(least, 1) {
					sum += float64(k.Count) * least
				}
			}
			best = math.Max(best, sum)
		}
	}
	return best
}

// boxDuals is a short list for products: the identity, the first u_k, and U_e
// at the pieces' own sizes.
func (m measured) boxDuals(w int64) []dual {
	m.w = w
	all := m.duals()
	out := append([]dual(nil), all[:9]...)
	for i := maxShares + 1; i < len(all); i += 2 {
		out = append(out, all[i])
	}
	return out
}

// onItsSide is the problem with along and across exchanged, for bounds: same
// sizes, counts and turns, no rules.
func onItsSide(p Problem) Problem {
	q := Problem{Gap: p.Gap}
	for _, k := range p.Kinds {
		k.Shape = k.Shape.Turned(1)
		q.Kinds = append(q.Kinds, k)
	}
	for _, b := range p.Bins {
		q.Bins = append(q.Bins, Bin{ID: b.ID, Width: b.Length, Length: b.Width, Sheets: b.Sheets})
	}
	return q
}

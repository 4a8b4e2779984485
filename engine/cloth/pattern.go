package cloth

import (
	"math"
	"slices"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// AcrossIs says which of the two distances across the roll was measured.
type AcrossIs uint8

// The two distances. For a straight repeat they are the same.
const (
	BetweenColumns AcrossIs = iota // from one column of motifs to the next, whatever its height
	OnOneLevel                     // from a motif to the next one on the same level of the roll
)

// Pattern is the repeat of a cloth and how seats are to sit on it. The zero
// value is no pattern. Along and Across are given in the cloth's own frame,
// whichever way the seats lie.
type Pattern struct {
	Along    unit.Length // repeat along the roll; 0 for none
	Across   unit.Length // repeat across it, as measured; 0 for none
	AcrossIs AcrossIs
	Drop     float64 // fraction of Along by which the next column starts later: 0 straight, 0.5 half-drop
	NoUpDown bool    // the motif looks the same standing on its head

	RuleAlong, RuleAcross lay.Phase // how the motif point of a seat sits on the repeat

	// Where the first motif lies, once the roll is on the table: along from the
	// squared end, across from the near edge of the usable width.
	FirstAlong, FirstAcross unit.Opt
}

// None tells that nothing repeats in either direction.
func (p Pattern) None() bool { return p.Along == 0 && p.Across == 0 }

// columnsPerLevel is the number of columns after which a motif comes again on
// the same level: the denominator of the drop. It is 0 for a drop that is no
// fraction with a denominator up to maxDrop.
func columnsPerLevel(drop float64) int {
	for q := 1; q <= maxDrop; q++ {
		if n := drop * float64(q); math.Abs(n-math.Round(n)) < dropTol*float64(q) {
			return q
		}
	}
	return 0
}

const (
	// maxDrop is the finest drop that is told apart; printed goods use halves,
	// thirds and quarters.
	maxDrop = 12
	// dropTol lets 0.333 stand for a third: three columns on it is off by
	// 0.001 of the repeat, far less than a repeat can be measured to.
	dropTol = 0.001
)

// Columns is the distance between neighbouring columns of motifs, H. It is 0
// when nothing repeats across, and also when the distance was measured on one
// level and the drop is no simple fraction (Check says so).
func (p Pattern) Columns() unit.Length {
	if p.AcrossIs == BetweenColumns || p.Across == 0 {
		return p.Across
	}
	q := columnsPerLevel(p.Drop)
	if q == 0 {
		return 0
	}
	return p.Across / unit.Length(q)
}

// Lattice gives the motifs' places on the roll. A direction whose first motif
// is not measured has phase 0 there; PhasesAcross gives the phases to try.
func Lattice(c Cloth) lay.Lattice {
	p := c.Pattern
	l := lay.Lattice{Along: p.Along, Across: p.Columns(), Drop: p.Drop}
	if l.Along == 0 || l.Across == 0 {
		l.Drop = 0 // a stripe has no columns that could start lower
	}
	l.Phase = geom.P(phase(p.FirstAlong.Or(0), l.Along), phase(p.FirstAcross.Or(0), l.Across))
	return l
}

func phase(first, repeat unit.Length) float64 {
	if repeat == 0 {
		return 0
	}
	return math.Mod(first.MM(), repeat.MM())
}

// Reach is how far a piece of a kind extends across the roll from its motif
// point at one of its allowed turns: Low towards v = 0, High towards the far
// edge.
type Reach struct{ Low, High unit.Length }

// PhasesAcross gives the phases across, from 0 to below H, that stand for all
// places where the first motif may lie. While it is not measured, which motif
// columns can carry a piece of some kind changes only where a column meets
// Low from the near edge or High from the far one; between two such places all
// phases allow the same lays of lattice-bound pieces, and at such a place more
// is allowed, so the middles of the stretches hold the worst phase. With a
// measured first motif, no repeat across, or a rule other than centred the
// answer is the one phase that matters.
//
// Source: derived; the case of facts 2.5 (27 in seats on a 27 in repeat, two
// or one across) is its test.
func PhasesAcross(c Cloth, reaches []Reach) []unit.Length {
	h := c.Pattern.Columns()
	first := unit.Length(Lattice(c).Phase.Y)
	if h == 0 || c.Pattern.FirstAcross.Set || c.Pattern.RuleAcross != lay.Centred || len(reaches) == 0 {
		return []unit.Length{first}
	}
	var cuts []float64
	for _, r := range reaches {
		for _, at := range []unit.Length{r.Low, c.UsableWidth() - r.High} {
			f := math.Mod(at.MM(), h.MM())
			if f < 0 {
				f += h.MM()
			}
			cuts = append(cuts, f)
		}
	}
	slices.Sort(cuts)
	cuts = slices.CompactFunc(cuts, func(a, b float64) bool { return math.Abs(b-a) < samePhase })
	if n := len(cuts); n > 1 && cuts[0]+h.MM()-cuts[n-1] < samePhase {
		cuts = cuts[:n-1] // the first and the last are one place across the seam
	}
	out := make([]unit.Length, len(cuts))
	for i, a := range cuts {
		b := h.MM() + cuts[0]
		if i+1 < len(cuts) {
			b = cuts[i+1]
		}
		out[i] = unit.Length(math.Mod((a+b)/2, h.MM()))
	}
	slices.Sort(out)
	return out
}

// samePhase is the width in millimetres below which a stretch of phases is no
// stretch: a hundredth of the finest marking step.
const samePhase = 0.01

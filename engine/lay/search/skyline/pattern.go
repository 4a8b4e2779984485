package skyline

import (
	"math"

	"slipseat/engine/lay"
)

// binding tells whether the pattern of a bin limits where a kind may lie.
func binding(b *Bin, k *Kind) bool {
	return k.along != lay.Free && b.lattice.Along > 0 || k.across != lay.Free && b.lattice.Across > 0
}

// maxColumns is how many neighbouring columns of motifs are looked at for one
// free rectangle: drops are simple fractions, so after twelve columns at most
// the same heights come again.
const maxColumns = 12

// onPattern is the place in a free rectangle nearest to the cut end at which
// the pattern lies as the kind's rules ask, and across the lowest of those.
func (f *Filler) onPattern(b *Bin, k *Kind, w *Way, r Rect) (x, y int64, ok bool) {
	l := b.lattice
	var off offset
	for _, o := range f.offs {
		if o.group == k.group {
			off = o
		}
	}
	if k.along != lay.Alike {
		off.along = 0
	}
	if k.across != lay.Alike {
		off.across = 0
	}
	if l.Across > 0 {
		off.across = aroundZero(off.across, l.Across.MM())
	}
	alongBound := k.along != lay.Free && l.Along > 0
	if l.Across == 0 || k.across == lay.Free {
		x, y = r.X0, r.Y0
		if !alongBound {
			return x, y, true
		}
		if l.Across == 0 || l.Drop == 0 {
			x = nextNode(x, l.Phase.X+off.along-w.motif.X, l.Along.MM())
			return x, y, x+w.L <= r.X1
		}
		return freeAcross(l, w, off, r)
	}
	base := l.Phase.Y + off.across - w.motif.Y
	h := l.Across.MM()
	j := math.Ceil((mm(r.Y0-nodeSlack) - base) / h)
	for n := 0; n < maxColumns; n++ {
		cy := min(max(toUnits(base+j*h), r.Y0), r.Y1-w.W)
		if toUnits(base+j*h)+w.W > r.Y1+nodeSlack {
			break
		}
		cx := r.X0
		if alongBound {
			cx = nextNode(cx, l.Phase.X+off.along+shift(l, j)-w.motif.X, l.Along.MM())
		}
		if cx+w.L <= r.X1 && (!ok || cx < x) {
			x, y, ok = cx, cy, true
		}
		if !alongBound || l.Drop == 0 {
			break // every column is like the first
		}
		j++
	}
	return x, y, ok
}

// aroundZero brings an offset between minus and plus half a repeat, so that a
// column's motif is the one nearest to the motif point. Just at the half the
// nearest one is anybody's guess: there the offset gives way a little.
func aroundZero(off, h float64) float64 {
	off -= h * math.Round(off/h)
	if limit := h/2 - 3.0*nodeSlack/PerMM; math.Abs(off) > limit && limit > 0 {
		off = math.Copysign(limit, off)
	}
	return off
}

// freeAcross serves a kind bound along but not across on a pattern with a
// drop: the column nearest to the motif point counts.
func freeAcross(l lay.Lattice, w *Way, off offset, r Rect) (x, y int64, ok bool) {
	h := l.Across.MM()
	for n, at := 0, r.Y0; n < maxColumns && at+w.W <= r.Y1; n++ {
		j := math.Round((mm(at) + w.motif.Y - l.Phase.Y) / h)
		cx := nextNode(r.X0, l.Phase.X+off.along+shift(l, j)-w.motif.X, l.Along.MM())
		if cx+w.L <= r.X1 && (!ok || cx < x) {
			x, y, ok = cx, at, true
		}
		// On to the first height at which the next column is the nearest, kept
		// clear of the middle so that rounding cannot change its mind.
		at = toUnits(l.Phase.Y+(j+0.5)*h-w.motif.Y) + nodeSlack
	}
	return x, y, ok
}

// shift is how much later along the roll column j starts.
func shift(l lay.Lattice, j float64) float64 {
	d := j * l.Drop
	return (d - math.Floor(d)) * l.Along.MM()
}

// nextNode is the first place base + i*step, in units, that is not before x.
func nextNode(x int64, base, step float64) int64 {
	i := math.Ceil((mm(x-nodeSlack) - base) / step)
	return max(x, toUnits(base+i*step))
}

func toUnits(mm float64) int64 { return int64(math.Round(mm * PerMM)) }

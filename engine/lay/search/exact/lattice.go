package exact

import (
	"math"

	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// tolerance is what a pattern's places are let off, in mm: twice what the judge
// lets pass.
const tolerance = 2 * float64(lay.CheckTol)

// OnPattern is the closed form for equal pieces on a pattern, all lying one
// way: a proved lower bound on their length (LAY section 7). Whatever the order
// of their beginnings, the piece as many places later as fit side by side begins
// at least one pitch later, the pitch being the least step from place to place
// that is as long as the piece. Where the pattern binds both ways and drops
// nowhere, or columns are as far apart as pieces are wide, pieces can stand just
// so and the length is the least there is: exact. It gives 0 for other problems.
func OnPattern(p lay.Problem) (length unit.Length, exact bool) {
	k, ok := single(p)
	if !ok {
		return 0, false
	}
	b := p.Bins[0]
	turn, ok := only(k)
	if !ok {
		return 0, false
	}
	box := k.Shape.Turned(turn).Bounds()
	motif := k.Motif.Turned(turn).Sub(box.Min)
	l, w, gap := box.W(), box.H(), p.Gap.MM()
	v, h := b.Lattice.Along.MM(), b.Lattice.Across.MM()
	if k.Along == lay.Free {
		v = 0
	}
	if k.Across == lay.Free {
		h = 0
	}
	side, columns, first := int((b.Width.MM()+gap+tolerance)/(w+gap)), 1, 0
	if h > 0 {
		apart := max(1, int(math.Ceil((w+gap-tolerance)/h)))
		lo := 0.0
		if k.Across == lay.Centred {
			lo = math.Ceil((motif.Y - tolerance - b.Lattice.Phase.Y) / h)
			first = int(lo)
			lo = b.Lattice.Phase.Y + lo*h - motif.Y
		}
		room := b.Width.MM() - w - lo
		if room < -tolerance {
			return 0, false
		}
		columns = 1 + int((room+tolerance)/h)
		side = 1 + (columns-1)/apart
	}
	if side < 1 {
		return 0, false
	}
	rows := float64((k.Count+side-1)/side - 1)
	if v == 0 {
		return unit.Length(rows*(l+gap) + l - boundSafety), true
	}
	// Steps along between places: whole repeats, and where columns drop, also
	// repeats and some columns' drop.
	drop := b.Lattice.Drop
	if b.Lattice.Across == 0 {
		drop = 0
	}
	steps := maxDrops
	if h > 0 {
		// Only columns that are in each other's way must step apart.
		steps = max(1, int(math.Ceil((w+gap-tolerance)/h)))
	}
	pitch, start := math.Inf(1), math.Inf(1)
	for d := -steps + 1; d < steps; d++ {
		at := fraction(float64(d)*drop) * v
		pitch = min(pitch, at+v*math.Ceil((l+gap-tolerance-at)/v))
	}
	if k.Along != lay.Centred {
		start = 0
	} else {
		from, n := first, columns
		if h == 0 {
			from, n = 0, maxDrops
		}
		for j := from; j < from+n; j++ {
			base := b.Lattice.Phase.X + fraction(float64(j)*drop)*v - motif.X
			start = min(start, base+v*math.Ceil((-base-tolerance)/v))
		}
	}
	return unit.Length(max(0, start+rows*pitch+l-2*tolerance)), drop == 0
}

// maxDrops is after how many columns any drop has come round, as a pattern's
// drop is a simple fraction.
const maxDrops = 12

func fraction(x float64) float64 { return x - math.Floor(x) }

// single is the one kind of a problem with one endless stretch of goods.
func single(p lay.Problem) (lay.Kind, bool) {
	found := -1
	for i, k := range p.Kinds {
		if k.Count > 0 {
			if found >= 0 {
				return lay.Kind{}, false
			}
			found = i
		}
	}
	if found < 0 || len(p.Bins) != 1 || p.Bins[0].Length > 0 || p.Bins[0].Sheets != 1 || p.Bins[0].Lattice.None() {
		return lay.Kind{}, false
	}
	return p.Kinds[found], p.Kinds[found].Square
}

// only is the turn of a kind that lies one way, or looks the same in all of its
// turns.
func only(k lay.Kind) (int, bool) {
	first := -1
	for t := range 4 {
		if !k.Turns.Has(lay.Turn(t)) {
			continue
		}
		if first < 0 {
			first = t
			continue
		}
		a, b := k.Shape.Turned(first).Bounds(), k.Shape.Turned(t).Bounds()
		same := math.Abs(a.W()-b.W()) < stepNoise && math.Abs(a.H()-b.H()) < stepNoise
		if !same || k.Motif.Turned(first).Sub(a.Min).Dist(k.Motif.Turned(t).Sub(b.Min)) > stepNoise {
			return 0, false
		}
	}
	return first, first >= 0
}

// stepNoise is the noise of sizes, in mm.
const stepNoise = 1e-6

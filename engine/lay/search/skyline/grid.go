package skyline

import (
	"math"

	"slipseat/engine/unit"
)

// Grid holds the sizes of an instance in whole steps, the largest steps of
// which all sizes are multiples. Sizes that are thirds or sevenths of the goods
// add up exactly in it, and lengths that no lay can have are not looked for.
type Grid struct {
	W     int64    // the goods across, grown by the gap
	Sizes [][]Size // by kind: the ways that fit the goods, at most two
	Count []int    // by kind, the fixed pieces with them
	X, Y  float64  // units in a step along and across
	Gap   float64  // in units
	// GapX, GapY are the gap in steps, when the sizes are exact, and Wide is how
	// wide pieces side by side may be together without their gaps. Two pieces
	// keep the gap also corner to corner, where neither their places along nor
	// those across are that far apart; so grown boxes may overlap a little in a
	// lay, and a proof must look at the sizes that are not grown.
	GapX, GapY, Wide int64
	// Exact tells that the sizes are whole numbers of steps. Else steps are
	// units, the sizes rounded outwards, and nothing can be proved with them.
	Exact bool
}

// Size is a way to lie, in steps.
type Size struct {
	L, W int64
	Way  int // index into Kind.Ways
}

const (
	// leastStep is the smallest step that counts as a common measure, in mm:
	// far more than the judge lets the pieces of one line overlap in all.
	leastStep = 0.2
	// stepNoise is what a size may miss a multiple by, in mm: the noise of a
	// few float64 operations on sizes of metres.
	stepNoise = 1e-6
)

// Grid is the instance's sizes in whole steps, of all kinds or of the squared
// ones alone. It is nil when there is more than one stretch of goods, or sheets.
func (in *Instance) Grid(squaredOnly bool) *Grid {
	if len(in.Bins) != 1 || in.Bins[0].L != endless || in.Bins[0].Sheets != 1 {
		return nil
	}
	g := &Grid{Gap: in.p.Gap.MM() * PerMM}
	var along, across []float64
	turns := false
	for i, k := range in.Kinds {
		var ways []Size
		n := in.p.Kinds[i].Count
		if squaredOnly && !in.p.Kinds[i].Square {
			n = 0
		}
	ways:
		for wi, w := range k.Ways {
			if n == 0 || w.W > in.Bins[0].W || len(ways) == 2 {
				continue
			}
			for _, o := range ways {
				if k.Ways[o.Way].L == w.L && k.Ways[o.Way].W == w.W {
					continue ways
				}
			}
			ways = append(ways, Size{w.L, w.W, wi})
			along, across = append(along, w.l), append(across, w.w)
			if gap := in.p.Gap.MM(); gap > 0 {
				along, across = append(along, gap), append(across, gap)
			}
		}
		if len(ways) == 0 {
			n = 0
		}
		turns = turns || len(ways) == 2
		g.Sizes, g.Count = append(g.Sizes, ways), append(g.Count, n)
	}
	x, y := measure(along), measure(across)
	if turns {
		x = measure(append(along, across...))
		y = x
	}
	if x < leastStep || y < leastStep {
		g.W, g.X, g.Y = in.Bins[0].W, 1, 1
		return g
	}
	g.Exact, g.X, g.Y = true, x*PerMM, y*PerMM
	g.W = int64(math.Floor((in.p.Bins[0].Width+in.p.Gap).MM()/y + float64(goodsSlack)/g.Y))
	g.Wide = g.W
	if in.p.Gap > 0 {
		g.GapX, g.GapY = int64(math.Round(in.p.Gap.MM()/x)), int64(math.Round(in.p.Gap.MM()/y))
		g.Wide = max(1, int64(math.Ceil(in.p.Bins[0].Width.MM()/y+float64(goodsSlack)/g.Y))-1)
		if math.Abs(in.p.Bins[0].Width.MM()/y-float64(g.W-g.GapY)) < float64(goodsSlack)/g.Y {
			g.Wide = max(1, g.W-g.GapY-1) // a whole number of steps: the gap between two needs a part of it
		}
	}
	for i, ways := range g.Sizes {
		for j, z := range ways {
			w := in.Kinds[i].Ways[z.Way]
			ways[j] = Size{int64(math.Round(w.l / x)), int64(math.Round(w.w / y)), z.Way}
		}
	}
	return g
}

// measure is the largest common measure of lengths in mm, or 0 when there is
// none worth speaking of.
func measure(sizes []float64) float64 {
	m, most := 0.0, 0.0
	for _, s := range sizes {
		most = max(most, s)
		for a, b := s, m; ; {
			if b < stepNoise {
				m = a
				break
			}
			r := math.Mod(a, b)
			if b-r < stepNoise {
				r = 0
			}
			a, b = b, r
		}
		if m < leastStep {
			return 0
		}
		// Remainders carry the noise of all quotients; begin the next one with
		// that of the largest size alone.
		m = most / math.Round(most/m)
	}
	for _, s := range sizes {
		if math.Abs(s-m*math.Round(s/m)) > stepNoise {
			return 0
		}
	}
	return m
}

// Put is a put in steps as one in units.
func (g *Grid) Put(kind int, z Size, x, y int64) Put {
	return Put{Kind: kind, Way: z.Way, X: int64(math.Round(float64(x) * g.X)), Y: int64(math.Round(float64(y) * g.Y))}
}

// Reach is how far a lay of a length in units reaches, in steps, rounded up:
// the gap is part of it.
func (g *Grid) Reach(length int64) int64 {
	return int64(math.Ceil((float64(length)+g.Gap)/g.X - 1e-3))
}

// Length is the length in units of a lay that reaches so many steps.
func (g *Grid) Length(reach int64) int64 { return int64(math.Round(float64(reach)*g.X - g.Gap)) }

// MM is the same in millimetres, unrounded.
func (g *Grid) MM(reach int64) unit.Length {
	return unit.Length((float64(reach)*g.X - g.Gap) / PerMM)
}

// Area is that of all pieces, in square steps.
func (g *Grid) Area() int64 {
	sum := int64(0)
	for k, ways := range g.Sizes {
		if g.Count[k] > 0 {
			sum += int64(g.Count[k]) * ways[0].L * ways[0].W
		}
	}
	return sum
}

// maxReach is the longest lay, in steps, for which reachable lengths are told
// from others.
const maxReach = 1 << 17

// Reachable tells for every length up to most, in steps, whether it is a sum of
// lengths of different pieces. Pushed towards the cut end every lay ends in a
// chain of pieces, each behind the next, so its length is such a sum. It is nil
// where that would be too much to reckon.
func (g *Grid) Reachable(most int64) []bool {
	if !g.Exact || most < 0 || most > maxReach {
		return nil
	}
	can := make([]bool, most+1)
	can[0] = true
	used := make([]int32, most+1)
	for k, ways := range g.Sizes {
		n := int32(g.Count[k])
		if n == 0 {
			continue
		}
		// A bounded number of the kind, each one way or the other: used counts
		// the fewest pieces of this kind that reach a sum.
		for i := range used {
			used[i] = n + 1
			if can[i] {
				used[i] = 0
			}
		}
		for i := range used {
			for _, z := range ways {
				if j := int64(i) - z.L; j >= 0 {
					used[i] = min(used[i], used[j]+1)
				}
			}
			can[i] = can[i] || used[i] <= n
		}
	}
	return can
}

// Least is a proved lower bound on how far a lay reaches, in steps: by area and
// by the longest piece, rounded up to the next length that a lay can have. It
// is 0 where the sizes are not exact. can is from Reachable.
func (g *Grid) Least(can []bool) int64 {
	if !g.Exact {
		return 0
	}
	least := (g.Area() + g.W - 1) / g.W
	for k, ways := range g.Sizes {
		if g.Count[k] == 0 {
			continue
		}
		shortest := ways[0].L
		for _, z := range ways {
			shortest = min(shortest, z.L)
		}
		least = max(least, shortest)
	}
	return next(can, least)
}

// next is the first reachable length from l on; l itself where none is known.
func next(can []bool, l int64) int64 {
	for i := l; i < int64(len(can)); i++ {
		if can[i] {
			return i
		}
	}
	return l
}

// below is the last reachable length below l, or l-1 where that is not known.
func below(can []bool, l int64) int64 {
	if l > int64(len(can)) {
		return l - 1
	}
	for i := l - 1; i >= 0; i-- {
		if can[i] {
			return i
		}
	}
	return -1
}

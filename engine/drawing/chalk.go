package drawing

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// ChalkLine is one straight line to draw on the goods: across at a distance
// from the cut end, or along at a distance from the near selvedge's outer
// edge. From and To are where it begins and ends in the other direction.
type ChalkLine struct {
	Across   bool
	At       unit.Length
	From, To unit.Length
	Pieces   []string // numbers of the pieces that it bounds
}

// chalkSame is the distance below which two edges are drawn as one line; half
// a tenth of a millimetre is far less than the width of a chalk line and more
// than float noise.
const chalkSame = 0.05

// chalkJoin is how far two lines on one level may stand apart and still be
// drawn as one: nothing but the gap between pieces lies there.
const chalkJoin = 12

func compare(a, b ChalkLine) int {
	return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.From, b.From))
}

// mergeLines joins lines that lie on one another and stand no farther than join
// apart.
func mergeLines(ls []ChalkLine, join float64) []ChalkLine {
	slices.SortStableFunc(ls, compare)
	// Lines that mean the same chalk line differ by float noise only; give
	// them one distance.
	for i := 1; i < len(ls); i++ {
		if ls[i].At-ls[i-1].At < chalkSame {
			ls[i].At = ls[i-1].At
		}
	}
	slices.SortStableFunc(ls, compare)
	var out []ChalkLine
	for _, l := range ls {
		if n := len(out); n > 0 && out[n-1].At == l.At && l.From.MM() <= out[n-1].To.MM()+join+chalkSame {
			out[n-1].To = max(out[n-1].To, l.To)
			for _, p := range l.Pieces {
				if !slices.Contains(out[n-1].Pieces, p) {
					out[n-1].Pieces = append(slices.Clip(out[n-1].Pieces), p)
				}
			}
			continue
		}
		out = append(out, l)
	}
	return out
}

// squared tells whether a shape is a box with its sides along the goods.
func squared(p geom.Path) bool {
	if len(p) != 4 {
		return false
	}
	b := p.Bounds()
	for _, v := range p {
		onX := math.Abs(v.X-b.Min.X) < 1e-6 || math.Abs(v.X-b.Max.X) < 1e-6
		onY := math.Abs(v.Y-b.Min.Y) < 1e-6 || math.Abs(v.Y-b.Max.Y) < 1e-6
		if !onX || !onY || v.Bulge != 0 {
			return false
		}
	}
	return true
}

// layRow is a stretch of goods that a straight cut can part from the rest, with
// its pieces.
type layRow struct {
	from, to float64
	pieces   []int
}

// pieceRanges writes piece numbers shortly: runs such as A1, A2, A3 as "A1–A3".
func pieceRanges(ids []string) string {
	type number struct {
		letters string
		n       int
	}
	var ns []number
	var rest []string
	for _, id := range ids {
		k := strings.IndexAny(id, "0123456789")
		n, err := strconv.Atoi(id[max(k, 0):])
		if k < 0 || err != nil {
			rest = append(rest, id)
			continue
		}
		ns = append(ns, number{id[:k], n})
	}
	slices.SortFunc(ns, func(a, b number) int { return cmp.Or(cmp.Compare(a.letters, b.letters), cmp.Compare(a.n, b.n)) })
	var out []string
	for i := 0; i < len(ns); {
		j := i
		for j+1 < len(ns) && ns[j+1].letters == ns[i].letters && ns[j+1].n <= ns[j].n+1 {
			j++
		}
		from, to := ns[i].letters+strconv.Itoa(ns[i].n), ns[j].letters+strconv.Itoa(ns[j].n)
		switch {
		case from == to:
			out = append(out, from)
		case ns[j].n == ns[i].n+1:
			out = append(out, from, to)
		default:
			out = append(out, from+"–"+to)
		}
		i = j + 1
	}
	return strings.Join(append(out, rest...), ", ")
}

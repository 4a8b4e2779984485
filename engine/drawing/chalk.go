package drawing

import (
	"cmp"
	"math"
	"slices"
	"sort"
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

// ChalkLines gives the lines that bound the squared pieces of a lay, each once,
// in the order to draw them: first across, from the cut end on, then along,
// row by row. Pieces with other than square outlines are marked by their
// templates and have no lines.
func ChalkLines(in LayIn) []ChalkLine {
	by := in.shift()
	var across, along []ChalkLine
	for _, p := range in.Pieces {
		if !squared(p.Shape) || p.State == Spoiled {
			continue
		}
		b := p.Shape.Bounds()
		u0, u1 := unit.Length(b.Min.X+by.X), unit.Length(b.Max.X+by.X)
		v0, v1 := unit.Length(b.Min.Y+by.Y), unit.Length(b.Max.Y+by.Y)
		across = append(across, ChalkLine{true, u0, v0, v1, []string{p.ID}}, ChalkLine{true, u1, v0, v1, []string{p.ID}})
		along = append(along, ChalkLine{false, v0, u0, u1, []string{p.ID}}, ChalkLine{false, v1, u0, u1, []string{p.ID}})
	}
	across, along = mergeLines(across), mergeLines(along)
	rows := layRows(in)
	rowOf := func(l ChalkLine) int {
		return sort.Search(len(rows), func(i int) bool { return rows[i].to+by.X > l.From.MM()+chalkSame })
	}
	slices.SortStableFunc(along, func(a, b ChalkLine) int {
		return cmp.Or(rowOf(a)-rowOf(b), compare(a, b))
	})
	return append(across, along...)
}

func compare(a, b ChalkLine) int {
	return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.From, b.From))
}

// mergeLines joins lines that lie on one another and touch or overlap.
func mergeLines(ls []ChalkLine) []ChalkLine {
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
		if n := len(out); n > 0 && out[n-1].At == l.At && l.From <= out[n-1].To+chalkSame {
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

// layRow is a stretch of goods that a straight cut across can part from the
// rest, with its pieces.
type layRow struct {
	from, to float64
	pieces   []int
}

// layRows parts a lay where no piece lies across.
func layRows(in LayIn) []layRow {
	order := make([]int, 0, len(in.Pieces))
	for i, p := range in.Pieces {
		if len(p.Shape) > 1 {
			order = append(order, i)
		}
	}
	left := func(i int) float64 { return in.Pieces[i].Shape.Bounds().Min.X }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(left(a), left(b)) })
	var rows []layRow
	for _, i := range order {
		b := in.Pieces[i].Shape.Bounds()
		if n := len(rows); n > 0 && b.Min.X < rows[n-1].to-chalkSame {
			rows[n-1].to = max(rows[n-1].to, b.Max.X)
			rows[n-1].pieces = append(rows[n-1].pieces, i)
			continue
		}
		rows = append(rows, layRow{b.Min.X, b.Max.X, []int{i}})
	}
	return rows
}

// chalkGroup is a heading with tape readings, as the cut sheet lists them.
type chalkGroup struct {
	pieces []string // numbers of the pieces
	values []unit.Length
}

// chalkGroups lists the readings of a lay: across for the whole roll, then
// along for every row; rows with equal readings are one group.
func chalkGroups(in LayIn) (across []unit.Length, along []chalkGroup) {
	lines := ChalkLines(in)
	for _, l := range lines {
		if l.Across {
			across = appendOnce(across, l.At)
		}
	}
	for _, r := range layRows(in) {
		sub := in
		sub.Pieces = nil
		for _, i := range r.pieces {
			sub.Pieces = append(sub.Pieces, in.Pieces[i])
		}
		var values []unit.Length
		for _, l := range ChalkLines(sub) {
			if !l.Across {
				values = appendOnce(values, l.At)
			}
		}
		if len(values) == 0 {
			continue
		}
		slices.Sort(values)
		k := slices.IndexFunc(along, func(g chalkGroup) bool { return sameLengths(g.values, values) })
		if k < 0 {
			k = len(along)
			along = append(along, chalkGroup{values: values})
		}
		for _, p := range sub.Pieces {
			if squared(p.Shape) {
				along[k].pieces = append(along[k].pieces, p.ID)
			}
		}
	}
	return across, along
}

func sameLengths(a, b []unit.Length) bool {
	return slices.EqualFunc(a, b, func(x, y unit.Length) bool { return math.Abs(float64(x-y)) < chalkSame })
}

func appendOnce(ls []unit.Length, l unit.Length) []unit.Length {
	for _, x := range ls {
		if math.Abs(float64(x-l)) < chalkSame {
			return ls
		}
	}
	return append(ls, l)
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

package search

import (
	"slipseat/engine/lay"
	"slipseat/engine/lay/search/skyline"
	"slipseat/engine/unit"
)

// CodeNoRoom is the fault of a piece that finds no place: the goods end, or
// flaws, locked pieces or the pattern leave no room for it.
const CodeNoRoom = "lay.no-room"

// First gives a valid lay at once, already as short as hand work: rows where
// rows win. Without one it tells the faults: what is wrong with the problem,
// or which pieces find no place.
func First(p lay.Problem) (lay.Lay, []unit.Fault) {
	if faults := p.Validate(); len(faults) > 0 {
		return lay.Lay{}, faults
	}
	in := skyline.New(p)
	f := newFirst(in)
	f.run()
	if f.score.Missing > 0 {
		return lay.Lay{}, noRoom(p, in, f.puts)
	}
	l := in.Lay(f.puts)
	lay.Bounded(p, &l)
	return l, nil
}

// Some lays as many pieces as find a place, for a piece of cloth at hand, and
// names those that are missing, in the order of kinds and copies. The lay is
// that of the problem without the missing pieces.
func Some(p lay.Problem) (lay.Lay, []lay.Place, []unit.Fault) {
	if faults := p.Validate(); len(faults) > 0 {
		return lay.Lay{}, nil, faults
	}
	in := skyline.New(p)
	f := newFirst(in)
	f.run()
	l := in.Lay(f.puts)
	return l, missing(p, l), nil
}

func missing(p lay.Problem, l lay.Lay) []lay.Place {
	there := make([]map[int]bool, len(p.Kinds))
	for i := range there {
		there[i] = map[int]bool{}
	}
	for _, at := range l.Places {
		there[at.Kind][at.Copy] = true
	}
	var out []lay.Place
	for i, k := range p.Kinds {
		for c := range k.Count {
			if !there[i][c] {
				out = append(out, lay.Place{Kind: i, Copy: c})
			}
		}
	}
	return out
}

func noRoom(p lay.Problem, in *skyline.Instance, puts []skyline.Put) []unit.Fault {
	var out []unit.Fault
	for _, at := range missing(p, in.Lay(puts)) {
		out = append(out, unit.Fault{Code: CodeNoRoom, Where: unit.Where{Piece: p.Name(at.Kind, at.Copy)}})
	}
	return out
}

// first tries a handful of orders and keeps the best; of equal ones the
// earlier, so rows come first.
type first struct {
	in    *skyline.Instance
	puts  []skyline.Put
	score skyline.Score
	any   bool
	buf   []skyline.Put
}

func newFirst(in *skyline.Instance) *first { return &first{in: in} }

func (f *first) take(puts []skyline.Put, missing int) {
	s := f.in.ScoreOf(puts, missing)
	if !f.any || s.Less(f.score) {
		f.any, f.score = true, s
		f.puts = append(f.puts[:0], puts...)
	}
}

const (
	// manyPieces is where the first lay starts to save work, and veryMany
	// where it keeps to the bare essentials, so that 500 pieces take well
	// under a second.
	manyPieces = 150
	veryMany   = 1000
	// firstPhases is how many settings of free phases the first lay tries, and
	// lastPhases how many when none of those has room for all pieces.
	firstPhases = 6
	lastPhases  = 200
)

func (f *first) run() {
	f.try(firstPhases)
	if f.score.Missing > 0 {
		f.try(lastPhases) // a phase that has room for everything is hard to find
	}
}

func (f *first) try(phaseLimit int) {
	if u := skyline.Uniform(f.in); u != nil {
		f.take(u, 0)
	}
	orders := f.in.Orders()
	if f.in.N > veryMany && len(orders) > 1 {
		orders = orders[:1]
	}
	var tries [][]skyline.Gene
	for _, o := range orders {
		tries = append(tries, o)
		if f.in.N <= manyPieces {
			tries = append(tries, f.in.Lying(o, false), f.in.Lying(o, true))
		}
	}
	if len(tries) == 0 {
		f.take(nil, 0)
		return
	}
	rows := skyline.NewRowFiller(f.in)
	phases := rows.Filler().Phases(phaseLimit)
	for _, ph := range phases {
		rows.Filler().SetPhases(ph)
		for _, o := range tries {
			f.take(rows.Fill(o, f.buf))
		}
	}
	if f.in.RowsOnly() {
		return
	}
	free := skyline.NewFiller(f.in)
	for _, ph := range phases {
		free.SetPhases(ph)
		for _, rule := range []skyline.Rule{skyline.NearestStart, skyline.NearestEnd} {
			free.Rule = rule
			for _, o := range tries {
				f.take(free.Fill(o, f.buf))
			}
		}
	}
}

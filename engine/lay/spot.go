package lay

import (
	"slipseat/engine/unit"
)

// Spot judges one piece that is moved by hand while the others stay, by the
// rules of Check.
type Spot struct{ j *judge }

// NewSpot takes the pieces that stay; each must belong to the problem.
func NewSpot(p Problem, others []Place) *Spot {
	j := &judge{p: p}
	j.take(Lay{Places: others})
	return &Spot{j}
}

// Faults are the rules that a piece breaks where it lies: turn, edges, flaws,
// the pattern, the other pieces, where it is locked, straight rows. Only faults
// of this piece are told.
func (s *Spot) Faults(at Place) []unit.Fault {
	j := *s.j
	j.faults = nil
	if !j.known(at) {
		j.fault(CodeUnknown, at)
		return j.faults
	}
	if at.Turn > 3 || !j.p.Kinds[at.Kind].Turns.Has(at.Turn) {
		j.fault(CodeTurn, at)
	}
	m := j.shaped(at)
	last := len(j.pieces)
	j.pieces = append(j.pieces[:last:last], m)
	j.edges(last)
	j.flaws(last)
	for _, b := range j.pieces[:last] {
		j.pair(m, b)
	}
	before := len(j.faults)
	j.pattern()
	name, mine := j.p.Name(at.Kind, at.Copy), j.faults[:before]
	for _, f := range j.faults[before:] {
		if f.Where.Piece == name {
			mine = append(mine, f)
		}
	}
	j.faults = mine
	j.locked(Lay{Places: []Place{at}})
	if j.p.RowsOnly && len(j.faults) == 0 {
		j.rows()
	}
	return j.faults
}

// Add puts a piece among those that stay.
func (s *Spot) Add(at Place) { s.j.pieces = append(s.j.pieces, s.j.shaped(at)) }

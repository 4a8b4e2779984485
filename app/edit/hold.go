package edit

import (
	"slices"

	"slipseat/app/job"
	"slipseat/engine/unit"
)

// CodeIsCut is the fault of moving a piece that is cut already.
const CodeIsCut = "edit.piece-is-cut"

// How a piece came to be held; each has words of its own.
const (
	HoldMoved   = "move"
	HoldTurned  = "turn"
	HoldLocked  = "lock"
	HoldCut     = "cut"
	HoldSpoiled = "spoil"
)

// Hold keeps a piece where it lies: moved, turned or locked by hand, cut, or
// spoiled. A piece that is cut is never moved again. A spoiled one stays
// where it was cut, and the piece itself is free again, to be cut once more.
type Hold struct {
	How   string // HoldMoved and so on
	Piece string // as it is called
	Lock  job.Lock
}

// Label names the piece.
func (c Hold) Label(job.Job) Label { return label("hold-"+c.How, unit.A("piece", c.Piece)) }

// Apply keeps the piece.
func (c Hold) Apply(j job.Job) (job.Job, []unit.Fault) {
	i := slices.IndexFunc(j.Locked, func(l job.Lock) bool { return samePiece(l, c.Lock) && l.State != job.Spoiled })
	if i >= 0 && j.Locked[i].State == job.Cut && !sameSpot(j.Locked[i], c.Lock) {
		return refuse(j, unit.Fault{Code: CodeIsCut, Where: unit.Where{Piece: c.Piece}, Args: []unit.Arg{unit.A("piece", c.Piece)}})
	}
	out := j
	if i >= 0 {
		c.Lock.Extra = j.Locked[i].Extra
		out.Locked = slices.Clone(j.Locked)
		out.Locked[i] = c.Lock
	} else {
		out.Locked = added(j.Locked, c.Lock)
	}
	return formed(j, out)
}

// Release lets a piece be moved again, cut or not; of a spoiled one it takes
// the mark off, so that it counts as cut where it lies.
type Release struct {
	Piece string
	Lock  job.Lock // names the piece; a spoiled one also by its place
}

// Label names the piece.
func (c Release) Label(job.Job) Label { return label("release", unit.A("piece", c.Piece)) }

// Apply releases the piece.
func (c Release) Apply(j job.Job) (job.Job, []unit.Fault) {
	spoiled := c.Lock.State == job.Spoiled
	mine := func(l job.Lock) bool {
		return samePiece(l, c.Lock) && (l.State == job.Spoiled) == spoiled && (!spoiled || sameSpot(l, c.Lock))
	}
	if !slices.ContainsFunc(j.Locked, mine) {
		return gone(j)
	}
	out := j
	if !spoiled {
		out.Locked = without(j.Locked, mine)
		return out, nil
	}
	// The piece that was to replace it is not needed.
	out.Locked = without(j.Locked, func(l job.Lock) bool { return samePiece(l, c.Lock) && l.State != job.Spoiled || mine(l) })
	back := c.Lock
	back.State = job.Cut
	out.Locked = added(out.Locked, back)
	return formed(j, out)
}

// KeepLay holds the pieces of goods where a lay has them; pieces that are cut
// or spoiled stay as they are.
type KeepLay struct {
	Goods  job.ID
	Locked []job.Lock
}

// Label names the goods.
func (c KeepLay) Label(j job.Job) Label {
	return label("keep-lay", unit.A("name", nameOf(j, c.Goods)))
}

// Apply replaces what was held of these goods.
func (c KeepLay) Apply(j job.Job) (job.Job, []unit.Fault) {
	if indexOf(j, c.Goods) < 0 {
		return gone(j)
	}
	out := j
	out.Locked = without(j.Locked, func(l job.Lock) bool { return l.Goods == c.Goods && l.State == job.Locked })
	for _, l := range c.Locked {
		if !slices.ContainsFunc(out.Locked, func(o job.Lock) bool { return samePiece(o, l) && o.State != job.Spoiled }) {
			out.Locked = append(out.Locked[:len(out.Locked):len(out.Locked)], l)
		}
	}
	return formed(j, out)
}

// ReleaseAll lets all pieces of goods be moved again that are neither cut nor
// spoiled.
type ReleaseAll struct{ Goods job.ID }

// Label names the goods.
func (c ReleaseAll) Label(j job.Job) Label {
	return label("release-all", unit.A("name", nameOf(j, c.Goods)))
}

// Apply releases them.
func (c ReleaseAll) Apply(j job.Job) (job.Job, []unit.Fault) {
	return KeepLay{Goods: c.Goods}.Apply(j)
}

func samePiece(a, b job.Lock) bool {
	return a.Goods == b.Goods && a.Seat == b.Seat && a.Part == b.Part && a.Piece == b.Piece && max(1, a.Sub) == max(1, b.Sub)
}

// sameSpot tells whether two pieces lie on the same place; how it is written
// does not matter.
func sameSpot(a, b job.Lock) bool {
	p, q := a.Engine(), b.Engine()
	return p.On == q.On && p.Sheet == q.Sheet && p.Turn == q.Turn && p.At.Dist(q.At) < 1e-3
}

package plan_test

import (
	"testing"

	"slipseat/engine/buildup"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

// layered is chairs with a second layer of foam from the same sheet.
func layered() plan.Input {
	in := chairs(17, 19, 2, 0.5, 4)
	b := &in.Seats[0].Build
	b.Foam = append(b.Foam, buildup.Layer{Goods: "foam", Thickness: unit.In, Inset: unit.In})
	return in
}

// Every piece of a plan can be named, found again by its name, and stays where
// it is held.
func TestHeldPiecesAreFoundAndStay(t *testing.T) {
	s := newSolver(t)
	in := layered()
	p := s.settle(in, nil)
	for i := range p.Goods {
		g := p.Goods[i]
		for _, at := range g.Lay.Places {
			held := g.Held(p, at)
			if held.Piece != at.Copy+1 {
				t.Errorf("%s: copy %d is for seat %d", g.ID, at.Copy, held.Piece)
			}
			moved := in
			held.At = held.At.Add(geom.P(1000, 0))
			moved.Locked = []plan.Locked{held}
			q := plan.Make(moved, nil, func(lay.ProblemID) (lay.Lay, bool) { return lay.Lay{}, false })
			fixed := q.Find(g.ID).Problem.Fixed
			want := at
			want.At = held.At
			if len(fixed) != 1 || fixed[0] != want {
				t.Errorf("%s: held %+v as %+v, fixed %+v", g.ID, at, held, fixed)
			}
			if other := q.Goods[1-i].Problem.Fixed; len(other) > 0 {
				t.Errorf("held on other goods too: %+v", other)
			}
		}
	}
}

// A spoiled piece takes its place up; the piece is laid again, and what is to
// be used is counted without it.
func TestSpoiledPieceIsLaidAgain(t *testing.T) {
	s := newSolver(t)
	in := chairs(17, 19, 2, 0.5, 4)
	p := s.settle(in, nil)
	g := p.Find("cloth")
	at := g.Lay.Places[1]
	gone := g.Held(p, at)
	gone.Spoiled = true
	in.Locked = []plan.Locked{gone}
	q := s.settle(in, p)
	h := q.Find("cloth")
	if h.Lay == nil || h.Pieces != 4 || len(h.Lay.Places) != 5 {
		t.Fatalf("%d pieces, lay %+v", h.Pieces, h.Lay)
	}
	spoiled, again := 0, 0
	for _, k := range h.Lay.Places {
		name := h.PieceName(k, q)
		switch {
		case h.Kinds[k.Kind].Spoiled > 0:
			spoiled++
			if k.At != at.At || name != g.PieceName(at, p) || h.Number(k) != gone.Piece {
				t.Errorf("%s spoiled at %v, was %v", name, k.At, at.At)
			}
			if back := h.Held(q, k); !back.Same(gone) {
				t.Errorf("named %+v, want %+v", back, gone)
			}
		case name == g.PieceName(at, p):
			again++
		}
	}
	if spoiled != 1 || again != 1 {
		t.Errorf("%d spoiled, %d laid again", spoiled, again)
	}
}

// What an earlier lay of other input has in common with the present problem is
// carried over; a piece that came new is missing.
func TestCarried(t *testing.T) {
	s := newSolver(t)
	p := s.settle(chairs(17, 19, 2, 0.5, 4), nil)
	in := chairs(17, 19, 2, 0.5, 5)
	in.Seats[0].Letter = "B"
	to := p.Find("cloth").Lay.Places[1].At.Add(geom.P(3000, 0))
	in.Locked = []plan.Locked{{Goods: "cloth", Seat: "s1", Part: buildup.PartCover, Piece: p.Find("cloth").Lay.Places[1].Copy + 1, At: to}}
	q := s.settle(in, p)
	places, missing := q.Find("cloth").Carried(q, *p.Find("cloth"), p)
	if len(places) != 4 || len(missing) != 1 || missing[0].Copy != 4 {
		t.Fatalf("%d places, missing %+v", len(places), missing)
	}
	for _, at := range places {
		if at.Copy == in.Locked[0].Piece-1 {
			if at.At != to {
				t.Errorf("the held piece lies at %v", at.At)
			}
			continue
		}
		for _, was := range p.Find("cloth").Lay.Places {
			if was.Copy == at.Copy && was != at {
				t.Errorf("%+v was carried to %+v", was, at)
			}
		}
	}
}

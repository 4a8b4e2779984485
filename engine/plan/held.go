package plan

import (
	"slices"

	"slipseat/engine/buildup"
	"slipseat/engine/lay"
)

// spoiledID ends the ID of a kind that stands for one spoiled piece.
const spoiledID = "-spoiled"

// hold fixes the pieces that are locked or cut, and lays a spoiled one where it
// was cut, as a kind of its own without rules: the cloth is gone there, and the
// piece itself is looked for a place again, on what is left over first because
// that makes the lay no longer.
func (g *GoodsPlan) hold(p *Plan) {
	for _, l := range p.In.Locked {
		kind, copy, ok := g.find(p, l)
		bin := g.bin(l.On)
		if l.Goods != g.ID || !ok || bin < 0 {
			continue // of a build-up or an offcut that is no longer there
		}
		if l.Spoiled {
			k := g.Problem.Kinds[kind]
			k.ID, k.Count, k.Turns, k.Group = k.ID+spoiledID, 1, 1<<l.Turn, 0
			k.Along, k.Across = lay.Free, lay.Free
			gone := g.Kinds[kind]
			gone.Spoiled = l.Piece
			g.Problem.Kinds, g.Kinds = append(g.Problem.Kinds, k), append(g.Kinds, gone)
			kind, copy = len(g.Kinds)-1, 0
		}
		g.Problem.Fixed = append(g.Problem.Fixed, lay.Place{Kind: kind, Copy: copy, Bin: bin, Sheet: l.Sheet, Turn: l.Turn, At: l.At})
	}
}

// bin is the index of the stretch that a held piece lies on: the roll or the
// sheets to buy unless it says otherwise; -1 when there is none.
func (g GoodsPlan) bin(on string) int {
	last := len(g.Problem.Bins) - 1
	if on == "" {
		return last
	}
	return slices.IndexFunc(g.Problem.Bins[:max(0, last)], func(b lay.Bin) bool { return b.ID == on })
}

// slots lists the pieces that are cut of a part for one numbered seat: kind by
// kind, each as often as a seat has it. Welt strips serve all seats.
func (g GoodsPlan) slots(p *Plan, l Locked) []lay.Place {
	var out []lay.Place
	for i, k := range g.Kinds {
		welt := l.Part == buildup.PartWelt
		if k.Blank.Part != l.Part || k.Spoiled > 0 || !welt && p.Seats[k.Seat].ID != l.Seat {
			continue
		}
		from, n := slices.Index(k.Numbers, l.Piece)*max(1, k.Blank.Count), max(1, k.Blank.Count)
		if welt {
			from, n = 0, g.Problem.Kinds[i].Count
		}
		for c := range n {
			if from >= 0 {
				out = append(out, lay.Place{Kind: i, Copy: from + c})
			}
		}
	}
	return out
}

// find gives the kind and the copy of a piece by what a Locked names it by.
func (g GoodsPlan) find(p *Plan, l Locked) (kind, copy int, ok bool) {
	list := g.slots(p, l)
	slot := max(0, l.Sub-1)
	if slot >= len(list) {
		return 0, 0, false
	}
	return list[slot].Kind, list[slot].Copy, true
}

// Where gives the kind and the copy that a Locked names; of a spoiled one those
// of the piece that lies there.
func (g GoodsPlan) Where(p *Plan, l Locked) (kind, copy int, ok bool) {
	if l.Goods != g.ID {
		return 0, 0, false
	}
	if !l.Spoiled {
		return g.find(p, l)
	}
	for _, f := range g.Problem.Fixed {
		if g.Kinds[f.Kind].Spoiled == l.Piece && f.At == l.At && g.Held(p, f).Same(l) {
			return f.Kind, f.Copy, true
		}
	}
	return 0, 0, false
}

// Held names a piece where it lies, so that it can be held there. A spoiled one
// is named as spoiled.
func (g GoodsPlan) Held(p *Plan, at lay.Place) Locked {
	k := g.Kinds[at.Kind]
	l := Locked{Goods: g.ID, Seat: p.Seats[k.Seat].ID, Part: k.Blank.Part, Piece: g.Number(at), Sheet: at.Sheet, Turn: at.Turn, At: at.At, Spoiled: k.Spoiled > 0}
	if at.Bin < len(g.Problem.Bins)-1 {
		l.On = g.Problem.Bins[at.Bin].ID
	}
	list := g.slots(p, l)
	if len(list) < 2 {
		return l
	}
	for slot, q := range list {
		same := q.Kind == at.Kind && q.Copy == at.Copy
		if k.Spoiled > 0 {
			same = g.Problem.Kinds[q.Kind].ID+spoiledID == g.Problem.Kinds[at.Kind].ID
		}
		if same {
			l.Sub = slot + 1
			break
		}
	}
	return l
}

// Same tells whether two name the same piece, wherever it lies.
func (l Locked) Same(o Locked) bool {
	return l.Goods == o.Goods && l.Seat == o.Seat && l.Part == o.Part && l.Piece == o.Piece && max(1, l.Sub) == max(1, o.Sub) && l.Spoiled == o.Spoiled
}

// Carried takes the places of an earlier plan's lay of the same goods over to
// this one's problem: each piece that there still is, where it lay; pieces that
// are held lie where they are held. missing are those without a place.
func (g GoodsPlan) Carried(p *Plan, old GoodsPlan, was *Plan) (places []lay.Place, missing []lay.Place) {
	if old.Lay == nil || len(old.Problem.Bins) != len(g.Problem.Bins) {
		return nil, nil
	}
	type key struct{ kind, copy int }
	at := map[key]lay.Place{}
	for _, q := range old.Lay.Places {
		l := old.Held(was, q)
		if kind, copy, ok := g.find(p, l); ok && !l.Spoiled {
			at[key{kind, copy}] = lay.Place{Kind: kind, Copy: copy, Bin: q.Bin, Sheet: q.Sheet, Turn: q.Turn, At: q.At}
		}
	}
	for _, f := range g.Problem.Fixed {
		at[key{f.Kind, f.Copy}] = f
	}
	for kind, k := range g.Problem.Kinds {
		for copy := range k.Count {
			if q, ok := at[key{kind, copy}]; ok {
				places = append(places, q)
			} else {
				missing = append(missing, lay.Place{Kind: kind, Copy: copy})
			}
		}
	}
	return places, missing
}

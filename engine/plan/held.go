package plan

import "slipseat/engine/lay"

// spoiledID ends the ID of a kind that stands for one spoiled piece.
const spoiledID = "-spoiled"

// hold fixes the pieces that are locked or cut, and lays a spoiled one where it
// was cut, as a kind of its own without rules: the cloth is gone there, and the
// piece itself is looked for a place again, on what is left over first because
// that makes the lay no longer.
func (g *GoodsPlan) hold(p *Plan) {
	for _, l := range p.In.Locked {
		kind, copy, ok := g.find(p, l)
		if l.Goods != g.ID || !ok {
			continue
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
		g.Problem.Fixed = append(g.Problem.Fixed, lay.Place{Kind: kind, Copy: copy, Sheet: l.Sheet, Turn: l.Turn, At: l.At})
	}
}

// slots lists the pieces of a seat's part that are cut for one seat: kind by
// kind, each as often as a seat has it.
func (g GoodsPlan) slots(p *Plan, l Locked) (kinds, nth []int) {
	for i, k := range g.Kinds {
		if p.Seats[k.Seat].ID != l.Seat || k.Blank.Part != l.Part || k.Spoiled > 0 {
			continue
		}
		for c := range max(1, k.Blank.Count) {
			kinds, nth = append(kinds, i), append(nth, c)
		}
	}
	return kinds, nth
}

// find gives the kind and the copy of a piece by what a Locked names it by.
func (g GoodsPlan) find(p *Plan, l Locked) (kind, copy int, ok bool) {
	kinds, nth := g.slots(p, l)
	slot := max(0, l.Sub-1)
	if l.Piece < 1 || slot >= len(kinds) {
		return 0, 0, false
	}
	kind = kinds[slot]
	copy = (l.Piece-1)*max(1, g.Kinds[kind].Blank.Count) + nth[slot]
	return kind, copy, copy < g.Problem.Kinds[kind].Count
}

// Held names a piece where it lies, so that it can be held there. A spoiled one
// is named as spoiled.
func (g GoodsPlan) Held(p *Plan, at lay.Place) Locked {
	k := g.Kinds[at.Kind]
	l := Locked{Goods: g.ID, Seat: p.Seats[k.Seat].ID, Part: k.Blank.Part, Piece: g.Number(at), Sheet: at.Sheet, Turn: at.Turn, At: at.At, Spoiled: k.Spoiled > 0}
	kinds, nth := g.slots(p, l)
	if len(kinds) < 2 {
		return l
	}
	for slot, i := range kinds {
		same := i == at.Kind && nth[slot] == at.Copy%max(1, k.Blank.Count)
		if k.Spoiled > 0 {
			same = g.Problem.Kinds[i].ID+spoiledID == g.Problem.Kinds[at.Kind].ID
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

package stages

import (
	"strings"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/lay/hand"
	"slipseat/engine/unit"
	"slipseat/views/board"
	"slipseat/views/kit"
)

// pieceGroup is the part of the form about the chosen piece.
func (h *hands) pieceGroup(m maker) (kit.Group, bool) {
	p, ok := h.spots[h.chosen]
	if !ok || h.stale || h.laid == nil {
		return kit.Group{}, false
	}
	st := h.state(p)
	who := h.ins[p.in].Pieces[p.nth].For
	g := kit.Group{Head: m.say("hand.head.piece", arg("piece", p.name), arg("seat", who))}
	var words []string
	var which []int
	chosen := 0
	for i, s := range pieceStates {
		if s.state == st {
			chosen = len(words)
		}
		if st == drawing.Spoiled && s.state != drawing.Spoiled && s.state != drawing.IsCut {
			continue
		}
		words, which = append(words, m.say("hand.state-"+s.word)), append(which, i)
	}
	state := kit.Entry{Kind: kit.AChoice, Name: "field:piece-state", Label: m.say("hand.state"), Tip: m.say("hand.state.tip"), Wide: true, Words: words, Chosen: chosen,
		Choose: func(i int) { h.setState(p, which[i]) }}
	g.Entries = append(g.Entries, state)
	at := h.edges(p.at)
	keys := []string{"along", "across"}
	if h.foam {
		keys = []string{"sheet-along", "sheet-across"}
	}
	for i, key := range keys {
		g.Entries = append(g.Entries, h.placeField(m, p, key, i, at[i], st))
	}
	if st == drawing.Spoiled {
		g.Entries = append(g.Entries, h.again(m, p))
		return g, true
	}
	if st != drawing.IsCut {
		lock := m.button("piece-lock", func() { h.act(h.chosen, board.ActMain) })
		if st == drawing.Locked {
			lock.Label = m.say("button.piece-release")
		}
		turn := m.button("piece-turn", func() { h.act(h.chosen, board.ActTurn) })
		turns := h.laid.Goods.Problem.Kinds[p.at.Kind].Turns
		turn.Off = turns&(turns-1) == 0 // one way only
		g.Entries = append(g.Entries, lock, turn)
	}
	return g, true
}

// placeField is where a piece lies, to be typed over.
func (h *hands) placeField(m maker, p spotted, key string, axis int, now unit.Length, st drawing.PieceState) kit.Entry {
	e := kit.Entry{Kind: kit.AField, Name: "field:piece-" + strings.TrimPrefix(key, "sheet-"), Label: m.say("hand." + key), Text: unit.Text(now, m.u.Size)}
	if st == drawing.IsCut || st == drawing.Spoiled {
		e.Kind = kit.AReading
		return e
	}
	e.Commit = func(text string) string {
		l, err := unit.Parse(text, m.u.Size)
		if err != nil {
			s, _ := m.w.Error(err, m.u)
			return s
		}
		by := (l - now).MM()
		if unit.Text(l, m.u.Size) == unit.Text(now, m.u.Size) {
			return ""
		}
		to := p.at
		if axis == 0 {
			to.At = to.At.Add(geom.P(by, 0))
		} else {
			to.At = to.At.Add(geom.P(0, by))
		}
		g := h.laid.Goods
		v := hand.New(g.Problem, g.Lay.Places, p.at.Kind, p.at.Copy).Judge(to)
		if len(v.Faults) > 0 {
			return m.fault(v.Faults[0])
		}
		return m.first(h.desk.Do(edit.Hold{How: edit.HoldMoved, Piece: p.name, Lock: h.lockOf(p, to, edit.HoldMoved)}))
	}
	e.Step = func(text string, dir int, coarse bool) string { return m.stepped(text, m.u.Size, dir, coarse) }
	return e
}

// again says where a spoiled piece is cut once more: from what is left over, or
// from goods that the lay would not need without it.
func (h *hands) again(m maker, p spotted) kit.Entry {
	g := h.laid.Goods
	lost := g.Held(h.laid.Plan, p.at)
	lost.Spoiled = false
	others, end := 0.0, 0.0
	sheets, sheet := 0, 0
	for _, at := range g.Lay.Places {
		to := g.Problem.Placed(at).Bounds().Max.X
		if g.Kinds[at.Kind].Spoiled == 0 && g.Held(h.laid.Plan, at).Same(lost) {
			end, sheet = to, at.Sheet
			continue
		}
		others, sheets = max(others, to), max(sheets, at.Sheet)
	}
	switch {
	case h.foam && sheet > sheets:
		return kit.Entry{Kind: kit.ACaution, Name: "piece-again", Hint: m.say("hand.again-sheet", arg("piece", p.name))}
	case !h.foam && end > others+0.1:
		return kit.Entry{Kind: kit.ACaution, Name: "piece-again", Hint: m.say("hand.again-more", arg("piece", p.name), arg("length", unit.Length(end-others)))}
	}
	return good("piece-again", m.say("hand.again-left", arg("piece", p.name)))
}

// markCut marks all pieces as cut where they lie; what is left over goes to the
// shelf.
func (h *hands) markCut() {
	if c, ok := h.desk.CutCommand(job.ID(h.goods)); ok {
		h.do(c)
	}
}

// handGroup is the part of the form about all that is held by hand.
func (h *hands) handGroup(m maker) (kit.Group, bool) {
	if h.laid == nil || h.stale {
		return kit.Group{}, false
	}
	g := kit.Group{Head: m.say("hand.head.all")}
	locked, cut, spoiled := 0, 0, 0
	for _, l := range m.j.Locked {
		switch {
		case string(l.Goods) != h.goods:
		case l.State == job.Cut:
			cut++
		case l.State == job.Spoiled:
			spoiled++
		default:
			locked++
		}
	}
	if locked+cut+spoiled > 0 {
		g.Entries = append(g.Entries, note("hand-count", m.say("hand.count", arg("locked", locked), arg("cut", cut), arg("spoiled", spoiled))))
	} else {
		g.Entries = append(g.Entries, note("hand-how", m.say("hand.how")))
	}
	g.Entries = append(g.Entries, m.button("keep-lay", func() { h.keepLay(false) }))
	done := false
	if c, ok := m.j.Cloth(job.ID(h.goods)); ok {
		done = c.CutDone
	} else if f, ok := m.j.Foam(job.ID(h.goods)); ok {
		done = f.CutDone
	}
	if done {
		g.Entries = append(g.Entries, good("all-cut", m.say("hand.all-cut")))
	} else {
		g.Entries = append(g.Entries, m.button("mark-cut", h.markCut))
	}
	if locked > 0 {
		g.Entries = append(g.Entries, m.button("release-all", func() { h.do(edit.ReleaseAll{Goods: job.ID(h.goods)}) }))
	}
	return g, true
}

// withHand puts the chosen piece at the head of a form and the rest of the hand
// work behind the first groups.
func (h *hands) withHand(m maker, groups []kit.Group) []kit.Group {
	if g, ok := h.pieceGroup(m); ok {
		groups = append([]kit.Group{g}, groups...)
	}
	if !h.foam && h.laid != nil {
		if _, ok := h.flaw(h.chosen); ok {
			groups = append([]kit.Group{h.flawGroup(m)}, groups...)
		} else {
			groups = append(groups, h.flawGroup(m))
		}
	}
	if g, ok := h.handGroup(m); ok {
		groups = append(groups, g)
	}
	return groups
}

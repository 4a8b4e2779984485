package stages

import (
	"slices"
	"strconv"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/engine/cloth"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
	"slipseat/views/board"
	"slipseat/views/kit"
)

// flaws are those of the roll that is shown.
func (h *hands) flaws() []cloth.Flaw {
	if h.foam {
		return nil
	}
	c, ok := h.desk.Shown().Cloth(job.ID(h.goods))
	if !ok {
		return nil
	}
	return c.Goods().Flaws
}

// flawSlot is the stretch of goods that the flaws lie on: the piece at hand, or
// else the roll; -1 when it is not shown.
func (h *hands) flawSlot() int {
	if h.foam || h.laid == nil || h.stack == nil {
		return -1
	}
	bins, on := h.laid.Goods.Problem.Bins, -1
	for i, sl := range h.slots {
		switch id := bins[sl.bin].ID; {
		case i >= len(h.stack.lays):
		case id == plan.HandBin(h.goods):
			return i
		case id == h.goods:
			on = i
		}
	}
	if on >= 0 && len(bins) > 1 && slices.ContainsFunc(bins, func(b lay.Bin) bool { return b.ID == plan.HandBin(h.goods) }) {
		return -1 // the flaws lie on the piece at hand, which nothing is cut from
	}
	return on
}

func (h *hands) flaw(id string) (cloth.Flaw, bool) {
	for _, f := range h.flaws() {
		if flawID+f.ID == id {
			return f, true
		}
	}
	return cloth.Flaw{}, false
}

// corners are the handles of a chosen flaw.
func corners(r geom.Rect) []board.Handle {
	return []board.Handle{
		{ID: "corner:sw", At: r.Min}, {ID: "corner:se", At: geom.P(r.Max.X, r.Min.Y)},
		{ID: "corner:ne", At: r.Max}, {ID: "corner:nw", At: geom.P(r.Min.X, r.Max.Y)},
	}
}

// cornered is the chosen flaw with a corner dragged to a point of the board, in
// the frame of the lay.
func (h *hands) cornered(handle string, to geom.Pt) geom.Rect {
	f, ok := h.flaw(h.chosen)
	if !ok {
		return geom.Rect{}
	}
	on := h.flawSlot()
	if on < 0 {
		return f.Box
	}
	p, r := to.Sub(h.origin(on)), f.Box
	other := map[string]geom.Pt{"corner:sw": r.Max, "corner:se": geom.P(r.Min.X, r.Max.Y), "corner:ne": r.Min, "corner:nw": geom.P(r.Max.X, r.Min.Y)}[handle]
	return geom.Rect{Min: p, Max: p}.Include(other)
}

// nudgeCorner moves a corner of the chosen flaw by keys.
func (h *hands) nudgeCorner(handle string, dx, dy int, coarse bool) {
	f, ok := h.flaw(h.chosen)
	on := h.flawSlot()
	if !ok || on < 0 {
		return
	}
	step := h.desk.Shown().Step.Length().MM()
	if coarse {
		step *= coarseSteps
	}
	for _, k := range corners(f.Box) {
		if k.ID == handle {
			h.putFlaw(h.chosen, h.cornered(handle, k.At.Add(geom.P(float64(dx)*step, float64(dy)*step)).Add(h.origin(on))))
		}
	}
}

// putFlaw marks a flaw or changes one.
func (h *hands) putFlaw(id string, zone geom.Rect) {
	h.chosen = id
	h.do(edit.PutFlaw{Cloth: job.ID(h.goods), ID: job.ID(id[len(flawID):]), Box: zone})
	h.refresh()
}

func (h *hands) deleteFlaw(id string) {
	h.chosen = ""
	h.do(edit.DeleteFlaw{ID: job.ID(id[len(flawID):])})
	h.refresh()
}

// switchMark begins or gives up the drawing of a flaw.
func (h *hands) switchMark() {
	h.board.SetBand(!h.board.Banding())
	h.refresh()
}

// band marks the box that was drawn as a flaw.
func (h *hands) band(box geom.Rect) {
	on := h.flawSlot()
	if on < 0 || h.stale {
		return
	}
	o := h.origin(on)
	h.putFlaw(flawID+string(h.desk.NewID()), geom.Rect{Min: box.Min.Sub(o), Max: box.Max.Sub(o)})
}

// typedFlaw marks a flaw of a usual size at the cut end, for its figures to be
// typed: the way to a flaw by keyboard.
func (h *hands) typedFlaw() {
	h.putFlaw(flawID+string(h.desk.NewID()), geom.Rect{Max: geom.P(2*unit.In.MM(), 2*unit.In.MM())})
}

// flawGroup is the part of the form about flaws: each as a card, the chosen one
// with its figures.
func (h *hands) flawGroup(m maker) kit.Group {
	g := kit.Group{Head: m.say("hand.head.flaws")}
	for i, f := range h.flaws() {
		id := flawID + f.ID
		l := func(mm float64) string { return m.u.Figure(unit.Length(mm)) }
		number := strconv.Itoa(i + 1)
		g.Entries = append(g.Entries, kit.Entry{Kind: kit.ACard, Name: "flaw-card:" + number, Label: m.say("hand.flaw", arg("number", number)),
			Hint: m.say("hand.flaw-at", arg("from", l(f.Box.Min.X)), arg("to", l(f.Box.Max.X)), arg("near", l(f.Box.Min.Y)), arg("far", m.u.Label(unit.Length(f.Box.Max.Y)))),
			Tap:  func() { h.choose(id) }})
		if id != h.chosen {
			continue
		}
		of := job.ID(f.ID)
		for _, path := range []string{edit.FlawFrom, edit.FlawTo, edit.FlawNear, edit.FlawFar} {
			g.Entries = append(g.Entries, m.measure(of, path))
		}
		del := m.button("delete-flaw", func() { h.deleteFlaw(id) })
		g.Entries = append(g.Entries, m.text(of, edit.FlawNote), del)
	}
	g.Entries = append(g.Entries, m.button("add-flaw", h.typedFlaw))
	return g
}

package stages

import (
	"fmt"
	"image"
	"math"
	"strconv"

	"fyne.io/fyne/v2"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/picture"
	"slipseat/app/session"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/lay/hand"
	"slipseat/engine/unit"
	"slipseat/views/board"
	"slipseat/views/kit"
)

// hands is the middle of a stage on which a lay is worked on by hand: pieces
// are dragged, turned and locked, and flaws are marked on a roll.
type hands struct {
	*drawn
	foam    bool
	refresh func() // of the stage
	pill    *kit.Pill
	turn    *kit.Button
	lock    *kit.Button
	mark    *kit.Button // nil on foam
	before  *kit.Button
	keep    *kit.Button
	all     *fyne.Container

	goods   string
	laid    *session.Laid // what is shown, or nil
	stale   bool
	showOld bool
	chosen  string // ID of a piece or a flaw of the scene
	ins     []drawing.LayIn
	stack   *stack
	slots   []slot
	spots   map[string]spotted
	carry   *carry
}

// slot is one stretch of goods of the stack.
type slot struct{ bin, sheet int }

// spotted is a piece of the scene.
type spotted struct {
	at   lay.Place
	name string
	in   int // index into ins, and of the piece in it
	nth  int
}

// carry is a piece or a flaw in the hand.
type carry struct {
	id      string
	hand    *hand.Hand // nil for a flaw
	from    lay.Place
	to      lay.Place
	verdict hand.Verdict
	zone    geom.Rect // of a flaw, in the frame of the lay
	moved   geom.Rect
}

const (
	pieceID   = "piece:"
	spoiledID = "spoiled:"
	flawID    = "flaw:"
)

// snapReach is how near a piece is drawn to a good place, window units.
const snapReach = 10

func newHands(d *Desk, name string, foam bool, refresh func(), tools ...fyne.CanvasObject) *hands {
	h := &hands{foam: foam, refresh: refresh}
	h.turn = kit.NewButton("button:"+name+"-turn", "turn", "", func() { h.act(h.chosen, board.ActTurn) }).Tip(d.say("hand.turn.tip"))
	h.lock = kit.NewButton("button:"+name+"-lock", "lock", d.say("hand.lock"), func() { h.act(h.chosen, board.ActMain) }).Tip(d.say("hand.lock.tip"))
	h.before = kit.NewButton("button:"+name+"-before", "", d.say("hand.before"), h.switchOld).Tip(d.say("hand.before.tip"))
	h.keep = kit.NewAction("button:"+name+"-keep", "", d.say("hand.keep"), func() { h.keepLay(true) }).Tip(d.say("hand.keep.tip"))
	if !foam {
		h.mark = kit.NewButton("button:roll-mark", "flaw", d.say("hand.mark"), h.switchMark).Tip(d.say("hand.mark.tip"))
		tools = append(tools, h.mark)
	}
	tools = append(tools, h.lock, h.turn, h.before, h.keep)
	h.drawn = newDrawn(d, name, tools...)
	h.pill = kit.NewPill(" ", true).Called("lay:" + name)
	h.all = &fyne.Container{Layout: pilled{}, Objects: []fyne.CanvasObject{h.drawn.all, h.pill}}
	b := h.board
	b.OnChoose = h.choose
	b.OnGrab, b.OnCarry, b.OnMove, b.OnCancel = h.grab, h.follow, h.drop, h.letGo
	b.OnNudgePiece, b.OnAct = h.nudge, h.act
	b.OnMenu = h.menu
	b.OnBand, b.OnBandEnd = h.band, h.refresh
	b.OnCommit = func(handle string, to geom.Pt) { h.putFlaw(h.chosen, h.cornered(handle, to)) }
	b.OnNudge = h.nudgeCorner
	return h
}

// show puts the lay of goods on the board, or what there is of it.
func (h *hands) show(goods string) {
	g := h.desk.Plan().Find(goods)
	if h.carry != nil {
		if goods == h.goods && g != nil && h.laid != nil && g.PID == h.laid.Goods.PID {
			return // a piece is in the hand; what is below it stays
		}
		h.carry = nil
		h.board.Cancel()
	}
	if goods != h.goods {
		h.chosen, h.showOld = "", false
		h.board.SetBand(false)
	}
	h.goods = goods
	h.laid, h.stale = nil, false
	old := h.desk.OldLay(goods)
	h.showOld = h.showOld && old != nil
	switch {
	case g == nil:
	case h.showOld:
		h.laid, h.stale = old, true
	case g.Lay != nil:
		h.laid = &session.Laid{Plan: h.desk.Plan(), Goods: g}
	default:
		h.laid, h.stale = h.desk.LastLay(goods), true
	}
	h.gather()
	h.scene()
	h.tools_(g != nil && g.Lay != nil, old != nil)
	words, fine := h.desk.status(goods, g)
	if h.showOld {
		words, fine = h.desk.say("lay.old", arg("length", h.desk.reach(h.laid.Goods))), false
	}
	h.pill.Set(words, fine)
	kit.Relayout(h.all)
}

// tools_ shows the buttons that can be used now.
func (h *hands) tools_(laid, old bool) {
	at, isPiece := h.spots[h.chosen]
	free := isPiece && !h.stale && h.state(at) != drawing.IsCut && h.state(at) != drawing.Spoiled
	setVisible(h.lock, free)
	setVisible(h.turn, free)
	h.lock.SetWords(h.desk.say("hand.lock"))
	if isPiece && h.state(at) == drawing.Locked {
		h.lock.SetWords(h.desk.say("hand.release"))
	}
	setVisible(h.before, old)
	h.before.SetWords(h.desk.say("hand.before"))
	if h.showOld {
		h.before.SetWords(h.desk.say("hand.now"))
	}
	setVisible(h.keep, h.showOld)
	if h.mark != nil {
		setVisible(h.mark, laid && !h.showOld)
		h.mark.SetChosen(h.board.Banding())
	}
	kit.Relayout(h.tools)
}

func (h *hands) pictures() picture.Maker {
	return picture.Maker{Plan: h.laid.Plan, Words: h.desk.Words, Units: h.desk.Units(), Tile: h.desk.Tile}
}

// gather makes the pictures and finds each piece's place in them.
func (h *hands) gather() {
	h.ins, h.slots, h.spots, h.stack = nil, nil, map[string]spotted{}, nil
	if h.laid == nil {
		return
	}
	g := h.laid.Goods
	h.ins = h.pictures().Goods(g, h.stale, "")
	for bin, b := range g.Problem.Bins {
		sheets := max(1, b.Sheets)
		if b.Sheets == 0 {
			sheets = g.Lay.Sheets
		}
		for s := range sheets {
			// As the pictures: stretches that nothing lies on are not shown.
			used := len(g.Lay.Places) == 0
			for _, at := range g.Lay.Places {
				used = used || at.Bin == bin && at.Sheet == s
			}
			if used {
				h.slots = append(h.slots, slot{bin, s})
			}
		}
	}
	for i, sl := range h.slots {
		if i >= len(h.ins) {
			break
		}
		n := 0
		for _, at := range g.Lay.Places {
			if at.Bin != sl.bin || at.Sheet != sl.sheet {
				continue
			}
			p := spotted{at: at, name: g.PieceName(at, h.laid.Plan), in: i, nth: n}
			id := pieceID + p.name
			if g.Kinds[at.Kind].Spoiled > 0 {
				id = spoiledID + p.name
			}
			for k := 2; ; k++ {
				if _, taken := h.spots[id]; !taken {
					break
				}
				id = pieceID + p.name + "#" + strconv.Itoa(k)
			}
			h.spots[id] = p
			h.ins[i].Pieces[n].Selected = id == h.chosen
			n++
		}
	}
}

func (h *hands) state(p spotted) drawing.PieceState {
	if p.in >= len(h.ins) || p.nth >= len(h.ins[p.in].Pieces) {
		return drawing.Planned
	}
	return h.ins[p.in].Pieces[p.nth].State
}

// origin is where a slot's frame of the lay has its origin on the board.
func (h *hands) origin(i int) geom.Pt { return h.stack.at[i].Add(h.stack.lays[i].Frame()) }

// scene puts what was gathered on the board.
func (h *hands) scene() {
	if len(h.ins) == 0 {
		h.note.SetText("")
		h.board.SetScene(board.Scene{Bounds: geom.Rect{Max: geom.P(1000, 1000)}})
		return
	}
	// The line about the cloth stands beside the buttons of the view, where it
	// can be wrapped.
	h.note.SetText(h.ins[0].Foot)
	ins := append([]drawing.LayIn{}, h.ins...)
	for i := range ins {
		ins[i].Foot = ""
		ins[i].Pieces = append([]drawing.Piece{}, ins[i].Pieces...)
	}
	if c := h.carry; c != nil && c.hand != nil {
		p := h.spots[c.id]
		ins[p.in].Pieces[p.nth].Elsewhere = true
		ins[p.in].Pieces[p.nth].Selected = false
	}
	d := stacked(ins)
	h.stack = d
	s := board.Scene{Bounds: d.bounds, Paint: paint(h.desk.Words, h.desk.Units(), d.draw), Chosen: h.chosen, PaintPiece: h.paintPiece, PaintBand: h.paintBand}
	for _, in := range d.order(h.spots) {
		p := h.spots[in]
		st := h.state(p)
		s.Pieces = append(s.Pieces, board.Piece{ID: in, Loose: !h.stale && st != drawing.IsCut && st != drawing.Spoiled,
			Ring:  h.ins[p.in].Pieces[p.nth].Shape.Translate(h.origin(p.in)).FlattenOut(geom.ChordTol),
			Value: h.told(p, st)})
	}
	if on := h.flawSlot(); !h.stale && on >= 0 {
		for _, f := range h.flaws() {
			id := flawID + f.ID
			zone := f.Box
			zone = geom.Rect{Min: zone.Min.Add(h.origin(on)), Max: zone.Max.Add(h.origin(on))}
			s.Pieces = append(s.Pieces, board.Piece{ID: id, Loose: true, Ring: zone.Path().Flatten(1),
				Value: fmt.Sprintf("%.2f %.2f %.2f %.2f", f.Box.Min.X, f.Box.Min.Y, f.Box.Max.X, f.Box.Max.Y)})
			if id == h.chosen {
				s.Handles = corners(zone)
				s.BandOf = func(handle string, to geom.Pt) geom.Rect {
					r := h.cornered(handle, to)
					return geom.Rect{Min: r.Min.Add(h.origin(on)), Max: r.Max.Add(h.origin(on))}
				}
			}
		}
	}
	h.board.SetScene(s)
}

// told is what scripts are told of a piece: where its box lies, its turn and
// its state.
func (h *hands) told(p spotted, st drawing.PieceState) string {
	b := h.laid.Goods.Problem.Placed(p.at).Bounds()
	state := [...]string{"planned", "locked", "cut", "spoiled", "misplaced", "pushing"}[st]
	mm := func(v float64) float64 { return math.Round(v*100)/100 + 0 } // no minus zero
	return fmt.Sprintf("%.2f %.2f %.2f %.2f %d %d %s", mm(b.Min.X), mm(b.Min.Y), mm(b.Max.X), mm(b.Max.Y), p.at.Turn, p.at.Sheet, state)
}

// order lists the pieces as they are drawn.
func (s *stack) order(spots map[string]spotted) []string {
	n := 0
	starts := make([]int, len(s.lays)+1)
	count := make([]int, len(s.lays))
	for _, p := range spots {
		count[p.in]++
		n++
	}
	for i, c := range count {
		starts[i+1] = starts[i] + c
	}
	out := make([]string, n)
	for id, p := range spots {
		out[starts[p.in]+p.nth] = id
	}
	return out
}

// style and paint of what is carried.

func (h *hands) paintPiece(dst *image.RGBA, f board.Frame, id string, by geom.Pt) {
	c := h.carry
	if c == nil || c.id != id || h.laid == nil {
		return
	}
	var d func(drawing.Style) drawing.Drawing
	if c.hand == nil {
		on := max(0, h.flawSlot())
		d = func(drawing.Style) drawing.Drawing { return drawing.Band(h.ins[on], c.moved).Placed(1, h.stack.at[on]) }
	} else {
		p := h.spots[id]
		piece := h.ins[p.in].Pieces[p.nth].Moved(by)
		switch {
		case len(c.verdict.Faults) > 0:
			piece.State, piece.Selected = drawing.Misplaced, false
		case len(c.verdict.MakeWay) > 0:
			piece.State, piece.Selected = drawing.Pushing, false
		}
		d = func(st drawing.Style) drawing.Drawing {
			return drawing.Alone(h.ins[p.in], piece, st).Placed(1, h.stack.at[p.in])
		}
	}
	paint(h.desk.Words, h.desk.Units(), d)(dst, f)
}

func (h *hands) paintBand(dst *image.RGBA, f board.Frame, box geom.Rect) {
	on := h.flawSlot()
	if on < 0 {
		return
	}
	zone := geom.Rect{Min: box.Min.Sub(h.origin(on)), Max: box.Max.Sub(h.origin(on))}
	paint(h.desk.Words, h.desk.Units(), func(drawing.Style) drawing.Drawing {
		return drawing.Band(h.ins[on], zone).Placed(1, h.stack.at[on])
	})(dst, f)
}

// choose makes a piece or a flaw the chosen one; "" for none.
func (h *hands) choose(id string) {
	h.chosen = id
	h.refresh()
}

// grab takes a piece or a flaw into the hand. The search waits meanwhile: the
// pieces below must not move under it.
func (h *hands) grab(id string) {
	h.chosen = id
	c := &carry{id: id}
	if p, ok := h.spots[id]; ok {
		g := h.laid.Goods
		c.hand, c.from, c.to = hand.New(g.Problem, g.Lay.Places, p.at.Kind, p.at.Copy), p.at, p.at
	} else if f, ok := h.flaw(id); ok {
		c.zone, c.moved = f.Box, f.Box
	} else {
		return
	}
	h.desk.HoldSearch()
	h.carry = c
	h.scene()
}

// follow moves what is in the hand and gives the way it really went.
func (h *hands) follow(id string, by geom.Pt) geom.Pt {
	c := h.carry
	if c == nil || c.id != id {
		return by
	}
	if c.hand == nil {
		step := h.desk.Shown().Step.Length()
		snap := func(v float64) float64 { return unit.RoundNearest(unit.Length(v), step).MM() }
		way := geom.P(snap(c.zone.Min.X+by.X)-c.zone.Min.X, snap(c.zone.Min.Y+by.Y)-c.zone.Min.Y)
		c.moved = geom.Rect{Min: c.zone.Min.Add(way), Max: c.zone.Max.Add(way)}
		return way
	}
	p := h.spots[id]
	to, on := h.target(p, by)
	to = c.hand.Snap(to, snapReach/h.board.View().Scale)
	if to != c.to {
		c.to, c.verdict = to, c.hand.Judge(to)
		words, fine := h.carried(p.name, c)
		h.pill.Set(words, fine)
		kit.Relayout(h.all)
	}
	return to.At.Add(h.origin(on)).Sub(c.from.At.Add(h.origin(p.in)))
}

// target is the place that a piece moved by a vector on the board comes to,
// and on which stretch of goods: the one that its middle is nearest to.
func (h *hands) target(p spotted, by geom.Pt) (lay.Place, int) {
	middle := h.laid.Goods.Problem.Placed(p.at).Bounds().Center().Add(h.origin(p.in)).Add(by)
	on, best := p.in, math.Inf(1)
	for i, l := range h.stack.lays {
		b := l.Geometry().Bounds
		lo, hi := b.Min.Y+h.stack.at[i].Y, b.Max.Y+h.stack.at[i].Y
		if d := math.Max(0, math.Max(lo-middle.Y, middle.Y-hi)); d < best {
			on, best = i, d
		}
	}
	to := p.at
	to.Bin, to.Sheet = h.slots[on].bin, h.slots[on].sheet
	to.At = p.at.At.Add(h.origin(p.in)).Add(by).Sub(h.origin(on))
	return to, on
}

// carried says where the piece in the hand is and what is in its way.
func (h *hands) carried(name string, c *carry) (words string, fine bool) {
	switch {
	case len(c.verdict.Faults) > 0:
		return h.desk.say("hand.cannot", arg("piece", name), arg("why", h.desk.Words.Fault(c.verdict.Faults[0], h.desk.Units()))), false
	case len(c.verdict.MakeWay) > 0:
		g, names := h.laid.Goods, ""
		for i, o := range c.verdict.MakeWay {
			if i > 0 {
				names += ", "
			}
			names += g.PieceName(o, h.laid.Plan)
		}
		return h.desk.say("hand.pushes", arg("piece", name), arg("others", names)), false
	}
	at, key := h.edges(c.to), "hand.at"
	if h.foam {
		key = "hand.sheet-at"
	}
	return h.desk.say(key, arg("piece", name), arg("along", at[0]), arg("across", at[1])), true
}

// edges is how far a piece's box lies from the cut end and from the outer edge
// of the near selvedge, or from the sheet's own edges.
func (h *hands) edges(at lay.Place) [2]unit.Length {
	b := h.laid.Goods.Problem.Placed(at).Bounds()
	up := geom.Pt{}
	for i, sl := range h.slots {
		if sl.bin == at.Bin && sl.sheet == at.Sheet && i < len(h.stack.lays) {
			up = h.stack.lays[i].Frame()
		}
	}
	return [2]unit.Length{unit.Length(b.Min.X + up.X), unit.Length(b.Min.Y + up.Y)}
}

// letGo puts back what is in the hand.
func (h *hands) letGo() {
	if h.carry == nil {
		return
	}
	h.carry = nil
	h.desk.LetSearch()
	h.refresh()
}

// drop lays what is in the hand down where it is.
func (h *hands) drop(id string, _ geom.Pt) {
	c := h.carry
	if c == nil || c.id != id {
		return
	}
	h.carry = nil
	if c.hand == nil {
		if c.moved != c.zone {
			h.putFlaw(id, c.moved)
			return
		}
	} else if p := h.spots[id]; c.to != c.from {
		if h.hold(p, c.to, edit.HoldMoved, c.verdict) {
			return
		}
	}
	h.desk.LetSearch()
	h.refresh()
}

// hold commits a place for a piece; a place where it cannot be is told.
func (h *hands) hold(p spotted, to lay.Place, how string, v hand.Verdict) bool {
	if len(v.Faults) > 0 {
		h.tell("piece-stays", arg("piece", p.name), arg("why", h.desk.Words.Fault(v.Faults[0], h.desk.Units())))
		return false
	}
	return h.do(edit.Hold{How: how, Piece: p.name, Lock: h.lockOf(p, to, how)})
}

func (h *hands) lockOf(p spotted, to lay.Place, how string) job.Lock {
	l := h.laid.Goods.Held(h.laid.Plan, to)
	l.Cut, l.Spoiled = how == edit.HoldCut, how == edit.HoldSpoiled || l.Spoiled
	return job.LockOf(l)
}

// do commits a command and tells what is wrong with it.
func (h *hands) do(c edit.Command) bool {
	faults := h.desk.Do(c)
	if len(faults) > 0 {
		h.desk.Tell(session.Notice{Fault: &faults[0]})
		return false
	}
	return true
}

func (h *hands) tell(code string, args ...unit.Arg) {
	h.desk.Tell(session.Notice{Code: code, Args: args})
}

// nudge moves the chosen piece or flaw by keys.
func (h *hands) nudge(id string, dx, dy int, coarse bool) {
	n := fineSteps
	if coarse {
		n = coarseSteps
	}
	if f, ok := h.flaw(id); ok {
		step := h.desk.Shown().Step.Length().MM() * float64(n)
		by := geom.P(float64(dx)*step, float64(dy)*step)
		h.putFlaw(id, geom.Rect{Min: f.Box.Min.Add(by), Max: f.Box.Max.Add(by)})
		return
	}
	p, ok := h.movable(id)
	if !ok {
		return
	}
	g := h.laid.Goods
	in := hand.New(g.Problem, g.Lay.Places, p.at.Kind, p.at.Copy)
	if to := in.Nudge(p.at, dx*n, dy*n); to != p.at {
		h.hold(p, to, edit.HoldMoved, in.Judge(to))
	}
}

// movable gives a piece that may be moved by hand, and tells why one may not.
func (h *hands) movable(id string) (spotted, bool) {
	p, ok := h.spots[id]
	if !ok || h.stale {
		return p, false
	}
	switch h.state(p) {
	case drawing.IsCut:
		f := unit.Fault{Code: edit.CodeIsCut, Where: unit.Where{Piece: p.name}, Args: []unit.Arg{arg("piece", p.name)}}
		h.desk.Tell(session.Notice{Fault: &f})
		return p, false
	case drawing.Spoiled:
		return p, false
	}
	return p, true
}

// act does by key or button what can be done with a piece or a flaw: lock or
// release it, turn it, delete a flaw.
func (h *hands) act(id string, a board.Act) {
	if _, ok := h.flaw(id); ok {
		if a == board.ActDelete {
			h.deleteFlaw(id)
		}
		return
	}
	p, ok := h.movable(id)
	if !ok {
		return
	}
	switch a {
	case board.ActMain:
		if h.state(p) == drawing.Locked {
			h.do(edit.Release{Piece: p.name, Lock: h.lockOf(p, p.at, edit.HoldLocked)})
		} else {
			h.do(edit.Hold{How: edit.HoldLocked, Piece: p.name, Lock: h.lockOf(p, p.at, edit.HoldLocked)})
		}
	case board.ActTurn:
		g := h.laid.Goods
		in := hand.New(g.Problem, g.Lay.Places, p.at.Kind, p.at.Copy)
		to, ok := in.Turned(p.at)
		if !ok {
			h.tell("one-turn", arg("piece", p.name))
			return
		}
		h.hold(p, to, edit.HoldTurned, in.Judge(to))
	}
}

// menu shows what can be done with what was clicked.
func (h *hands) menu(hit board.Hit, _ geom.Pt, at fyne.Position) {
	if h.stale || hit.Piece == "" || h.desk.PopUp == nil {
		return
	}
	h.choose(hit.Piece)
	entry := func(key string, off bool, do func()) kit.MenuEntry {
		return kit.MenuEntry{Name: "menu:" + key, Words: h.desk.say(key), Off: off, Do: do}
	}
	if _, ok := h.flaw(hit.Piece); ok {
		h.desk.PopUp(at, entry("hand.delete-flaw", false, func() { h.deleteFlaw(hit.Piece) }))
		return
	}
	p, ok := h.spots[hit.Piece]
	if !ok {
		return
	}
	st := h.state(p)
	var list []kit.MenuEntry
	for i, s := range pieceStates {
		if s.state == drawing.Planned && st == drawing.Spoiled {
			continue
		}
		list = append(list, kit.MenuEntry{Name: "menu:hand.state-" + s.word, Words: h.desk.say("hand.state-" + s.word), Checked: s.state == st, Do: func() { h.setState(p, i) }})
	}
	list = append(list, kit.MenuEntry{}, entry("hand.turn", st == drawing.IsCut || st == drawing.Spoiled, func() { h.act(hit.Piece, board.ActTurn) }))
	h.desk.PopUp(at, list...)
}

// pieceStates are what a piece can be marked as.
var pieceStates = []struct {
	word  string
	state drawing.PieceState
	how   string
}{{"planned", drawing.Planned, ""}, {"locked", drawing.Locked, edit.HoldLocked}, {"cut", drawing.IsCut, edit.HoldCut}, {"spoiled", drawing.Spoiled, edit.HoldSpoiled}}

// setState marks a piece.
func (h *hands) setState(p spotted, i int) {
	now, to := h.state(p), pieceStates[i]
	switch {
	case now == to.state:
	case now == drawing.Spoiled:
		h.do(edit.Release{Piece: p.name, Lock: h.lockOf(p, p.at, edit.HoldSpoiled)})
	case to.state == drawing.Planned:
		h.do(edit.Release{Piece: p.name, Lock: h.lockOf(p, p.at, edit.HoldLocked)})
	default:
		h.do(edit.Hold{How: to.how, Piece: p.name, Lock: h.lockOf(p, p.at, to.how)})
	}
}

// switchOld shows the lay from before the last change, or the present one.
func (h *hands) switchOld() {
	h.showOld = !h.showOld
	h.chosen = ""
	h.board.SetBand(false)
	h.refresh()
}

// keepLay holds all pieces where they lie, in the old lay or in this one.
func (h *hands) keepLay(old bool) {
	c, left := h.desk.Keeping(h.goods, old)
	h.showOld = false
	if h.do(c) && left > 0 {
		h.tell("kept-some", arg("count", left))
	}
	h.refresh()
}

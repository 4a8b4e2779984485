package views

import (
	"fmt"
	"strconv"

	"slipseat/app/job"
	"slipseat/app/picture"
	"slipseat/app/publish"
	"slipseat/app/session"
	"slipseat/app/words"
	"slipseat/engine/cloth"
	"slipseat/engine/drawing"
	"slipseat/engine/order"
	"slipseat/engine/unit"
	"slipseat/views/kit"
	"slipseat/views/stages"
)

func (v *Window) pictures() picture.Maker {
	return picture.Maker{Plan: v.s.Plan(), Words: v.w, Units: v.units()}
}

// refreshTop shows name, saved state, undo and units.
func (v *Window) refreshTop() {
	j := v.s.Shown()
	st := topState{job: j.Name, customer: j.Customer, metric: j.Units.Metric()}
	switch s := v.s.Saved(); {
	case s.Fault != nil:
		st.saved, st.savedBad = v.say("top.not-saved"), true
	case s.Dirty:
		st.saved = v.say("top.saving")
	default:
		st.saved = v.say("top.saved", unit.A("time", s.At.Format("15:04")))
	}
	if l, ok := v.s.CanUndo(); ok {
		st.undo = v.say("top.undo", unit.A("what", v.w.Text("label.edit."+l.Code, v.units(), l.Args...)))
	}
	if l, ok := v.s.CanRedo(); ok {
		st.redo = v.say("top.redo", unit.A("what", v.w.Text("label.edit."+l.Code, v.units(), l.Args...)))
	}
	v.top.set(st)
}

// refreshLeft shows the seats and the goods as cards.
func (v *Window) refreshLeft() {
	j, p, u := v.s.Shown(), v.s.Plan(), v.units()
	var seats []cardState
	for i, s := range j.Seats {
		c := cardState{id: string(s.ID), name: job.Letter(i), title: s.Name, chosen: s.ID == v.s.Seat()}
		count := unit.A("count", strconv.Itoa(s.Count))
		if sp := p.Seats[i]; len(sp.Outline.Board) > 1 {
			w, d := sp.Outline.Size()
			c.sub = v.say("left.seat", unit.A("size", u.PairLabel(w, d)), count)
			c.picture, c.key = stages.Thumb(sp.Outline.Board), fmt.Sprintf("%p", &sp.Outline.Board[0])
		} else {
			c.sub = v.say("left.seat-faulty", count)
			c.picture, c.key = stages.Thumb(nil), "none"
		}
		seats = append(seats, c)
	}
	var goods []cardState
	chosen := v.s.Goods(v.s.Stage() == session.Foam)
	for i, c := range j.Cloths {
		goods = append(goods, cardState{id: string(c.ID), name: "cloth-" + strconv.Itoa(i+1), title: c.Name, sub: v.clothLine(c),
			picture: clothPicture(c.Goods(), i), key: fmt.Sprint(i, c.RepeatAlong, c.RepeatAcross, c.Drop), chosen: c.ID == chosen && v.s.Stage() == session.Roll})
	}
	for i, f := range j.Foams {
		goods = append(goods, cardState{id: string(f.ID), name: "foam-" + strconv.Itoa(i+1), title: f.Name, sub: v.foamLine(f),
			picture: foamPicture(i), key: strconv.Itoa(i), chosen: f.ID == chosen && v.s.Stage() == session.Foam})
	}
	v.left.set(seats, goods)
}

// clothLine is a cloth in one line: width, repeat, direction.
func (v *Window) clothLine(c job.Cloth) string {
	g, u := c.Goods(), v.units()
	s := u.Label(g.Width)
	if g.Pattern.Along > 0 {
		s += " · " + v.say("left.cloth-repeat", unit.A("repeat", g.Pattern.Along))
	}
	return s + " · " + v.say("left.direction."+string(orFirst(c.Direction)))
}

func orFirst(d job.Direction) job.Direction {
	if d == "" {
		return job.PlainCloth
	}
	return d
}

func (v *Window) foamLine(f job.Foam) string {
	g, u := f.Sheet(), v.units()
	if g.Width <= 0 || g.Length <= 0 {
		return v.say("left.foam-no-size", unit.A("thickness", g.Thickness))
	}
	return v.say("left.foam", unit.A("thickness", g.Thickness), unit.A("size", u.PairLabel(g.Width, g.Length)))
}

// refreshTabs shows how many cautions and faults each stage has.
func (v *Window) refreshTabs() {
	counts := v.stageCounts()
	for i, n := range counts {
		v.tabs.SetCount(i, n)
	}
}

// refreshBottom shows the running totals and the worst caution.
func (v *Window) refreshBottom() {
	p := v.s.Plan()
	var ts []total
	for _, it := range p.Order.Items {
		if t, ok := v.total(it); ok && len(ts) < 5 {
			ts = append(ts, t)
		}
	}
	sum := p.Order.Totals
	figure := words.Money(unit.Money(sum.Materials.Value()))
	ts = append(ts, total{name: "materials", figure: figure, caption: v.say("bottom.materials"), stale: sum.Pending, tap: func() { v.s.SetStage(session.Order) }})
	worst, more := v.worstWords()
	v.bottom.set(ts, worst, more, v.say("bottom.calm"))
}

// total is the figure of one line of the order.
func (v *Window) total(it order.Item) (total, bool) {
	u := v.units()
	t := total{stale: it.Pending, figure: "…", tap: func() { v.openItem(it) }}
	switch it.Code {
	case order.CodeCover, order.CodeContrast:
		t.name = "cloth"
		t.caption = v.say("bottom.cloth", unit.A("width", it.Width))
	case order.CodeFoam:
		t.name = "foam"
		t.caption = it.Name
		if f, ok := v.s.Shown().Foam(job.ID(it.Goods)); ok {
			g := f.Sheet()
			t.caption = v.say("bottom.foam", unit.A("thickness", g.Thickness), unit.A("size", u.Pair(g.Width, g.Length)))
		}
	case order.CodeDust, order.CodeWadding, order.CodeLining, order.CodeBarrier:
		t.name = it.Code
		t.caption = v.say("bottom."+it.Code, unit.A("width", it.Width))
	case order.CodeStaples:
		t.name = "staples"
		t.caption = v.say("bottom.staples")
	default:
		return t, false
	}
	switch {
	case it.Pending:
	case it.Code == order.CodeStaples:
		t.figure = strconv.Itoa(int(it.Needed()))
	case it.Buy.Kind == unit.KindLength:
		t.figure = u.ClothLabel(it.Buy.Length())
	default:
		t.figure = publish.Quantity(v.w, u, it, it.Units())
	}
	return t, true
}

// openItem shows the stage that a total comes from.
func (v *Window) openItem(it order.Item) {
	if it.Goods != "" {
		v.openGoods(it.Goods)
		return
	}
	v.s.SetStage(session.Order)
}

// clothPicture is a swatch: the cloth's tint with its motifs at their true
// distances.
func clothPicture(c cloth.Cloth, i int) kit.Picture { return stages.Swatch(c, drawing.Tint(i)) }

func foamPicture(i int) kit.Picture { return stages.FoamSwatch(drawing.FoamTint(i)) }

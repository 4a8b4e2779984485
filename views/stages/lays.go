package stages

import (
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/plan"
	"slipseat/views/board"
	"slipseat/views/kit"
)

// lays are the pictures of what is cut from goods: the present lay, or, while a
// new one is pending, the last one in grey.
func (d *Desk) lays(goods string, g *plan.GoodsPlan) []drawing.LayIn {
	switch {
	case g == nil || len(g.Faults) > 0:
		return nil
	case g.Lay != nil:
		return d.pictures().Goods(g, false, "")
	}
	return d.pictures().Goods(d.LastLay(goods), true, "")
}

// status says in words how good a lay is, and whether that is good news.
func (d *Desk) status(goods string, g *plan.GoodsPlan) (words string, fine bool) {
	switch {
	case g == nil:
		return d.say("lay.none"), false
	case len(g.Faults) > 0:
		return d.say("lay.fault"), false
	case g.Lay == nil:
		return d.say("proof.looking"), false
	}
	words = d.pictures().Proof(g)
	if d.Searching(goods) && !g.Lay.Proved {
		words = d.say("lay.searching", arg("proof", words))
	}
	return words, true
}

// showLays puts lays on the board, one under the other.
func (s *drawn) showLays(ins []drawing.LayIn) {
	if len(ins) == 0 {
		s.note.SetText("")
		s.board.SetScene(board.Scene{Bounds: geom.Rect{Max: geom.P(1000, 1000)}})
		return
	}
	// The line about the cloth stands beside the buttons of the view, where it
	// can be wrapped.
	s.note.SetText(ins[0].Foot)
	for i := range ins {
		ins[i].Foot = ""
	}
	kit.Relayout(s.all)
	d := stacked(ins)
	s.board.SetScene(board.Scene{Bounds: d.bounds, Paint: paint(s.desk.Words, s.desk.Units(), d.draw)})
}

// stack is several lays, one under the other.
type stack struct {
	lays   []*drawing.Lay
	at     []geom.Pt
	bounds geom.Rect
}

// stackGap is the room between two sheets for ruler and title, as a share of a
// sheet's height.
const stackGap = 0.45

func stacked(ins []drawing.LayIn) *stack {
	s := &stack{}
	y := 0.0
	for i, in := range ins {
		l := drawing.NewLay(in)
		b := l.Geometry().Bounds
		if i > 0 {
			y -= b.H() * (1 + stackGap)
		}
		at := geom.P(0, y)
		s.lays, s.at = append(s.lays, l), append(s.at, at)
		box := geom.Rect{Min: b.Min.Add(at), Max: b.Max.Add(at)}
		if i == 0 {
			s.bounds = box
		} else {
			s.bounds = s.bounds.Union(box)
		}
	}
	return s
}

func (s *stack) draw(st drawing.Style) drawing.Drawing {
	var d drawing.Drawing
	for i, l := range s.lays {
		d.Append(l.Draw(st).Placed(1, s.at[i]))
	}
	return d
}

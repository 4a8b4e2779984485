package views

import (
	"strconv"
	"time"

	"fyne.io/fyne/v2"

	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/engine/caution"
	"slipseat/engine/unit"
	"slipseat/views/kit"
	"slipseat/views/stages"
)

// after is the clock of toasts and tips.
func (v *Window) after() func(time.Duration, func()) interface{ Stop() bool } {
	return func(d time.Duration, f func()) interface{ Stop() bool } {
		return stopper(v.o.Runner.After(d, f))
	}
}

type stopper func()

// Stop stops a timer.
func (s stopper) Stop() bool { s(); return true }

// showNotice shows the session's message.
func (v *Window) showNotice() {
	n := v.s.Notice()
	if n == nil {
		v.toast.Close()
		return
	}
	words, bad := "", n.Fault != nil
	if bad {
		words = v.w.Fault(*n.Fault, v.units())
	} else {
		words = v.w.Text("notice."+n.Code, v.units(), n.Args...)
	}
	wait := stay
	if bad {
		wait = 0
	}
	act := n.Undo
	v.toast.Say(words, v.say("notice.undo"), bad, wait, act)
}

// warning is one thing that the user should look at, in words.
type warning struct {
	title, text, remedy string
	stage               session.Stage
	seat, goods         string
	of                  string // name of the seat, where there are several
	serious             bool   // counted on its stage's tab
}

// warnings are all of them, the most serious first.
func (v *Window) warnings() []warning {
	var out []warning
	p := v.s.Plan()
	said := map[string]bool{}
	for _, f := range p.Faults {
		w := warning{title: v.faultTitle(f), text: v.w.Fault(f, v.units()), seat: f.Where.Seat, goods: f.Where.Goods, serious: true}
		w.stage = v.stageOf(f)
		// One missing size of a sheet is enough to say what is wanted.
		if key := f.Code + f.Where.Seat + f.Where.Goods; !said[key] {
			said[key] = true
			out = append(out, w)
		}
	}
	for _, c := range p.Cautions {
		t := v.w.Caution(c.Code, v.units(), c.Args...)
		w := warning{title: t.Title, text: t.Text, remedy: t.Remedy, seat: c.Where.Seat, goods: c.Where.Goods,
			stage: v.stageOfCaution(c), serious: c.Severity >= caution.Check}
		if s, _, ok := v.s.Shown().Seat(job.ID(c.Where.Seat)); ok && len(v.s.Shown().Seats) > 1 {
			w.of = s.Name
		}
		out = append(out, w)
	}
	return out
}

// stageOfCaution says on which stage a caution belongs.
func (v *Window) stageOfCaution(c caution.Caution) session.Stage {
	switch c.Code {
	case caution.OverOldCover, caution.NotFlipped, caution.TracedOff:
		return session.Outline
	case caution.JointInFront, caution.FoamTooLarge, caution.Adhesive:
		return session.Foam
	case caution.OldFilling, caution.FireGeneral, caution.FireUK, caution.FireUKContract, caution.FireUS, caution.FireEurope:
		return session.Order
	case caution.Stapler, caution.Knives, caution.DifferentRolls:
		return session.CutSheet
	}
	return v.stageOf(unit.Fault{Code: c.Code, Where: c.Where})
}

// cautionsOf are a stage's cautions in words.
func (v *Window) cautionsOf(stage string) []stages.Note {
	var out []stages.Note
	for _, c := range v.s.Plan().Cautions {
		if v.stageOfCaution(c).Code() != stage {
			continue
		}
		t := v.w.Caution(c.Code, v.units(), c.Args...)
		words := t.Text
		if t.Remedy != "" {
			words += " " + t.Remedy
		}
		out = append(out, stages.Note{Title: t.Title, Words: words, Seat: c.Where.Seat, Goods: c.Where.Goods})
	}
	return out
}

// faultTitle names a fault by its field and what that belongs to.
func (v *Window) faultTitle(f unit.Fault) string {
	j := v.s.Shown()
	name := ""
	if s, _, ok := j.Seat(job.ID(f.Where.Seat)); ok {
		name = s.Name
	} else if c, ok := j.Cloth(job.ID(f.Where.Goods)); ok {
		name = c.Name
	} else if g, ok := j.Foam(job.ID(f.Where.Goods)); ok {
		name = g.Name
	}
	path := j.FieldOf(f)
	key := "label.field." + path
	switch {
	case path == "" || !v.w.Has(key):
		if name == "" {
			return v.w.Fault(f, v.units())
		}
		return v.say("bottom.fault", unit.A("name", name))
	case name == "":
		return v.w.Text(key, v.units())
	}
	return v.say("bottom.fault-field", unit.A("field", v.w.Text(key, v.units())), unit.A("name", name))
}

// stageOf says on which stage a fault is put right.
func (v *Window) stageOf(f unit.Fault) session.Stage {
	j := v.s.Shown()
	if f.Where.Goods != "" {
		if _, foam := j.Foam(job.ID(f.Where.Goods)); foam {
			return session.Foam
		}
		return session.Roll
	}
	if path := j.FieldOf(f); len(path) > 8 && path[:8] == "outline." {
		return session.Outline
	}
	return session.BuildUp
}

// stageCounts is how many warnings each stage has.
func (v *Window) stageCounts() [6]int {
	var n [6]int
	for _, w := range v.warnings() {
		if w.serious {
			n[w.stage]++
		}
	}
	return n
}

// worstWords is the most serious warning in a line, and how many more there
// are.
func (v *Window) worstWords() (worst, more string) {
	ws := v.warnings()
	if len(ws) == 0 {
		return "", ""
	}
	if n := len(ws) - 1; n > 0 {
		more = v.say("bottom.more", unit.A("count", strconv.Itoa(n)))
	}
	return ws[0].title, more
}

// goTo shows where a warning is put right.
func (v *Window) goTo(w warning) {
	if w.seat != "" {
		v.s.Select(job.ID(w.seat))
	}
	if w.goods != "" {
		v.s.SelectGoods(job.ID(w.goods))
	}
	v.s.SetStage(w.stage)
}

// openWorst leads to the most serious warning.
func (v *Window) openWorst() {
	if ws := v.warnings(); len(ws) > 0 {
		v.goTo(ws[0])
	}
}

// openCautions lists all warnings; each leads to its place.
func (v *Window) openCautions() {
	col := kit.NewColumn(kit.Gap10)
	for i, w := range v.warnings() {
		words := w.text
		if w.remedy != "" {
			if words != "" {
				words += " "
			}
			words += w.remedy
		}
		title := w.title
		if w.of != "" {
			title = v.say("cautions.of", unit.A("title", title), unit.A("name", w.of))
		}
		col.Add(kit.NewCautionCard("caution:"+strconv.Itoa(i), title, words, func() {
			v.closeModal()
			v.goTo(w)
		}))
	}
	v.modal = kit.ShowModal(v.win.Canvas(), "ask:cautions", v.say("cautions.title"), kit.NewBounded(440, kit.NewScroll(kit.Inset(col, 2, 14, 2, 2))), 560, nil,
		kit.Answer{Name: "button:cautions-close", Words: v.say("cautions.close")})
	v.poke()
}

// popUp shows a menu at a place in the window.
func (v *Window) popUp(at fyne.Position, entries ...kit.MenuEntry) {
	c := v.win.Canvas()
	c.Unfocus()
	kit.ShowMenu(c, at, 0, entries)
	v.poke()
}

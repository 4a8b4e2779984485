package views

import (
	"image"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/engine/geom"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// when is a time as lists show it.
func when(t time.Time) string { return t.Local().Format("2006-01-02 15:04") }

// pastView is the list of the job's versions and entries, and the one that is
// looked at.
type pastView struct {
	v       *Window
	list    []session.Past
	at      int
	seats   []geom.Path // of the one that is looked at
	cards   *kit.CardList
	picture fyne.CanvasObject
	words   *kit.Text
	drop    *kit.Button
	name    *kit.Field
}

// openPast shows the versions and the history of the open job. One that is
// chosen is looked at beside the list; bringing it back is a change that can
// be undone.
func (v *Window) openPast() {
	if !v.s.IsOpen() {
		return
	}
	v.commitTyped()
	p := &pastView{v: v}
	p.cards = kit.NewCardList("past", func(id string) { p.choose(id) }, nil)
	raster := kit.NewPictureBox(func(w, h int) image.Image { return rowOfSeats(p.seats, w, h) })
	p.picture = raster
	p.words = kit.NewPara("", kit.Small, kit.Ink2)
	p.drop = kit.NewButton("button:drop-version", "", v.say("past.drop"), func() {
		v.s.DropVersion(p.list[p.at])
		p.fill()
	})
	v.past = p
	p.name = kit.NewField("field:version-name")
	p.name.SetText("")
	p.name.SetHint(v.say("past.keep-hint")).SetMenu(v.menu)
	typed := ""
	p.name.OnType = func(s string) { typed = s }
	keep := kit.NewButton("button:keep-version", "", v.say("past.keep"), func() {
		if v.s.KeepVersion(strings.TrimSpace(typed)) {
			p.name.SetText("")
			typed = ""
			p.fill()
		}
	})
	look := kit.NewColumn(kit.Gap12, kit.FixedHeight(190, raster), p.words, kit.NewRow(kit.Gap8, p.drop))
	body := kit.NewColumn(kit.Gap14, kit.NewBeside(p.name, keep),
		&fyne.Container{Layout: listAndLook{}, Objects: []fyne.CanvasObject{kit.NewScroll(kit.Inset(p.cards, 2, 14, 4, 2)), look}})
	p.fill()
	v.modal = kit.ShowModal(v.win.Canvas(), "ask:past", v.say("past.title"), body, 740, nil,
		kit.Answer{Name: "button:past-close", Words: v.say("past.close")},
		kit.Answer{Name: "button:bring-back", Words: v.say("past.back"), Main: true, Do: func() bool {
			if p.at < len(p.list) && !p.list[p.at].Current {
				v.s.BringBack(p.list[p.at])
			}
			return true
		}})
	v.poke()
}

// fill lists all there is and looks at the present state.
func (p *pastView) fill() {
	p.list = p.v.s.Past()
	p.at = 0
	for i, x := range p.list {
		if x.Current {
			p.at = i
		}
	}
	p.show()
}

func (p *pastView) choose(id string) {
	if i, err := strconv.Atoi(id); err == nil && i < len(p.list) {
		p.at = i
		p.show()
	}
}

func (p *pastView) show() {
	v := p.v
	var entries []kit.CardEntry
	for i, x := range p.list {
		e := kit.CardEntry{ID: strconv.Itoa(i), Name: strconv.Itoa(i), Sub: when(x.At), Chosen: i == p.at}
		switch {
		case x.Name != "":
			e.Title = v.say("past.kept", unit.A("name", x.Name))
		case x.Auto:
			e.Title = v.say("past.auto")
		default:
			e.Title = v.w.Text("label.edit."+x.Label.Code, v.units(), x.Label.Args...)
		}
		if x.Current {
			e.Sub += " · " + v.say("past.now")
		}
		entries = append(entries, e)
	}
	p.cards.Set(entries)
	p.seats = nil
	words := v.say("past.unreadable")
	kept := false
	if p.at < len(p.list) {
		kept = p.list[p.at].Kept
		if j, ok := v.s.PastJob(p.list[p.at]); ok {
			p.seats, words = boardsOf(j), p.inWords(j)
		}
	}
	p.words.SetText(words)
	if kept {
		p.drop.Show()
	} else {
		p.drop.Hide()
	}
	p.picture.Refresh()
	if v.modal != nil {
		v.modal.Refit()
	}
	v.poke()
}

// inWords sums a state of the job up.
func (p *pastView) inWords(j job.Job) string {
	var seats, goods []string
	n := 0
	for _, s := range j.Seats {
		n += s.Count
		line := s.Name + " × " + strconv.Itoa(s.Count)
		if w, d := string(s.Outline.FrontWidth), string(s.Outline.Depth); w != "" && d != "" {
			line += " (" + w + " × " + d + ")"
		}
		seats = append(seats, line)
	}
	for _, c := range j.Cloths {
		goods = append(goods, c.Name)
	}
	for _, f := range j.Foams {
		goods = append(goods, f.Name)
	}
	text := p.v.say("past.seats", unit.A("seats", n), unit.A("names", strings.Join(seats, ", ")))
	if len(goods) > 0 {
		text += "\n" + p.v.say("past.cloths", unit.A("names", strings.Join(goods, ", ")))
	}
	return text
}

// boardsOf are the boards of a job that can be drawn.
func boardsOf(j job.Job) []geom.Path {
	var list []geom.Path
	for _, s := range plan.Make(j.Input(), nil, noLays).Seats {
		if len(s.Outline.Board) > 1 {
			list = append(list, s.Outline.Board)
		}
	}
	return list
}

// listAndLook puts a list that scrolls beside what is looked at, at one height
// whatever is in them.
type listAndLook struct{}

const lookHeight = 380

func (listAndLook) HeightFor([]fyne.CanvasObject, float32) float32 { return kit.U(lookHeight) }

func (listAndLook) Layout(o []fyne.CanvasObject, s fyne.Size) {
	gap := kit.U(kit.Gap16)
	w := (s.Width - gap) / 2
	o[0].Move(fyne.NewPos(0, 0))
	o[0].Resize(fyne.NewSize(w, s.Height))
	o[1].Move(fyne.NewPos(w+gap, 0))
	o[1].Resize(fyne.NewSize(w, min(s.Height, kit.HeightFor(o[1], w))))
}

func (listAndLook) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(kit.U(400), kit.U(lookHeight))
}

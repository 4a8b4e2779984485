package views

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"slipseat/app/words"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// Trouble is why the jobs cannot be opened just like that, and what can be
// done about it.
type Trouble struct {
	Err   error
	Found []string // what a closer look at the file says, a line each
	// Again tries to open the jobs once more.
	Again func()
	// Recover, if not nil, makes a whole file of what can be read, and says in
	// lines what came of it.
	Recover func() ([]string, error)
	// AsIs, if not nil, opens the jobs although a part is damaged.
	AsIs func()
}

// ShowTrouble fills a window with what is wrong and the ways out of it.
func ShowTrouble(win fyne.Window, w *words.Words, t Trouble) {
	title := w.Label("store.title")
	if t.AsIs != nil {
		title = w.Label("store.partly-title")
	}
	buttons := []fyne.CanvasObject{kit.NewButton("button:quit", "", w.Label("store.close"), win.Close), kit.NewSpring()}
	if t.AsIs != nil {
		buttons = append(buttons, kit.NewButton("button:as-is", "", w.Label("store.as-is"), t.AsIs))
	} else if t.Recover != nil {
		buttons = append(buttons, kit.NewButton("button:again", "", w.Label("store.again"), t.Again))
	}
	lines := t.Found
	if t.Recover == nil {
		buttons = append(buttons, kit.NewAction("button:again", "", w.Label("store.again"), t.Again))
	} else {
		lines = append(lines[:len(lines):len(lines)], w.Label("store.recover-words"))
		buttons = append(buttons, kit.NewAction("button:recover", "", w.Label("store.recover"), func() {
			said, err := t.Recover()
			if err != nil {
				ShowTrouble(win, w, Trouble{Err: err, Again: t.Again, Recover: t.Recover, AsIs: t.AsIs})
				return
			}
			troublePage(win, w.Label("store.recovered"), "", said,
				[]fyne.CanvasObject{kit.NewSpring(), kit.NewAction("button:open", "", w.Label("store.open"), t.Again)})
		}))
	}
	text, ok := w.Error(t.Err, unit.UnitsFor(unit.Inches))
	if !ok {
		text = t.Err.Error()
	}
	troublePage(win, title, text, lines, buttons)
}

func troublePage(win fyne.Window, title, text string, lines []string, buttons []fyne.CanvasObject) {
	head := kit.NewText(title, kit.Title, kit.Ink)
	col := kit.NewColumn(kit.Gap16, kit.NewRow(kit.Gap12, kit.NewMark(36), head))
	if text != "" {
		col.Add(kit.NewPara(text, kit.Body, kit.Ink))
	}
	if len(lines) > 0 {
		list := kit.NewColumn(kit.Gap8)
		for _, l := range lines {
			list.Add(kit.NewPara(l, kit.Body, kit.Ink2))
		}
		col.Add(kit.NewPanel(kit.Raised, kit.Line, 9, kit.NewBounded(300, kit.NewScroll(kit.Inset(list, 12, 14)))))
	}
	col.Add(kit.NewRow(kit.Gap8, buttons...))
	win.SetPadded(false)
	win.SetContent(container.NewStack(kit.NewFill(kit.Paper), kit.NewScroll(kit.NewCentred(620, kit.Inset(col, 48, 24)))))
}

// openRecover shows the deleted jobs and the backups; each can be brought
// back.
func (v *Window) openRecover() {
	var entries []kit.CardEntry
	do := map[string]func(){}
	add := func(title, sub string, f func()) {
		id := strconv.Itoa(len(entries))
		entries = append(entries, kit.CardEntry{ID: id, Name: id, Title: title, Sub: sub})
		do[id] = f
	}
	for _, j := range v.s.Deleted() {
		add(j.Name, v.say("recover.deleted", unit.A("time", when(j.Changed))), func() {
			v.closeModal()
			v.s.Restore(j.ID)
		})
	}
	for _, b := range v.s.Backups() {
		key := "recover.backup-sub"
		if b.Partly {
			key = "recover.backup-partly"
		}
		size := strconv.FormatFloat(float64(b.Size)/1e6, 'f', 1, 64)
		add(v.say("recover.backup", unit.A("time", when(b.At))), v.say(key, unit.A("size", size)), func() {
			v.closeModal()
			var inside []kit.CardEntry
			jobs := v.s.InBackup(b)
			for i, j := range jobs {
				inside = append(inside, kit.CardEntry{ID: strconv.Itoa(i), Name: strconv.Itoa(i), Title: j.Name, Sub: v.say("recover.job-sub", unit.A("customer", j.Customer), unit.A("time", when(j.Changed)))})
			}
			v.listModal("ask:backup", v.say("recover.in-title", unit.A("time", when(b.At))), v.say("recover.in-words"), v.say("recover.in-none"), inside, func(id string) {
				i, _ := strconv.Atoi(id)
				v.closeModal()
				v.s.FromBackup(b, jobs[i].ID)
			}, kit.Answer{Name: "button:recover-close", Words: v.say("recover.close")})
		})
	}
	v.listModal("ask:recover", v.say("recover.title"), v.say("recover.words", unit.A("path", v.o.Backups)), v.say("recover.none"), entries, func(id string) { do[id]() },
		kit.Answer{Name: "button:recover-close", Words: v.say("recover.close")},
		kit.Answer{Name: "button:backup-now", Words: v.say("recover.now"), Do: func() bool {
			if v.s.BackUpNow() {
				v.toast.Say(v.say("recover.done"), "", false, stay, nil)
			}
			return true
		}})
}

// listModal shows words and a list of cards, or what to say when there is
// none.
func (v *Window) listModal(name, title, text, none string, entries []kit.CardEntry, tap func(id string), answers ...kit.Answer) {
	col := kit.NewColumn(kit.Gap14, kit.NewPara(text, kit.Small, kit.Ink2))
	if len(entries) == 0 {
		col.Add(kit.NewPara(none, kit.Body, kit.Ink2))
	} else {
		list := kit.NewCardList(name[len("ask:"):], tap, nil)
		list.Set(entries)
		col.Add(kit.NewBounded(420, kit.NewScroll(kit.Inset(list, 2, 14, 2, 2))))
	}
	v.modal = kit.ShowModal(v.win.Canvas(), name, title, col, 560, nil, answers...)
	v.poke()
}

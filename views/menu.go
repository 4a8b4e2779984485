package views

import (
	"runtime"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/views/kit"
)

// command is something that the menu and the keyboard can do.
type command struct {
	words string // key of its words
	key   fyne.KeyName
	mod   fyne.KeyModifier
	inJob bool        // only with a job open
	off   func() bool // cannot be used now
	on    func() bool // is chosen now
	do    func()
}

// commands are the menu's, in groups, and the shortcuts.
func (v *Window) commands() [][]command {
	const ctrl = fyne.KeyModifierShortcutDefault
	variant := func(words, value string) command {
		return command{words: words, on: func() bool { return v.s.Variant() == value || value == "light" && v.s.Variant() == "" }, do: func() { v.s.SetVariant(value) }}
	}
	return [][]command{
		{
			{words: "menu.new-inches", key: fyne.KeyN, mod: ctrl, do: func() { v.s.NewJob(job.UnitsInches) }},
			{words: "menu.new-centimetres", key: fyne.KeyN, mod: ctrl | fyne.KeyModifierShift, do: func() { v.s.NewJob(job.UnitsCM) }},
			{words: "menu.open-file", key: fyne.KeyO, mod: ctrl, do: v.openFile},
			{words: "menu.save-file", key: fyne.KeyS, mod: ctrl, inJob: true, do: v.saveFile},
			{words: "menu.export", key: fyne.KeyE, mod: ctrl, inJob: true, do: v.export},
			{words: "menu.jobs", key: fyne.KeyJ, mod: ctrl, inJob: true, do: v.s.CloseJob},
			{words: "menu.past", key: fyne.KeyH, mod: ctrl, inJob: true, do: v.openPast},
			{words: "menu.recover", do: v.openRecover},
		},
		{
			{words: "menu.undo", key: fyne.KeyZ, mod: ctrl, inJob: true, off: func() bool { _, ok := v.s.CanUndo(); return !ok }, do: v.undo},
			{words: "menu.redo", key: fyne.KeyY, mod: ctrl, inJob: true, off: func() bool { _, ok := v.s.CanRedo(); return !ok }, do: v.s.Redo},
			{words: "menu.add-seat", inJob: true, do: v.addSeat},
			{words: "menu.duplicate-seat", key: fyne.KeyD, mod: ctrl, inJob: true, do: v.duplicateSeat},
		},
		{
			variant("menu.light", "light"), variant("menu.dark", "dark"), variant("menu.system", "system"),
		},
		{
			{words: "menu.keys", key: fyne.KeyF1, do: v.showKeys},
			{words: "menu.quit", key: fyne.KeyQ, mod: ctrl, do: v.close},
		},
	}
}

// openMenu shows the commands below the menu's button.
func (v *Window) openMenu() {
	var items []kit.MenuEntry
	for i, group := range v.commands() {
		if i > 0 {
			items = append(items, kit.MenuEntry{})
		}
		for _, c := range group {
			if c.inJob && !v.s.IsOpen() {
				continue
			}
			items = append(items, kit.MenuEntry{Name: "menu:" + strings.TrimPrefix(c.words, "menu."), Words: v.say(c.words), Keys: v.keysOf(c),
				Off: c.off != nil && c.off(), Checked: c.on != nil && c.on(), Do: c.do})
		}
	}
	at := v.spot("button:menu")
	v.popUp(fyne.NewPos(at.X, at.Y+at.H+4), items...)
}

func (v *Window) duplicateSeat() {
	if v.s.Seat() != "" {
		v.do(edit.DuplicateSeat{Seat: v.s.Seat(), ID: v.newID()})
	}
}

// shortcuts listens to the keys. Our own fields hand on what they have no use
// for; the toolkit itself would stop at a field that has the focus.
func (v *Window) shortcuts() {
	c := v.win.Canvas()
	free := func() bool { return c.Overlays().Top() == nil }
	add := func(s fyne.Shortcut, cmd command) {
		c.AddShortcut(s, func(fyne.Shortcut) {
			if !free() || cmd.inJob && !v.s.IsOpen() {
				return
			}
			v.s.Guard(cmd.do)
		})
	}
	for _, group := range v.commands() {
		for _, cmd := range group {
			switch {
			case cmd.words == "menu.undo":
				add(&fyne.ShortcutUndo{}, cmd)
			case cmd.words == "menu.redo":
				add(&fyne.ShortcutRedo{}, cmd)
				add(&desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift}, cmd)
			case cmd.mod != 0:
				add(&desktop.CustomShortcut{KeyName: cmd.key, Modifier: cmd.mod}, cmd)
			}
		}
	}
	digits := []fyne.KeyName{fyne.Key1, fyne.Key2, fyne.Key3, fyne.Key4, fyne.Key5, fyne.Key6}
	for i, k := range digits {
		add(&desktop.CustomShortcut{KeyName: k, Modifier: fyne.KeyModifierShortcutDefault},
			command{inJob: true, do: func() { v.commitTyped(); v.s.SetStage(session.Stage(i)) }})
	}
	c.SetOnTypedKey(func(e *fyne.KeyEvent) {
		switch e.Name {
		case fyne.KeyF1:
			v.showKeys()
		case fyne.KeyEscape:
			v.toast.Close()
		}
	})
}

// commitTyped takes what is being typed before something else is shown.
func (v *Window) commitTyped() { v.win.Canvas().Unfocus() }

// keysOf are a command's keys in words, "" for none.
func (v *Window) keysOf(c command) string {
	if c.key == "" {
		return ""
	}
	keys := string(c.key)
	if c.mod&fyne.KeyModifierShift != 0 {
		keys = v.say("keys.shift") + " " + keys
	}
	if c.mod&fyne.KeyModifierShortcutDefault != 0 {
		keys = ctrlName() + " " + keys
	}
	return keys
}

// ctrlName is the key that shortcuts are pressed with.
func ctrlName() string {
	if runtime.GOOS == "darwin" {
		return "⌘"
	}
	return "Ctrl"
}

// showKeys lists the keys.
func (v *Window) showKeys() {
	cols := []kit.Column{{Head: v.say("keys.what"), Share: 3}, {Head: v.say("keys.keys"), Share: 2, Face: kit.Strong}}
	var rows [][]fyne.CanvasObject
	row := func(what, keys string) {
		rows = append(rows, []fyne.CanvasObject{cols[0].Cell(what), cols[1].Cell(keys)})
	}
	for _, group := range v.commands() {
		for _, c := range group {
			if c.key == "" {
				continue
			}
			row(v.say(c.words), v.keysOf(c))
		}
	}
	row(v.say("keys.stages"), ctrlName()+" 1 … 6")
	for _, k := range []string{"fields", "commit", "give-up", "step", "handles", "nudge", "piece", "turn-piece", "move-piece", "delete-flaw", "pan", "zoom", "fit"} {
		row(v.say("keys."+k), v.say("keys."+k+".keys"))
	}
	v.modal = kit.ShowModal(v.win.Canvas(), "ask:keys", v.say("menu.keys"), kit.NewBounded(520, kit.NewScroll(kit.NewTable(cols, rows))), 560, nil,
		kit.Answer{Name: "button:keys-close", Words: v.say("keys.close")})
}

// localeUnits are the units of the user's country: inches where the inch is in
// daily use, else centimetres.
func localeUnits() job.Units {
	switch lang.SystemLocale().LanguageString() {
	case "en", "en-US", "en-LR", "my-MM":
		return job.UnitsInches
	}
	if string(lang.SystemLocale()) == "C" {
		return job.UnitsInches
	}
	return job.UnitsCM
}

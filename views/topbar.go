package views

import (
	"fyne.io/fyne/v2"

	"slipseat/views/kit"
)

// topState is what the top bar shows.
type topState struct {
	job, customer string
	saved         string // "Saved 10:42", or that it is not
	savedBad      bool
	undo, redo    string // tips that name what would be undone; "" when there is nothing
	metric        bool
}

// topBar is the bar at the top of an open job.
type topBar struct {
	job, customer *kit.Field
	saved         *kit.Text
	undo, redo    *kit.Button
	units         *kit.Switch
	names, row    *fyne.Container
	content       fyne.CanvasObject
}

// topActions are what the bar's buttons do.
type topActions struct {
	menu, undo, redo, jobs, export func()
	units                          func(metric bool)
	rename, customer               func(text string) string
}

func newTopBar(say func(string) string, menu kit.FieldMenu, do topActions) *topBar {
	b := &topBar{}
	b.job = kit.NewField("field:name").Quiet(kit.Title).SetHint(say("top.job-name")).SetMenu(menu).Hug(90, 380)
	b.job.OnCommit = do.rename
	b.customer = kit.NewField("field:customer").Quiet(kit.Body).SetHint(say("top.customer")).SetMenu(menu).Hug(60, 320)
	b.customer.OnCommit = do.customer
	b.saved = kit.NewText("", kit.Body, kit.Ink2).Shrink()
	b.undo = kit.NewButton("button:undo", "undo", "", do.undo)
	b.redo = kit.NewButton("button:redo", "redo", "", do.redo)
	b.units = kit.NewSwitch([]string{"units:in", "units:cm"}, []string{say("top.inches"), say("top.centimetres")}, 0, func(i int) { do.units(i == 1) })
	b.names = kit.NewRow(kit.Gap2, b.job, b.customer)
	b.row = kit.NewRow(kit.Gap12,
		kit.NewBare("button:menu", "menu", "", do.menu).Tip(say("top.menu.tip")),
		b.names,
		kit.NewSpring(),
		b.saved,
		kit.NewRow(kit.Gap8, b.undo, b.redo),
		b.units,
		kit.NewButton("button:jobs", "", say("top.jobs"), do.jobs),
		kit.NewAction("button:export", "", say("top.export"), do.export),
	)
	b.content = kit.FixedHeight(topHeight, kit.Inset(b.row, 0, 16, 0, 10))
	return b
}

// set shows a state.
func (b *topBar) set(s topState) {
	b.job.SetText(s.job)
	b.customer.SetText(s.customer)
	b.saved.SetText(s.saved)
	b.saved.SetRole(kit.Ink2)
	if s.savedBad {
		b.saved.SetRole(kit.Wrong)
	}
	b.undo.SetEnabled(s.undo != "")
	b.undo.SetTip(s.undo)
	b.redo.SetEnabled(s.redo != "")
	b.redo.SetTip(s.redo)
	i := 0
	if s.metric {
		i = 1
	}
	b.units.Set(i)
	kit.Relayout(b.names)
	kit.Relayout(b.row)
}

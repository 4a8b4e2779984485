package views

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"slipseat/app/words"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// ShowStoreFault says why the jobs cannot be opened, and what to do, in a
// window that has nothing else.
func ShowStoreFault(win fyne.Window, w *words.Words, err error) {
	text, ok := w.Error(err, unit.UnitsFor(unit.Inches))
	if !ok {
		text = err.Error()
	}
	quit := kit.NewAction("button:quit", "", w.Label("store.close"), win.Close)
	col := kit.NewColumn(kit.Gap16,
		kit.NewRow(kit.Gap12, kit.NewMark(36), kit.NewText(w.Label("store.title"), kit.Title, kit.Ink)),
		kit.NewPara(text, kit.Body, kit.Ink),
		kit.NewRow(kit.Gap8, kit.NewSpring(), quit))
	win.SetPadded(false)
	win.SetContent(container.NewStack(kit.NewFill(kit.Paper), kit.NewScroll(kit.NewCentred(560, kit.Inset(col, 60, 24)))))
	win.Resize(fyne.NewSize(640, 320))
}

package board

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// FocusGained implements fyne.Focusable. Coming by keyboard chooses the first
// handle.
func (b *Board) FocusGained() {
	b.focused = true
	b.refreshHandles()
}

// FocusLost implements fyne.Focusable.
func (b *Board) FocusLost() {
	b.focused, b.pointed = false, false
	b.chosen = ""
	b.cancel()
	b.refreshHandles()
}

func held() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

// next gives the place of the handle that Tab goes to, or -1 to leave.
func (b *Board) next(back bool) int {
	at := -1
	for i, h := range b.scene.Handles {
		if h.ID == b.chosen {
			at = i
		}
	}
	if back {
		return at - 1
	}
	if at+1 < len(b.scene.Handles) {
		return at + 1
	}
	return -1
}

// AcceptsTab implements fyne.Tabbable: Tab goes through the handles first.
func (b *Board) AcceptsTab() bool {
	return b.next(held()&fyne.KeyModifierShift != 0) >= 0
}

// TypedKey implements fyne.Focusable.
func (b *Board) TypedKey(e *fyne.KeyEvent) {
	coarse := held()&fyne.KeyModifierShift != 0
	switch e.Name {
	case fyne.KeyTab:
		b.pointed = false
		if i := b.next(coarse); i >= 0 {
			b.Choose(b.scene.Handles[i].ID)
		}
	case fyne.KeyEscape:
		switch {
		case b.cancel():
		case b.chosen != "":
			b.Choose("")
		case b.scene.Chosen != "" && b.OnChoose != nil:
			b.OnChoose("")
		default:
			if c := fyne.CurrentApp().Driver().CanvasForObject(b); c != nil {
				c.Unfocus()
			}
		}
	case fyne.KeyLeft:
		b.arrow(-1, 0, coarse)
	case fyne.KeyRight:
		b.arrow(1, 0, coarse)
	case fyne.KeyUp:
		b.arrow(0, 1, coarse)
	case fyne.KeyDown:
		b.arrow(0, -1, coarse)
	}
}

// panStep is how far an arrow key moves the view, window units.
const panStep = 40

func (b *Board) arrow(dx, dy int, coarse bool) {
	if b.drag.kind != noDrag {
		return
	}
	if b.chosen != "" {
		if b.OnNudge != nil {
			b.OnNudge(b.chosen, dx, dy, coarse)
		}
		return
	}
	b.setView(b.view.Pan(float64(-dx*panStep), float64(dy*panStep)))
}

// TypedRune implements fyne.Focusable: figures go to the chosen handle, the
// rest zooms.
func (b *Board) TypedRune(r rune) {
	if b.chosen != "" && (r >= '0' && r <= '9' || r == '.' || r == ',') {
		if b.OnType != nil {
			b.OnType(b.chosen, r)
		}
		return
	}
	switch r {
	case '+', '=':
		b.Zoom(ZoomStep)
	case '-':
		b.Zoom(1 / ZoomStep)
	case '0':
		b.Fit()
	}
}

// TypedShortcut implements fyne.Shortcutable: the board has none of its own
// and hands them on to the window.
func (b *Board) TypedShortcut(s fyne.Shortcut) {
	c := fyne.CurrentApp().Driver().CanvasForObject(b)
	if t, ok := c.(interface{ TypedShortcut(fyne.Shortcut) }); ok {
		t.TypedShortcut(s)
	}
}

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
	b.chosen = "" // handles that are Held stay so: fields are typed for them
	b.cancel()
	b.refreshHandles()
}

func held() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

// stops are what Tab goes through: the handles, then the pieces if keys can do
// something with them.
func (b *Board) stops() []string {
	var out []string
	for _, h := range b.scene.Handles {
		out = append(out, h.ID)
	}
	if b.OnAct != nil {
		for _, p := range b.scene.Pieces {
			out = append(out, p.ID)
		}
	}
	return out
}

// next gives the stop that Tab goes to, or "" to leave.
func (b *Board) next(back bool) string {
	stops, at := b.stops(), -1
	now := b.chosen
	if now == "" && b.OnAct != nil {
		now = b.scene.Chosen
	}
	for i, id := range stops {
		if id == now {
			at = i
		}
	}
	if back {
		at--
	} else {
		at++
	}
	if at < 0 || at >= len(stops) {
		return ""
	}
	return stops[at]
}

// stop makes a handle or a piece the chosen one.
func (b *Board) stop(id string) {
	if _, ok := b.scene.handle(id); ok {
		b.Choose(id)
		return
	}
	if b.chosen != "" {
		b.Choose("")
	}
	if b.OnChoose != nil {
		b.OnChoose(id)
	}
}

// AcceptsTab implements fyne.Tabbable: Tab goes through the handles and the
// pieces first.
func (b *Board) AcceptsTab() bool {
	return b.next(held()&fyne.KeyModifierShift != 0) != ""
}

// TypedKey implements fyne.Focusable.
func (b *Board) TypedKey(e *fyne.KeyEvent) {
	coarse := held()&fyne.KeyModifierShift != 0
	if b.tracing && b.OnTraceKey != nil && b.OnTraceKey(e.Name, 0) {
		return
	}
	switch e.Name {
	case fyne.KeyTab:
		b.pointed = false
		if id := b.next(coarse); id != "" {
			b.stop(id)
			if b.OnPick != nil {
				b.OnPick(b.chosen, false)
			}
		}
	case fyne.KeyEscape:
		switch {
		case b.cancel():
		case b.banding:
			b.SetBand(false)
			if b.OnBandEnd != nil {
				b.OnBandEnd()
			}
		case b.chosen != "":
			b.Choose("")
			if b.OnPick != nil {
				b.OnPick("", false)
			}
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
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		b.act(ActMain)
	case fyne.KeyDelete, fyne.KeyBackspace:
		if b.chosen != "" && b.drag.kind == noDrag && b.OnHandleKey != nil && b.OnHandleKey(b.chosen, e.Name, 0) {
			return
		}
		b.act(ActDelete)
	}
}

// act does something with the chosen piece; false when there is none.
func (b *Board) act(a Act) bool {
	if b.drag.kind != noDrag || b.scene.Chosen == "" || b.OnAct == nil {
		return false
	}
	b.OnAct(b.scene.Chosen, a)
	return true
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
	if b.scene.Chosen != "" && b.OnNudgePiece != nil {
		b.OnNudgePiece(b.scene.Chosen, dx, dy, coarse)
		return
	}
	b.setView(b.view.Pan(float64(-dx*panStep), float64(dy*panStep)))
}

// TypedRune implements fyne.Focusable: figures go to the chosen handle, the
// rest zooms.
func (b *Board) TypedRune(r rune) {
	if b.tracing && b.OnTraceKey != nil && b.OnTraceKey("", r) {
		return
	}
	if b.chosen != "" && b.drag.kind == noDrag && b.OnHandleKey != nil && b.OnHandleKey(b.chosen, "", r) {
		return
	}
	if b.chosen != "" && (r >= '0' && r <= '9' || r == '.' || r == ',') {
		if b.OnType != nil {
			b.OnType(b.chosen, r)
		}
		return
	}
	switch r {
	case 't', 'T':
		b.act(ActTurn)
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

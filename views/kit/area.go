package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Area is a field of several lines for words such as notes. It commits when
// the focus leaves; Escape gives up.
type Area struct {
	widget.Entry
	OnCommit func(text string) string

	name string
	held string
}

var _ Named = (*Area)(nil)

// NewArea makes an empty area.
func NewArea(name string) *Area {
	a := &Area{name: name}
	a.MultiLine = true
	a.Wrapping = fyne.TextWrapWord
	a.SetMinRowsVisible(3)
	a.ExtendBaseWidget(a)
	return a
}

// ProbeName implements Named.
func (a *Area) ProbeName() string { return a.name }

// SetText puts a committed text in, unless somebody is typing.
func (a *Area) SetText(s string) {
	typing := a.Text != a.held
	a.held = s
	if !typing && a.Text != s {
		a.Entry.SetText(s)
	}
}

// FocusLost implements fyne.Focusable.
func (a *Area) FocusLost() {
	a.Entry.FocusLost()
	if a.Text != a.held {
		a.held = a.Text
		if a.OnCommit != nil {
			a.OnCommit(a.Text)
		}
	}
}

// TypedKey implements fyne.Focusable.
func (a *Area) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeyEscape {
		a.Entry.SetText(a.held)
		if c := fyne.CurrentApp().Driver().CanvasForObject(a); c != nil {
			c.Unfocus()
		}
		return
	}
	a.Entry.TypedKey(e)
}

// TypedShortcut implements fyne.Shortcutable: undo and redo belong to the text
// while it is being changed, the rest goes on to the window.
func (a *Area) TypedShortcut(s fyne.Shortcut) {
	switch s.(type) {
	case *fyne.ShortcutUndo, *fyne.ShortcutRedo:
		if a.Text == a.held {
			passShortcut(a, s)
			return
		}
	case *fyne.ShortcutCopy, *fyne.ShortcutCut, *fyne.ShortcutPaste, *fyne.ShortcutSelectAll:
	default:
		passShortcut(a, s)
	}
	a.Entry.TypedShortcut(s)
}

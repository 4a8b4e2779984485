package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Modal is a sheet over the window that must be answered: a title, content,
// and buttons at the bottom right. Escape presses the first button, which is
// the one that changes nothing; Return presses the last.
type Modal struct {
	pop     *widget.PopUp
	canvas  fyne.Canvas
	width   float32
	content fyne.CanvasObject
	oldKey  func(*fyne.KeyEvent)
}

// Answer is a button of a modal. A Do that returns false keeps it open.
type Answer struct {
	Name, Words string
	Main        bool
	Do          func() bool
}

// ShowModal opens a modal. First, if not nil, gets the keyboard.
func ShowModal(c fyne.Canvas, name, title string, body fyne.CanvasObject, width float32, first fyne.Focusable, answers ...Answer) *Modal {
	m := &Modal{canvas: c, width: width}
	buttons := []fyne.CanvasObject{NewSpring()}
	for _, a := range answers {
		tap := func() { m.answer(a) }
		if a.Main {
			buttons = append(buttons, NewAction(a.Name, "", a.Words, tap))
		} else {
			buttons = append(buttons, NewButton(a.Name, "", a.Words, tap))
		}
	}
	col := NewColumn(Gap14, NewText(title, Title, Ink), body)
	if len(answers) > 0 {
		col.Add(NewRow(Gap8, buttons...))
	}
	keys := &modalKeys{m: m, answers: answers}
	m.content = NewPanel(Raised, Line, 10, Inset(col, 18, 20)).Named(name)
	m.pop = widget.NewModalPopUp(m.content, c)
	m.oldKey = c.OnTypedKey()
	c.SetOnTypedKey(keys.key)
	m.fit()
	m.pop.Show()
	if first != nil {
		c.Focus(first)
	}
	return m
}

func (m *Modal) answer(a Answer) {
	if a.Do == nil || a.Do() {
		m.Close()
	}
}

// fit sizes the sheet for its content.
func (m *Modal) fit() {
	win := m.canvas.Size()
	w := min(U(m.width), win.Width-40)
	h := min(HeightFor(m.content, w), win.Height-40)
	m.pop.Resize(fyne.NewSize(w, h))
}

// Refit sizes the sheet again after its content changed.
func (m *Modal) Refit() { m.fit() }

// Close closes the sheet.
func (m *Modal) Close() {
	if m.pop == nil {
		return
	}
	m.canvas.SetOnTypedKey(m.oldKey)
	m.pop.Hide()
	m.pop = nil
}

// modalKeys answers by keyboard while no field has the focus.
type modalKeys struct {
	m       *Modal
	answers []Answer
}

func (k *modalKeys) key(e *fyne.KeyEvent) {
	if len(k.answers) == 0 {
		if e.Name == fyne.KeyEscape {
			k.m.Close()
		}
		return
	}
	switch e.Name {
	case fyne.KeyEscape:
		k.m.answer(k.answers[0])
	case fyne.KeyReturn, fyne.KeyEnter:
		k.m.answer(k.answers[len(k.answers)-1])
	}
}

package kit

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Modal is a sheet over the window that must be answered: a title, content,
// and buttons at the bottom right. Escape presses the first button, which is
// the one that changes nothing; Return presses the last.
type Modal struct {
	widget.BaseWidget
	canvas  fyne.Canvas
	width   float32
	panel   *Panel
	answers []Answer
	open    bool
	oldKey  func(*fyne.KeyEvent)
}

var _ Holder = (*Modal)(nil)

// Answer is a button of a modal. A Do that returns false keeps it open.
type Answer struct {
	Name, Words string
	Main        bool
	Do          func() bool
}

// ShowModal opens a modal. What is being typed below is committed first. First,
// if not nil, gets the keyboard.
func ShowModal(c fyne.Canvas, name, title string, body fyne.CanvasObject, width float32, first fyne.Focusable, answers ...Answer) *Modal {
	m := &Modal{canvas: c, width: width, answers: answers, open: true}
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
	m.panel = NewPanel(Raised, LineStrong, 12, Inset(col, 20, 22)).Named(name)
	m.ExtendBaseWidget(m)
	c.Unfocus()
	m.oldKey = c.OnTypedKey()
	c.SetOnTypedKey(m.key)
	c.Overlays().Add(m)
	m.Resize(c.Size())
	if first != nil {
		c.Focus(first)
	}
	return m
}

// Held implements Holder.
func (m *Modal) Held() []fyne.CanvasObject { return []fyne.CanvasObject{m.panel} }

func (m *Modal) answer(a Answer) {
	done := true
	if a.Do != nil {
		Guard(func() { done = a.Do() })
	}
	if done {
		m.Close()
	}
}

// Refit lays the sheet out again after its content changed.
func (m *Modal) Refit() { m.Refresh() }

// Close closes the sheet.
func (m *Modal) Close() {
	if !m.open {
		return
	}
	m.open = false
	m.canvas.SetOnTypedKey(m.oldKey)
	m.canvas.Overlays().Remove(m)
}

// key answers by keyboard while no field has the focus.
func (m *Modal) key(e *fyne.KeyEvent) {
	switch {
	case len(m.answers) == 0:
		if e.Name == fyne.KeyEscape {
			m.Close()
		}
	case e.Name == fyne.KeyEscape:
		m.answer(m.answers[0])
	case e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter:
		m.answer(m.answers[len(m.answers)-1])
	}
}

// MinSize is nothing: the sheet takes the window as it is.
func (m *Modal) MinSize() fyne.Size { return fyne.Size{} }

// CreateRenderer implements fyne.Widget.
func (m *Modal) CreateRenderer() fyne.WidgetRenderer {
	r := &modalRenderer{m: m, dim: canvas.NewRectangle(color.Transparent), shade: canvas.NewRectangle(color.Transparent)}
	r.paint()
	return r
}

type modalRenderer struct {
	m          *Modal
	dim, shade *canvas.Rectangle
}

func (r *modalRenderer) paint() {
	r.dim.FillColor = Colour(Dim)
	r.shade.FillColor, r.shade.CornerRadius = Colour(Shade), 14
}

func (r *modalRenderer) Layout(s fyne.Size) {
	r.dim.Resize(s)
	w := min(U(r.m.width), s.Width-40)
	h := min(HeightFor(r.m.panel, w), s.Height-40)
	at := fyne.NewPos((s.Width-w)/2, max(20, (s.Height-h)*0.42))
	r.m.panel.Move(at)
	r.m.panel.Resize(fyne.NewSize(w, h))
	r.shade.Move(at.AddXY(-1, 3))
	r.shade.Resize(fyne.NewSize(w+2, h+2))
}

func (r *modalRenderer) MinSize() fyne.Size { return fyne.Size{} }

func (r *modalRenderer) Refresh() {
	r.paint()
	r.Layout(r.m.Size())
	r.dim.Refresh()
	r.shade.Refresh()
	r.m.panel.Refresh()
}

func (r *modalRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.dim, r.shade, r.m.panel}
}

func (r *modalRenderer) Destroy() {}

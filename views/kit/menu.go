package kit

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// MenuEntry is one line of a menu; the zero value is a rule.
type MenuEntry struct {
	Name    string // for scripts
	Words   string
	Keys    string // the shortcut, in words
	Checked bool
	Off     bool
	Do      func()
}

// Menu is a list of things to do, over the window. The arrow keys go through
// it, Return does the one that is lit, Escape or a click beside it closes it.
type Menu struct {
	widget.BaseWidget
	canvas fyne.Canvas
	at     fyne.Position
	least  float32
	panel  *Panel
	rows   []*menuRow
	lit    int
	open   bool
}

var (
	_ Holder                 = (*Menu)(nil)
	_ fyne.Tappable          = (*Menu)(nil)
	_ fyne.SecondaryTappable = (*Menu)(nil)
	_ fyne.Focusable         = (*Menu)(nil)
)

// ShowMenu opens a menu with its top left at a place in the window, moved so
// that all of it is in sight; it is at least so wide.
func ShowMenu(c fyne.Canvas, at fyne.Position, least float32, entries []MenuEntry) *Menu {
	m := &Menu{canvas: c, at: at, least: least, lit: -1, open: true}
	col := NewColumn(0)
	for _, e := range entries {
		if e.Words == "" {
			col.Add(Inset(NewRule(), 5, 10))
			continue
		}
		r := newMenuRow(m, len(m.rows), e)
		m.rows = append(m.rows, r)
		col.Add(r)
		if e.Checked && least > 0 { // a list to choose from begins at what is chosen
			m.lit = len(m.rows) - 1
		}
	}
	m.panel = NewPanel(Raised, LineStrong, 9, Inset(col, 5, 1)).Named("menu")
	m.ExtendBaseWidget(m)
	c.Overlays().Add(m)
	m.Resize(c.Size())
	c.Focus(m)
	m.light(m.lit)
	return m
}

// Held implements Holder.
func (m *Menu) Held() []fyne.CanvasObject { return []fyne.CanvasObject{m.panel} }

// Close closes the menu.
func (m *Menu) Close() {
	if m.open {
		m.open = false
		m.canvas.Overlays().Remove(m)
	}
}

func (m *Menu) do(i int) {
	if i < 0 || i >= len(m.rows) || m.rows[i].entry.Off {
		return
	}
	m.Close()
	if f := m.rows[i].entry.Do; f != nil {
		Guard(f)
	}
}

func (m *Menu) light(i int) {
	m.lit = i
	for k, r := range m.rows {
		r.setLit(k == i)
	}
}

// step goes to the next line that can be used.
func (m *Menu) step(d int) {
	for i := m.lit + d; i >= 0 && i < len(m.rows); i += d {
		if !m.rows[i].entry.Off {
			m.light(i)
			return
		}
	}
}

// Tapped implements fyne.Tappable: a click beside the menu.
func (m *Menu) Tapped(*fyne.PointEvent) { m.Close() }

// TappedSecondary implements fyne.SecondaryTappable.
func (m *Menu) TappedSecondary(*fyne.PointEvent) { m.Close() }

// FocusGained implements fyne.Focusable.
func (m *Menu) FocusGained() {}

// FocusLost implements fyne.Focusable.
func (m *Menu) FocusLost() {}

// TypedRune implements fyne.Focusable.
func (m *Menu) TypedRune(rune) {}

// TypedKey implements fyne.Focusable.
func (m *Menu) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyEscape:
		m.Close()
	case fyne.KeyDown:
		m.step(1)
	case fyne.KeyUp:
		if m.lit < 0 {
			m.lit = len(m.rows)
		}
		m.step(-1)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		m.do(m.lit)
	}
}

// MinSize is nothing: the menu takes the window as it is.
func (m *Menu) MinSize() fyne.Size { return fyne.Size{} }

// CreateRenderer implements fyne.Widget.
func (m *Menu) CreateRenderer() fyne.WidgetRenderer {
	return &menuRenderer{m: m, shade: canvas.NewRectangle(color.Transparent)}
}

type menuRenderer struct {
	m     *Menu
	shade *canvas.Rectangle
}

func (r *menuRenderer) Layout(s fyne.Size) {
	m := r.m
	w := m.least
	for _, row := range m.rows {
		w = max(w, row.MinSize().Width+2)
	}
	w = min(w, s.Width-8)
	h := min(HeightFor(m.panel, w), s.Height-8)
	at := fyne.NewPos(max(4, min(m.at.X, s.Width-w-4)), max(4, min(m.at.Y, s.Height-h-4)))
	m.panel.Move(at)
	m.panel.Resize(fyne.NewSize(w, h))
	r.shade.FillColor, r.shade.CornerRadius = Colour(Shade), 11
	r.shade.Move(at.AddXY(-1, 2))
	r.shade.Resize(fyne.NewSize(w+2, h+2))
}

func (r *menuRenderer) MinSize() fyne.Size { return fyne.Size{} }

func (r *menuRenderer) Refresh() {
	r.Layout(r.m.Size())
	r.shade.Refresh()
	r.m.panel.Refresh()
}

func (r *menuRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.shade, r.m.panel}
}

func (r *menuRenderer) Destroy() {}

// menuRow is one line of a menu.
type menuRow struct {
	widget.BaseWidget
	m     *Menu
	i     int
	entry MenuEntry
	back  *Panel
	words *Text
	keys  *Text
	check *Icon
	box   *fyne.Container
}

var (
	_ fyne.Tappable     = (*menuRow)(nil)
	_ desktop.Hoverable = (*menuRow)(nil)
	_ Named             = (*menuRow)(nil)
	_ Holder            = (*menuRow)(nil)
)

func newMenuRow(m *Menu, i int, e MenuEntry) *menuRow {
	r := &menuRow{m: m, i: i, entry: e}
	ink := Ink
	if e.Off {
		ink = InkOff
	}
	r.words, r.keys = NewText(e.Words, Body, ink), NewText(e.Keys, Small, Ink2).Right()
	r.check = NewIcon("check", ink).Sized(15)
	if !e.Checked {
		r.check.Hide()
	}
	r.back = NewPanel(Clear, Clear, 6, nil)
	r.box = &fyne.Container{Layout: menuRowLayout{}, Objects: []fyne.CanvasObject{r.back, r.check, r.words, r.keys}}
	r.ExtendBaseWidget(r)
	return r
}

type menuRowLayout struct{}

func (menuRowLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Move(fyne.NewPos(4, 0))
	o[0].Resize(fyne.NewSize(s.Width-8, s.Height))
	c := o[1].MinSize()
	o[1].Move(fyne.NewPos(11, (s.Height-c.Height)/2))
	o[1].Resize(c)
	k := o[3].MinSize()
	left := 18 + c.Width
	o[2].Move(fyne.NewPos(left, 0))
	o[2].Resize(fyne.NewSize(max(0, s.Width-left-k.Width-14), s.Height))
	o[3].Move(fyne.NewPos(s.Width-k.Width-14, 0))
	o[3].Resize(fyne.NewSize(k.Width, s.Height))
}

func (menuRowLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	w := 18 + o[1].MinSize().Width + o[2].MinSize().Width + 18
	if k := o[3].MinSize().Width; k > 0 {
		w += k + 22
	}
	return fyne.NewSize(w, U(31))
}

func (r *menuRow) ProbeName() string { return r.entry.Name }

func (r *menuRow) Held() []fyne.CanvasObject { return []fyne.CanvasObject{r.box} }

func (r *menuRow) setLit(on bool) {
	role := Clear
	if on && !r.entry.Off {
		role = Chosen
	}
	r.back.SetRoles(role, Clear)
}

// Tapped implements fyne.Tappable.
func (r *menuRow) Tapped(*fyne.PointEvent) { r.m.do(r.i) }

// MouseIn implements desktop.Hoverable.
func (r *menuRow) MouseIn(*desktop.MouseEvent) { r.m.light(r.i) }

// MouseMoved implements desktop.Hoverable.
func (r *menuRow) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (r *menuRow) MouseOut() { r.m.light(-1) }

// CreateRenderer implements fyne.Widget.
func (r *menuRow) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.box) }

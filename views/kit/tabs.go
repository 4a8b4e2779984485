package kit

import (
	"image/color"

	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Tabs is the row of stages above the sheet; the chosen one is joined to it.
type Tabs struct {
	widget.BaseWidget
	OnChange func(i int)

	tabs   []*tab
	chosen int
}

type tab struct {
	*Press
	label *Text
	dot   *Panel
	count *Text
}

var _ Holder = (*Tabs)(nil)

// NewTabs makes the row. Names are for scripts, words for people.
func NewTabs(names, words []string, chosen int, change func(i int)) *Tabs {
	t := &Tabs{OnChange: change, chosen: chosen}
	for i := range words {
		b := &tab{label: NewText(words[i], Medium, Ink2), count: NewText("", SmallStrong, OnDot).Centre()}
		b.dot = NewPanel(CautionDot, Clear, 9, Inset(b.count, 1, 6))
		b.dot.Hide()
		content := FixedHeight(36, Inset(NewRow(Gap8, b.label, b.dot), 0, 16))
		b.Press = newPress(names[i], 9, content, tabLook, func() { t.choose(i) })
		b.Press.own(b.Press)
		b.Press.ink = b.label.SetRole
		b.Press.OnKey = func(k fyne.KeyName) bool { return t.key(i, k) }
		b.state.chosen = i == chosen
		t.tabs = append(t.tabs, b)
	}
	t.ExtendBaseWidget(t)
	return t
}

func tabLook(s state) look {
	l := look{fill: Clear, line: Clear, ink: Ink2}
	switch {
	case s.chosen:
		l.ink = Ink
	case s.hovered:
		l.ink = Ink
	}
	return l
}

// SetCount shows how many cautions a stage has; 0 shows nothing.
func (t *Tabs) SetCount(i, n int) {
	b := t.tabs[i]
	s := ""
	if n > 0 {
		s = strconv.Itoa(n)
	}
	if b.count.Text() == s {
		return
	}
	b.count.SetText(s)
	setVisible(b.dot, n > 0)
	t.Refresh()
}

// Set shows a choice without telling anybody.
func (t *Tabs) Set(i int) {
	if i == t.chosen {
		return
	}
	t.chosen = i
	for k, b := range t.tabs {
		b.SetChosen(k == i)
	}
	t.Refresh()
}

func (t *Tabs) choose(i int) {
	if i == t.chosen {
		return
	}
	t.Set(i)
	if t.OnChange != nil {
		t.OnChange(i)
	}
}

func (t *Tabs) key(i int, k fyne.KeyName) bool {
	switch k {
	case fyne.KeyLeft:
		i--
	case fyne.KeyRight:
		i++
	default:
		return false
	}
	if i >= 0 && i < len(t.tabs) {
		if c := fyne.CurrentApp().Driver().CanvasForObject(t); c != nil {
			c.Focus(t.tabs[i].Press)
		}
		t.choose(i)
	}
	return true
}

// Held implements Holder.
func (t *Tabs) Held() []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, len(t.tabs))
	for i, b := range t.tabs {
		out[i] = b.Press
	}
	return out
}

// CreateRenderer implements fyne.Widget.
func (t *Tabs) CreateRenderer() fyne.WidgetRenderer {
	r := &tabsRenderer{t: t, shape: canvas.NewRectangle(color.Transparent), cover: canvas.NewRectangle(color.Transparent)}
	r.objs = append([]fyne.CanvasObject{r.shape, r.cover}, t.Held()...)
	r.paint()
	return r
}

// tabsRenderer paints the shape of the chosen tab; the row overlaps the sheet
// by one unit, and the cover hides the sheet's border below the tab.
type tabsRenderer struct {
	t            *Tabs
	shape, cover *canvas.Rectangle
	objs         []fyne.CanvasObject
}

func (r *tabsRenderer) paint() {
	r.shape.FillColor, r.shape.StrokeColor, r.shape.StrokeWidth = Colour(Sheet), Colour(Line), 1
	r.shape.TopLeftCornerRadius, r.shape.TopRightCornerRadius = 9, 9
	r.cover.FillColor = Colour(Sheet)
}

func (r *tabsRenderer) Layout(s fyne.Size) {
	h := s.Height - 1
	var x float32
	for i, b := range r.t.tabs {
		w := b.Press.MinSize().Width
		b.Press.Move(fyne.NewPos(x, 0))
		b.Press.Resize(fyne.NewSize(w, h))
		if i == r.t.chosen {
			r.shape.Move(fyne.NewPos(x, 0))
			r.shape.Resize(fyne.NewSize(w, h+1))
			r.cover.Move(fyne.NewPos(x+1, h-1))
			r.cover.Resize(fyne.NewSize(w-2, 3))
		}
		x += w + Gap2
	}
}

func (r *tabsRenderer) MinSize() fyne.Size {
	var w float32
	for _, b := range r.t.tabs {
		w += b.Press.MinSize().Width + Gap2
	}
	return fyne.NewSize(w, U(36)+1)
}

func (r *tabsRenderer) Refresh() {
	r.paint()
	r.Layout(r.t.Size())
	for _, o := range r.objs {
		o.Refresh()
	}
}

func (r *tabsRenderer) Objects() []fyne.CanvasObject { return r.objs }
func (r *tabsRenderer) Destroy()                     {}

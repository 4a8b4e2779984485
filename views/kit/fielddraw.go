package kit

import (
	"image/color"

	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
)

// fieldClip keeps a text that is longer than its field inside the border.
type fieldClip = container.Clip

func newFieldRenderer(f *Field) *fieldRenderer {
	r := &fieldRenderer{f: f, box: canvas.NewRectangle(color.Transparent), sel: canvas.NewRectangle(color.Transparent), caret: canvas.NewRectangle(color.Transparent), text: canvas.NewText("", color.Transparent)}
	r.clip = container.NewClip(container.NewWithoutLayout(r.sel, r.text, r.caret))
	r.objs = []fyne.CanvasObject{r.box, r.clip}
	r.paint()
	return r
}

// FieldHeight is the height of a field's box.
func FieldHeight() float32 { return U(33) }

func (r *fieldRenderer) MinSize() fyne.Size { return r.f.MinSize() }

func (r *fieldRenderer) Layout(s fyne.Size) {
	r.box.Resize(s)
	r.clip.Move(fyne.NewPos(fieldPad-2, 2))
	r.clip.Resize(fyne.NewSize(max(0, s.Width-2*(fieldPad-2)), max(0, s.Height-4)))
	r.place()
}

// textLeft is where the text begins, from the left of the clip.
func (f *Field) textLeft(clipWidth float32) float32 {
	w := f.face.measure(f.edit.String())
	room := clipWidth - 4
	left := float32(2)
	if w <= room {
		f.scroll = 0
		if f.align == fyne.TextAlignTrailing {
			left = 2 + room - w
		}
		return left
	}
	if !f.focused {
		return left
	}
	at := f.face.measure(string(f.edit.text[:f.edit.caret]))
	f.scroll = min(max(f.scroll, at-room), at, w-room)
	f.scroll = max(0, f.scroll)
	return left - f.scroll
}

func (r *fieldRenderer) place() {
	f := r.f
	size := r.clip.Size()
	left := f.textLeft(size.Width)
	lh := f.face.lineHeight()
	top := (size.Height - lh) / 2
	r.text.Text, r.text.Color = f.edit.String(), Colour(Ink)
	if len(f.edit.text) == 0 && !f.focused {
		r.text.Text, r.text.Color = f.hint, Colour(Ink2)
		if f.align == fyne.TextAlignTrailing {
			left = size.Width - 2 - f.face.measure(f.hint)
		}
	} else if !f.focused {
		r.text.Text = shorten(r.text.Text, f.face, size.Width-4)
	}
	r.text.TextSize, r.text.TextStyle = f.face.size(), f.face.style()
	m := r.text.MinSize()
	r.text.Move(fyne.NewPos(left, top+(lh-m.Height)/2))
	r.text.Resize(m)
	a, b := f.edit.span()
	xa, xb := left+f.face.measure(string(f.edit.text[:a])), left+f.face.measure(string(f.edit.text[:b]))
	r.sel.FillColor = Colour(Select)
	r.sel.CornerRadius = 3
	r.sel.Move(fyne.NewPos(xa-1, top))
	r.sel.Resize(fyne.NewSize(xb-xa+2, lh))
	r.caret.FillColor = Colour(Ink)
	xc := left + f.face.measure(string(f.edit.text[:f.edit.caret]))
	r.caret.Move(fyne.NewPos(xc-0.5, top+1))
	r.caret.Resize(fyne.NewSize(1.5, lh-2))
	setVisible(r.sel, f.focused && a != b)
	setVisible(r.caret, f.focused && a == b && !f.readOnly)
}

func setVisible(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

func (r *fieldRenderer) paint() {
	f := r.f
	fill, line, thick := Raised, LineStrong, float32(1)
	switch {
	case f.readOnly:
		fill, line = Sunken, Line
	case f.quiet && !f.focused:
		fill, line = Clear, Clear
	}
	if f.hovered && !f.readOnly {
		line = Ink2
		if f.quiet {
			line = LineStrong
		}
	}
	if f.focused {
		line, thick = Action, 2
	}
	if f.problem != "" {
		line, thick = Wrong, 2
		fill = WrongSoft
	}
	r.box.FillColor, r.box.StrokeColor = Colour(fill), Colour(line)
	r.box.StrokeWidth, r.box.CornerRadius = thick, 7
}

func (r *fieldRenderer) Refresh() {
	r.paint()
	r.place()
	r.box.Refresh()
	r.text.Refresh()
	canvas.Refresh(r.f)
}

func (r *fieldRenderer) Objects() []fyne.CanvasObject { return r.objs }
func (r *fieldRenderer) Destroy()                     {}

// clicker counts clicks that follow one another quickly at one place.
type clicker struct {
	at    time.Time
	pos   fyne.Position
	count int
}

// doubleClick is the longest pause between the clicks of a double click.
const doubleClick = 400 * time.Millisecond

func (c *clicker) click(pos fyne.Position) int {
	now := time.Now()
	if now.Sub(c.at) > doubleClick || abs(pos.X-c.pos.X) > 4 {
		c.count = 0
	}
	c.at, c.pos = now, pos
	c.count++
	return c.count
}

func abs(v float32) float32 {
	if v < 0 {
		return -v
	}
	return v
}

// placeAt gives the place in the text nearest to a position in the field.
func (f *Field) placeAt(x float32) int {
	left := fieldPad - 2 + f.textLeft(f.Size().Width-2*(fieldPad-2))
	best, dist := 0, abs(x-left)
	for i := range f.edit.text {
		d := abs(x - left - f.face.measure(string(f.edit.text[:i+1])))
		if d < dist {
			best, dist = i+1, d
		}
	}
	return best
}

// MouseDown implements desktop.Mouseable.
func (f *Field) MouseDown(e *desktop.MouseEvent) {
	if e.Button != desktop.MouseButtonPrimary {
		return
	}
	wasFocused := f.focused
	f.dragging = true
	if c := fyne.CurrentApp().Driver().CanvasForObject(f); c != nil {
		c.Focus(f)
	}
	n := f.clicks.click(e.Position)
	switch {
	case !wasFocused || n > 2:
		f.edit.selectAll()
		f.dragging = wasFocused
	case n == 2:
		f.edit.selectWord(f.placeAt(e.Position.X))
	default:
		f.edit.moveTo(f.placeAt(e.Position.X), e.Modifier&fyne.KeyModifierShift != 0)
	}
	f.Refresh()
}

// MouseUp implements desktop.Mouseable.
func (f *Field) MouseUp(*desktop.MouseEvent) { f.dragging = false }

// Tapped implements fyne.Tappable; the work is done when the button goes down.
func (f *Field) Tapped(*fyne.PointEvent) {}

// Dragged implements fyne.Draggable: it selects.
func (f *Field) Dragged(e *fyne.DragEvent) {
	if f.focused {
		f.edit.moveTo(f.placeAt(e.Position.X), true)
		f.Refresh()
	}
}

// DragEnd implements fyne.Draggable.
func (f *Field) DragEnd() { f.dragging = false }

// MouseIn implements desktop.Hoverable.
func (f *Field) MouseIn(*desktop.MouseEvent) { f.hovered = true; f.Refresh() }

// MouseMoved implements desktop.Hoverable.
func (f *Field) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (f *Field) MouseOut() { f.hovered = false; f.Refresh() }

// TappedSecondary implements fyne.SecondaryTappable: the field's own menu.
func (f *Field) TappedSecondary(e *fyne.PointEvent) {
	c := fyne.CurrentApp().Driver().CanvasForObject(f)
	if c == nil || f.menu.Copy == "" {
		return
	}
	if !f.focused {
		c.Focus(f)
	}
	send := func(s fyne.Shortcut) func() { return func() { f.TypedShortcut(s) } }
	none := f.edit.selected() == ""
	ShowMenu(c, e.AbsolutePosition, 0, []MenuEntry{
		{Name: "menu:cut", Words: f.menu.Cut, Off: f.readOnly || none, Do: send(&fyne.ShortcutCut{})},
		{Name: "menu:copy", Words: f.menu.Copy, Off: none, Do: send(&fyne.ShortcutCopy{})},
		{Name: "menu:paste", Words: f.menu.Paste, Off: f.readOnly, Do: send(&fyne.ShortcutPaste{})},
		{Name: "menu:select-all", Words: f.menu.SelectAll, Do: send(&fyne.ShortcutSelectAll{})},
	})
}

package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// Scroll shows a column that may be taller than its room. The column gets the
// full width, so that its text wraps.
type Scroll struct {
	widget.BaseWidget
	inner *container.Scroll
	body  *scrollBody
}

var _ Holder = (*Scroll)(nil)

// NewScroll makes a scrolling column of one object.
func NewScroll(content fyne.CanvasObject) *Scroll {
	s := newScroll(content)
	s.ExtendBaseWidget(s)
	return s
}

// newScroll leaves it to the caller to say which widget stands in the tree.
func newScroll(content fyne.CanvasObject) *Scroll {
	s := &Scroll{body: &scrollBody{content: content}}
	s.body.ExtendBaseWidget(s.body)
	s.inner = container.NewVScroll(s.body)
	return s
}

// scroll lets a search find the scroll in what embeds one.
func (s *Scroll) scroll() *Scroll { return s }

// Held implements Holder.
func (s *Scroll) Held() []fyne.CanvasObject { return []fyne.CanvasObject{s.inner} }

// MinSize is small: a scroll takes what it gets.
func (s *Scroll) MinSize() fyne.Size { return fyne.NewSize(40, 40) }

// Need is the height that the content needs at a width.
func (s *Scroll) Need(width float32) float32 { return HeightFor(s.body.content, width) }

// Refit lays the content out again if its height has changed.
func (s *Scroll) Refit() {
	if w := s.Size().Width; w > 0 && s.Need(w) != s.body.content.Size().Height {
		s.Refresh()
	}
}

// ToTop scrolls to the top.
func (s *Scroll) ToTop() { s.inner.ScrollToTop() }

// Refresh lays the content out again: its height may have changed.
func (s *Scroll) Refresh() {
	s.BaseWidget.Refresh()
	s.inner.Refresh()
}

// CreateRenderer implements fyne.Widget.
func (s *Scroll) CreateRenderer() fyne.WidgetRenderer { return &scrollRenderer{s} }

type scrollRenderer struct{ s *Scroll }

func (r *scrollRenderer) Layout(size fyne.Size) {
	r.s.body.width = size.Width
	r.s.inner.Resize(size)
	r.s.inner.Refresh()
}
func (r *scrollRenderer) MinSize() fyne.Size           { return r.s.MinSize() }
func (r *scrollRenderer) Refresh()                     { r.Layout(r.s.Size()) }
func (r *scrollRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.s.inner} }
func (r *scrollRenderer) Destroy()                     {}

// scrollBody tells the toolkit's scroll the height its content needs at the
// width it has.
type scrollBody struct {
	widget.BaseWidget
	content fyne.CanvasObject
	width   float32
}

func (b *scrollBody) Held() []fyne.CanvasObject { return []fyne.CanvasObject{b.content} }

func (b *scrollBody) MinSize() fyne.Size {
	return fyne.NewSize(0, HeightFor(b.content, b.width))
}

func (b *scrollBody) CreateRenderer() fyne.WidgetRenderer { return &bodyRenderer{b} }

type bodyRenderer struct{ b *scrollBody }

func (r *bodyRenderer) Layout(size fyne.Size) {
	r.b.content.Move(fyne.NewPos(0, 0))
	r.b.content.Resize(size)
}
func (r *bodyRenderer) MinSize() fyne.Size           { return r.b.MinSize() }
func (r *bodyRenderer) Refresh()                     { r.b.content.Refresh() }
func (r *bodyRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.b.content} }
func (r *bodyRenderer) Destroy()                     {}

// reveal scrolls an object that has just taken the focus into sight.
func reveal(o fyne.CanvasObject) {
	c := fyne.CurrentApp().Driver().CanvasForObject(o)
	if c == nil {
		return
	}
	root := c.Overlays().Top()
	if root == nil {
		root = c.Content()
	}
	revealIn(root, o, nil, 0)
}

// revealIn walks down to o, remembering the innermost scroll and how far below
// its content's top the walk has come.
func revealIn(at, o fyne.CanvasObject, in *container.Scroll, depth float32) bool {
	if at == nil || !at.Visible() {
		return false
	}
	if at == o {
		if in != nil {
			const margin = 12
			top, bottom := depth-margin, depth+o.Size().Height+margin
			off := in.Offset.Y
			if bottom > off+in.Size().Height {
				off = bottom - in.Size().Height
			}
			if top < off {
				off = max(0, top)
			}
			if off != in.Offset.Y {
				in.ScrollToOffset(fyne.NewPos(in.Offset.X, off))
			}
		}
		return true
	}
	if v, ok := at.(*container.Scroll); ok {
		return revealIn(v.Content, o, v, 0)
	}
	for _, k := range Kids(at) {
		if k != nil && revealIn(k, o, in, depth+k.Position().Y) {
			return true
		}
	}
	return false
}

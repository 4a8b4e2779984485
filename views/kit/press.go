package kit

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// state is what a pressable thing is in just now.
type state struct {
	hovered, pressed, focused, chosen, disabled bool
}

// look is how it is painted then.
type look struct {
	fill, line Role
	thick      float32
	ink        Role
}

// Press is anything that can be pressed: it carries the behaviour (pointer,
// keyboard, focus) for buttons, cards, tabs and the parts of a switch, which
// differ only in their look and content.
type Press struct {
	widget.BaseWidget
	OnTap func()
	// OnMenu, if set, is called for the right button with the place in the
	// window.
	OnMenu func(at fyne.Position)
	// OnKey, if set, sees keys first; it returns true when it used one.
	OnKey func(fyne.KeyName) bool

	name    string
	tip     string
	radius  float32
	state   state
	look    func(state) look
	ink     func(Role) // colours the content
	content fyne.CanvasObject
	self    fyne.Widget // the widget in the tree: p or what embeds it
}

var (
	_ fyne.Tappable          = (*Press)(nil)
	_ fyne.SecondaryTappable = (*Press)(nil)
	_ fyne.Focusable         = (*Press)(nil)
	_ fyne.Disableable       = (*Press)(nil)
	_ desktop.Hoverable      = (*Press)(nil)
	_ desktop.Cursorable     = (*Press)(nil)
	_ desktop.Mouseable      = (*Press)(nil)
	_ Tall                   = (*Press)(nil)
	_ Holder                 = (*Press)(nil)
	_ Named                  = (*Press)(nil)
)

func newPress(name string, radius float32, content fyne.CanvasObject, lk func(state) look, tap func()) *Press {
	return &Press{name: name, radius: radius, content: content, look: lk, OnTap: tap}
}

// own says which widget stands in the tree. It is called once, by whoever
// makes a Press: with the Press itself or with what embeds it, since the
// toolkit tells widgets apart by their outermost value.
func (p *Press) own(w fyne.Widget) *Press {
	p.self = w
	p.ExtendBaseWidget(w)
	return p
}

// ProbeName implements Named.
func (p *Press) ProbeName() string { return p.name }

// SetTip sets the explanation shown while the pointer rests here; it gives the
// widget back.
func (p *Press) SetTip(tip string) *Press { p.tip = tip; return p }

// Held implements Holder.
func (p *Press) Held() []fyne.CanvasObject { return []fyne.CanvasObject{p.content} }

// HeightFor implements Tall.
func (p *Press) HeightFor(width float32) float32 { return HeightFor(p.content, width) }

// SetChosen marks the thing as the chosen one of its group.
func (p *Press) SetChosen(on bool) { p.set(func(s *state) { s.chosen = on }) }

// Chosen tells whether it is.
func (p *Press) Chosen() bool { return p.state.chosen }

// Disable implements fyne.Disableable.
func (p *Press) Disable() { p.set(func(s *state) { s.disabled = true; s.hovered = false }) }

// Enable implements fyne.Disableable.
func (p *Press) Enable() { p.set(func(s *state) { s.disabled = false }) }

// SetEnabled does either.
func (p *Press) SetEnabled(on bool) {
	if on {
		p.Enable()
	} else {
		p.Disable()
	}
}

// Disabled implements fyne.Disableable.
func (p *Press) Disabled() bool { return p.state.disabled }

func (p *Press) set(f func(*state)) {
	old := p.state
	f(&p.state)
	if p.state != old {
		p.Refresh()
	}
}

// Tapped implements fyne.Tappable. What is being typed elsewhere is committed
// first: the toolkit leaves the focus where it is when the thing tapped could
// take it.
func (p *Press) Tapped(*fyne.PointEvent) {
	if p.state.disabled {
		return
	}
	dropFocus(p.self)
	p.fire()
}

func (p *Press) fire() {
	if p.OnTap != nil && !p.state.disabled {
		Guard(p.OnTap)
	}
}

// TappedSecondary implements fyne.SecondaryTappable.
func (p *Press) TappedSecondary(e *fyne.PointEvent) {
	if p.OnMenu != nil && !p.state.disabled {
		dropFocus(p.self)
		Guard(func() { p.OnMenu(e.AbsolutePosition) })
	}
}

// dropFocus takes the focus from whatever holds it in the canvas of o, unless
// that is o itself.
func dropFocus(o fyne.CanvasObject) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(o); c != nil {
		if f := c.Focused(); f != nil && any(f) != any(o) {
			c.Unfocus()
		}
	}
}

// MouseDown implements desktop.Mouseable.
func (p *Press) MouseDown(e *desktop.MouseEvent) {
	hideTip(p.self)
	if e.Button == desktop.MouseButtonPrimary && !p.state.disabled {
		p.set(func(s *state) { s.pressed = true })
	}
}

// MouseUp implements desktop.Mouseable.
func (p *Press) MouseUp(*desktop.MouseEvent) { p.set(func(s *state) { s.pressed = false }) }

// MouseIn implements desktop.Hoverable.
func (p *Press) MouseIn(e *desktop.MouseEvent) {
	showTip(p.self, p.tip)
	if !p.state.disabled {
		p.set(func(s *state) { s.hovered = true })
	}
}

// MouseMoved implements desktop.Hoverable.
func (p *Press) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (p *Press) MouseOut() {
	hideTip(p.self)
	p.set(func(s *state) { s.hovered, s.pressed = false, false })
}

// Cursor implements desktop.Cursorable.
func (p *Press) Cursor() desktop.Cursor {
	if p.state.disabled {
		return desktop.DefaultCursor
	}
	return desktop.PointerCursor
}

// FocusGained implements fyne.Focusable.
func (p *Press) FocusGained() {
	p.set(func(s *state) { s.focused = true })
	reveal(p.self)
}

// FocusLost implements fyne.Focusable.
func (p *Press) FocusLost() { p.set(func(s *state) { s.focused = false }) }

// TypedRune implements fyne.Focusable.
func (p *Press) TypedRune(r rune) {
	if r == ' ' {
		p.fire()
	}
}

// TypedKey implements fyne.Focusable.
func (p *Press) TypedKey(e *fyne.KeyEvent) {
	if p.OnKey != nil && p.OnKey(e.Name) {
		return
	}
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		p.fire()
	case fyne.KeyEscape:
		if c := fyne.CurrentApp().Driver().CanvasForObject(p.self); c != nil {
			c.Unfocus()
		}
	}
}

// CreateRenderer implements fyne.Widget.
func (p *Press) CreateRenderer() fyne.WidgetRenderer {
	r := &pressRenderer{p: p, rect: canvas.NewRectangle(color.Transparent), ring: canvas.NewRectangle(color.Transparent)}
	r.objs = []fyne.CanvasObject{r.rect, p.content, r.ring}
	r.paint()
	return r
}

type pressRenderer struct {
	p          *Press
	rect, ring *canvas.Rectangle
	objs       []fyne.CanvasObject
}

func (r *pressRenderer) paint() {
	l := r.p.look(r.p.state)
	r.rect.FillColor, r.rect.StrokeColor = Colour(l.fill), Colour(l.line)
	r.rect.StrokeWidth, r.rect.CornerRadius = l.thick, r.p.radius
	r.ring.FillColor, r.ring.StrokeColor = Colour(Clear), Colour(Action)
	r.ring.StrokeWidth, r.ring.CornerRadius = 2, r.p.radius+3
	if r.p.state.focused {
		r.ring.Show()
	} else {
		r.ring.Hide()
	}
	if r.p.ink != nil {
		r.p.ink(l.ink)
	}
}

// ringOut is how far the focus ring stands off.
const ringOut = 3

func (r *pressRenderer) Layout(s fyne.Size) {
	r.rect.Resize(s)
	r.ring.Move(fyne.NewPos(-ringOut, -ringOut))
	r.ring.Resize(s.AddWidthHeight(2*ringOut, 2*ringOut))
	r.p.content.Move(fyne.NewPos(0, 0))
	r.p.content.Resize(s)
}

func (r *pressRenderer) MinSize() fyne.Size { return r.p.content.MinSize() }

func (r *pressRenderer) Refresh() {
	r.paint()
	r.rect.Refresh()
	r.ring.Refresh()
	r.p.content.Refresh()
}

func (r *pressRenderer) Objects() []fyne.CanvasObject { return r.objs }
func (r *pressRenderer) Destroy()                     {}

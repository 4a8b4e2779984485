package kit

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Switch is a row of parts of which one is chosen, such as in | cm.
type Switch struct {
	widget.BaseWidget
	OnChange func(i int)

	parts  []*Press
	labels []*Text
	chosen int
	even   bool
}

var _ Holder = (*Switch)(nil)

// NewSwitch makes a switch. Scripts find part i as names[i].
func NewSwitch(names, words []string, chosen int, change func(i int)) *Switch {
	s := &Switch{OnChange: change, chosen: chosen}
	for i, w := range words {
		text := NewText(w, Body, Ink).Centre()
		part := newPress(names[i], 6, FixedHeight(31, Inset(text, 0, 12)), switchLook, func() { s.choose(i) })
		part.own(part)
		part.ink = func(r Role) {
			text.role, text.face = r, Body
			if part.state.chosen {
				text.face = Strong
			}
			text.Refresh()
		}
		part.OnKey = func(k fyne.KeyName) bool { return s.key(i, k) }
		part.state.chosen = i == chosen
		s.parts = append(s.parts, part)
		s.labels = append(s.labels, text)
	}
	s.ExtendBaseWidget(s)
	return s
}

// Even gives every part the same share of the width and gives the switch back.
func (s *Switch) Even() *Switch { s.even = true; return s }

func switchLook(st state) look {
	l := look{fill: Clear, line: Clear, ink: Ink2}
	switch {
	case st.disabled:
		l.ink = InkOff
	case st.chosen:
		l.fill, l.ink = Chosen, Ink
	case st.hovered:
		l.fill, l.ink = Hover, Ink
	}
	return l
}

// Set shows a choice without telling anybody.
func (s *Switch) Set(i int) {
	s.chosen = i
	for k, p := range s.parts {
		p.SetChosen(k == i)
	}
}

// SetWords changes the words of the parts.
func (s *Switch) SetWords(words []string) {
	for i := range min(len(words), len(s.labels)) {
		s.labels[i].SetText(words[i])
	}
}

func (s *Switch) choose(i int) {
	if i == s.chosen || i < 0 || i >= len(s.parts) {
		return
	}
	s.Set(i)
	if s.OnChange != nil {
		s.OnChange(i)
	}
}

func (s *Switch) key(i int, k fyne.KeyName) bool {
	switch k {
	case fyne.KeyLeft:
		i--
	case fyne.KeyRight:
		i++
	default:
		return false
	}
	if i >= 0 && i < len(s.parts) {
		if c := fyne.CurrentApp().Driver().CanvasForObject(s); c != nil {
			c.Focus(s.parts[i])
		}
		s.choose(i)
	}
	return true
}

// Held implements Holder.
func (s *Switch) Held() []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, len(s.parts))
	for i, p := range s.parts {
		out[i] = p
	}
	return out
}

// CreateRenderer implements fyne.Widget.
func (s *Switch) CreateRenderer() fyne.WidgetRenderer {
	r := &switchRenderer{s: s, box: canvas.NewRectangle(color.Transparent)}
	r.objs = append([]fyne.CanvasObject{r.box}, s.Held()...)
	for i := 1; i < len(s.parts); i++ {
		rule := NewRule()
		r.rules = append(r.rules, rule)
		r.objs = append(r.objs, rule)
	}
	r.paint()
	return r
}

type switchRenderer struct {
	s     *Switch
	box   *canvas.Rectangle
	rules []*Fill
	objs  []fyne.CanvasObject
}

func (r *switchRenderer) paint() {
	r.box.FillColor, r.box.StrokeColor = Colour(Raised), Colour(LineStrong)
	r.box.StrokeWidth, r.box.CornerRadius = 1, 7
}

func (r *switchRenderer) Layout(size fyne.Size) {
	r.box.Resize(size)
	var sum float32
	for _, p := range r.s.parts {
		sum += p.MinSize().Width
	}
	x := float32(1)
	extra := max(0, size.Width-2-sum)
	for i, p := range r.s.parts {
		w := p.MinSize().Width + extra/float32(len(r.s.parts))
		if r.s.even {
			w = (size.Width - 2) / float32(len(r.s.parts))
		}
		p.Move(fyne.NewPos(x, 1))
		p.Resize(fyne.NewSize(w, size.Height-2))
		x += w
		if i < len(r.rules) {
			r.rules[i].Move(fyne.NewPos(x-0.5, 1))
			r.rules[i].Resize(fyne.NewSize(1, size.Height-2))
		}
	}
}

func (r *switchRenderer) MinSize() fyne.Size {
	var w float32
	for _, p := range r.s.parts {
		m := p.MinSize().Width
		if r.s.even {
			w = max(w, m)
		} else {
			w += m
		}
	}
	if r.s.even {
		w *= float32(len(r.s.parts))
	}
	return fyne.NewSize(w+2, FieldHeight())
}

func (r *switchRenderer) Refresh() {
	r.paint()
	r.box.Refresh()
	for _, o := range r.objs[1:] {
		o.Refresh()
	}
}

func (r *switchRenderer) Objects() []fyne.CanvasObject { return r.objs }
func (r *switchRenderer) Destroy()                     {}

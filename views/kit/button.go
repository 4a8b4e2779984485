package kit

import (
	"fyne.io/fyne/v2"
)

// Button is a Press with words, an icon or both.
type Button struct {
	*Press
	label *Text
	icon  *Icon
}

// plainLook is the look of a secondary button.
func plainLook(s state) look {
	l := look{fill: Raised, line: LineStrong, thick: 1, ink: Ink}
	switch {
	case s.disabled:
		l.ink = InkOff
		l.line = Line
	case s.chosen:
		l = look{fill: Action, line: Action, thick: 1, ink: OnAction}
		if s.hovered {
			l.fill, l.line = ActionHover, ActionHover
		}
	case s.pressed:
		l.fill = Chosen
	case s.hovered:
		l.fill, l.line = Hover, Ink2
	}
	return l
}

// actionLook is the look of the one thing to do next.
func actionLook(s state) look {
	l := look{fill: Action, line: Action, thick: 1, ink: OnAction}
	switch {
	case s.disabled:
		l = look{fill: Sunken, line: Line, thick: 1, ink: InkOff}
	case s.hovered || s.pressed:
		l.fill, l.line = ActionHover, ActionHover
	}
	return l
}

// bareLook has no border until it is pointed at.
func bareLook(s state) look {
	l := look{fill: Clear, line: Clear, ink: Ink2}
	switch {
	case s.disabled:
		l.ink = InkOff
	case s.pressed:
		l.fill, l.ink = Chosen, Ink
	case s.hovered:
		l.fill, l.ink = Hover, Ink
	}
	return l
}

func newButton(name, icon, words string, lk func(state) look, tap func()) *Button {
	b := &Button{}
	var parts []fyne.CanvasObject
	if icon != "" {
		b.icon = NewIcon(icon, Ink)
		parts = append(parts, b.icon)
	}
	side := float32(8)
	if words != "" {
		b.label = NewText(words, Medium, Ink)
		parts = append(parts, b.label)
		side = 11
	}
	content := FixedHeight(33, Inset(NewRow(Gap6, parts...), 0, side))
	b.Press = newPress(name, 7, content, lk, tap)
	b.own(b)
	b.Press.ink = func(r Role) {
		if b.label != nil {
			b.label.SetRole(r)
		}
		if b.icon != nil {
			b.icon.SetRole(r)
		}
	}
	return b
}

// NewButton makes a secondary button. Icon and words may each be empty, not both.
func NewButton(name, icon, words string, tap func()) *Button {
	return newButton(name, icon, words, plainLook, tap)
}

// NewAction makes the button of the one thing to do next.
func NewAction(name, icon, words string, tap func()) *Button {
	return newButton(name, icon, words, actionLook, tap)
}

// NewBare makes a button without a border.
func NewBare(name, icon, words string, tap func()) *Button {
	return newButton(name, icon, words, bareLook, tap)
}

// Centred sets the words in the middle of a button that is wider than they are.
func (b *Button) Centred() *Button {
	row := b.content.(*fyne.Container).Objects[0].(*fyne.Container).Objects[0].(*fyne.Container)
	row.Objects = append(append([]fyne.CanvasObject{NewSpring()}, row.Objects...), NewSpring())
	return b
}

// Tip sets the explanation and gives the button back.
func (b *Button) Tip(tip string) *Button { b.SetTip(tip); return b }

// SetWords changes the words.
func (b *Button) SetWords(s string) {
	if b.label != nil {
		b.label.SetText(s)
	}
}

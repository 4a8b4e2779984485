package kit

import (
	"strconv"

	"fyne.io/fyne/v2"
)

// Choice shows one of several values and opens the list of all of them.
type Choice struct {
	*Press
	OnChange func(i int)

	label  *Text
	words  []string
	chosen int
}

// NewChoice makes a choice between words, with the value flush right as in a
// field.
func NewChoice(name string, words []string, chosen int, change func(i int)) *Choice {
	c := &Choice{OnChange: change, words: words, chosen: chosen}
	c.label = NewText("", Body, Ink).Right()
	arrow := NewIcon("down", Ink2).Sized(14)
	content := FixedHeight(33, &fyne.Container{Layout: &choiceLayout{}, Objects: []fyne.CanvasObject{c.label, arrow}})
	c.Press = newPress(name, 7, content, choiceLook, c.open)
	c.own(c)
	c.Press.ink = func(r Role) { c.label.SetRole(r) }
	c.Press.OnKey = c.key
	c.Set(chosen)
	return c
}

func choiceLook(s state) look {
	l := look{fill: Raised, line: LineStrong, thick: 1, ink: Ink}
	switch {
	case s.disabled:
		l.fill, l.line, l.ink = Sunken, Line, InkOff
	case s.hovered:
		l.line = Ink2
	}
	return l
}

// choiceLayout keeps the arrow at the right and gives the words the rest.
type choiceLayout struct{}

func (*choiceLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	a := o[1].MinSize()
	o[1].Move(fyne.NewPos(s.Width-a.Width-9, (s.Height-a.Height)/2))
	o[1].Resize(a)
	h := o[0].MinSize().Height
	o[0].Move(fyne.NewPos(10, (s.Height-h)/2))
	o[0].Resize(fyne.NewSize(max(0, s.Width-a.Width-24), h))
}

func (*choiceLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(min(o[0].MinSize().Width, U(60))+o[1].MinSize().Width+24, FieldHeight())
}

// Set shows a choice without telling anybody.
func (c *Choice) Set(i int) {
	c.chosen = i
	if i >= 0 && i < len(c.words) {
		c.label.SetText(c.words[i])
	} else {
		c.label.SetText("")
	}
}

// SetWords changes the list; the choice keeps its place.
func (c *Choice) SetWords(words []string, chosen int) { c.words = words; c.Set(chosen) }

// ProbeValue implements Valued.
func (c *Choice) ProbeValue() (value, problem string) { return c.label.Text(), "" }

// Chosen gives the place of the choice in the list.
func (c *Choice) Chosen() int { return c.chosen }

func (c *Choice) choose(i int) {
	if i == c.chosen || i < 0 || i >= len(c.words) {
		return
	}
	c.Set(i)
	if c.OnChange != nil {
		c.OnChange(i)
	}
}

func (c *Choice) key(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyUp:
		c.choose(c.chosen - 1)
	case fyne.KeyDown:
		c.choose(c.chosen + 1)
	default:
		return false
	}
	return true
}

func (c *Choice) open() {
	cv := fyne.CurrentApp().Driver().CanvasForObject(c)
	if cv == nil {
		return
	}
	entries := make([]MenuEntry, len(c.words))
	for i, w := range c.words {
		entries[i] = MenuEntry{Name: c.name + ":" + strconv.Itoa(i), Words: w, Checked: i == c.chosen, Do: func() { c.choose(i) }}
	}
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(c)
	ShowMenu(cv, fyne.NewPos(at.X, at.Y+c.Size().Height+2), c.Size().Width, entries)
}

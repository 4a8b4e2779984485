package kit

import "fyne.io/fyne/v2"

// Total is one figure of the strip at the bottom with what it counts.
type Total struct {
	*Press
	figure, caption *Text
}

func totalLook(s state) look {
	l := look{fill: Clear, line: Clear, ink: Ink}
	if s.hovered {
		l.fill = Hover
	}
	return l
}

// NewTotal makes a figure. Tapping it may tell how it came about.
func NewTotal(name, figure, caption string, tap func()) *Total {
	t := &Total{figure: NewText(figure, Title, Ink), caption: NewText(caption, Small, Ink2)}
	col := NewColumn(0, t.figure, t.caption)
	t.Press = newPress(name, 7, Inset(col, 4, 8), totalLook, tap)
	t.own(t)
	return t
}

// ProbeValue implements Valued.
func (t *Total) ProbeValue() (value, problem string) { return t.figure.Text(), "" }

// Set changes figure and caption. Stale figures are shown in the second ink.
func (t *Total) Set(figure, caption string, stale bool) {
	t.figure.SetText(figure)
	t.caption.SetText(caption)
	role := Ink
	if stale {
		role = InkOff
	}
	t.figure.SetRole(role)
}

// CautionButton is the most serious caution at the bottom right; tapping it
// leads to it.
type CautionButton struct {
	*Press
	text *Text
}

func cautionLook(s state) look {
	l := look{fill: Caution, line: CautionLine, thick: 1, ink: CautionInk}
	if s.hovered {
		l.thick = 2
	}
	return l
}

// NewCautionButton makes the button.
func NewCautionButton(name, words string, tap func()) *CautionButton {
	b := &CautionButton{text: NewText(words, Medium, CautionInk).Shrink()}
	icon := NewIcon("caution", CautionInk).Sized(16)
	b.Press = newPress(name, 8, FixedHeight(33, Inset(NewRow(Gap8, icon, b.text), 0, 12)), cautionLook, tap)
	b.own(b)
	b.Press.ink = func(r Role) { b.text.SetRole(r); icon.SetRole(r) }
	return b
}

// LeastWidth implements Yielding: the words may be shortened.
func (b *CautionButton) LeastWidth() float32 { return U(140) }

// SetWords changes the words.
func (b *CautionButton) SetWords(s string) { b.text.SetText(s) }

// Sheet is the large panel with the drawing, below the tabs.
func NewSheet(content fyne.CanvasObject) *Panel { return NewPanel(Sheet, Line, 9, content) }

// NewCautionCard is a caution in a list: title, words, and the way to its place
// when it is tapped.
func NewCautionCard(name, title, words string, tap func()) *Card {
	c := &Card{title: NewPara(title, Strong, CautionInk), sub: NewPara(words, Body, CautionInk)}
	setVisible(c.sub, words != "")
	content := Inset(NewColumn(Gap2, c.title, c.sub), 9, 12)
	c.Press = newPress(name, 8, content, cautionLook, tap)
	c.own(c)
	return c
}

package kit

import (
	"fyne.io/fyne/v2"
)

// Check is a line of words that is ticked or not.
type Check struct {
	*Press
	OnChange func(on bool)

	mark *Icon
	box  *Panel
	text *Text
	on   bool
}

// NewCheck makes a check.
func NewCheck(name, words string, on bool, change func(on bool)) *Check {
	c := &Check{OnChange: change, text: NewPara(words, Body, Ink), mark: NewIcon("check", OnAction).Sized(13)}
	c.box = NewPanel(Clear, LineStrong, 4, FixedWidth(18, FixedHeight(18, Inset(c.mark, 2.5))))
	c.Press = newPress(name, 6, &fyne.Container{Layout: checkLayout{}, Objects: []fyne.CanvasObject{c.box, c.text}}, checkLook, func() { c.Set(!c.on); c.tell() })
	c.own(c)
	c.Press.ink = func(r Role) { c.text.SetRole(r) }
	c.Set(on)
	return c
}

func checkLook(s state) look {
	l := look{fill: Clear, line: Clear, ink: Ink}
	switch {
	case s.disabled:
		l.ink = InkOff
	case s.hovered:
		l.fill = Hover
	}
	return l
}

// Set ticks it or not without telling anybody.
func (c *Check) Set(on bool) {
	c.on = on
	setVisible(c.mark, on)
	if on {
		c.box.SetRoles(Action, Action)
	} else {
		c.box.SetRoles(Raised, LineStrong)
	}
}

// On tells whether it is ticked.
func (c *Check) On() bool { return c.on }

// ProbeValue implements Valued.
func (c *Check) ProbeValue() (value, problem string) {
	if c.on {
		return "on", ""
	}
	return "off", ""
}

func (c *Check) tell() {
	if c.OnChange != nil {
		c.OnChange(c.on)
	}
}

// checkLayout puts the box before the words, level with their first line.
type checkLayout struct{}

const checkRoom = 27

func (checkLayout) HeightFor(o []fyne.CanvasObject, width float32) float32 {
	return max(U(26), HeightFor(o[1], width-U(checkRoom)-6)+U(6))
}

func (l checkLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	h := HeightFor(o[1], s.Width-U(checkRoom)-6)
	m := o[0].MinSize()
	y := (s.Height - h) / 2
	o[0].Move(fyne.NewPos(2, max(0, (s.Height-m.Height)/2)))
	o[0].Resize(m)
	o[1].Move(fyne.NewPos(U(checkRoom), y))
	o[1].Resize(fyne.NewSize(max(0, s.Width-U(checkRoom)-6), h))
}

func (l checkLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(o[1].MinSize().Width+U(checkRoom)+6, U(26))
}

// Progress is a bar that fills as work goes on.
type Progress struct {
	*fyne.Container
	share float32
	fill  *Fill
}

// NewProgress makes an empty bar.
func NewProgress() *Progress {
	p := &Progress{fill: NewFill(Action)}
	p.Container = &fyne.Container{Layout: (*progressLayout)(p), Objects: []fyne.CanvasObject{NewFill(Line), p.fill}}
	return p
}

// Set fills the bar to a share of 0 to 1.
func (p *Progress) Set(share float32) {
	p.share = min(max(share, 0), 1)
	p.Container.Layout.Layout(p.Container.Objects, p.Container.Size())
	p.fill.Refresh()
}

type progressLayout Progress

func (p *progressLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	for i, w := range []float32{s.Width, s.Width * p.share} {
		o[i].Move(fyne.NewPos(0, 0))
		o[i].Resize(fyne.NewSize(w, s.Height))
	}
}

func (p *progressLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(60, U(5)) }

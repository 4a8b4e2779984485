package kit

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// Picture makes the image of a card in pixels. It may return nil.
type Picture func(w, h int) image.Image

// Card is a thing of the job in the left column: a picture, its name and a
// second line.
type Card struct {
	*Press
	title, sub *Text
	img        *canvas.Raster
	pic        Picture
	key        string
}

func cardLook(s state) look {
	l := look{fill: Raised, line: Line, thick: 1, ink: Ink}
	switch {
	case s.chosen:
		l.line, l.thick = Action, 2
	case s.hovered:
		l.line = Ink2
	}
	return l
}

// cardLayout puts the picture at the left and the words beside it.
type cardLayout struct{ pic float32 }

func (l *cardLayout) words(width float32) float32 { return max(10, width-l.left()-Gap12) }
func (l *cardLayout) left() float32 {
	if l.pic == 0 {
		return Gap12
	}
	return Gap12 + U(l.pic) + Gap14
}

func (l *cardLayout) HeightFor(o []fyne.CanvasObject, width float32) float32 {
	w := l.words(width)
	h := HeightFor(o[1], w)
	if o[2].Visible() {
		h += HeightFor(o[2], w) + 1
	}
	return max(h, U(l.pic)) + 2*Gap12
}

func (l *cardLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	p := U(l.pic)
	o[0].Move(fyne.NewPos(Gap12, (s.Height-p)/2))
	o[0].Resize(fyne.NewSquareSize(p))
	w := l.words(s.Width)
	h1 := HeightFor(o[1], w)
	var h2 float32
	if o[2].Visible() {
		h2 = HeightFor(o[2], w) + 1
	}
	y := (s.Height - h1 - h2) / 2
	o[1].Move(fyne.NewPos(l.left(), y))
	o[1].Resize(fyne.NewSize(w, h1))
	o[2].Move(fyne.NewPos(l.left(), y+h1+1))
	o[2].Resize(fyne.NewSize(w, max(0, h2-1)))
}

func (l *cardLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(U(120), l.HeightFor(o, U(203)))
}

// NewCard makes a card. Without a picture the words take the whole width.
func NewCard(name, title, sub string, pic Picture, tap func()) *Card {
	c := &Card{title: NewPara(title, Strong, Ink), sub: NewPara(sub, Small, Ink2), pic: pic}
	c.img = canvas.NewRaster(func(w, h int) image.Image {
		if c.pic != nil {
			if m := c.pic(w, h); m != nil {
				return m
			}
		}
		return image.NewRGBA(image.Rect(0, 0, w, h))
	})
	size := float32(44)
	if pic == nil {
		size = 0
	}
	setVisible(c.sub, sub != "")
	content := &fyne.Container{Layout: &cardLayout{pic: size}, Objects: []fyne.CanvasObject{c.img, c.title, c.sub}}
	c.Press = newPress(name, 9, content, cardLook, tap)
	c.own(c)
	return c
}

// update shows an entry of a list and tells whether anything changed.
func (c *Card) update(e CardEntry) bool {
	changed := e.Title != c.title.Text() || e.Sub != c.sub.Text()
	c.title.SetText(e.Title)
	c.sub.SetText(e.Sub)
	setVisible(c.sub, e.Sub != "")
	if e.Key == "" || e.Key != c.key {
		c.pic, c.key = e.Picture, e.Key
		c.img.Refresh()
		changed = true
	}
	return changed
}

// Set changes what the card shows.
func (c *Card) Set(title, sub string, pic Picture) {
	c.title.SetText(title)
	c.sub.SetText(sub)
	setVisible(c.sub, sub != "")
	c.pic = pic
	c.img.Refresh()
}

// NewPill makes a short rounded box of words, good or not.
func NewPill(words string, good bool) *Pill {
	p := &Pill{text: NewText(words, Strong, GoodInk)}
	p.Panel = newPanel(Good, GoodLine, 15, FixedHeight(31, Inset(p.text, 0, 13)))
	p.ExtendBaseWidget(p)
	p.Set(words, good)
	return p
}

// Pill is a short rounded box of words at the top right of a sheet.
type Pill struct {
	*Panel
	text *Text
}

// Called gives the pill a name for scripts and returns it.
func (p *Pill) Called(name string) *Pill { p.name = name; return p }

// ProbeValue implements Valued.
func (p *Pill) ProbeValue() (value, problem string) { return p.text.Text(), "" }

// Set changes the words and whether they are good news.
func (p *Pill) Set(words string, good bool) {
	p.text.SetText(words)
	if good {
		p.text.SetRole(GoodInk)
		p.SetRoles(Good, GoodLine)
	} else {
		p.text.SetRole(Ink2)
		p.SetRoles(Raised, LineStrong)
	}
}

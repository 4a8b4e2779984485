package kit

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// BigCard is a card with a large picture over its words, for a gallery. A
// small button at its corner opens a menu of what can be done with it.
type BigCard struct {
	*Press
}

// pictureHeight is the height of a big card's picture.
const pictureHeight = 128

type bigCardLayout struct{}

// The objects are picture, title, sub, menu button.
func (bigCardLayout) HeightFor(o []fyne.CanvasObject, width float32) float32 {
	w := width - 2*Gap14
	return U(pictureHeight) + Gap12 + HeightFor(o[1], w-U(30)) + Gap2 + HeightFor(o[2], w) + Gap14
}

func (bigCardLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	put := func(i int, x, y, w, h float32) {
		o[i].Move(fyne.NewPos(x, y))
		o[i].Resize(fyne.NewSize(w, h))
	}
	p := U(pictureHeight)
	put(0, 2, 2, s.Width-4, p-2)
	w := s.Width - 2*Gap14
	y := p + Gap12
	h := HeightFor(o[1], w-U(30))
	put(1, Gap14, y, w-U(30), h)
	b := o[3].MinSize()
	put(3, s.Width-b.Width-Gap6, y+h/2-b.Height/2+Gap4, b.Width, b.Height)
	y += h + Gap2
	put(2, Gap14, y, w, HeightFor(o[2], w))
}

func (l bigCardLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(U(200), l.HeightFor(o, U(240)))
}

// NewBigCard makes a card. Open is called when it is tapped, menu with a place
// in the window for its menu.
func NewBigCard(name, title, sub, menuTip string, pic Picture, open func(), menu func(at fyne.Position)) *BigCard {
	img := canvas.NewRaster(func(w, h int) image.Image {
		if pic != nil {
			if m := pic(w, h); m != nil {
				return m
			}
		}
		return image.NewRGBA(image.Rect(0, 0, w, h))
	})
	c := &BigCard{}
	more := NewBare(name+":more", "more", "", nil).Tip(menuTip)
	more.OnTap = func() {
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(more)
		menu(at.AddXY(0, more.Size().Height))
	}
	content := &fyne.Container{Layout: bigCardLayout{}, Objects: []fyne.CanvasObject{
		img, NewPara(title, Strong, Ink), NewPara(sub, Small, Ink2), more,
	}}
	c.Press = newPress(name, 11, content, cardLook, open)
	c.own(c)
	c.OnMenu = menu
	return c
}

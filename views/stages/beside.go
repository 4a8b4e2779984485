package stages

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"slipseat/app/raster"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/views/board"
	"slipseat/views/kit"
)

// beside lays cards in a column over the right side of the sheet; the drawing
// keeps clear of them. In a narrow sheet they stand in a row under it.
type beside struct{ board *board.Board }

func (b beside) Layout(o []fyne.CanvasObject, s fyne.Size) {
	const gap = 16
	o[0].Move(fyne.NewPos(0, 0))
	if s.Width < kit.U(700) {
		// Too narrow for a column: the cards stand under the drawing.
		h := min(kit.U(200), s.Height*0.4)
		b.board.SetMargins(board.Margins{Top: 20, Right: 20, Bottom: float64(h) + 78, Left: 20})
		key := kit.U(214)
		x := float32(gap)
		for i, c := range o[1:] {
			w := key
			if i == 0 {
				w = s.Width - 3*gap - key
			}
			c.Show()
			c.Move(fyne.NewPos(x, s.Height-h-62))
			c.Resize(fyne.NewSize(w, h))
			x += w + gap
		}
		o[0].Resize(s)
		return
	}
	card := min(kit.U(300), s.Width*0.4)
	b.board.SetMargins(board.Margins{Top: 24, Right: float64(card) + 2*gap, Bottom: 58, Left: 24})
	o[0].Resize(s)
	x, y := s.Width-card-gap, float32(gap)
	for i, c := range o[1:] {
		h := kit.HeightFor(c, card)
		if i == 0 {
			h = min(card*0.97, s.Height-2*gap)
		}
		if y+h > s.Height-gap {
			c.Hide()
			continue
		}
		c.Show()
		c.Move(fyne.NewPos(x, y))
		c.Resize(fyne.NewSize(card, h))
		y += h + gap
	}
}

func (beside) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(200, 200) }

// pictureCard is a card with a head and a picture below it.
type pictureCard struct {
	panel *kit.Panel
	pic   cardPainter
	img   *canvas.Raster
}

func newPictureCard(head string) *pictureCard {
	c := &pictureCard{}
	c.img = kit.NewPictureBox(func(w, h int) image.Image {
		if c.pic == nil || c.img.Size().Width < 1 {
			return nil
		}
		return c.pic(w, h, float64(w)/float64(c.img.Size().Width))
	})
	c.panel = kit.NewPanel(kit.Raised, kit.Line, 9, kit.Inset(&fyne.Container{Layout: headed{}, Objects: []fyne.CanvasObject{
		kit.NewText(head, kit.Small, kit.Ink2), c.img,
	}}, 12, 2, 2, 2))
	return c
}

// cardPainter paints w by h pixels, px of them to a window unit.
type cardPainter func(w, h int, px float64) image.Image

func (c *pictureCard) set(pic cardPainter) {
	c.pic = pic
	c.img.Refresh()
}

// headed is a line of text and a picture that fills the rest.
type headed struct{}

func (headed) Layout(o []fyne.CanvasObject, s fyne.Size) {
	h := o[0].MinSize().Height
	o[0].Move(fyne.NewPos(12, 0))
	o[0].Resize(fyne.NewSize(s.Width-24, h))
	o[1].Move(fyne.NewPos(0, h))
	o[1].Resize(fyne.NewSize(s.Width, max(0, s.Height-h)))
}

func (headed) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(120, 160) }

// newLineSample is a piece of a drawing's line for a key.
func newLineSample(role drawing.Role, line drawing.Line) fyne.CanvasObject {
	img := kit.NewPictureBox(func(w, h int) image.Image {
		img := image.NewRGBA(image.Rect(0, 0, w, h))
		px := float64(w) / 52
		d := drawing.Drawing{Items: []drawing.Item{drawing.Arrow{From: geom.P(0, 0), To: geom.P(52, 0), Role: role, Width: 0.5, Line: line}}}
		raster.Render(img, d, raster.Transform{Scale: px, X: 0, Y: float64(h) / 2, Paper: drawing.PxPerPaper * px}, palette())
		return img
	})
	return kit.FixedHeight(18, kit.FixedWidth(52, img))
}

package kit

import (
	"fyne.io/fyne/v2"
)

// gallery lays equal cards in as many columns as fit.
type gallery struct{ least, gap, width float32 }

// NewGallery lays objects in columns that are at least so wide.
func NewGallery(least, gap float32, objs ...fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: &gallery{least: least, gap: gap}, Objects: objs}
}

func (g *gallery) place(o []fyne.CanvasObject, width float32, put func(o fyne.CanvasObject, x, y, w, h float32)) float32 {
	n := max(1, int((width+g.gap)/(U(g.least)+g.gap)))
	w := (width - g.gap*float32(n-1)) / float32(n)
	var y, line float32
	col := 0
	var pending []func(h float32)
	flush := func() {
		for _, p := range pending {
			p(line)
		}
		pending = nil
	}
	for _, c := range o {
		if !c.Visible() {
			continue
		}
		if col == n {
			flush()
			y += line + g.gap
			line, col = 0, 0
		}
		line = max(line, HeightFor(c, w))
		x, top := float32(col)*(w+g.gap), y
		pending = append(pending, func(h float32) { put(c, x, top, w, h) })
		col++
	}
	flush()
	return y + line
}

func (g *gallery) HeightFor(o []fyne.CanvasObject, width float32) float32 {
	return g.place(o, width, func(fyne.CanvasObject, float32, float32, float32, float32) {})
}

func (g *gallery) Layout(o []fyne.CanvasObject, s fyne.Size) {
	g.width = s.Width
	g.place(o, s.Width, func(o fyne.CanvasObject, x, y, w, h float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(w, h))
	})
}

func (g *gallery) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(U(g.least), g.HeightFor(o, max(g.width, U(g.least))))
}

// centred holds a column to a largest width in the middle of its room.
type centred struct{ most float32 }

// NewCentred holds an object to a largest width, in the middle.
func NewCentred(most float32, o fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: centred{most}, Objects: []fyne.CanvasObject{o}}
}

func (c centred) HeightFor(o []fyne.CanvasObject, width float32) float32 {
	return HeightFor(o[0], min(width, U(c.most)))
}

func (c centred) Layout(o []fyne.CanvasObject, s fyne.Size) {
	w := min(s.Width, U(c.most))
	o[0].Move(fyne.NewPos((s.Width-w)/2, 0))
	o[0].Resize(fyne.NewSize(w, s.Height))
}

func (c centred) MinSize(o []fyne.CanvasObject) fyne.Size { return o[0].MinSize() }

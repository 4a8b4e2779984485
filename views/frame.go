package views

import (
	"fyne.io/fyne/v2"

	"slipseat/views/kit"
)

// frame is the plan of the window with a job open: a bar at the top, a column
// on either side of the sheet, a bar at the bottom.
type frame struct {
	top, left, middle, right, bottom fyne.CanvasObject
}

// Sizes of the frame at the normal text size.
const (
	topHeight    = 55
	bottomHeight = 63
	leftWidth    = 231
	rightWidth   = 319
)

// content builds the frame's objects, in the order that Tab goes through them.
func (f frame) content() *fyne.Container {
	bar := func(role kit.Role, o fyne.CanvasObject) fyne.CanvasObject {
		return kit.NewPanel(role, kit.Clear, 0, o)
	}
	return &fyne.Container{Layout: frameLayout{}, Objects: []fyne.CanvasObject{
		bar(kit.Paper, f.top), kit.NewRule(),
		bar(kit.Side, f.left), kit.NewRule(),
		f.middle, kit.NewRule(),
		bar(kit.Side, f.right), kit.NewRule(),
		bar(kit.Paper, f.bottom),
	}}
}

type frameLayout struct{}

// narrow is the window width below which the side columns give way a little,
// so that the drawing keeps half of the window.
const narrow = 1280

func (frameLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	put := func(i int, x, y, w, h float32) {
		o[i].Move(fyne.NewPos(x, y))
		o[i].Resize(fyne.NewSize(max(0, w), max(0, h)))
	}
	top, bottom, left, right := kit.U(topHeight), kit.U(bottomHeight), kit.U(leftWidth), kit.U(rightWidth)
	if s.Width < kit.U(narrow) {
		left, right = left*0.88, right*0.94
	}
	put(0, 0, 0, s.Width, top)
	put(1, 0, top, s.Width, 1)
	y, h := top+1, s.Height-top-bottom-2
	put(2, 0, y, left, h)
	put(3, left, y, 1, h)
	put(4, left+1, y, s.Width-left-right-2, h)
	put(5, s.Width-right-1, y, 1, h)
	put(6, s.Width-right, y, right, h)
	put(7, 0, s.Height-bottom-1, s.Width, 1)
	put(8, 0, s.Height-bottom, s.Width, bottom)
}

// MinSize keeps the window from being made too small to work in.
func (frameLayout) MinSize([]fyne.CanvasObject) fyne.Size { return leastWindow }

// leastWindow is the smallest window that everything fits into.
var leastWindow = fyne.NewSize(1000, 640)

// tabbed puts the tabs over the sheet, joined to it.
func tabbed(tabs *kit.Tabs, sheet fyne.CanvasObject) fyne.CanvasObject {
	return kit.Inset(&fyne.Container{Layout: tabbedLayout{}, Objects: []fyne.CanvasObject{sheet, tabs}}, 10, 14, 14, 14)
}

type tabbedLayout struct{}

func (tabbedLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	h := o[1].MinSize().Height - 1
	o[0].Move(fyne.NewPos(0, h))
	o[0].Resize(fyne.NewSize(s.Width, max(0, s.Height-h)))
	o[1].Move(fyne.NewPos(0, 0))
	o[1].Resize(fyne.NewSize(s.Width, h+1))
}

func (tabbedLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(200, 200) }

// floating lays a picture over the whole room and tools over its edges: one
// row at the top, one at the bottom.
func floating(picture, top, bottom fyne.CanvasObject) fyne.CanvasObject {
	return &fyne.Container{Layout: floatingLayout{}, Objects: []fyne.CanvasObject{picture, top, bottom}}
}

type floatingLayout struct{}

const floatEdge = 13

func (floatingLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Move(fyne.NewPos(1, 1))
	o[0].Resize(fyne.NewSize(max(0, s.Width-2), max(0, s.Height-2)))
	w := max(0, s.Width-2*floatEdge)
	for i, o := range o[1:] {
		h := kit.HeightFor(o, w)
		y := float32(floatEdge)
		if i == 1 {
			y = s.Height - h - floatEdge
		}
		o.Move(fyne.NewPos(floatEdge, y))
		o.Resize(fyne.NewSize(w, h))
	}
}

func (floatingLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(120, 120) }

func setVisible(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

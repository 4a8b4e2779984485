package board

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"slipseat/engine/geom"
	"slipseat/views/kit"
)

// renderer lays out the two rasters, the handles and the focus frame.
type renderer struct {
	b       *Board
	handles []*canvas.Circle
	ring    *canvas.Rectangle
	objs    []fyne.CanvasObject
}

// Handles are drawn this large, window units across.
const (
	handleSize      = 15
	handleSizeHover = 18
	handleSizeSmall = 10
)

func (r *renderer) Layout(size fyne.Size) {
	if r.b.fitted {
		r.b.fitNow()
	}
	r.b.scenePic.Move(fyne.NewPos(0, 0))
	r.b.scenePic.Resize(size)
	r.place()
	r.b.told()
}

func (r *renderer) MinSize() fyne.Size { return r.b.MinSize() }

// place puts the handles where the view has them.
func (r *renderer) place() {
	b := r.b
	if r.ring == nil {
		r.ring = canvas.NewRectangle(color.Transparent)
		r.ring.CornerRadius = 8
		r.ring.StrokeWidth = 2
	}
	size := b.Size()
	r.ring.Resize(size)
	r.ring.StrokeColor = color.Transparent
	if b.focused && b.chosen == "" && b.drag.kind == noDrag && b.byKeys() {
		r.ring.StrokeColor = kit.Colour(kit.Action)
	}
	for len(r.handles) < len(b.scene.Handles) {
		r.handles = append(r.handles, canvas.NewCircle(color.Transparent))
	}
	r.objs = append(r.objs[:0], b.scenePic, b.overPic)
	for i, h := range b.scene.Handles {
		c := r.handles[i]
		d := float32(handleSize)
		if h.Small {
			d = handleSizeSmall
		}
		fill, line := kit.Colour(kit.Raised), kit.Colour(kit.Action)
		if h.ID == b.hover.Handle || h.ID == b.chosen {
			d = handleSizeHover
		}
		held := h.Held || h.ID == b.chosen
		if held {
			fill = kit.Colour(kit.Action)
			line = kit.Colour(kit.Raised)
		}
		if kit.Dark() && !held {
			fill = kit.Colour(kit.Ink)
		}
		c.FillColor, c.StrokeColor, c.StrokeWidth = fill, line, 2.5
		x, y := b.view.At(h.At)
		c.Move(fyne.NewPos(float32(x)-d/2, float32(y)-d/2))
		c.Resize(fyne.NewSquareSize(d))
		if x < -d2 || y < -d2 || x > float64(size.Width)+d2 || y > float64(size.Height)+d2 {
			continue
		}
		r.objs = append(r.objs, c)
	}
	r.objs = append(r.objs, r.ring)
}

const d2 = handleSizeHover / 2

func (r *renderer) Refresh() {
	r.place()
	r.b.scenePic.Refresh()
	for _, c := range r.handles {
		c.Refresh()
	}
	r.ring.Refresh()
}

func (r *renderer) Objects() []fyne.CanvasObject {
	if r.ring == nil {
		r.place()
	}
	return r.objs
}

func (r *renderer) Destroy() {}

// byKeys tells whether the focus came by keyboard: then it is shown.
func (b *Board) byKeys() bool { return !b.pointed }

// refreshHandles repaints the handles but not the scene: refreshing the widget
// itself would have the toolkit ask for the whole picture again.
func (b *Board) refreshHandles() {
	if b.r == nil {
		return
	}
	b.r.place()
	for _, c := range b.r.handles {
		c.Refresh()
	}
	b.r.ring.Refresh()
}

// refreshOver moves the raster that shows a dragged piece.
func (b *Board) refreshOver() {
	p, ok := b.scene.piece(b.drag.id)
	if !ok {
		return
	}
	box := boundsOf(p.Ring)
	by := b.drag.way
	b.placeOver(geom.Rect{Min: box.Min.Add(by), Max: box.Max.Add(by)})
}

// refreshBand moves the raster that shows a box being drawn.
func (b *Board) refreshBand(box geom.Rect) { b.placeOver(box) }

// placeOver shows the raster over a box of the model.
func (b *Board) placeOver(box geom.Rect) {
	x0, y1 := b.view.At(box.Min)
	x1, y0 := b.view.At(box.Max)
	const margin = 24
	size := fyne.NewSize(float32(x1-x0)+2*margin, float32(y1-y0)+2*margin)
	b.overPic.Move(fyne.NewPos(float32(x0)-margin, float32(y0)-margin))
	if b.overPic.Size() != size {
		b.overPic.Resize(size)
	}
	b.overPic.Show()
	b.overPic.Refresh()
}

func boundsOf(ring geom.Polygon) geom.Rect {
	if len(ring) == 0 {
		return geom.Rect{}
	}
	r := geom.Rect{Min: ring[0], Max: ring[0]}
	for _, p := range ring[1:] {
		r.Min = geom.P(min(r.Min.X, p.X), min(r.Min.Y, p.Y))
		r.Max = geom.P(max(r.Max.X, p.X), max(r.Max.Y, p.Y))
	}
	return r
}

package board

import (
	"math"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"slipseat/engine/geom"
)

type dragKind uint8

const (
	noDrag dragKind = iota
	panDrag
	handleDrag
	pieceDrag
	bandDrag // draws a box
	deadDrag // cancelled; the button is still down
)

// drag is what the pointer is doing while a button is down.
type drag struct {
	kind  dragKind
	id    string
	from  fyne.Position // where the button went down
	at    fyne.Position // where the pointer is
	grip  fyne.Delta    // from the pointer to the handle's middle
	moved bool
	way   geom.Pt // of a piece, as it was bent by OnCarry
}

// by is the way gone so far, in the model.
func (d drag) by(v Viewport) geom.Pt {
	return geom.P(float64(d.at.X-d.from.X)/v.Scale, float64(d.from.Y-d.at.Y)/v.Scale)
}

// dragLeast is how far the pointer moves before a press becomes a drag, window
// units: a trembling hand must not move a measure.
const dragLeast = 3

// MouseDown implements desktop.Mouseable.
func (b *Board) MouseDown(e *desktop.MouseEvent) {
	b.pointed = true
	b.takeFocus()
	if b.drag.kind != noDrag && e.Button == desktop.MouseButtonSecondary {
		b.cancel() // the other button, while dragging, means: leave it
		return
	}
	b.drag = drag{from: e.Position, at: e.Position, kind: panDrag}
	if e.Button != desktop.MouseButtonPrimary {
		return
	}
	if b.banding {
		b.drag.kind = bandDrag
		return
	}
	if b.tracing {
		return // a press is a point, a drag moves the sheet
	}
	h := b.scene.hit(b.view, float64(e.Position.X), float64(e.Position.Y))
	if k, ok := b.scene.handle(h.Handle); ok {
		x, y := b.view.At(k.At)
		b.drag.kind, b.drag.id = handleDrag, k.ID
		b.drag.grip = fyne.NewDelta(float32(x)-e.Position.X, float32(y)-e.Position.Y)
		b.chosen = k.ID
		b.refreshHandles()
		if b.OnPick != nil {
			b.OnPick(k.ID, e.Modifier&fyne.KeyModifierShift != 0)
		}
		return
	}
	if p, ok := b.scene.piece(h.Piece); ok && p.Loose {
		b.drag.kind, b.drag.id = pieceDrag, p.ID
	}
}

// MouseUp implements desktop.Mouseable. A press without a drag chooses.
func (b *Board) MouseUp(e *desktop.MouseEvent) {
	d := b.drag
	if d.moved {
		if e.Button == desktop.MouseButtonSecondary { // the toolkit sends no DragEnd for it
			b.DragEnd()
		}
		return
	}
	b.drag = drag{}
	h := b.scene.hit(b.view, float64(e.Position.X), float64(e.Position.Y))
	model := b.view.Model(float64(e.Position.X), float64(e.Position.Y))
	switch {
	case b.tracing && e.Button == desktop.MouseButtonPrimary:
		if b.OnPoint != nil {
			b.OnPoint(model)
		}
	case e.Button == desktop.MouseButtonSecondary:
		if b.OnMenu != nil && d.kind != deadDrag {
			b.OnMenu(h, model, e.AbsolutePosition)
		}
	case d.kind == bandDrag:
		b.SetBand(false) // a press without a drag: leave it
		if b.OnBandEnd != nil {
			b.OnBandEnd()
		}
	case e.Button == desktop.MouseButtonPrimary && d.kind != deadDrag:
		if h.Handle == "" && b.chosen != "" {
			b.chosen = ""
			b.refreshHandles()
		}
		if h.Handle == "" && b.OnPick != nil {
			b.OnPick("", e.Modifier&fyne.KeyModifierShift != 0)
		}
		if h.Handle == "" && b.OnChoose != nil {
			b.OnChoose(h.Piece)
		}
	}
}

// Dragged implements fyne.Draggable for the left and the middle button.
func (b *Board) Dragged(e *fyne.DragEvent) { b.dragTo(e.Position) }

func (b *Board) dragTo(at fyne.Position) {
	d := &b.drag
	prev := d.at
	if !d.moved {
		if math.Hypot(float64(at.X-d.from.X), float64(at.Y-d.from.Y)) < dragLeast {
			return
		}
		d.moved = true
		if d.kind == pieceDrag && b.OnGrab != nil {
			b.OnGrab(d.id)
		}
	}
	d.at = at
	switch d.kind {
	case panDrag:
		b.setView(b.view.Pan(float64(at.X-prev.X), float64(at.Y-prev.Y)))
	case handleDrag:
		if b.scene.BandOf != nil {
			b.refreshBand(b.scene.BandOf(d.id, b.gripPoint()))
			return
		}
		b.preview()
	case pieceDrag:
		d.way = d.by(b.view)
		if b.OnCarry != nil {
			d.way = b.OnCarry(d.id, d.way)
		}
		b.refreshOver()
	case bandDrag:
		b.refreshBand(b.band())
	}
}

// SetBand makes the next drag draw a box, whatever lies under it, or takes that
// back.
func (b *Board) SetBand(on bool) {
	if b.banding != on {
		b.banding = on
		b.Refresh()
	}
}

// Banding tells whether the next drag draws a box.
func (b *Board) Banding() bool { return b.banding }

// SetTracing makes every click a point of a shape, or ends that. Mark paints
// over the scene meanwhile; it may be nil.
func (b *Board) SetTracing(on bool, mark Painter) {
	b.mark = mark
	if b.tracing != on {
		b.tracing = on
		b.hover = Hit{}
		b.Refresh()
	}
	if !on {
		b.overPic.Hide()
		return
	}
	b.overPic.Move(fyne.NewPos(0, 0))
	b.overPic.Resize(b.Size())
	b.overPic.Show()
	b.overPic.Refresh()
}

// Tracing tells whether clicks make points.
func (b *Board) Tracing() bool { return b.tracing }

// band is the box that is being drawn, in the model.
func (b *Board) band() geom.Rect {
	d := b.drag
	p := b.view.Model(float64(d.from.X), float64(d.from.Y))
	q := b.view.Model(float64(d.at.X), float64(d.at.Y))
	return geom.Rect{Min: geom.P(min(p.X, q.X), min(p.Y, q.Y)), Max: geom.P(max(p.X, q.X), max(p.Y, q.Y))}
}

// frameTime is the least time between two previews: the toolkit paints at most
// sixty pictures a second.
const frameTime = 15 * time.Millisecond

// preview asks for the preview of the present drag, or has it asked for a
// little later when the last one is too recent.
func (b *Board) preview() {
	if b.OnPreview == nil {
		return
	}
	if wait := frameTime - time.Since(b.previewed); b.After != nil && wait > 0 {
		if b.later == nil {
			b.later = b.After(wait, func() {
				b.later = nil
				if b.drag.kind == handleDrag {
					b.preview()
				}
			})
		}
		return
	}
	b.previewed = time.Now()
	b.OnPreview(b.drag.id, b.gripPoint())
}

func (b *Board) stopPreview() {
	if b.later != nil {
		b.later()
		b.later = nil
	}
}

// gripPoint is where the dragged handle is, in the model.
func (b *Board) gripPoint() geom.Pt {
	d := b.drag
	return b.view.Model(float64(d.at.X+d.grip.DX), float64(d.at.Y+d.grip.DY))
}

// DragEnd implements fyne.Draggable.
func (b *Board) DragEnd() {
	d := b.drag
	to, box := b.gripPoint(), b.band()
	b.drag = drag{}
	b.stopPreview()
	b.overPic.Hide()
	if !d.moved {
		return
	}
	switch d.kind {
	case handleDrag:
		if b.OnCommit != nil {
			b.OnCommit(d.id, to)
		}
	case pieceDrag:
		if b.OnMove != nil {
			b.OnMove(d.id, d.way)
		}
	case bandDrag:
		b.banding = false
		if b.OnBand != nil {
			b.OnBand(box)
		}
	}
	b.Refresh()
}

// cancel ends a drag without a trace and tells whether there was one.
func (b *Board) cancel() bool {
	kind, moved := b.drag.kind, b.drag.moved
	if kind != handleDrag && kind != pieceDrag && kind != bandDrag {
		return false
	}
	b.drag.kind = deadDrag
	b.stopPreview()
	b.overPic.Hide()
	if moved && kind != bandDrag && b.OnCancel != nil {
		b.OnCancel()
	}
	b.Refresh()
	return true
}

// Cancel ends a drag without a trace.
func (b *Board) Cancel() { b.cancel() }

// Scrolled implements fyne.Scrollable: the wheel zooms at the pointer.
func (b *Board) Scrolled(e *fyne.ScrollEvent) {
	d := e.Scrolled.DY
	if d == 0 {
		d = e.Scrolled.DX
	}
	// One click of a wheel is 25; it should zoom by about an eighth.
	factor := math.Exp(float64(d) * math.Log(1.13) / 25)
	b.setView(b.view.ZoomAt(float64(e.Position.X), float64(e.Position.Y), factor))
}

// MouseIn implements desktop.Hoverable.
func (b *Board) MouseIn(e *desktop.MouseEvent) { b.MouseMoved(e) }

// MouseMoved implements desktop.Hoverable. The toolkit sends no drags for the
// right button, so panning with it is done here.
func (b *Board) MouseMoved(e *desktop.MouseEvent) {
	if e.Button == desktop.MouseButtonSecondary && b.drag.kind == panDrag {
		b.dragTo(e.Position)
		return
	}
	if b.drag.kind != noDrag {
		return
	}
	if b.tracing {
		if b.OnTrace != nil {
			b.OnTrace(b.view.Model(float64(e.Position.X), float64(e.Position.Y)))
		}
		return
	}
	h := b.scene.hit(b.view, float64(e.Position.X), float64(e.Position.Y))
	if h.Handle != b.hover.Handle {
		b.hover = h
		b.refreshHandles()
	}
	b.hover = h
	if b.OnHover != nil {
		b.OnHover(h, b.view.Model(float64(e.Position.X), float64(e.Position.Y)))
	}
}

// MouseOut implements desktop.Hoverable.
func (b *Board) MouseOut() {
	if b.hover != (Hit{}) {
		b.hover = Hit{}
		b.refreshHandles()
	}
	if b.OnHover != nil {
		b.OnHover(Hit{}, geom.Pt{})
	}
}

func (b *Board) takeFocus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(b); c != nil {
		c.Focus(b)
	}
}

package board

import (
	"image"
	"image/color"
	"math"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"slipseat/engine/geom"
	"slipseat/views/kit"
)

// Board is the drawing surface. All its callbacks may be nil.
type Board struct {
	widget.BaseWidget

	// OnPreview follows a handle while it is dragged; OnCommit ends the drag.
	// OnCancel takes the preview back.
	OnPreview func(handle string, to geom.Pt)
	OnCommit  func(handle string, to geom.Pt)
	OnCancel  func()
	// OnNudge moves the chosen handle by keys: dx, dy are -1, 0 or 1.
	OnNudge func(handle string, dx, dy int, coarse bool)
	// OnPick is told the handle that was pressed, "" for the ground; add tells
	// that it joins the ones picked before (Shift).
	OnPick func(handle string, add bool)
	// OnHandleKey gets Delete and letters typed while a handle is chosen and
	// tells whether it had use for them.
	OnHandleKey func(handle string, key fyne.KeyName, r rune) bool
	// OnTrace follows the pointer while points are being clicked, OnPoint is
	// told a click, OnTraceKey the keys; it tells whether it had use for one.
	OnTrace    func(at geom.Pt)
	OnPoint    func(at geom.Pt)
	OnTraceKey func(key fyne.KeyName, r rune) bool
	// OnType gets a figure typed while a handle is chosen.
	OnType func(handle string, r rune)
	// OnChoose is told the piece that was clicked, "" for the ground.
	OnChoose func(piece string)
	// OnGrab begins the drag of a loose piece, OnCarry follows it and may bend
	// the way, as snapping does; OnMove ends it.
	OnGrab  func(piece string)
	OnCarry func(piece string, by geom.Pt) geom.Pt
	OnMove  func(piece string, by geom.Pt)
	// OnNudgePiece moves the chosen piece by keys, OnAct does something else
	// with it.
	OnNudgePiece func(piece string, dx, dy int, coarse bool)
	OnAct        func(piece string, a Act)
	// OnBand ends the drawing of a box; see SetBand.
	OnBand    func(box geom.Rect)
	OnBandEnd func() // it was given up
	// OnMenu is asked for a menu at a place in the window.
	OnMenu func(h Hit, model geom.Pt, at fyne.Position)
	// OnHover is told what the pointer is over, and where.
	OnHover func(h Hit, model geom.Pt)
	// After, if set, runs a function when a time has passed. With it a drag is
	// followed at most once a frame, however many events come.
	After func(d time.Duration, f func()) (stop func())
	// OnView is called after every change of the view.
	OnView func()

	name    string
	scene   Scene
	view    Viewport
	fitted  bool // the view follows the scene and the window until it is moved
	margins Margins
	grid    bool

	hover   Hit
	chosen  string // handle
	focused bool
	pointed bool // the focus came by pointer
	drag    drag
	banding bool // the next drag draws a box
	r       *renderer

	previewed time.Time // when a preview was last asked for
	later     func()    // stops the one that waits

	frames    []float64
	lastFrame time.Time

	tracing bool
	mark    Painter // over the scene while tracing

	scenePic *canvas.Raster
	overPic  *canvas.Raster
	img      *image.RGBA
	over     *image.RGBA
}

var (
	_ fyne.Focusable     = (*Board)(nil)
	_ fyne.Tabbable      = (*Board)(nil)
	_ fyne.Draggable     = (*Board)(nil)
	_ fyne.Scrollable    = (*Board)(nil)
	_ fyne.Shortcutable  = (*Board)(nil)
	_ desktop.Hoverable  = (*Board)(nil)
	_ desktop.Mouseable  = (*Board)(nil)
	_ desktop.Cursorable = (*Board)(nil)
	_ kit.Named          = (*Board)(nil)
)

// New makes an empty board with a name for scripts.
func New(name string) *Board {
	b := &Board{name: name, view: Viewport{Scale: 1}, fitted: true, grid: true, margins: Margins{62, 24, 62, 24}}
	b.scenePic = canvas.NewRaster(b.paint)
	b.overPic = canvas.NewRaster(b.paintOver)
	b.overPic.Hide()
	b.ExtendBaseWidget(b)
	return b
}

// ProbeName implements kit.Named.
func (b *Board) ProbeName() string { return b.name }

// ProbeSpots implements kit.Spotted: the handles, so that scripts can drag
// them.
func (b *Board) ProbeSpots() []kit.Spot {
	var out []kit.Spot
	for _, h := range b.scene.Handles {
		x, y := b.view.At(h.At)
		out = append(out, kit.Spot{Name: "handle:" + h.ID, X: float32(x) - handleSize/2, Y: float32(y) - handleSize/2, W: handleSize, H: handleSize})
	}
	for _, p := range b.scene.Pieces {
		r := boundsOf(p.Ring)
		x0, y1 := b.view.At(r.Min)
		x1, y0 := b.view.At(r.Max)
		out = append(out, kit.Spot{Name: p.ID, X: float32(x0), Y: float32(y0), W: float32(x1 - x0), H: float32(y1 - y0), Value: p.Value})
	}
	return out
}

// Frames gives the times in milliseconds between the pictures painted during
// the drags since it was asked last.
func (b *Board) Frames() []float64 {
	f := b.frames
	b.frames = nil
	return f
}

// SetMargins sets the room that Fit leaves free.
func (b *Board) SetMargins(m Margins) { b.margins = m }

// SetScene shows another scene. The view stays where it is unless it still
// fits the scene by itself; while a handle is dragged it stays in any case.
func (b *Board) SetScene(s Scene) {
	b.scene = s
	if b.chosen != "" {
		if _, ok := s.handle(b.chosen); !ok {
			b.chosen = ""
		}
	}
	if b.drag.kind == pieceDrag {
		if _, ok := s.piece(b.drag.id); !ok {
			b.cancel()
		}
	}
	if b.fitted && b.drag.kind == noDrag && b.strayed() {
		b.fitNow()
	}
	b.Refresh()
}

// View is the map between model and window now.
func (b *Board) View() Viewport { return b.view }

// Fitted tells whether the view follows the scene by itself.
func (b *Board) Fitted() bool { return b.fitted }

// Fit shows the whole scene, from now on also when it or the window changes.
func (b *Board) Fit() {
	b.fitted = true
	b.fitNow()
	b.Refresh()
	b.told()
}

// calm is how far the best scale may differ from the one shown before a
// fitted view follows a change of the scene: below it the drawing changes, and
// not its scale, so that one sees what the change does.
const calm = 0.12

// strayed tells whether a fitted view no longer suits the scene.
func (b *Board) strayed() bool {
	s := b.Size()
	w, h := float64(s.Width), float64(s.Height)
	best := b.best()
	if math.Abs(math.Log(b.view.Scale/best.Scale)) > calm {
		return true
	}
	x0, y1 := b.view.At(b.scene.Bounds.Min)
	x1, y0 := b.view.At(b.scene.Bounds.Max)
	m := b.margins
	return x0 < m.Left/2 || y0 < m.Top/2 || x1 > w-m.Right/2 || y1 > h-m.Bottom/2
}

// best is the view that shows the whole scene.
func (b *Board) best() Viewport {
	w, h := float64(b.Size().Width), float64(b.Size().Height)
	if b.scene.Fit == nil {
		return Fit(b.scene.Bounds, w, h, b.margins)
	}
	m := b.margins
	v := b.scene.Fit(math.Max(w-m.Left-m.Right, 20), math.Max(h-m.Top-m.Bottom, 20))
	v.Scale = clamp(v.Scale, minScale, maxScale)
	return v.Pan(m.Left, m.Top)
}

func (b *Board) fitNow() {
	s := b.Size()
	if s.Width > 1 && s.Height > 1 {
		b.view = b.best()
	}
}

// Zoom scales about the middle of the board.
func (b *Board) Zoom(factor float64) {
	s := b.Size()
	b.setView(b.view.ZoomAt(float64(s.Width)/2, float64(s.Height)/2, factor))
}

// ZoomStep is the factor of one press of a zoom button.
const ZoomStep = 1.25

func (b *Board) setView(v Viewport) {
	s := b.Size()
	b.view = v.KeepInSight(b.scene.Bounds, float64(s.Width), float64(s.Height))
	b.fitted = false
	b.Refresh()
	b.told()
}

func (b *Board) told() {
	if b.OnView != nil {
		b.OnView()
	}
}

// gridGap is the least distance between grid lines, window units.
const gridGap = 20

// GridStep is the step of the grid lines shown now, in millimetres; 0 when
// there is none.
func (b *Board) GridStep() float64 {
	if !b.grid {
		return 0
	}
	fine, _ := gridStep(b.scene.Grid, b.view.Scale, gridGap)
	return fine
}

// HasGrid tells whether the scene has a grid to show.
func (b *Board) HasGrid() bool { return len(b.scene.Grid) > 0 }

// SetGrid shows or hides the grid.
func (b *Board) SetGrid(on bool) {
	b.grid = on
	b.Refresh()
	b.told()
}

// Grid tells whether the grid is shown.
func (b *Board) Grid() bool { return b.grid }

// Choose makes a handle the chosen one for the keyboard.
func (b *Board) Choose(handle string) {
	b.chosen = handle
	b.refreshHandles()
}

// Chosen is the chosen handle, or "".
func (b *Board) Chosen() string { return b.chosen }

// frame gives the view in the pixels of an image as wide as the board.
func (b *Board) frame(px float64) Frame {
	return Frame{Scale: b.view.Scale * px, X: b.view.X * px, Y: b.view.Y * px, Paper: paperPx * px * float64(kit.Scale())}
}

// paperPx is the number of window units to a paper millimetre.
const paperPx = 96 / 25.4

// canvasOf resizes an image for reuse.
func canvasOf(img *image.RGBA, w, h int) *image.RGBA {
	if img == nil || img.Rect.Dx() != w || img.Rect.Dy() != h {
		return image.NewRGBA(image.Rect(0, 0, w, h))
	}
	return img
}

// paint is the generator of the scene's raster; w and h are pixels.
func (b *Board) paint(w, h int) image.Image {
	if w <= 0 || h <= 0 {
		return image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	b.clockFrame()
	b.img = canvasOf(b.img, w, h)
	px := 1.0
	if s := b.Size(); s.Width > 0 {
		px = float64(w) / float64(s.Width)
	}
	fill(b.img, toRGBA(kit.Colour(ground)))
	f := b.frame(px)
	if b.grid {
		fine, coarse := gridStep(b.scene.Grid, b.view.Scale, gridGap)
		paintGrid(b.img, f, fine, toRGBA(kit.Colour(kit.Grid)))
		paintGrid(b.img, f, coarse, toRGBA(kit.Colour(kit.GridStrong)))
	}
	if b.scene.Paint != nil {
		b.scene.Paint(b.img, f)
	}
	kit.Rim(b.img, 9*px, px, kit.Colour(kit.Line))
	return b.img
}

// clockFrame notes the time between two pictures while something is dragged.
func (b *Board) clockFrame() {
	if b.drag.kind == noDrag || !b.drag.moved {
		b.lastFrame = time.Time{}
		return
	}
	now := time.Now()
	if !b.lastFrame.IsZero() && len(b.frames) < 2000 {
		b.frames = append(b.frames, float64(now.Sub(b.lastFrame).Microseconds())/1000)
	}
	b.lastFrame = now
}

// paintOver is the generator of the raster that follows the pointer.
func (b *Board) paintOver(w, h int) image.Image {
	if w <= 0 || h <= 0 {
		return image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	b.over = canvasOf(b.over, w, h)
	clear(b.over.Pix)
	b.clockFrame()
	px := 1.0
	if s := b.overPic.Size(); s.Width > 0 {
		px = float64(w) / float64(s.Width)
	}
	at := b.overPic.Position()
	f := b.frame(px)
	f.X -= float64(at.X) * px
	f.Y -= float64(at.Y) * px
	switch {
	case b.tracing && b.drag.kind != pieceDrag && b.drag.kind != bandDrag:
		if b.mark != nil {
			b.mark(b.over, f)
		}
	case b.drag.kind == pieceDrag && b.scene.PaintPiece != nil:
		b.scene.PaintPiece(b.over, f, b.drag.id, b.drag.way)
	case b.drag.kind == bandDrag && b.scene.PaintBand != nil:
		b.scene.PaintBand(b.over, f, b.band())
	case b.drag.kind == handleDrag && b.scene.PaintBand != nil && b.scene.BandOf != nil:
		b.scene.PaintBand(b.over, f, b.scene.BandOf(b.drag.id, b.gripPoint()))
	}
	return b.over
}

func toRGBA(c color.Color) color.RGBA {
	r, g, bl, a := c.RGBA()
	return color.RGBA{uint8(r >> 8), uint8(g >> 8), uint8(bl >> 8), uint8(a >> 8)}
}

// Cursor implements desktop.Cursorable.
func (b *Board) Cursor() desktop.Cursor {
	if b.tracing || b.banding || b.drag.kind == bandDrag {
		return desktop.CrosshairCursor
	}
	id := b.hover.Handle
	if b.drag.kind == handleDrag {
		id = b.drag.id
	}
	if h, ok := b.scene.handle(id); ok {
		return h.cursor()
	}
	if p, ok := b.scene.piece(b.hover.Piece); ok && (b.OnChoose != nil || p.Loose) {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// MinSize is small; a board takes what it gets.
func (b *Board) MinSize() fyne.Size { return fyne.NewSize(120, 120) }

// CreateRenderer implements fyne.Widget.
func (b *Board) CreateRenderer() fyne.WidgetRenderer {
	b.r = &renderer{b: b}
	return b.r
}

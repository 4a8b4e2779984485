package board

import (
	"image"
	"math"
	"os"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"slipseat/engine/geom"
	"slipseat/views/kit"
)

func TestMain(m *testing.M) {
	test.NewApp().Settings().SetTheme(kit.NewTheme(kit.LightMode, 1))
	os.Exit(m.Run())
}

// desk is a board with two handles and two pieces, and a log of what it said.
type desk struct {
	*Board
	win                 fyne.Window
	previews, commits   []geom.Pt
	cancels, paints     int
	chosen, moved, menu []string
	nudges, typed       []string
	by                  geom.Pt
}

func newDesk(t *testing.T) *desk {
	t.Helper()
	d := &desk{Board: New("board")}
	d.OnPreview = func(_ string, to geom.Pt) { d.previews = append(d.previews, to) }
	d.OnCommit = func(_ string, to geom.Pt) { d.commits = append(d.commits, to) }
	d.OnCancel = func() { d.cancels++ }
	d.OnChoose = func(id string) { d.chosen = append(d.chosen, id) }
	d.OnMove = func(id string, by geom.Pt) { d.moved, d.by = append(d.moved, id), by }
	d.OnMenu = func(h Hit, _ geom.Pt, _ fyne.Position) { d.menu = append(d.menu, h.Handle+h.Piece) }
	d.OnNudge = func(id string, dx, dy int, coarse bool) { d.nudges = append(d.nudges, id) }
	d.OnType = func(id string, r rune) { d.typed = append(d.typed, id+string(r)) }
	square := func(x float64) geom.Polygon {
		return geom.Polygon{{X: x, Y: 0}, {X: x + 100, Y: 0}, {X: x + 100, Y: 100}, {X: x, Y: 100}}
	}
	d.SetScene(Scene{
		Bounds:  geom.Rect{Max: geom.P(400, 300)},
		Handles: []Handle{{ID: "width", At: geom.P(400, 150), Way: Across}, {ID: "depth", At: geom.P(200, 300), Way: UpDown}},
		Pieces:  []Piece{{ID: "A1", Ring: square(20)}, {ID: "A2", Ring: square(150), Loose: true}},
		Paint:   func(*image.RGBA, Frame) { d.paints++ },
		PaintPiece: func(dst *image.RGBA, f Frame, id string, by geom.Pt) {
			dst.Pix[3] = 255
		},
	})
	d.win = test.NewTempWindow(t, d.Board)
	d.win.SetPadded(false)
	d.win.Resize(fyne.NewSize(800, 600))
	return d
}

func (d *desk) at(p geom.Pt) fyne.Position {
	x, y := d.View().At(p)
	return fyne.NewPos(float32(x), float32(y))
}

func (d *desk) down(at fyne.Position, b desktop.MouseButton) {
	d.MouseDown(&desktop.MouseEvent{Button: b, PointEvent: fyne.PointEvent{Position: at}})
}

func (d *desk) up(at fyne.Position, b desktop.MouseButton) {
	d.MouseUp(&desktop.MouseEvent{Button: b, PointEvent: fyne.PointEvent{Position: at}})
}

// drag moves in steps, as a hand does. The toolkit sends the button's release
// before the end of the drag.
func (d *desk) drag(from, to fyne.Position) {
	d.down(from, desktop.MouseButtonPrimary)
	const n = 8
	for i := 1; i <= n; i++ {
		p := from.Add(fyne.NewDelta((to.X-from.X)*float32(i)/n, (to.Y-from.Y)*float32(i)/n))
		d.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: p}})
	}
}

func (d *desk) drop(at fyne.Position) {
	d.up(at, desktop.MouseButtonPrimary)
	d.DragEnd()
}

func TestDragHandle(t *testing.T) {
	d := newDesk(t)
	// Taken 5 units beside its middle, the handle must not jump.
	from := d.at(geom.P(400, 150)).AddXY(5, -3)
	d.drag(from, from.AddXY(60, 0))
	if len(d.previews) == 0 || len(d.commits) != 0 {
		t.Fatalf("while dragging: %d previews, %d commits", len(d.previews), len(d.commits))
	}
	d.drop(from.AddXY(60, 0))
	want := geom.P(400+60/d.View().Scale, 150)
	if len(d.commits) != 1 || d.commits[0].Dist(want) > 0.01 {
		t.Fatalf("committed %v, want %v once", d.commits, want)
	}
	if len(d.chosen)+len(d.menu) != 0 || d.cancels != 0 {
		t.Fatalf("a drag also chose %v, opened %v or cancelled %d times", d.chosen, d.menu, d.cancels)
	}
}

func TestEscapeCancelsDrag(t *testing.T) {
	d := newDesk(t)
	from := d.at(geom.P(400, 150))
	d.drag(from, from.AddXY(60, 0))
	n := len(d.previews)
	d.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if d.cancels != 1 {
		t.Fatalf("cancelled %d times, want once", d.cancels)
	}
	d.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: from.AddXY(90, 0)}})
	d.drop(from.AddXY(90, 0))
	if len(d.previews) != n || len(d.commits) != 0 || len(d.chosen) != 0 {
		t.Fatalf("after Escape: %d more previews, commits %v, chosen %v", len(d.previews)-n, d.commits, d.chosen)
	}
	// The next drag works as ever.
	d.drag(from, from.AddXY(10, 0))
	d.drop(from.AddXY(10, 0))
	if len(d.commits) != 1 {
		t.Fatalf("the drag after a cancelled one committed %v", d.commits)
	}
}

func TestTremblingHandMovesNothing(t *testing.T) {
	d := newDesk(t)
	from := d.at(geom.P(400, 150))
	d.drag(from, from.AddXY(2, 1))
	d.drop(from.AddXY(2, 1))
	if len(d.previews)+len(d.commits) != 0 {
		t.Fatalf("two units of movement made %d previews and %d commits", len(d.previews), len(d.commits))
	}
}

func TestPanAndWheel(t *testing.T) {
	d := newDesk(t)
	v := d.View()
	ground := d.at(geom.P(300, 250))
	d.drag(ground, ground.AddXY(40, -25))
	d.drop(ground.AddXY(40, -25))
	if w := d.View(); w.X-v.X != 40 || w.Y-v.Y != -25 || d.Fitted() {
		t.Fatalf("dragging the ground by 40, -25 moved the view by %v, %v", w.X-v.X, w.Y-v.Y)
	}
	v = d.View()
	d.down(ground, desktop.MouseButtonSecondary)
	d.MouseMoved(&desktop.MouseEvent{Button: desktop.MouseButtonSecondary, PointEvent: fyne.PointEvent{Position: ground.AddXY(30, 0)}})
	d.up(ground.AddXY(30, 0), desktop.MouseButtonSecondary)
	if w := d.View(); w.X-v.X != 30 || len(d.menu) != 0 {
		t.Fatalf("the right button moved the view by %v and opened %v", w.X-v.X, d.menu)
	}
	pos := fyne.NewPos(500, 200)
	under := d.View().Model(500, 200)
	for range 5 {
		d.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: pos}, Scrolled: fyne.NewDelta(0, 25)})
	}
	if got := d.View().Model(500, 200); got.Dist(under) > 1e-6 || d.View().Scale <= v.Scale {
		t.Fatalf("the wheel moved the point under the pointer from %v to %v", under, got)
	}
	d.Fit()
	if !d.Fitted() {
		t.Fatal("Fit does not fit")
	}
}

func TestChooseAndMenu(t *testing.T) {
	d := newDesk(t)
	for _, p := range []geom.Pt{geom.P(70, 50), geom.P(300, 50)} {
		d.down(d.at(p), desktop.MouseButtonPrimary)
		d.up(d.at(p), desktop.MouseButtonPrimary)
	}
	if len(d.chosen) != 2 || d.chosen[0] != "A1" || d.chosen[1] != "" {
		t.Fatalf("chose %q, want A1 and then nothing", d.chosen)
	}
	d.down(d.at(geom.P(70, 50)), desktop.MouseButtonSecondary)
	d.up(d.at(geom.P(70, 50)), desktop.MouseButtonSecondary)
	if len(d.menu) != 1 || d.menu[0] != "A1" {
		t.Fatalf("menus for %q, want one for A1", d.menu)
	}
}

func TestDragLoosePiece(t *testing.T) {
	d := newDesk(t)
	from := d.at(geom.P(200, 50))
	d.drag(from, from.AddXY(0, -50))
	d.win.Canvas().Capture()
	if !d.overPic.Visible() {
		t.Fatal("nothing follows the pointer")
	}
	d.drop(from.AddXY(0, -50))
	if len(d.moved) != 1 || d.moved[0] != "A2" || d.by.Dist(geom.P(0, 50/d.View().Scale)) > 0.01 {
		t.Fatalf("moved %q by %v, want A2 up by 50 units", d.moved, d.by)
	}
	if d.overPic.Visible() {
		t.Fatal("the moving picture stayed")
	}
	// A piece that is not loose pans instead.
	v := d.View()
	from = d.at(geom.P(70, 50))
	d.drag(from, from.AddXY(20, 0))
	d.drop(from.AddXY(20, 0))
	if got := d.View().X - v.X; len(d.moved) != 1 || math.Abs(got-20) > 1e-9 {
		t.Fatalf("a fixed piece was moved: %q; the view moved by %v, want 20", d.moved, got)
	}
}

func TestKeys(t *testing.T) {
	d := newDesk(t)
	d.win.Canvas().Focus(d.Board)
	for _, want := range []string{"width", "depth"} {
		if !d.AcceptsTab() {
			t.Fatalf("Tab leaves before the handle %s", want)
		}
		d.TypedKey(&fyne.KeyEvent{Name: fyne.KeyTab})
		if d.Board.Chosen() != want {
			t.Fatalf("Tab chose %q, want %q", d.Board.Chosen(), want)
		}
	}
	if d.AcceptsTab() {
		t.Fatal("Tab never leaves the board")
	}
	d.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	d.TypedRune('1')
	if len(d.nudges) != 1 || d.nudges[0] != "depth" || len(d.typed) != 1 || d.typed[0] != "depth1" {
		t.Fatalf("nudged %q, typed %q; want depth and depth1", d.nudges, d.typed)
	}
	d.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	v := d.View()
	d.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if len(d.nudges) != 1 || d.View().X != v.X-panStep {
		t.Fatal("without a chosen handle the arrow keys must move the view")
	}
	d.TypedRune('+')
	if d.View().Scale <= v.Scale {
		t.Fatal("+ does not zoom in")
	}
	d.TypedRune('0')
	if !d.Fitted() {
		t.Fatal("0 does not fit")
	}
}

// Pointing at a handle must not paint the scene again.
func TestHoverDoesNotRepaint(t *testing.T) {
	d := newDesk(t)
	d.win.Canvas().Capture()
	n := d.paints
	d.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: d.at(geom.P(400, 150))}})
	if d.hover.Handle != "width" || d.Cursor() != desktop.HResizeCursor {
		t.Fatalf("hovering: %+v, cursor %v", d.hover, d.Cursor())
	}
	if d.paints != n {
		t.Fatalf("hovering painted the scene %d times", d.paints-n)
	}
}

// A small change of the scene keeps the scale, so that one sees what it does; a
// large one fits again.
func TestFittedViewIsCalm(t *testing.T) {
	d := newDesk(t)
	v := d.View()
	s := d.scene
	s.Bounds = geom.Rect{Max: geom.P(410, 300)}
	d.SetScene(s)
	if d.View() != v {
		t.Fatal("a change of a fortieth changed the scale")
	}
	s.Bounds = geom.Rect{Max: geom.P(800, 300)}
	d.SetScene(s)
	if d.View().Scale >= v.Scale {
		t.Fatal("twice the width and no new fit")
	}
}

func TestPaintKeepsToItsImage(t *testing.T) {
	d := newDesk(t)
	for _, s := range [][2]int{{0, 0}, {1, 1}, {3, 200}, {800, 600}, {1600, 1200}} {
		img := d.paint(s[0], s[1])
		if b := img.Bounds(); s[0] > 0 && (b.Dx() != s[0] || b.Dy() != s[1]) {
			t.Errorf("asked for %v, got %v", s, b)
		}
	}
}

package views

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/storage"

	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/engine/geom"
	"slipseat/views/board"
	"slipseat/views/kit"
)

func (r *room) surface(t *testing.T) *board.Board {
	t.Helper()
	return r.stages[session.Outline].Middle().(*fyne.Container).Objects[0].(*board.Board)
}

// press clicks a place of the model on the board.
func press(b *board.Board, at geom.Pt, mod fyne.KeyModifier) {
	x, y := b.View().At(at)
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary, Modifier: mod, PointEvent: fyne.PointEvent{Position: fyne.NewPos(float32(x), float32(y))}}
	b.MouseMoved(e)
	b.MouseDown(e)
	b.MouseUp(e)
}

func (r *room) outline() job.Outline { return r.s.Job().Seats[0].Outline }

func TestTraceByClicking(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1440, 900)
	r.s.NewJob(job.UnitsCM)
	b := r.surface(t)
	r.tap(t, "button:outline-draw")
	if !b.Tracing() {
		t.Fatal("no tracing")
	}
	// A half, from the middle of the front to the middle of the back, with a
	// notch; one point too many is taken back.
	for _, p := range []geom.Pt{{X: 0, Y: 0}, {X: 200, Y: 0}, {X: 190, Y: 300}, {X: 150, Y: 300}, {X: 150, Y: 350}, {X: 90, Y: 340}} {
		press(b, p, 0)
	}
	r.reads(t, "trace.count", "6")
	r.win.Canvas().Focus(b)
	r.undo()
	r.reads(t, "trace.count", "5")
	press(b, geom.P(0, 350), 0)
	b.TypedRune('m')
	o := r.outline()
	if b.Tracing() || o.From != job.Traced || o.RightNotchWidth == "" || o.RightNotchWidth != o.LeftNotchWidth || len(o.Points) != 4 {
		t.Fatalf("closed: %+v", o)
	}
	// Choose two points, round them by typing, bend the front edge by hand.
	at := func(i int) geom.Pt { return r.outline().Traced().Points[i].At }
	press(b, at(0), 0)
	press(b, at(1), fyne.KeyModifierShift)
	r.retype(t, "trace.radius", "3")
	if o = r.outline(); o.Points[0].Radius != "3 cm" || o.Points[1].Radius != "3 cm" {
		t.Errorf("radii %q and %q", o.Points[0].Radius, o.Points[1].Radius)
	}
	front := -1
	for i := range o.Points {
		if e := o.Traced().Edge(i); e.Normal(0.5).Y < -0.9 {
			front = i
		}
	}
	mid := o.Traced().Edge(front).At(0.5)
	x, y := b.View().At(mid)
	down := fyne.NewPos(float32(x), float32(y))
	b.MouseDown(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary, PointEvent: fyne.PointEvent{Position: down}})
	for i := range 8 {
		b.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: down.AddXY(0, float32(i+1)*2)}})
	}
	b.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary, PointEvent: fyne.PointEvent{Position: down.AddXY(0, 16)}})
	b.DragEnd()
	if o = r.outline(); o.Points[front].Bow == "" || o.Points[front].Hollow {
		t.Errorf("the front is not bowed: %+v", o.Points[front])
	}
	// Keys: straight again, a point in the middle, away with it.
	r.win.Canvas().Focus(b)
	press(b, o.Traced().Edge(front).At(0.5), 0)
	b.TypedRune('s')
	if r.outline().Points[front].Bow != "" {
		t.Error("S does not make it straight")
	}
	b.TypedRune('i')
	if n := len(r.outline().Points); n != 5 {
		t.Errorf("I gives %d points, want 5", n)
	}
	b.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	if p := r.outline().Traced().Points[front+1].At; p.Y != mid.Y+1 {
		t.Errorf("an arrow moves the point to %v", p)
	}
	b.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDelete})
	if n := len(r.outline().Points); n != 4 {
		t.Errorf("Delete leaves %d points, want 4", n)
	}
	for range 7 {
		r.undo()
	}
	if r.outline().From != job.Measured {
		t.Errorf("all undone, the outline comes from %q", r.outline().From)
	}
}

func TestDropDrawing(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1440, 900)
	r.s.NewJob(job.UnitsCM)
	r.runner.Background = true
	dir := t.TempDir()
	path := filepath.Join(dir, "board.svg")
	text := `<svg width="460mm" height="400mm" viewBox="0 0 460 400"><path d="M10 390 H450 L430 10 H30 Z"/></svg>`
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	r.dropped(fyne.Position{}, []fyne.URI{storage.NewFileURI(path)})
	r.tap(t, "import-face:underside")
	r.tap(t, "button:import-go")
	o := r.outline()
	if o.From != job.Traced || o.TracedFace != job.FaceUnderside || len(o.Points) != 4 {
		t.Fatalf("%+v", o)
	}
	if w := o.Traced().Bounds().W(); w < 439.9 || w > 440.1 {
		t.Errorf("%v wide, want 440", w)
	}
	broken := filepath.Join(dir, "torn.dxf")
	os.WriteFile(broken, []byte("0\nSECTION\n2\nENTITIES\n0\nLINE\n"), 0o644)
	r.dropped(fyne.Position{}, []fyne.URI{storage.NewFileURI(broken)})
	if n := r.s.Notice(); n == nil || n.Fault == nil || n.Fault.Code != "import.cut-short" {
		t.Errorf("notice %+v", n)
	}
}

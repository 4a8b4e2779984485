package views

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/storage"

	"slipseat/engine/geom"
	"slipseat/engine/trace/tracetest"
	"slipseat/views/kit"
)

// marks is the picture with corners that is in sight, or nil.
func (r *room) marks() *kit.MarkPicture {
	var marks *kit.MarkPicture
	var find func(o fyne.CanvasObject)
	find = func(o fyne.CanvasObject) {
		if m, ok := o.(*kit.MarkPicture); ok {
			marks = m
		}
		for _, k := range kit.Kids(o) {
			find(k)
		}
	}
	if top := r.win.Canvas().Overlays().Top(); top != nil {
		find(top)
	}
	return marks
}

// TestOutlineFromAPhoto drops a photo of a board on the window, puts a corner
// of the sheet right, and takes the outline that is found.
func TestOutlineFromAPhoto(t *testing.T) {
	sc := tracetest.Make(3, 1600) // a rounded square
	shot := sc.Shoot()
	path := filepath.Join(t.TempDir(), "board.jpg")
	if err := os.WriteFile(path, shot.JPEG, 0o600); err != nil {
		t.Fatal(err)
	}
	r := newRoom(t, kit.LightMode, 1440, 900)
	r.s.OpenDemo()
	r.s.StopSearch()
	r.runner.Background = true
	defer func() { r.runner.Background = false }()
	before := r.outline()

	r.dropped(fyne.Position{}, []fyne.URI{storage.NewFileURI(path)})
	marks := r.marks()
	if marks == nil {
		t.Fatal("the corners are not asked for")
	}
	if want := sc.Letter; !want {
		r.tap(t, "photo-sheet:a4")
		marks = r.marks()
	}
	saveLook(t, "photo-corners", r.win)
	// A corner that is dragged a little off snaps back to the sheet.
	right := marks.Points()
	spot := marks.ProbeSpots()[1]
	at := fyne.NewPos(spot.X+5, spot.Y+5)
	marks.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: desktop.MouseButtonPrimary})
	marks.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: at.AddXY(3, -2)}})
	marks.DragEnd()
	now := marks.Points()
	if d := math.Hypot(now[1].X-right[1].X, now[1].Y-right[1].Y); d > 0.002 {
		t.Errorf("the corner lies %.4f of the picture off after it was let go near its place", d)
	}
	r.tap(t, "button:photo-flat")
	saveLook(t, "photo-outline", r.win)
	r.tap(t, "button:photo-use")
	o := r.outline()
	if o.From == before.From {
		t.Fatalf("the outline is still %v", o.From)
	}
	// The board is as large as the one that was photographed.
	board := r.s.Plan().Seats[0].Outline.Board.Bounds()
	var ring geom.Polygon
	for _, q := range shot.Ring {
		ring = append(ring, geom.P(q.X, q.Y))
	}
	w, h := ring.Bounds().W(), ring.Bounds().H()
	if math.Abs(board.W()-w) > 4 || math.Abs(board.H()-h) > 4 {
		t.Errorf("the outline is %.1f × %.1f mm, the board %.1f × %.1f", board.W(), board.H(), w, h)
	}
	saveLook(t, "photo-taken", r.win)
	r.s.Undo()
	if r.outline().From != before.From {
		t.Error("it cannot be undone in one step")
	}
}

// TestPhotoWithoutABoard: what cannot be read, and what shows no sheet, is said
// and changes nothing.
func TestPhotoWithoutABoard(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1100, 700)
	r.s.OpenDemo()
	r.s.StopSearch()
	r.runner.Background = true
	defer func() { r.runner.Background = false }()
	before := r.outline()
	dir := t.TempDir()
	bad := filepath.Join(dir, "bad.jpg")
	if err := os.WriteFile(bad, []byte("\xff\xd8\xff no picture"), 0o600); err != nil {
		t.Fatal(err)
	}
	r.readPhoto(bad)
	if r.s.Notice() == nil || r.marks() != nil {
		t.Error("a broken picture was taken without a word")
	}
	r.s.Dismiss()
	r.readPhoto(filepath.Join(dir, "nowhere.jpg"))
	if r.s.Notice() == nil {
		t.Error("a file that is not there was opened without a word")
	}
	r.s.Dismiss()
	cloth := filepath.Join(dir, "cloth.jpg")
	if err := os.WriteFile(cloth, slanted(t), 0o600); err != nil {
		t.Fatal(err)
	}
	r.readPhoto(cloth)
	if r.marks() == nil {
		t.Fatal("the corners cannot be set by hand where no sheet is found")
	}
	saveLook(t, "photo-no-sheet", r.win)
	r.tap(t, "photo-sheet:other")
	r.tap(t, "button:photo-flat") // no sides typed yet
	if r.marks() == nil {
		t.Error("a rectangle without sides was taken")
	}
	r.tap(t, "button:cancel")
	if r.outline().From != before.From {
		t.Error("the outline was changed")
	}
}

package views

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// slanted is a photograph of cloth taken from a slant: dots on a pale ground.
func slanted(t *testing.T) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 900, 700))
	for y := range 700 {
		for x := range 900 {
			k := 1 + float64(y)/1400
			u, v := float64(x-450)*k/120, float64(y)*k/120
			c := color.RGBA{R: 232, G: 222, B: 200, A: 255}
			if math.Hypot(u-math.Round(u), v-math.Round(v)) < 0.25 {
				c = color.RGBA{R: 140, G: 50, B: 40, A: 255}
			}
			img.SetRGBA(x, y, c)
		}
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, nil); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// TestSwatchFromAPhoto gives a cloth a slanted photo, marks one repeat on it by
// mouse and keys, and sees it on the roll and in the customer's picture.
func TestSwatchFromAPhoto(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1440, 900)
	r.s.OpenDemo()
	r.s.StopSearch()
	r.s.SetStage(session.Roll)
	cloth := func() job.Cloth { c, _ := r.s.Job().Cloth(r.s.Goods(false)); return c }
	before := len(r.s.Job().Pictures())
	if r.tile(string(cloth().ID)) != nil {
		t.Fatal("a cloth without a look is not shown in its plain tint")
	}
	r.runner.Background = true
	defer func() { r.runner.Background = false }()

	r.takeSwatch([]byte("no picture"))
	if r.s.Notice() == nil || len(r.s.Job().Pictures()) != before {
		t.Error("what is no picture was taken without a word")
	}
	r.s.Dismiss()
	r.takeSwatch(slanted(t))
	if c := cloth(); c.Swatch.Look != job.LookPicture || c.Swatch.Picture == "" || r.modal == nil {
		t.Fatalf("the picture was not taken: %+v", c.Swatch)
	}
	saveLook(t, "swatch-mark", r.win)
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
	find(r.win.Canvas().Overlays().Top())
	if marks == nil {
		t.Fatal("there is no picture to mark the repeat on")
	}
	// The first corner is taken hold of and dragged, the second moved by keys.
	spot := marks.ProbeSpots()[0]
	at := fyne.NewPos(spot.X+5, spot.Y+5)
	was := marks.Points()
	marks.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: desktop.MouseButtonPrimary})
	to := at.AddXY(30, 12)
	marks.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: to}})
	saveLook(t, "swatch-drag", r.win)
	marks.DragEnd()
	marks.TypedRune('2')
	marks.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	now := marks.Points()
	if now[0].X <= was[0].X || now[0].Y <= was[0].Y || now[1].Y <= was[1].Y || now[2] != was[2] {
		t.Errorf("the corners went from %v to %v", was, now)
	}
	r.tap(t, "button:swatch-go")
	got, ok := cloth().Swatch.Corners.List()
	if !ok || len(got) != 4 || math.Abs(got[0].X-now[0].X) > 1e-4 {
		t.Errorf("the corners %v were not kept: %v", now, got)
	}
	tile := r.tile(string(cloth().ID))
	if tile == nil || tile.Along != unit.Length(cloth().Goods().Pattern.Along) {
		t.Fatalf("the cloth is not shown on the roll: %v, %v", tile, r.tileFault(string(cloth().ID)))
	}
	saveLook(t, "swatch-roll", r.win)
	r.customer()
	saveLook(t, "customer", r.win)
	r.tap(t, "customer:one")
	saveLook(t, "customer-one", r.win)
	r.closeModal()
	// One step back, the corners are gone; two, the picture.
	r.s.Undo()
	if cloth().Swatch.Corners != "" {
		t.Error("the corners cannot be undone")
	}
	r.s.Undo()
	if cloth().Swatch.Look == job.LookPicture {
		t.Error("the picture cannot be undone")
	}
	r.do(edit.Set{Object: cloth().ID, Field: edit.SwatchLook, Text: string(job.LookSprig)})
	if r.tile(string(cloth().ID)) == nil {
		t.Error("a drawn look is not shown")
	}
	saveLook(t, "swatch-sprig", r.win)
}

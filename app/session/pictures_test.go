package session_test

import (
	"image"
	"image/color"
	"testing"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/session"
)

// TestPictureTravels: a picture given to one window is in the file that it
// writes, and another window that opens the file shows it.
func TestPictureTravels(t *testing.T) {
	from, _, _ := start(t)
	from.NewJob(job.UnitsCM)
	pic := image.NewRGBA(image.Rect(0, 0, 600, 300))
	for i := range pic.Pix {
		pic.Pix[i] = uint8(i / 1200)
	}
	pic.SetRGBA(0, 0, color.RGBA{A: 255})
	id, err := from.AddPicture(pic, 200)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := from.AddPicture(pic, 200); err != nil || again != id {
		t.Errorf("the same picture has two names: %v, %v", again, err)
	}
	cloth := from.Job().Cloths[0].ID
	if faults := from.Do(edit.Set{Object: cloth, Field: edit.SwatchPicture, Text: string(id)}); len(faults) > 0 {
		t.Fatal(faults)
	}
	to, _, _ := start(t)
	if _, err := to.Picture(id); err == nil {
		t.Error("the other window has the picture before it came")
	}
	to.OpenBytes(from.Bytes())
	img, err := to.Picture(id)
	if err != nil {
		t.Fatal(err)
	}
	if b := img.Bounds(); b.Dx() != 200 || b.Dy() != 100 {
		t.Errorf("the picture is %v, it was to be 200 by 100", b)
	}
	if again, err := to.Picture(id); err != nil || again != img {
		t.Error("asked for again it is unpacked again")
	}
	if _, err := from.AddPicture(image.NewRGBA(image.Rectangle{}), 200); err == nil {
		t.Error("an empty picture was kept")
	}
	if _, err := session.Unpack([]byte("no picture")); err == nil {
		t.Error("no picture was unpacked")
	}
}

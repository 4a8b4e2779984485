package views

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"slipseat/app/edit"
	"slipseat/app/session"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// BenchmarkPreview is one step of a drag: the new plan, the drawing's geometry
// and the form; painting is apart.
func BenchmarkPreview(b *testing.B) {
	r := newRoom(b, kit.LightMode, 1208, 825)
	r.s.OpenDemo()
	seat := r.s.Job().Seats[0].ID
	i := 0
	for b.Loop() {
		i++
		r.s.Preview(edit.Handle{Seat: seat, Field: "outline.front_width", To: (18 + unit.Length(i%32)/16) * unit.In})
	}
}

// BenchmarkRollPaint is one picture of the Roll stage, as while panning.
func BenchmarkRollPaint(b *testing.B) {
	r := newRoom(b, kit.LightMode, 1440, 900)
	r.s.OpenDemo()
	r.s.SetStage(session.Roll)
	w := boardOfOrNil(r.stages[session.Roll].Middle()).(fyne.Widget)
	pic := test.WidgetRenderer(w).Objects()[0].(*canvas.Raster)
	size := pic.Size()
	for b.Loop() {
		pic.Generator(int(size.Width), int(size.Height))
	}
}

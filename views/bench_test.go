package views

import (
	"testing"

	"slipseat/app/edit"
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

package seat

import (
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Dragging each handle by a tenth of an inch along its direction must change
// exactly the measurement that it names, by what the drawing then shows.
func TestHandleMoved(t *testing.T) {
	m := Measurements{FrontWidth: 18 * unit.In, BackWidth: 16 * unit.In, Depth: 17 * unit.In, FrontBow: 0.75 * unit.In}
	o, faults := FromMeasurements(m)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	for _, h := range o.Handles() {
		value, by := map[string]unit.Length{"front_width": m.FrontWidth, "back_width": m.BackWidth, "depth": m.Depth, "front_bow": m.FrontBow}[h.Field], 2.54
		to := h.At.Add(h.Dir.Mul(by))
		next := m
		switch h.Field {
		case "front_width":
			next.FrontWidth = h.Moved(value, to)
		case "back_width":
			next.BackWidth = h.Moved(value, to)
		case "depth":
			next.Depth = h.Moved(value, to)
		case "front_bow":
			next.FrontBow = h.Moved(value, to)
		}
		o2, faults := FromMeasurements(next)
		if len(faults) > 0 {
			t.Fatal(h.Field, faults)
		}
		near := 1e9
		for _, k := range o2.Handles() {
			if k.Field == h.Field {
				near = min(near, k.At.Dist(to))
			}
		}
		if near > 1e-9 {
			t.Errorf("%s: after the drag its handle is %g mm away from where it was dragged", h.Field, near)
		}
	}
	if got := (Handle{At: geom.P(0, 0), Dir: geom.P(1, 0), Per: 2}).Moved(10, geom.P(-100, 0)); got != 0 {
		t.Errorf("dragged past nothing: got %v, want 0", got)
	}
}

package trace_test

import (
	"math"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/trace"
)

func TestStraight(t *testing.T) {
	box := geom.Box(-200, -150, 200, 150)
	trapezoid := geom.Polygon{{X: -230}, {X: 230}, {X: 190, Y: 400}, {X: -190, Y: 400}}.Path()
	for name, p := range map[string]geom.Path{"box": box, "trapezoid": trapezoid} {
		for _, angle := range []float64{0, 0.1, -0.3, 0.7} {
			turned := p.Rotated(angle)
			if got := trace.Straight(turned); math.Abs(got+angle) > 1e-9 {
				t.Errorf("the %s turned by %g is turned back by %g", name, angle, -got)
			}
		}
		// Beyond an eighth of a turn it comes to stand on its next side.
		b := p.Rotated(1.2)
		b = b.Rotated(trace.Straight(b))
		w, h := p.Bounds().W(), p.Bounds().H()
		if math.Abs(b.Bounds().W()-h) > 1e-6 || math.Abs(b.Bounds().H()-w) > 1e-6 {
			t.Errorf("the %s turned far stands %v", name, b.Bounds())
		}
	}
}

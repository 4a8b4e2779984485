package geom

import (
	"math"
	"testing"
)

// An inset of a rectangle is exact: it never needs the way over strips.
func TestInsetOfARectangleIsExact(t *testing.T) {
	p := Box(-215.9, 0, 215.9, 482.6)
	q, err := Offset(p, func(int) float64 { return -9.525 })
	if err != nil {
		t.Fatal(err)
	}
	b := q.Bounds()
	if math.Abs(b.W()-412.75) > 1e-9 || math.Abs(b.H()-463.55) > 1e-9 {
		t.Errorf("got %v x %v, want 412.75 x 463.55", b.W(), b.H())
	}
}

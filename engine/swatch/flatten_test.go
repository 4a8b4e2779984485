package swatch

import (
	"image"
	"image/color"
	"math"
	"testing"

	"slipseat/engine/geom"
)

// TestFlattenUndoesASlant photographs a flat picture from a slant, by the
// formula of central projection written out here, and makes it flat again.
func TestFlattenUndoesASlant(t *testing.T) {
	const side = 400
	truth := func(x, y float64) color.RGBA { // shares of the repeat
		v := func(f float64) uint8 { return uint8(128 + 100*math.Sin(f)) }
		return color.RGBA{R: v(9 * x), G: v(7*y + 2*x), B: v(5*x - 8*y), A: 255}
	}
	// The plane of the cloth seen from a slant: a place (x, y) of the repeat is
	// seen at (a/c, b/c).
	seen := func(x, y float64) (float64, float64) {
		a, b, c := 60+280*x+20*y, 50+30*x+260*y, 1+0.25*x+0.35*y
		return a / c, b / c
	}
	pic := image.NewRGBA(image.Rect(0, 0, side, side))
	for py := range side {
		for px := range side {
			// Two linear equations for the place that is seen at the pixel.
			u, v := float64(px)+0.5, float64(py)+0.5
			a1, b1, c1 := 280-0.25*u, 20-0.35*u, u-60
			a2, b2, c2 := 30-0.25*v, 260-0.35*v, v-50
			d := a1*b2 - a2*b1
			pic.SetRGBA(px, py, truth((c1*b2-c2*b1)/d, (a1*c2-a2*c1)/d))
		}
	}
	var corners [4]geom.Pt
	for i, c := range [4][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
		x, y := seen(c[0], c[1])
		corners[i] = geom.P(x/side, y/side)
	}
	flat, to, fault := Flatten(pic, corners, 1.25)
	if fault != nil {
		t.Fatal(fault)
	}
	w, h := flat.Bounds().Dx(), flat.Bounds().Dy()
	if r := float64(w) / float64(h); math.Abs(r-1.25) > 0.02 {
		t.Errorf("the flat picture is %d by %d, not 5 to 4", w, h)
	}
	for y := range h {
		for x := range w {
			want := truth((float64(x)+0.5)/float64(w), (float64(y)+0.5)/float64(h))
			if got := flat.RGBAAt(x, y); apart(got, want) > 6 {
				t.Fatalf("pixel (%d, %d) is %v, want %v", x, y, got, want)
			}
		}
	}
	sx, sy := seen(0.3, 0.8)
	if q := to(geom.P(sx/side, sy/side)); q.Dist(geom.P(0.3, 0.8)) > 1e-6 {
		t.Errorf("the place (0.3, 0.8) went to %v", q)
	}
	for name, c := range map[string][4]geom.Pt{
		"crossed":     {{}, {X: 1, Y: 1}, {X: 1}, {Y: 1}},
		"on one line": {{}, {X: 0.5}, {X: 1}, {X: 0.7}},
		"dented":      {{}, {X: 1}, {X: 0.2, Y: 0.2}, {Y: 1}},
	} {
		if _, _, f := Flatten(pic, c, 1); f == nil || f.Code != CodeCorners {
			t.Errorf("%s corners: %v", name, f)
		}
	}
}

package swatch

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"slipseat/engine/unit"
)

// spots is a picture whose every pixel has a colour of its own.
func spots(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetRGBA(x, y, color.RGBA{R: uint8(255 * x / (w - 1)), G: uint8(255 * y / (h - 1)), B: uint8(x*7 ^ y*13), A: 255})
		}
	}
	return img
}

func TestTileLiesOnTheRoll(t *testing.T) {
	// A dot in the upper left part of the picture lies near the far end of the
	// repeat and near its far edge; with the motif at the dot it is at (0, 0).
	img := image.NewRGBA(image.Rect(0, 0, 64, 128))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	for y := 30; y < 34; y++ {
		for x := 14; x < 18; x++ {
			img.SetRGBA(x, y, color.RGBA{R: 200, A: 255})
		}
	}
	const along, across = 400.0, 100.0
	for _, c := range []struct {
		name           string
		drop           float64
		motifX, motifY float64
		u, v           float64
	}{
		{"motif at the lower right corner", 0, 1, 1, along * (1 - 32.0/128), across * (1 - 16.0/64)},
		{"motif at the dot", 0, 16.0 / 64, 32.0 / 128, 0, 0},
		{"one repeat on", 0, 16.0 / 64, 32.0 / 128, along, 3 * across},
		{"half-drop, next column", 0.5, 16.0 / 64, 32.0 / 128, along / 2, across},
		{"half-drop, two columns on", 0.5, 16.0 / 64, 32.0 / 128, 0, 2 * across},
		{"third, two columns back", 1.0 / 3, 16.0 / 64, 32.0 / 128, along / 3, -2 * across},
	} {
		tile, fault := New(img, along, across, c.drop, c.motifX, c.motifY)
		if fault != nil {
			t.Fatal(fault)
		}
		if got := tile.At(c.u, c.v, 1); got.G > 20 {
			t.Errorf("%s: the dot is not at (%g, %g): %v", c.name, c.u, c.v, got)
		}
		if got := tile.At(c.u+along/2, c.v, 1); got.G < 235 && c.drop == 0 {
			t.Errorf("%s: there is a dot half a repeat on: %v", c.name, got)
		}
	}
}

// TestPaintAgreesWithAt compares the fast scan with single places, over seams,
// at several zooms and drops.
func TestPaintAgreesWithAt(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 0))
	for _, drop := range []float64{0, 0.5, 1.0 / 3, 0.27} {
		tile, fault := New(spots(300, 200), 230, 317, drop, 0.3, 0.6)
		if fault != nil {
			t.Fatal(fault)
		}
		for _, mm := range []float64{0.2, 1, 3.7, 40} {
			dst := image.NewRGBA(image.Rect(0, 0, 90, 70))
			u, v := rng.Float64()*4000-2000, rng.Float64()*4000-2000
			r := image.Rect(-10, 5, 85, 90) // partly outside of dst
			tile.Paint(dst, r, u, v, mm)
			for y := range 70 {
				for x := range 90 {
					got := dst.RGBAAt(x, y)
					if !image.Pt(x, y).In(r) {
						if got.A != 0 {
							t.Fatalf("painted outside of its part at (%d, %d)", x, y)
						}
						continue
					}
					want := tile.At(u+float64(x-r.Min.X)*mm, v+float64(r.Max.Y-1-y)*mm, mm)
					if d := apart(got, want); d > 3 {
						t.Fatalf("drop %g, %g mm a pixel, (%d, %d): painted %v, single %v", drop, mm, x, y, got, want)
					}
				}
			}
		}
	}
}

func apart(a, b color.RGBA) int {
	d := func(x, y uint8) int { return int(math.Abs(float64(x) - float64(y))) }
	return max(d(a.R, b.R), d(a.G, b.G), d(a.B, b.B))
}

// TestFarAwayIsTheMean: where a pixel holds many repeats, its colour is their
// mean light, whatever the place.
func TestFarAwayIsTheMean(t *testing.T) {
	tile, fault := Stand{Kind: Check, Ground: color.RGBA{255, 255, 255, 255}, Figure: color.RGBA{0, 0, 0, 255}}.Tile(50, 50, 0)
	if fault != nil {
		t.Fatal(fault)
	}
	// Half black and half white is 188 in sRGB, not 128.
	for _, u := range []float64{0, 13, 31} {
		if got := tile.At(u, 7, 500); got.R < 185 || got.R > 191 {
			t.Errorf("mean of a black and white check at %g: %v, want about 188", u, got)
		}
	}
}

func TestStandIns(t *testing.T) {
	ground, figure := color.RGBA{240, 230, 210, 255}, color.RGBA{40, 80, 90, 255}
	at := func(tile *Tile, u, v float64) bool { // figure?
		return tile.At(u, v, 0.2).R < 140
	}
	stripe, fault := Stand{Stripe, ground, figure}.Tile(0, 80, 0)
	if fault != nil {
		t.Fatal(fault)
	}
	for _, u := range []float64{0, 17, 4444} {
		if !at(stripe, u, 0) || at(stripe, u, 24) || !at(stripe, u, 80) {
			t.Error("a stripe along the roll does not run along it at", u)
		}
	}
	bars, _ := Stand{Stripe, ground, figure}.Tile(80, 0, 0)
	for _, v := range []float64{0, 17, 444} {
		if !at(bars, 0, v) || at(bars, 24, v) || !at(bars, 160, v) {
			t.Error("a stripe across does not run across at", v)
		}
	}
	sprig, _ := Stand{Sprig, ground, figure}.Tile(200, 150, 0.5)
	for j := range 4 {
		u := 100 * float64(j%2)
		if !at(sprig, u, 150*float64(j)) {
			t.Errorf("no sprig in column %d at %g", j, u)
		}
		if at(sprig, u+100, 150*float64(j)) {
			t.Errorf("a sprig between the motifs of column %d", j)
		}
	}
	// Its bud points to the top of the pattern, along the roll.
	if !at(sprig, 55, 0) || at(sprig, -62.9, 4) {
		t.Error("the sprig does not stand upright")
	}
	if plain, fault := (Stand{Plain, ground, figure}).Tile(0, 0, 0); fault != nil || apart(plain.At(3, 9, 1), ground) > 1 {
		t.Error("plain cloth is not its ground", fault)
	}
}

func TestFaultyTiles(t *testing.T) {
	if _, f := New(image.NewRGBA(image.Rectangle{}), 1, 1, 0, 0, 0); f == nil || f.Code != CodeNoPicture {
		t.Error("an empty picture:", f)
	}
	for _, l := range []unit.Length{0, -1, unit.Length(math.NaN()), unit.Length(math.Inf(1))} {
		if _, f := New(spots(4, 4), l, 10, 0, 0, 0); f == nil || f.Code != CodeRepeat {
			t.Errorf("a repeat of %v: %v", l, f)
		}
	}
}

func BenchmarkPaint(b *testing.B) {
	tile, _ := New(spots(900, 900), 300, 300, 0.5, 0.5, 0.5)
	dst := image.NewRGBA(image.Rect(0, 0, 1208, 825))
	for b.Loop() {
		tile.Paint(dst, dst.Bounds(), 0, 0, 1.3)
	}
}

package seatview

import (
	"flag"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"slipseat/engine/buildup"
	"slipseat/engine/geom"
	"slipseat/engine/seat"
	"slipseat/engine/swatch"
	"slipseat/engine/unit"
)

var pictures = flag.String("pictures", "", "folder to write the pictures to, for looking at them")

const in = unit.In

var (
	cream = color.RGBA{238, 228, 206, 255}
	teal  = color.RGBA{38, 88, 96, 255}
)

func pulled(t testing.TB) (seat.Outline, buildup.Spec, buildup.Result) {
	t.Helper()
	o, faults := seat.FromMeasurements(seat.Measurements{FrontWidth: 18 * in, BackWidth: 15 * in, Depth: 16 * in, FrontBow: 1 * in, FrontRadius: 1.5 * in, BackRadius: 0.75 * in})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	s := buildup.Start(buildup.PulledOver)
	s.Foam = []buildup.Layer{{Thickness: 2 * in}}
	s.Edge, s.EdgeSize, s.Oversize = buildup.RoundedEdge, 0.75*in, 0.5*in
	s.Wadding.Thickness = 0.25 * in
	s.Board = 0.625 * in
	r, faults := buildup.Make(o, s, in/16)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return o, s, r
}

func pad(t testing.TB) (seat.Outline, buildup.Spec, buildup.Result) {
	t.Helper()
	o, faults := seat.FromMeasurements(seat.Measurements{FrontWidth: 19 * in, BackWidth: 17 * in, Depth: 18 * in, FrontRadius: 2 * in, BackRadius: 2 * in})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	s := buildup.Start(buildup.BoxedPad)
	s.Foam = []buildup.Layer{{Thickness: 2 * in}}
	s.Pad.Thickness, s.Pad.Seam = 2*in, 0.5*in
	r, faults := buildup.Make(o, s, in/16)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return o, s, r
}

// TestProfileIsTheWrap: the section that is drawn is as long as the wrap that
// is cut, less what lies under the board.
func TestProfileIsTheWrap(t *testing.T) {
	for _, c := range []struct {
		name         string
		s            buildup.Section
		crown, inset unit.Length
	}{
		// The worked cases of the design, in inches: 3.250, 5.297, 5.028.
		{"sharp edge", buildup.Section{Foam: 1 * in, Board: in / 2, TurnUnder: 1.25 * in, Pull: in / 2}, 0, 0},
		{"rounded, wadding over the board", buildup.Section{Foam: 2 * in, Overhang: in / 2, Radius: 0.75 * in, Wadding: in / 4, OverBoard: true, Board: 0.625 * in, TurnUnder: 1.25 * in, Pull: in / 2}, 0, 0},
		{"wadding stops at the foam", buildup.Section{Foam: 2 * in, Radius: in / 2, Wadding: in / 2, Board: in / 2, TurnUnder: 1.25 * in, Pull: in / 2}, 0, 0},
		{"with a crown layer", buildup.Section{Foam: 1 * in, Overhang: in / 2, Radius: in / 2, Wadding: in / 4, Board: in / 2, Crown: unit.Length(math.Hypot(50.8, 25.4) - 50.8)}, 1 * in, 2 * in},
	} {
		p := sectionProfile(c.s, c.crown, c.inset)
		last := p.steps[len(p.steps)-1]
		got := last.along - p.inset
		want := c.s.Wrap().Length() - c.s.TurnUnder - c.s.Pull
		if c.s.OverBoard {
			want -= c.s.Wadding // from the wadding's lower corner it runs under the board
		}
		if math.Abs(got-want.MM()) > 1e-9 {
			t.Errorf("%s: the section is %.6f mm long from the board's edge, the wrap %.6f", c.name, got, want.MM())
		}
	}
}

// lines is a cloth with a thin line across it where the spread cover is at
// distance x to the front of the motif point.
func lines(t testing.TB, x float64) Cloth {
	t.Helper()
	const repeat = 2000.0
	img := image.NewRGBA(image.Rect(0, 0, 16, 1024))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	for k := range 16 {
		img.SetRGBA(k, 512, color.RGBA{A: 255})
		img.SetRGBA(k, 511, color.RGBA{A: 255})
	}
	tile, fault := swatch.New(img, repeat, 100, 0, 0.5, 0.5)
	if fault != nil {
		t.Fatal(fault)
	}
	// Turned a quarter, the seat's y lies along the roll; the line lies where
	// u is 0.
	return Cloth{Tile: tile, Turn: 3, Phase: geom.P(-x, 0)}
}

// TestLineAtArcLength: a line of the cloth at distance x along the cover is
// seen where the section has the arc length x, on the flat top, in the rounded
// edge and on the front fall, within a pixel.
func TestLineAtArcLength(t *testing.T) {
	o, s, r := pulled(t)
	p, ok := New(o, s, r)
	if !ok {
		t.Fatal("no solid")
	}
	wrap, _ := r.Wrap(seat.Front)
	front, _ := o.CentreLine()
	sec := wrap.Section
	radius := (sec.Radius + sec.Wadding).MM()
	high := (sec.Board + sec.Foam + sec.Wadding).MM()
	// Where the cover lies, worked out here from the figures of the build-up: a
	// point so far along the cover to the front of the middle of the front edge
	// of the flat top, in space.
	edge := front.Y - (sec.Overhang - sec.Radius).MM()
	at := func(along float64) [3]float64 {
		switch a := along / radius; {
		case along <= 0:
			return [3]float64{0, edge - along, high}
		case a <= math.Pi/2:
			return [3]float64{0, edge - radius*math.Sin(a), high - radius + radius*math.Cos(a)}
		default:
			return [3]float64{0, edge - radius, high - radius - (along - radius*math.Pi/2)}
		}
	}
	size := image.Pt(900, 700)
	cam := p.Camera(Slant{Turn: 0, Rise: 0.5, Steps: 3.4}, size)
	for _, along := range []float64{-120, -30, -5, 4, 12, 25, 40, 55, 65} {
		cloth := lines(t, 0)
		// The line lies at y = edge - along of the spread cover.
		cloth.Motif = geom.P(0, edge-along)
		img := image.NewRGBA(image.Rectangle{Max: size})
		p.Slant(img, cam, Dress{Cover: cloth})
		px, py, _ := cam.Project(at(along))
		// The middle of the darkness around there.
		sum, weight := 0.0, 0.0
		for y := int(py) - 9; y <= int(py)+9; y++ {
			c := img.RGBAAt(int(px), y)
			dark := math.Max(0, 110-float64(c.G))
			sum += (float64(y) + 0.5) * dark
			weight += dark
		}
		if weight == 0 {
			t.Errorf("no line is seen near %g mm along the cover", along)
			continue
		}
		if got := sum / weight; math.Abs(got-py) > 1 {
			t.Errorf("the line %g mm along the cover is seen at row %.2f, it lies at %.2f", along, got, py)
		}
	}
}

// TestAboveShowsTheCloth: on the flat top every pixel is the cloth's own.
func TestAboveShowsTheCloth(t *testing.T) {
	o, s, r := pulled(t)
	p, _ := New(o, s, r)
	tile, _ := swatch.Stand{Kind: swatch.Sprig, Ground: cream, Figure: teal}.Tile(5*in, 4*in, 0.5)
	c := Cloth{Tile: tile, Turn: 3, Motif: r.Motif, Phase: geom.P(13, 29)}
	img := image.NewRGBA(image.Rect(0, 0, 500, 500))
	v := View{Scale: 0.9, X: 250, Y: 470}
	p.Above(img, v, c)
	n := 0
	for y := range 500 {
		for x := range 500 {
			q := geom.P((float64(x)+0.5-v.X)/v.Scale, (v.Y-float64(y)-0.5)/v.Scale)
			if !p.flat.Contains(q) {
				continue
			}
			n++
			d := q.Sub(r.Motif)
			// Up the roll: (x, y) → (y, −x).
			if want := tile.At(d.Y+13, -d.X+29, 1/v.Scale); img.RGBAAt(x, y) != want {
				t.Fatalf("pixel (%d, %d) is %v, the cloth there %v", x, y, img.RGBAAt(x, y), want)
			}
		}
	}
	if n < 50000 {
		t.Errorf("only %d pixels of flat top", n)
	}
	if c := img.RGBAAt(3, 3); c.A != 0 {
		t.Error("painted beside the seat")
	}
}

func TestLook(t *testing.T) {
	tile, fault := swatch.Stand{Kind: swatch.Sprig, Ground: cream, Figure: teal}.Tile(5*in, 4*in, 0.5)
	if fault != nil {
		t.Fatal(fault)
	}
	for _, c := range []struct {
		name string
		make func(testing.TB) (seat.Outline, buildup.Spec, buildup.Result)
	}{{"pulled", pulled}, {"pad", pad}} {
		o, s, r := c.make(t)
		p, ok := New(o, s, r)
		if !ok {
			t.Fatal(c.name, "has no solid")
		}
		cloth := Cloth{Tile: tile, Turn: 3, Motif: r.Motif}
		paper := func(w, h int) *image.RGBA {
			img := image.NewRGBA(image.Rect(0, 0, w, h))
			for i := range img.Pix {
				img.Pix[i] = 250
			}
			return img
		}
		slant := paper(800, 600)
		p.Slant(slant, p.Camera(Usual, image.Pt(800, 600)), Dress{Cover: cloth, Band: Cloth{Tile: tile, Turn: 3}})
		above := paper(600, 600)
		p.Above(above, View{Scale: 1.1, X: 300, Y: 560}, cloth)
		if *pictures == "" {
			continue
		}
		for name, img := range map[string]*image.RGBA{"slant": slant, "above": above} {
			f, err := os.Create(filepath.Join(*pictures, c.name+"-"+name+".png"))
			if err != nil {
				t.Fatal(err)
			}
			if err := png.Encode(f, img); err != nil {
				t.Fatal(err)
			}
			f.Close()
		}
	}
}

func TestTooSmall(t *testing.T) {
	o, faults := seat.FromMeasurements(seat.Measurements{FrontWidth: 20, BackWidth: 20, Depth: 20})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	s := buildup.Start(buildup.PulledOver)
	s.Foam = []buildup.Layer{{Thickness: 50}}
	s.Edge, s.EdgeSize, s.Oversize = buildup.RoundedEdge, 40, 0
	r, _ := buildup.Make(o, s, 1)
	if p, ok := New(o, s, r); ok {
		t.Errorf("a seat smaller than its edge's rounding has a flat top of %v", p.flat)
	}
	if _, ok := New(seat.Outline{}, s, r); ok {
		t.Error("an empty outline has a solid")
	}
}

func BenchmarkSlant(b *testing.B) {
	o, s, r := pulled(b)
	p, _ := New(o, s, r)
	tile, _ := swatch.Stand{Kind: swatch.Sprig, Ground: cream, Figure: teal}.Tile(5*in, 4*in, 0.5)
	size := image.Pt(1600, 1200)
	img := image.NewRGBA(image.Rectangle{Max: size})
	cam := p.Camera(Usual, size)
	for b.Loop() {
		p.Slant(img, cam, Dress{Cover: Cloth{Tile: tile, Turn: 3, Motif: r.Motif}})
	}
}

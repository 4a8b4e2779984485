package export

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"slipseat/app/raster"
	"slipseat/app/words"
	"slipseat/assets"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// scan is a page rasterised by another program, read in millimetres from its
// lower left corner.
type scan struct {
	img   image.Image
	perMM float64
}

// ink is how dark the page is at a point, 0 to 1, between the pixels.
func (s scan) ink(p geom.Pt) float64 {
	x := p.X*s.perMM - 0.5
	y := float64(s.img.Bounds().Dy()) - p.Y*s.perMM - 0.5
	x0, y0 := math.Floor(x), math.Floor(y)
	at := func(x, y float64) float64 {
		return 1 - float64(color.GrayModel.Convert(s.img.At(int(x), int(y))).(color.Gray).Y)/255
	}
	fx, fy := x-x0, y-y0
	return (at(x0, y0)*(1-fx)+at(x0+1, y0)*fx)*(1-fy) + (at(x0, y0+1)*(1-fx)+at(x0+1, y0+1)*fx)*fy
}

// line finds where a line crosses a short path from p-reach to p+reach along
// dir: the middle of its ink, as a distance from p.
func (s scan) line(p, dir geom.Pt, reach float64) (float64, bool) {
	sum, mom := 0.0, 0.0
	for d := -reach; d <= reach; d += 0.02 {
		k := s.ink(p.Add(dir.Mul(d)))
		sum, mom = sum+k, mom+k*d
	}
	return mom / sum, sum*0.02 > 0.08
}

// TestTemplateMeasures prints a seat's cover as a PDF on A4, has poppler
// rasterise it at 300 dots an inch, and measures in the pictures: the check
// squares and the outline within 0.2 mm, the outline of tiles joined by their
// crosses within 0.3 mm.
func TestTemplateMeasures(t *testing.T) {
	w, err := words.New(assets.WordsEN)
	if err != nil {
		t.Fatal(err)
	}
	st := drawing.Style{Metrics: raster.Metrics{}, Words: w, Units: unit.UnitsFor(unit.Inches)}
	path := geom.PathOf([]geom.Segment{geom.ArcThrough(geom.P(-235, 19), geom.P(235, 19), 19), {A: geom.P(235, 19), B: geom.P(203, 438)}, {A: geom.P(203, 438), B: geom.P(-203, 438)}, {A: geom.P(-203, 438), B: geom.P(-235, 19)}})
	pages, fault := drawing.Templates(drawing.TemplateIn{Name: "A Side chair, board", Path: path, Face: "Top up"}, drawing.A4(), st)
	if fault != nil {
		t.Fatal(fault)
	}
	var b bytes.Buffer
	if err := PDF(&b, "Templates", []Part{{Title: "A", Pages: pages}}, drawing.Print()); err != nil {
		t.Fatal(err)
	}
	dir := folder(t)
	file := filepath.Join(dir, "template.pdf")
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	tool(t, "pdftoppm", "-l", "3", "-r", "300", "-gray", "-png", file, filepath.Join(dir, "tpl"))
	read := func(page int) scan {
		f, err := os.Open(filepath.Join(dir, fmt.Sprintf("tpl-%0*d.png", len(fmt.Sprint(len(pages))), page)))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		img, err := png.Decode(f)
		if err != nil {
			t.Fatal(err)
		}
		return scan{img, 300 / 25.4}
	}
	shapes := func(d drawing.Drawing, layer string) (out []drawing.Shape) {
		for _, it := range d.Items {
			if s, ok := it.(drawing.Shape); ok && s.Layer == layer {
				out = append(out, s)
			}
		}
		return out
	}

	// The solid square: its four sides, measured at a third of their length.
	first := read(1)
	sq := shapes(pages[0], "check-square")[0].Path.Bounds()
	lo, hi := sq.Min.Add(geom.P(33, 33)), sq.Max
	side := func(p, dir geom.Pt) float64 {
		d, ok := first.line(p, dir, 0.6)
		if !ok {
			t.Fatalf("no line at %v", p)
		}
		return d
	}
	width := sq.W() + side(geom.P(hi.X, lo.Y), geom.P(1, 0)) - side(geom.P(sq.Min.X, lo.Y), geom.P(1, 0))
	height := sq.H() + side(geom.P(lo.X, hi.Y), geom.P(0, 1)) - side(geom.P(lo.X, sq.Min.Y), geom.P(0, 1))
	if math.Abs(width-100) > 0.2 || math.Abs(height-100) > 0.2 {
		t.Errorf("the check square measures %.3f by %.3f mm", width, height)
	}

	// Every tile: the printed outline against the model, by way of the crosses.
	worst, joined, tiles := 0.0, 0.0, 0
	for i, page := range pages[1:3] {
		s := read(i + 2)
		var off geom.Pt // how far the crosses lie from their places, on average
		n := 0.0
		for _, it := range page.Items {
			m, ok := it.(drawing.Mark)
			if !ok || m.Layer != "match" || m.Kind != drawing.Cross {
				continue
			}
			// Beside the ring that stands round the middle, and off the seam.
			dx, okX := s.line(m.At.Add(geom.P(0, 2.6)), geom.P(1, 0), 0.6)
			dy, okY := s.line(m.At.Add(geom.P(2.6, 0)), geom.P(0, 1), 0.6)
			if okX && okY {
				off, n = off.Add(geom.P(dx, dy)), n+1
			}
		}
		if n == 0 {
			t.Fatalf("page %d: no crosses were found", i+2)
		}
		off = off.Mul(1 / n)
		measured := 0
		for _, run := range shapes(page, "outline") {
			for k := 1; k < len(run.Path); k++ {
				a, c := run.Path[k-1].Pt, run.Path[k].Pt
				mid := a.Add(c).Mul(0.5)
				if a.Dist(c) < 1 {
					continue
				}
				dir := c.Sub(a).Mul(1 / a.Dist(c))
				normal := geom.P(-dir.Y, dir.X)
				d, ok := s.line(mid, normal, 0.7)
				if !ok {
					t.Fatalf("page %d: no outline at %v", i+2, mid)
				}
				measured++
				worst = max(worst, math.Abs(d))
				joined = max(joined, math.Abs(d-off.Dot(normal)))
			}
		}
		tiles += min(measured, 1)
	}
	if worst > 0.2 || joined > 0.3 {
		t.Errorf("the outline lies %.3f mm off, %.3f mm when tiles are joined", worst, joined)
	}
	if tiles < 2 {
		t.Errorf("only %d tiles with an outline were measured", tiles)
	}
	t.Logf("square %.3f × %.3f mm; outline within %.3f mm, joined %.3f mm, on %d tiles", width, height, worst, joined, tiles)
}

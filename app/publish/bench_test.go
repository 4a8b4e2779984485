package publish

import (
	"io"
	"strings"
	"testing"

	"slipseat/app/export"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// BenchmarkSheetPNG paints the cut sheet of a roll of 6 yd at A2 and 200 dots an
// inch; the aim is 1.5 s and 300 MB.
func BenchmarkSheetPNG(b *testing.B) {
	o := room(b, "hall", unit.Inches)
	o.Paper, o.DPI = drawing.A2(), 200
	k := newMaker(o)
	in := k.m.CutSheet(&o.Plan.Goods[0], o.Job.Name, "")
	// The demo's roll with its pattern, drawn 6 yd long.
	in.Lays[0].Length, in.Lays[0].Buy = 6*unit.Yd, 6*unit.Yd
	var some []drawing.Piece
	for _, p := range in.Lays[0].Pieces {
		if p.Shape.Bounds().Max.X < (6 * unit.Yd).MM() {
			some = append(some, p)
		}
	}
	in.Lays[0].Pieces = some
	pages := drawing.CutSheet(in, drawing.A2().Landscape(), k.st)
	b.ReportAllocs()
	for b.Loop() {
		if err := export.PNG(io.Discard, pages[0], 200, drawing.Print()); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPDFs makes all PDFs of the demo, templates for both printers and all
// of it in one file among them; the aim is 2 s.
func BenchmarkPDFs(b *testing.B) {
	o := room(b, "demo", unit.Inches)
	o.Kinds = []export.Kind{export.KindPDF}
	b.ReportAllocs()
	for b.Loop() {
		for _, f := range Files(o) {
			if strings.HasSuffix(f.Name, ".pdf") {
				if err := f.Write(io.Discard); err != nil {
					b.Fatal(err)
				}
			}
		}
	}
}

// TestWholeRollIsRefused: a picture of a whole roll at its true size is refused
// with words, not tried.
func TestWholeRollIsRefused(t *testing.T) {
	roll := drawing.Drawing{Bounds: geom.Rect{Max: geom.P((6 * unit.Yd).MM(), (54 * unit.In).MM())}}
	err := export.PNG(io.Discard, roll, 200, drawing.Print())
	words, ok := wordsEN(t).Error(err, unit.UnitsFor(unit.Inches))
	if !ok || !strings.Contains(words, "PDF") {
		t.Errorf("got %v, in words %q", err, words)
	}
}

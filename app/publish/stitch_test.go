package publish

import (
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"slipseat/app/export"
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

func (s scan) ink(p geom.Pt) float64 {
	x, y := p.X*s.perMM-0.5, float64(s.img.Bounds().Dy())-p.Y*s.perMM-0.5
	x0, y0 := math.Floor(x), math.Floor(y)
	at := func(x, y float64) float64 {
		return 1 - float64(color.GrayModel.Convert(s.img.At(int(x), int(y))).(color.Gray).Y)/255
	}
	fx, fy := x-x0, y-y0
	return (at(x0, y0)*(1-fx)+at(x0+1, y0)*fx)*(1-fy) + (at(x0, y0+1)*(1-fx)+at(x0+1, y0+1)*fx)*fy
}

// line is how far from p, along dir, the middle of a line's ink lies; ok is
// false where there is none.
func (s scan) line(p, dir geom.Pt, reach float64) (float64, bool) {
	sum, mom := 0.0, 0.0
	for d := -reach; d <= reach; d += 0.02 {
		k := s.ink(p.Add(dir.Mul(d)))
		sum, mom = sum+k, mom+k*d
	}
	return mom / sum, sum*0.02 > 0.08
}

// sheet is one tile: the page as it was meant and as it was printed.
type sheet struct {
	page  drawing.Drawing
	scan  scan
	i, j  int
	frame geom.Rect
	pos   geom.Pt // where it lies when the tiles are joined by their crosses
	laid  bool
}

// crosses measures the marks on one side of the tile, in order along it.
func (s *sheet) crosses(t *testing.T, side geom.Pt) []geom.Pt {
	const in = 5 // the seam runs in the middle of an overlap of 10 mm
	var out []geom.Pt
	for _, it := range s.page.Items {
		m, ok := it.(drawing.Mark)
		if !ok || m.Layer != "match" || m.Kind != drawing.Cross {
			continue
		}
		at := s.frame.Center().Add(geom.P(side.X*(s.frame.W()/2-in), side.Y*(s.frame.H()/2-in)))
		if side.X != 0 && math.Abs(m.At.X-at.X) > 0.01 || side.Y != 0 && math.Abs(m.At.Y-at.Y) > 0.01 {
			continue
		}
		// Beside the ring that stands round the middle, on the stroke that
		// crosses the seam's own line.
		dx, okX := s.scan.line(m.At.Add(geom.P(0, 2.6)), geom.P(1, 0), 0.6)
		dy, okY := s.scan.line(m.At.Add(geom.P(2.6, 0)), geom.P(0, 1), 0.6)
		if !okX || !okY {
			t.Fatalf("no cross at %v of tile %d,%d", m.At, s.i, s.j)
		}
		out = append(out, m.At.Add(geom.P(dx, dy)))
	}
	return out
}

// TestTilesJoinedByTheirCrosses prints the demo's elbow chair, board and all,
// on A4, has poppler rasterise it at 300 dots an inch, joins all tiles by the
// crosses found in the pictures, and measures: check bars of 100 mm and 4 in,
// level and upright, and the outline within 0.2 mm on each tile, the outline of
// the joined tiles within 0.3 mm.
func TestTilesJoinedByTheirCrosses(t *testing.T) {
	o := room(t, "demo", unit.Inches)
	k := newMaker(o)
	shapes, _ := k.shapes()
	var in drawing.TemplateIn
	for _, s := range shapes {
		if strings.HasPrefix(s.Name, "B ") && strings.HasSuffix(s.Name, k.Words.Term("board")) {
			in = s
		}
	}
	pages, fault := drawing.Templates(in, drawing.A4(), k.st)
	if fault != nil {
		t.Fatal(fault)
	}
	dir := folder(t, "stitch")
	file := filepath.Join(dir, "b.pdf")
	if err := export.WriteFile(file, true, func(w io.Writer) error {
		return export.PDF(w, "B", []export.Part{{Pages: pages}}, drawing.Print())
	}); err != nil {
		t.Fatal(err)
	}
	tool(t, "pdftoppm", "-r", "300", "-gray", "-png", file, filepath.Join(dir, "b"))
	var tiles []*sheet
	for n, p := range pages[1:] {
		f, err := os.Open(filepath.Join(dir, fmt.Sprintf("b-%0*d.png", len(fmt.Sprint(len(pages))), n+2)))
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		s := &sheet{page: p, scan: scan{img, 300 / 25.4}, i: -1}
		for _, it := range p.Items {
			switch it := it.(type) {
			case drawing.Shape:
				if it.Layer == "frame" {
					s.frame = it.Path.Bounds()
				}
			case drawing.Text:
				var row rune
				if _, err := fmt.Sscanf(it.S, "sheet %c%d", &row, &s.i); err == nil {
					s.i, s.j = s.i-1, int(row-'A')
				}
			}
		}
		if s.i < 0 {
			t.Fatalf("page %d does not say which tile it is", n+2)
		}
		tiles = append(tiles, s)
		bars(t, s)
	}
	find := func(i, j int) *sheet {
		for _, s := range tiles {
			if s.i == i && s.j == j {
				return s
			}
		}
		return nil
	}
	// Lay tile after tile over a neighbour that lies already.
	tiles[0].laid = true
	for range tiles {
		for _, s := range tiles {
			if !s.laid {
				continue
			}
			for _, d := range []geom.Pt{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
				n := find(s.i+int(d.X), s.j+int(d.Y))
				if n == nil || n.laid {
					continue
				}
				a, b := s.crosses(t, d), n.crosses(t, d.Mul(-1))
				if len(a) != 2 || len(b) != 2 {
					t.Fatalf("tiles %d,%d and %d,%d share %d and %d crosses", s.i, s.j, n.i, n.j, len(a), len(b))
				}
				n.pos = s.pos.Add(a[0].Add(a[1]).Sub(b[0]).Sub(b[1]).Mul(0.5))
				n.laid = true
			}
		}
	}
	worst, joined, points := 0.0, 0.0, 0
	for _, s := range tiles {
		if !s.laid {
			t.Fatalf("tile %d,%d has no neighbour", s.i, s.j)
		}
		meant := geom.P(float64(s.i-tiles[0].i)*(s.frame.W()-10), float64(s.j-tiles[0].j)*(s.frame.H()-10))
		off := s.pos.Sub(meant)
		for _, it := range s.page.Items {
			run, ok := it.(drawing.Shape)
			if !ok || run.Layer != "outline" {
				continue
			}
			for n := 1; n < len(run.Path); n++ {
				a, b := run.Path[n-1].Pt, run.Path[n].Pt
				if a.Dist(b) < 1 {
					continue
				}
				normal := b.Sub(a).Mul(1 / a.Dist(b)).Turned(1)
				for _, share := range []float64{0.3, 0.7} {
					p := a.Add(b.Sub(a).Mul(share))
					if near(s.page, p) {
						continue // another line crosses there
					}
					d, ok := s.scan.line(p, normal, 0.7)
					if !ok {
						t.Fatalf("tile %d,%d: no outline at %v", s.i, s.j, p)
					}
					points++
					worst, joined = max(worst, math.Abs(d)), max(joined, math.Abs(d+off.Dot(normal)))
				}
			}
		}
	}
	if worst > 0.2 || joined > 0.3 || points < 20 {
		t.Errorf("of %d points the outline lies %.3f mm off on its tile, %.3f mm when the tiles are joined", points, worst, joined)
	}
	t.Logf("%d tiles, %d points: %.3f mm on a tile, %.3f mm joined", len(tiles), points, worst, joined)
}

// near tells whether another line of the page comes close to a point of the
// outline.
func near(page drawing.Drawing, p geom.Pt) bool {
	for _, it := range page.Items {
		switch it := it.(type) {
		case drawing.Shape:
			if it.Layer == "outline" {
				continue
			}
			for n := 1; n < len(it.Path); n++ {
				if (geom.Segment{A: it.Path[n-1].Pt, B: it.Path[n].Pt}).Distance(p) < 1.2 {
					return true
				}
			}
		case drawing.Mark:
			if it.At.Dist(p) < it.Size {
				return true
			}
		}
	}
	return false
}

// bars measures the four check bars of a tile between the middles of their end
// strokes.
func bars(t *testing.T, s *sheet) {
	t.Helper()
	found := 0
	for _, it := range s.page.Items {
		l, ok := it.(drawing.Shape)
		if !ok || l.Layer != "check" || len(l.Path) != 2 {
			continue
		}
		a, b := l.Path[0].Pt, l.Path[1].Pt
		long := a.Dist(b)
		if long < 50 {
			continue
		}
		found++
		dir := b.Sub(a).Mul(1 / long)
		side := dir.Turned(1).Mul(0.7) // on the end strokes, beside the bar itself
		d0, ok0 := s.scan.line(a.Add(side), dir, 0.5)
		d1, ok1 := s.scan.line(b.Add(side), dir, 0.5)
		if !ok0 || !ok1 || math.Abs(d1-d0) > 0.2 {
			t.Errorf("tile %d,%d: a check bar of %.1f mm measures %.3f", s.i, s.j, long, long+d1-d0)
		}
	}
	if found != 4 {
		t.Errorf("tile %d,%d has %d check bars, want 4", s.i, s.j, found)
	}
}

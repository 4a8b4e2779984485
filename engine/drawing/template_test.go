package drawing

import (
	"math"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// tileOffsets are what the tiles' windows were moved by, read from the first
// cross that two neighbours share; here simply from the tiling itself.
func templatePages(t *testing.T, in TemplateIn, size PageSize) ([]Drawing, template) {
	t.Helper()
	pages, fault := Templates(in, size, style(1, unit.Inches))
	if fault != nil {
		t.Fatal(fault)
	}
	ti, ok := bestTiling(in.Path, size)
	if !ok {
		t.Fatal("no tiling")
	}
	tm := template{in: in, st: style(1, unit.Inches), tiling: ti}
	if ti.turned {
		tm.in.Path = in.Path.Turned(1)
	}
	return pages, tm
}

// TestTilesAddUpToTheOutline: laid over each other by their crosses, the tiles
// show the whole outline and nothing else.
func TestTilesAddUpToTheOutline(t *testing.T) {
	s := sideChair()
	for _, size := range []PageSize{A4(), Letter(), A3(), Tabloid()} {
		for _, path := range []geom.Path{s.Board, s.Cover.Path, geom.Circle(geom.P(0, 0), 300), geom.Box(0, 0, 60, 40), geom.Box(0, 0, 1066.8, 355.6)} {
			pages, tm := templatePages(t, TemplateIn{Name: "n", Path: path}, size)
			n := 0
			for j := range tm.ny {
				for i := range tm.nx {
					if tm.needed(i, j) {
						n++
					}
				}
			}
			if len(pages) != n+1 {
				t.Fatalf("%d pages for %d tiles", len(pages), n)
			}
			// Crosses shared by neighbours lie at one place of the shape.
			page := 1
			type at struct{ x, y int64 }
			crosses := map[at]int{}
			length := 0.0
			seen := make([]bool, 4000)
			ring := tm.in.Path.Flatten(geom.ChordTol)
			total := ring.Length()
			for j := range tm.ny {
				for i := range tm.nx {
					if !tm.needed(i, j) {
						continue
					}
					by := geom.P(PageMargin+tileBand, PageMargin+tileBand).Sub(tm.window(i, j).Min)
					for _, it := range pages[page].Items {
						switch it := it.(type) {
						case Mark:
							if it.Layer == "match" && it.Kind == Cross {
								p := it.At.Sub(by)
								crosses[at{int64(math.Round(p.X * 1000)), int64(math.Round(p.Y * 1000))}]++
							}
						case Shape:
							if it.Layer != "outline" {
								continue
							}
							for k := 1; k < len(it.Path); k++ {
								a, b := it.Path[k-1].Sub(by), it.Path[k].Sub(by)
								length += a.Dist(b)
								if d := nearest(ring, a); d > 1e-6 {
									t.Fatalf("a tile's line lies %.3f mm off the outline", d)
								}
								cover(seen, ring, total, a, b)
							}
						}
					}
					page++
				}
			}
			for p, n := range crosses {
				if n < 2 || n > 4 {
					t.Errorf("the cross at %v stands on %d tiles", p, n)
				}
			}
			if length < total-1e-6 {
				t.Errorf("tiles show %.1f mm of %.1f", length, total)
			}
			for k, ok := range seen {
				if !ok {
					t.Errorf("%.1f %% round the outline no tile shows it", float64(k)/40)
					break
				}
			}
		}
	}
}

func nearest(ring geom.Polygon, p geom.Pt) float64 {
	d := math.Inf(1)
	for i, a := range ring {
		d = min(d, geom.Segment{A: a, B: ring[(i+1)%len(ring)]}.Distance(p))
	}
	return d
}

// cover marks the samples of a ring that lie on the stretch a-b.
func cover(seen []bool, ring geom.Polygon, total float64, a, b geom.Pt) {
	s := geom.Segment{A: a, B: b}
	at := 0.0
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		l := p.Dist(q)
		if s.Distance(p) < 1+l && s.Distance(q) < 1+l {
			for k := int(math.Ceil(at / total * float64(len(seen)))); k < len(seen) && float64(k)*total/float64(len(seen)) <= at+l; k++ {
				x := p.Add(q.Sub(p).Mul((float64(k)*total/float64(len(seen)) - at) / l))
				if s.Distance(x) < 1e-6 {
					seen[k] = true
				}
			}
		}
		at += l
	}
}

func TestCheckSquares(t *testing.T) {
	square := func(pages []Drawing) geom.Rect {
		for _, it := range pages[0].Items {
			if s, ok := it.(Shape); ok && s.Layer == "check-square" && s.Line == Solid {
				return s.Path.Bounds()
			}
		}
		t.Fatal("no square")
		return geom.Rect{}
	}
	in := TemplateIn{Name: "n", Path: geom.Box(0, 0, 500, 400)}
	pages, _ := templatePages(t, in, A4())
	if b := square(pages); math.Abs(b.W()-100) > 1e-9 || math.Abs(b.H()-100) > 1e-9 {
		t.Errorf("square of %v", b)
	}
	// A printer that makes 99 mm of 100 and 101 of 100 upright.
	in.MeasuredX, in.MeasuredY = 99, 101
	pages, _ = templatePages(t, in, A4())
	if b := square(pages); math.Abs(b.W()*0.99-100) > 1e-9 || math.Abs(b.H()*1.01-100) > 1e-9 {
		t.Errorf("corrected square of %v", b)
	}
	for _, p := range pages { // nothing is pushed off the page
		for _, it := range p.Items {
			if s, ok := it.(Shape); ok {
				if b := s.Path.Bounds(); b.Min.X < 5 || b.Min.Y < 5 || b.Max.X > p.Bounds.W()-5 || b.Max.Y > p.Bounds.H()-5 {
					t.Fatalf("%s reaches to %v of %v", s.Layer, b, p.Bounds)
				}
			}
		}
	}
}

func TestTemplateFaults(t *testing.T) {
	for name, c := range map[string]struct {
		in   TemplateIn
		code string
	}{
		"nothing":     {TemplateIn{}, CodeTemplateEmpty},
		"not finite":  {TemplateIn{Path: geom.Box(0, 0, math.Inf(1), 5)}, CodeTemplateEmpty},
		"huge":        {TemplateIn{Path: geom.Box(0, 0, 1e5, 1e5)}, CodeTemplateHuge},
		"fit to page": {TemplateIn{Path: geom.Box(0, 0, 100, 100), MeasuredX: 70}, CodeTemplateCheck},
		"no number":   {TemplateIn{Path: geom.Box(0, 0, 100, 100), MeasuredY: unit.Length(math.NaN())}, CodeTemplateCheck},
	} {
		if _, f := Templates(c.in, A4(), style(1, unit.Inches)); f == nil || f.Code != c.code {
			t.Errorf("%s: got %v, want %s", name, f, c.code)
		}
	}
}

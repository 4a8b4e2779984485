package raster

import (
	"flag"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"slipseat/app/words"
	"slipseat/assets"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

var look = flag.String("look", "", "folder to write sample pictures to")

// The reading room, our own invented scenario: six side chairs, two elbow
// chairs and a window bench.
const in = 25.4

func trapeze(wf, wb, d, bow, r float64) (geom.Path, drawing.Measures) {
	wf, wb, d, bow, r = wf*in, wb*in, d*in, bow*in, r*in
	fl, fr := geom.P(-wf/2, bow), geom.P(wf/2, bow)
	br, bl := geom.P(wb/2, d), geom.P(-wb/2, d)
	p := geom.PathOf([]geom.Segment{geom.ArcThrough(fl, fr, bow), {A: fr, B: br}, {A: br, B: bl}, {A: bl, B: fl}})
	if bow == 0 {
		p[0].Bulge = 0
	}
	for i := 3; i >= 0 && r > 0; i-- {
		q, f := p.Fillet(i, r)
		if f != nil {
			panic(f)
		}
		p = q
	}
	return p, drawing.Measures{FrontLeft: fl, FrontRight: fr, BackRight: br, BackLeft: bl,
		FrontWidth: unit.Length(wf), BackWidth: unit.Length(wb), Depth: unit.Length(d), Bow: unit.Length(bow)}
}

func grown(p geom.Path, d float64) geom.Path {
	q, err := geom.Offset(p, func(int) float64 { return d * in })
	if err != nil {
		panic(err)
	}
	return q
}

func blank(p geom.Path) drawing.Blank {
	b := p.Bounds()
	return drawing.Blank{Path: p, Width: unit.Length(b.W()), Depth: unit.Length(b.H())}
}

func sideChair() drawing.SeatIn {
	p, m := trapeze(18.5, 16, 17.25, 0.75, 0.875)
	return drawing.SeatIn{Board: p, Size: [2]unit.Length{18.5 * in, 17.25 * in}, Measures: &m,
		Foam: blank(grown(p, 0.5)), Cover: blank(grown(p, 3)), Dims: true,
		Handles: []drawing.Handle{{ID: "fl", At: m.FrontLeft}, {ID: "fr", At: m.FrontRight}, {ID: "br", At: m.BackRight}, {ID: "bl", At: m.BackLeft}, {ID: "bow", At: geom.P(0, 0)}}}
}

func catalogue(t testing.TB) *words.Words {
	w, err := words.New(assets.WordsEN)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func roomLay(foam bool) drawing.LayIn {
	side, _ := trapeze(18.5, 16, 17.25, 0.75, 0.875)
	elbow, _ := trapeze(20, 18, 18, 0.75, 0.875)
	bench, _ := trapeze(42, 42, 14, 0, 0.25)
	l := drawing.LayIn{Width: 54 * in, Selvedge: in / 2, Length: 144 * in, Buy: 4 * 36 * in, Laid: 129.625 * in,
		Top: geom.P(1, 0), Foot: "Roll 54 in, ½ in selvedge each side, pattern every 9 in; fronts face the cut end.",
		Lattice: lay.Lattice{Along: 9 * in, Across: 6.75 * in, Phase: geom.P(3*in, 2*in)},
	}
	put := func(id, name string, seat int, board geom.Path, w, d, x, y float64) {
		// Up the roll: (x, y) -> (u, v) = (y, -x).
		b := board.Turned(3)
		bb := b.Bounds()
		cx, cy := (x+d/2)*in, (y+w/2)*in
		b = b.Translate(geom.P(cx-bb.Center().X, cy-bb.Center().Y))
		l.Pieces = append(l.Pieces, drawing.Piece{ID: id, Name: name, Seat: seat, Shape: geom.Box(x*in, y*in, (x+d)*in, (y+w)*in),
			Width: unit.Length(w * in), Depth: unit.Length(d * in), Board: b, Front: geom.P(-1, 0), Centre: geom.P(cx, cy), Motif: geom.P(cx, cy), HasMotif: true})
	}
	for i := range 3 {
		x := float64(i) * 27
		put([]string{"A1", "A3", "A5"}[i], "Side chair", 0, side, 24.5, 23.25, x, 0)
		put([]string{"A2", "A4", "A6"}[i], "Side chair", 0, side, 24.5, 23.25, x, 27)
	}
	put("B1", "Elbow chair", 1, elbow, 26, 24, 80.625, 0)
	put("B2", "Elbow chair", 1, elbow, 26, 24, 80.625, 27)
	put("C1", "Window bench", 2, bench, 48, 20, 109.625, 0)
	l.Offcuts = []drawing.Offcut{{Rect: geom.Rect{Min: geom.P(130*in, 0), Max: geom.P(143*in, 53*in)}, Length: 13 * in, Width: 53 * in}}
	l.Flaws = []geom.Polygon{geom.Box(105*in, 10*in, 108*in, 14*in).Flatten(1)}
	return l
}

func foamLay() drawing.LayIn {
	side, _ := trapeze(19.5, 17, 18.25, 0.75, 1)
	elbow, _ := trapeze(21, 19, 19, 0.75, 1)
	l := drawing.LayIn{Sheet: true, Width: 48 * in, Length: 72 * in, Title: "Sheet 1 of 2, 48 × 72 in, 1 in thick"}
	for i := range 6 {
		b := side.Turned(1)
		bb := b.Bounds()
		x, y := float64(i/2)*18.6*in, float64(i%2)*19.8*in
		p := b.Translate(geom.P(x-bb.Min.X, y-bb.Min.Y))
		l.Pieces = append(l.Pieces, drawing.Piece{ID: string([]byte{'A', byte('1' + i)}), Name: "Side chair", Seat: 0, Shape: p, Width: 19.5 * in, Depth: 18.25 * in, Front: geom.P(1, 0), Centre: p.Bounds().Center()})
	}
	_ = elbow
	l.Pieces = append(l.Pieces, drawing.Piece{ID: "B2-2", Name: "Elbow chair", Seat: 1, Shape: geom.Box(0, 40*in, 20.5*in, 47.5*in), Width: 20.5 * in, Depth: 7.5 * in,
		Joints: [][2]geom.Pt{{geom.P(0, 40*in), geom.P(20.5*in, 40*in)}}})
	for i := range 8 {
		x := 57 + 1.7*float64(i)
		l.Pieces = append(l.Pieces, drawing.Piece{ID: "D" + string(rune('1'+i)), Name: "Strip", Seat: 3, Shape: geom.Box(x*in, 0, (x+1.5)*in, 30*in), Width: 1.5 * in, Depth: 30 * in})
	}
	l.Offcuts = []drawing.Offcut{{Rect: geom.Rect{Min: geom.P(57*in, 31*in), Max: geom.P(72*in, 48*in)}, Length: 15 * in, Width: 17 * in}}
	return l
}

// TestLook writes pictures to look at by hand; without -look it only draws
// them.
func TestLook(t *testing.T) {
	w := catalogue(t)
	units := map[string]unit.Units{"in": unit.UnitsFor(unit.Inches), "cm": unit.UnitsFor(unit.Centimetres)}
	for name, u := range units {
		for pname, pal := range map[string]*drawing.Palette{"light": drawing.Light(), "dark": drawing.Dark()} {
			show := func(file string, bounds geom.Rect, wpx, hpx int, margin float64, draw func(st drawing.Style, tr Transform) []drawing.Drawing) {
				tr := Fit(bounds, wpx, hpx, margin, drawing.PxPerPaper)
				st := drawing.Style{PaperPerModel: tr.PaperPerModel(), Metrics: Metrics{}, Words: w, Units: u}
				img := image.NewRGBA(image.Rect(0, 0, wpx, hpx))
				Clear(img, drawing.Paper, pal)
				for _, d := range draw(st, tr) {
					Render(img, d, tr, pal)
				}
				save(t, file+"-"+name+"-"+pname+".png", img)
			}
			s := sideChair()
			show("seat", s.Board.Bounds(), 860, 720, drawing.DimensionRoom*drawing.PxPerPaper, func(st drawing.Style, tr Transform) []drawing.Drawing {
				seat := drawing.NewSeat(s)
				view := geom.Rect{Min: tr.Model(0, 720), Max: tr.Model(860, 0)}
				step := unit.In
				if name == "cm" {
					step = 2 * unit.CM
				}
				return []drawing.Drawing{drawing.Grid(view, step, st), seat.Draw(st), drawing.HandleMarks(seat.Handles(), "fr")}
			})
			o := sideChair()
			o.Overlays = true
			show("overlays", o.Cover.Path.Bounds(), 860, 720, drawing.DimensionRoom*drawing.PxPerPaper, func(st drawing.Style, tr Transform) []drawing.Drawing {
				return []drawing.Drawing{drawing.NewSeat(o).Draw(st)}
			})
			show("overlays-small", o.Cover.Path.Bounds(), 380, 340, drawing.DimensionRoom*drawing.PxPerPaper, func(st drawing.Style, tr Transform) []drawing.Drawing {
				return []drawing.Drawing{drawing.NewSeat(o).Draw(st)}
			})
			{
				build := func(st drawing.Style) drawing.Drawing { return drawing.NewSeat(o).Draw(st) }
				st := drawing.Style{Metrics: Metrics{}, Words: w, Units: u}
				tr := FitLabelled(380, 340, 8, drawing.PxPerPaper, st, build)
				st.PaperPerModel = tr.PaperPerModel()
				img := image.NewRGBA(image.Rect(0, 0, 380, 340))
				Clear(img, drawing.Paper, pal)
				Render(img, build(st), tr, pal)
				save(t, "overlays-fitted-"+name+"-"+pname+".png", img)
			}
			show("roll", geom.Rect{Max: geom.P(144*in, 54*in)}, 1100, 620, 60, func(st drawing.Style, tr Transform) []drawing.Drawing {
				return []drawing.Drawing{drawing.NewLay(roomLay(false)).Draw(st)}
			})
			show("foam", geom.Rect{Max: geom.P(72*in, 48*in)}, 860, 640, 60, func(st drawing.Style, tr Transform) []drawing.Drawing {
				return []drawing.Drawing{drawing.NewLay(foamLay()).Draw(st)}
			})
			for i, sec := range []drawing.SectionIn{
				{Board: in / 2, Foams: []unit.Length{in}, TurnUnder: in, Pull: in / 2, Wrap: 3 * in},
				{Board: in * 0.625, Foams: []unit.Length{2 * in}, Overhang: in / 2, Radius: in * 0.75, Wadding: in / 4, TurnUnder: 1.25 * in, Pull: in / 2, Wrap: 5.297 * in},
				{Board: in / 2, Foams: []unit.Length{in, in / 2}, Radius: in / 2, Wadding: in / 2, WaddingDown: true, Crown: in / 2, CrownIn: 3 * in, TurnUnder: 1.25 * in, Pull: in / 2, Wrap: 5.028 * in},
			} {
				probe := drawing.Section(sec, drawing.Style{PaperPerModel: 0.7, Metrics: Metrics{}, Words: w, Units: u})
				show("section"+string(rune('1'+i)), probe.Bounds, 420, 320, 24, func(st drawing.Style, tr Transform) []drawing.Drawing {
					return []drawing.Drawing{drawing.Section(sec, st)}
				})
			}
		}
	}
}

// roomSheet is the cut sheet of the reading room's cloth.
func roomSheet(l drawing.LayIn) drawing.CutSheetIn {
	for i := range l.Pieces {
		l.Pieces[i].Marks = "centre marks on four edges, arrow to the front"
		l.Pieces[i].For = l.Pieces[i].Name + " " + l.Pieces[i].ID[1:]
	}
	return drawing.CutSheetIn{
		Title: "Cut sheet, cloth", Job: "Reading room, 9 seats", Goods: "Fern sprig, 54 in wide, one way, repeat 9 in",
		Buy: "Buy 4 yd", BuyWhy: "129⅝ in laid, 1 in to square up, 9 in until the pattern's start is known; 1.8 % above the least possible",
		Draft:    "Not final yet: check the roll when it comes, then print this again.",
		Lays:     []drawing.LayIn{l},
		Notes:    []string{"Right side up, top of the pattern towards the far end.", "Check that the roll really is 54 in wide and has no flaws.", "Number each piece on the back as it comes off."},
		Cautions: []drawing.SheetCaution{{Title: "Measure where the pattern starts before cutting", Text: "The first motif's distance from the cut end is not known. Measure it and type it under Roll."}},
		Stamp:    "Reading room · Slipseat",
	}
}

// longRoll is the reading room's lay three times over.
func longRoll() drawing.LayIn {
	l := roomLay(false)
	ps := l.Pieces
	l.Pieces, l.Offcuts = nil, nil
	for k := range 3 {
		for _, p := range ps {
			by := geom.P(float64(k)*131*in, 0)
			p.Shape, p.Board = p.Shape.Translate(by), p.Board.Translate(by)
			p.Centre, p.Motif = p.Centre.Add(by), p.Motif.Add(by)
			p.ID = p.ID[:1] + string(rune('0'+k)) + p.ID[1:]
			l.Pieces = append(l.Pieces, p)
		}
	}
	l.Length, l.Buy, l.Laid = 11*36*in, 11*36*in, 392*in
	return l
}

// TestLookSheets draws cut sheets page by page.
func TestLookSheets(t *testing.T) {
	w := catalogue(t)
	for name, u := range map[string]unit.Units{"in": unit.UnitsFor(unit.Inches), "cm": unit.UnitsFor(unit.Centimetres)} {
		st := drawing.Style{Metrics: Metrics{}, Words: w, Units: u}
		f := roomSheet(foamLay())
		f.Title, f.Goods, f.Buy, f.BuyWhy, f.Draft = "Cut sheet, foam", "1 in foam, sheets 48 × 72 in", "Buy 2 sheets", "9 blanks, one glued up", ""
		f.Lays = append(f.Lays, f.Lays[0])
		f.Lays[1].Title = "Sheet 2 of 2, 48 × 72 in, 1 in thick"
		for file, pages := range map[string][]drawing.Drawing{
			"sheet-a4":       drawing.CutSheet(roomSheet(roomLay(false)), drawing.A4().Landscape(), st),
			"sheet-tabloid":  drawing.CutSheet(roomSheet(roomLay(false)), drawing.Tabloid().Landscape(), st),
			"sheet-portrait": drawing.CutSheet(roomSheet(roomLay(false)), drawing.Letter(), st),
			"sheet-long":     drawing.CutSheet(roomSheet(longRoll()), drawing.A4().Landscape(), st),
			"sheet-foam":     drawing.CutSheet(f, drawing.A4().Landscape(), st),
		} {
			for i, p := range pages {
				px := 1.5
				if *look != "" {
					px = 5.2
				}
				wpx, hpx := int(p.Bounds.W()*px), int(p.Bounds.H()*px)
				img := image.NewRGBA(image.Rect(0, 0, wpx, hpx))
				Clear(img, drawing.Paper, drawing.Print())
				Render(img, p, Transform{Scale: px, Y: float64(hpx), Paper: px}, drawing.Print())
				save(t, file+"-"+name+"-"+string(rune('1'+i))+".png", img)
			}
		}
	}
}

func save(t *testing.T, name string, img image.Image) {
	t.Helper()
	if *look == "" {
		return
	}
	if err := os.MkdirAll(*look, 0o755); err != nil {
		t.Fatal(err)
	}
	f, err := os.Create(filepath.Join(*look, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}

// TestLookTemplates draws a template page by page.
func TestLookTemplates(t *testing.T) {
	s := sideChair()
	st := drawing.Style{Metrics: Metrics{}, Words: catalogue(t), Units: unit.UnitsFor(unit.Inches)}
	pages, fault := drawing.Templates(drawing.TemplateIn{Name: "A Side chair, cover", Job: "Reading room", Path: s.Cover.Path, Inner: []geom.Path{s.Board},
		Holes: []geom.Path{geom.Circle(geom.P(-150, 60), 3), geom.Circle(geom.P(150, 60), 3)}, Width: s.Cover.Width, Depth: s.Cover.Depth, Face: "Right side of the cloth up"}, drawing.A4(), st)
	if fault != nil {
		t.Fatal(fault)
	}
	for i, p := range pages {
		px := 1.5
		if *look != "" {
			px = 4
		}
		wpx, hpx := int(p.Bounds.W()*px), int(p.Bounds.H()*px)
		img := image.NewRGBA(image.Rect(0, 0, wpx, hpx))
		Clear(img, drawing.Paper, drawing.Print())
		Render(img, p, Transform{Scale: px, Y: float64(hpx), Paper: px}, drawing.Print())
		save(t, "template-"+string(rune('a'+i))+".png", img)
	}
}

// TestLookDocument draws a quote.
func TestLookDocument(t *testing.T) {
	s := sideChair()
	s.Overlays = true
	st := drawing.Style{Metrics: Metrics{}, Words: catalogue(t), Units: unit.UnitsFor(unit.Inches)}
	pages := drawing.Document(drawing.DocumentIn{Title: "Quote", Right: "758.31", Sub: "Reading room, 9 seats. For the Mill Lane committee", SubRight: "valid for 30 days", Stamp: "Reading room", Blocks: []drawing.Block{
		drawing.Heading{Text: "What is done"}, drawing.Bullets{Items: []string{"Nine seats recovered: six side chairs, two elbow chairs, one window bench.", "New foam, 1 in; cover in Fern sprig, 54 in wide; dust cloth under every board."}},
		drawing.List{Fill: 1, Columns: []drawing.Column{{Head: "To buy", Bold: true}, {Head: "Why this much", Wrap: true}, {Head: "Buy", Right: true}, {Head: "Each", Right: true}, {Head: "Price", Right: true}},
			Rows: [][]string{{"Fern sprig, 54 in", "129⅝ laid + 1 to square up + 9 for the start of the pattern, rounded up to what is sold by the quarter yard", "4 yd", "34.00", "136.00"}, {"Foam 1 in, 48 × 72", "9 seats, one glued up", "2", "48.00", "96.00"}},
			Sums: [][]string{{"Materials", "", "", "", "265.40"}, {"Total with tax", "", "", "", "758.31"}}},
		drawing.Boxed{Title: "Not included", Text: "Frame repairs, moving, anything found when the old cover comes off."},
		drawing.Heading{Text: "Side chair"}, drawing.Picture{Build: func(st drawing.Style) drawing.Drawing { return drawing.NewSeat(s).Draw(st) }, High: 90},
		drawing.Blanks{Labels: []string{"Date", "Customer's signature"}},
	}}, drawing.A4(), st)
	for i, p := range pages {
		px := 1.5
		if *look != "" {
			px = 5
		}
		wpx, hpx := int(p.Bounds.W()*px), int(p.Bounds.H()*px)
		img := image.NewRGBA(image.Rect(0, 0, wpx, hpx))
		Clear(img, drawing.Paper, drawing.Print())
		Render(img, p, Transform{Scale: px, Y: float64(hpx), Paper: px}, drawing.Print())
		save(t, "document-"+string(rune('1'+i))+".png", img)
	}
}

package drawing

import (
	"math"
	"strconv"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// TemplateIn is a shape to be printed at its full size on several sheets.
type TemplateIn struct {
	Name string // "A Side chair, board"
	Job  string
	// Path is the outline in the seat's frame; Inner are closed lines drawn
	// dashed inside it, such as the board on a cover; Holes are screw holes.
	Path         geom.Path
	Inner, Holes []geom.Path
	// Marks are open lines that are copied to the goods: centre marks, and cuts
	// made on the chair. Centre is the seat's centre line, front to back, drawn
	// as a chain line to lay the template by.
	Marks, Cuts  []geom.Path
	Centre       [2]geom.Pt
	Width, Depth unit.Length
	Count        int    // how many are cut, for lists
	Face         string // which face is up
	// MeasuredX and MeasuredY are what the check square of a first print
	// measured level and upright; 0 for not measured.
	MeasuredX, MeasuredY unit.Length
}

// Measures of a tile, millimetres.
const (
	tileBand    = 9.0   // kept along the left and lower edge for check bars and names
	tileOverlap = 10.0  // shared by two neighbouring tiles
	checkMetric = 100.0 // side of the check square
	checkInches = 101.6 // 4 in
	// checkLeast and checkMost bound a measured square to what a printer can
	// be out by; beyond, the print was scaled on purpose and is to be repeated.
	checkLeast, checkMost = 90.0, 110.0
	// tilesMost bounds the sheets of one template: 10 m² of A4.
	tilesMost = 160
)

// sheetHead is what a sheet from the roll keeps for its heading, where a tiled
// template has a page for it; longestPage is the most that readers of PDF
// agree on, 200 in.
const (
	sheetHead   = 8.0
	longestPage = 200 * 25.4
)

// Codes of the faults of templates.
const (
	CodeTemplateEmpty = "template.empty"
	CodeTemplateHuge  = "template.too-many-sheets"
	CodeTemplateCheck = "template.check-square"
	CodePlotterWidth  = "template.plotter-width"
)

// tiling is how a shape is laid out on sheets.
type tiling struct {
	page   PageSize
	turned bool // the shape is turned a quarter, its front to the right
	nx, ny int
	w, h   float64 // of a tile's window
	from   geom.Pt // lower left of the whole field, in the shape's frame
}

func (t tiling) window(i, j int) geom.Rect {
	lo := t.from.Add(geom.P(float64(i)*(t.w-tileOverlap), float64(j)*(t.h-tileOverlap)))
	return geom.Rect{Min: lo, Max: lo.Add(geom.P(t.w, t.h))}
}

// Templates prints a shape at its full size: a first page with the map of the
// sheets and the squares to measure, then one page a tile, from the lower left,
// row by row; tiles without a line on them are left out. Pages are in millimetres of paper. The fault says that there is
// nothing to print, that it would take too many sheets, or that the measured
// square is no printer's error.
func Templates(in TemplateIn, size PageSize, st Style) ([]Drawing, *unit.Fault) {
	if len(in.Path) < 2 || !(in.Path.Bounds().W() > 0) || math.IsInf(in.Path.Bounds().W()+in.Path.Bounds().H(), 0) {
		return nil, &unit.Fault{Code: CodeTemplateEmpty}
	}
	fx, fault := correction(in.MeasuredX)
	if fault != nil {
		return nil, fault
	}
	fy, fault := correction(in.MeasuredY)
	if fault != nil {
		return nil, fault
	}
	st.Print, st.PaperPerModel = true, 1
	t, ok := bestTiling(in.Path, size)
	if !ok {
		return nil, &unit.Fault{Code: CodeTemplateHuge, Args: []unit.Arg{unit.A("most", tilesMost)}}
	}
	tm := template{in: in, st: st, tiling: t}
	tm.turn()
	var tiles []Drawing
	for j := range t.ny {
		for i := range t.nx {
			if tm.needed(i, j) {
				tiles = append(tiles, tm.tile(i, j))
			}
		}
	}
	pages := append([]Drawing{tm.cover(len(tiles))}, tiles...)
	if fx != 1 || fy != 1 {
		for i := range pages {
			pages[i] = stretched(pages[i], fx, fy)
		}
	}
	return pages, nil
}

// TemplateSheet prints a shape at its full size on a roll of paper of any
// width, such as a plotter's: one sheet as long as the shape needs, the shape
// turned where that takes less paper, or strips side by side where it is wider
// than the roll. Faults are those of Templates, and a roll that is too narrow.
func TemplateSheet(in TemplateIn, width unit.Length, st Style) ([]Drawing, *unit.Fault) {
	const least = 150 // the check bars and their margins
	if !(width >= least && width <= 5000) {
		return nil, &unit.Fault{Code: CodePlotterWidth, Args: []unit.Arg{unit.A("given", width), unit.A("least", unit.Length(least)), unit.A("most", unit.Length(5000))}}
	}
	if len(in.Path) < 2 || !(in.Path.Bounds().W() > 0) || math.IsInf(in.Path.Bounds().W()+in.Path.Bounds().H(), 0) {
		return nil, &unit.Fault{Code: CodeTemplateEmpty}
	}
	fx, fault := correction(in.MeasuredX)
	if fault != nil {
		return nil, fault
	}
	fy, fault := correction(in.MeasuredY)
	if fault != nil {
		return nil, fault
	}
	st.Print, st.PaperPerModel = true, 1
	tm := template{in: in, st: st, roll: true}
	best := math.Inf(1)
	for _, turned := range []bool{false, true} {
		b := in.Path.Bounds()
		if turned {
			b = in.Path.Turned(1).Bounds()
		}
		t := tiling{turned: turned, ny: 1, w: (width.MM() - 2*PageMargin - tileBand) / max(fx, 1)}
		t.nx = int(math.Max(1, math.Ceil((b.W()+2-tileOverlap)/(t.w-tileOverlap)-1e-9)))
		// At least as long as the check bar is high.
		t.h = max(b.H()+2, checkInches+6)
		t.page = PageSize{Name: "plotter", W: width.MM(), H: t.h + 2*PageMargin + tileBand + sheetHead}
		if t.nx > tilesMost || t.page.H > longestPage {
			continue
		}
		field := geom.P(float64(t.nx)*(t.w-tileOverlap)+tileOverlap, t.h)
		t.from = b.Center().Sub(field.Mul(0.5))
		if paper := float64(t.nx) * t.page.H; paper < best-1e-9 {
			best, tm.tiling = paper, t
		}
	}
	if math.IsInf(best, 1) {
		return nil, &unit.Fault{Code: CodeTemplateHuge, Args: []unit.Arg{unit.A("most", tilesMost)}}
	}
	tm.turn()
	var pages []Drawing
	for i := range tm.nx {
		if tm.needed(i, 0) {
			pages = append(pages, tm.tile(i, 0))
		}
	}
	if fx != 1 || fy != 1 {
		for i := range pages {
			p := stretched(pages[i], fx, fy)
			more := p.Bounds.H() * (fy - 1) / 2 // the roll gives what the paper shrinks
			p.Bounds.Min.Y, p.Bounds.Max.Y = p.Bounds.Min.Y-more, p.Bounds.Max.Y+more
			pages[i] = p
		}
	}
	return pages, nil
}

// correction gives the factor that makes a square measured as m come out as
// 100 mm.
func correction(m unit.Length) (float64, *unit.Fault) {
	if m == 0 {
		return 1, nil
	}
	if !(m >= checkLeast && m <= checkMost) {
		return 0, &unit.Fault{Code: CodeTemplateCheck, Args: []unit.Arg{unit.A("given", m), unit.A("least", unit.Length(checkLeast)), unit.A("most", unit.Length(checkMost))}}
	}
	return checkMetric / m.MM(), nil
}

// turn brings all of the shape's lines into the tiling's frame.
func (t *template) turn() {
	if !t.turned {
		return
	}
	in := &t.in
	in.Path = in.Path.Turned(1)
	in.Inner, in.Holes = turnedAll(in.Inner), turnedAll(in.Holes)
	in.Marks, in.Cuts = turnedAll(in.Marks), turnedAll(in.Cuts)
	in.Centre = [2]geom.Pt{in.Centre[0].Turned(1), in.Centre[1].Turned(1)}
}

func turnedAll(ps []geom.Path) []geom.Path {
	var out []geom.Path
	for _, p := range ps {
		out = append(out, p.Turned(1))
	}
	return out
}

// bestTiling chooses the way of the sheets and of the shape that takes the
// fewest; the shape upright and the sheets upright when that is as good.
func bestTiling(p geom.Path, size PageSize) (tiling, bool) {
	best, found := tiling{}, false
	for _, turned := range []bool{false, true} {
		b := p.Bounds()
		if turned {
			b = p.Turned(1).Bounds()
		}
		for _, page := range []PageSize{size.Portrait(), size.Landscape()} {
			t := tiling{page: page, turned: turned, w: page.W - 2*PageMargin - tileBand, h: page.H - 2*PageMargin - tileBand}
			// A line's width stays inside the window.
			fw, fh := b.W()+2, b.H()+2
			count := func(need, one float64) float64 {
				return max(1, math.Ceil((need-tileOverlap)/(one-tileOverlap)-1e-9))
			}
			nx, ny := count(fw, t.w), count(fh, t.h)
			if !(nx*ny <= tilesMost) {
				continue
			}
			t.nx, t.ny = int(nx), int(ny)
			field := geom.P(float64(t.nx)*(t.w-tileOverlap)+tileOverlap, float64(t.ny)*(t.h-tileOverlap)+tileOverlap)
			t.from = b.Center().Sub(field.Mul(0.5))
			if !found || t.nx*t.ny < best.nx*best.ny {
				best, found = t, true
			}
		}
	}
	return best, found
}

// template carries one template while it is drawn.
type template struct {
	in TemplateIn
	st Style
	tiling
	roll bool // a sheet from the roll, which has no first page of its own
}

// name is a tile's name: letters for rows from the front, numbers for columns.
func (t template) name(i, j int) string { return rowLetters(j) + strconv.Itoa(i+1) }

func rowLetters(j int) string {
	s := ""
	for ; ; j = j/26 - 1 {
		s = string(rune('A'+j%26)) + s
		if j < 26 {
			return s
		}
	}
}

// needed tells whether any line lies on a tile; a sheet in the middle of a
// large shape would be empty and is left out.
func (t template) needed(i, j int) bool {
	if i < 0 || j < 0 || i >= t.nx || j >= t.ny {
		return false
	}
	w := t.window(i, j)
	for _, ps := range [][]geom.Path{{t.in.Path}, t.in.Inner, t.in.Holes} {
		for _, p := range ps {
			if len(clipRuns(p.Flatten(geom.ChordTol), w)) > 0 {
				return true
			}
		}
	}
	return false
}

// tile draws one sheet.
func (t template) tile(i, j int) Drawing {
	st, w := t.st, t.window(i, j)
	d := Drawing{Bounds: geom.Rect{Max: geom.P(t.page.W, t.page.H)}}
	origin := geom.P(PageMargin+tileBand, PageMargin+tileBand)
	by := origin.Sub(w.Min)
	frame := geom.Rect{Min: origin, Max: origin.Add(geom.P(t.w, t.h))}
	d.Add(Shape{Layer: "frame", Path: frame.Path(), Stroke: Rule, Width: Hair})
	draw := func(layer string, p geom.Path, r Role, width float64, l Line) {
		for _, run := range clipRuns(p.Flatten(geom.ChordTol), w) {
			path := make(geom.Path, len(run))
			for k, q := range run {
				path[k] = geom.Vertex{Pt: q.Add(by)}
			}
			d.Add(Shape{Layer: layer, Path: path, Open: true, Stroke: r, Width: width, Line: l})
		}
	}
	open := func(layer string, p geom.Path, r Role, width float64, l Line) {
		for k := 1; k < len(p); k++ {
			if a, b, ok := clipSegment(w, p[k-1].Pt, p[k].Pt); ok {
				d.Add(line(layer, a.Add(by), b.Add(by), r, width, l))
			}
		}
	}
	if c := t.in.Centre; c[0] != c[1] {
		open("centre", geom.Path{{Pt: c[0]}, {Pt: c[1]}}, Ink2, Hair, Chain)
	}
	for _, p := range t.in.Marks {
		open("mark", p, Cut, Medium, Solid)
	}
	for _, p := range t.in.Cuts {
		open("cut", p, Cut, Medium, Dash)
	}
	for _, p := range t.in.Inner {
		draw("inner", p, BoardLine, Thin, Dash)
	}
	for _, p := range t.in.Holes {
		draw("hole", p, Ink, Thin, Solid)
		if c := p.Bounds().Center(); w.Contains(c) {
			d.Add(Mark{Layer: "hole", Kind: Cross, At: c.Add(by), Size: 4, Role: Ink, Width: Hair})
		}
	}
	draw("outline", t.in.Path, Ink, Medium, Solid)
	d.Add(t.seams(i, j, by)...)
	d.Add(t.labels(i, j, frame)...)
	for k, label := range []string{"100 mm", "4 in"} {
		d.Add(checkBars(frame, k, label, st)...)
	}
	return d
}

// clipRuns cuts a ring to a box and gives the runs of it inside.
func clipRuns(ring geom.Polygon, r geom.Rect) [][]geom.Pt {
	var runs [][]geom.Pt
	var run []geom.Pt
	n := len(ring)
	for k := range n {
		a, b, ok := clipSegment(r, ring[k], ring[(k+1)%n])
		if !ok {
			continue
		}
		if len(run) > 0 && run[len(run)-1] == a {
			run = append(run, b)
			continue
		}
		if len(run) > 1 {
			runs = append(runs, run)
		}
		run = []geom.Pt{a, b}
	}
	if len(run) > 1 {
		// The last run goes on in the first one where the ring closes inside.
		if len(runs) > 0 && run[len(run)-1] == runs[0][0] {
			runs[0] = append(run, runs[0][1:]...)
		} else {
			runs = append(runs, run)
		}
	}
	return runs
}

// clipSegment gives the part of a-b inside a box; ends inside stay as they
// are.
func clipSegment(r geom.Rect, a, b geom.Pt) (geom.Pt, geom.Pt, bool) {
	t0, t1 := 0.0, 1.0
	d := b.Sub(a)
	for _, e := range [4][2]float64{{-d.X, a.X - r.Min.X}, {d.X, r.Max.X - a.X}, {-d.Y, a.Y - r.Min.Y}, {d.Y, r.Max.Y - a.Y}} {
		switch {
		case e[0] == 0:
			if e[1] < 0 {
				return a, b, false
			}
		case e[0] < 0:
			t0 = max(t0, e[1]/e[0])
		default:
			t1 = min(t1, e[1]/e[0])
		}
	}
	if t0 >= t1 {
		return a, b, false
	}
	p, q := a, b
	if t0 > 0 {
		p = a.Add(d.Mul(t0))
	}
	if t1 < 1 {
		q = a.Add(d.Mul(t1))
	}
	return p, q, true
}

package portrait

import (
	"image"
	"slices"
	"strconv"
	"strings"

	"slipseat/app/raster"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// page is the paper of a picture and the texts on it, in paper millimetres
// from the lower left corner.
type page struct {
	size         Size
	w, h         float64
	margin       float64
	large, small float64 // sizes of text
	under        float64 // room under a row for its names
	texts        drawing.Drawing
}

func newPage(s Size) *page {
	p := &page{size: s, w: float64(s.W) / s.PerMM, h: float64(s.H) / s.PerMM}
	side := min(p.w, p.h)
	p.margin, p.large, p.small = side*0.06, side*0.036, side*0.019
	p.under = p.small * 3.2
	return p
}

// blank is an empty sheet; nil for one of no size.
func blank(s Size) *image.RGBA {
	if s.W <= 0 || s.H <= 0 || !(s.PerMM > 0) {
		return nil
	}
	img := image.NewRGBA(image.Rect(0, 0, s.W, s.H))
	raster.Clear(img, drawing.Paper, drawing.Light())
	return img
}

func (p *page) text(at geom.Pt, text string, size float64, a drawing.Anchor, role drawing.Role) {
	weight := drawing.Regular
	if size == p.large {
		weight = drawing.Bold
	}
	p.texts.Add(drawing.Text{At: at, S: text, Size: size, Anchor: a, Role: role, Weight: weight})
}

// heading writes the job's name and whose it is, and gives where the seats
// may begin.
func (p *page) heading(o Options) float64 {
	y := p.h - p.margin
	if t := strings.TrimSpace(o.Job.Name); t != "" {
		p.text(geom.P(p.margin, y), p.fit(t, p.large, drawing.Bold), p.large, drawing.TopLeft, drawing.Ink)
		y -= p.large * 1.5
	}
	if t := strings.TrimSpace(o.Job.Customer); t != "" {
		p.text(geom.P(p.margin, y), p.fit(t, p.small, drawing.Regular), p.small, drawing.TopLeft, drawing.Ink2)
		y -= p.small * 1.5
	}
	return y - p.small*1.5
}

// foot writes what each kind of seat is at the lower edge, in as many columns
// as it takes for the lines not to fill more than a fifth of the sheet, and
// gives where they begin.
func (p *page) foot(o Options, all []figure) float64 {
	lines := o.lines(all)
	most := max(1, int(p.h/5/(p.small*1.6)))
	columns := (len(lines) + most - 1) / most
	rows := (len(lines) + max(1, columns) - 1) / max(1, columns)
	width := (p.w - 2*p.margin) / float64(max(1, columns))
	for i, l := range lines {
		at := geom.P(p.margin+width*float64(i/max(1, rows)), p.margin+p.small*1.6*float64(rows-1-i%max(1, rows)))
		p.text(at, p.fitIn(l, p.small, drawing.Regular, width-p.small), p.small, drawing.BaseLeft, drawing.Ink)
	}
	return p.margin + p.small*(1.6*float64(rows)+1)
}

// lines describe the kinds of seats, each once.
func (o Options) lines(all []figure) []string {
	var out []string
	var seen []int
	for _, f := range all {
		if slices.Contains(seen, f.seat) {
			continue
		}
		seen = append(seen, f.seat)
		s := o.Plan.Seats[f.seat]
		w, d := f.pad.Size()
		// Finished sizes are rounded to what a tape shows.
		line := o.Words.LabelIn("portrait.seat", o.Units, unit.A("letter", s.Letter), unit.A("name", s.Name), unit.A("size", o.Units.PairLabel(w, d)))
		if c := o.clothName(f.seat); c != "" {
			line += ", " + c
		}
		out = append(out, line)
	}
	return out
}

func (o Options) clothName(seat int) string {
	for _, g := range o.Plan.Goods {
		for _, k := range g.Kinds {
			if g.Roll != nil && k.Seat == seat && top(k.Blank.Part) {
				return g.Roll.Name
			}
		}
	}
	return ""
}

// fit shortens a text to the width between the margins.
func (p *page) fit(text string, size float64, w drawing.Weight) string {
	return p.fitIn(text, size, w, p.w-2*p.margin)
}

func (p *page) fitIn(text string, size float64, w drawing.Weight, room float64) string {
	if (raster.Metrics{}).Width(text, size, w) <= room {
		return text
	}
	r := []rune(text)
	for len(r) > 1 && (raster.Metrics{}).Width(string(r)+"…", size, w) > room {
		r = r[:len(r)-1]
	}
	return strings.TrimSpace(string(r)) + "…"
}

// paint puts the texts on the picture.
func (p *page) paint(img *image.RGBA) {
	raster.Render(img, p.texts, raster.Transform{Scale: p.size.PerMM, Y: float64(p.size.H), Paper: p.size.PerMM}, drawing.Light())
}

func itoa(n int) string { return strconv.Itoa(n) }

// Package portrait makes the pictures that a customer gets: all seats to
// scale, each with its own piece of the cloth, and one seat seen from a slant.
// They carry no prices.
package portrait

import (
	"image"
	"math"
	"slices"

	"slipseat/app/job"
	"slipseat/app/words"
	"slipseat/engine/buildup"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/plan"
	"slipseat/engine/seatview"
	"slipseat/engine/swatch"
	"slipseat/engine/unit"
)

// Options say what is shown.
type Options struct {
	Plan  *plan.Plan
	Job   job.Job
	Words *words.Words
	Units unit.Units
	// Tile gives what a cloth looks like, by its ID; nil for none.
	Tile func(goods string) *swatch.Tile
}

// Size is the size of a picture in pixels, and PerMM how many of them make a
// millimetre of paper.
type Size struct {
	W, H  int
	PerMM float64
}

// Print is a picture for a sheet of the given size at so many dots an inch.
func Print(w, h unit.Length, dpi float64) Size {
	k := dpi / unit.In.MM()
	return Size{W: int(math.Round(w.MM() * k)), H: int(math.Round(h.MM() * k)), PerMM: k}
}

// figure is one seat of the picture.
type figure struct {
	seat   int // index into Plan.Seats
	number int
	pad    *seatview.Pad
	cloth  seatview.Cloth
}

// figures are all seats that can be shown, in order.
func (o Options) figures() []figure {
	var out []figure
	for i, s := range o.Plan.Seats {
		if !s.OK() {
			continue
		}
		pad, ok := seatview.New(s.Outline, s.Build, s.Result)
		if !ok {
			continue
		}
		for n := 1; n <= s.Count; n++ {
			out = append(out, figure{seat: i, number: n, pad: pad, cloth: o.cloth(i, n)})
		}
	}
	return out
}

// Any tells whether there is a seat to show.
func (o Options) Any() bool {
	for _, f := range o.figures() {
		if f.cloth.Tile != nil {
			return true
		}
	}
	return false
}

// Best is the seat to show alone: the first of the kind that there are most
// of.
func (o Options) Best() (seat, number int) {
	count := 0
	for _, f := range o.figures() {
		if n := o.Plan.Seats[f.seat].Count; f.cloth.Tile != nil && n > count {
			seat, number, count = f.seat, f.number, n
		}
	}
	return seat, number
}

// top tells the piece that is seen on a seat.
func top(p buildup.Part) bool { return p == buildup.PartCover || p == buildup.PartTop }

// cloth is how the cloth lies on a seat: as its piece lies on the roll, or
// while there is no lay with a motif on the seat's motif point.
func (o Options) cloth(seat, number int) seatview.Cloth {
	for gi := range o.Plan.Goods {
		g := &o.Plan.Goods[gi]
		if g.Roll == nil {
			continue
		}
		for k, kind := range g.Kinds {
			if kind.Seat != seat || !top(kind.Blank.Part) || kind.Spoiled > 0 || !slices.Contains(kind.Numbers, number) {
				continue
			}
			c := seatview.Cloth{Tile: o.Tile(g.ID), Turn: int(kind.Base), Motif: kind.Blank.Motif}
			if g.Lay == nil {
				return c
			}
			for _, at := range g.Lay.Places {
				if at.Kind != k || g.Number(at) != number {
					continue
				}
				phase := g.Problem.Bins[at.Bin].Lattice.Phase
				return seatview.Cloth{Tile: c.Tile, Turn: int(kind.Base) + int(at.Turn), Phase: at.At.Sub(phase)}
			}
			return c
		}
	}
	return seatview.Cloth{}
}

// Seats draws all seats from above, to one scale. It gives nil when no seat
// can be shown.
func Seats(o Options, size Size) *image.RGBA {
	all := o.figures()
	img := blank(size)
	if len(all) == 0 || img == nil {
		return nil
	}
	p := newPage(size)
	left, right := p.margin, p.w-p.margin
	y := p.heading(o)
	low := p.foot(o, all)
	rows, k := arrange(all, right-left, y-low, p)
	// What is left over is shared out above and below.
	deep := 0.0
	for _, r := range rows {
		deep += r.deep*k + p.under
	}
	y -= max(0, y-low-deep) / 2
	for _, r := range rows {
		x := left + (right-left-r.width(k))/2
		for _, f := range r.figures {
			b := f.pad.Bounds()
			w := b.W() * k
			// Fronts stand on one line.
			view := seatview.View{Scale: k * size.PerMM, X: (x - b.Min.X*k) * size.PerMM, Y: (p.h - (y - r.deep*k - b.Min.Y*k)) * size.PerMM}
			if f.cloth.Tile != nil {
				f.pad.Above(img, view, f.cloth)
			}
			p.text(geom.P(x+w/2, y-r.deep*k-p.small*1.7), o.name(f), p.small, drawing.BaseCentre, drawing.Ink2)
			x += w + r.gap
		}
		y -= r.deep*k + p.under
	}
	p.paint(img)
	return img
}

// name is what stands under a seat: its number in the job.
func (o Options) name(f figure) string {
	return o.Plan.Seats[f.seat].Letter + itoa(f.number)
}

// row is a row of seats.
type row struct {
	figures []figure
	wide    float64 // of the seats, millimetres of seat
	deep    float64
	gap     float64 // between them, millimetres of paper
}

func (r row) width(k float64) float64 { return r.wide*k + r.gap*float64(len(r.figures)-1) }

// arrange puts the seats into rows so that they come out as large as they can
// on a sheet of w by h paper millimetres, and gives the scale.
func arrange(all []figure, w, h float64, p *page) ([]row, float64) {
	var best []row
	scale := 0.0
	for n := 1; n <= len(all); n++ { // in so many rows
		per := (len(all) + n - 1) / n
		var rows []row
		for i := 0; i < len(all); i += per {
			r := row{figures: all[i:min(i+per, len(all))], gap: p.small * 2.2}
			for _, f := range r.figures {
				b := f.pad.Bounds()
				r.wide += b.W()
				r.deep = max(r.deep, b.H())
			}
			rows = append(rows, r)
		}
		k, deep := math.Inf(1), 0.0
		for _, r := range rows {
			k = min(k, (w-r.gap*float64(len(r.figures)-1))/r.wide)
			deep += r.deep
		}
		k = min(k, (h-p.under*float64(len(rows)))/deep)
		if k > scale {
			scale, best = k, rows
		}
	}
	return best, scale
}

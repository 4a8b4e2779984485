// Package jobs draws random everyday jobs for measuring the lay search: what
// an upholsterer lays on a working day, not what is hard for a program. The
// distribution was fixed in writing, here, before the search was tuned; the
// seeds of published figures are used for nothing else.
//
// A job has 1 to 12 kinds of blanks and 1 to 40 pieces. Half of the jobs are
// in inches, half in millimetres, sizes on the marking step (1/16 in, 1 mm).
//
//   - goods: of ten jobs nine are on a roll (usable width 43 to 60 in, or 138
//     to 158 cm), one on foam sheets (24 × 72 to 36 × 82 in, or 100 × 200 cm).
//     The gap is nothing, 1/8 or 1/4 in (0, 3, 5 mm); a saw cut is 1/8 in (3 mm).
//   - kinds: one (35 %), two (25 %), three or four (20 %), five to eight (14 %),
//     nine to twelve (6 %). Chair seats 13 to 22 in wide and deep (80 %), benches
//     and pads 28 to 54 in long (12 %), bands and small parts 3 to 10 in wide
//     (8 %); a cover adds 2 1/2 to 5 in on every side, a foam 0 to 1/2 in.
//   - shape: 36 % of the jobs have shaped blanks: four-sided with the back
//     narrower by up to a fifth, a bowed front, rounded corners; one shaped
//     kind in six is round or oval.
//   - turning: any (40 %), half turns (25 %), one way (35 %). With a pattern one
//     way (80 %) or half turns.
//   - pattern (33 % of the rolls): repeat along 3 to 27 in, across the usual
//     whole parts of the width or any size, half-drop in a third of them, a
//     stripe in a fifth; some motif 16 in or more from both edges; motifs centred both ways (50 %), alike both ways
//     (25 %), centred across and alike along (25 %).
//   - flaws (33 % of the rolls): one to four, 1/4 to 3 in either way, within
//     what the pieces would fill.
//   - a piece at hand of 20 to 60 in before the roll (8 %), straight rows asked
//     for (10 %), one or two pieces locked at the cut end (5 %, plain goods).
package jobs

import (
	"fmt"
	"math"
	"math/rand/v2"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// Job is one drawn job and what it is like.
type Job struct {
	Problem lay.Problem
	Seed    uint64
	Number  int

	Shaped    bool // at least one kind is no box
	Several   bool // two kinds or more
	Patterned bool
	Flawed    bool
	Sheets    bool
	AtHand    bool
	Rows      bool
	Locked    bool
}

// Traits lists what the job is like, in words for tables.
func (j Job) Traits() []string {
	var out []string
	for _, t := range []struct {
		name string
		is   bool
	}{
		{"shaped", j.Shaped}, {"squared", !j.Shaped}, {"several kinds", j.Several}, {"one kind", !j.Several}, {"patterned", j.Patterned},
		{"plain", !j.Patterned && !j.Sheets}, {"flaws", j.Flawed}, {"sheets", j.Sheets}, {"at hand", j.AtHand}, {"rows", j.Rows}, {"locked", j.Locked},
	} {
		if t.is {
			out = append(out, t.name)
		}
	}
	return out
}

// New draws job number n of a seed. Every job can be laid.
func New(seed uint64, n int) Job {
	d := &draw{r: rand.New(rand.NewPCG(seed, uint64(n))), step: unit.SixteenthInch, inches: true}
	if d.chance(0.5) {
		d.step, d.inches = unit.OneMillimetre, false
	}
	j := Job{Seed: seed, Number: n}
	j.Sheets = d.chance(0.1)
	j.Shaped = d.chance(0.36)
	j.Patterned = d.chance(0.33) && !j.Sheets
	j.Flawed = d.chance(0.33) && !j.Sheets
	j.AtHand = d.chance(0.08) && !j.Sheets
	j.Rows = d.chance(0.1)
	j.Locked = d.chance(0.05) && !j.Patterned && !j.Rows && !j.AtHand

	p := &j.Problem
	p.Step, p.RowsOnly = d.step, j.Rows
	p.Gap = d.pick(0, 0.125, 0.25) * unit.In
	if !d.inches {
		p.Gap = d.pick(0, 3, 5)
	}
	goods := d.goods(j.Sheets)
	if j.Sheets {
		p.Gap = d.rounded(0.12 * unit.In)
	}
	turns := []lay.Turns{lay.AnyTurn, lay.AnyTurn, lay.AnyTurn, lay.AnyTurn, lay.AnyTurn, lay.AnyTurn, lay.AnyTurn, lay.AnyTurn, lay.EitherWay, lay.EitherWay, lay.EitherWay, lay.EitherWay, lay.EitherWay, lay.OneWay, lay.OneWay, lay.OneWay, lay.OneWay, lay.OneWay, lay.OneWay, lay.OneWay}[d.r.IntN(20)]
	if j.Patterned {
		turns = lay.OneWay
		if d.chance(0.2) {
			turns = lay.EitherWay
		}
		goods.Lattice = d.lattice(goods.Width)
	}
	if j.Sheets {
		turns = lay.AnyTurn
	}
	along, across := d.rules()
	kinds := d.kinds()
	j.Several = kinds > 1
	left := max(kinds, 1+d.r.IntN(40))
	for i := range kinds {
		k := lay.Kind{ID: string(rune('A' + i)), Turns: turns, Group: 0}
		k.Count = left
		if rest := kinds - 1 - i; rest > 0 {
			k.Count = 1 + d.r.IntN(max(1, 2*(left-rest)/(rest+1)))
			k.Count = min(k.Count, left-rest)
		}
		left -= k.Count
		for {
			k.Shape, k.Square = d.blank(j.Shaped && (i == 0 || d.chance(0.7)), j.Sheets)
			if fits(k, goods) {
				break
			}
		}
		k.Motif = k.Shape.Bounds().Center()
		if j.Patterned {
			k.Along, k.Across = along, across
		}
		p.Kinds = append(p.Kinds, k)
	}
	if j.Flawed {
		goods.Flaws = d.flaws(*p, goods.Width)
	}
	if j.AtHand {
		hand := goods
		hand.ID, hand.Length, hand.Flaws = "at hand", d.between(20, 60), nil
		p.Bins = append(p.Bins, hand)
	}
	p.Bins = append(p.Bins, goods)
	if j.Locked {
		d.lock(p)
	}
	return j
}

type draw struct {
	r      *rand.Rand
	step   unit.Length
	inches bool
}

func (d *draw) chance(p float64) bool { return d.r.Float64() < p }

func (d *draw) pick(of ...unit.Length) unit.Length { return of[d.r.IntN(len(of))] }

func (d *draw) rounded(l unit.Length) unit.Length { return unit.RoundUp(l, d.step) }

// between draws a length given in inches, on the marking step.
func (d *draw) between(lo, hi float64) unit.Length {
	return d.rounded(unit.Length(lo+(hi-lo)*d.r.Float64()) * unit.In)
}

func (d *draw) goods(sheets bool) lay.Bin {
	switch {
	case sheets && d.inches:
		return lay.Bin{ID: "sheet", Width: d.pick(24, 27, 36) * unit.In, Length: d.pick(72, 76, 82) * unit.In}
	case sheets:
		return lay.Bin{ID: "sheet", Width: 1000, Length: 2000}
	case d.inches:
		return lay.Bin{ID: "roll", Width: d.pick(43, 47, 53, 53, 53, 54, 55, 57, 59) * unit.In, Sheets: 1}
	}
	return lay.Bin{ID: "roll", Width: d.pick(1380, 1380, 1400, 1370, 1480, 1500, 1580), Sheets: 1}
}

func (d *draw) kinds() int {
	switch f := d.r.Float64(); {
	case f < 0.35:
		return 1
	case f < 0.60:
		return 2
	case f < 0.80:
		return 3 + d.r.IntN(2)
	case f < 0.94:
		return 5 + d.r.IntN(4)
	}
	return 9 + d.r.IntN(4)
}

func (d *draw) rules() (along, across lay.Phase) {
	switch f := d.r.Float64(); {
	case f < 0.5:
		return lay.Centred, lay.Centred
	case f < 0.75:
		return lay.Alike, lay.Alike
	}
	return lay.Alike, lay.Centred
}

func (d *draw) lattice(width unit.Length) lay.Lattice {
	l := lay.Lattice{Along: d.between(3, 27), Across: d.pick(width, width/2, width/3, width/4, d.between(4, 27))}
	if d.chance(1. / 3) {
		l.Drop = 0.5
	}
	if d.chance(0.2) {
		l.Drop = 0
		if d.chance(0.5) {
			l.Along = 0
		} else {
			l.Across = 0
		}
	}
	for {
		l.Phase = geom.P(d.r.Float64()*l.Along.MM(), d.r.Float64()*l.Across.MM())
		// Some motif lies far enough from both edges for the widest chair seat.
		const half = 16 * 25.4
		h := l.Across.MM()
		if h == 0 || l.Phase.Y+h*math.Ceil((half-l.Phase.Y)/h) <= width.MM()-half {
			return l
		}
	}
}

// blank draws a piece, its depth along the roll.
func (d *draw) blank(shaped, foam bool) (geom.Polygon, bool) {
	plus := 2 * d.between(2.5, 5)
	if foam {
		plus = 2 * d.between(0, 0.5)
	}
	w, h := d.between(13, 22), d.between(13, 22)
	switch f := d.r.Float64(); {
	case f < 0.12:
		w, h = d.between(28, 54), d.between(12, 20)
	case f < 0.20:
		w, h, plus = d.between(3, 10), d.between(5, 30), 0
	}
	w, h = d.rounded(w+plus), d.rounded(h+plus)
	if !shaped {
		// (x, y) of the seat becomes (y, -x) on the roll: depth along it.
		return geom.Polygon{{X: 0, Y: 0}, {X: h.MM(), Y: 0}, {X: h.MM(), Y: w.MM()}, {X: 0, Y: w.MM()}}, true
	}
	return d.outline(w.MM(), h.MM()).Turned(3), false
}

// outline draws a seat's shaped blank, front at the bottom.
func (d *draw) outline(w, h float64) geom.Polygon {
	if d.chance(1. / 6) {
		n := 96
		var g geom.Polygon
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			g = append(g, geom.P(w/2*c, h/2*s))
		}
		return g
	}
	narrow := 0.2 * d.r.Float64() * w / 2
	bow := 0.0
	if d.chance(0.6) {
		bow = 0.06 * d.r.Float64() * w
	}
	r := (0.5 + 2.5*d.r.Float64()) * 25.4
	r = min(r, w/8, h/8)
	corners := []geom.Pt{{X: -w / 2, Y: bow}, {X: w / 2, Y: bow}, {X: w/2 - narrow, Y: h}, {X: -w/2 + narrow, Y: h}}
	var g geom.Polygon
	for i, c := range corners {
		a, b := corners[(i+3)%4], corners[(i+1)%4]
		g = append(g, corner(a, c, b, r)...)
		if i == 0 && bow > 0 {
			from, to := g[len(g)-1], geom.P(-g[len(g)-1].X, g[len(g)-1].Y)
			for s := 1; s < 12; s++ {
				t := float64(s) / 12
				// A parabola differs from the arc by less than the hand does.
				g = append(g, geom.P(from.X+(to.X-from.X)*t, from.Y-4*bow*t*(1-t)))
			}
		}
	}
	return g
}

// corner rounds the corner at c between the edges from a and to b by eight
// chords.
func corner(a, c, b geom.Pt, r float64) geom.Polygon {
	u, v := c.Sub(a), b.Sub(c)
	u, v = u.Mul(1/u.Len()), v.Mul(1/v.Len())
	angle := math.Atan2(u.Cross(v), u.Dot(v))
	cut := r * math.Tan(angle/2)
	from := c.Sub(u.Mul(cut))
	centre := from.Add(geom.P(-u.Y, u.X).Mul(r))
	var g geom.Polygon
	for i := 0; i <= 8; i++ {
		s, k := math.Sincos(angle * float64(i) / 8)
		q := from.Sub(centre)
		g = append(g, centre.Add(geom.P(q.X*k-q.Y*s, q.X*s+q.Y*k)))
	}
	return g
}

// fits tells whether a kind has room on the goods in one of its turns, with a
// motif in its middle.
func fits(k lay.Kind, b lay.Bin) bool {
	box := k.Shape.Bounds()
	for t := lay.Turn(0); t < 4; t++ {
		l, w := box.W(), box.H()
		if t%2 == 1 {
			l, w = w, l
		}
		if !k.Turns.Has(t) || w > b.Width.MM() || b.Length > 0 && l > b.Length.MM() {
			continue
		}
		// With a motif in its middle the piece reaches half its width from a
		// motif on either side.
		h := b.Lattice.Across.MM()
		if h == 0 {
			return true
		}
		first := b.Lattice.Phase.Y + h*math.Ceil((w/2-b.Lattice.Phase.Y)/h)
		if first+w/2 <= b.Width.MM() {
			return true
		}
	}
	return false
}

func (d *draw) flaws(p lay.Problem, width unit.Length) []geom.Polygon {
	area := 0.0
	for _, k := range p.Kinds {
		area += float64(k.Count) * k.Shape.Area()
	}
	reach := 1.2 * area / width.MM()
	var out []geom.Polygon
	for range 1 + d.r.IntN(4) {
		l, w := d.between(0.25, 3).MM(), d.between(0.25, 3).MM()
		x, y := d.r.Float64()*reach, d.r.Float64()*(width.MM()-w)
		out = append(out, geom.Polygon{{X: x, Y: y}, {X: x + l, Y: y}, {X: x + l, Y: y + w}, {X: x, Y: y + w}})
	}
	return out
}

// lock fixes the first piece of the first one or two kinds side by side at the
// cut end, where no flaw is in the way.
func (d *draw) lock(p *lay.Problem) {
	y := 0.0
	bin := len(p.Bins) - 1
	for i := range min(2, len(p.Kinds)) {
		box := p.Kinds[i].Shape.Bounds()
		if !p.Kinds[i].Turns.Has(0) || y+box.H() > p.Bins[bin].Width.MM() || p.Bins[bin].Length > 0 && box.W() > p.Bins[bin].Length.MM() {
			break
		}
		at := lay.Place{Kind: i, Bin: bin, At: geom.P(-box.Min.X, y-box.Min.Y)}
		clear := true
		for _, f := range p.Bins[bin].Flaws {
			fb := f.Bounds().Grow(p.Gap.MM())
			clear = clear && !fb.Overlaps(p.Placed(at).Bounds())
		}
		if !clear {
			break
		}
		p.Fixed = append(p.Fixed, at)
		y += box.H() + p.Gap.MM()
	}
}

// String names the job for reports.
func (j Job) String() string { return fmt.Sprintf("job %d of seed %d", j.Number, j.Seed) }

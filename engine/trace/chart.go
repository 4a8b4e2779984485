package trace

import (
	"context"
	"math"
	"slices"

	"slipseat/engine/geom"
)

// chart is the flat picture on a grid of about a millimetre, with what the
// search for the outline asks of it: how strongly colours change in any
// direction, and how much a place looks like the board rather than the floor.
type chart struct {
	f    *Flat
	step float64
	min  geom.Pt // model place of the outer corner of cell (0, 0); y runs up
	w, h int
	c    [3][]float32 // colours through the table even
	ok   []bool       // in the photo
	own  []bool       // on the sheet, or right round the click: surely inside
	// The change of colour as a tensor: its value for a unit vector n is the
	// squared slope along n, in units of the table a millimetre (S. Di Zenzo, A
	// note on the gradient of a multi-image, CVGIP 33, 1986).
	xx, xy, yy []float32
	like       []float32 // log of board over floor, clipped to ±mostLike
	texture    float64   // usual slope on the board
}

const (
	chartStep = 1.0 // mm
	chartBlur = 0.9 // mm
	mostLike  = 2.5
	sheetRim  = 4.0 // mm round the sheet that its own edge and shadow may touch
	ringOut   = 9.0 // mm round the sheet that is board: people leave a finger's width
	seedDisc  = 14.0
)

func (c *chart) cell(p geom.Pt) int {
	x, y := (p.X-c.min.X)/c.step, (p.Y-c.min.Y)/c.step
	if !(x >= 0 && y >= 0) || x >= float64(c.w) || y >= float64(c.h) {
		return -1
	}
	return int(y)*c.w + int(x)
}

func (c *chart) place(i int) geom.Pt {
	return geom.P(c.min.X+(float64(i%c.w)+0.5)*c.step, c.min.Y+(float64(i/c.w)+0.5)*c.step)
}

// chartOf reads the flat picture. seed is a click inside the board.
func chartOf(ctx context.Context, f *Flat, seed geom.Pt, hasSeed bool) (*chart, error) {
	b := f.Bounds()
	c := &chart{f: f, step: max(chartStep, f.MMPerPx), min: b.Min}
	c.w, c.h = int(b.W()/c.step), int(b.H()/c.step)
	n := c.w * c.h
	c.ok, c.own = make([]bool, n), make([]bool, n)
	for k := range c.c {
		c.c[k] = make([]float32, n)
	}
	err := inBands(ctx, c.h, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			c.readRow(y)
		}
	})
	if err != nil {
		return nil, err
	}
	sheet := f.sheetBox()
	for i := range c.own {
		p := c.place(i)
		if hasSeed && p.Dist(seed) < seedDisc/2 {
			c.own[i] = true
		}
		if sheet != nil && sheet.Grow(sheetRim).Contains(p) {
			c.own[i] = true
		}
	}
	c.slopes(ctx)
	c.likeness(seed, hasSeed)
	return c, ctx.Err()
}

// sheetBox is the reference in the model when it is known to lie on the board.
func (f *Flat) sheetBox() *geom.Rect {
	if !f.Sheet.Ref.IsSheet() {
		return nil
	}
	w, h := float64(f.Sheet.Ref.W)/2, float64(f.Sheet.Ref.H)/2
	return &geom.Rect{Min: geom.P(-w, -h), Max: geom.P(w, h)}
}

// readRow averages the pixels of one row of cells.
func (c *chart) readRow(y int) {
	img, mm := c.f.Img, c.f.MMPerPx
	ph := img.Rect.Dy()
	// Row 0 of the chart is the lowest.
	low := ph - int(float64(y)*c.step/mm)
	top := ph - int(float64(y+1)*c.step/mm)
	top, low = max(0, min(top, ph-1)), max(0, min(low, ph))
	if low <= top {
		low = top + 1
	}
	for x := range c.w {
		l, r := int(float64(x)*c.step/mm), int(float64(x+1)*c.step/mm)
		r = min(max(r, l+1), img.Rect.Dx())
		var s [3]float32
		k := 0
		for py := top; py < low; py++ {
			row := img.Pix[py*img.Stride:]
			for px := l; px < r; px++ {
				o := px * 4
				if row[o+3] == 0 {
					continue
				}
				s[0] += even[row[o]]
				s[1] += even[row[o+1]]
				s[2] += even[row[o+2]]
				k++
			}
		}
		i := y*c.w + x
		if k*2 >= (low-top)*(r-l) && k > 0 {
			c.ok[i] = true
			for q := range s {
				c.c[q][i] = s[q] / float32(k)
			}
		}
	}
}

func (c *chart) slopes(ctx context.Context) {
	n := c.w * c.h
	c.xx, c.xy, c.yy = make([]float32, n), make([]float32, n), make([]float32, n)
	k := float32(1 / (2 * c.step))
	for q := range c.c {
		p := (&plane{c.w, c.h, c.c[q]}).blurred(ctx, chartBlur/c.step)
		for y := 1; y < c.h-1; y++ {
			for x := 1; x < c.w-1; x++ {
				i := y*c.w + x
				gx, gy := (p.v[i+1]-p.v[i-1])*k, (p.v[i+c.w]-p.v[i-c.w])*k
				c.xx[i] += gx * gx
				c.xy[i] += gx * gy
				c.yy[i] += gy * gy
			}
		}
	}
	// Beyond the photo, and for a little inwards, there is nothing to see.
	for y := range c.h {
		for x := range c.w {
			i := y*c.w + x
			if c.ok[i] {
				continue
			}
			for dy := -3; dy <= 3; dy++ {
				for dx := -3; dx <= 3; dx++ {
					j := clampInt(y+dy, c.h)*c.w + clampInt(x+dx, c.w)
					c.xx[j], c.xy[j], c.yy[j] = 0, 0, 0
				}
			}
		}
	}
}

// Bins of the colour tables: brightness, and the two ratios of colours, which
// shadows leave alone.
const (
	binsL, binL = 52, 3.8
	binsA, binA = 44, 3.0
)

func (c *chart) bin(i int) int {
	l := int((c.c[0][i] + c.c[1][i] + c.c[2][i]) / 3 / binL)
	a := int((c.c[0][i]-c.c[1][i])/binA + binsA/2)
	b := int((c.c[1][i]-c.c[2][i])/binA + binsA/2)
	return (clampInt(l, binsL)*binsA+clampInt(a, binsA))*binsA + clampInt(b, binsA)
}

// likeness compares every cell with the board as it is round the sheet (or the
// click) and with the ground as it is far out.
func (c *chart) likeness(seed geom.Pt, hasSeed bool) {
	sheet := c.f.sheetBox()
	var slopes []float64
	b := c.f.Bounds()
	rim := 0.1 * min(b.W(), b.H())
	inner := geom.Rect{Min: b.Min.Add(geom.P(rim, rim)), Max: b.Max.Sub(geom.P(rim, rim))}
	away := 300.0
	if sheet == nil {
		away = 0.3 * max(b.W(), b.H())
	}
	c.learn(5, func(i int) int {
		p := c.place(i)
		board := hasSeed && p.Dist(seed) < seedDisc
		near := sheet != nil && sheet.Grow(ringOut).Contains(p)
		if near {
			board = !sheet.Grow(2).Contains(p)
		}
		if board && (!near || !c.own[i]) {
			slopes = append(slopes, math.Sqrt(float64(c.xx[i]+c.yy[i])))
		}
		switch {
		case board:
			return 1
		case !near && (!inner.Contains(p) || p.Dist(seed) > away):
			return -1
		}
		return 0
	})
	if len(slopes) > 0 {
		slices.Sort(slopes)
		c.texture = slopes[len(slopes)/2]
	}
}

// relearn takes the colours of the board from inside a rough outline and those
// of the ground from outside it. So a part of the board in shadow, or of
// another grain, is known as board once the edges say that it is.
func (c *chart) relearn(mid geom.Pt, b *band) {
	c.learn(2, func(i int) int {
		p := c.place(i)
		d := p.Sub(mid)
		a := math.Atan2(d.Y, d.X)
		if a < 0 {
			a += 2 * math.Pi
		}
		switch r := d.Len() - b.ring(a); {
		case c.own[i]:
			return 0
		case r < -8:
			return 1
		case r > 25:
			return -1
		}
		return 0
	})
}

// learn fills like from the cells of which is tells 1 for board and -1 for
// ground. The board's table is spread over brightness by overL bins, so that a
// shadow across the board stays board.
func (c *chart) learn(overL int, is func(i int) int) {
	like := make([]float32, c.w*c.h)
	fg, bg := make([]float32, binsL*binsA*binsA), make([]float32, binsL*binsA*binsA)
	var nf, nb float64
	for i := range like {
		if !c.ok[i] {
			continue
		}
		switch is(i) {
		case 1:
			fg[c.bin(i)]++
			nf++
		case -1:
			bg[c.bin(i)]++
			nb++
		}
	}
	c.like = like
	if nf < 50 || nb < 200 {
		return
	}
	spread(fg, overL, 1)
	spread(bg, 2, 1)
	const floor = 2e-5
	for i := range like {
		if !c.ok[i] || c.own[i] {
			continue
		}
		k := c.bin(i)
		v := math.Log((float64(fg[k])/nf + floor) / (float64(bg[k])/nb + floor))
		like[i] = float32(max(-mostLike, min(mostLike, v)))
	}
}

// spread smears a table of colours: two box passes along every axis.
func spread(t []float32, overL, overA int) {
	pass := func(stride, n, r int) {
		line := make([]float32, n)
		for start := range t {
			if start/stride%n != 0 {
				continue
			}
			for k := range line {
				var s float32
				for j := max(0, k-r); j <= min(n-1, k+r); j++ {
					s += t[start+j*stride]
				}
				line[k] = s / float32(2*r+1)
			}
			for k := range line {
				t[start+k*stride] = line[k]
			}
		}
	}
	for range 2 {
		pass(1, binsA, overA)
		pass(binsA, binsA, overA)
		pass(binsA*binsA, binsL, overL)
	}
}

package trace

import (
	"context"
	"math"
	"slices"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// FindOptions steers FindOutline.
type FindOptions struct {
	// Seed is a click inside the board, in the model; needed when the reference
	// is no sheet lying on the board.
	Seed    geom.Pt
	HasSeed bool
}

// Span is a part of an outline: of segment Edge the shares From to To.
type Span struct {
	Edge     int
	From, To float64
}

// Outline is a board's outline as it was found in a flat picture.
type Outline struct {
	// Path is the upper edge of the board, lines and arcs, in the model.
	Path geom.Path
	// Unsure are the parts that somebody should look at: the edge is faint there,
	// or another line would do as well.
	Unsure []Span
	// Confidence is 0 to 1.
	Confidence float64
	// Expected bounds the error of 95 of 100 points of the sure parts.
	Expected unit.Length
	// Thickness of the board where its side face tells, else 0.
	Thickness unit.Length
	Advice    []Advice
}

// Bounds of what counts as found.
const (
	leastSure       = 0.72 // share of the outline that must be sure
	leastConfidence = 0.5
	faintStep       = 4.0  // units of the table: an edge that a person just sees
	smallMargin     = 0.12 // of a ray's worth: another way that is so little dearer would do as well
)

// thicknesses are tried for the side face, millimetres.
var thicknesses = []float64{10, 12, 14, 16, 18, 20, 22, 25}

// FindOutline finds the board's upper edge in a flat picture. Errors:
// *unit.Fault with CodeNoSeed, CodeSeedOutside, CodeNoOutline, CodeOutlineFaint
// or CodeOutlineCut when it cannot be told, or the context's error.
func FindOutline(ctx context.Context, f *Flat, opts FindOptions, report Report) (Outline, error) {
	seed := opts.Seed
	if !opts.HasSeed {
		if f.sheetBox() == nil {
			return Outline{}, &unit.Fault{Code: CodeNoSeed}
		}
		seed = geom.Pt{}
	}
	if !seed.Finite() || !f.Bounds().Contains(seed) {
		return Outline{}, &unit.Fault{Code: CodeSeedOutside}
	}
	report.say(0)
	c, err := chartOf(ctx, f, seed, opts.HasSeed)
	if err != nil {
		return Outline{}, err
	}
	report.say(0.2)
	ring, margin, depth, err := c.search(ctx, seed, report)
	if err != nil {
		return Outline{}, err
	}
	report.say(0.75)
	marks := f.drawn(spaced(ring, markStep), 3, depth, 3)
	marks = f.drawn(spaced(places(marks), markStep), 1.6, depth, 2)
	for i := range marks {
		marks[i].margin = margin(marks[i].p)
	}
	if err := ctx.Err(); err != nil {
		return Outline{}, err
	}
	report.say(0.85)
	o, err := f.settle(marks, depth)
	if err != nil {
		return Outline{}, err
	}
	report.say(1)
	return o, nil
}

func places(marks []mark) []geom.Pt {
	out := make([]geom.Pt, len(marks))
	for i, m := range marks {
		out[i] = m.p
	}
	return out
}

// search finds the ring round the seed: roughly first, then from the middle of
// what was found, with the board's thickness that explains the picture best.
func (c *chart) search(ctx context.Context, seed geom.Pt, report Report) (ring []geom.Pt, margin func(geom.Pt) float64, depth float64, err error) {
	mid := seed
	var near *band
	for round := range 3 {
		r := newRounds(c, mid, 360, 2, 0, nil)
		s, err := r.solve(ctx, false)
		if err != nil {
			return nil, nil, 0, err
		}
		near = r.band(s.radius, 36)
		c.relearn(mid, near)
		m := geom.Polygon(r.ring(s.radius)).Centroid()
		if i := c.cell(m); round == 2 || i < 0 || !c.ok[i] || round == 1 && m.Dist(mid) < 12 {
			break
		}
		mid = m
	}
	report.say(0.45)
	depth = 0
	if c.f.Camera.Known {
		least := math.Inf(1)
		for _, h := range append([]float64{0}, thicknesses...) {
			r := newRounds(c, mid, 360, 2, h, near)
			s, err := r.solve(ctx, false)
			if err != nil {
				return nil, nil, 0, err
			}
			if s.cost < least-0.004 {
				least, depth = s.cost, h
			}
		}
	}
	report.say(0.6)
	r := newRounds(c, mid, 720, 1, depth, near)
	s, err := r.solve(ctx, true)
	if err != nil {
		return nil, nil, 0, err
	}
	for a, j := range s.radius {
		i := c.cell(r.at(a, min(r.nr-1, j+int(3/r.dr))))
		if i < 0 || !c.ok[i] {
			return nil, nil, 0, &unit.Fault{Code: CodeOutlineCut}
		}
	}
	margin = func(p geom.Pt) float64 {
		d := p.Sub(mid)
		a := math.Atan2(d.Y, d.X)
		if a < 0 {
			a += 2 * math.Pi
		}
		return float64(s.margin[clampInt(int(a/(2*math.Pi)*float64(r.na)), r.na)])
	}
	return r.ring(s.radius), margin, depth, nil
}

// settle lays lines and arcs through the marks and judges what came out.
func (f *Flat) settle(marks []mark, depth float64) (Outline, error) {
	start := sharpest(marks)
	marks = append(slices.Clone(marks[start:]), marks[:start]...)
	weight := make([]float64, len(marks))
	for i, m := range marks {
		s := m.step * m.step
		weight[i] = max(0.02, s/(s+2*faintStep*faintStep))
	}
	ps := primitives(marks, weight, f.MMPerPx)
	path := pathOf(marks, ps)
	if path == nil || path.Validate() != nil {
		return Outline{}, &unit.Fault{Code: CodeNoOutline}
	}
	o := Outline{Path: path, Thickness: unit.Length(depth)}
	var offs []float64
	sure, total := 0.0, 0.0
	bad := make([]bool, len(marks))
	for i, m := range marks {
		off := path.Distance(m.p)
		offs = append(offs, off)
		bad[i] = m.step < faintStep || m.margin < smallMargin || off > 1.5
		total++
		if !bad[i] {
			sure++
		}
	}
	o.Unsure = spansOf(path, marks, bad)
	slices.Sort(offs)
	misfit := offs[len(offs)*8/10]
	share := sure / total
	if share < leastSure {
		return Outline{}, &unit.Fault{Code: CodeOutlineFaint, Args: []unit.Arg{unit.A("share", int(math.Round(100*share)))}}
	}
	o.Confidence = share * math.Exp(-misfit)
	if o.Confidence < leastConfidence {
		return Outline{}, &unit.Fault{Code: CodeNoOutline}
	}
	if s := f.sheetBox(); s != nil {
		for _, q := range []geom.Pt{s.Min, s.Max, geom.P(s.Min.X, s.Max.Y), geom.P(s.Max.X, s.Min.Y)} {
			if !path.Contains(q.Mul(0.97)) {
				return Outline{}, &unit.Fault{Code: CodeNoOutline}
			}
		}
	}
	pts := places(marks)
	o.Expected = f.expectedOn(pts, misfit/2)
	o.Advice = f.advise(o.Expected, pts)
	return o, nil
}

// sharpest is the mark at which the ring turns most.
func sharpest(marks []mark) int {
	n := len(marks)
	best, at := -1.0, 0
	for i := range marks {
		u := marks[i].p.Sub(marks[(i+n-4)%n].p)
		v := marks[(i+4)%n].p.Sub(marks[i].p)
		if a := math.Abs(math.Atan2(u.Cross(v), u.Dot(v))); a > best {
			best, at = a, i
		}
	}
	return at
}

// spansOf gathers doubtful marks into parts of the path.
func spansOf(path geom.Path, marks []mark, bad []bool) []Span {
	type hit struct {
		edge  int
		share float64
	}
	var out []Span
	perEdge := map[int][]float64{}
	for i, m := range marks {
		if !bad[i] {
			continue
		}
		e, at := path.Nearest(m.p)
		h := hit{e, path.Segment(e).ShareOf(at)}
		perEdge[h.edge] = append(perEdge[h.edge], h.share)
	}
	for e := range path {
		shares := perEdge[e]
		if len(shares) == 0 {
			continue
		}
		slices.Sort(shares)
		l := max(1e-6, path.Segment(e).Length())
		pad := markStep / l
		from, to := shares[0], shares[0]
		flush := func() {
			out = append(out, Span{e, max(0, from-pad), min(1, to+pad)})
		}
		for _, s := range shares[1:] {
			if s-to > 4*pad {
				flush()
				from = s
			}
			to = s
		}
		flush()
	}
	return out
}

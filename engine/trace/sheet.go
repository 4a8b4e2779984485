package trace

import (
	"context"
	"math"
	"slices"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Sheet is a reference and where it lies in the photo.
type Sheet struct {
	Ref     Reference // W is the side between corners 0 and 1
	Corners Corners
	// Residual is for each corner how far the paper there stands off the lines
	// of its sides, in pixels: large at a curled corner. Zero where the corners
	// were only set by hand on no visible edge.
	Residual [4]float64
	// Noise is the scatter of the edges about their lines, in pixels.
	Noise float64
	// Confidence is 0 to 1: how much of the four sides shows as an edge, times
	// how well they make a sheet of this size.
	Confidence float64
}

// Placed is a sheet whose corners were set by hand on nothing to refine by:
// the clicks are believed to a pixel and a half.
const placedNoise = 1.5

// smallSide is the longer side of the picture in which sheets are looked for.
const smallSide = 1000

// leastSheet is the least confidence with which a sheet counts as found.
const leastSheet = 0.45

// FindSheet looks for a light sheet of paper of the reference's size. Errors:
// *unit.Fault with CodeNoSheet when none is found or two would do,
// CodeBadReference when the reference is no sheet, or the context's error.
func FindSheet(ctx context.Context, p *Photo, ref Reference, report Report) (Sheet, error) {
	if err := ref.Validate(); err != nil {
		return Sheet{}, err
	}
	if ref.Kind == TwoPoints {
		return Sheet{}, &unit.Fault{Code: CodeNoSheet}
	}
	report.say(0)
	w, h := p.Size()
	k := max(1, int(math.Round(float64(max(w, h))/smallSide)))
	white := whiteness(ctx, p.img, k)
	report.say(0.3)
	soft := white.blurred(ctx, 1.1)
	g := gradientsOf(soft)
	sides := joined(sidesIn(ctx, g))
	if err := ctx.Err(); err != nil {
		return Sheet{}, err
	}
	report.say(0.6)
	cands := sheetsAmong(ctx, p, ref, sides, g, soft, float64(k))
	if err := ctx.Err(); err != nil {
		return Sheet{}, err
	}
	report.say(0.8)
	var best Sheet
	for _, c := range cands {
		s := refined(p, c, float64(k))
		s.Confidence *= c.score
		if s.Confidence > best.Confidence {
			best = s
		}
	}
	report.say(1)
	if best.Confidence < leastSheet {
		return Sheet{}, &unit.Fault{Code: CodeNoSheet}
	}
	return best, nil
}

// SheetAt takes corners that were set by hand and measures how well the edges
// agree with them; the corners stay where they are. It picks which way round
// the sheet lies for the paper sizes; a typed rectangle is taken as typed.
// Errors: *unit.Fault with CodeBadReference, CodeBadCorners or CodePointsClose.
func SheetAt(p *Photo, ref Reference, corners Corners) (Sheet, error) {
	if err := ref.Validate(); err != nil {
		return Sheet{}, err
	}
	s := Sheet{Ref: ref, Corners: corners, Noise: placedNoise, Confidence: 1}
	if ref.Kind == TwoPoints {
		a, b := corners[0], corners[1]
		if !a.Finite() || !b.Finite() || a.Dist(b) < 40 {
			return Sheet{}, &unit.Fault{Code: CodePointsClose}
		}
		return s, nil
	}
	if !corners.valid() {
		return Sheet{}, &unit.Fault{Code: CodeBadCorners}
	}
	if ref.IsSheet() {
		s.Ref = lying(p, ref, corners)
	}
	if _, ok := s.toPhoto(); !ok {
		return Sheet{}, &unit.Fault{Code: CodeBadCorners}
	}
	m := measureSides(p, corners, 4)
	if m.share > 0.6 {
		// Off the edges by hand: as uncertain as that.
		s.Noise = max(m.noise, m.off)
		s.Residual = m.residual
	}
	return s, nil
}

// lying picks which way round a sheet lies: the way its view is that of a
// rectangle.
func lying(p *Photo, ref Reference, c Corners) Reference {
	best, least := ref, math.Inf(1)
	for _, r := range []Reference{ref, ref.Turned()} {
		s := Sheet{Ref: r, Corners: c}
		if h, ok := s.toPhoto(); ok {
			if _, cost := cameraOf(h, p); cost < least {
				best, least = r, cost
			}
		}
	}
	return best
}

// toPhoto is the map from the model to the photo.
func (s Sheet) toPhoto() (Homography, bool) {
	if s.Ref.Kind == TwoPoints {
		a, b := s.Corners[0], s.Corners[1]
		k := a.Dist(b) / float64(s.Ref.W)
		mid := a.Mid(b)
		return Homography{k, 0, mid.X, 0, -k, mid.Y, 0, 0, 1}, k > 0
	}
	m := s.Ref.corners()
	return FitHomography(m[:], s.Corners[:])
}

// hypothesis is a possible sheet in the small picture's scale times k.
type hypothesis struct {
	corners Corners // full-size pixels
	ref     Reference
	score   float64
}

// sheetsAmong makes four-sided figures of sides that follow each other and
// gives the most likely ones, best first.
func sheetsAmong(ctx context.Context, p *Photo, ref Reference, sides []side, g gradients, soft *plane, k float64) []hypothesis {
	n := len(sides)
	next := make([][]int, n)
	at := make([]map[int]geom.Pt, n)
	for i, a := range sides {
		at[i] = map[int]geom.Pt{}
		da, la := a.dir(), a.a.Dist(a.b)
		for j, b := range sides {
			if i == j {
				continue
			}
			db, lb := b.dir(), b.a.Dist(b.b)
			if -da.Cross(db) < 0.6 { // turns left to the eye by 37° to 143°
				continue
			}
			x, ok := meet(a, b)
			if !ok {
				continue
			}
			ta, tb := x.Sub(a.a).Dot(da), x.Sub(b.a).Dot(db)
			if ta < 0.55*la || ta > la+max(25, 0.5*la) || tb > 0.45*lb || tb < -max(25, 0.5*lb) {
				continue
			}
			if gap := max(0, ta-la) + max(0, -tb); gap > 0.4*(la+lb) {
				continue
			}
			next[i] = append(next[i], j)
			at[i][j] = x
		}
	}
	area := float64(g.w * g.h)
	var out []hypothesis
	tried := 0
	for a := range n {
		if ctx.Err() != nil {
			return nil
		}
		for _, b := range next[a] {
			if b < a {
				continue
			}
			for _, c := range next[b] {
				if c <= a {
					continue
				}
				for _, d := range next[c] {
					if d <= a || d == b {
						continue
					}
					x, ok := at[d][a]
					if !ok {
						continue
					}
					if tried++; tried > 400000 {
						break
					}
					q := Corners{x, at[a][b], at[b][c], at[c][d]}
					if !q.valid() {
						continue
					}
					sz := math.Abs(geom.Polygon(q[:]).Area())
					if sz < 0.004*area || sz > 0.6*area {
						continue
					}
					if h, ok := judged(p, ref, q, g, soft, k); ok {
						out = append(out, h)
					}
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b hypothesis) int {
		switch {
		case a.score > b.score:
			return -1
		case a.score < b.score:
			return 1
		}
		return 0
	})
	// The best of each place.
	var kept []hypothesis
	for _, h := range out {
		same := false
		for _, o := range kept {
			far := 0.0
			for i := range h.corners {
				far = max(far, h.corners[i].Dist(o.corners[i]))
			}
			same = same || far < 8*k
		}
		if !same {
			kept = append(kept, h)
		}
		if len(kept) == 4 {
			break
		}
	}
	return kept
}

// judged scores a four-sided figure in the small picture: how much of its sides
// is an edge with the light inside, how well it views a sheet of this size, how
// even its inside is.
func judged(p *Photo, ref Reference, q Corners, g gradients, soft *plane, k float64) (hypothesis, bool) {
	const perSide = 48
	support, least := 0.0, 1.0
	for i := range q {
		a, b := q[i], q[(i+1)%4]
		n := eyeLeft(b.Sub(a).Unit())
		hit := 0
		for j := range perSide {
			m := a.Lerp(b, (float64(j)+0.5)/perSide)
			strong := 0.0
			for o := -1.5; o <= 1.5; o++ {
				strong = max(strong, g.along(m.Add(n.Mul(o)), n))
			}
			if strong > leastStep {
				hit++
			}
		}
		s := float64(hit) / perSide
		support += s / 4
		least = min(least, s)
	}
	if least < 0.45 || support < 0.7 {
		return hypothesis{}, false
	}
	// Evenness: edges inside, away from the rim.
	var inner, edges float64
	const cells = 24
	mid := q[0].Mid(q[2])
	for i := range cells {
		for j := range cells {
			u, v := 0.08+0.84*(float64(i)+0.5)/cells, 0.08+0.84*(float64(j)+0.5)/cells
			m := q[0].Lerp(q[1], u).Lerp(q[3].Lerp(q[2], u), v)
			x, y := int(m.X), int(m.Y)
			if x < 1 || y < 1 || x >= g.w-1 || y >= g.h-1 {
				continue
			}
			o := y*g.w + x
			gx, gy := float64(g.x[o]), float64(g.y[o])
			inner++
			if gx*gx+gy*gy > 9*leastStep*leastStep {
				edges++
			}
		}
	}
	if inner < cells*cells/2 {
		return hypothesis{}, false // mostly outside the picture
	}
	evenness := 1 - min(1, 5*edges/inner)
	// Light against the ring round it.
	level := func(grow float64) float64 {
		var vals []float64
		for i := range q {
			a := mid.Add(q[i].Sub(mid).Mul(grow))
			b := mid.Add(q[(i+1)%4].Sub(mid).Mul(grow))
			for j := range 16 {
				m := a.Lerp(b, float64(j)/16)
				vals = append(vals, float64(soft.at(m.X, m.Y)))
			}
		}
		slices.Sort(vals)
		return vals[len(vals)/2]
	}
	in, out := level(0.9), level(1.08)
	if in < out+3 || in < 60 {
		return hypothesis{}, false
	}
	full := q
	for i := range full {
		full[i] = full[i].Mul(k)
	}
	full = full.fromLowerLeft()
	r := ref
	if ref.IsSheet() {
		r = lying(p, ref, full)
	}
	s := Sheet{Ref: r, Corners: full}
	h, ok := s.toPhoto()
	if !ok {
		return hypothesis{}, false
	}
	cam, cost := cameraOf(h, p)
	if cam.Height <= 0 || cam.Tilt > 60*math.Pi/180 {
		return hypothesis{}, false
	}
	// The small picture tells sides to about one per cent, so the misfit counts
	// from there on.
	shape := math.Exp(-math.Pow(cam.Misfit/0.03, 2)) * math.Exp(-0.02*min(cost, 40))
	bright := min(1, in/140)
	return hypothesis{full, r, support * (0.25 + 0.75*evenness) * shape * (0.6 + 0.4*bright)}, true
}

package raster

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"github.com/fogleman/gg"

	"slipseat/engine/drawing"
	"slipseat/engine/geom"
)

type xy struct{ x, y float64 }

type box struct{ x0, y0, x1, y1 float64 }

func (b box) holds(p xy) bool { return p.x >= b.x0 && p.x <= b.x1 && p.y >= b.y0 && p.y <= b.y1 }

func boxOf(pts []xy) box {
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range pts {
		b.x0, b.y0, b.x1, b.y1 = min(b.x0, p.x), min(b.y0, p.y), max(b.x1, p.x), max(b.y1, p.y)
	}
	return b
}

func (b box) apart(o box) bool { return b.x1 < o.x0 || o.x1 < b.x0 || b.y1 < o.y0 || o.y1 < b.y0 }

func (b box) inside(o box) bool {
	return b.x0 >= o.x0 && b.x1 <= o.x1 && b.y0 >= o.y0 && b.y1 <= o.y1
}

// chordPx is the largest distance in pixels between an arc and the line drawn
// for it; a tenth of a pixel is less than the eye tells apart.
const chordPx = 0.1

// flatten maps a path to pixels, arcs as short chords. It reports false when a
// number is not finite.
func (r *renderer) flatten(p geom.Path, open bool) ([]xy, bool) {
	pts := r.pts[:0]
	for i, v := range p {
		x, y := r.t.Px(v.Pt)
		if !finite(x, y, v.Bulge) {
			return nil, false
		}
		pts = append(pts, xy{x, y})
		if v.Bulge == 0 || open && i == len(p)-1 {
			continue
		}
		pts = r.arc(pts, v.Pt, p[(i+1)%len(p)].Pt, v.Bulge)
	}
	r.pts = pts
	return pts, true
}

// arc appends the inner points of an arc from a to b.
func (r *renderer) arc(pts []xy, a, b geom.Pt, bulge float64) []xy {
	chord := b.Sub(a)
	c := chord.Len()
	if c == 0 || math.Abs(bulge) < 1e-9 {
		return pts
	}
	sweep := 4 * math.Atan(bulge)
	radius := c * (1 + bulge*bulge) / (4 * math.Abs(bulge))
	k := (1 - bulge*bulge) / (4 * bulge)
	centre := a.Add(b).Mul(0.5).Add(geom.P(-chord.Y, chord.X).Mul(k))
	// A chord over the angle s lies r(1 - cos(s/2)) inside its arc.
	step := 2 * math.Acos(max(1-chordPx/max(radius*r.t.Scale, chordPx), 0))
	n := min(int(math.Ceil(math.Abs(sweep)/step)), 720)
	from := a.Sub(centre)
	for i := 1; i < n; i++ {
		sin, cos := math.Sincos(sweep * float64(i) / float64(n))
		x, y := r.t.Px(geom.P(centre.X+from.X*cos-from.Y*sin, centre.Y+from.X*sin+from.Y*cos))
		pts = append(pts, xy{x, y})
	}
	return pts
}

func (r *renderer) shape(s drawing.Shape) {
	pts, ok := r.flatten(s.Path, s.Open)
	if !ok || len(pts) < 2 || boxOf(pts).apart(r.view) {
		return
	}
	if s.Fill != drawing.None && !s.Open {
		r.fill(pts, through(r.palette.Color(s.Fill), s.Through))
	}
	if s.Hatch != drawing.Plain && !s.Open {
		r.hatch(pts, s)
	}
	if s.Stroke != drawing.None && s.Width > 0 {
		r.stroke(pts, !s.Open, s.Width*r.t.Paper, s.Line, r.palette.Color(s.Stroke))
	}
}

func through(c color.NRGBA, share float64) color.NRGBA {
	c.A = uint8(math.Round(float64(c.A) * (1 - min(max(share, 0), 1))))
	return c
}

// fill paints the inside of a ring.
func (r *renderer) fill(pts []xy, c color.NRGBA) {
	if c.A == 0 {
		return
	}
	if rect, ok := pixelRect(pts); ok {
		draw.Draw(r.dst, rect, image.NewUniform(c), image.Point{}, draw.Over)
		return
	}
	if !boxOf(pts).inside(r.view) {
		pts = r.clipRing(pts)
		if len(pts) < 3 {
			return
		}
	}
	r.ring(pts)
	r.gg.SetColor(c)
	r.gg.Fill()
}

func (r *renderer) ring(pts []xy) {
	r.gg.MoveTo(pts[0].x, pts[0].y)
	for _, p := range pts[1:] {
		r.gg.LineTo(p.x, p.y)
	}
	r.gg.ClosePath()
}

// pixelRect recognises a box whose edges lie on whole pixels, which needs no
// antialiasing.
func pixelRect(pts []xy) (image.Rectangle, bool) {
	if len(pts) != 4 {
		return image.Rectangle{}, false
	}
	b := boxOf(pts)
	whole := func(v float64) bool { return math.Abs(v-math.Round(v)) < 1e-3 && math.Abs(v) < 1e6 }
	if !whole(b.x0) || !whole(b.y0) || !whole(b.x1) || !whole(b.y1) {
		return image.Rectangle{}, false
	}
	for i, p := range pts {
		q := pts[(i+1)%4]
		if p.x != q.x && p.y != q.y || p.x != b.x0 && p.x != b.x1 || p.y != b.y0 && p.y != b.y1 {
			return image.Rectangle{}, false
		}
	}
	return image.Rect(int(math.Round(b.x0)), int(math.Round(b.y0)), int(math.Round(b.x1)), int(math.Round(b.y1))), true
}

// clipRing cuts a ring to the view, side by side (Sutherland and Hodgman,
// 1974). Edges along the view's border may coincide; they lie out of sight.
func (r *renderer) clipRing(pts []xy) []xy {
	in := append([]xy(nil), pts...)
	out := r.clip[:0]
	for side := range 4 {
		out = out[:0]
		at := func(p xy) float64 { // positive inside
			switch side {
			case 0:
				return p.x - r.view.x0
			case 1:
				return r.view.x1 - p.x
			case 2:
				return p.y - r.view.y0
			}
			return r.view.y1 - p.y
		}
		for i, p := range in {
			q := in[(i+1)%len(in)]
			dp, dq := at(p), at(q)
			if dp >= 0 {
				out = append(out, p)
			}
			if dp >= 0 != (dq >= 0) {
				k := dp / (dp - dq)
				out = append(out, xy{p.x + (q.x-p.x)*k, p.y + (q.y-p.y)*k})
			}
		}
		in = append(in[:0], out...)
		if len(in) == 0 {
			break
		}
	}
	r.clip = out
	return in
}

// stroke draws along a line of points, w pixels wide.
func (r *renderer) stroke(pts []xy, closed bool, w float64, l drawing.Line, c color.NRGBA) {
	if c.A == 0 || !(w > 0 && w < hugePx) || len(pts) < 2 {
		return
	}
	r.gg.SetColor(c)
	r.gg.SetLineWidth(w)
	r.gg.SetLineJoin(gg.LineJoinRound)
	r.gg.SetLineCap(gg.LineCapButt)
	if dashes := l.Dashes(); dashes != nil {
		scaled := make([]float64, len(dashes))
		for i, d := range dashes {
			scaled[i] = d * r.t.Paper
		}
		r.dashes(pts, closed, scaled)
		return
	}
	if boxOf(pts).inside(r.view) {
		if closed {
			// gg ends a ring with two caps; in the middle of a side they meet
			// without a trace.
			mid := xy{(pts[0].x + pts[1].x) / 2, (pts[0].y + pts[1].y) / 2}
			r.gg.MoveTo(mid.x, mid.y)
			for _, p := range pts[1:] {
				r.gg.LineTo(p.x, p.y)
			}
			r.gg.LineTo(pts[0].x, pts[0].y)
			r.gg.LineTo(mid.x, mid.y)
		} else {
			r.gg.MoveTo(pts[0].x, pts[0].y)
			for _, p := range pts[1:] {
				r.gg.LineTo(p.x, p.y)
			}
		}
		r.gg.Stroke()
		return
	}
	n := len(pts)
	if !closed {
		n--
	}
	// Runs that stay in sight are one line with its joins. A ring is begun
	// where it leaves the view, so that no run is parted at its first point.
	start := 0
	if closed {
		for i := range n {
			if !r.view.holds(pts[(i+1)%len(pts)]) {
				start = i + 1
				break
			}
		}
	}
	var last xy
	going := false
	for k := range n {
		i := (start + k) % n
		a, b, ok := r.view.cut(pts[i], pts[(i+1)%len(pts)])
		if !ok {
			going = false
			continue
		}
		if !going || a != last {
			r.gg.MoveTo(a.x, a.y)
		}
		r.gg.LineTo(b.x, b.y)
		last, going = b, true
	}
	r.gg.Stroke()
}

// cut gives the part of the line a-b inside the box (Liang and Barsky, 1984).
func (b box) cut(p, q xy) (xy, xy, bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := q.x-p.x, q.y-p.y
	for _, e := range [4][2]float64{{-dx, p.x - b.x0}, {dx, b.x1 - p.x}, {-dy, p.y - b.y0}, {dy, b.y1 - p.y}} {
		switch {
		case e[0] == 0:
			if e[1] < 0 {
				return xy{}, xy{}, false
			}
		case e[0] < 0:
			t0 = max(t0, e[1]/e[0])
		default:
			t1 = min(t1, e[1]/e[0])
		}
	}
	if t0 > t1 {
		return xy{}, xy{}, false
	}
	a, c := p, q // untouched ends stay exactly as they are
	if t0 > 0 {
		a = xy{p.x + dx*t0, p.y + dy*t0}
	}
	if t1 < 1 {
		c = xy{p.x + dx*t1, p.y + dy*t1}
	}
	return a, c, true
}

// dashes strokes a line of points in dashes, skipping what is out of sight
// without counting through it.
func (r *renderer) dashes(pts []xy, closed bool, dashes []float64) {
	whole := 0.0
	for _, d := range dashes {
		whole += d
	}
	if whole <= 0.5 { // finer than a pixel: a solid line looks the same
		r.strokeOpen(pts, closed)
		return
	}
	n := len(pts)
	if !closed {
		n--
	}
	at, left, drawn := 0, dashes[0], false // the dash we are in and what is left of it
	for i := range n {
		p, q := pts[i], pts[(i+1)%len(pts)]
		l := math.Hypot(q.x-p.x, q.y-p.y)
		if l == 0 {
			continue
		}
		ux, uy := (q.x-p.x)/l, (q.y-p.y)/l
		from, to := 0.0, l
		if a, b, ok := r.view.cut(p, q); ok {
			from = math.Hypot(a.x-p.x, a.y-p.y)
			to = math.Hypot(b.x-p.x, b.y-p.y)
		} else {
			from, to = l, l
		}
		pos := 0.0
		for pos < l {
			if skip := from - pos; skip > 2*whole && pos < from {
				pos += math.Floor(skip/whole-1) * whole
				drawn = false
			}
			if pos > to && l-pos > 2*whole {
				pos += math.Floor((l-pos)/whole-1) * whole
				drawn = false
			}
			step := min(left, l-pos)
			if at%2 == 0 {
				if !drawn {
					r.gg.MoveTo(p.x+ux*pos, p.y+uy*pos)
					drawn = true
				}
				r.gg.LineTo(p.x+ux*(pos+step), p.y+uy*(pos+step))
			}
			pos += step
			left -= step
			if left <= 1e-9 {
				at = (at + 1) % len(dashes)
				left = dashes[at]
				drawn = false
			}
		}
	}
	r.gg.Stroke()
}

func (r *renderer) strokeOpen(pts []xy, closed bool) {
	r.gg.MoveTo(pts[0].x, pts[0].y)
	for _, p := range pts[1:] {
		r.gg.LineTo(p.x, p.y)
	}
	if closed {
		r.gg.ClosePath()
	}
	r.gg.Stroke()
}

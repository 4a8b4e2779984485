package raster

import (
	"math"
	"sort"

	"github.com/fogleman/gg"

	"slipseat/engine/drawing"
)

// hatch draws lines at 45 degrees inside a ring. Each line is cut by the
// ring's edges; between an odd and the next crossing it runs inside.
func (r *renderer) hatch(pts []xy, s drawing.Shape) {
	b := boxOf(pts)
	if b.apart(r.view) {
		return
	}
	r.gg.SetColor(r.palette.Color(s.Stroke))
	r.gg.SetLineWidth(drawing.Hair * r.t.Paper)
	r.gg.SetLineCap(gg.LineCapButt)
	gap := drawing.HatchGap * r.t.Paper * math.Sqrt2
	for _, dir := range []float64{1, -1} { // y = c - x rises to the right in pixels
		if dir < 0 && s.Hatch != drawing.Crossed {
			break
		}
		// Lines x·dir + y = c.
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, x := range []float64{max(b.x0, r.view.x0), min(b.x1, r.view.x1)} {
			for _, y := range []float64{max(b.y0, r.view.y0), min(b.y1, r.view.y1)} {
				lo, hi = min(lo, x*dir+y), max(hi, x*dir+y)
			}
		}
		// Counted from the model's origin, so that the hatch moves with it.
		origin := r.t.X*dir + r.t.Y
		for c := origin + math.Ceil((lo-origin)/gap)*gap; c < hi; c += gap {
			var xs []float64
			for i, p := range pts {
				q := pts[(i+1)%len(pts)]
				dp, dq := p.x*dir+p.y-c, q.x*dir+q.y-c
				if dp < 0 != (dq < 0) {
					xs = append(xs, p.x+(q.x-p.x)*dp/(dp-dq))
				}
			}
			sort.Float64s(xs)
			for i := 0; i+1 < len(xs); i += 2 {
				p, q, ok := r.view.cut(xy{xs[i], c - xs[i]*dir}, xy{xs[i+1], c - xs[i+1]*dir})
				if ok {
					r.gg.MoveTo(p.x, p.y)
					r.gg.LineTo(q.x, q.y)
				}
			}
		}
	}
	r.gg.Stroke()
}

func (r *renderer) arrow(a drawing.Arrow) {
	x0, y0 := r.t.Px(a.From)
	x1, y1 := r.t.Px(a.To)
	if !finite(x0, y0, x1, y1) {
		return
	}
	from, to := xy{x0, y0}, xy{x1, y1}
	if boxOf([]xy{from, to}).apart(r.view) {
		return
	}
	l := math.Hypot(x1-x0, y1-y0)
	c := r.palette.Color(a.Role)
	w := a.Width * r.t.Paper
	head := min(a.Head*r.t.Paper, l*0.9)
	if l == 0 {
		return
	}
	ux, uy := (x1-x0)/l, (y1-y0)/l
	line := [2]xy{from, to}
	if a.Filled {
		// The line stops inside a solid head so that the tip stays sharp.
		if a.HeadFrom {
			line[0] = xy{x0 + ux*head*0.7, y0 + uy*head*0.7}
		}
		if a.HeadTo {
			line[1] = xy{x1 - ux*head*0.7, y1 - uy*head*0.7}
		}
	}
	r.stroke(line[:], false, w, a.Line, c)
	if a.HeadFrom {
		r.head(from, -ux, -uy, head, w, a)
	}
	if a.HeadTo {
		r.head(to, ux, uy, head, w, a)
	}
}

// head draws the head of an arrow that points along u.
func (r *renderer) head(tip xy, ux, uy, size, w float64, a drawing.Arrow) {
	spread := 0.42
	if a.Filled {
		spread = 0.36
	}
	bx, by := tip.x-ux*size, tip.y-uy*size
	left := xy{bx - uy*size*spread, by + ux*size*spread}
	right := xy{bx + uy*size*spread, by - ux*size*spread}
	c := r.palette.Color(a.Role)
	if a.Filled {
		r.fill([]xy{tip, left, right}, c)
		return
	}
	r.stroke([]xy{left, tip, right}, false, w, drawing.Solid, c)
}

func (r *renderer) mark(m drawing.Mark) {
	x, y := r.t.Px(m.At)
	x += m.Off.X * r.t.Paper
	y -= m.Off.Y * r.t.Paper
	size := m.Size * r.t.Paper
	if !finite(x, y, size) || size <= 0 || !r.view.holds(xy{x, y}) {
		return
	}
	c, w := r.palette.Color(m.Role), m.Width*r.t.Paper
	sin, cos := math.Sincos(m.Turned * math.Pi / 180)
	along := func(d float64) xy { return xy{x + cos*d, y - sin*d} }
	across := func(d float64) xy { return xy{x - sin*d, y - cos*d} }
	switch m.Kind {
	case drawing.Disc:
		ring := r.circle(x, y, size/2)
		if m.Fill != drawing.None {
			r.fill(ring, r.palette.Color(m.Fill))
		}
		if m.Role != drawing.None && w > 0 {
			r.stroke(ring, true, w, drawing.Solid, c)
		}
	case drawing.Cross:
		r.stroke([]xy{along(-size / 2), along(size / 2)}, false, w, drawing.Solid, c)
		r.stroke([]xy{across(-size / 2), across(size / 2)}, false, w, drawing.Solid, c)
	case drawing.Tick:
		r.stroke([]xy{along(-size / 2), along(size / 2)}, false, w, drawing.Solid, c)
	case drawing.Edge:
		r.stroke([]xy{{x, y}, along(size)}, false, w, drawing.Solid, c)
	}
}

// circle gives the points of a circle in pixels.
func (r *renderer) circle(x, y, radius float64) []xy {
	n := 12
	if radius > chordPx {
		n = min(max(n, int(math.Ceil(math.Pi/math.Acos(1-chordPx/radius)))), 720)
	}
	pts := r.pts[:0]
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		pts = append(pts, xy{x + radius*cos, y + radius*sin})
	}
	r.pts = pts
	return pts
}

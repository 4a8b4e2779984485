package plan

import (
	"math"
	"slices"

	"slipseat/engine/geom"
)

// room is one stretch of goods, or one sheet, with the boxes of what lies on it
// and the rectangles that are still free: all of them that cannot be made any
// larger, so that they overlap each other.
type room struct {
	bin, sheet int
	size       geom.Rect
	taken      []geom.Rect // grown by the gap
	free       []geom.Rect
}

func newRoom(bin, sheet int, length, width float64) *room {
	r := &room{bin: bin, sheet: sheet, size: geom.Rect{Max: geom.P(length, width)}}
	r.free = []geom.Rect{r.size}
	return r
}

// put takes a box up, with a gap round it, and gives the room without it.
func (r *room) put(box geom.Rect, gap float64) *room {
	out := &room{bin: r.bin, sheet: r.sheet, size: r.size}
	out.taken = append(slices.Clone(r.taken), box.Grow(gap))
	b := out.taken[len(out.taken)-1]
	for _, f := range r.free {
		if b.Min.X >= f.Max.X-thin || b.Max.X <= f.Min.X+thin || b.Min.Y >= f.Max.Y-thin || b.Max.Y <= f.Min.Y+thin {
			out.free = append(out.free, f)
			continue
		}
		// What is left of a free rectangle on the four sides of the box.
		for _, s := range [...]geom.Rect{
			{Min: f.Min, Max: geom.P(b.Min.X, f.Max.Y)}, {Min: geom.P(b.Max.X, f.Min.Y), Max: f.Max},
			{Min: f.Min, Max: geom.P(f.Max.X, b.Min.Y)}, {Min: geom.P(f.Min.X, b.Max.Y), Max: f.Max},
		} {
			if s.W() > thin && s.H() > thin {
				out.free = append(out.free, s)
			}
		}
	}
	out.free = outermost(out.free)
	return out
}

// thin in millimetres: a strip no wider is none.
const thin = 1e-6

// outermost leaves out what lies inside another rectangle.
func outermost(list []geom.Rect) []geom.Rect {
	var out []geom.Rect
	for i, a := range list {
		inside := false
		for k, b := range list {
			in := b.Min.X <= a.Min.X+thin && b.Min.Y <= a.Min.Y+thin && b.Max.X >= a.Max.X-thin && b.Max.Y >= a.Max.Y-thin
			same := in && a.Min.X <= b.Min.X+thin && a.Min.Y <= b.Min.Y+thin && a.Max.X >= b.Max.X-thin && a.Max.Y >= b.Max.Y-thin
			if k != i && in && (!same || k < i) {
				inside = true
				break
			}
		}
		if !inside {
			out = append(out, a)
		}
	}
	return out
}

// spot is a place for a box in one of several rooms.
type spot struct {
	room   int
	at     geom.Pt // of the box's lower left corner
	turned bool    // its depth lies along the goods
	waste  float64
}

// spots lists the places where a box of w along and d across fits, turned or
// not, the tightest first.
func spots(rooms []*room, w, d float64, most int) []spot {
	var out []spot
	for i, r := range rooms {
		for _, f := range r.free {
			for t := range 2 {
				x, y := w, d
				if t == 1 {
					x, y = d, w
				}
				if x <= f.W()+thin && y <= f.H()+thin && (t == 0 || w != d) {
					out = append(out, spot{i, f.Min, t == 1, math.Min(f.W()-x, f.H()-y)})
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b spot) int {
		switch {
		case a.waste < b.waste-thin:
			return -1
		case a.waste > b.waste+thin:
			return 1
		}
		return 0
	})
	return out[:min(len(out), most)]
}

package drawing

import (
	"sort"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// window is a part of a roll that is drawn by itself: from and to are measured
// from the cut end.
type window struct{ from, to float64 }

// windows divides a roll into parts no longer than most, so that every piece
// stands whole in one of them. Parts overlap where a piece lies across a
// border. most is stretched to one and a half times the longest piece, so that
// every part brings the roll on by at least a third of its length.
func windows(in *LayIn, most float64) []window {
	length := max(in.Length.MM(), in.Buy.MM())
	if length <= most*(1+1e-9) {
		return []window{{0, length}}
	}
	type span struct{ a, b float64 }
	var spans []span
	for _, p := range in.Pieces {
		if len(p.Shape) > 1 {
			b := p.Shape.Bounds()
			spans = append(spans, span{b.Min.X, b.Max.X})
			most = max(most, 1.5*b.W())
		}
	}
	sort.Slice(spans, func(i, j int) bool {
		return spans[i].a < spans[j].a || spans[i].a == spans[j].a && spans[i].b < spans[j].b
	})
	var out []window
	at := 0.0
	for {
		w := window{at, min(at+most, length)}
		out = append(out, w)
		if w.to >= length-1e-6 {
			return out
		}
		// The next part begins with the first piece that is not whole in this
		// one or in one before, or where this one ends if none lies across.
		next := w.to
		for _, s := range spans {
			if s.b > w.to+1e-6 && s.a < next && s.a > at+1e-6 {
				next = s.a
			}
		}
		at = next
	}
}

// roomyWindows divides a roll into as few parts as leastScale allows on room
// millimetres of paper, and makes them as equal as their pieces let them be.
func roomyWindows(in *LayIn, room float64) []window {
	if in.Sheet { // a sheet is looked at whole
		return []window{{0, in.Length.MM()}}
	}
	most := room / leastScale
	best := windows(in, most)
	if len(best) == 1 {
		return best
	}
	lo, hi := 0.0, most
	for range 30 {
		mid := (lo + hi) / 2
		if w := windows(in, mid); len(w) <= len(best) && longest(w) <= longest(best)+1e-9 {
			best, hi = w, mid
		} else {
			lo = mid
		}
	}
	return best
}

func longest(ws []window) float64 {
	l := 0.0
	for _, w := range ws {
		l = max(l, w.to-w.from)
	}
	return l
}

// part gives the lay of one window, its origin moved to the window's start.
func (in LayIn) part(w window) LayIn {
	out := in
	length := max(in.Length.MM(), in.Buy.MM())
	by := geom.P(-w.from, 0)
	out.From = unit.Length(w.from)
	out.Length = unit.Length(w.to - w.from)
	out.Open = [2]bool{w.from > 1e-6, w.to < length-1e-6}
	out.Buy, out.Laid = 0, 0
	if b := in.Buy.MM(); b > 0 && b <= w.to+1e-6 {
		out.Buy = unit.Length(b - w.from)
		if out.BuyLabel == "" {
			out.buyShown = in.Buy
		}
	}
	if l := in.Laid.MM(); l > w.from && l < w.to {
		out.Laid = unit.Length(l - w.from)
	}
	out.Lattice.Phase = in.Lattice.Phase.Add(by)
	out.Pieces, out.Flaws, out.Offcuts = nil, nil, nil
	for _, p := range in.Pieces {
		b := p.Shape.Bounds()
		if len(p.Shape) < 2 || b.Max.X <= w.from+1e-6 || b.Min.X >= w.to-1e-6 {
			continue
		}
		if b.Min.X < w.from-1e-6 || b.Max.X > w.to+1e-6 {
			p.Elsewhere = true
			p.Shape = clipAlong(p.Shape.Flatten(0.5), w).Path()
			p.Board, p.Joints, p.HasMotif, p.Front = nil, nil, false, geom.Pt{}
		}
		p.Shape = p.Shape.Translate(by)
		p.Board = p.Board.Translate(by)
		p.Joints = append([][2]geom.Pt(nil), p.Joints...)
		for i, j := range p.Joints {
			p.Joints[i] = [2]geom.Pt{j[0].Add(by), j[1].Add(by)}
		}
		p.Centre, p.Motif = p.Centre.Add(by), p.Motif.Add(by)
		out.Pieces = append(out.Pieces, p)
	}
	for _, f := range in.Flaws {
		if c := clipAlong(f, w); len(c) > 2 {
			out.Flaws = append(out.Flaws, c.Translate(by))
		}
	}
	for _, o := range in.Offcuts {
		o.Rect.Min.X, o.Rect.Max.X = max(o.Rect.Min.X, w.from), min(o.Rect.Max.X, w.to)
		if o.Rect.W() > 1e-6 {
			o.Rect.Min, o.Rect.Max = o.Rect.Min.Add(by), o.Rect.Max.Add(by)
			out.Offcuts = append(out.Offcuts, o)
		}
	}
	return out
}

// clipAlong cuts a polygon to a window along the goods (Sutherland and
// Hodgman, 1974).
func clipAlong(g geom.Polygon, w window) geom.Polygon {
	for side := range 2 {
		in := func(p geom.Pt) float64 { return p.X - w.from }
		if side == 1 {
			in = func(p geom.Pt) float64 { return w.to - p.X }
		}
		var out geom.Polygon
		for i, p := range g {
			q := g[(i+1)%len(g)]
			a, b := in(p), in(q)
			if a >= 0 {
				out = append(out, p)
			}
			if a >= 0 != (b >= 0) {
				out = append(out, p.Add(q.Sub(p).Mul(a/(a-b))))
			}
		}
		g = out
	}
	return g
}

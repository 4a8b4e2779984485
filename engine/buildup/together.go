package buildup

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// Together gives the blanks that serve every seat of a kind whose boards
// differ a little: of each cloth part (cover, lining, barrier, wadding, dust
// cloth, bands and panels) the largest in each direction; foam is cut for each
// seat by itself and is not among them. The results must come from one
// build-up. The size of every blank keeps the terms of the seat it came from.
//
// A shaped blank stays shaped where one of them contains all others laid on
// their motif points; where none does, the part is cut as the rectangle that
// does, rounded up to the marking step.
func Together(results []Result, step unit.Length) []Blank {
	if len(results) == 0 {
		return nil
	}
	var out []Blank
	for i, b := range results[0].Blanks {
		if b.Part == PartFoam {
			continue
		}
		same := []Blank{b}
		for _, r := range results[1:] {
			if other, ok := match(r, b, i); ok {
				same = append(same, other)
			}
		}
		out = append(out, largest(same, step))
	}
	return out
}

// match finds the blank that stands for b in another seat's result.
func match(r Result, b Blank, i int) (Blank, bool) {
	is := func(o Blank) bool { return o.Part == b.Part && o.Layer == b.Layer && o.Role == b.Role }
	if i < len(r.Blanks) && is(r.Blanks[i]) {
		return r.Blanks[i], true
	}
	for _, o := range r.Blanks {
		if is(o) {
			return o, true
		}
	}
	return Blank{}, false
}

// largest is the blank that serves all.
func largest(same []Blank, step unit.Length) Blank {
	w, d := 0, 0
	squared := true
	for i, b := range same {
		if b.W.Value() > same[w].W.Value() {
			w = i
		}
		if b.D.Value() > same[d].D.Value() {
			d = i
		}
		squared = squared && b.Square
	}
	if !squared {
		for _, b := range same {
			if holdsAll(b, same) {
				return b
			}
		}
	} else if w == d && holdsAll(same[w], same) {
		return same[w]
	}
	out := same[w]
	out.D = same[d].D
	// The rectangle must reach as far from the motif point as any of them
	// does; laid on their motif points, boxes of one size may still differ.
	var need geom.Rect
	for i, b := range same {
		box := b.Path.Translate(b.Motif.Mul(-1)).Bounds()
		if i == 0 {
			need = box
		}
		need = need.Union(box)
	}
	need = geom.Rect{Min: need.Min.Add(out.Motif), Max: need.Max.Add(out.Motif)}
	var r geom.Rect
	r, out.W, out.D = grownRect(need, fitted(out.W, need.W()), fitted(out.D, need.H()), step)
	out.Path, out.Square = r.Path(), true
	return out
}

// holdsAll tells whether b, laid on its motif point, contains all others.
func holdsAll(b Blank, all []Blank) bool {
	for _, o := range all {
		shift := b.Motif.Sub(o.Motif)
		for _, p := range o.Path.Flatten(geom.ChordTol) {
			q := p.Add(shift)
			// Towards the middle by a hair: edges that lie on each other count
			// as inside.
			in := q.Add(b.Motif.Sub(q).Mul(onEdge / math.Max(1, b.Motif.Dist(q))))
			if !b.Path.Contains(in) {
				return false
			}
		}
	}
	return true
}

// onEdge in millimetres: outlines this close are the same edge; a tenth of the
// chord tolerance.
const onEdge = 0.005

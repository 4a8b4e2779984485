package plan

import (
	"slipseat/engine/cloth"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// HandBin is the ID of the stretch of a cloth that is there: the piece at hand,
// or the roll as it came.
func HandBin(cloth string) string { return cloth + "/hand" }

// inHand is the length of cloth that is there in one piece, 0 for none.
func inHand(c cloth.Cloth) unit.Length {
	if c.AtHand > 0 {
		return c.AtHand
	}
	return c.Came
}

// bins are the stretches of a cloth in the order in which they are used:
// pieces from the shelf, the piece at hand or the roll as it came, and the
// open roll.
//
// Where the pattern of a stretch starts is not known until it is measured. A
// lay that is made as if the first motif lay at the start can be moved along
// (or across) by up to one repeat until it meets the pattern, so a stretch
// that is one repeat shorter (or narrower) holds it wherever the pattern
// starts: that is how a piece is judged by the worst phase both ways. Of the
// roll itself the phases across are told apart one by one, for a repeat across
// less would cost too much there, and a repeat along is bought to spare; the
// lay is then made as if the first motif lay at lead.
func (r *Roll) bins(step unit.Length, across, lead unit.Length) []lay.Bin {
	c := r.Cloth.Marked(step)
	lattice := cloth.Lattice(c)
	lattice.Phase.Y = across.MM()
	if !c.Pattern.FirstAlong.Set {
		lattice.Phase.X = lead.MM()
	}
	var out []lay.Bin
	for _, o := range c.Offcuts {
		b := lay.Bin{ID: o.ID, Length: o.Length, Width: o.Width, Sheets: 1, Lattice: lattice}
		b.Lattice.Phase = geom.P(o.FirstAlong.Or(lead).MM(), o.FirstAcross.Or(0).MM())
		if bound(lattice.Along, c.Pattern.RuleAlong, o.FirstAlong) {
			b.Length -= lattice.Along
		}
		if bound(lattice.Across, c.Pattern.RuleAcross, o.FirstAcross) {
			b.Width -= lattice.Across
		}
		if b.Length > 0 && b.Width > 0 {
			out = append(out, b)
		}
	}
	var flaws []geom.Polygon
	for _, f := range r.Flaws {
		flaws = append(flaws, f.Zone())
	}
	open := lay.Bin{ID: r.ID, Width: c.UsableWidth(), Sheets: 1, Lattice: lattice}
	if have := inHand(c); have > 0 {
		b := open
		b.ID, b.Length, b.Flaws = HandBin(r.ID), have-c.SquareUp, flaws
		if bound(lattice.Along, c.Pattern.RuleAlong, c.Pattern.FirstAlong) {
			b.Length -= lattice.Along
		}
		if b.Length > 0 {
			out = append(out, b)
		}
		// What is bought besides starts elsewhere in the pattern, and its flaws
		// are not known yet.
		open.Lattice.Phase.X = lead.MM()
	} else {
		open.Flaws = flaws
	}
	return append(out, open)
}

// bound tells whether a piece is bound to a pattern whose start is not known.
func bound(repeat unit.Length, rule lay.Phase, first unit.Opt) bool {
	return repeat > 0 && rule != lay.Free && !first.Set
}

// toBuy is the cloth as what is bought besides the piece at hand: its start in
// the pattern is not measured.
func toBuy(c cloth.Cloth) cloth.Cloth {
	if inHand(c) > 0 {
		c.Pattern.FirstAlong = unit.Opt{}
	}
	return c
}

// sheetBins are the stretches of a foam: pieces from the shelf, then whole
// sheets.
func sheetBins(f cloth.Sheet, step unit.Length) []lay.Bin {
	var out []lay.Bin
	for _, o := range f.Offcuts {
		if o.Length > 0 && o.Width > 0 {
			out = append(out, lay.Bin{ID: o.ID, Length: o.Length, Width: o.Width, Sheets: 1})
		}
	}
	length, width := f.Marked(step).Usable()
	return append(out, lay.Bin{ID: f.ID, Width: width, Length: length})
}

// Hand is what the piece at hand, or the roll as it came, gives with pieces
// from the shelf.
type Hand struct {
	Used    unit.Length // along the piece at hand
	Pieces  int         // laid on what is there
	Missing []lay.Place // laid on what would have to be bought
	// Whole are the seats all of whose pieces of this cloth are there, Short
	// those that lack one.
	Whole, Short []SeatNumber
}

// SeatNumber is one numbered seat.
type SeatNumber struct {
	Seat   int // index into Plan.Seats
	Number int
}

// hand tells which seats can be cut from what is there, and what is missing.
func (g *GoodsPlan) hand(p *Plan) *Hand {
	if g.Lay == nil || len(g.Problem.Bins) < 2 {
		return nil
	}
	h := &Hand{}
	last := len(g.Problem.Bins) - 1
	short := map[SeatNumber]bool{}
	seen := map[SeatNumber]bool{}
	var order []SeatNumber
	for _, at := range g.Lay.Places {
		k := g.Kinds[at.Kind]
		if k.Spoiled > 0 {
			continue
		}
		n := SeatNumber{k.Seat, g.Number(at)}
		if k.Numbers != nil && !seen[n] {
			seen[n] = true
			order = append(order, n)
		}
		if at.Bin == last {
			h.Missing = append(h.Missing, at)
			short[n] = short[n] || k.Numbers != nil
			continue
		}
		h.Pieces++
		if g.Problem.Bins[at.Bin].ID == HandBin(g.ID) {
			h.Used = max(h.Used, unit.Length(g.Problem.Placed(at).Bounds().Max.X))
		}
	}
	sortNumbers(order)
	for _, n := range order {
		if short[n] {
			h.Short = append(h.Short, n)
		} else {
			h.Whole = append(h.Whole, n)
		}
	}
	return h
}

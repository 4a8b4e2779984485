package buildup

import (
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// GapAt says where a clearance was reckoned.
type GapAt uint8

// Places of a clearance.
const (
	Across GapAt = iota // left and right
	Along               // front and back
	AtPost              // at the notches
)

// Gap is the clearance of a drop-in seat in one direction, per side.
type Gap struct {
	At   GapAt
	Have unit.Why // gap per side of the bare board
	Need unit.Why // what the layers at a folded corner take
	// Plane is what has to come off each side of the board; 0 when it fits.
	Plane unit.Length
	// Pack is what is too much on each side; 0 unless it is more than
	// PackFrom.
	Pack unit.Length
}

// PackFrom is how much more room than needed calls for packing the edge.
const PackFrom = unit.In / 16

// Binds tells whether the seat would be wedged in its frame.
func (g Gap) Binds() bool { return g.Plane > 0 }

// needAtEdge sums the layers that pass the board's edge, the cover counted
// three times as at a folded corner, twice when the fold is trimmed. Wadding
// of a drop-in seat stops above the edge.
//
// Source: derived (DESIGN section 4); S47 (school textbook 1919, grade A)
// gives at least 3/16 in and S42 (grade B) 3/16 to 1/4 in per side as a band
// to compare with.
func (s Spec) needAtEdge() unit.Why {
	w := unit.Why{Kind: unit.KindLength}
	n := s.cornerLayers()
	w.Add(WhyNeedCover, float64(n)*s.Cover.Thickness.MM(), unit.A("layers", n), unit.A("thickness", s.Cover.Thickness))
	if s.Lining.Use {
		w.Add(WhyNeedLining, s.Lining.Thickness.MM())
	}
	if s.Barrier.Use {
		w.Add(WhyNeedBarrier, s.Barrier.Thickness.MM())
	}
	return w
}

// gaps reckons the clearances of a drop-in seat whose frame was measured.
func (s Spec) gaps(o seat.Outline) []Gap {
	if s.Kind != DropIn {
		return nil
	}
	need := s.needAtEdge()
	var out []Gap
	width, depth := o.Size()
	for _, d := range []struct {
		at            GapAt
		opening, size unit.Length
	}{{Across, s.Frame.Width, width}, {Along, s.Frame.Depth, depth}} {
		if d.opening <= 0 {
			continue
		}
		w := unit.Why{Kind: unit.KindLength}
		w.Add(WhyOpening, d.opening.MM()/2, unit.A("opening", d.opening))
		w.Add(WhyBoardSize, -d.size.MM()/2, unit.A("board", d.size))
		out = append(out, judge(Gap{At: d.at, Have: w, Need: need}))
	}
	if s.Frame.PostGap.Set && len(o.Notches) > 0 {
		w := unit.Why{Kind: unit.KindLength}
		w.Add(WhyPostGap, s.Frame.PostGap.Value.MM())
		out = append(out, judge(Gap{At: AtPost, Have: w, Need: need}))
	}
	return out
}

func judge(g Gap) Gap {
	short := g.Need.Length() - g.Have.Length()
	switch {
	case short > sameLength:
		g.Plane = short
	case -short > PackFrom+sameLength:
		g.Pack = -short
	}
	return g
}

// Planed is the outline with what the gaps ask for planed off its edges: the
// sides by the gap across, front and back by the gap along, a round seat all
// round by the larger of the two. Everything after it follows from the smaller
// board. Slanted edges give up a little more than their amount, so that the
// board's width and depth shrink by no less than asked and the seat fits.
func Planed(o seat.Outline, gaps []Gap) (seat.Outline, *unit.Fault) {
	var across, along unit.Length
	for _, g := range gaps {
		switch g.At {
		case Across:
			across = g.Plane
		case Along:
			along = g.Plane
		}
	}
	if across <= 0 && along <= 0 {
		return o, nil
	}
	w, d := o.Size()
	wantW, wantD := w-2*across, d-2*along
	round := len(rolesOf(o)) == 1
	if round {
		across = max(across, along)
		along = across
	}
	// Each round corrects what the last one left; corners answer by less than
	// they are moved, so this settles within a few rounds.
	for range 50 {
		p, f := o.Grown(func(r seat.Role) unit.Length {
			if round || r == seat.Left || r == seat.Right {
				return -across
			}
			return -along
		})
		if f != nil {
			return seat.Outline{}, f
		}
		w, d := p.Size()
		overW, overD := w-wantW, d-wantD
		if round || overW <= planedTol && overD <= planedTol {
			return p, nil
		}
		across += max(0, overW/2)
		along += max(0, overD/2)
	}
	return seat.Outline{}, &unit.Fault{Code: CodeNoBlank, Where: unit.Where{Field: "frame_width"}}
}

// planedTol in millimetres is far below what sameLength lets pass as a fit.
const planedTol = 1e-9

package buildup

import (
	"math"

	"slipseat/engine/unit"
)

// Words' codes of the terms of a wrap.
const (
	WhyTop      = "wrap.top"
	WhyRound    = "wrap.round"
	WhySide     = "wrap.side"
	WhyEdge     = "wrap.edge"
	WhyEdgeWad  = "wrap.edge-with-wadding"
	WhyDome     = "wrap.dome"
	WhyCrown    = "wrap.crown"
	WhyTurn     = "wrap.turn-under"
	WhyPull     = "wrap.pull"
	WhyFixed    = "wrap.fixed"
	WhyRounding = "size.rounding"
)

// Section is the cross-section of a seat's edge that a cover has to follow,
// reckoned from the board's edge outwards; all lengths in millimetres as
// unit.Length. It is what wrap and drawings share.
type Section struct {
	Foam     unit.Length // T: height of the foam's edge under the pull
	Overhang unit.Length // o': the foam's edge beyond the board's
	Radius   unit.Length // r: of the foam's upper edge
	Bevel    unit.Length // cut back at 45 degrees underneath
	Wadding  unit.Length // w
	// OverBoard: the wadding covers the board's edge too.
	OverBoard bool
	Board     unit.Length // b
	TurnUnder unit.Length // u
	Pull      unit.Length // p
	Dome      unit.Length // half of what a domed top adds in this direction
	Crown     unit.Length // half of what crown layers add
}

// Wrap is the way from above the board's edge to the end of the pull:
//
//	(o' - r) + pi (r + w) / 2 + (T - r) + E + u + p
//
// with E = hypot(o' + w, b) where the wadding stops at the foam's lower edge
// and E = hypot(o', b) + w where it covers the board's edge too. The first
// term is negative when the rounding begins inside the board's edge. A bevel k
// underneath shortens the side by k, and the cover then runs taut from the
// bevel's upper end, so b + k stands for b. Half of what a dome or a crown
// layer adds is on each side.
//
// Source: derived from the section (DESIGN section 4); facts 5.2 gives the
// same sum without roundings and corners as a lower bound.
func (s Section) Wrap() unit.Why {
	w := unit.Why{Kind: unit.KindLength}
	r, wad := s.Radius.MM(), s.Wadding.MM()
	w.Add(WhyTop, s.Overhang.MM()-r, unit.A("overhang", s.Overhang), unit.A("radius", s.Radius))
	if r+wad > 0 {
		w.Add(WhyRound, math.Pi*(r+wad)/2, unit.A("radius", s.Radius), unit.A("wadding", s.Wadding))
	}
	w.Add(WhySide, s.Foam.MM()-r-s.Bevel.MM(), unit.A("foam", s.Foam), unit.A("radius", s.Radius), unit.A("bevel", s.Bevel))
	if e := s.EdgeRun(); s.OverBoard && wad > 0 {
		w.Add(WhyEdgeWad, e.MM(), unit.A("overhang", s.Overhang), unit.A("board", s.Board), unit.A("wadding", s.Wadding))
	} else {
		w.Add(WhyEdge, e.MM(), unit.A("overhang", s.Overhang+s.Wadding), unit.A("board", s.Board))
	}
	if s.Dome > 0 {
		w.Add(WhyDome, s.Dome.MM())
	}
	if s.Crown > 0 {
		w.Add(WhyCrown, s.Crown.MM())
	}
	w.Add(WhyTurn, s.TurnUnder.MM())
	if s.Pull > 0 {
		w.Add(WhyPull, s.Pull.MM())
	}
	return w
}

// EdgeRun is E: the cover's run from the foam's lower edge past the board's
// edge to its underside.
func (s Section) EdgeRun() unit.Length {
	down := s.Board.MM() + s.Bevel.MM()
	if s.OverBoard {
		return unit.Length(math.Hypot(s.Overhang.MM(), down)) + s.Wadding
	}
	return unit.Length(math.Hypot(s.Overhang.MM()+s.Wadding.MM(), down))
}

// Drop is how far wadding reaches from the foam blank's edge: over the rounded
// edge and down the foam's side, T - (2 - pi/2) r, and down the board's edge
// where it covers that, + hypot(o', b).
func (s Section) Drop() unit.Length {
	d := s.Foam.MM() - (2-math.Pi/2)*s.Radius.MM()
	if s.OverBoard {
		d += math.Hypot(s.Overhang.MM(), s.Board.MM()+s.Bevel.MM())
	}
	return unit.Length(d)
}

// DomeExtra is what a dome of height h adds in all to the cover over a span:
// 8 h^2 / 3 span, the arc of a flat parabola. It holds for h up to an eighth of
// the span, where it is less than 4 % of the extra too long.
func DomeExtra(h, span unit.Length) unit.Length {
	if span <= 0 {
		return 0
	}
	return 8 * h * h / (3 * span)
}

// step is one rise of the foam's top: a crown layer's thickness, reached over
// a run inwards from the foam's edge.
type step struct{ run, rise float64 }

// CrownExtra is what crown layers add in all to a cover pulled over them:
// 2 (hypot(a, h) - a) for one layer, a being half the difference in size and h
// its thickness. Of several, the cover touches only those that stand out: the
// taut line over all of them is taken.
func CrownExtra(layers []Layer) unit.Length {
	pts := []step{{}}
	for _, l := range layers {
		if l.Inset <= 0 || l.Thickness <= 0 {
			continue
		}
		last := pts[len(pts)-1]
		next := step{l.Inset.MM(), last.rise + l.Thickness.MM()}
		// Keep the chain concave: a point under the line from its neighbours
		// is not touched.
		for len(pts) > 0 {
			k := len(pts)
			if pts[k-1].run >= next.run && pts[k-1].rise <= next.rise && k > 1 {
				pts = pts[:k-1]
				continue
			}
			if k >= 2 {
				a, b := pts[k-2], pts[k-1]
				if (b.run-a.run)*(next.rise-a.rise) >= (b.rise-a.rise)*(next.run-a.run) {
					pts = pts[:k-1]
					continue
				}
			}
			break
		}
		pts = append(pts, next)
	}
	var way float64
	for i := 1; i < len(pts); i++ {
		way += math.Hypot(pts[i].run-pts[i-1].run, pts[i].rise-pts[i-1].rise)
	}
	return unit.Length(2 * (way - pts[len(pts)-1].run))
}

package seat

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// SnapTo is what a point caught hold of.
type SnapTo uint8

// What a point can catch hold of; SnapStep is the marking step alone.
const (
	SnapStep  SnapTo = iota
	SnapGrid         // a crossing of the grid
	SnapAlign        // in line with another point, or with the centre line
	SnapPoint        // on another point
)

// Snapping says what points may catch hold of.
type Snapping struct {
	Points []geom.Pt // existing points
	Axis   bool      // the centre line x = 0 and the front line y = 0 too
	Grid   float64   // step of the grid shown, in millimetres; 0 for none
	Reach  float64   // how near something must be, in millimetres
	Step   unit.Length
}

// Snapped is a point that caught hold of something.
type Snapped struct {
	At geom.Pt
	To SnapTo
	// Guides are the lines that it is in line along, from what it is in line
	// with to the point.
	Guides [][2]geom.Pt
	Index  int // of the point, for SnapPoint
}

// Snap moves a point onto another point within reach; else in line with
// points, across and along on their own; else onto the grid; and what is left
// onto the marking step, so that what is drawn can be measured.
func (s Snapping) Snap(p geom.Pt) Snapped {
	best, index := s.Reach, -1
	for i, q := range s.Points {
		if d := q.Dist(p); d <= best {
			best, index = d, i
		}
	}
	if index >= 0 {
		return Snapped{At: s.Points[index], To: SnapPoint, Index: index}
	}
	out := Snapped{At: p, Index: -1}
	nearX, nearY := s.Reach, s.Reach
	var fromX, fromY geom.Pt
	gotX, gotY := false, false
	try := func(q geom.Pt, x, y bool) {
		if d := math.Abs(q.X - p.X); x && d <= nearX {
			nearX, fromX, gotX = d, q, true
		}
		if d := math.Abs(q.Y - p.Y); y && d <= nearY {
			nearY, fromY, gotY = d, q, true
		}
	}
	if s.Axis {
		try(geom.Pt{}, true, true)
	}
	for _, q := range s.Points {
		try(q, true, true)
	}
	if gotX {
		out.At.X, out.To = fromX.X, SnapAlign
	}
	if gotY {
		out.At.Y, out.To = fromY.Y, SnapAlign
	}
	onGrid := func(v float64) (float64, bool) {
		if s.Grid <= 0 {
			return v, false
		}
		g := math.Round(v/s.Grid) * s.Grid
		return g, math.Abs(g-v) <= s.Reach
	}
	step := func(v float64) float64 {
		if s.Step <= 0 {
			return v
		}
		return unit.RoundNearest(unit.Length(v), s.Step).MM()
	}
	x, xOn := onGrid(p.X)
	y, yOn := onGrid(p.Y)
	switch {
	case !gotX && !gotY && xOn && yOn:
		out.At, out.To = geom.P(x, y), SnapGrid
	default:
		if !gotX {
			out.At.X = step(p.X)
		}
		if !gotY {
			out.At.Y = step(p.Y)
		}
	}
	if gotX {
		out.Guides = append(out.Guides, [2]geom.Pt{fromX, out.At})
	}
	if gotY {
		out.Guides = append(out.Guides, [2]geom.Pt{fromY, out.At})
	}
	return out
}

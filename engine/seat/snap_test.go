package seat

import (
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

func TestSnap(t *testing.T) {
	s := Snapping{Points: []geom.Pt{{X: 100, Y: 50}, {X: 300, Y: 52}}, Axis: true, Grid: 50, Reach: 4, Step: unit.OneMillimetre}
	for _, c := range []struct {
		name   string
		p, at  geom.Pt
		to     SnapTo
		guides int
	}{
		{"on a point", geom.P(102, 48), geom.P(100, 50), SnapPoint, 0},
		{"under a point", geom.P(103, 177.3), geom.P(100, 177), SnapAlign, 1},
		{"level with the nearer point", geom.P(210.4, 53), geom.P(210, 52), SnapAlign, 1},
		{"in line with two", geom.P(98, 54), geom.P(100, 52), SnapAlign, 2},
		{"on the centre line", geom.P(-2, 177.3), geom.P(0, 177), SnapAlign, 1},
		{"on the grid", geom.P(202, 148), geom.P(200, 150), SnapGrid, 0},
		{"beside the grid", geom.P(202, 163.3), geom.P(202, 163), SnapStep, 0},
		{"on the step", geom.P(222.6, 163.3), geom.P(223, 163), SnapStep, 0},
	} {
		if c.name == "in line with two" {
			s := s
			s.Points = []geom.Pt{{X: 100, Y: 90}, {X: 300, Y: 52}}
			got := s.Snap(c.p)
			if got.At != c.at || got.To != c.to || len(got.Guides) != c.guides {
				t.Errorf("%s: %+v", c.name, got)
			}
			continue
		}
		got := s.Snap(c.p)
		if got.At != c.at || got.To != c.to || len(got.Guides) != c.guides {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
	if got := (Snapping{}).Snap(geom.P(1.23, 4.56)); got.At != geom.P(1.23, 4.56) || got.To != SnapStep {
		t.Errorf("nothing to hold: %+v", got)
	}
}

package lay

import (
	"math"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

func box(w, h float64) geom.Polygon {
	return geom.Polygon{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h}, {X: 0, Y: h}}
}

// ell is an L of two arms 40 wide in a 100 × 100 box, open at the upper right.
var ell = geom.Polygon{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 40}, {X: 40, Y: 40}, {X: 40, Y: 100}, {X: 0, Y: 100}}

func sample() (Problem, Lay) {
	p := Problem{
		Kinds: []Kind{
			{ID: "A", Shape: box(100, 60), Count: 3, Turns: EitherWay, Square: true, Motif: geom.Pt{X: 50, Y: 30}, Along: Centred, Across: Alike},
			{ID: "B", Shape: ell, Count: 1, Turns: OneWay},
			{ID: "C", Shape: box(50, 50), Count: 1, Turns: AnyTurn, Square: true},
		},
		Bins: []Bin{{ID: "roll", Width: 200, Sheets: 1, Flaws: []geom.Polygon{box(10, 10).Translate(geom.Pt{X: 300, Y: 150})},
			Lattice: Lattice{Along: 110, Across: 65, Phase: geom.Pt{X: 50, Y: 30}}}},
		Gap:   5,
		Fixed: []Place{{Kind: 0, Copy: 1, At: geom.Pt{X: 0, Y: 65}}},
	}
	l := Lay{Places: []Place{
		{Kind: 0, Copy: 0, At: geom.Pt{X: 0, Y: 0}},
		{Kind: 0, Copy: 1, At: geom.Pt{X: 0, Y: 65}},
		{Kind: 0, Copy: 2, Turn: 2, At: geom.Pt{X: 210, Y: 60}},
		{Kind: 1, At: geom.Pt{X: 110, Y: 65}},
		{Kind: 2, At: geom.Pt{X: 155, Y: 110}},
	}, Length: 210}
	return p, l
}

func TestCheckAcceptsAValidLay(t *testing.T) {
	p, l := sample()
	if f := Check(p, l); len(f) > 0 {
		t.Fatal(f)
	}
}

// TestCheckFindsPlantedFaults plants every fault by 0.02 mm, twice the
// tolerance, and expects its code; half the tolerance must pass.
func TestCheckFindsPlantedFaults(t *testing.T) {
	plants := []struct {
		name, code string
		plant      func(p *Problem, l *Lay, by float64)
	}{
		{"off the near edge", CodeOffGoods, func(p *Problem, l *Lay, by float64) { p.Fixed = nil; l.Places[0].At.Y -= by }},
		{"off the cut end", CodeOffGoods, func(p *Problem, l *Lay, by float64) { p.Kinds[0].Along = Free; l.Places[0].At.X -= by }},
		{"narrow goods", CodeOffGoods, func(p *Problem, l *Lay, by float64) { p.Bins[0].Width = unit.Length(165 - by) }},
		{"gap to the next piece", CodeGap, func(p *Problem, l *Lay, by float64) { l.Places[4].At.X -= by }},
		{"centred along", CodeNotCentred, func(p *Problem, l *Lay, by float64) { l.Places[2].At.X += by; l.Length += unit.Length(by) }},
		{"alike across", CodeNotAlike, func(p *Problem, l *Lay, by float64) { l.Places[2].At.Y += by }},
		{"locked piece moved", CodeMoved, func(p *Problem, l *Lay, by float64) {
			p.Kinds[0].Along = Free
			p.Fixed[0].At.X += by
		}},
		{"length", CodeLength, func(p *Problem, l *Lay, by float64) { l.Length += unit.Length(by) }},
		{"bound above the length", CodeBound, func(p *Problem, l *Lay, by float64) { l.Bound = l.Length + unit.Length(by) }},
		{"overlap into the notch of an L", CodeOverlap, func(p *Problem, l *Lay, by float64) {
			p.Gap = 0
			l.Places[4].At = geom.Pt{X: 150 - by, Y: 105 - by}
		}},
		{"overlap without gap", CodeOverlap, func(p *Problem, l *Lay, by float64) {
			p.Gap, p.Kinds[0].Across = 0, Free
			l.Places[2].At.Y = 65 + by
		}},
		{"flaw", CodeFlaw, func(p *Problem, l *Lay, by float64) {
			p.Bins[0].Flaws[0] = box(10, 10).Translate(geom.Pt{X: 215 - by, Y: 20})
		}},
		{"flaw without gap", CodeFlaw, func(p *Problem, l *Lay, by float64) {
			p.Gap = 0
			p.Bins[0].Flaws[0] = box(10, 10).Translate(geom.Pt{X: 210 - by, Y: 20})
		}},
	}
	for _, c := range plants {
		p, l := sample()
		c.plant(&p, &l, 0.02)
		found := false
		for _, f := range Check(p, l) {
			found = found || f.Code == c.code
		}
		if !found {
			t.Errorf("%s: the planted fault of 0.02 mm went unnoticed: %v", c.name, Check(p, l))
		}
		p, l = sample()
		c.plant(&p, &l, 0.004)
		if f := Check(p, l); len(f) > 0 {
			t.Errorf("%s: 0.004 mm is within the tolerance, but: %v", c.name, f)
		}
	}
}

func TestCheckCountsPieces(t *testing.T) {
	for _, c := range []struct {
		name, code string
		plant      func(p *Problem, l *Lay)
	}{
		{"missing", CodeMissing, func(p *Problem, l *Lay) { l.Places = l.Places[1:] }},
		{"twice", CodeTwice, func(p *Problem, l *Lay) { l.Places = append(l.Places, l.Places[0]) }},
		{"unknown kind", CodeUnknown, func(p *Problem, l *Lay) { l.Places[0].Kind = 9 }},
		{"unknown sheet", CodeUnknown, func(p *Problem, l *Lay) { l.Places[0].Sheet = 1 }},
		{"turn", CodeTurn, func(p *Problem, l *Lay) { l.Places[3].Turn = 2 }},
		{"quarter turn", CodeTurn, func(p *Problem, l *Lay) { l.Places[0].Turn = 1 }},
		{"proved too long", CodeBound, func(p *Problem, l *Lay) { l.Proved, l.Bound = true, l.Length-0.2 }},
	} {
		p, l := sample()
		c.plant(&p, &l)
		found := false
		for _, f := range Check(p, l) {
			found = found || f.Code == c.code
		}
		if !found {
			t.Errorf("%s: not found: %v", c.name, Check(p, l))
		}
	}
}

func TestCheckRows(t *testing.T) {
	p := Problem{Kinds: []Kind{{ID: "A", Shape: box(20, 10), Count: 4, Turns: AnyTurn}, {ID: "B", Shape: box(10, 10), Count: 1, Turns: AnyTurn}},
		Bins: []Bin{{Width: 30, Sheets: 1}}, RowsOnly: true}
	// Four strips round a square: no straight line passes.
	l := Lay{Places: []Place{{At: geom.Pt{X: 0, Y: 0}}, {Copy: 1, Turn: 1, At: geom.Pt{X: 30, Y: 0}}, {Copy: 2, At: geom.Pt{X: 10, Y: 20}}, {Copy: 3, Turn: 1, At: geom.Pt{X: 10, Y: 10}}, {Kind: 1, At: geom.Pt{X: 10, Y: 10}}}, Length: 30}
	f := Check(p, l)
	if len(f) != 1 || f[0].Code != CodeNoRows {
		t.Errorf("pinwheel: got %v", f)
	}
	p.RowsOnly = false
	if f := Check(p, l); len(f) > 0 {
		t.Errorf("pinwheel without the rule: got %v", f)
	}
}

func TestProblemIDs(t *testing.T) {
	p, _ := sample()
	q, _ := sample()
	if p.ID() != q.ID() {
		t.Error("equal problems have different IDs")
	}
	q.Kinds[0].Shape[0].X += 1e-9
	if p.ID() == q.ID() {
		t.Error("different problems share an ID")
	}
}

func TestConvexPartsCoverTheShape(t *testing.T) {
	star := geom.Polygon{{X: 0, Y: 0}, {X: 30, Y: 10}, {X: 60, Y: 0}, {X: 50, Y: 30}, {X: 60, Y: 60}, {X: 30, Y: 50}, {X: 0, Y: 60}, {X: 10, Y: 30}}
	for _, g := range []geom.Polygon{box(3, 4), ell, star} {
		area := 0.0
		for _, part := range convexParts(g) {
			if !isConvex(part) {
				t.Errorf("%v is not convex", part)
			}
			area += part.Area()
		}
		if d := area - g.Area(); d > 1e-9 || d < -1e-9 {
			t.Errorf("parts have %v, the shape %v mm²", area, g.Area())
		}
	}
}

// TestCheckSharpTip pushes a sharp tip into an L just where its two parts meet:
// either part alone could be cleared sideways by less than the tolerance.
func TestCheckSharpTip(t *testing.T) {
	tip := geom.Polygon{{X: 0, Y: 0}, {X: 20, Y: 100}, {X: -20, Y: 100}} // 22.6 degrees
	for _, c := range []struct {
		by   float64
		want bool
	}{{0.02, true}, {0.004, false}} {
		for x := 0.0; x <= 40; x += 2.5 {
			p := Problem{Kinds: []Kind{{ID: "L", Shape: ell, Count: 1, Turns: OneWay}, {ID: "T", Shape: tip, Count: 1, Turns: OneWay}}, Bins: []Bin{{Width: 300, Sheets: 1}}}
			// Into the top of the upright arm, from above.
			l := Lay{Places: []Place{{At: geom.Pt{X: 50, Y: 0}}, {Kind: 1, At: geom.Pt{X: 50 + x, Y: 100 - c.by}}}}
			l.Length, _ = Extent(p, l.Places)
			f := Check(p, l)
			if inside := x >= 5 && x <= 35; inside && (len(f) > 0) != c.want {
				t.Errorf("tip at %v, %v mm deep: got %v", x, c.by, f)
			}
			// And into the inner side of the arm that lies, across the line between the parts.
			p.Kinds[1].Shape = tip.Turned(2)
			l.Places[1].At = geom.Pt{X: 50 + x, Y: c.by}
			f = Check(p, l)
			for _, g := range f {
				if g.Code == CodeOverlap && !c.want {
					t.Errorf("tip from below at %v, %v mm deep: got %v", x, c.by, g)
				}
			}
		}
	}
}

func TestCheckRefusesFiguresThatAreNoNumbers(t *testing.T) {
	nan := unit.Length(math.NaN())
	for name, plant := range map[string]func(l *Lay){
		"length": func(l *Lay) { l.Length = nan }, "bound": func(l *Lay) { l.Bound = nan }, "place": func(l *Lay) { l.Places[2].At.X = math.Inf(1) },
	} {
		p, l := sample()
		plant(&l)
		if len(Check(p, l)) == 0 {
			t.Errorf("%s: not noticed", name)
		}
	}
	if f := Check(Problem{}, Lay{}); len(f) != 1 || f[0].Code != CodeNoGoods {
		t.Errorf("no goods: %v", f)
	}
}

// TestCheckAlikeOnADrop: pieces a column apart are alike when they are half a
// repeat apart along, wherever between two columns their motif points lie.
func TestCheckAlikeOnADrop(t *testing.T) {
	for _, off := range []float64{0, 10, 25, 25.000001, 30, 49} {
		p := Problem{Kinds: []Kind{{ID: "A", Shape: box(40, 40), Count: 2, Turns: OneWay, Along: Alike, Across: Alike}},
			Bins: []Bin{{Width: 200, Sheets: 1, Lattice: Lattice{Along: 80, Across: 50, Drop: 0.5}}}}
		l := Lay{Places: []Place{{At: geom.Pt{X: 7, Y: off}}, {Copy: 1, At: geom.Pt{X: 47, Y: off + 50}}}, Length: 87}
		if f := Check(p, l); len(f) > 0 {
			t.Errorf("offset %v: %v", off, f)
		}
		l.Places[1].At.X, l.Length = 87, 127
		if f := Check(p, l); len(f) != 1 || f[0].Code != CodeNotAlike {
			t.Errorf("offset %v, a whole repeat apart: %v", off, f)
		}
	}
}

func TestValidate(t *testing.T) {
	ok := func() Problem {
		return Problem{Kinds: []Kind{{ID: "A", Shape: box(100, 60), Count: 3, Turns: EitherWay, Square: true}}, Bins: []Bin{{ID: "roll", Width: 200, Sheets: 1}}}
	}
	if f := ok().Validate(); len(f) > 0 {
		t.Fatal(f)
	}
	inf, nan := unit.Length(math.Inf(1)), math.NaN()
	for name, c := range map[string]struct {
		code string
		bend func(p *Problem)
	}{
		"no bins":           {CodeNoGoods, func(p *Problem) { p.Bins = nil }},
		"no width":          {CodeBadGoods, func(p *Problem) { p.Bins[0].Width = 0 }},
		"endless width":     {CodeBadGoods, func(p *Problem) { p.Bins[0].Width = inf }},
		"endless sheets":    {CodeBadGoods, func(p *Problem) { p.Bins[0].Sheets = 0 }},
		"phase":             {CodeBadGoods, func(p *Problem) { p.Bins[0].Lattice.Phase.X = nan }},
		"negative gap":      {CodeBadGap, func(p *Problem) { p.Gap = -1 }},
		"negative count":    {CodeBadCount, func(p *Problem) { p.Kinds[0].Count = -1 }},
		"no turn":           {CodeNoTurn, func(p *Problem) { p.Kinds[0].Turns = 0 }},
		"not a number":      {CodeBadShape, func(p *Problem) { p.Kinds[0].Shape = geom.Polygon{{X: nan}, {X: 1}, {Y: 1}} }},
		"clockwise":         {CodeBadShape, func(p *Problem) { p.Kinds[0].Shape = p.Kinds[0].Shape.Reverse() }},
		"square but no box": {CodeBadShape, func(p *Problem) { p.Kinds[0].Shape = ell }},
		"crosses itself": {CodeBadShape, func(p *Problem) {
			p.Kinds[0].Square, p.Kinds[0].Shape = false, geom.Polygon{{X: 0, Y: 0}, {X: 50, Y: 0}, {X: 20, Y: 60}, {X: 40, Y: 60}, {X: 5, Y: 5}, {X: 0, Y: 60}}
		}},
		"too wide":       {CodeTooWide, func(p *Problem) { p.Kinds[0].Shape = box(300, 250) }},
		"locked unknown": {CodeBadFixed, func(p *Problem) { p.Fixed = []Place{{Kind: 0, Copy: 3}} }},
	} {
		p := ok()
		c.bend(&p)
		if f := p.Validate(); len(f) != 1 || f[0].Code != c.code {
			t.Errorf("%s: got %v, want %s", name, f, c.code)
		}
	}
}

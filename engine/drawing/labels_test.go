package drawing

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

var seed = flag.Uint64("seed", 20, "seed of the random tests")

// TestSeatLabelsStandClear: on random seats at random scales no label covers
// another, and no dimension's label covers the shape.
func TestSeatLabelsStandClear(t *testing.T) {
	t.Logf("seed %d", *seed)
	r := rand.New(rand.NewPCG(*seed, 1))
	seen := map[string]int{}
	for n := range 1200 {
		wf := 10 + 40*r.Float64()
		wb, d := wf*(0.7+0.4*r.Float64()), 8+20*r.Float64()
		bow, rad := 0.0, 0.0
		if r.IntN(3) > 0 {
			bow = 0.2 + 1.5*r.Float64()
		}
		if r.IntN(3) > 0 {
			rad = 0.2 + r.Float64()
		}
		p, m := trapeze(wf, wb, d, bow, rad)
		in := SeatIn{Board: p, Size: [2]unit.Length{m.FrontWidth, m.Depth}, Measures: m, Dims: r.IntN(4) > 0, Overlays: r.IntN(2) > 0}
		in.Foam, in.Cover = grown(p, 0.25+r.Float64()/2), grown(p, 2+3*r.Float64())
		if r.IntN(2) > 0 {
			b := p.Bounds()
			in.Notches = []Notch{{Inner: geom.P(b.Min.X+2*inch, b.Max.Y-2*inch), Width: 1.5 * inch, Depth: 2 * inch, Left: true},
				{Inner: geom.P(b.Max.X-2*inch, b.Max.Y-2*inch), Width: 1.5 * inch, Depth: 2 * inch}}
		}
		u := []unit.Unit{unit.Inches, unit.Centimetres, unit.Millimetres}[r.IntN(3)]
		st := style(math.Exp(math.Log(0.03)+r.Float64()*math.Log(1.5/0.03)), u)
		drawn := NewSeat(in).Draw(st)
		all := texts(drawn, "")
		shape := NewSeat(in).Geometry().Bounds
		for i, a := range all {
			seen[a.Layer]++
			box := TextBox(a, st)
			for _, b := range all[:i] {
				if box.Grow(-1e-6).Overlaps(TextBox(b, st)) {
					t.Fatalf("case %d, scale %.3f: %q covers %q", n, st.PaperPerModel, a.S, b.S)
				}
			}
			if a.Layer == "dimension" && box.Grow(-1e-6).Overlaps(shape) {
				t.Fatalf("case %d, scale %.3f: the label %q covers the shape", n, st.PaperPerModel, a.S)
			}
		}
	}
	for _, l := range []string{"dimension", "size", "front", "notch"} {
		if seen[l] < 60 {
			t.Errorf("only %d labels of the layer %s were drawn: the test says little", seen[l], l)
		}
	}
}

// TestSectionLabelsStandClear does the same for the cut-through edge.
func TestSectionLabelsStandClear(t *testing.T) {
	t.Logf("seed %d", *seed)
	r := rand.New(rand.NewPCG(*seed, 2))
	some := func(most float64) unit.Length {
		if r.IntN(3) == 0 {
			return 0
		}
		return unit.Length(math.Round(r.Float64()*most*16) / 16 * inch)
	}
	for n := range 1200 {
		in := SectionIn{Board: inch / 4 * unit.Length(1+r.IntN(4)), Overhang: some(1), Radius: some(1), Wadding: some(1), TurnUnder: some(2), Pull: some(1), Crown: some(1), CrownIn: some(4), Wrap: some(6), WaddingDown: r.IntN(2) > 0}
		for range 1 + r.IntN(3) {
			in.Foams = append(in.Foams, inch/2*unit.Length(1+r.IntN(6)))
		}
		st := style(math.Exp(math.Log(0.25)+r.Float64()*math.Log(2/0.25)), unit.Inches)
		all := texts(Section(in, st), "")
		for i, a := range all {
			for _, b := range all[:i] {
				if TextBox(a, st).Grow(-1e-6).Overlaps(TextBox(b, st)) {
					t.Fatalf("case %d, scale %.3f, %+v: %q covers %q", n, st.PaperPerModel, in, a.S, b.S)
				}
			}
		}
	}
}

// TestEveryPieceIsNumbered: whatever the size of a piece on paper, its number
// stands on it.
func TestEveryPieceIsNumbered(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 3))
	for n := range 250 {
		l := LayIn{Width: 1400, Length: 3000, Sheet: r.IntN(2) > 0}
		for i := range 12 {
			x, y := float64(i%4)*700, float64(i/4)*450
			p := Piece{ID: fmt.Sprintf("A%d", i+1), Name: "Side chair", Width: 600, Depth: 400, Front: geom.P(0, -1), Shape: geom.Box(x, y, x+10+680*r.Float64(), y+10+430*r.Float64())}
			p.Centre = p.Shape.Bounds().Center()
			if r.IntN(2) > 0 {
				p.HasMotif, p.Motif = true, p.Centre
			}
			if r.IntN(4) == 0 { // an L, whose middle may lie outside
				b := p.Shape.Bounds()
				w, h := b.W()/4, b.H()/4
				p.Shape = geom.Path{{Pt: b.Min}, {Pt: geom.P(b.Max.X, b.Min.Y)}, {Pt: geom.P(b.Max.X, b.Min.Y+h)}, {Pt: geom.P(b.Min.X+w, b.Min.Y+h)}, {Pt: geom.P(b.Min.X+w, b.Max.Y)}, {Pt: geom.P(b.Min.X, b.Max.Y)}}
			}
			l.Pieces = append(l.Pieces, p)
		}
		st := style(0.02+0.3*r.Float64(), unit.Centimetres)
		st.Print = r.IntN(2) > 0
		d := NewLay(l).Draw(st)
		on := map[string]geom.Pt{}
		for _, x := range texts(d, "piece") {
			on[x.S] = x.At
		}
		for _, p := range l.Pieces {
			at, ok := on[p.ID]
			if !ok || !p.Shape.Contains(at) {
				t.Fatalf("case %d: %s has no number on it (%v)", n, p.ID, at)
			}
		}
		inside := 0
		for _, x := range texts(d, "piece-size") {
			b := TextBox(x, st)
			for _, p := range l.Pieces {
				if p.Shape.Bounds().Grow(1e-6).Contains(b.Min) && p.Shape.Bounds().Grow(1e-6).Contains(b.Max) {
					inside++
				}
			}
		}
		if inside != len(texts(d, "piece-size")) {
			t.Fatalf("case %d: a size reaches over its piece's edge", n)
		}
	}
}

// TestRulerReadsTrue: every figure of the tape stands where it says.
func TestRulerReadsTrue(t *testing.T) {
	for _, u := range []unit.Unit{unit.Inches, unit.Centimetres, unit.Millimetres} {
		for _, scale := range []float64{0.01, 0.05, 0.2, 1, 4} {
			for _, from := range []float64{0, 5000} {
				st := style(scale, u)
				figures := 0
				for _, it := range (ruler{from: -from, to: 3000, first: from, units: st.Units}).draw(st) {
					x, ok := it.(Text)
					if !ok {
						continue
					}
					figures++
					bare := unit.Centimetres
					if !u.Metric() {
						bare = unit.Inches
					}
					if u == unit.Millimetres {
						bare = u
					}
					l, err := unit.Parse(x.S, bare)
					if err != nil || math.Abs(l.MM()-from-x.At.X) > 1e-6 {
						t.Fatalf("%q stands at %.2f mm of a tape from %.0f", x.S, x.At.X, from)
					}
				}
				if figures == 0 && scale > 0.02 {
					t.Errorf("no figures at scale %v", scale)
				}
			}
		}
	}
}

// TestLayLabelsStandClear: at scales at which a piece of 20 in is at least
// 12 mm long, no text of a lay covers another.
func TestLayLabelsStandClear(t *testing.T) {
	t.Logf("seed %d", *seed)
	r := rand.New(rand.NewPCG(*seed, 5))
	for n := range 120 {
		l := room()
		l.Title = "Title"
		if r.IntN(2) > 0 {
			l.Nap = geom.P(-1, 0)
		}
		l.Foot = []string{"", "note", "Roll 54 in, half an inch of selvedge each side; fronts face the cut end."}[r.IntN(3)]
		l.Sheet = r.IntN(3) == 0
		turn := r.IntN(4)
		for i := range l.Pieces {
			p := &l.Pieces[i]
			p.Front = geom.P(-1, 0).Turned(turn)
			p.HasMotif, p.Motif = r.IntN(2) > 0, p.Centre.Add(geom.P(r.Float64()*200-100, r.Float64()*200-100))
			p.State = PieceState(r.IntN(5))
		}
		st := style(math.Exp(math.Log(12/(20*inch))+r.Float64()*math.Log(20)), []unit.Unit{unit.Inches, unit.Centimetres}[r.IntN(2)])
		st.Print = r.IntN(2) > 0
		all := texts(NewLay(l).Draw(st), "")
		for i, a := range all {
			for _, b := range all[:i] {
				if TextBox(a, st).Grow(-1e-6).Overlaps(TextBox(b, st)) {
					t.Fatalf("case %d, scale %.4f, print %v: %q (%s) covers %q (%s)", n, st.PaperPerModel, st.Print, a.S, a.Layer, b.S, b.Layer)
				}
			}
		}
	}
}

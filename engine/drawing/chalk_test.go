package drawing

import (
	"math"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

func TestPieceRanges(t *testing.T) {
	for _, c := range []struct {
		ids  []string
		want string
	}{
		{[]string{"A2", "A1", "A3"}, "A1–A3"},
		{[]string{"A1", "A2", "B7"}, "A1, A2, B7"},
		{[]string{"A1", "A3", "A10", "A11", "A12"}, "A1, A3, A10–A12"},
		{[]string{"B2-1", "A1"}, "A1, B2-1"},
		{nil, ""},
	} {
		if got := pieceRanges(c.ids); got != c.want {
			t.Errorf("%v: got %q, want %q", c.ids, got, c.want)
		}
	}
}

// TestWindowsShowEveryPieceWhole: a long roll's parts cover it, bring it on,
// and every piece stands whole in exactly the parts that hold it.
func TestWindowsShowEveryPieceWhole(t *testing.T) {
	in := room()
	ps := in.Pieces
	in.Pieces = nil
	for k := range 4 {
		for _, p := range ps {
			p.Shape = p.Shape.Translate(geom.P(float64(k)*131*inch, 0))
			p.Board = p.Board.Translate(geom.P(float64(k)*131*inch, 0))
			in.Pieces = append(in.Pieces, p)
		}
	}
	in.Length, in.Buy = 15*unit.Yd, 15*unit.Yd
	for _, most := range []float64{500, 900, 2000, 5000, 20000} {
		ws := windows(&in, most)
		if ws[0].from != 0 || math.Abs(ws[len(ws)-1].to-in.Length.MM()) > 1e-6 {
			t.Fatalf("most %v: parts %v do not reach from end to end", most, ws)
		}
		whole := map[int]int{}
		for k, w := range ws {
			if k > 0 && (w.from <= ws[k-1].from || w.from > ws[k-1].to+1e-9) {
				t.Errorf("most %v: part %d starts at %.1f after %v", most, k, w.from, ws[k-1])
			}
			part := in.part(w)
			n := 0
			for i, p := range in.Pieces {
				b := p.Shape.Bounds()
				if b.Min.X >= w.from-1e-6 && b.Max.X <= w.to+1e-6 {
					whole[i]++
					n++
				}
			}
			for _, p := range part.Pieces {
				b := p.Shape.Bounds()
				if b.Min.X < -1e-6 || b.Max.X > (w.to-w.from)+1e-6 {
					t.Errorf("a piece reaches out of its part: %v", b)
				}
				if !p.Elsewhere {
					n--
				}
			}
			if n != 0 {
				t.Errorf("part %d shows other whole pieces than lie in it", k)
			}
		}
		for i, p := range in.Pieces {
			if whole[i] == 0 {
				t.Errorf("most %v: %s stands whole in no part", most, p.ID)
			}
		}
	}
}

// TestTrimmedSheet: on a sheet trimmed 10 mm all round, a piece at the lay's
// origin stands 10 mm from the sheet's left and near edges, in the picture and
// in the lists.
func TestTrimmedSheet(t *testing.T) {
	in := LayIn{Sheet: true, Width: 1000, Length: 2000, Selvedge: 10, Pieces: []Piece{{ID: "A1", Shape: geom.Box(0, 0, 300, 200), Width: 300, Depth: 200}}}
	l := NewLay(in)
	if l.PieceAt(geom.P(5, 5)) != -1 || l.PieceAt(geom.P(11, 11)) != 0 || l.PieceAt(geom.P(309, 209)) != 0 {
		t.Error("the piece is drawn at a wrong place")
	}
	if r := PieceRows(in)[0]; r.FromEnd != 10 || r.FromEdge != 10 {
		t.Errorf("listed at %v, %v", r.FromEnd, r.FromEdge)
	}
	if c := ChalkSteps(in)[0]; c.Op != ChalkLineOp || !c.Across || c.At != 10 || c.From != 10 || c.To != 210 {
		t.Errorf("first step %+v", c)
	}
	far := LayIn{Width: 1400, Selvedge: 10, SelvedgeFar: unit.Some(0), Length: 2000}
	for _, it := range NewLay(far).Geometry().Items {
		if s, ok := it.(Shape); ok && s.Fill == Selvedge && s.Path.Bounds().Min.Y > 500 {
			t.Error("a far selvedge of nothing was drawn")
		}
	}
}

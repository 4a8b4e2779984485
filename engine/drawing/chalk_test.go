package drawing

import (
	"math"
	"slices"
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// TestChalkLinesGiveThePieces replays the chalk lines: a box between two lines
// across and two along, whose sides all lie on lines, is found for every
// piece; and nothing is drawn that bounds no piece.
func TestChalkLinesGiveThePieces(t *testing.T) {
	in := room()
	lines := ChalkLines(in)
	covered := func(across bool, at, from, to float64) bool {
		for _, l := range lines {
			if l.Across == across && math.Abs(l.At.MM()-at) < chalkSame && l.From.MM() <= from+chalkSame && l.To.MM() >= to-chalkSame {
				return true
			}
		}
		return false
	}
	e := in.Selvedge.MM()
	total := 0.0
	for _, p := range in.Pieces {
		b := p.Shape.Bounds()
		for _, u := range []float64{b.Min.X, b.Max.X} {
			if !covered(true, u, b.Min.Y+e, b.Max.Y+e) {
				t.Errorf("%s: no line across at %.2f", p.ID, u)
			}
		}
		for _, v := range []float64{b.Min.Y + e, b.Max.Y + e} {
			if !covered(false, v, b.Min.X, b.Max.X) {
				t.Errorf("%s: no line along at %.2f", p.ID, v)
			}
		}
		total += 2 * (b.W() + b.H())
	}
	drawn := 0.0
	for _, l := range lines {
		drawn += float64(l.To - l.From)
	}
	if drawn > total+1e-6 {
		t.Errorf("%.1f mm of lines for %.1f mm of edges", drawn, total)
	}
	// First across, from the cut end on; then along.
	firstAlong := slices.IndexFunc(lines, func(l ChalkLine) bool { return !l.Across })
	for i, l := range lines {
		if l.Across != (i < firstAlong) {
			t.Fatal("lines along stand among the lines across")
		}
		if i > 0 && i < firstAlong && l.At < lines[i-1].At {
			t.Error("lines across go back")
		}
	}
}

// TestChalkReadings holds the listed readings against figures worked by hand
// for the reading room: rows of 23¼ in at 0, 27 and 54 in, elbow chairs from
// 80⅝ in, the bench from 109⅝ in, all behind a selvedge of ½ in.
func TestChalkReadings(t *testing.T) {
	across, along := chalkGroups(room())
	figures := func(ls []unit.Length) (s string) {
		for _, l := range ls {
			s += unit.Figure(l, unit.Inches) + " "
		}
		return s
	}
	if got, want := figures(across), "0 23¼ 27 50¼ 54 77¼ 80⅝ 104⅝ 109⅝ 129⅝ "; got != want {
		t.Errorf("across: got %s, want %s", got, want)
	}
	want := []struct{ pieces, values string }{{"A1–A6", "½ 25 27½ 52 "}, {"B1, B2", "½ 26½ 27½ 53½ "}, {"C1", "½ 48½ "}}
	for i, w := range want {
		if got := figures(along[i].values); got != w.values || pieceRanges(along[i].pieces) != w.pieces {
			t.Errorf("along: got %s: %s, want %s: %s", pieceRanges(along[i].pieces), got, w.pieces, w.values)
		}
	}
}

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
	if c := ChalkLines(in)[0]; !c.Across || c.At != 10 || c.From != 10 || c.To != 210 {
		t.Errorf("first line %+v", c)
	}
	far := LayIn{Width: 1400, Selvedge: 10, SelvedgeFar: unit.Some(0), Length: 2000}
	for _, it := range NewLay(far).Geometry().Items {
		if s, ok := it.(Shape); ok && s.Fill == Selvedge && s.Path.Bounds().Min.Y > 500 {
			t.Error("a far selvedge of nothing was drawn")
		}
	}
}

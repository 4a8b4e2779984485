package drawing

import (
	"fmt"
	"strings"
	"testing"

	"slipseat/engine/unit"
)

func quote(rows int) DocumentIn {
	t := List{Columns: []Column{{Head: "To buy", Bold: true}, {Head: "Why this much", Wrap: true}, {Head: "Buy", Right: true}, {Head: "Price", Right: true}}, Fill: 1,
		Sums: [][]string{{"Materials", "", "", "265.40"}}}
	for i := range rows {
		t.Rows = append(t.Rows, []string{fmt.Sprintf("Goods %d", i), strings.Repeat("laid and squared up, ", 1+i%9), "4 yd", "136.00"})
	}
	s := sideChair()
	return DocumentIn{Title: "Quote", Right: "758.31", Sub: "Reading room", SubRight: "valid for 30 days", Stamp: "stamp", Blocks: []Block{
		Heading{"What is done"}, Para{Text: strings.Repeat("Nine seats are recovered. ", 30)}, Bullets{[]string{"one", strings.Repeat("two and three ", 20)}},
		t, Boxed{"Mind", "the gap"}, Heading{"The seat"}, Picture{Build: func(st Style) Drawing { return NewSeat(s).Draw(st) }, High: 80}, NewPage{}, Blanks{[]string{"Date", "Signature"}},
	}}
}

// TestDocumentKeepsToItsPages: whatever the length, everything stands inside
// the margins, nothing is lost and no text covers another.
func TestDocumentKeepsToItsPages(t *testing.T) {
	st := style(1, unit.Inches)
	for _, rows := range []int{1, 7, 40, 200} {
		for _, size := range []PageSize{A4(), Letter().Landscape(), A3()} {
			pages := Document(quote(rows), size, st)
			found := map[string]bool{}
			for n, p := range pages {
				all := texts(p, "")
				for i, x := range all {
					b := TextBox(x, st)
					if b.Min.X < PageMargin-0.5 || b.Max.X > size.W-PageMargin+0.5 || b.Min.Y < PageMargin-2 || b.Max.Y > size.H-PageMargin+2 {
						t.Fatalf("%d rows, %s, page %d: %q stands at %v", rows, size.Name, n+1, x.S, b)
					}
					for _, y := range all[:i] {
						if b.Grow(-0.05).Overlaps(TextBox(y, st)) {
							t.Fatalf("%d rows, %s, page %d: %q covers %q", rows, size.Name, n+1, x.S, y.S)
						}
					}
					found[x.S] = true
				}
			}
			for i := range rows {
				if !found[fmt.Sprintf("Goods %d", i)] {
					t.Fatalf("%d rows, %s: row %d is lost", rows, size.Name, i)
				}
			}
			for _, want := range []string{"Quote", "758.31", "265.40", "Mind", "Signature", "FRONT"} {
				if want == "FRONT" {
					want = "front-mark"
				}
				if !found[want] {
					t.Errorf("%d rows, %s: %q is lost", rows, size.Name, want)
				}
			}
		}
	}
}

// TestCutSheetKeepsToItsPages does the same for cut sheets of rolls of any
// length on any paper.
func TestCutSheetKeepsToItsPages(t *testing.T) {
	st := style(1, unit.Inches)
	for _, times := range []int{1, 3, 6} {
		in := room()
		one := in.Pieces
		in.Pieces = nil
		for k := range times {
			for _, p := range one {
				by := one[0].Centre.Mul(0)
				by.X = float64(k) * 131 * inch
				p.Shape, p.Board, p.Centre = p.Shape.Translate(by), p.Board.Translate(by), p.Centre.Add(by)
				p.ID = fmt.Sprintf("%c%d", p.ID[0], k*10+int(p.ID[1]-'0'))
				p.Marks = strings.Repeat("mark ", 1+k*12)
				in.Pieces = append(in.Pieces, p)
			}
		}
		in.Length = unit.Length(times) * 132 * inch
		in.Buy = in.Length
		for _, size := range []PageSize{A4(), A4().Landscape(), Letter(), Tabloid().Landscape(), A2().Landscape()} {
			cs := CutSheetIn{Title: "Cut sheet", Job: "Job", Goods: strings.Repeat("goods ", 20), Buy: "Buy", BuyWhy: strings.Repeat("why ", 30), Draft: "Draft", Lays: []LayIn{in},
				Notes: []string{strings.Repeat("note ", 30)}, Cautions: []SheetCaution{{"T", strings.Repeat("x ", 200)}}, Stamp: "s"}
			found := map[string]int{}
			for n, p := range CutSheet(cs, size, st) {
				for _, x := range texts(p, "") {
					b := TextBox(x, st)
					if b.Min.X < PageMargin-1 || b.Max.X > size.W-4 || b.Min.Y < PageMargin-2 || b.Max.Y > size.H-PageMargin+2 {
						t.Fatalf("%d times, %s, page %d: %q stands at %v", times, size.Name, n+1, x.S, b)
					}
					found[x.S]++
				}
			}
			for _, p := range in.Pieces {
				if found[p.ID] < 2 { // on the picture and in the list
					t.Fatalf("%d times, %s: %s is named %d times", times, size.Name, p.ID, found[p.ID])
				}
			}
		}
	}
}

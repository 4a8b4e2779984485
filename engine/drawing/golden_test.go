package drawing

import (
	"testing"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

func TestGoldenSeat(t *testing.T) {
	golden(t, "seat", NewSeat(sideChair()).Draw(style(0.35, unit.Inches)))
	s := sideChair()
	s.Overlays = true
	s.Notches = []Notch{{Inner: geom.P(-7*inch, 16*inch), Width: inch, Depth: 1.25 * inch, Left: true}}
	s.Faults = []geom.Pt{{X: 10, Y: 20}}
	golden(t, "seat-overlays-cm", NewSeat(s).Draw(style(0.25, unit.Centimetres)))
	golden(t, "seat-traced", NewSeat(SeatIn{Board: geom.Box(0, 0, 400, 300), Dims: true}).Draw(style(0.3, unit.Millimetres)))
}

func TestGoldenSection(t *testing.T) {
	golden(t, "section-plain", Section(SectionIn{Board: inch / 2, Foams: []unit.Length{inch}, TurnUnder: inch, Pull: inch / 2, Wrap: 3 * inch}, style(1, unit.Inches)))
	golden(t, "section-round", Section(SectionIn{Board: 0.625 * inch, Foams: []unit.Length{inch, inch}, Overhang: inch / 2, Radius: 0.75 * inch,
		Wadding: inch / 4, WaddingDown: true, Crown: inch / 2, CrownIn: 3 * inch, TurnUnder: 1.25 * inch, Pull: inch / 2}, style(0.8, unit.Centimetres)))
}

func TestGoldenLay(t *testing.T) {
	l := room()
	l.Lattice = lay.Lattice{Along: 9 * inch, Across: 6.75 * inch, Drop: 0.5, Phase: geom.P(3*inch, 2*inch)}
	l.Flaws = []geom.Polygon{{geom.P(2700, 250), geom.P(2760, 250), geom.P(2760, 350), geom.P(2700, 350)}}
	l.Pieces[0].State, l.Pieces[1].State, l.Pieces[2].Selected = IsCut, Misplaced, true
	golden(t, "lay", NewLay(l).Draw(style(0.07, unit.Inches)))
	l.Stale = true
	golden(t, "lay-stale-cm", NewLay(l).Draw(style(0.05, unit.Centimetres)))
}

func TestGoldenSheet(t *testing.T) {
	in := CutSheetIn{Title: "Cut sheet, cloth", Job: "Reading room, 9 seats", Goods: "Fern sprig, 54 in wide", Buy: "Buy 4 yd", BuyWhy: "129⅝ in laid",
		Draft: "Not final.", Lays: []LayIn{room()}, Notes: []string{"Right side up."}, Cautions: []SheetCaution{{"Title", "Text"}}, Stamp: "stamp"}
	for i, p := range CutSheet(in, A4().Landscape(), style(1, unit.Inches)) {
		golden(t, "sheet-"+string(rune('1'+i)), p)
	}
}

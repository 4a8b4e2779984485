package picture

import (
	"strconv"
	"strings"

	"slipseat/engine/caution"
	"slipseat/engine/cloth"
	"slipseat/engine/drawing"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

// FileBase is the beginning of the cut sheet's file name, numbered from 1 for
// goods of one use in the job's order: "cut-sheet-cloth-1".
func (m Maker) FileBase(g *plan.GoodsPlan) string {
	n := 0
	for i := range m.Plan.Goods {
		o := &m.Plan.Goods[i]
		if useName(o) == useName(g) {
			n++
		}
		if o.ID == g.ID {
			break
		}
	}
	return "cut-sheet-" + useName(g) + "-" + strconv.Itoa(n)
}

func useName(g *plan.GoodsPlan) string {
	if g.Sheet != nil {
		return "foam"
	}
	switch g.Roll.Use {
	case cloth.DustCloth:
		return "dust-cloth"
	case cloth.Wadding:
		return "wadding"
	case cloth.Lining, cloth.FireBarrier:
		return "lining"
	}
	return "cloth"
}

// Title is what a cut sheet is headed with.
func (m Maker) Title(g *plan.GoodsPlan) string { return m.label("sheet.title-" + useName(g)) }

// CutSheet is everything one cut sheet says. jobName is the job's own name;
// stamp goes to the foot.
func (m Maker) CutSheet(g *plan.GoodsPlan, jobName, stamp string) drawing.CutSheetIn {
	in := drawing.CutSheetIn{Title: m.Title(g), Stamp: stamp, Lays: m.Goods(g, false, "")}
	seats := 0
	for _, s := range m.Plan.Seats {
		seats += s.Count
	}
	in.Job = m.label("sheet.job", unit.A("name", jobName), unit.A("seats", seats))
	if g.Sheet != nil {
		f := g.Sheet
		in.Goods = m.label("sheet.foam", unit.A("name", f.Name), unit.A("thickness", f.Thickness), unit.A("size", m.Units.PairLabel(f.Width, f.Length)))
		in.Buy = m.label("sheet.buy-sheets", unit.A("sheets", g.Lay.Sheets))
		in.BuyWhy = m.label("sheet.foam-why", unit.A("pieces", g.Pieces), unit.A("saw", f.SawCut))
		if g.Lay.Proved {
			in.BuyWhy += " " + m.label("sheet.fewest")
		}
		in.Cautions = m.cautionsFor(g)
		in.Notes = []string{m.label("note.foam-square"), m.label("note.foam-number"), m.label("note.knife")}
		return in
	}
	r := g.Roll
	in.Goods = m.ClothFacts(r)
	if buy := g.Buy.Length(); buy > 0 {
		in.Buy = m.label("sheet.buy", unit.A("length", m.Units.ClothLabel(buy)))
	}
	in.BuyWhy = m.WhyLine(g.Buy) + ". " + m.Proof(g) + "."
	for _, c := range m.Plan.Cautions {
		if c.Code == caution.PatternStart && c.Where.Goods == g.ID {
			in.Draft = m.label("sheet.draft-pattern")
		}
	}
	in.Cautions = m.cautionsFor(g)
	in.Notes = []string{m.label("note.face-up")}
	if in0 := in.Lays; len(in0) > 0 && (in0[0].Top.X != 0 || in0[0].Top.Y != 0) {
		switch r.Lie {
		case cloth.UpTheRoll:
			in.Notes = append(in.Notes, m.label("note.top-far-end"))
		case cloth.TopAtCutEnd:
			in.Notes = append(in.Notes, m.label("note.top-cut-end"))
		default:
			in.Notes = append(in.Notes, m.label("note.top-selvedge"))
		}
	}
	if r.SquareUp > 0 {
		in.Notes = append(in.Notes, m.label("note.square-up", unit.A("length", r.SquareUp)))
	}
	in.Notes = append(in.Notes, m.label("note.check-width", unit.A("width", r.Width)), m.label("note.number"), m.label("note.knife"))
	for _, k := range g.Kinds {
		if !k.Blank.Square {
			in.Remarks = append(in.Remarks, m.label("remark.shaped", unit.A("step", m.Plan.In.Step)))
			break
		}
	}
	return in
}

// cautionsFor are the cautions in words that concern goods and the seats cut
// from them, the serious ones only.
func (m Maker) cautionsFor(g *plan.GoodsPlan) []drawing.SheetCaution {
	seats := map[string]bool{}
	for _, k := range g.Kinds {
		seats[m.Plan.Seats[k.Seat].ID] = true
	}
	var out []drawing.SheetCaution
	for _, c := range m.Plan.Cautions {
		if c.Severity < caution.Check || c.Code == caution.PatternStart || c.Where.Goods != g.ID && !(g.Roll != nil && g.Roll.Use == cloth.Cover && seats[c.Where.Seat]) {
			continue
		}
		t := m.Words.Caution(c.Code, m.Units, c.Args...)
		out = append(out, drawing.SheetCaution{Title: t.Title, Text: strings.TrimSpace(t.Text + " " + t.Remedy)})
	}
	return out
}

// ClothFacts is a cloth in one line: name, width, direction, repeat.
func (m Maker) ClothFacts(r *plan.Roll) string {
	parts := []string{r.Name, m.label("cloth.wide", unit.A("width", r.Width))}
	switch r.Direction {
	case cloth.OneWay:
		parts = append(parts, m.label("cloth.one-way"))
	case cloth.SetDirection:
		parts = append(parts, m.label("cloth.set-direction"))
	}
	if p := r.Pattern; p.Along > 0 && p.Across > 0 {
		parts = append(parts, m.label("cloth.repeat", unit.A("size", m.Units.PairLabel(p.Along, p.Across))))
	} else if p.Along > 0 {
		parts = append(parts, m.label("cloth.repeat", unit.A("size", m.Units.Label(p.Along))))
	}
	return strings.Join(parts, ", ")
}

// WhyLine writes the terms of a figure in one line: "129⅝ in laid + 1 in to
// square up".
func (m Maker) WhyLine(w unit.Why) string {
	var parts []string
	for _, t := range m.Words.Why(w, m.Units) {
		parts = append(parts, t.Value+" "+t.Text)
	}
	return strings.Join(parts, " + ")
}

// Proof says how near a lay is to the shortest possible.
func (m Maker) Proof(g *plan.GoodsPlan) string {
	switch {
	case g.Lay == nil:
		return m.label("proof.looking")
	case g.Sheet != nil && g.Lay.Proved:
		return m.label("proof.fewest-sheets", unit.A("sheets", g.Lay.Sheets))
	case g.Sheet != nil:
		return m.label("proof.sheets", unit.A("sheets", g.Lay.Sheets), unit.A("least", g.Lay.SheetBound))
	case g.Lay.Proved:
		return m.label("proof.shortest")
	case g.Lay.Bound > 0:
		share := unit.Share(float64(g.Lay.Length/g.Lay.Bound-1) * float64(unit.Whole))
		// Rounded up to a tenth of a per cent, so that it never claims too much.
		const tenth = unit.Percent / 10
		share = (share + tenth - 1) / tenth * tenth
		return m.label("proof.within", unit.A("share", share))
	}
	return m.label("proof.none")
}

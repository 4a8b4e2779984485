package plan

import (
	"slipseat/engine/caution"
	"slipseat/engine/cloth"
	"slipseat/engine/unit"
)

// cautions gathers the facts that the rules look at.
func (p *Plan) cautions() []caution.Caution {
	f := caution.Facts{
		Purpose: caution.Purpose(p.In.Purpose), Country: p.In.Country, MadeBefore1950: p.In.MadeBefore1950,
		Adhesive: p.In.Adhesive != nil, KeepOldFilling: p.In.KeepOldFilling,
	}
	for _, s := range p.Seats {
		if !s.OK() || s.Count <= 0 {
			continue
		}
		w, d := s.Outline.Size()
		f.Seats = append(f.Seats, caution.Seat{ID: s.ID, Name: s.Name, Count: s.Count, Spec: s.Build, Result: s.Result,
			Width: w, Depth: d, OverOldCover: s.OldCover > 0})
	}
	for i := range p.Goods {
		g := &p.Goods[i]
		var blanks []caution.Blank
		for _, k := range g.Kinds {
			s := p.Seats[k.Seat]
			w, d := k.Blank.Size()
			blanks = append(blanks, caution.Blank{Seat: s.ID, Name: s.Name, Piece: s.Letter, Part: k.Blank.Part, W: w, D: d})
		}
		if g.Sheet != nil {
			f.Foams = append(f.Foams, caution.Foam{Sheet: *g.Sheet, Blanks: blanks})
			continue
		}
		c := caution.Cloth{Cloth: g.Roll.Cloth, Blanks: blanks, RepeatSpare: cloth.RepeatSpare(g.Roll.Cloth) > 0}
		if g.Lay != nil {
			c.Needed = unit.Length(cloth.Needed(g.Buy))
		}
		f.Cloths = append(f.Cloths, c)
	}
	return caution.All(f)
}

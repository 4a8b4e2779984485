package plan

import (
	"slices"

	"slipseat/engine/buildup"
	"slipseat/engine/caution"
	"slipseat/engine/cloth"
	"slipseat/engine/seat"
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
		var known, read unit.Length
		if t := s.Shape.Traced; t != nil && s.Known.What != seat.KnownNothing && s.Known.Length > 0 {
			if l, ok := t.Read(s.Known); ok {
				known, read = s.Known.Length, l
			}
		}
		f.Seats = append(f.Seats, caution.Seat{Known: known, Traced: read, ID: s.ID, Name: s.Name, Count: s.Count, Spec: s.Build, Result: s.Result,
			Width: w, Depth: d, OverOldCover: s.OldCover > 0, FrontJoint: p.frontJoint(s), Lots: p.lotsOf(s.ID)})
	}
	for i := range p.Goods {
		g := &p.Goods[i]
		var blanks []caution.Blank
		var glued []string
		for _, k := range g.Kinds {
			s := p.Seats[k.Seat]
			if k.Spoiled > 0 || k.Blank.Part == buildup.PartWelt {
				continue
			}
			if k.Glued > 0 {
				glued = append(glued, s.ID)
			}
			w, d := k.Blank.Size()
			blanks = append(blanks, caution.Blank{Seat: s.ID, Name: s.Name, Piece: s.Letter, Part: k.Blank.Part, W: w, D: d})
		}
		if g.Sheet != nil {
			f.Foams = append(f.Foams, caution.Foam{Sheet: *g.Sheet, Blanks: blanks, Glued: glued})
			continue
		}
		c := caution.Cloth{Cloth: g.Roll.Cloth, Blanks: blanks, RepeatSpare: cloth.RepeatSpare(g.Roll.Cloth) > 0}
		if g.Lay != nil {
			c.Needed = unit.Length(cloth.Needed(g.Buy))
		}
		if g.Hand != nil {
			c.Missing = len(g.Hand.Missing)
		}
		for _, ph := range g.Phases {
			c.NoRoom = c.NoRoom || ph.NoRoom
		}
		if !g.Pending {
			c.Worst, c.Best = g.Buy.Length(), g.Best.Length()
		}
		f.Cloths = append(f.Cloths, c)
	}
	return caution.All(f)
}

// lotsOf lists the dye lots that the covers of a seat are cut from, as far as
// they are known.
func (p *Plan) lotsOf(seat string) []string {
	var out []string
	for _, g := range p.Goods {
		if g.Roll == nil || g.Lay == nil || g.Roll.Use > cloth.Contrast {
			continue
		}
		for _, at := range g.Lay.Places {
			k := g.Kinds[at.Kind]
			if p.Seats[k.Seat].ID != seat || k.Blank.Goods != p.Seats[k.Seat].Build.Cover.Goods || k.Spoiled > 0 {
				continue
			}
			lot := g.Roll.Lot
			for _, o := range g.Roll.Offcuts {
				if o.ID == g.Problem.Bins[at.Bin].ID {
					lot = o.Lot
				}
			}
			if lot != "" && !slices.Contains(out, lot) {
				out = append(out, lot)
			}
		}
	}
	return out
}

package plan

import (
	"strconv"
	"strings"

	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
)

// KindName is how the pieces of a blank are called, before their number: the
// seat's letter, with the part where a seat has several parts of the same
// goods ("C-band-front").
func kindName(letter string, b buildup.Blank, several bool) string {
	if !several {
		return letter
	}
	name := letter + "-" + b.Part.Code()
	switch b.Part {
	case buildup.PartBand, buildup.PartZipBand:
		name += "-" + b.Role.String()
	case buildup.PartFoam:
		name += "-" + strconv.Itoa(b.Layer+1)
	}
	return name
}

// PieceName is the name of a piece: letter and number, "A2"; parts of one seat
// from the same goods add the part, "C1 band-front".
func (g GoodsPlan) PieceName(at lay.Place, p *Plan) string {
	k := g.Kinds[at.Kind]
	s := p.Seats[k.Seat]
	name := s.Letter + strconv.Itoa(g.Number(at))
	if id := strings.TrimSuffix(g.Problem.Kinds[at.Kind].ID, spoiledID); id != s.Letter {
		name += id[len(s.Letter):]
	}
	return name
}

// Number is the seat's number, from 1, that a piece is for.
func (g GoodsPlan) Number(at lay.Place) int {
	if n := g.Kinds[at.Kind].Spoiled; n > 0 {
		return n
	}
	return at.Copy/max(1, g.Kinds[at.Kind].Blank.Count) + 1
}

// kinds collects the blanks that are cut from goods, each as a kind of the
// lay; shapes are turned from the seat's frame into that of the lay.
func (p *Plan) kinds(id string, base lay.Turn, foam bool) ([]Kind, []lay.Kind) {
	var kinds []Kind
	var lays []lay.Kind
	for i, s := range p.Seats {
		if !s.OK() || s.Count <= 0 {
			continue
		}
		var mine []buildup.Blank
		for _, b := range s.Result.Blanks {
			if b.Goods == id && (b.Part == buildup.PartFoam) == foam && b.Count > 0 && len(b.Path) > 0 {
				mine = append(mine, b)
			}
		}
		for _, b := range mine {
			motif := b.Motif
			if s.Motif != nil {
				motif = *s.Motif
			}
			k := lay.Kind{
				ID:     kindName(s.Letter, b, len(mine) > 1),
				Shape:  b.Path.FlattenOut(geom.ChordTol).Turned(int(base)),
				Count:  s.Count * b.Count,
				Square: b.Square,
				Motif:  motif.Turned(int(base)),
			}
			kinds = append(kinds, Kind{Seat: i, Blank: b, Base: base})
			lays = append(lays, k)
		}
	}
	return kinds, lays
}

// roll builds the problem of a cloth; ok is false when nothing is cut from it.
func (p *Plan) roll(r *Roll, prev *Plan, lays func(lay.ProblemID) (lay.Lay, bool)) (GoodsPlan, bool) {
	g := GoodsPlan{ID: r.ID, Roll: r}
	var kinds []lay.Kind
	g.Kinds, kinds = p.kinds(r.ID, r.Lie.Base(), false)
	if len(kinds) == 0 {
		return g, false
	}
	for i := range kinds {
		kinds[i].Turns = cloth.Turns(r.Cloth)
		kinds[i].Along, kinds[i].Across = r.Pattern.RuleAlong, r.Pattern.RuleAcross
	}
	marked := r.Cloth.Marked(p.In.Step) // gap and selvedges as they are marked
	bin := lay.Bin{ID: r.ID, Width: marked.UsableWidth(), Sheets: 1, Lattice: cloth.Lattice(r.Cloth)}
	for _, f := range r.Flaws {
		bin.Flaws = append(bin.Flaws, f.Zone())
	}
	g.Problem = lay.Problem{Kinds: kinds, Bins: []lay.Bin{bin}, Gap: marked.Gap, RowsOnly: r.RowsOnly, Step: p.In.Step}
	g.Faults = append(g.Faults, r.Check()...)
	p.finish(&g, lays)
	if g.Lay != nil {
		g.Buy = cloth.Buy(r.Cloth, g.Lay.Length)
	}
	return g, true
}

// sheet builds the problem of a foam; ok is false when nothing is cut from it.
func (p *Plan) sheet(f *cloth.Sheet, prev *Plan, lays func(lay.ProblemID) (lay.Lay, bool)) (GoodsPlan, bool) {
	g := GoodsPlan{ID: f.ID, Sheet: f}
	var kinds []lay.Kind
	g.Kinds, kinds = p.kinds(f.ID, 0, true)
	if len(kinds) == 0 {
		return g, false
	}
	for i := range kinds {
		kinds[i].Turns = f.Turns()
	}
	marked := f.Marked(p.In.Step) // saw cut and trim as they are marked
	length, width := marked.Usable()
	g.Problem = lay.Problem{Kinds: kinds, Bins: []lay.Bin{{ID: f.ID, Width: width, Length: length}}, Gap: marked.SawCut, Step: p.In.Step}
	g.Faults = append(g.Faults, f.Check()...)
	p.finish(&g, lays)
	return g, true
}

// finish counts the pieces, fixes the locked ones and asks for the lay.
func (p *Plan) finish(g *GoodsPlan, lays func(lay.ProblemID) (lay.Lay, bool)) {
	for _, k := range g.Problem.Kinds {
		g.Pieces += k.Count
	}
	g.hold(p)
	if len(g.Faults) == 0 {
		g.Faults = append(g.Faults, g.Problem.Validate()...)
	}
	for i := range g.Faults {
		g.Faults[i].Where.Goods = g.ID
	}
	if len(g.Faults) > 0 {
		return
	}
	g.PID = g.Problem.ID()
	if l, ok := lays(g.PID); ok {
		g.Lay = &l
		g.Offcuts = offcuts(g.Problem, l)
		return
	}
	g.Pending = true
}

package plan

import (
	"strconv"

	"slipseat/engine/buildup"
	"slipseat/engine/lay"
)

// suffixOf is what the names of a blank's pieces end in where a seat has
// several from the same goods ("-band-front").
func suffixOf(b buildup.Blank, several bool) string {
	if !several {
		return ""
	}
	name := "-" + b.Part.Code()
	switch b.Part {
	case buildup.PartBand, buildup.PartZipBand:
		name += "-" + b.Role.String()
	case buildup.PartFoam:
		name += "-" + strconv.Itoa(b.Layer+1)
	}
	return name
}

// PieceName is the name of a piece: letter and number, "A2"; parts of one seat
// from the same goods add the part, "C1-band-front", parts of a glue-up their
// number, "B2-1", and so do equal pieces of one seat, "C1-zip-band-back-2". Welt strips are numbered through all seats, "welt-3".
func (g GoodsPlan) PieceName(at lay.Place, p *Plan) string {
	k := g.Kinds[at.Kind]
	if k.Blank.Part == buildup.PartWelt {
		return k.suffix + strconv.Itoa(k.first+at.Copy)
	}
	name := p.Seats[k.Seat].Letter + strconv.Itoa(g.Number(at)) + k.suffix
	if n := k.Blank.Count; n > 1 && k.Spoiled == 0 {
		name += "-" + strconv.Itoa(at.Copy%n+1)
	}
	return name
}

// Number is the seat's number, from 1, that a piece is for; 1 for welt strips,
// which serve all seats.
func (g GoodsPlan) Number(at lay.Place) int {
	k := g.Kinds[at.Kind]
	if k.Spoiled > 0 {
		return k.Spoiled
	}
	if i := at.Copy / max(1, k.Blank.Count); i < len(k.Numbers) {
		return k.Numbers[i]
	}
	return 1
}

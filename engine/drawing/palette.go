package drawing

import "image/color"

// Role is what a thing on a drawing is; a Palette gives it a colour.
type Role uint8

// Roles. Ink2 is for secondary text and thin lines, OnAction for text on
// Action. Roll and SheetFill are the grounds
// of a roll of cloth and of a sheet of foam.
const (
	None Role = iota
	Paper
	Table
	Rule // thin lines of grids, tables and frames
	Ink
	Ink2
	Action
	OnAction
	Caution
	CautionRim
	Good
	GoodRim
	Cut // where goods are cut off and bought to
	BoardFill
	BoardLine
	FoamFill
	FoamLine
	CoverFill
	CoverLine
	WaddingFill
	WaddingLine
	DustFill
	DustLine
	Roll
	SheetFill
	Selvedge
	OffcutFill
	FlawFill
	Motif
	tint0
	foamTint0 = tint0 + NumTints
	numRoles  = foamTint0 + NumTints
)

// NumTints is the number of tints that tell kinds of seats apart; the letters
// on the pieces do the same.
const NumTints = 8

// Tint is the fill of a piece of cloth for the seat with index i (0 for A).
func Tint(i int) Role { return tint0 + Role(wrapTint(i)) }

// FoamTint is the fill of a piece of foam for the seat with index i.
func FoamTint(i int) Role { return foamTint0 + Role(wrapTint(i)) }

func wrapTint(i int) int { return ((i % NumTints) + NumTints) % NumTints }

// String is the role's name in text dumps.
func (r Role) String() string {
	names := [...]string{"none", "paper", "table", "rule", "ink", "ink2", "action", "on-action", "caution", "caution-rim",
		"good", "good-rim", "cut", "board", "board-line", "foam", "foam-line", "cover", "cover-line", "wadding",
		"wadding-line", "dust", "dust-line", "roll", "sheet", "selvedge", "offcut", "flaw", "motif"}
	switch {
	case int(r) < len(names):
		return names[r]
	case r < foamTint0:
		return "tint-" + string(rune('A'+r-tint0))
	case r < numRoles:
		return "foam-tint-" + string(rune('A'+r-foamTint0))
	}
	return "?"
}

// Palette gives every role its colour. None is clear.
type Palette [numRoles]color.NRGBA

// Color is the colour of a role.
func (p *Palette) Color(r Role) color.NRGBA {
	if r >= numRoles {
		return color.NRGBA{}
	}
	return p[r]
}

// Light is the palette for light windows.
func Light() *Palette {
	return &Palette{
		Paper: hex(0xFFFEFA), Table: hex(0xF3EEE4), Rule: hex(0xDCD2C2), Ink: hex(0x2A2622), Ink2: hex(0x6B6258),
		Action: hex(0x2F5D62), OnAction: hex(0xFFFFFF), Caution: hex(0xFFF3D6), CautionRim: hex(0xE5B85A),
		Good: hex(0xE7F1EA), GoodRim: hex(0x9BC3A8), Cut: hex(0x9B3D2E),
		BoardFill: hex(0xC89B6A), BoardLine: hex(0x6E4A29), FoamFill: hex(0xF3DE94), FoamLine: hex(0x8F6A08),
		CoverFill: hex(0xDDEBE6), CoverLine: hex(0x2C5F5A), WaddingFill: hex(0xF1EEE8), WaddingLine: hex(0x857B6E),
		DustFill: hex(0xDAD7D2), DustLine: hex(0x57514A),
		Roll: hex(0xE6ECE4), SheetFill: hex(0xFBF3D9), Selvedge: hex(0xC6D2C4), OffcutFill: hex(0xF6F2EA), FlawFill: hex(0xF0CFC7), Motif: hex(0x4E7D63),
		tint0: hex(0xCFE4DB), tint0 + 1: hex(0xF0DFBC), tint0 + 2: hex(0xE4D6E7), tint0 + 3: hex(0xCFDFEE),
		tint0 + 4: hex(0xF3D6D0), tint0 + 5: hex(0xDDE3BE), tint0 + 6: hex(0xD6D6DE), tint0 + 7: hex(0xF3DCC4),
		foamTint0: hex(0xF0D98A), foamTint0 + 1: hex(0xEAC79A), foamTint0 + 2: hex(0xDCD49A), foamTint0 + 3: hex(0xF2E3BB),
		foamTint0 + 4: hex(0xEAC8B6), foamTint0 + 5: hex(0xCFD9A8), foamTint0 + 6: hex(0xD9CDB8), foamTint0 + 7: hex(0xF6D6A0),
	}
}

// Dark is the palette for dark windows; it keeps the roles.
func Dark() *Palette {
	return &Palette{
		Paper: hex(0x181713), Table: hex(0x24211C), Rule: hex(0x3B362F), Ink: hex(0xF1ECE3), Ink2: hex(0xB1A79A),
		Action: hex(0x6FB1B6), OnAction: hex(0x10201F), Caution: hex(0x4A3A17), CautionRim: hex(0xC2963F),
		Good: hex(0x1F3328), GoodRim: hex(0x4F8263), Cut: hex(0xE58B7A),
		BoardFill: hex(0x7D5F3F), BoardLine: hex(0xE3B98D), FoamFill: hex(0x5E4D1B), FoamLine: hex(0xE5C060),
		CoverFill: hex(0x1F3633), CoverLine: hex(0x7CC4BA), WaddingFill: hex(0x3A3731), WaddingLine: hex(0xB4AA9C),
		DustFill: hex(0x33312E), DustLine: hex(0xBBB3A9),
		Roll: hex(0x242B26), SheetFill: hex(0x2E2917), Selvedge: hex(0x3C483F), OffcutFill: hex(0x211F1B), FlawFill: hex(0x5A2A22), Motif: hex(0x86B898),
		tint0: hex(0x24473F), tint0 + 1: hex(0x4D401F), tint0 + 2: hex(0x443349), tint0 + 3: hex(0x263E54),
		tint0 + 4: hex(0x562F28), tint0 + 5: hex(0x3D4420), tint0 + 6: hex(0x3A3A45), tint0 + 7: hex(0x533A23),
		foamTint0: hex(0x5A491A), foamTint0 + 1: hex(0x5C4022), foamTint0 + 2: hex(0x4A4522), foamTint0 + 3: hex(0x4F4530),
		foamTint0 + 4: hex(0x573A2D), foamTint0 + 5: hex(0x3F4725), foamTint0 + 6: hex(0x463F33), foamTint0 + 7: hex(0x604724),
	}
}

// Print is the palette for paper: a white ground, fills that stay lighter than
// the text on them when copied in grey, lines that stay dark.
func Print() *Palette {
	p := *Light()
	p[Paper], p[Table], p[Roll], p[SheetFill], p[OffcutFill] = hex(0xFFFFFF), hex(0xFFFFFF), hex(0xFFFFFF), hex(0xFFFFFF), hex(0xFFFFFF)
	p[Ink], p[Ink2], p[Rule] = hex(0x111111), hex(0x454545), hex(0xB4B0A8)
	p[Selvedge] = hex(0xE2E2DE)
	p[BoardLine], p[FoamLine], p[CoverLine] = hex(0x5A3A1C), hex(0x6A4E00), hex(0x1D4A46)
	p[FlawFill] = hex(0xF2DDD8)
	for i := Role(0); i < NumTints; i++ {
		p[tint0+i] = paler(p[tint0+i])
		p[foamTint0+i] = paler(p[foamTint0+i])
	}
	return &p
}

// paler halves the distance to white.
func paler(c color.NRGBA) color.NRGBA {
	half := func(v uint8) uint8 { return v + (255-v)/2 }
	return color.NRGBA{half(c.R), half(c.G), half(c.B), c.A}
}

func hex(v uint32) color.NRGBA {
	return color.NRGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}
}

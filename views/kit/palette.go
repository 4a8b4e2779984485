package kit

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// Role is what a colour is for. A role has one colour in the light variant and
// one in the dark; widgets name roles, never colours.
type Role = fyne.ThemeColorName

// The roles, from the back of the window to the front.
const (
	Paper       Role = "slipseat.paper"        // the bars at the top and the bottom
	Side        Role = "slipseat.side"         // the columns left and right
	Table       Role = "slipseat.table"        // what the drawing sheet lies on
	Sheet       Role = "slipseat.sheet"        // the drawing sheet
	Grid        Role = "slipseat.grid"         // grid lines on the sheet
	GridStrong  Role = "slipseat.grid-strong"  // every larger grid line
	Raised      Role = "slipseat.raised"       // cards, fields, buttons
	Sunken      Role = "slipseat.sunken"       // fields that only show
	Line        Role = "slipseat.line"         // borders and rules
	LineStrong  Role = "slipseat.line-strong"  // borders of what can be worked
	Chosen      Role = "slipseat.chosen"       // the chosen part of a switch
	Hover       Role = "slipseat.hover"        // under the pointer
	Ink         Role = "slipseat.ink"          // text
	Ink2        Role = "slipseat.ink-2"        // second text
	InkOff      Role = "slipseat.ink-off"      // text of what cannot be used now
	Action      Role = "slipseat.action"       // the one thing to do, the chosen thing
	ActionHover Role = "slipseat.action-hover" // the same under the pointer
	OnAction    Role = "slipseat.on-action"    // text on it
	Caution     Role = "slipseat.caution"      // caution box
	CautionLine Role = "slipseat.caution-line" // its border
	CautionInk  Role = "slipseat.caution-ink"  // its text
	CautionDot  Role = "slipseat.caution-dot"  // the count on a tab
	OnDot       Role = "slipseat.on-dot"       // the figure in it
	Good        Role = "slipseat.good"         // good box
	GoodLine    Role = "slipseat.good-line"    // its border
	GoodInk     Role = "slipseat.good-ink"     // its text
	Wrong       Role = "slipseat.wrong"        // a field that cannot be used as typed
	WrongSoft   Role = "slipseat.wrong-soft"   // behind such a message
	Select      Role = "slipseat.select"       // selected text
	Shade       Role = "slipseat.shade"        // shadow under what floats
	Dim         Role = "slipseat.dim"          // over the window, below a sheet that must be answered
	Clear       Role = "slipseat.clear"        // nothing
)

// pair is a colour in the light and in the dark variant.
type pair struct{ light, dark color.NRGBA }

func rgb(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 0xff}
}

func rgba(v uint32, a uint8) color.NRGBA { c := rgb(v); c.A = a; return c }

// palette gives the colours of a role. Light values are the house colours; the
// dark ones keep the roles and their contrast.
func palette(r Role) (pair, bool) {
	switch r {
	case Paper:
		return pair{rgb(0xFBF8F2), rgb(0x26231F)}, true
	case Side:
		return pair{rgb(0xF8F4EB), rgb(0x22201C)}, true
	case Table:
		return pair{rgb(0xF3EEE4), rgb(0x1D1B18)}, true
	case Sheet:
		return pair{rgb(0xFFFEFA), rgb(0x181713)}, true
	case Grid:
		return pair{rgb(0xF3EFE6), rgb(0x22201B)}, true
	case GridStrong:
		return pair{rgb(0xE9E2D5), rgb(0x2C2923)}, true
	case Raised:
		return pair{rgb(0xFFFFFF), rgb(0x2E2A25)}, true
	case Sunken:
		return pair{rgb(0xF3EEE4), rgb(0x22201C)}, true
	case Line:
		return pair{rgb(0xDCD2C2), rgb(0x403A32)}, true
	case LineStrong:
		return pair{rgb(0xCFC3B0), rgb(0x514A40)}, true
	case Chosen:
		return pair{rgb(0xE6DDCC), rgb(0x4A443A)}, true
	case Hover:
		return pair{rgb(0xF6F1E7), rgb(0x38332C)}, true
	case Ink:
		return pair{rgb(0x2A2622), rgb(0xEDE6DA)}, true
	case Ink2:
		return pair{rgb(0x6B6258), rgb(0xB0A799)}, true
	case InkOff:
		return pair{rgb(0x92897B), rgb(0x8B8376)}, true
	case Action:
		return pair{rgb(0x2F5D62), rgb(0x6AABB0)}, true
	case ActionHover:
		return pair{rgb(0x3A6E74), rgb(0x7DBBC0)}, true
	case OnAction:
		return pair{rgb(0xFFFFFF), rgb(0x10201F)}, true
	case Caution:
		return pair{rgb(0xFFF3D6), rgb(0x382E16)}, true
	case CautionLine:
		return pair{rgb(0xE5B85A), rgb(0x9C7A31)}, true
	case CautionInk:
		return pair{rgb(0x2A2622), rgb(0xF4E6C1)}, true
	case CautionDot:
		return pair{rgb(0xEFC061), rgb(0xD9A63F)}, true
	case OnDot:
		return pair{rgb(0x3A2A05), rgb(0x241A03)}, true
	case Good:
		return pair{rgb(0xE7F1EA), rgb(0x1F3026)}, true
	case GoodLine:
		return pair{rgb(0x9BC3A8), rgb(0x4C7C5D)}, true
	case GoodInk:
		return pair{rgb(0x2A2622), rgb(0xDCEBE1)}, true
	case Wrong:
		return pair{rgb(0x9B3D2E), rgb(0xE58A78)}, true
	case WrongSoft:
		return pair{rgb(0xFBEAE6), rgb(0x3A211C)}, true
	case Select:
		return pair{rgba(0x2F5D62, 0x40), rgba(0x6AABB0, 0x59)}, true
	case Shade:
		return pair{rgba(0x2A2622, 0x26), rgba(0x000000, 0x80)}, true
	case Dim:
		return pair{rgba(0x2A2622, 0x59), rgba(0x000000, 0x8C)}, true
	case Clear:
		return pair{}, true
	}
	return pair{}, false
}

// Colour gives the colour of a role in the variant shown now.
func Colour(r Role) color.Color {
	if r == Clear {
		return color.Transparent // the toolkit leaves out only what is this very value
	}
	return theme.Color(r)
}

// Dark tells whether the dark variant is shown now.
func Dark() bool {
	c, ok := theme.Color(Paper).(color.NRGBA)
	p, _ := palette(Paper)
	return ok && c == p.dark
}

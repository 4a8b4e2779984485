package kit

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"slipseat/assets"
)

// Mode is the user's choice of variant.
type Mode uint8

// Choices of variant.
const (
	FollowSystem Mode = iota
	LightMode
	DarkMode
)

// houseTheme is the look of the window: colours by role, Inter in three
// weights, sizes scaled by the user's text size.
type houseTheme struct {
	mode  Mode
	scale float32
}

var _ fyne.Theme = (*houseTheme)(nil)

// Text sizes the user may choose, as a share of the normal one.
const (
	SmallestText = 0.8
	LargestText  = 1.6
)

// NewTheme makes the theme. Scale is the user's text size, 1 for the normal
// one; it is kept between SmallestText and LargestText.
func NewTheme(mode Mode, scale float32) fyne.Theme {
	if !(scale >= SmallestText) { // also catches NaN
		scale = SmallestText
	}
	if scale > LargestText {
		scale = LargestText
	}
	return &houseTheme{mode: mode, scale: scale}
}

// Fyne asks for faces by style. The house sets no italics, so that style is
// free to mean the medium weight.
var (
	regularFont  = fyne.NewStaticResource("Inter-Regular.ttf", assets.InterRegular)
	mediumFont   = fyne.NewStaticResource("Inter-Medium.ttf", assets.InterMedium)
	semiBoldFont = fyne.NewStaticResource("Inter-SemiBold.ttf", assets.InterSemiBold)
)

// Font implements fyne.Theme.
func (t *houseTheme) Font(s fyne.TextStyle) fyne.Resource {
	switch {
	case s.Symbol, s.Monospace:
		return theme.DefaultTheme().Font(s)
	case s.Bold:
		return semiBoldFont
	case s.Italic:
		return mediumFont
	}
	return regularFont
}

// Icon implements fyne.Theme.
func (t *houseTheme) Icon(n fyne.ThemeIconName) fyne.Resource { return theme.DefaultTheme().Icon(n) }

// Color implements fyne.Theme.
func (t *houseTheme) Color(n fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	switch t.mode {
	case LightMode:
		v = theme.VariantLight
	case DarkMode:
		v = theme.VariantDark
	}
	role, ok := n, true
	if _, own := palette(n); !own {
		role, ok = houseRole(n)
	}
	if !ok {
		return theme.DefaultTheme().Color(n, v)
	}
	p, _ := palette(role)
	if v == theme.VariantDark {
		return p.dark
	}
	return p.light
}

// houseRole gives our role for a colour name of the toolkit's own widgets.
func houseRole(n fyne.ThemeColorName) (Role, bool) {
	switch n {
	case theme.ColorNameBackground:
		return Table, true
	case theme.ColorNameOverlayBackground, theme.ColorNameMenuBackground, theme.ColorNameButton, theme.ColorNameInputBackground:
		return Raised, true
	case theme.ColorNameHeaderBackground, theme.ColorNameDisabledButton:
		return Sunken, true
	case theme.ColorNameForeground:
		return Ink, true
	case theme.ColorNamePlaceHolder:
		return Ink2, true
	case theme.ColorNameDisabled:
		return InkOff, true
	case theme.ColorNamePrimary, theme.ColorNameHyperlink:
		return Action, true
	case theme.ColorNameForegroundOnPrimary:
		return OnAction, true
	case theme.ColorNameHover, theme.ColorNamePressed:
		return Hover, true
	case theme.ColorNameFocus, theme.ColorNameSelection:
		return Select, true
	case theme.ColorNameSeparator, theme.ColorNameInputBorder:
		return Line, true
	case theme.ColorNameScrollBar:
		return LineStrong, true
	case theme.ColorNameScrollBarBackground:
		return Clear, true
	case theme.ColorNameShadow:
		return Shade, true
	case theme.ColorNameError:
		return Wrong, true
	case theme.ColorNameForegroundOnError, theme.ColorNameForegroundOnSuccess, theme.ColorNameForegroundOnWarning:
		return OnAction, true
	case theme.ColorNameSuccess:
		return Action, true
	case theme.ColorNameWarning:
		return CautionLine, true
	}
	return "", false
}

// scaleSize asks the theme for its text scale, so that any widget can find it
// without knowing which theme is set.
const scaleSize fyne.ThemeSizeName = "slipseat.scale"

// Size implements fyne.Theme.
func (t *houseTheme) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case scaleSize:
		return t.scale
	case theme.SizeNameText:
		return 14 * t.scale
	case theme.SizeNameCaptionText:
		return 12 * t.scale
	case theme.SizeNameHeadingText:
		return 20 * t.scale
	case theme.SizeNameSubHeadingText:
		return 17 * t.scale
	case theme.SizeNamePadding:
		return 4
	case theme.SizeNameInnerPadding:
		return 8
	case theme.SizeNameLineSpacing:
		return 3
	case theme.SizeNameInlineIcon:
		return 18 * t.scale
	case theme.SizeNameInputRadius, theme.SizeNameSelectionRadius:
		return 7
	case theme.SizeNameInputBorder, theme.SizeNameSeparatorThickness:
		return 1
	case theme.SizeNameScrollBar:
		return 10
	case theme.SizeNameScrollBarSmall:
		return 4
	case theme.SizeNameScrollBarRadius:
		return 5
	}
	return theme.DefaultTheme().Size(n)
}

// Scale is the user's text size, 1 for the normal one.
func Scale() float32 {
	if s := theme.Size(scaleSize); s >= SmallestText && s <= LargestText {
		return s
	}
	return 1
}

// U scales a size that must grow with the text: heights of rows, widths of
// columns and fields. Gaps do not grow.
func U(v float32) float32 { return v * Scale() }

// Gaps, all on a grid of two.
const (
	Gap2  float32 = 2
	Gap4  float32 = 4
	Gap6  float32 = 6
	Gap8  float32 = 8
	Gap10 float32 = 10
	Gap12 float32 = 12
	Gap14 float32 = 14
	Gap16 float32 = 16
	Gap24 float32 = 24
)

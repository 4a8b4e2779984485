package drawing

import (
	"image/color"
	"math"
	"testing"
)

// contrast is the contrast ratio of two colours (W3C, Web Content Accessibility
// Guidelines 2.1, definition of relative luminance and contrast ratio).
func contrast(a, b color.NRGBA) float64 {
	lum := func(c color.NRGBA) float64 {
		lin := func(v uint8) float64 {
			s := float64(v) / 255
			if s <= 0.03928 {
				return s / 12.92
			}
			return math.Pow((s+0.055)/1.055, 2.4)
		}
		return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
	}
	x, y := lum(a), lum(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func TestContrast(t *testing.T) {
	// The guideline's own extremes: black on white is 21 to 1.
	if c := contrast(hex(0), hex(0xFFFFFF)); math.Abs(c-21) > 1e-9 {
		t.Fatalf("black on white: %v", c)
	}
	plain := []Role{Paper, Table, Roll, SheetFill, OffcutFill, Caution, Good}
	grounds := append(plain[:len(plain):len(plain)], FlawFill)
	for i := range NumTints {
		grounds = append(grounds, Tint(i), FoamTint(i))
	}
	for name, p := range map[string]*Palette{"light": Light(), "dark": Dark(), "print": Print()} {
		need := func(fg, bg Role, least float64) {
			if c := contrast(p.Color(fg), p.Color(bg)); c < least {
				t.Errorf("%s: %v on %v has contrast %.2f, want %.1f", name, fg, bg, c, least)
			}
		}
		for _, g := range grounds {
			need(Ink, g, 7)
		}
		for _, g := range plain { // on pieces all text is in Ink
			need(Ink2, g, 4.5)
		}
		for i := range NumTints {
			need(BoardLine, Tint(i), 4.5)
			need(BoardLine, FoamTint(i), 4.5)
			need(CoverLine, Tint(i), 3)
			need(FoamLine, FoamTint(i), 3)
			need(Cut, Tint(i), 3)
			need(Cut, FoamTint(i), 3)
		}
		need(OnAction, Action, 4.5)
		for _, fg := range []Role{Cut, CoverLine, BoardLine, FoamLine, Action} {
			need(fg, Paper, 4.5)
		}
		need(Ink, BoardFill, 4.5)
		need(Ink, FoamFill, 4.5)
		need(Ink, WaddingFill, 4.5)
		need(CoverLine, CoverFill, 4.5)
		need(WaddingLine, Paper, 3)
	}
}

// TestEveryRoleHasAColour: only None is clear, and every role has its own name.
func TestEveryRoleHasAColour(t *testing.T) {
	names := map[string]Role{}
	for _, p := range []*Palette{Light(), Dark(), Print()} {
		for r := None + 1; r < numRoles; r++ {
			if p.Color(r).A != 255 {
				t.Errorf("%v has no colour", r)
			}
			names[r.String()] = r
		}
		if p.Color(None).A != 0 || p.Color(numRoles+5).A != 0 {
			t.Error("no role should be clear")
		}
	}
	if len(names) != int(numRoles)-1 {
		t.Errorf("%d names for %d roles", len(names), int(numRoles)-1)
	}
}

package kit

import (
	"image/color"
	"math"
	"testing"
)

// luminance and contrast are those of WCAG 2.2 (W3C Recommendation, 2023):
// relative luminance and contrast ratio.
func luminance(c color.NRGBA) float64 {
	lin := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
}

func contrast(a, b color.NRGBA) float64 {
	la, lb := luminance(a), luminance(b)
	if la < lb {
		la, lb = lb, la
	}
	return (la + 0.05) / (lb + 0.05)
}

// Text needs 4.5 to 1, borders and marks that carry meaning 3 to 1 (WCAG 2.2,
// criteria 1.4.3 and 1.4.11, level AA).
func TestContrast(t *testing.T) {
	if got := contrast(rgb(0x000000), rgb(0xFFFFFF)); math.Abs(got-21) > 1e-9 {
		t.Fatalf("black on white: got %v, want 21", got)
	}
	grounds := []Role{Paper, Side, Table, Sheet, Raised, Sunken, Hover, Chosen}
	type want struct {
		ink, ground Role
		least       float64
	}
	var wants []want
	for _, g := range grounds {
		wants = append(wants, want{Ink, g, 4.5}, want{Action, g, 3})
	}
	for _, g := range []Role{Paper, Side, Table, Sheet, Raised, Sunken, Hover} {
		wants = append(wants, want{Ink2, g, 4.5})
	}
	wants = append(wants,
		want{OnAction, Action, 4.5}, want{OnAction, ActionHover, 4.5},
		want{CautionInk, Caution, 4.5}, want{GoodInk, Good, 4.5},
		want{OnDot, CautionDot, 4.5}, want{Wrong, Side, 4.5}, want{Wrong, Raised, 4.5}, want{Ink, WrongSoft, 4.5}, want{Wrong, WrongSoft, 3})
	for _, w := range wants {
		a, okA := palette(w.ink)
		b, okB := palette(w.ground)
		if !okA || !okB {
			t.Fatalf("no colour for %s or %s", w.ink, w.ground)
		}
		for _, v := range []struct {
			name string
			a, b color.NRGBA
		}{{"light", a.light, b.light}, {"dark", a.dark, b.dark}} {
			if got := contrast(v.a, v.b); got < w.least {
				t.Errorf("%s: %s on %s has contrast %.2f, want at least %.1f", v.name, w.ink, w.ground, got, w.least)
			}
		}
	}
}

func TestThemeScaleIsKeptInBounds(t *testing.T) {
	for _, c := range []struct{ in, want float32 }{
		{1, 1}, {0.1, SmallestText}, {9, LargestText}, {float32(math.NaN()), SmallestText},
	} {
		if got := NewTheme(LightMode, c.in).Size(scaleSize); got != c.want {
			t.Errorf("scale %v: got %v, want %v", c.in, got, c.want)
		}
	}
}

package unit

import (
	"math"
	"testing"
)

func TestParseSpellings(t *testing.T) {
	for _, c := range []struct {
		text string
		bare Unit
		want Length
	}{
		{"17 1/2", Inches, 17.5 * In},
		{"17-1/2", Inches, 17.5 * In},
		{"17½", Inches, 17.5 * In},
		{"17 ½", Inches, 17.5 * In},
		{"17.5", Inches, 17.5 * In},
		{"17,5", Inches, 17.5 * In},
		{"½", Inches, 0.5 * In},
		{"1/2", Inches, 0.5 * In},
		{"7⁄8", Inches, 0.875 * In},
		{"3⁵⁄₁₆", Inches, 3.3125 * In},
		{`1' 5 1/2"`, Inches, 17.5 * In},
		{`1'5½"`, Inches, 17.5 * In},
		{"1' 5 1/2", Centimetres, 17.5 * In}, // after feet a bare number is inches
		{"1 ft 5 1/2 in", Inches, 17.5 * In},
		{"17 1/2 inches", Centimetres, 17.5 * In},
		{"44.5 cm", Inches, 445},
		{"445mm", Inches, 445},
		{"44,5", Centimetres, 445},
		{"0.445 m", Inches, 445},
		{"2 yd 6 in", Inches, 78 * In},
		{"3 3/4 yd", Inches, 3.75 * Yd},
		{" 12 ", Millimetres, 12},
		{"0", Inches, 0},
		{"12345 mm", Inches, 12345}, // more digits than a fraction takes
		{"123456.5mm", Inches, 123456.5},
		{"10000", Millimetres, 10000},
		{"54″", Centimetres, 1371.6}, // 54 in = 1371.6 mm exactly
		{"1 yd", Inches, 914.4},      // international yard, 1959
	} {
		got, err := Parse(c.text, c.bare)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if math.Abs(float64(got-c.want)) > 1e-9 {
			t.Errorf("%q: got %v mm, want %v mm", c.text, got.MM(), c.want.MM())
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for text, code := range map[string]string{
		"": CodeEmpty, "  ": CodeEmpty, "-3": CodeNegative, "abc": CodeJunk, "17 1/0": CodeFraction, "17 blah": CodeJunk,
		"17..5": CodeJunk, "5 in 1 ft": CodeJunk, "9999999999 m": CodeHuge, "1000000000.2 mm": CodeHuge, "3 4": CodeJunk, "NaN": CodeJunk, "17 min": CodeJunk,
		"1/": CodeFraction, "--": CodeNegative, "12 in 3 in": CodeJunk,
	} {
		_, err := Parse(text, Inches)
		f, ok := err.(Fault)
		if !ok || f.Code != code {
			t.Errorf("%q: got %v, want %s", text, err, code)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"17 1/2", "17½", `1' 5 1/2"`, "44,5 cm", "3⁵⁄₁₆", "1 yd 2 ft 3 in", "1//2", "9e9", "½½"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := Parse(s, Inches)
		if err != nil {
			if _, ok := err.(Fault); !ok {
				t.Fatalf("%q: error is no Fault: %v", s, err)
			}
			return
		}
		if math.IsNaN(float64(l)) || l < 0 || l > maxTyped {
			t.Fatalf("%q: got %v", s, l)
		}
		c, err := Canonical(s, Inches)
		if err != nil {
			t.Fatalf("%q parses but has no canonical form: %v", s, err)
		}
		if again, err := Canonical(c, Millimetres); err != nil || again != c {
			t.Fatalf("%q: canonical %q becomes %q, %v", s, c, again, err)
		}
		if l2, err := Parse(c, Millimetres); err != nil || l2 != l {
			t.Fatalf("%q = %v mm, but %q = %v mm, %v", s, l, c, l2, err)
		}
	})
}

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
		{"17.", Inches, 17 * In}, // still being typed
		{"17,", Centimetres, 170},
		{".5", Inches, 0.5 * In},
		{"⅟₁₆", Inches, In / 16},
		{"3⅟₁₆ in", Centimetres, 3.0625 * In},
		{"5↉", Inches, 5 * In}, // nought thirds, the last of Unicode's fractions
		{"17 5⁄16", Inches, 17.3125 * In},
		{"17′", Inches, 17 * Ft},
		{"1′ 5½″", Inches, 17.5 * In},
		{"1’ 5½”", Inches, 17.5 * In}, // curly quotes of a phone's keyboard
		{"2 ft", Centimetres, 24 * In},
		{"3 yd 6", Centimetres, 114 * In}, // after yards too
		{"1 m 20", Inches, 1200},          // after metres a bare number is centimetres
		{"1 m 20 cm 5", Inches, 1205},
		{"44\u00a0cm", Inches, 440}, // no-break space
		{"1,125", Inches, 1.125 * In},
		{"1,372 m", Inches, 1372},
		{"0,125 cm", Inches, 1.25},
		{"17  -  1/2", Inches, 17.5 * In},
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
		"1,372 mm": CodeComma, "12,500 cm": CodeComma, "⅟": CodeFraction, "1,234,567 mm": CodeJunk, "Inf": CodeJunk, "1e3": CodeJunk, "17½½": CodeJunk, "½ 1/2": CodeJunk,
		"−3": CodeNegative, "1 ft -3 in": CodeJunk, "5 cm 2 ft": CodeJunk, "/2": CodeJunk, ".": CodeJunk, "in": CodeJunk,
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

// TestFaultSaysWhere: the place is counted in letters, not bytes.
func TestFaultSaysWhere(t *testing.T) {
	for text, want := range map[string]int{"17 blah": 4, "17½ x": 5, "½″ 3": 4, "abc": 1, "17 1/0": 4, "3 1,372 mm": 3, "  12 ?": 4} {
		_, err := Parse(text, Millimetres)
		f, _ := err.(Fault)
		at := 0
		for _, a := range f.Args {
			if a.Name == "at" {
				at, _ = a.Value.(int)
			}
		}
		if at != want {
			t.Errorf("%q: %v points to letter %d, want %d", text, err, at, want)
		}
	}
}

// TestCanonical adds what is missing and nothing else.
func TestCanonical(t *testing.T) {
	for _, c := range []struct {
		text string
		bare Unit
		want string
	}{
		{"17 1/2", Inches, "17 1/2 in"},
		{" 17½ ", DecimalInches, "17½ in"},
		{"44,5", Centimetres, "44,5 cm"},
		{"445mm", Inches, "445mm"},
		{"1' 5", Centimetres, "1' 5 in"},
		{"3 yd 6", Metres, "3 yd 6 in"},
		{"1 m 20", Inches, "1 m 20 cm"},
		{"3", Yards, "3 yd"},
		{"17.", Inches, "17 in"},
	} {
		got, err := Canonical(c.text, c.bare)
		if err != nil || got != c.want {
			t.Errorf("%q: got %q, %v, want %q", c.text, got, err, c.want)
		}
		if again, err := Canonical(got, Metres); err != nil || again != got {
			t.Errorf("%q becomes %q, %v", got, again, err)
		}
	}
}

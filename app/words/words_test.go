package words

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"slipseat/app/words/wordstest"
	"slipseat/assets"
	"slipseat/engine/unit"
)

func shipped(t *testing.T) *Words {
	t.Helper()
	w, err := New(assets.WordsEN)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func source(t *testing.T, folders ...string) *wordstest.Source {
	t.Helper()
	root, err := wordstest.Root()
	if err != nil {
		t.Fatal(err)
	}
	s, err := wordstest.Read(root, folders...)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestEveryCodeHasWords: no code of the engine, of app or of the views lacks
// its words.
func TestEveryCodeHasWords(t *testing.T) {
	w := shipped(t)
	s := source(t, "engine", "app", "views", "cmd")
	miss := func(p wordstest.Place, key string) {
		t.Errorf("%s:%d: the code %q has no words under %s", p.File, p.Line, p.Value, key)
	}
	for _, p := range s.Codes["fault"] {
		if !w.Has("fault." + p.Value) {
			miss(p, "fault."+p.Value)
		}
	}
	for _, p := range s.Codes["why"] {
		if !w.Has("why." + p.Value) {
			miss(p, "why."+p.Value)
		}
	}
	hasCaution := func(code string) bool {
		return w.Has("caution."+code+".title") && w.Has("caution."+code+".text")
	}
	for _, p := range s.Codes["caution"] {
		if !hasCaution(p.Value) {
			miss(p, "caution."+p.Value+".title and .text")
		}
	}
	// What a constant is for does not show where it stands; any family of words
	// will do.
	any := map[string]bool{}
	for _, key := range w.Keys() {
		if _, code, ok := strings.Cut(key, "."); ok {
			any[code], any[strings.TrimSuffix(code, ".text")] = true, true
		}
	}
	for _, p := range s.Codes[""] {
		if !any[p.Value] {
			miss(p, "fault, why, caution, item or another first part")
		}
	}
	if len(s.Codes[""]) < 20 {
		t.Errorf("only %d codes were found: the reading is wrong", len(s.Codes[""]))
	}
	for _, p := range s.Labels {
		// The drawings put "draw." before their keys.
		if p.Value != "draw." && !w.Has("label."+p.Value) {
			miss(p, "label."+p.Value)
		}
	}
}

// TestEveryKeyIsUsed: no words without a use, and no argument that nobody
// gives.
func TestEveryKeyIsUsed(t *testing.T) {
	w := shipped(t)
	s := source(t, "engine", "app", "views", "cmd")
	for _, key := range w.Keys() {
		if key == "app.name" || key == "zz.end" {
			continue
		}
		used := s.Literals[key]
		core := key
		for _, end := range []string{".title", ".text", ".remedy"} {
			core = strings.TrimSuffix(core, end)
		}
		// Keys are put together from parts: any end of the key, cut at a dot,
		// may stand in the source.
		for _, k := range []string{core, key} {
			for rest := k; rest != "" && !used; {
				_, after, ok := strings.Cut(rest, ".")
				if !ok {
					break
				}
				used = used || s.Literals[after] || begun(s, after)
				rest = after
			}
			used = used || begun(s, k)
		}
		if !used {
			t.Errorf("%s: nobody says this", key)
		}
		for _, a := range w.Args(key) {
			if !s.Args[a] && !s.Literals[a] {
				t.Errorf("%s: nobody gives {%s}", key, a)
			}
		}
	}
}

// begun tells whether a literal such as "sheet.title-" begins a key that is put
// together.
func begun(s *wordstest.Source, key string) bool {
	for i := 4; i < len(key); i++ {
		if c := key[i-1]; (c == '-' || c == '.') && s.Literals[key[:i]] && key[:i] != "label." && key[:i] != "fault." && key[:i] != "caution." {
			return true
		}
	}
	return false
}

// TestKeysAreWellFormed: small letters, a known first part, sentences that
// end, no double spaces.
func TestKeysAreWellFormed(t *testing.T) {
	w := shipped(t)
	for _, key := range w.Keys() {
		if strings.Trim(key, "abcdefghijklmnopqrstuvwxyz0123456789.-_") != "" || strings.Contains(key, "..") || !strings.Contains(key, ".") {
			t.Errorf("%s: keys are small letters, digits, dots and dashes", key)
		}
		text := w.Text(key, unit.UnitsFor(unit.Inches))
		first, _, _ := strings.Cut(key, ".")
		// A label may be a part that is joined to others; sentences stand alone.
		if strings.Contains(text, "  ") || first != "label" && strings.TrimSpace(text) != text {
			t.Errorf("%s: stray spaces in %q", key, text)
		}
		if first == "fault" && !strings.HasSuffix(text, ".") {
			t.Errorf("%s: a fault is a whole sentence: %q", key, text)
		}
	}
}

func small(t *testing.T) *Words {
	t.Helper()
	w, err := New([]byte(`{"label.seats": "{n|one seat|# seats}", "label.of": "{word:term}, {length}, {length:figure}, {cloth:cloth}, {long:feet}, {share}, {price}, {area}, {x}",
		"term.foam": "foam", "fault.seat.bow": "Bow {given} is more than {limit}.", "why.foam": "foam", "why.less": "planed off",
		"caution.bind.title": "May bind", "caution.bind.text": "Gap {gap}."}`))
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func TestFilling(t *testing.T) {
	w := small(t)
	in, cm := unit.UnitsFor(unit.Inches), unit.UnitsFor(unit.Centimetres)
	args := []unit.Arg{unit.A("word", "foam"), unit.A("length", 17.5*unit.In), unit.A("cloth", 1.5*unit.Yd), unit.A("long", 67.375*unit.In),
		unit.A("share", 75*unit.Percent/10), unit.A("price", unit.Money(-1205)), unit.A("area", unit.Area(92903.04)), unit.A("x", 1.25)}
	for _, c := range []struct{ got, want string }{
		{w.Label("seats", unit.A("n", 1)), "one seat"},
		{w.Label("seats", unit.A("n", 6)), "6 seats"},
		{w.Label("seats", unit.A("n", 0)), "0 seats"},
		{w.LabelIn("of", in, args...), "foam, 17½ in, 17½, 1½ yd, 5 ft 7⅜ in, 7.5 %, −12.05, 1 sq ft, 1.25"},
		{w.LabelIn("of", cm, args...), "foam, 44.5 cm, 44.5, 1.37 m, 171.1 cm, 7.5 %, −12.05, 0.09 m², 1.25"},
		{w.Fault(unit.Fault{Code: "seat.bow", Args: []unit.Arg{unit.A("given", 9*unit.In), unit.A("limit", 8*unit.In)}}, in), "Bow 9 in is more than 8 in."},
		{w.Fault(unit.Fault{Code: "seat.bow"}, in), "Bow ‹given› is more than ‹limit›."},
		{w.Fault(unit.Fault{Code: "unheard"}, in), "‹fault.unheard›"},
		{fmt.Sprint(w.Caution("bind", cm, unit.A("gap", unit.Length(3)))), "{May bind Gap 0.3 cm. }"},
		{w.WhySentence(unit.Why{Terms: []unit.Term{{Code: "foam", Value: 25.4}, {Code: "less", Value: -12.7}, {Code: "foam"}}}, in), "1 foam − ½ planed off"},
		{w.WhySentence(unit.Why{}, in), "0"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
	lines := w.Why(unit.Why{Terms: []unit.Term{{Code: "foam", Value: 25.4}}}, in)
	if len(lines) != 1 || lines[0] != (WhyLine{"foam", "1"}) {
		t.Errorf("got %v", lines)
	}
}

func TestFaultInAChain(t *testing.T) {
	w, in := small(t), unit.UnitsFor(unit.Inches)
	f := unit.Fault{Code: "seat.bow", Args: []unit.Arg{unit.A("given", unit.In), unit.A("limit", unit.In)}}
	for _, err := range []error{f, &f, fmt.Errorf("seat: %w", f), errors.Join(errors.New("other"), fmt.Errorf("x: %w", f))} {
		if s, ok := w.Error(err, in); !ok || s != "Bow 1 in is more than 1 in." {
			t.Errorf("%v: got %q, %v", err, s, ok)
		}
	}
	for _, err := range []error{nil, errors.New("other")} {
		if _, ok := w.Error(err, in); ok {
			t.Errorf("%v has no fault", err)
		}
	}
}

func TestIllFormedTextsAreRefused(t *testing.T) {
	for _, text := range []string{"{", "}", "{}", "{a", "a}", "{Name}", "{a:shout}", "{a|b}", "{a|b|c|d}", "{1a}"} {
		raw := fmt.Sprintf(`{"label.x": %q}`, text)
		if _, err := New([]byte(raw)); err == nil || !strings.Contains(err.Error(), "label.x") {
			t.Errorf("%q was taken: %v", text, err)
		}
	}
	for _, raw := range []string{"", "[]", `{"a": 1}`, `{"a": {"b": "c"}}`} {
		if _, err := New([]byte(raw)); err == nil {
			t.Errorf("the catalogue %q was taken", raw)
		}
	}
}

func FuzzText(f *testing.F) {
	for _, s := range []string{"{a}", "{n|one|#}", "{l:cloth} x", "a{", "}{"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p, err := parse(s)
		if err != nil {
			return
		}
		if names := p.args(); slices.Contains(names, "") {
			t.Errorf("%q asks for a nameless argument", s)
		}
		(&Words{}).fill(p, unit.UnitsFor(unit.Inches), []unit.Arg{unit.A("a", 1), unit.A("n", "x")})
	})
}

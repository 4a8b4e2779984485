package words

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"slipseat/engine/unit"
)

// text is a parsed entry: literal parts and places for arguments in turn.
type text []piece

type piece struct {
	lit        string // literal text when name is empty
	name, form string
	one, other string // for a choice by count
	choice     bool
}

func (t text) args() []string {
	var names []string
	for _, p := range t {
		if p.name != "" {
			names = append(names, p.name)
		}
	}
	return names
}

// forms are the ways to write an argument that a text may ask for.
var forms = [...]string{"figure", "cloth", "feet", "term", "label"}

// parse reads a text with its places in braces.
func parse(s string) (text, error) {
	var t text
	for s != "" {
		open := strings.IndexByte(s, '{')
		if shut := strings.IndexByte(s, '}'); shut >= 0 && (open < 0 || shut < open) {
			return nil, errors.New("a } without its {")
		}
		if open < 0 {
			return append(t, piece{lit: s}), nil
		}
		if open > 0 {
			t = append(t, piece{lit: s[:open]})
		}
		end := strings.IndexByte(s, '}')
		if end < 0 {
			return nil, errors.New("a { without its }")
		}
		p, err := parsePlace(s[open+1 : end])
		if err != nil {
			return nil, err
		}
		t = append(t, p)
		s = s[end+1:]
	}
	return t, nil
}

func parsePlace(in string) (piece, error) {
	if parts := strings.Split(in, "|"); len(parts) > 1 {
		if len(parts) != 3 || !isName(parts[0]) {
			return piece{}, fmt.Errorf("{%s} should be {name|one|many}", in)
		}
		return piece{name: parts[0], one: parts[1], other: parts[2], choice: true}, nil
	}
	name, form, _ := strings.Cut(in, ":")
	if !isName(name) {
		return piece{}, fmt.Errorf("{%s} is no name", in)
	}
	if form != "" {
		known := false
		for _, f := range forms {
			known = known || f == form
		}
		if !known {
			return piece{}, fmt.Errorf("{%s}: %q is not one of %s", in, form, strings.Join(forms[:], ", "))
		}
	}
	return piece{name: name, form: form}, nil
}

func isName(s string) bool {
	for i, r := range s {
		if !(r >= 'a' && r <= 'z' || r == '_' || i > 0 && r >= '0' && r <= '9') {
			return false
		}
	}
	return s != ""
}

func (w *Words) fill(t text, u unit.Units, args []unit.Arg) string {
	var b strings.Builder
	for _, p := range t {
		if p.name == "" {
			b.WriteString(p.lit)
			continue
		}
		v, ok := find(args, p.name)
		switch {
		case !ok:
			b.WriteString("‹" + p.name + "›")
		case p.choice:
			s := p.other
			if count(v) == 1 {
				s = p.one
			}
			b.WriteString(strings.ReplaceAll(s, "#", w.value(v, "", u)))
		default:
			b.WriteString(w.value(v, p.form, u))
		}
	}
	return b.String()
}

func find(args []unit.Arg, name string) (any, bool) {
	for _, a := range args {
		if a.Name == name {
			return a.Value, true
		}
	}
	return nil, false
}

// count gives the number a choice goes by; NaN for what is no number, which
// takes the form for many.
func count(v any) float64 {
	switch v := v.(type) {
	case int:
		return float64(v)
	case int64:
		return float64(v)
	case float64:
		return v
	}
	return math.NaN()
}

// value writes an argument by its type.
func (w *Words) value(v any, form string, u unit.Units) string {
	switch v := v.(type) {
	case unit.Length:
		switch form {
		case "figure":
			return u.Figure(v)
		case "cloth":
			return u.ClothLabel(v)
		case "feet":
			if !u.Size.Metric() {
				return unit.FeetLabel(v)
			}
		}
		return u.Label(v)
	case unit.Area:
		return u.AreaLabel(v)
	case unit.Money:
		return Money(v)
	case unit.Share:
		return decimals(v.Float()*100) + " %"
	case int:
		return strconv.Itoa(v)
	case int64:
		return strconv.FormatInt(v, 10)
	case float64:
		return decimals(v)
	case string:
		switch form {
		case "term":
			return w.Term(v)
		case "label":
			return w.LabelIn(v, u)
		}
		return v
	}
	return fmt.Sprint(v)
}

// decimals writes a plain number with at most two decimals.
func decimals(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "?"
	}
	s := strconv.FormatFloat(v, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		s = "0"
	}
	return strings.Replace(s, "-", "−", 1)
}

// Money writes an amount with two decimals, "1,265.40" without the grouping
// comma: "1265.40".
func Money(m unit.Money) string {
	s := strconv.FormatInt(int64(m), 10)
	sign := ""
	if s[0] == '-' {
		sign, s = "−", s[1:]
	}
	for len(s) < 3 {
		s = "0" + s
	}
	return sign + s[:len(s)-2] + "." + s[len(s)-2:]
}

// Figure writes the value of a figure by its kind, lengths without their unit.
func Figure(k unit.Kind, v float64, u unit.Units) string {
	switch k {
	case unit.KindLength:
		return u.Figure(unit.Length(v))
	case unit.KindArea:
		return u.AreaLabel(unit.Area(v))
	case unit.KindMoney:
		return Money(unit.Money(math.Round(v)))
	}
	return decimals(v)
}

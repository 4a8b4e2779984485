package unit

import (
	"math"
	"strings"
	"unicode"
)

// Unit is a unit that lengths are typed or shown in.
type Unit uint8

// Units. Inches are shown with fractions to a sixteenth, DecimalInches with a
// decimal point.
const (
	Inches Unit = iota
	DecimalInches
	Centimetres
	Millimetres
	Yards
	Metres
	Feet
)

// Of is the length of one of the unit.
func (u Unit) Of() Length {
	switch u {
	case Centimetres:
		return CM
	case Millimetres:
		return MM
	case Yards:
		return Yd
	case Metres:
		return M
	case Feet:
		return Ft
	}
	return In
}

// Symbol is the unit's written form.
func (u Unit) Symbol() string {
	switch u {
	case Centimetres:
		return "cm"
	case Millimetres:
		return "mm"
	case Yards:
		return "yd"
	case Metres:
		return "m"
	case Feet:
		return "ft"
	}
	return "in"
}

// Metric tells whether the unit belongs to the metric system.
func (u Unit) Metric() bool { return u == Centimetres || u == Millimetres || u == Metres }

// maxTyped is the largest length that can be typed, one kilometre; beyond it a
// number is a slip of the keyboard whatever it is meant for.
const maxTyped = 1e6

// Codes of the faults that Parse returns. Every fault carries the text as
// typed; CodeJunk also the part that was not understood.
const (
	CodeEmpty    = "length.empty"
	CodeJunk     = "length.not-understood"
	CodeNegative = "length.negative"
	CodeFraction = "length.fraction"
	CodeHuge     = "length.huge"
)

// Parse reads a length as people write it: "17 1/2", "17-1/2", "17½", "17.5",
// "17,5", `1' 5 1/2"`, "1 ft 5 1/2 in", "2 yd 6 in", "44.5 cm", "445mm". A
// number without a unit takes bare. The error is always a Fault.
func Parse(text string, bare Unit) (Length, error) {
	parts, fault := split(text, bare)
	if fault != nil {
		return 0, *fault
	}
	var sum Length
	for _, p := range parts {
		sum += Length(p.value) * p.unit.Of()
	}
	if math.IsNaN(float64(sum)) || math.IsInf(float64(sum), 0) || sum > maxTyped {
		return 0, Fault{Code: CodeHuge, Args: []Arg{A("text", strings.TrimSpace(text))}}
	}
	return sum, nil
}

// Canonical adds the unit to a typed length that lacks it: "17 1/2" becomes
// "17 1/2 in" when bare is Inches. What was typed otherwise stays as typed, so
// Canonical is a fixed point of itself. The error is that of Parse.
func Canonical(text string, bare Unit) (string, error) {
	text = strings.TrimSpace(text)
	parts, fault := split(text, bare)
	if fault != nil {
		return "", *fault
	}
	if _, err := Parse(text, bare); err != nil {
		return "", err
	}
	if parts[len(parts)-1].bare {
		text += " " + parts[len(parts)-1].unit.Symbol()
	}
	return text, nil
}

type part struct {
	value float64
	unit  Unit
	bare  bool // no unit was written
}

// split reads the text as a row of numbers with units.
func split(text string, bare Unit) ([]part, *Fault) {
	s := &scanner{rest: strings.TrimSpace(text), whole: strings.TrimSpace(text)}
	if s.rest == "" {
		return nil, &Fault{Code: CodeEmpty}
	}
	if r := []rune(s.rest)[0]; r == '-' || r == '−' || r == '–' {
		return nil, &Fault{Code: CodeNegative, Args: []Arg{A("text", s.whole)}}
	}
	s.rest = strings.TrimPrefix(s.rest, "+")
	var parts []part
	for s.skip(); s.rest != ""; s.skip() {
		v, f := s.number()
		if f != nil {
			return nil, f
		}
		u, ok := s.unit()
		p := part{value: v, unit: u}
		if !ok {
			p.bare, p.unit = true, bare
			// After feet a bare number is inches: 1' 5 1/2.
			if n := len(parts); n > 0 && parts[n-1].unit == Feet {
				p.unit = Inches
			}
		}
		if n := len(parts); n > 0 {
			prev := parts[n-1]
			// A row of units must fall: feet then inches, yards then inches.
			if prev.bare || prev.unit.Of() <= p.unit.Of() {
				return nil, s.junk()
			}
		}
		parts = append(parts, p)
	}
	if len(parts) == 0 {
		return nil, s.junk()
	}
	return parts, nil
}

type scanner struct{ rest, whole string }

func (s *scanner) junk() *Fault {
	rest := s.rest
	if rest == "" {
		rest = s.whole
	}
	return &Fault{Code: CodeJunk, Args: []Arg{A("text", s.whole), A("rest", rest)}}
}

func (s *scanner) skip() { s.rest = strings.TrimLeftFunc(s.rest, unicode.IsSpace) }

func (s *scanner) peek() rune {
	for _, r := range s.rest {
		return r
	}
	return 0
}

func (s *scanner) drop(r rune) { s.rest = strings.TrimPrefix(s.rest, string(r)) }

// number reads "17", "17.5", "17,5", "17 1/2", "17-1/2", "17½", "1/2", "½" and
// fractions in raised and lowered digits.
func (s *scanner) number() (float64, *Fault) {
	if v, ok := s.vulgar(); ok {
		return v, nil
	}
	if v, ok, f := s.fraction(); ok || f != nil {
		return v, f
	}
	v, ok := s.decimal()
	if !ok {
		return 0, s.junk()
	}
	if v != math.Trunc(v) {
		return v, nil
	}
	// A fraction may follow a whole number, after a space, a hyphen or nothing.
	keep := s.rest
	s.skip()
	if r := s.peek(); r == '-' || r == '‐' || r == '‑' {
		s.drop(r)
		s.skip()
		if f, ok := s.vulgar(); ok {
			return v + f, nil
		}
		if f, ok, fault := s.fraction(); fault != nil {
			return 0, fault
		} else if ok {
			return v + f, nil
		}
		s.rest = keep
		return 0, s.junk()
	}
	if f, ok := s.vulgar(); ok {
		return v + f, nil
	}
	if f, ok, fault := s.fraction(); fault != nil {
		return 0, fault
	} else if ok {
		return v + f, nil
	}
	s.rest = keep
	return v, nil
}

// decimal reads digits with at most one decimal point or comma.
func (s *scanner) decimal() (float64, bool) {
	end, seen, point := 0, false, -1
	for i, r := range s.rest {
		if r >= '0' && r <= '9' {
			seen = true
		} else if (r == '.' || r == ',') && point < 0 && i+1 < len(s.rest) && isDigit(s.rest[i+1]) {
			point = i
		} else {
			break
		}
		end = i + 1
	}
	if !seen {
		return 0, false
	}
	var v, scale float64 = 0, 1
	for i := 0; i < end; i++ {
		if i == point {
			continue
		}
		v = v*10 + float64(s.rest[i]-'0')
		if point >= 0 && i > point {
			scale *= 10
		}
	}
	s.rest = s.rest[end:]
	return v / scale, true
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }

// fraction reads "1/2" or raised over lowered digits; it leaves the text alone
// when no fraction stands there.
func (s *scanner) fraction() (float64, bool, *Fault) {
	keep := s.rest
	over, ok := s.digits(supers)
	if !ok {
		s.rest = keep // a number too long for a fraction was begun
		return 0, false, nil
	}
	if r := s.peek(); r == '/' || r == '⁄' || r == '∕' {
		s.drop(r)
	} else {
		s.rest = keep
		return 0, false, nil
	}
	under, ok := s.digits(subs)
	if !ok || under == 0 || over >= under*1000 {
		s.rest = keep
		return 0, false, &Fault{Code: CodeFraction, Args: []Arg{A("text", s.whole), A("rest", keep)}}
	}
	return over / under, true, nil
}

const (
	supers = "⁰¹²³⁴⁵⁶⁷⁸⁹"
	subs   = "₀₁₂₃₄₅₆₇₈₉"
)

// digits reads up to four digits, plain or from the given set.
func (s *scanner) digits(set string) (float64, bool) {
	raised := []rune(set)
	v, n := 0.0, 0
	var plain bool // plain and raised digits do not mix in one number
	for n < 5 {
		r := s.peek()
		d := -1
		if r >= '0' && r <= '9' && (n == 0 || plain) {
			d, plain = int(r-'0'), true
		}
		for i, q := range raised {
			if r == q && !plain {
				d = i
			}
		}
		if d < 0 {
			break
		}
		v = v*10 + float64(d)
		n++
		s.drop(r)
	}
	return v, n > 0 && n < 5
}

// vulgar reads one of the ready-made fraction characters.
func (s *scanner) vulgar() (float64, bool) {
	r := s.peek()
	for _, f := range vulgarFractions {
		if f.char == r {
			s.drop(r)
			return float64(f.over) / float64(f.under), true
		}
	}
	return 0, false
}

// vulgarFractions are the fraction characters of Unicode's Latin-1 and Number
// Forms blocks that name a share of a unit.
var vulgarFractions = [...]struct {
	char        rune
	over, under int
}{
	{'½', 1, 2}, {'¼', 1, 4}, {'¾', 3, 4}, {'⅛', 1, 8}, {'⅜', 3, 8}, {'⅝', 5, 8}, {'⅞', 7, 8},
	{'⅓', 1, 3}, {'⅔', 2, 3}, {'⅕', 1, 5}, {'⅖', 2, 5}, {'⅗', 3, 5}, {'⅘', 4, 5}, {'⅙', 1, 6},
	{'⅚', 5, 6}, {'⅐', 1, 7}, {'⅑', 1, 9}, {'⅒', 1, 10},
}

// unitNames are tried in order: longer names before their beginnings.
var unitNames = [...]struct {
	name string
	unit Unit
}{
	{"inches", Inches}, {"inch", Inches}, {"in.", Inches}, {"in", Inches},
	{"feet", Feet}, {"foot", Feet}, {"ft.", Feet}, {"ft", Feet},
	{"yards", Yards}, {"yard", Yards}, {"yds", Yards}, {"yd.", Yards}, {"yd", Yards},
	{"millimetres", Millimetres}, {"millimeters", Millimetres}, {"millimetre", Millimetres}, {"millimeter", Millimetres}, {"mm", Millimetres},
	{"centimetres", Centimetres}, {"centimeters", Centimetres}, {"centimetre", Centimetres}, {"centimeter", Centimetres}, {"cm", Centimetres},
	{"metres", Metres}, {"meters", Metres}, {"metre", Metres}, {"meter", Metres}, {"m", Metres},
	{"''", Inches}, {"′′", Inches}, {"\"", Inches}, {"″", Inches}, {"”", Inches}, {"“", Inches},
	{"'", Feet}, {"′", Feet}, {"’", Feet},
}

// unit reads a unit name; it leaves the text alone when there is none.
func (s *scanner) unit() (Unit, bool) {
	keep := s.rest
	s.skip()
	low := strings.ToLower(s.rest)
	for _, n := range unitNames {
		if !strings.HasPrefix(low, n.name) || len(low) != len(s.rest) {
			continue
		}
		after := s.rest[len(n.name):]
		// "min" is not "m" with something behind it.
		if last := n.name[len(n.name)-1]; last >= 'a' && last <= 'z' {
			if r := []rune(after + " ")[0]; unicode.IsLetter(r) {
				continue
			}
		}
		s.rest = after
		return n.unit, true
	}
	s.rest = keep
	return 0, false
}

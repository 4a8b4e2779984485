package unit

import (
	"math"
	"strings"
	"unicode"
	"unicode/utf8"
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
// typed; CodeJunk, CodeFraction and CodeComma also what was not understood, from
// there to the end, as rest, and where that begins as at, counted in letters
// from 1.
const (
	CodeEmpty    = "length.empty"
	CodeJunk     = "length.not-understood"
	CodeNegative = "length.negative"
	CodeFraction = "length.fraction"
	CodeHuge     = "length.huge"
	// CodeComma: "1,372 mm" may mean a metre and a bit, or a millimetre and a bit.
	CodeComma = "length.comma"
)

// Parse reads a length as people write it: "17 1/2", "17-1/2", "17½", "17.5",
// "17,5", `1' 5 1/2"`, "1 ft 5 1/2 in", "2 yd 6 in", "44.5 cm", "445mm". A
// number without a unit takes bare, after another unit the next smaller one.
// The error is always a Fault.
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
		text = strings.TrimRight(text, ".,") + " " + parts[len(parts)-1].unit.Symbol()
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
		start := s.rest
		v, f := s.number()
		if f != nil {
			return nil, f
		}
		grouped := thousands(start[:len(start)-len(s.rest)])
		u, ok := s.unit()
		p := part{value: v, unit: u}
		if !ok {
			p.bare, p.unit = true, bare
			if n := len(parts); n > 0 {
				p.unit = below(parts[n-1].unit)
			}
		}
		if grouped && (p.unit == Millimetres || p.unit == Centimetres) {
			s.rest = start
			return nil, s.fault(CodeComma)
		}
		if n := len(parts); n > 0 {
			prev := parts[n-1]
			// A row of units must fall: feet then inches, yards then inches.
			if prev.bare || prev.unit.Of() <= p.unit.Of() {
				s.rest = start
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

// below is the unit of a number without one that follows a number of u, as in
// 1' 5 1/2 or 1 m 20.
func below(u Unit) Unit {
	switch u {
	case Metres:
		return Centimetres
	case Centimetres, Millimetres:
		return Millimetres
	}
	return Inches
}

// thousands tells whether a number is written with one comma before three
// digits, which some read as a thousand and some as a decimal fraction.
func thousands(number string) bool {
	whole, rest, comma := strings.Cut(strings.TrimSpace(number), ",")
	if !comma || len(rest) != 3 || len(whole) > 3 || whole == "" || whole[0] == '0' {
		return false
	}
	return strings.Trim(whole+rest, "0123456789") == ""
}

type scanner struct{ rest, whole string }

func (s *scanner) junk() *Fault { return s.fault(CodeJunk) }

// fault points to the rest of the text, to the whole when nothing is left.
func (s *scanner) fault(code string) *Fault {
	rest := s.rest
	if rest == "" {
		rest = s.whole
	}
	at := utf8.RuneCountInString(s.whole) - utf8.RuneCountInString(rest) + 1
	return &Fault{Code: code, Args: []Arg{A("text", s.whole), A("rest", rest), A("at", at)}}
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
		} else if (r == '.' || r == ',') && point < 0 && (i+1 < len(s.rest) && isDigit(s.rest[i+1]) || seen && strings.TrimSpace(s.rest[i+1:]) == "") {
			point = i // a point at the end is one that is still being typed
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
	if s.peek() == '⅟' { // one over what follows
		s.drop('⅟')
		if under, ok := s.digits(subs); ok && under > 0 {
			return 1 / under, true, nil
		}
		s.rest = keep
		return 0, false, s.fault(CodeFraction)
	}
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
		return 0, false, s.fault(CodeFraction)
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

package outlinefile

import (
	"math"
	"strconv"
	"strings"

	"slipseat/engine/unit"
)

// scanner reads the numbers of attributes (SVG 2 section 9.3.9, the grammar of
// path data): signs, decimals and exponents run into each other without
// separators where they can only mean one thing, as in "1.5.5-2".
type scanner struct {
	s    string
	i    int
	huge bool // a number was beyond all reason
}

func (s *scanner) space() {
	for s.i < len(s.s) && strings.IndexByte(" \t\r\n\f", s.s[s.i]) >= 0 {
		s.i++
	}
}

// skip passes white space with at most one comma.
func (s *scanner) skip() {
	s.space()
	if s.i < len(s.s) && s.s[s.i] == ',' {
		s.i++
		s.space()
	}
}

func (s *scanner) digits() int {
	n := 0
	for s.i < len(s.s) && s.s[s.i] >= '0' && s.s[s.i] <= '9' {
		s.i++
		n++
	}
	return n
}

// number reads a number after a separator; false leaves the place unchanged.
func (s *scanner) number() (float64, bool) {
	begin := s.i
	s.skip()
	from := s.i
	if s.i < len(s.s) && (s.s[s.i] == '+' || s.s[s.i] == '-') {
		s.i++
	}
	n := s.digits()
	if s.i < len(s.s) && s.s[s.i] == '.' {
		dot := s.i
		s.i++
		if k := s.digits(); k == 0 && n == 0 {
			s.i = dot
		} else {
			n += k
		}
	}
	if n == 0 {
		s.i = begin
		return 0, false
	}
	if s.i < len(s.s) && (s.s[s.i] == 'e' || s.s[s.i] == 'E') {
		mark := s.i
		s.i++
		if s.i < len(s.s) && (s.s[s.i] == '+' || s.s[s.i] == '-') {
			s.i++
		}
		if s.digits() == 0 {
			s.i = mark // the e of "em" or "ex"
		}
	}
	v, err := strconv.ParseFloat(s.s[from:s.i], 64)
	if err != nil || !(math.Abs(v) <= maxNumber) {
		s.huge = true
		return 0, false
	}
	return v, true
}

// flag reads one 0 or 1, which needs no separator behind it.
func (s *scanner) flag() (bool, bool) {
	begin := s.i
	s.skip()
	if s.i < len(s.s) && (s.s[s.i] == '0' || s.s[s.i] == '1') {
		s.i++
		return s.s[s.i-1] == '1', true
	}
	s.i = begin
	return false, false
}

// bad says what could not be read, from where it begins.
func (s *scanner) bad() *unit.Fault {
	rest := s.s[min(s.i, len(s.s)):]
	return &unit.Fault{Code: CodePath, Args: []unit.Arg{unit.A("at", s.i+1), unit.A("text", named(rest[:min(len(rest), 20)]))}}
}

// numbersOf reads exactly n numbers.
func numbersOf(s string, n int) ([]float64, bool) {
	sc := scanner{s: s}
	var out []float64
	for {
		v, ok := sc.number()
		if !ok {
			break
		}
		if out = append(out, v); len(out) > n {
			return nil, false
		}
	}
	sc.space()
	return out, len(out) == n && sc.i == len(s)
}

// cssUnits are the absolute units in CSS pixels (CSS Values and Units 3,
// section 6.2).
var cssUnits = map[string]float64{"": 1, "px": 1, "in": 96, "cm": 96 / 2.54, "mm": 96 / 25.4, "q": 96 / 101.6, "pt": 96. / 72, "pc": 16}

// rootLength reads the width or height of the outermost element in pixels.
// said tells that it names a length on paper.
func rootLength(s string) (v float64, said, ok bool) {
	sc := scanner{s: strings.TrimSpace(s)}
	v, ok = sc.number()
	u := strings.ToLower(strings.TrimSpace(sc.s[sc.i:]))
	f, known := cssUnits[u]
	if !ok || !known || !(v > 0) {
		return 0, false, false
	}
	return v * f, u != "" && u != "px", true
}

// fontSize stands for em and ex where nothing says otherwise, in pixels.
const fontSize = 16

// len reads a length of an element in user units. A percentage is one of the
// viewport's width, height or diagonal/√2 for 'o' (SVG 1.1 section 7.10).
func (r *svgReader) len(n *node, name string, axis byte, def float64) float64 {
	s := strings.TrimSpace(n.prop(name))
	if s == "" || s == "auto" {
		return def
	}
	sc := scanner{s: s}
	v, ok := sc.number()
	if !ok {
		if sc.huge {
			r.fault = huge()
		} else if r.fault == nil {
			r.fault = &unit.Fault{Code: CodeNumber, Args: []unit.Arg{unit.A("text", named(s))}}
		}
		return def
	}
	switch u := strings.ToLower(strings.TrimSpace(s[sc.i:])); u {
	case "%":
		whole := r.view.X
		switch axis {
		case 'y':
			whole = r.view.Y
		case 'o':
			whole = r.view.Len() / math.Sqrt2
		}
		return v / 100 * whole
	case "em", "rem":
		return v * fontSize
	case "ex", "ch":
		return v * fontSize / 2
	default:
		f, known := cssUnits[u]
		if !known {
			r.fault = &unit.Fault{Code: CodeNumber, Args: []unit.Arg{unit.A("text", named(s))}}
			return def
		}
		return v * f
	}
}

// transformOf reads a list of transforms (SVG 1.1 section 7.6).
func transformOf(s string) (matrix, bool) {
	m := unity
	for {
		s = strings.TrimLeft(s, " \t\r\n\f,")
		if s == "" || s == "none" {
			return m, true
		}
		name, rest, ok := strings.Cut(s, "(")
		if !ok {
			return m, false
		}
		body, next, ok := strings.Cut(rest, ")")
		if !ok {
			return m, false
		}
		s = next
		sc := scanner{s: strings.NewReplacer("px", "", "deg", "").Replace(body)}
		var v []float64
		for {
			x, ok := sc.number()
			if !ok {
				break
			}
			if v = append(v, x); len(v) > 6 {
				return m, false
			}
		}
		if sc.space(); sc.i < len(sc.s) {
			return m, false
		}
		one, ok := transform(strings.TrimSpace(name), v)
		if !ok {
			return m, false
		}
		m = m.mul(one)
	}
}

func transform(name string, v []float64) (matrix, bool) {
	switch n := len(v); {
	case name == "matrix" && n == 6:
		return matrix{v[0], v[1], v[2], v[3], v[4], v[5]}, true
	case name == "translate" && n == 1:
		return translated(v[0], 0), true
	case name == "translate" && n == 2:
		return translated(v[0], v[1]), true
	case name == "scale" && n == 1:
		return scaled(v[0], v[0]), true
	case name == "scale" && n == 2:
		return scaled(v[0], v[1]), true
	case name == "rotate" && n == 1:
		return rotated(v[0]), true
	case name == "rotate" && n == 3:
		return translated(v[1], v[2]).mul(rotated(v[0])).mul(translated(-v[1], -v[2])), true
	case name == "skewX" && n == 1:
		return matrix{a: 1, c: math.Tan(v[0] * math.Pi / 180), d: 1}, true
	case name == "skewY" && n == 1:
		return matrix{a: 1, b: math.Tan(v[0] * math.Pi / 180), d: 1}, true
	}
	return unity, false
}

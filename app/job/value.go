package job

import (
	"math"
	"strconv"
	"strings"

	"slipseat/engine/unit"
)

// Measure is a length as it was typed, with its unit: "17 1/2 in". What was
// typed is the only truth; empty means not given.
type Measure string

// Length reads the measure; an empty one is 0. Every unit is written out, so
// none is assumed.
func (m Measure) Length() (unit.Length, error) {
	if m == "" {
		return 0, nil
	}
	return unit.Parse(string(m), unit.Inches)
}

// Or reads the measure, or gives def when it is empty or cannot be read;
// Validate has told the reader of the second case.
func (m Measure) Or(def unit.Length) unit.Length {
	if l, err := m.Length(); m != "" && err == nil {
		return l
	}
	return def
}

// Opt is the measure as an optional length.
func (m Measure) Opt() unit.Opt {
	if l, err := m.Length(); m != "" && err == nil {
		return unit.Some(l)
	}
	return unit.Opt{}
}

// MeasureOf writes a length in a unit, as a field would hold it.
func MeasureOf(l unit.Length, u unit.Unit) Measure { return Measure(unit.Typed(l, u)) }

// Percent is a share as it was typed: "7.5 %". Empty means not given.
type Percent string

// Share reads the percentage exactly, in parts per million; empty is 0.
func (p Percent) Share() (unit.Share, error) {
	s := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(string(p)), "%"))
	if s == "" {
		return 0, nil
	}
	v, ok := decimal(s, 4)
	if !ok || v > int64(unit.Whole)*10 {
		return 0, unit.Fault{Code: CodePercent, Args: []unit.Arg{unit.A("text", string(p))}}
	}
	return unit.Share(v), nil
}

// Amount is money as it was typed, without its currency: "34.00". Empty means
// not given.
type Amount string

// Money reads the amount in minor units, two decimals; empty is 0.
func (a Amount) Money() (unit.Money, error) {
	s := strings.TrimSpace(string(a))
	if s == "" {
		return 0, nil
	}
	v, ok := decimal(s, 2)
	if !ok || v > maxMoney {
		return 0, unit.Fault{Code: CodeMoney, Args: []unit.Arg{unit.A("text", string(a))}}
	}
	return unit.Money(v), nil
}

// maxMoney is ten million units of currency; more is a slip of the keyboard.
const maxMoney = 1_000_000_000

// AmountOf writes money with two decimals.
func AmountOf(m unit.Money) Amount {
	sign := ""
	if m < 0 {
		sign, m = "-", -m
	}
	frac := strconv.FormatInt(int64(m%100), 10)
	if len(frac) < 2 {
		frac = "0" + frac
	}
	return Amount(sign + strconv.FormatInt(int64(m/100), 10) + "." + frac)
}

// decimal reads digits with a decimal point or comma as a whole number of the
// given decimal place; more places than that are refused.
func decimal(s string, places int) (int64, bool) {
	s = strings.Replace(s, ",", ".", 1)
	whole, frac, _ := strings.Cut(s, ".")
	if len(frac) > places || len(whole) > 12 || whole == "" && frac == "" {
		return 0, false
	}
	digits := whole + frac + strings.Repeat("0", places-len(frac))
	for _, r := range digits {
		if r < '0' || r > '9' {
			return 0, false
		}
	}
	v, err := strconv.ParseInt(digits, 10, 64)
	return v, err == nil && v >= 0 && v < math.MaxInt64
}

// ID names an object of a job for good: ten random characters.
type ID string

// idLetters leave out what is easily confused when read aloud.
const idLetters = "abcdefghjkmnpqrstuvwxyz23456789"

// NewID draws an ID from a source of random bytes.
func NewID(random func([]byte)) ID {
	var b [10]byte
	random(b[:])
	for i := range b {
		b[i] = idLetters[int(b[i])%len(idLetters)]
	}
	return ID(b[:])
}

// Choice is a word out of a fixed list.
type Choice interface{ Choices() []string }

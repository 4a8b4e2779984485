package job

import (
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

// Exactly writes a length in millimetres so that it reads back the same, for
// places that must not be rounded.
func Exactly(l unit.Length) Measure {
	return Measure(strconv.FormatFloat(l.MM(), 'f', -1, 64) + " mm")
}

// Percent is a share as it was typed: "7.5 %". Empty means not given.
type Percent string

// Share reads the percentage exactly, in parts per million; empty is 0.
func (p Percent) Share() (unit.Share, error) {
	s := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(string(p)), "%"))
	if s == "" && p == "" {
		return 0, nil
	}
	v, ok := decimal(s, 4)
	if !ok || v > maxShare {
		return 0, unit.Fault{Code: CodePercent, Args: []unit.Arg{unit.A("text", string(p))}}
	}
	return unit.Share(v), nil
}

// PercentOf writes a share as a percentage.
func PercentOf(s unit.Share) Percent {
	text := strconv.FormatFloat(float64(s)/float64(unit.Percent), 'f', 4, 64)
	return Percent(strings.TrimRight(strings.TrimRight(text, "0"), ".") + " %")
}

// maxShare, 1000 %, is far more than any of the shares of a job can be; the
// fields have limits of their own.
const maxShare = int64(unit.Whole) * 10

// Opt is the share and whether it is given.
func (p Percent) Opt() (unit.Share, bool) {
	s, err := p.Share()
	return s, p != "" && err == nil
}

// Amount is money as it was typed, without its currency: "34.00". Empty means
// not given.
type Amount string

// Money reads the amount in minor units, two decimals; empty is 0.
func (a Amount) Money() (unit.Money, error) {
	if a == "" {
		return 0, nil
	}
	v, ok := decimal(strings.TrimSpace(string(a)), 2)
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
// given decimal place; more places than that are refused, so nothing is ever
// rounded.
func decimal(s string, places int) (int64, bool) {
	s = strings.Replace(s, ",", ".", 1)
	whole, frac, point := strings.Cut(s, ".")
	if len(frac) > places || len(whole) > 12 || whole == "" && frac == "" || point && frac == "" {
		return 0, false
	}
	digits := whole + frac + strings.Repeat("0", places-len(frac))
	for i := range len(digits) {
		if digits[i] < '0' || digits[i] > '9' {
			return 0, false
		}
	}
	v, err := strconv.ParseInt(digits, 10, 64)
	return v, err == nil
}

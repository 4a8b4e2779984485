package unit

import (
	"math"
	"strconv"
	"strings"
)

// sixteenths is the finest fraction of an inch that is shown.
const sixteenths = 16

// Text writes a length as it is typed, without its unit: "17 1/2", "44.5".
// Inches are rounded to the nearest sixteenth, decimal inches to a thousandth,
// centimetres to a tenth of a millimetre, millimetres to a tenth.
func Text(l Length, u Unit) string {
	switch u {
	case Inches:
		return fractions(l.In(), plainFraction)
	case DecimalInches:
		return trimZeros(l.In(), 3)
	case Centimetres:
		return trimZeros(l.CM(), 2)
	case Millimetres:
		return trimZeros(l.MM(), 1)
	case Yards:
		return trimZeros(l.Yd(), 3)
	case Feet:
		return trimZeros(float64(l/Ft), 3)
	}
	return trimZeros(l.M(), 3)
}

// Typed writes a length as it is typed, with its unit: "17 1/2 in".
func Typed(l Length, u Unit) string { return Text(l, u) + " " + u.Symbol() }

// Figure writes a length for labels, without its unit: "17½", "44.5". Metric
// figures follow the unit's usual precision: centimetres to a millimetre,
// millimetres whole.
func Figure(l Length, u Unit) string {
	switch u {
	case Inches:
		return fractions(l.In(), prettyFraction)
	case Centimetres:
		return trimZeros(l.CM(), 1)
	case Millimetres:
		return trimZeros(l.MM(), 0)
	case Yards:
		return eighths(l.Yd())
	case Metres:
		return trimZeros(l.M(), 2)
	}
	return Text(l, u)
}

// Label writes a length for labels with its unit: "17½ in".
func Label(l Length, u Unit) string { return Figure(l, u) + " " + u.Symbol() }

// FeetLabel writes a long length in feet and inches: "5 ft 7⅜ in"; below a
// foot in inches alone.
func FeetLabel(l Length) string {
	n := math.Round(l.In() * sixteenths)
	feet := math.Floor(n / (12 * sixteenths))
	inches := Length((n-feet*12*sixteenths)/sixteenths) * In
	if feet == 0 {
		return Label(inches, Inches)
	}
	s := strconv.FormatFloat(feet, 'f', -1, 64) + " ft"
	if inches > 0 {
		s += " " + Label(inches, Inches)
	}
	return s
}

// YardsLabel writes a length of cloth in yards and inches: "3 yd 6 in",
// "3 yd", "27 in".
func YardsLabel(l Length) string {
	n := math.Round(l.In() * sixteenths)
	yards := math.Floor(n / (36 * sixteenths))
	inches := Length((n-yards*36*sixteenths)/sixteenths) * In
	if yards == 0 {
		return Label(inches, Inches)
	}
	s := strconv.FormatFloat(yards, 'f', -1, 64) + " yd"
	if inches > 0 {
		s += " " + Label(inches, Inches)
	}
	return s
}

// AreaLabel writes an area in square feet or square metres, with two decimals.
func AreaLabel(a Area, metric bool) string {
	if metric {
		return trimZeros(float64(a)/1e6, 2) + " m²"
	}
	return trimZeros(float64(a)/float64(Ft*Ft), 2) + " sq ft"
}

// fractions writes inches to the nearest sixteenth, with the fraction in its
// lowest terms.
func fractions(in float64, fraction func(over, under int) string) string {
	if math.IsNaN(in) || math.IsInf(in, 0) {
		return "?"
	}
	n := int64(math.Round(in * sixteenths))
	sign := ""
	if n < 0 {
		sign, n = "−", -n
	}
	whole, over, under := n/sixteenths, int(n%sixteenths), sixteenths
	for over > 0 && over%2 == 0 {
		over, under = over/2, under/2
	}
	if over == 0 {
		return sign + strconv.FormatInt(whole, 10)
	}
	f := fraction(over, under)
	if whole == 0 {
		return sign + strings.TrimPrefix(f, " ")
	}
	return sign + strconv.FormatInt(whole, 10) + f
}

func plainFraction(over, under int) string {
	return " " + strconv.Itoa(over) + "/" + strconv.Itoa(under)
}

func prettyFraction(over, under int) string {
	for _, f := range vulgarFractions {
		if f.over == over && f.under == under {
			return string(f.char)
		}
	}
	return inSet(over, supers) + "⁄" + inSet(under, subs)
}

func inSet(n int, set string) string {
	digits := []rune(set)
	var b strings.Builder
	for _, d := range strconv.Itoa(n) {
		b.WriteRune(digits[d-'0'])
	}
	return b.String()
}

// eighths writes yards to the nearest eighth where that is exact within a
// thousandth, as selling steps are, and with two decimals elsewhere.
func eighths(yd float64) string {
	if n := math.Round(yd * 8); math.Abs(n/8-yd) < 1e-3 {
		return fractions(n/8, prettyFraction)
	}
	return trimZeros(yd, 2)
}

func trimZeros(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "?"
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return strings.Replace(s, "-", "−", 1)
}

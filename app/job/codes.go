package job

import (
	"strconv"
	"strings"

	"slipseat/engine/cloth"
	"slipseat/engine/unit"
)

// Country is a country's code of two capital letters (ISO 3166-1 alpha-2);
// empty means not said.
type Country string

// Currency is a currency's code of three capital letters (ISO 4217); empty
// means not said.
type Currency string

func capitals(s string, n int) bool {
	if len(s) != n {
		return s == ""
	}
	for i := range len(s) {
		if s[i] < 'A' || s[i] > 'Z' {
			return false
		}
	}
	return true
}

// Force is an indentation force as it was typed, with its unit: "35 lbf",
// "155 N". Empty means not given.
type Force string

// Density is a density as it was typed, with its unit: "2.5 lb/ft3", "40
// kg/m3". Empty means not given.
type Density string

// namedUnit is a way to write a unit and how much one of it is.
type namedUnit struct {
	name string
	of   float64
}

var (
	forceUnits   = []namedUnit{{"lbf", float64(cloth.PoundF)}, {"lb", float64(cloth.PoundF)}, {"N", float64(cloth.Newton)}}
	densityUnits = []namedUnit{{"lb/ft3", float64(cloth.LbPerFt3)}, {"lb/ft³", float64(cloth.LbPerFt3)}, {"kg/m3", 1}, {"kg/m³", 1}}
)

// Force reads the force; an empty one is 0.
func (f Force) Force() (cloth.Force, error) {
	v, err := withUnit(string(f), forceUnits, CodeForce)
	return cloth.Force(v), err
}

// Density reads the density; an empty one is 0.
func (d Density) Density() (cloth.Density, error) {
	v, err := withUnit(string(d), densityUnits, CodeDensity)
	return cloth.Density(v), err
}

// maxNamed bounds a force or density before its unit; the firmest and densest
// foams stay under a tenth of it.
const maxNamed = 10_000

func withUnit(text string, units []namedUnit, code string) (float64, error) {
	if text == "" {
		return 0, nil
	}
	for _, u := range units {
		if s, ok := strings.CutSuffix(text, u.name); ok {
			s = strings.Replace(strings.TrimSpace(s), ",", ".", 1)
			if v, err := strconv.ParseFloat(s, 64); err == nil && plainDecimal(s) && v >= 0 && v <= maxNamed {
				return v * u.of, nil
			}
		}
	}
	return 0, unit.Fault{Code: code, Args: []unit.Arg{unit.A("text", text)}}
}

// plainDecimal refuses what ParseFloat reads beyond digits and a point.
func plainDecimal(s string) bool {
	for i := range len(s) {
		if (s[i] < '0' || s[i] > '9') && s[i] != '.' {
			return false
		}
	}
	return s != ""
}

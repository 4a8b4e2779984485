// Package unit holds the quantities the engine reckons with: lengths, areas,
// faults and the reasons behind a figure. It knows nothing of seats.
package unit

// Length is a length in millimetres. Inches and yards convert exactly:
// 1 in = 25.4 mm and 1 yd = 914.4 mm (international yard and pound, 1959).
type Length float64

// Units of length, as lengths.
const (
	MM Length = 1
	CM Length = 10
	M  Length = 1000
	In Length = 25.4
	Ft Length = 304.8
	Yd Length = 914.4
)

// MM gives the length in millimetres.
func (l Length) MM() float64 { return float64(l) }

// CM gives the length in centimetres.
func (l Length) CM() float64 { return float64(l / CM) }

// M gives the length in metres.
func (l Length) M() float64 { return float64(l / M) }

// In gives the length in inches.
func (l Length) In() float64 { return float64(l / In) }

// Yd gives the length in yards.
func (l Length) Yd() float64 { return float64(l / Yd) }

// Area is an area in square millimetres.
type Area float64

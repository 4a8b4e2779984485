package unit

import (
	"fmt"
	"strings"
)

// Fault says that something cannot be used as it is given: a code, where it
// sits, and the typed figures that the sentence for people is made from. The
// engine never writes sentences; the words of a code are in assets/words under
// "fault.<code>".
type Fault struct {
	Code  string // for example "seat.bow-too-big"
	Where Where
	Args  []Arg
}

// Where names the place of a fault or a caution. Any part may be empty.
type Where struct {
	Seat  string  // ID of the seat
	Goods string  // ID of the cloth, foam or other goods
	Piece string  // piece as it is numbered, for example "A2"
	Field string  // the input, for example "front_bow"
	X, Y  float64 // place in the drawing's model frame, millimetres
	HasXY bool
}

// Arg is one named figure of a fault, a caution or a term. Value is a Length,
// an Area, an int, a float64 or a string.
type Arg struct {
	Name  string
	Value any
}

// A is short for Arg{name, value}.
func A(name string, value any) Arg { return Arg{Name: name, Value: value} }

// Error gives the fault in the developer's form; people are shown the words of
// the code.
func (f Fault) Error() string {
	var b strings.Builder
	b.WriteString(f.Code)
	if f.Where.Field != "" {
		b.WriteString(" at " + f.Where.Field)
	}
	if f.Where.HasXY {
		fmt.Fprintf(&b, " near (%.2f, %.2f)", f.Where.X, f.Where.Y)
	}
	for _, a := range f.Args {
		fmt.Fprintf(&b, " %s=%v", a.Name, a.Value)
	}
	return b.String()
}

// At returns the fault with its field set.
func (f Fault) At(field string) Fault { f.Where.Field = field; return f }

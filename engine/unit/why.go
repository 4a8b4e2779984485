package unit

// Kind says what a figure counts.
type Kind uint8

// Kinds of figures.
const (
	KindLength Kind = iota // millimetres
	KindArea               // square millimetres
	KindCount              // pieces
	KindMoney              // minor units of the job's currency
)

// Term is one summand of a figure, with the words' code under "why.<code>".
type Term struct {
	Code  string
	Value float64
	Args  []Arg
}

// Why is a figure with the terms that make it up. The terms always add up to
// the value within 1e-9.
type Why struct {
	Kind  Kind
	Terms []Term
}

// Add appends a term.
func (w *Why) Add(code string, value float64, args ...Arg) {
	w.Terms = append(w.Terms, Term{Code: code, Value: value, Args: args})
}

// Value is the sum of the terms.
func (w Why) Value() float64 {
	var s float64
	for _, t := range w.Terms {
		s += t.Value
	}
	return s
}

// Length is the value of a figure in millimetres.
func (w Why) Length() Length { return Length(w.Value()) }

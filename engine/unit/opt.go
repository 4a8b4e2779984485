package unit

// Opt is a length that somebody may have set or left alone. The zero value is
// unset. It is comparable, so inputs made of it can be compared by value.
type Opt struct {
	Set   bool
	Value Length
}

// Some is an Opt that is set to l.
func Some(l Length) Opt { return Opt{Set: true, Value: l} }

// Or gives the set value, else def.
func (o Opt) Or(def Length) Length {
	if o.Set {
		return o.Value
	}
	return def
}

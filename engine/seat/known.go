package seat

import "slipseat/engine/unit"

// Known is a measurement of the real board that a traced shape is held
// against. The zero value is none.
type Known struct {
	What KnownWhat
	// From and To are points, from 0, for KnownPoints.
	From, To int
	Length   unit.Length
}

// KnownWhat says what was measured.
type KnownWhat uint8

// What can be measured: over all, from corner to corner, or between two points.
const (
	KnownNothing KnownWhat = iota
	KnownWidth
	KnownDepth
	KnownDiagonal // front left to back right
	KnownOther    // front right to back left
	KnownPoints
)

// Read gives what the traced shape has for a known measurement; false when it
// has no such thing.
func (t Traced) Read(k Known) (unit.Length, bool) {
	if k.What == KnownPoints {
		if !t.In(k.From) || !t.In(k.To) || k.From == k.To {
			return 0, false
		}
		return unit.Length(t.Points[k.From].At.Dist(t.Points[k.To].At)), true
	}
	o, f := FromTraced(t)
	if f != nil {
		return 0, false
	}
	w, d := o.Size()
	one, other, corners := o.Diagonals()
	switch k.What {
	case KnownWidth:
		return w, true
	case KnownDepth:
		return d, true
	case KnownDiagonal:
		return one, corners
	case KnownOther:
		return other, corners
	}
	return 0, false
}

// TrueUp scales the shape so that it reads what was measured.
func (t Traced) TrueUp(k Known) (Traced, *unit.Fault) {
	read, ok := t.Read(k)
	if !ok || !(read > 0) || !(k.Length > 0) {
		return t, &unit.Fault{Code: CodeScale}
	}
	return t.Scaled(k.Length.MM() / read.MM())
}

package job

import "slipseat/engine/unit"

// Nudged gives the length that lies so many marking steps above l, or below it
// for a negative number, itself on a whole step and never below nothing.
func (j Job) Nudged(l unit.Length, steps int) unit.Length {
	step := j.Step.Length()
	return max(0, unit.RoundNearest(l, step)+unit.Length(steps)*step)
}

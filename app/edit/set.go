package edit

import (
	"strings"

	"slipseat/app/job"
	"slipseat/engine/unit"
)

// Set types a text into a field of the job (Object is the job's own ID), a
// seat, a layer, a cloth, a flaw or a foam. Field is one of the paths of
// fields.go. A seat that becomes another kind gets the figures that the kind
// cannot do without; one that becomes fewer loses the pieces held in place
// beyond its count; sizes that change their unit take the unit of cloth along.
type Set struct {
	Object job.ID
	Field  string
	Text   string
}

// fieldWords and a field's path make the key of its words, under "label.".
const fieldWords = "field."

// Label names the field and what it belongs to.
func (c Set) Label(j job.Job) Label {
	field := unit.A("field", fieldWords+c.Field)
	if c.Object == j.ID {
		return label("set-job", field)
	}
	if c.Field == SeatName {
		return label("rename", unit.A("name", nameOf(j, c.Object)), unit.A("to", strings.TrimSpace(c.Text)))
	}
	return label("set", field, unit.A("name", nameOf(j, c.Object)))
}

// Apply sets the field.
func (c Set) Apply(j job.Job) (job.Job, []unit.Fault) {
	out, f := j.Set(c.Object, c.Field, c.Text)
	if f != nil {
		return j, []unit.Fault{*f}
	}
	_, i, isSeat := j.Seat(c.Object)
	switch {
	case isSeat && c.Field == SeatKind:
		s := j.Seats[i].WithKind(out.Seats[i].Kind, j.Units)
		out.Seats[i] = s // Set copied the list
	case isSeat && c.Field == SeatCount:
		out.Locked = without(out.Locked, func(l job.Lock) bool { return l.Seat == c.Object && l.Piece > out.Seats[i].Count })
	case c.Object == j.ID && c.Field == JobUnits && out.Units.Metric() != j.Units.Metric():
		out.ClothUnits = job.ClothInYards
		if out.Units.Metric() {
			out.ClothUnits = job.ClothInMetres
		}
	}
	return out, nil
}

// Handle drags one measurement of an outline. The value is written at the
// job's marking step, in the unit the job is shown in if that can show the
// step, else in that of the step. One drag is many previews and one commit.
type Handle struct {
	Seat  job.ID
	Field string // OutlineFrontWidth and so on
	To    unit.Length
}

// Label names the measurement.
func (c Handle) Label(j job.Job) Label {
	return label("drag", unit.A("field", fieldWords+c.Field), unit.A("name", nameOf(j, c.Seat)))
}

// Apply rounds to the marking step and sets the field.
func (c Handle) Apply(j job.Job) (job.Job, []unit.Fault) {
	l := max(0, unit.RoundNearest(c.To, j.Step.Length()))
	return Set{c.Seat, c.Field, string(Written(j, l))}.Apply(j)
}

// Written gives a length that lies on the marking step as a field holds it: in
// the job's own unit when that shows it to the hundredth of a millimetre, else
// in inches with fractions or millimetres, which show every step.
func Written(j job.Job, l unit.Length) job.Measure {
	for _, u := range [...]unit.Unit{j.Units.Unit(), unit.Inches, unit.Millimetres} {
		m := job.MeasureOf(l, u)
		if d := m.Or(-1) - l; d < shows && d > -shows {
			return m
		}
	}
	return job.MeasureOf(l, unit.Millimetres)
}

// shows in millimetres: a written length that is off by less is as good. The
// thousandths of decimal inches are off by half of 0.0254 mm at most.
const shows unit.Length = 0.013

// Rename gives a seat, a cloth, a foam or the job another name.
func Rename(id job.ID, name string) Command { return Set{id, SeatName, name} }

// SetCount says how many seats of a kind there are.
func SetCount(seat job.ID, text string) Command { return Set{seat, SeatCount, text} }

// SwitchUnits shows the job in other units. What was typed stays as typed.
type SwitchUnits struct{ To job.Units }

// Label names the units.
func (c SwitchUnits) Label(job.Job) Label {
	return label("units", unit.A("units", "units."+string(c.To)))
}

// Apply switches the units of sizes, and those of cloth with them.
func (c SwitchUnits) Apply(j job.Job) (job.Job, []unit.Fault) {
	return Set{j.ID, JobUnits, string(c.To)}.Apply(j)
}

// Package edit holds every change a user can make to a job, as commands that
// turn one snapshot into the next, and the history they form.
package edit

import (
	"strconv"
	"strings"

	"slipseat/app/job"
	"slipseat/engine/unit"
)

// Label names a command for people: a code under "edit.<code>" in the words
// and what fills it in.
type Label struct {
	Code string     `json:"code"`
	Args []unit.Arg `json:"-"`
	// Text is the one argument that is kept with a stored history: the name of
	// what was edited.
	Text string `json:"text,omitempty"`
}

// Command is one change. Apply leaves its argument alone; with a fault the job
// comes back as it was.
type Command interface {
	Label(j job.Job) Label
	Apply(j job.Job) (job.Job, []unit.Fault)
}

// Set types a text into a field of the job (Object is the job's own ID), a
// seat, a cloth or a foam.
type Set struct {
	Object job.ID
	Field  string
	Text   string
}

// Label names the field.
func (c Set) Label(j job.Job) Label { return Label{Code: "set", Text: c.Field} }

// Apply sets the field.
func (c Set) Apply(j job.Job) (job.Job, []unit.Fault) {
	out, f := j.Set(c.Object, c.Field, c.Text)
	if f != nil {
		return j, []unit.Fault{*f}
	}
	return out, nil
}

// Many applies commands one after the other as one change; the first fault
// leaves the job as it was.
type Many struct {
	Name     Label
	Commands []Command
}

// Label is the given name.
func (c Many) Label(job.Job) Label { return c.Name }

// Apply applies them in order.
func (c Many) Apply(j job.Job) (job.Job, []unit.Fault) {
	out := j
	for _, one := range c.Commands {
		next, faults := one.Apply(out)
		if len(faults) > 0 {
			return j, faults
		}
		out = next
	}
	return out, nil
}

// Handle drags one measurement of a measured outline; the value is written at
// the job's marking step.
type Handle struct {
	Seat  job.ID
	Field string // "outline.front_width" and so on
	To    unit.Length
}

// Label names the measurement.
func (c Handle) Label(j job.Job) Label {
	return Label{Code: "drag", Text: strings.TrimPrefix(c.Field, "outline.")}
}

// Apply rounds to the marking step and sets the field.
func (c Handle) Apply(j job.Job) (job.Job, []unit.Fault) {
	step := j.Step.Length()
	l := max(0, unit.RoundNearest(c.To, step))
	u := j.Units.Unit()
	if u == unit.DecimalInches && step == unit.SixteenthInch {
		u = unit.Inches
	}
	return Set{c.Seat, c.Field, unit.Typed(l, u)}.Apply(j)
}

// Codes of the faults of commands.
const (
	CodeLastSeat     = "edit.last-seat"
	CodeInUse        = "edit.goods-in-use"
	CodeTooManySeats = "edit.too-many-seats"
	maxSeats         = 200
)

// AddSeat puts a new seat at the end.
type AddSeat struct{ Seat job.Seat }

// Label names the seat.
func (c AddSeat) Label(job.Job) Label { return Label{Code: "add-seat", Text: c.Seat.Name} }

// Apply appends the seat.
func (c AddSeat) Apply(j job.Job) (job.Job, []unit.Fault) {
	if len(j.Seats) >= maxSeats {
		return j, []unit.Fault{{Code: CodeTooManySeats, Args: []unit.Arg{unit.A("limit", maxSeats)}}}
	}
	j.Seats = append(append([]job.Seat(nil), j.Seats...), c.Seat)
	return j, nil
}

// DeleteSeat takes a seat out, with its locked pieces.
type DeleteSeat struct{ Seat job.ID }

// Label names the seat.
func (c DeleteSeat) Label(j job.Job) Label {
	s, _, _ := j.Seat(c.Seat)
	return Label{Code: "delete-seat", Text: s.Name}
}

// Apply removes the seat; the last one stays.
func (c DeleteSeat) Apply(j job.Job) (job.Job, []unit.Fault) {
	_, i, ok := j.Seat(c.Seat)
	if !ok {
		return j, []unit.Fault{{Code: job.CodeNoObject}}
	}
	if len(j.Seats) == 1 {
		return j, []unit.Fault{{Code: CodeLastSeat}}
	}
	j.Seats = append(append([]job.Seat(nil), j.Seats[:i]...), j.Seats[i+1:]...)
	var locks []job.Lock
	for _, l := range j.Locked {
		if l.Seat != c.Seat {
			locks = append(locks, l)
		}
	}
	j.Locked = locks
	return j, nil
}

// MoveSeat changes the order, and with it the letters.
type MoveSeat struct {
	Seat job.ID
	To   int
}

// Label names the seat.
func (c MoveSeat) Label(j job.Job) Label {
	s, _, _ := j.Seat(c.Seat)
	return Label{Code: "move-seat", Text: s.Name}
}

// Apply moves the seat to a place in the list.
func (c MoveSeat) Apply(j job.Job) (job.Job, []unit.Fault) {
	s, i, ok := j.Seat(c.Seat)
	if !ok {
		return j, []unit.Fault{{Code: job.CodeNoObject}}
	}
	rest := append(append([]job.Seat(nil), j.Seats[:i]...), j.Seats[i+1:]...)
	to := max(0, min(c.To, len(rest)))
	j.Seats = append(append(append([]job.Seat(nil), rest[:to]...), s), rest[to:]...)
	return j, nil
}

// DuplicateSeat puts a copy of a seat behind it.
type DuplicateSeat struct {
	Seat job.ID
	ID   job.ID // of the copy
}

// Label names the seat.
func (c DuplicateSeat) Label(j job.Job) Label {
	s, _, _ := j.Seat(c.Seat)
	return Label{Code: "duplicate-seat", Text: s.Name}
}

// Apply inserts the copy.
func (c DuplicateSeat) Apply(j job.Job) (job.Job, []unit.Fault) {
	s, i, ok := j.Seat(c.Seat)
	if !ok {
		return j, []unit.Fault{{Code: job.CodeNoObject}}
	}
	s.ID, s.Name = c.ID, nextName(s.Name)
	j, faults := AddSeat{s}.Apply(j)
	if len(faults) > 0 {
		return j, faults
	}
	return MoveSeat{c.ID, i + 1}.Apply(j)
}

// nextName counts a name up: "Chair" becomes "Chair 2".
func nextName(name string) string {
	if i := strings.LastIndexByte(name, ' '); i > 0 {
		if n, err := strconv.Atoi(name[i+1:]); err == nil {
			return name[:i+1] + strconv.Itoa(n+1)
		}
	}
	return name + " 2"
}

// AddCloth puts a cloth at the end of the list.
type AddCloth struct{ Cloth job.Cloth }

// Label names the cloth.
func (c AddCloth) Label(job.Job) Label { return Label{Code: "add-cloth", Text: c.Cloth.Name} }

// Apply appends the cloth.
func (c AddCloth) Apply(j job.Job) (job.Job, []unit.Fault) {
	j.Cloths = append(append([]job.Cloth(nil), j.Cloths...), c.Cloth)
	return j, nil
}

// AddFoam puts a foam at the end of the list.
type AddFoam struct{ Foam job.Foam }

// Label names the foam.
func (c AddFoam) Label(job.Job) Label { return Label{Code: "add-foam", Text: c.Foam.Name} }

// Apply appends the foam.
func (c AddFoam) Apply(j job.Job) (job.Job, []unit.Fault) {
	j.Foams = append(append([]job.Foam(nil), j.Foams...), c.Foam)
	return j, nil
}

// DeleteGoods takes a cloth or a foam out; one that a seat is cut from stays.
type DeleteGoods struct{ Goods job.ID }

// Label names the goods.
func (c DeleteGoods) Label(j job.Job) Label {
	if cl, ok := j.Cloth(c.Goods); ok {
		return Label{Code: "delete-goods", Text: cl.Name}
	}
	f, _ := j.Foam(c.Goods)
	return Label{Code: "delete-goods", Text: f.Name}
}

// Apply removes the goods.
func (c DeleteGoods) Apply(j job.Job) (job.Job, []unit.Fault) {
	for _, s := range j.Seats {
		for _, used := range [...]job.ID{s.Cover, s.Lining, s.DustCloth, s.Wadding, s.Foam} {
			if used == c.Goods {
				return j, []unit.Fault{{Code: CodeInUse, Where: unit.Where{Goods: string(c.Goods), Seat: string(s.ID)}, Args: []unit.Arg{unit.A("seat", s.Name)}}}
			}
		}
	}
	var cloths []job.Cloth
	for _, cl := range j.Cloths {
		if cl.ID != c.Goods {
			cloths = append(cloths, cl)
		}
	}
	var foams []job.Foam
	for _, f := range j.Foams {
		if f.ID != c.Goods {
			foams = append(foams, f)
		}
	}
	j.Cloths, j.Foams = cloths, foams
	return j, nil
}

// SetFlaws replaces the flaws of a cloth.
type SetFlaws struct {
	Cloth job.ID
	Flaws []job.Flaw
}

// Label names the change.
func (c SetFlaws) Label(job.Job) Label { return Label{Code: "flaws"} }

// Apply replaces the list.
func (c SetFlaws) Apply(j job.Job) (job.Job, []unit.Fault) {
	cloths := append([]job.Cloth(nil), j.Cloths...)
	for i := range cloths {
		if cloths[i].ID == c.Cloth {
			cloths[i].Flaws = c.Flaws
			j.Cloths = cloths
			return j, nil
		}
	}
	return j, []unit.Fault{{Code: job.CodeNoObject}}
}

// SetLocks replaces the locked and cut pieces.
type SetLocks struct{ Locked []job.Lock }

// Label names the change.
func (c SetLocks) Label(job.Job) Label { return Label{Code: "locks"} }

// Apply replaces the list.
func (c SetLocks) Apply(j job.Job) (job.Job, []unit.Fault) {
	j.Locked = c.Locked
	return j, nil
}

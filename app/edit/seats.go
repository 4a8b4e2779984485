package edit

import (
	"slices"
	"strconv"
	"strings"

	"slipseat/app/job"
	"slipseat/engine/unit"
)

// Most that a job holds; job.Decode reads as many.
const (
	maxSeats  = 200
	maxGoods  = 100
	maxLayers = 20
)

// AddSeat puts a new seat at the end.
type AddSeat struct{ Seat job.Seat }

// Label names the seat.
func (c AddSeat) Label(job.Job) Label { return label("add-seat", unit.A("name", c.Seat.Name)) }

// Apply appends the seat.
func (c AddSeat) Apply(j job.Job) (job.Job, []unit.Fault) {
	switch {
	case len(j.Seats) >= maxSeats:
		return tooMany(j, maxSeats)
	case !free(j, c.Seat.ID):
		return refuse(j, unit.Fault{Code: CodeNotCopy})
	}
	out := j
	out.Seats = added(j.Seats, c.Seat)
	return formed(j, out)
}

// DeleteSeat takes a seat out, with its pieces that are held in place.
type DeleteSeat struct{ Seat job.ID }

// Label names the seat.
func (c DeleteSeat) Label(j job.Job) Label {
	return label("delete-seat", unit.A("name", nameOf(j, c.Seat)))
}

// Apply removes the seat; the last one stays.
func (c DeleteSeat) Apply(j job.Job) (job.Job, []unit.Fault) {
	if _, _, ok := j.Seat(c.Seat); !ok {
		return gone(j)
	}
	if len(j.Seats) == 1 {
		return refuse(j, unit.Fault{Code: CodeLastSeat, Where: unit.Where{Seat: string(c.Seat)}})
	}
	j.Seats = without(j.Seats, func(s job.Seat) bool { return s.ID == c.Seat })
	j.Locked = without(j.Locked, func(l job.Lock) bool { return l.Seat == c.Seat })
	j.GlueUps = without(j.GlueUps, func(g job.GlueUp) bool { return g.Seat == c.Seat })
	return j, nil
}

// MoveSeat changes the order, and with it the letters.
type MoveSeat struct {
	Seat job.ID
	To   int // index afterwards
}

// Label names the seat.
func (c MoveSeat) Label(j job.Job) Label {
	return label("move-seat", unit.A("name", nameOf(j, c.Seat)))
}

// Apply moves the seat to a place in the list; beyond the ends means the end.
func (c MoveSeat) Apply(j job.Job) (job.Job, []unit.Fault) {
	_, i, ok := j.Seat(c.Seat)
	if !ok {
		return gone(j)
	}
	j.Seats = moved(j.Seats, i, c.To)
	return j, nil
}

// DuplicateSeat puts a copy of a seat behind it.
type DuplicateSeat struct {
	Seat job.ID
	ID   job.ID // of the copy
}

// Label names the seat.
func (c DuplicateSeat) Label(j job.Job) Label {
	return label("duplicate-seat", unit.A("name", nameOf(j, c.Seat)))
}

// Apply inserts the copy, with layers of its own and a name counted up.
func (c DuplicateSeat) Apply(j job.Job) (job.Job, []unit.Fault) {
	s, i, ok := j.Seat(c.Seat)
	if !ok {
		return gone(j)
	}
	s.ID, s.Name = c.ID, nextName(s.Name, func(name string) bool {
		return slices.ContainsFunc(j.Seats, func(o job.Seat) bool { return o.Name == name })
	})
	s.Build.Layers = slices.Clone(s.Build.Layers)
	for k := range s.Build.Layers {
		s.Build.Layers[k].ID = c.ID.Child(s.Build.Layers[k].ID)
	}
	s.Own, s.Outline.Holes = slices.Clone(s.Own), slices.Clone(s.Outline.Holes)
	for k := range s.Own {
		s.Own[k].ID = c.ID.Child(s.Own[k].ID)
	}
	for k := range s.Outline.Holes {
		s.Outline.Holes[k].ID = c.ID.Child(s.Outline.Holes[k].ID)
	}
	out, faults := AddSeat{s}.Apply(j)
	if len(faults) > 0 {
		return j, faults
	}
	return MoveSeat{c.ID, i + 1}.Apply(out)
}

// nextName counts a name up until it is free: "Chair" becomes "Chair 2".
func nextName(name string, taken func(string) bool) string {
	stem, n := name, 1
	if i := strings.LastIndexByte(name, ' '); i > 0 {
		if k, err := strconv.Atoi(name[i+1:]); err == nil && k > 0 && k < 1_000_000 {
			stem, n = name[:i], k
		}
	}
	for {
		n++
		if next := stem + " " + strconv.Itoa(n); !taken(next) {
			return next
		}
	}
}

// AddLayer puts a layer of foam on top of a seat's others.
type AddLayer struct {
	Seat  job.ID
	Layer job.Layer
}

// Label names the seat.
func (c AddLayer) Label(j job.Job) Label {
	return label("add-layer", unit.A("name", nameOf(j, c.Seat)))
}

// Apply appends the layer.
func (c AddLayer) Apply(j job.Job) (job.Job, []unit.Fault) {
	s, i, ok := j.Seat(c.Seat)
	switch {
	case !ok:
		return gone(j)
	case len(s.Build.Layers) >= maxLayers:
		return tooMany(j, maxLayers)
	case !free(j, c.Layer.ID):
		return refuse(j, unit.Fault{Code: CodeNotCopy})
	}
	out := j
	out.Seats = slices.Clone(j.Seats)
	out.Seats[i].Build.Layers = added(s.Build.Layers, c.Layer)
	return formed(j, out)
}

// DeleteLayer takes a layer of foam away.
type DeleteLayer struct{ Layer job.ID }

// Label names the seat.
func (c DeleteLayer) Label(j job.Job) Label {
	return label("delete-layer", unit.A("name", nameOf(j, c.Layer)))
}

// Apply removes the layer.
func (c DeleteLayer) Apply(j job.Job) (job.Job, []unit.Fault) {
	for i, s := range j.Seats {
		rest := without(s.Build.Layers, func(l job.Layer) bool { return l.ID == c.Layer })
		if len(rest) < len(s.Build.Layers) {
			j.Seats = slices.Clone(j.Seats)
			j.Seats[i].Build.Layers = rest
			return j, nil
		}
	}
	return gone(j)
}

package edit

import (
	"slices"

	"slipseat/app/job"
	"slipseat/engine/unit"
)

// AddCloth puts a cloth at the end of the list.
type AddCloth struct{ Cloth job.Cloth }

// Label names the cloth.
func (c AddCloth) Label(job.Job) Label { return label("add-goods", unit.A("name", c.Cloth.Name)) }

// Apply appends the cloth.
func (c AddCloth) Apply(j job.Job) (job.Job, []unit.Fault) {
	switch {
	case len(j.Cloths) >= maxGoods:
		return tooMany(j, maxGoods)
	case !free(j, c.Cloth.ID):
		return refuse(j, unit.Fault{Code: CodeNotCopy})
	}
	out := j
	out.Cloths = added(j.Cloths, c.Cloth)
	return formed(j, out)
}

// AddFoam puts a foam at the end of the list.
type AddFoam struct{ Foam job.Foam }

// Label names the foam.
func (c AddFoam) Label(job.Job) Label { return label("add-goods", unit.A("name", c.Foam.Name)) }

// Apply appends the foam.
func (c AddFoam) Apply(j job.Job) (job.Job, []unit.Fault) {
	switch {
	case len(j.Foams) >= maxGoods:
		return tooMany(j, maxGoods)
	case !free(j, c.Foam.ID):
		return refuse(j, unit.Fault{Code: CodeNotCopy})
	}
	out := j
	out.Foams = added(j.Foams, c.Foam)
	return formed(j, out)
}

// DuplicateGoods puts a copy of a cloth or a foam behind it. A copy of a cloth
// has no flaws and is not checked on the roll, and nothing is cut from it yet:
// it is another one.
type DuplicateGoods struct {
	Goods job.ID
	ID    job.ID // of the copy
}

// Label names the goods.
func (c DuplicateGoods) Label(j job.Job) Label {
	return label("duplicate-goods", unit.A("name", nameOf(j, c.Goods)))
}

// Apply inserts the copy.
func (c DuplicateGoods) Apply(j job.Job) (job.Job, []unit.Fault) {
	taken := func(name string) bool {
		return slices.ContainsFunc(j.Cloths, func(o job.Cloth) bool { return o.Name == name }) ||
			slices.ContainsFunc(j.Foams, func(o job.Foam) bool { return o.Name == name })
	}
	var out job.Job
	var faults []unit.Fault
	at := indexOf(j, c.Goods)
	if cl, ok := j.Cloth(c.Goods); ok {
		cl.ID, cl.Name, cl.Flaws, cl.RollChecked = c.ID, nextName(cl.Name, taken), nil, false
		cl.RollLength, cl.Lot, cl.Offcuts, cl.Made, cl.CutDone = "", "", nil, nil, false
		out, faults = AddCloth{cl}.Apply(j)
	} else if f, ok := j.Foam(c.Goods); ok {
		f.ID, f.Name = c.ID, nextName(f.Name, taken)
		f.Offcuts, f.Made, f.CutDone = nil, nil, false
		out, faults = AddFoam{f}.Apply(j)
	} else {
		return gone(j)
	}
	if len(faults) > 0 {
		return j, faults
	}
	return MoveGoods{c.ID, at + 1}.Apply(out)
}

func indexOf(j job.Job, goods job.ID) int {
	if i := slices.IndexFunc(j.Cloths, func(o job.Cloth) bool { return o.ID == goods }); i >= 0 {
		return i
	}
	return slices.IndexFunc(j.Foams, func(o job.Foam) bool { return o.ID == goods })
}

// MoveGoods changes the order of cloths or of foams, and with it the numbers
// of their cut sheets.
type MoveGoods struct {
	Goods job.ID
	To    int // index afterwards, among its like
}

// Label names the goods.
func (c MoveGoods) Label(j job.Job) Label {
	return label("move-goods", unit.A("name", nameOf(j, c.Goods)))
}

// Apply moves the cloth or the foam; beyond the ends means the end.
func (c MoveGoods) Apply(j job.Job) (job.Job, []unit.Fault) {
	i := indexOf(j, c.Goods)
	if i < 0 {
		return gone(j)
	}
	if _, ok := j.Cloth(c.Goods); ok {
		j.Cloths = moved(j.Cloths, i, c.To)
	} else {
		j.Foams = moved(j.Foams, i, c.To)
	}
	return j, nil
}

// DeleteGoods takes a cloth or a foam out, with its pieces that are held in
// place; one that a seat is cut from stays.
type DeleteGoods struct{ Goods job.ID }

// Label names the goods.
func (c DeleteGoods) Label(j job.Job) Label {
	return label("delete-goods", unit.A("name", nameOf(j, c.Goods)))
}

// Apply removes the goods.
func (c DeleteGoods) Apply(j job.Job) (job.Job, []unit.Fault) {
	if indexOf(j, c.Goods) < 0 {
		return gone(j)
	}
	for _, s := range j.Seats {
		if s.Uses(c.Goods) {
			return refuse(j, unit.Fault{Code: CodeInUse, Where: unit.Where{Goods: string(c.Goods), Seat: string(s.ID)},
				Args: []unit.Arg{unit.A("seat", s.Name)}})
		}
	}
	j.Cloths = without(j.Cloths, func(o job.Cloth) bool { return o.ID == c.Goods })
	j.Foams = without(j.Foams, func(o job.Foam) bool { return o.ID == c.Goods })
	j.Locked = without(j.Locked, func(l job.Lock) bool { return l.Goods == c.Goods })
	return j, nil
}

// SetFlaws replaces the flaws of a cloth.
type SetFlaws struct {
	Cloth job.ID
	Flaws []job.Flaw
}

// Label names the cloth.
func (c SetFlaws) Label(j job.Job) Label { return label("flaws", unit.A("name", nameOf(j, c.Cloth))) }

// Apply replaces the list.
func (c SetFlaws) Apply(j job.Job) (job.Job, []unit.Fault) {
	i := slices.IndexFunc(j.Cloths, func(o job.Cloth) bool { return o.ID == c.Cloth })
	if i < 0 {
		return gone(j)
	}
	out := j
	out.Cloths = slices.Clone(j.Cloths)
	out.Cloths[i].Flaws = slices.Clone(c.Flaws)
	return formed(j, out)
}

// SetLocks replaces the pieces that are held in place, cut or spoiled.
type SetLocks struct{ Locked []job.Lock }

// Label names the change.
func (c SetLocks) Label(job.Job) Label { return label("locks") }

// Apply replaces the list.
func (c SetLocks) Apply(j job.Job) (job.Job, []unit.Fault) {
	out := j
	out.Locked = slices.Clone(c.Locked)
	return formed(j, out)
}

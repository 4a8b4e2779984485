package edit

import (
	"slices"

	"slipseat/app/job"
	"slipseat/engine/buildup"
	"slipseat/engine/plan"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// SetOwn replaces the single seats of a kind that differ.
type SetOwn struct {
	Seat job.ID
	Own  []job.OwnSeat
}

// Label names the seat.
func (c SetOwn) Label(j job.Job) Label { return label("own", unit.A("name", nameOf(j, c.Seat))) }

// Apply replaces the list.
func (c SetOwn) Apply(j job.Job) (job.Job, []unit.Fault) {
	return onSeat(j, c.Seat, func(s *job.Seat) { s.Own = slices.Clone(c.Own) })
}

// SetHoles replaces the screw holes of a board.
type SetHoles struct {
	Seat  job.ID
	Holes []job.Hole
}

// Label names the seat.
func (c SetHoles) Label(j job.Job) Label { return label("holes", unit.A("name", nameOf(j, c.Seat))) }

// Apply replaces the list.
func (c SetHoles) Apply(j job.Job) (job.Job, []unit.Fault) {
	return onSeat(j, c.Seat, func(s *job.Seat) { s.Outline.Holes = slices.Clone(c.Holes) })
}

func onSeat(j job.Job, id job.ID, change func(*job.Seat)) (job.Job, []unit.Fault) {
	_, i, ok := j.Seat(id)
	if !ok {
		return gone(j)
	}
	out := j
	out.Seats = slices.Clone(j.Seats)
	change(&out.Seats[i])
	return formed(j, out)
}

// SetOffcuts replaces the pieces from the shelf that goods are cut from first.
type SetOffcuts struct {
	Goods   job.ID
	Offcuts []job.Offcut
}

// Label names the goods.
func (c SetOffcuts) Label(j job.Job) Label {
	return label("offcuts", unit.A("name", nameOf(j, c.Goods)))
}

// Apply replaces the list; pieces held on one that goes are let go.
func (c SetOffcuts) Apply(j job.Job) (job.Job, []unit.Fault) {
	out := j
	if !onGoods(&out, c.Goods, func(list, _ *[]job.Offcut, _ *bool) { *list = slices.Clone(c.Offcuts) }) {
		return gone(j)
	}
	out.Locked = without(out.Locked, func(l job.Lock) bool {
		return l.Goods == c.Goods && l.On != "" && l.On != c.Goods && !slices.ContainsFunc(c.Offcuts, func(o job.Offcut) bool { return o.ID == l.On })
	})
	return formed(j, out)
}

// onGoods changes what came to a cloth or a foam from the shelf, what went
// there, and whether it is cut.
func onGoods(j *job.Job, id job.ID, change func(offcuts, made *[]job.Offcut, cut *bool)) bool {
	if i := slices.IndexFunc(j.Cloths, func(o job.Cloth) bool { return o.ID == id }); i >= 0 {
		j.Cloths = slices.Clone(j.Cloths)
		c := &j.Cloths[i]
		change(&c.Offcuts, &c.Made, &c.CutDone)
		return true
	}
	if i := slices.IndexFunc(j.Foams, func(o job.Foam) bool { return o.ID == id }); i >= 0 {
		j.Foams = slices.Clone(j.Foams)
		f := &j.Foams[i]
		change(&f.Offcuts, &f.Made, &f.CutDone)
		return true
	}
	return false
}

// MarkCut marks all that is laid on goods as cut: every piece stays where it
// lies, and what is left over goes to the shelf. The shelf changes with the job
// by job.ShelfChanges, in one transaction.
type MarkCut struct {
	Goods  job.ID
	Locked []job.Lock
	Made   []job.Offcut
}

// Label names the goods.
func (c MarkCut) Label(j job.Job) Label { return label("mark-cut", unit.A("name", nameOf(j, c.Goods))) }

// Apply marks the goods and its pieces.
func (c MarkCut) Apply(j job.Job) (job.Job, []unit.Fault) {
	out := j
	if !onGoods(&out, c.Goods, func(_, made *[]job.Offcut, cut *bool) {
		*made, *cut = append(slices.Clone(*made), c.Made...), true
	}) {
		return gone(j)
	}
	out.Locked = without(j.Locked, func(l job.Lock) bool { return l.Goods == c.Goods && l.State != job.Spoiled })
	for _, l := range c.Locked {
		l.State = job.Cut
		out.Locked = append(out.Locked, l)
	}
	return formed(j, out)
}

// SetGlueUps replaces the foam blanks that are glued of parts.
type SetGlueUps struct{ GlueUps []job.GlueUp }

// Label names the change.
func (c SetGlueUps) Label(job.Job) Label { return label("glue-ups") }

// Apply replaces the list.
func (c SetGlueUps) Apply(j job.Job) (job.Job, []unit.Fault) {
	out := j
	out.GlueUps = slices.Clone(c.GlueUps)
	return formed(j, out)
}

// TakeProposal takes glue-ups over that were proposed. IDs are one for each.
type TakeProposal struct {
	Proposal plan.Proposal
	IDs      []job.ID
}

// Label names the change.
func (c TakeProposal) Label(job.Job) Label { return label("glue-ups") }

// Apply appends the glue-ups; one that a blank had before gives way.
func (c TakeProposal) Apply(j job.Job) (job.Job, []unit.Fault) {
	if len(c.IDs) < len(c.Proposal.GlueUps) {
		return refuse(j, unit.Fault{Code: CodeNotCopy})
	}
	list := slices.Clone(j.GlueUps)
	for i, g := range c.Proposal.GlueUps {
		n := job.GlueUpOf(c.IDs[i], g, j.Units)
		list = without(list, func(o job.GlueUp) bool { return o.Seat == n.Seat && o.Layer == n.Layer && o.Piece == n.Piece })
		list = append(list, n)
	}
	return SetGlueUps{list}.Apply(j)
}

// SetExtras replaces the order lines of the user's own.
type SetExtras struct{ Extras []job.ExtraLine }

// Label names the change.
func (c SetExtras) Label(job.Job) Label { return label("extras") }

// Apply replaces the list.
func (c SetExtras) Apply(j job.Job) (job.Job, []unit.Fault) {
	out := j
	out.Extras = slices.Clone(c.Extras)
	return formed(j, out)
}

// SetChanges replaces what was agreed after the quote.
type SetChanges struct{ Changes []job.AgreedChange }

// Label names the change.
func (c SetChanges) Label(job.Job) Label { return label("changes") }

// Apply replaces the list.
func (c SetChanges) Apply(j job.Job) (job.Job, []unit.Fault) {
	out := j
	out.Changes = slices.Clone(c.Changes)
	return formed(j, out)
}

// SetActuals replaces the quantities really used.
type SetActuals struct{ Actuals []job.Actual }

// Label names the change.
func (c SetActuals) Label(job.Job) Label { return label("actuals") }

// Apply replaces the list.
func (c SetActuals) Apply(j job.Job) (job.Job, []unit.Fault) {
	out := j
	out.Actuals = slices.Clone(c.Actuals)
	return formed(j, out)
}

// Dismiss says that a caution was dealt with, and why.
type Dismiss struct {
	ID      job.ID // of the entry
	Caution string // the caution's key
	Note    string
}

// Label names the change.
func (c Dismiss) Label(job.Job) Label { return label("dismiss") }

// Apply puts the caution on the list, or changes its note.
func (c Dismiss) Apply(j job.Job) (job.Job, []unit.Fault) {
	out := j
	out.Dismissed = slices.Clone(j.Dismissed)
	if i := slices.IndexFunc(out.Dismissed, func(d job.Dismissal) bool { return d.Caution == c.Caution }); i >= 0 {
		out.Dismissed[i].Note = c.Note
	} else {
		out.Dismissed = append(out.Dismissed, job.Dismissal{ID: c.ID, Caution: c.Caution, Note: c.Note})
	}
	return formed(j, out)
}

// Raise shows a caution again that was dealt with.
type Raise struct{ Caution string }

// Label names the change.
func (c Raise) Label(job.Job) Label { return label("raise") }

// Apply takes the caution off the list.
func (c Raise) Apply(j job.Job) (job.Job, []unit.Fault) {
	j.Dismissed = without(j.Dismissed, func(d job.Dismissal) bool { return d.Caution == c.Caution })
	return j, nil
}

// FitSeat takes the wraps that a trial in scrap cloth took, as they stand in
// the seat's build-up, and sets what is left of the oversize after pulling so
// that the reckoned wraps are the used ones; with Press how far the pull
// presses the foam's edge instead.
type FitSeat struct {
	Seat  job.ID
	Press bool
}

// CodeNoTrial is the fault of fitting without the wraps that a trial took.
const CodeNoTrial = "edit.no-trial"

// Label names the seat.
func (c FitSeat) Label(j job.Job) Label { return label("fit", unit.A("name", nameOf(j, c.Seat))) }

// Fitted tells what the trial changes, edge by edge, without changing it.
func (c FitSeat) Fitted(j job.Job) ([]buildup.Fitted, []unit.Fault) {
	_, fitted, faults := c.fit(j)
	return fitted, faults
}

func (c FitSeat) fit(j job.Job) (buildup.Spec, []buildup.Fitted, []unit.Fault) {
	s, i, ok := j.Seat(c.Seat)
	if !ok {
		return buildup.Spec{}, nil, []unit.Fault{{Code: job.CodeNoObject}}
	}
	b := s.Build
	used := buildup.PerEdge{Front: b.TriedFront.Opt(), Left: b.TriedLeft.Opt(), Right: b.TriedRight.Opt(), Back: b.TriedBack.Opt()}
	if used == (buildup.PerEdge{}) {
		return buildup.Spec{}, nil, []unit.Fault{{Code: CodeNoTrial, Where: unit.Where{Seat: string(c.Seat), Field: "build_up.used_wrap_front"}}}
	}
	p := plan.MakeSeat(j.Input().Seats[i], j.Step.Length())
	if !p.OK() {
		return buildup.Spec{}, nil, p.Faults
	}
	fit := buildup.FitOverhang
	if c.Press {
		fit = buildup.FitCompression
	}
	spec, fitted, faults := fit(p.Build, p.Result, used)
	for k := range faults {
		faults[k].Where.Seat, faults[k].Where.Field = string(c.Seat), s.BuildField(faults[k].Where.Field)
	}
	return spec, fitted, faults
}

// Apply writes what follows from the trial to the build-up.
func (c FitSeat) Apply(j job.Job) (job.Job, []unit.Fault) {
	spec, fitted, faults := c.fit(j)
	if len(faults) > 0 {
		return j, faults
	}
	return onSeat(j, c.Seat, func(s *job.Seat) {
		if c.Press {
			s.Build.Compression = percent(spec.Compression)
			return
		}
		for _, f := range fitted {
			to := map[seat.Role]*job.Measure{seat.Front: &s.Build.OverhangFront, seat.Left: &s.Build.OverhangLeft,
				seat.Right: &s.Build.OverhangRight, seat.Back: &s.Build.OverhangBack}[f.Role]
			*to = hundredths(f.Overhang, j.Units)
		}
	})
}

// hundredths writes a length that was reckoned, to the hundredth of a
// millimetre: finer than anybody cuts foam.
func hundredths(l unit.Length, units job.Units) job.Measure {
	if m := job.MeasureOf(l, units.Unit()); max(m.Or(-1)-l, l-m.Or(-1)) < 0.005 {
		return m
	}
	return job.Exactly(unit.RoundNearest(l, 0.01))
}

// percent writes a share to the ten thousandth of a per cent.
func percent(share float64) job.Percent {
	return job.PercentOf(unit.Share(share*float64(unit.Whole) + 0.5))
}

package edit

import (
	"slices"

	"slipseat/app/job"
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// PutFlaw marks a flaw on a cloth, or changes the one with its ID: where it is
// and how large. Values that a hand dragged are written at the marking step,
// outwards, so that the zone never becomes smaller than what was shown.
type PutFlaw struct {
	Cloth job.ID
	ID    job.ID
	Box   geom.Rect // from the cut end, and from the near edge of the usable width
}

func (c PutFlaw) at(j job.Job) (cloth, flaw int) {
	cloth = slices.IndexFunc(j.Cloths, func(o job.Cloth) bool { return o.ID == c.Cloth })
	if cloth < 0 {
		return cloth, -1
	}
	return cloth, slices.IndexFunc(j.Cloths[cloth].Flaws, func(f job.Flaw) bool { return f.ID == c.ID })
}

// Label names the cloth.
func (c PutFlaw) Label(j job.Job) Label {
	code := "add-flaw"
	if _, i := c.at(j); i >= 0 {
		code = "move-flaw"
	}
	return label(code, unit.A("name", nameOf(j, c.Cloth)))
}

// Apply puts the flaw on the list.
func (c PutFlaw) Apply(j job.Job) (job.Job, []unit.Fault) {
	cloth, i := c.at(j)
	if cloth < 0 {
		return gone(j)
	}
	box := c.clipped(j, j.Cloths[cloth])
	write := func(mm float64) job.Measure { return Written(j, unit.Length(mm)) }
	out := j
	out.Cloths = slices.Clone(j.Cloths)
	flaws := slices.Clone(out.Cloths[cloth].Flaws)
	if i < 0 {
		if !free(j, c.ID) {
			return refuse(j, unit.Fault{Code: CodeNotCopy})
		}
		i, flaws = len(flaws), append(flaws, job.Flaw{ID: c.ID})
	}
	f := &flaws[i]
	f.From, f.To, f.Near, f.Far = write(box.Min.X), write(box.Max.X), write(box.Min.Y), write(box.Max.Y)
	out.Cloths[cloth].Flaws = flaws
	return formed(j, out)
}

// clipped rounds a box outwards to the marking step and keeps it on the cloth,
// at least a step long and wide.
func (c PutFlaw) clipped(j job.Job, cl job.Cloth) geom.Rect {
	step, width := j.Step.Length(), cl.Goods().UsableWidth()
	span := func(lo, hi float64, most unit.Length) (a, b float64) {
		from := unit.RoundNearest(unit.Length(lo)-step/2+step*unit.StepTol, step)
		to := unit.RoundUp(unit.Length(hi), step)
		from = max(0, from)
		if most > 0 {
			from, to = min(from, max(0, most-step)), min(to, most)
		}
		return float64(from), float64(max(to, from+step))
	}
	var r geom.Rect
	r.Min.X, r.Max.X = span(c.Box.Min.X, c.Box.Max.X, 0)
	r.Min.Y, r.Max.Y = span(c.Box.Min.Y, c.Box.Max.Y, width)
	return r
}

// DeleteFlaw takes a flaw off its cloth.
type DeleteFlaw struct{ ID job.ID }

// Label names the cloth.
func (c DeleteFlaw) Label(j job.Job) Label {
	return label("delete-flaw", unit.A("name", nameOf(j, c.ID)))
}

// Apply removes the flaw.
func (c DeleteFlaw) Apply(j job.Job) (job.Job, []unit.Fault) {
	for i := range j.Cloths {
		rest := without(j.Cloths[i].Flaws, func(f job.Flaw) bool { return f.ID == c.ID })
		if len(rest) < len(j.Cloths[i].Flaws) {
			out := j
			out.Cloths = slices.Clone(j.Cloths)
			out.Cloths[i].Flaws = rest
			return out, nil
		}
	}
	return gone(j)
}

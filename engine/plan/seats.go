package plan

import (
	"math"
	"reflect"

	"slipseat/engine/buildup"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// CodeOwnNumber is the fault of a single seat whose number is not there, or
// there twice.
const CodeOwnNumber = "plan.own-number"

// OwnPlan is a single seat that differs, worked out.
type OwnPlan struct {
	Own
	Outline seat.Outline
	Result  buildup.Result
	Planed  []buildup.Gap // what was planed off, before
}

// MakeSeat works one kind of seat out. Single seats that differ have results
// of their own; the cover and the other cloth are then the largest of the
// kind, foam is cut for each (DESIGN section 4).
func MakeSeat(s Seat, step unit.Length) SeatPlan {
	sp := SeatPlan{Seat: s}
	fail := func(field string, faults ...unit.Fault) bool {
		for _, f := range faults {
			f.Where.Seat = s.ID
			if field != "" {
				f.Where.Field = field
			}
			sp.Faults = append(sp.Faults, f)
		}
		return len(faults) > 0
	}
	var faults []unit.Fault
	sp.Outline, sp.Result, sp.Planed, faults = s.one(s.Shape, s.Build, step)
	if fail("", faults...) {
		return sp
	}
	results := []buildup.Result{sp.Result}
	seen := map[int]bool{}
	for _, own := range s.Own {
		if own.Number > s.Count {
			continue // of a larger set that this one once was
		}
		if own.Number < 1 || seen[own.Number] {
			fail("own", unit.Fault{Code: CodeOwnNumber, Args: []unit.Arg{unit.A("number", own.Number)}})
			return sp
		}
		seen[own.Number] = true
		spec := s.Build
		spec.Frame = own.Frame
		o := OwnPlan{Own: own}
		o.Outline, o.Result, o.Planed, faults = s.one(own.Shape, spec, step)
		if fail("", faults...) {
			return sp
		}
		results = append(results, o.Result)
		sp.Own = append(sp.Own, o)
	}
	if len(sp.Own) > 0 {
		var blanks []buildup.Blank
		for _, b := range sp.Result.Blanks {
			if b.Part == buildup.PartFoam {
				blanks = append(blanks, b)
			}
		}
		sp.Result.Blanks = append(blanks, buildup.Together(results, step)...)
	}
	return sp
}

// one works out one board. With planing the outline is first made smaller by
// what the clearance of the board as measured asks for.
func (s Seat) one(sh Shape, spec buildup.Spec, step unit.Length) (seat.Outline, buildup.Result, []buildup.Gap, []unit.Fault) {
	o, faults := outline(sh, s.OldCover)
	if len(faults) > 0 {
		return seat.Outline{}, buildup.Result{}, nil, faults
	}
	r, faults := buildup.Make(o, spec, step)
	if len(faults) > 0 || !s.Plane {
		return o, r, nil, faults
	}
	var binds []buildup.Gap
	for _, g := range r.Gaps {
		if g.Binds() && g.At != buildup.AtPost {
			binds = append(binds, g)
		}
	}
	if len(binds) == 0 {
		return o, r, nil, nil
	}
	smaller, f := buildup.Planed(o, binds)
	if f != nil {
		return o, r, nil, []unit.Fault{*f}
	}
	r, faults = buildup.Make(smaller, spec, step)
	return smaller, r, binds, faults
}

// outline draws a board, the old layers it was measured over taken off.
func outline(sh Shape, old unit.Length) (seat.Outline, []unit.Fault) {
	var o seat.Outline
	var faults []unit.Fault
	switch {
	case sh.Measured != nil:
		o, faults = seat.FromMeasurements(*sh.Measured)
	case sh.Round:
		o, faults = seat.Round(sh.Width, sh.Depth)
	case sh.Traced != nil:
		p, f := seat.FromTraced(*sh.Traced)
		if f != nil {
			return p, []unit.Fault{*f}
		}
		o = p
	default:
		p, f := seat.FromPath(sh.Path, sh.Roles)
		if f != nil {
			return p, []unit.Fault{*f}
		}
		o = p
	}
	if len(faults) > 0 || old <= 0 {
		return o, faults
	}
	bare, f := o.Shrunk(old)
	if f != nil {
		f.Where.Field = "old_layers"
		return seat.Outline{}, []unit.Fault{*f}
	}
	return bare, nil
}

// alike tells whether a single seat's foam is that of its kind.
func alike(a, b buildup.Blank) bool { return reflect.DeepEqual(a.Path, b.Path) }

// stapleCounts gives the counts of staples in a kind's seats, equal ones
// together.
func (sp SeatPlan) stapleCounts() (each, count []int) {
	add := func(w unit.Why, n int) {
		v := int(math.Round(w.Value()))
		for i := range each {
			if each[i] == v {
				count[i] += n
				return
			}
		}
		each, count = append(each, v), append(count, n)
	}
	if n := sp.Count - len(sp.Own); n > 0 {
		add(sp.Result.Staples, n)
	}
	for _, o := range sp.Own {
		add(o.Result.Staples, 1)
	}
	return each, count
}

// sumOver adds a figure up over all seats of a kind.
func (sp SeatPlan) sumOver(f func(buildup.Result) float64) float64 {
	v := f(sp.Result) * float64(sp.Count-len(sp.Own))
	for _, o := range sp.Own {
		v += f(o.Result)
	}
	return v
}

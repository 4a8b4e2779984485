package buildup

import (
	"math"

	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// Fitted says what a trial changes at one edge, before the rest is cut.
type Fitted struct {
	Role        seat.Role
	Used        unit.Length // what the trial took, without the pull
	Before      unit.Length // wrap with its pull before the trial
	After       unit.Length // and after it
	Overhang    unit.Length // o' that follows from the trial
	OverhangWas unit.Length
	Compression float64 // c that follows, where that was asked for
	CompressWas float64
	Pressed     bool // explained by compression
}

// FitOverhang takes the wrap really used on each edge of a seat that was tried
// in scrap cloth, from the board's edge to the trimmed edge and so without the
// pull, and sets what is left of the oversize after pulling, o', so that the
// reckoned wrap is the used one. Edges without a figure stay as they are. An
// edge whose figure no overhang can explain is a fault that names what can.
//
// The wrap grows with o', so the solution is unique; it is found by bisection
// to a billionth of a millimetre.
func FitOverhang(s Spec, r Result, used PerEdge) (Spec, []Fitted, []unit.Fault) {
	var out []Fitted
	var faults []unit.Fault
	for _, w := range r.Wraps {
		u := used.At(w.Role)
		if !u.Set {
			continue
		}
		bare := func(overhang unit.Length) unit.Length {
			sec := w.Section
			sec.Overhang, sec.Pull = overhang, 0
			return sec.Wrap().Length()
		}
		least, most := bare(0), bare(MaxAllowance)
		if f := outOf(w.Role, u.Value, least, most); f != nil {
			faults = append(faults, *f)
			continue
		}
		lo, hi := unit.Length(0), MaxAllowance
		for range 80 {
			if mid := (lo + hi) / 2; bare(mid) < u.Value {
				lo = mid
			} else {
				hi = mid
			}
		}
		if hi < sameLength {
			hi = 0
		}
		s.Overhang = s.Overhang.With(w.Role, hi)
		out = append(out, Fitted{Role: w.Role, Used: u.Value, Before: w.Computed.Length(),
			After: bare(hi) + w.Section.Pull, Overhang: hi, OverhangWas: w.Section.Overhang})
	}
	return s, out, faults
}

// FitCompression explains the trial by how far the pull presses the foam's
// edge together, c, instead: the one share with which the reckoned wraps are
// as long in all as the used ones. It cannot press below the foam's rounding
// or bevel, nor beyond MaxPressed.
func FitCompression(s Spec, r Result, used PerEdge) (Spec, []Fitted, []unit.Fault) {
	var edges []Wrap
	var want unit.Length
	for _, w := range r.Wraps {
		if u := used.At(w.Role); u.Set {
			if math.IsNaN(u.Value.MM()) || math.IsInf(u.Value.MM(), 0) {
				return s, nil, []unit.Fault{*outOf(w.Role, u.Value, 0, MaxWrap)}
			}
			edges = append(edges, w)
			want += u.Value
		}
	}
	base := s.base()
	if len(edges) == 0 || base <= 0 {
		return s, nil, nil
	}
	pressed := func(w Wrap, c float64) unit.Length {
		sec := w.Section
		sec.Foam, sec.Pull = base*unit.Length(1-c), 0
		return sec.Wrap().Length()
	}
	all := func(c float64) unit.Length {
		var sum unit.Length
		for _, w := range edges {
			sum += pressed(w, c)
		}
		return sum
	}
	most := MaxPressed
	if s.Edge != SquareEdge {
		most = math.Min(most, 1-(s.EdgeSize/base).MM())
	}
	n := unit.Length(len(edges))
	if f := outOf(edges[0].Role, want/n, all(most)/n, all(0)/n); f != nil {
		return s, nil, []unit.Fault{*f}
	}
	lo, hi := 0.0, most
	for range 80 {
		if mid := (lo + hi) / 2; all(mid) > want {
			lo = mid
		} else {
			hi = mid
		}
	}
	c := hi
	if c < 1e-9 {
		c = 0
	}
	was := s.Compression
	s.Compression = c
	var out []Fitted
	for _, w := range edges {
		out = append(out, Fitted{Role: w.Role, Used: used.At(w.Role).Value, Before: w.Computed.Length(), After: pressed(w, c) + w.Section.Pull,
			Overhang: w.Section.Overhang, OverhangWas: w.Section.Overhang, Compression: c, CompressWas: was, Pressed: true})
	}
	return s, out, nil
}

// outOf is the fault of a trial's figure that lies outside of what a build-up
// can take.
func outOf(r seat.Role, got, least, most unit.Length) *unit.Fault {
	if got >= least-sameLength && got <= most+sameLength {
		return nil
	}
	return &unit.Fault{Code: CodeFit, Where: unit.Where{Field: "used_wrap_" + r.String()},
		Args: []unit.Arg{unit.A("got", got), unit.A("least", least), unit.A("most", most)}}
}

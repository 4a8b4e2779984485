package buildup

import (
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// Words' codes of the terms of webbing.
const (
	WhySpan    = "webbing.span"
	WhyStretch = "webbing.stretch"
	WhyFold    = "webbing.fold"
	WhyStrips  = "webbing.strips"
)

// Strip is one kind of webbing strip of a seat.
type Strip struct {
	Along  bool // from front to back, else from side to side
	Count  int
	Length unit.Why // of one
}

// webbing gives the strips of a seat and their length in all. A strip is cut
// to the span and its two folds; one that stretches is cut shorter by its
// stretch: 17 in / 1.23 = 13.8 in.
//
// Source: folds S47 (school textbook 1919, grade A), stretch S55 (grade B).
func (s Spec) webbing(o seat.Outline) ([]Strip, unit.Why) {
	total := unit.Why{Kind: unit.KindLength}
	var out []Strip
	w := s.Webbing
	width, depth := o.Size()
	for _, d := range []struct {
		along bool
		count int
		span  unit.Length
	}{{false, w.Across, w.SpanAcross.Or(width)}, {true, w.Along, w.SpanAlong.Or(depth)}} {
		if d.count <= 0 {
			continue
		}
		l := unit.Why{Kind: unit.KindLength}
		l.Add(WhySpan, d.span.MM())
		if w.Stretch > 1 {
			l.Add(WhyStretch, d.span.MM()/w.Stretch-d.span.MM(), unit.A("stretch", w.Stretch))
		}
		if w.Fold > 0 {
			l.Add(WhyFold, 2*w.Fold.MM(), unit.A("fold", w.Fold))
		}
		out = append(out, Strip{Along: d.along, Count: d.count, Length: l})
		total.Add(WhyStrips, float64(d.count)*l.Value(), unit.A("count", d.count), unit.A("length", l.Length()))
	}
	return out, total
}

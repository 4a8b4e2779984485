package job

// WithKind gives the seat as another kind, with the figures that the kind
// cannot do without filled in where they are missing: the starting figures of
// a new one. Nothing that was typed is lost, so that changing back finds it
// again.
func (s Seat) WithKind(k SeatKind, units Units) Seat {
	fill := func(m *Measure, inches, mm float64) {
		if *m == "" {
			*m = start(units, inches, mm)
		}
	}
	was := s.Kind
	s.Kind = k
	b := &s.Build
	switch k {
	case BoxedPad:
		fill(&b.PadThickness, 2, 50)
		fill(&b.PadSeam, 0.5, 12)
		if b.PadZip {
			fill(&b.PadZipSeam, 0.5, 12)
		}
	case Stool:
		s.Outline.From = Round
		fallthrough
	default:
		fill(&b.Board, 0.5, 12)
		fill(&b.TurnUnder, 1.25, 30)
		fill(&b.StaplePitch, 1, 25)
	}
	if was == Stool && k != Stool && s.Outline.From == Round {
		s.Outline.From = Measured
	}
	fill(&s.Outline.FrontWidth, 17.5, 450)
	fill(&s.Outline.Depth, 16.5, 420)
	if s.Outline.From == Measured {
		fill(&s.Outline.BackWidth, 15.5, 400)
	}
	return s
}

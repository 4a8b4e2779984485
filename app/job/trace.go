package job

import (
	"slipseat/engine/geom"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// TracePoint is a point of a traced outline, seen from the top in a frame of
// its own, and the edge that leaves it. The points run counter-clockwise.
type TracePoint struct {
	Across Measure  `json:"across,required" most:"100 m"`
	Left   bool     `json:"left"`
	Back   Measure  `json:"back,required" most:"100 m"`
	Before bool     `json:"before"`
	Bow    Measure  `json:"bow" most:"100 m"` // of the edge that leaves it
	Hollow bool     `json:"hollow"`
	Radius Measure  `json:"radius" most:"5 m"`
	Edge   EdgeRole `json:"edge"`

	Extra Extra `json:"-"`
}

func signed(m Measure, minus bool) float64 {
	if minus {
		return -m.mm().MM()
	}
	return m.mm().MM()
}

// Traced is the traced outline as the engine takes it.
func (o Outline) Traced() seat.Traced {
	var t seat.Traced
	for _, p := range o.Points {
		q := seat.TracedPoint{At: geom.P(signed(p.Across, p.Left), signed(p.Back, p.Before)),
			Bow: unit.Length(signed(p.Bow, p.Hollow)), Radius: p.Radius.mm()}
		switch p.Edge {
		case EdgeFront:
			q.Role, q.HasRole = seat.Front, true
		case EdgeLeft:
			q.Role, q.HasRole = seat.Left, true
		case EdgeRight:
			q.Role, q.HasRole = seat.Right, true
		case EdgeBack:
			q.Role, q.HasRole = seat.Back, true
		}
		t.Points = append(t.Points, q)
	}
	for _, n := range [...]struct {
		right bool
		w, d  Measure
	}{{true, o.RightNotchWidth, o.RightNotchDepth}, {false, o.LeftNotchWidth, o.LeftNotchDepth}} {
		if n.w != "" || n.d != "" {
			if c := (seat.Cut{Right: n.right, Width: n.w.mm(), Depth: n.d.mm()}); c.Width != 0 || c.Depth != 0 {
				t.Notches = append(t.Notches, c)
			}
		}
	}
	return t
}

// WithTraced gives the outline with another traced shape. What did not change
// stays as it was typed; new lengths are written by write.
func (o Outline) WithTraced(t seat.Traced, write func(unit.Length) Measure) Outline {
	was := o.Points
	o.From = Traced
	o.Points = nil
	known := map[geom.Pt]TracePoint{} // as typed, by place
	old := Outline{Points: was}.Traced()
	for i, p := range was {
		known[old.Points[i].At] = p
	}
	for _, p := range t.Points {
		q := known[p.At]
		set := func(m *Measure, minus *bool, v float64) {
			if signed(*m, *minus) == v && *m != "" {
				return
			}
			*m, *minus = write(unit.Length(max(v, -v))), v < 0
			if minus != nil && m.mm() == 0 {
				*minus = false
			}
		}
		set(&q.Across, &q.Left, p.At.X)
		set(&q.Back, &q.Before, p.At.Y)
		if p.Bow == 0 {
			q.Bow, q.Hollow = "", false
		} else {
			set(&q.Bow, &q.Hollow, p.Bow.MM())
		}
		switch {
		case p.Radius == 0:
			q.Radius = ""
		case q.Radius == "" || q.Radius.mm() != p.Radius:
			q.Radius = write(p.Radius)
		}
		q.Edge = EdgeByDirection
		if p.HasRole {
			q.Edge = [...]EdgeRole{EdgeFront, EdgeLeft, EdgeRight, EdgeBack}[p.Role]
		}
		o.Points = append(o.Points, q)
	}
	for _, right := range [...]bool{true, false} {
		w, d := &o.RightNotchWidth, &o.RightNotchDepth
		if !right {
			w, d = &o.LeftNotchWidth, &o.LeftNotchDepth
		}
		var cut seat.Cut
		for _, c := range t.Notches {
			if c.Right == right {
				cut = c
			}
		}
		if cut.Width == 0 && cut.Depth == 0 {
			*w, *d = "", ""
			continue
		}
		if *w == "" || w.mm() != cut.Width {
			*w = write(cut.Width)
		}
		if *d == "" || d.mm() != cut.Depth {
			*d = write(cut.Depth)
		}
	}
	return o
}

// Known is the measurement that the traced outline is held against.
func (o Outline) Known() seat.Known {
	return seat.Known{What: seat.KnownWhat(indexOf(o.KnownWhat)), From: o.KnownFrom - 1, To: o.KnownTo - 1, Length: o.KnownLength.mm()}
}

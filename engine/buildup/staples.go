package buildup

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// Words' codes of the terms of staples, bite and clearance.
const (
	WhyStapleCover   = "staples.cover"
	WhyStapleCorner  = "staples.corner"
	WhyStapleLining  = "staples.lining"
	WhyStapleBarrier = "staples.barrier"
	WhyStapleDust    = "staples.dust-cloth"
	WhyStapleWeb     = "staples.webbing"
	WhyLeg           = "bite.leg"
	WhyLayers        = "bite.layers"
	WhyOpening       = "gap.opening"
	WhyBoardSize     = "gap.board"
	WhyPostGap       = "gap.post"
	WhyNeedCover     = "need.cover"
	WhyNeedLining    = "need.lining"
	WhyNeedBarrier   = "need.barrier"
)

// countStaples gives the staples of one seat: cover edge by pitch, rounded up,
// 4 more per outside corner, lining and fire barrier edge by pitch, dust cloth
// edge by its own pitch, 9 per end of webbing. dust is the length round the
// dust cloth, 0 for none.
//
// Source: pitch and corners after S53, S54 (grade C), webbing after S47 (school
// textbook 1919, grade A: 4 tacks, folded, 3 more) and S49 (grade B: 4 to 5,
// folded, again).
func (s Spec) countStaples(o seat.Outline, dust unit.Length) unit.Why {
	w := unit.Why{Kind: unit.KindCount}
	edge, pitch := o.Edge(), s.Staples.Pitch
	row := func(code string, edge, pitch unit.Length) {
		n := math.Ceil((edge.MM() - sameLength) / pitch.MM())
		w.Add(code, n, unit.A("edge", edge), unit.A("pitch", pitch))
	}
	row(WhyStapleCover, edge, pitch)
	if c := o.CornersOutside(); c > 0 {
		w.Add(WhyStapleCorner, float64(UsualCornerFix*c), unit.A("corners", c), unit.A("each", UsualCornerFix))
	}
	if s.Barrier.Use {
		row(WhyStapleBarrier, edge, pitch)
	}
	if s.Lining.Use {
		row(WhyStapleLining, edge, pitch)
	}
	if dust > 0 {
		row(WhyStapleDust, dust, s.Staples.DustPitch.Or(pitch))
	}
	if ends := 2 * (s.Webbing.Across + s.Webbing.Along); ends > 0 {
		w.Add(WhyStapleWeb, float64(UsualWebFix*ends), unit.A("ends", ends), unit.A("each", UsualWebFix))
	}
	return w
}

// WithSpoiled adds the staples that are bent, lost or pulled again to the
// staples of count seats, rounded up to whole staples.
func WithSpoiled(each, count int, spoiled unit.Share) int {
	n := each * count
	return n + int(math.Ceil(float64(n)*spoiled.Float()-1e-9))
}

// Bite is how deep a staple goes into the board: its leg less the layers it
// passes. At a side it passes one layer of the cover, at a folded corner three
// (two when trimmed), and lining and fire barrier under it.
type Bite struct {
	Known        bool // a leg was chosen
	Side, Corner unit.Why
	Through      bool // the points would come through the board
	Loose        bool // the staple would not hold
}

// Limits of the bite.
//
// Source: S50 (fastener supplier, grade B) for 3/16 in at least; the sixteenth
// that must remain below the points is common practice, no source.
const (
	BiteLeast = 3 * unit.In / 16
	BiteSpare = unit.In / 16
)

// cornerLayers is how many layers of cover lie over each other at a corner.
func (s Spec) cornerLayers() int {
	if s.Cover.TrimmedCorners {
		return 2
	}
	return 3
}

func (s Spec) bite() Bite {
	if s.Staples.Leg <= 0 || s.Kind == BoxedPad {
		return Bite{}
	}
	at := func(cover int) unit.Why {
		w := unit.Why{Kind: unit.KindLength}
		w.Add(WhyLeg, s.Staples.Leg.MM())
		if t := s.Cover.Thickness; t > 0 {
			w.Add(WhyLayers, -float64(cover)*t.MM(), unit.A("layers", cover), unit.A("thickness", t), unit.A("part", PartCover.Code()))
		}
		if t := s.Lining.Thickness; s.Lining.Use && t > 0 {
			w.Add(WhyLayers, -t.MM(), unit.A("layers", 1), unit.A("thickness", t), unit.A("part", PartLining.Code()))
		}
		if t := s.Barrier.Thickness; s.Barrier.Use && t > 0 {
			w.Add(WhyLayers, -t.MM(), unit.A("layers", 1), unit.A("thickness", t), unit.A("part", PartBarrier.Code()))
		}
		return w
	}
	b := Bite{Known: true, Side: at(1), Corner: at(s.cornerLayers())}
	b.Through = b.Side.Value() > (s.Board-BiteSpare).MM()+sameLength
	b.Loose = b.Corner.Value() < BiteLeast.MM()-sameLength
	return b
}

// firstRuns gives the stretches of the board's edge that are stapled first:
// every edge between two outside corners, less the distance that stapling
// stops short of a corner until the corner is folded.
//
// Source: common practice, no source (2 in); S51, S52, S54 (grade C) say 2 to
// 3 in.
func (s Spec) firstRuns(o seat.Outline) []Line {
	short := s.Staples.StopShort.Or(UsualStopShort).MM()
	var out []Line
	for _, run := range runs(o.Filled) {
		var length float64
		for _, i := range run.edges {
			length += o.Filled.Segment(i).Length()
		}
		from, to := 0.0, length
		if run.cornered {
			from, to = short, length-short
		}
		if to-from <= sameLength {
			continue
		}
		l := Line{Kind: LineFirst, Role: o.Roles[run.edges[len(run.edges)/2]], Closed: !run.cornered}
		l.Path = stretch(o.Filled, run.edges, from, to, l.Closed)
		out = append(out, l)
	}
	return out
}

// run is a chain of edges between two outside corners, or the whole path when
// it has no corner.
type run struct {
	edges    []int
	cornered bool
}

// cornerTurn is the least turn that counts as a corner to fold.
const cornerTurn = 30 * math.Pi / 180

// roundedCorners tells which segments are roundings of corners that turn by at
// least cornerTurn.
func roundedCorners(p geom.Path) []bool {
	c := p.CornerArcs()
	for i := range c {
		c[i] = c[i] && p.Segment(i).Sweep() >= cornerTurn
	}
	return c
}

func runs(p geom.Path) []run {
	n := len(p)
	arc := roundedCorners(p)
	starts := func(i int) bool { // does a run begin at segment i?
		return !arc[i] && (arc[(i+n-1)%n] || p.TurnAt(i) >= cornerTurn)
	}
	first := -1
	for i := range p {
		if starts(i) {
			first = i
			break
		}
	}
	if first < 0 {
		all := make([]int, n)
		for i := range all {
			all[i] = i
		}
		return []run{{edges: all}}
	}
	var out []run
	for k := range n {
		i := (first + k) % n
		if arc[i] {
			continue
		}
		if starts(i) {
			out = append(out, run{cornered: true})
		}
		last := &out[len(out)-1]
		last.edges = append(last.edges, i)
	}
	return out
}

// stretch cuts the chain of edges to the part between two lengths along it.
func stretch(p geom.Path, edges []int, from, to float64, closed bool) geom.Path {
	var out geom.Path
	at := 0.0
	var end geom.Pt
	for _, i := range edges {
		s := p.Segment(i)
		l := s.Length()
		a, b := math.Max(from-at, 0), math.Min(to-at, l)
		at += l
		if b-a <= 0 {
			continue
		}
		part := s.Part(a/l, b/l)
		out = append(out, geom.Vertex{Pt: part.A, Bulge: part.Bulge})
		end = part.B
	}
	if !closed {
		out = append(out, geom.Vertex{Pt: end})
	}
	return out
}

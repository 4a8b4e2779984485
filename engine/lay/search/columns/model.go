package columns

import (
	"math"
	"slices"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
)

const (
	perMM = 20000
	// nodeSlack is how far from its place a motif may be counted as on it, in
	// units: repeats are seldom whole numbers of units.
	nodeSlack = 40
	// Beyond these a search over orders makes no sense.
	maxSpots  = 480
	maxPieces = 400
	maxPhases = 600
)

// kind is a kind of piece in one of its turns.
type kind struct {
	of    int // index into the problem's kinds
	turn  lay.Turn
	shape geom.Polygon // around the middle of its box
	l, w  float64      // its box, mm
	motif geom.Pt      // from the middle of the box
	low   geom.Pt      // middle of the box from the shape's own origin
}

// Model is a problem as this package sees it.
type Model struct {
	p       lay.Problem
	kinds   []kind
	count   []int // by kind of the problem
	n       int
	lattice lay.Lattice
	// boundAlong tells that motifs bind along the goods too.
	boundAlong bool
	alikeX     bool // the phase along is free, but the same for all
	alikeY     bool
	period     int // number of columns after which the drop starts anew
	clashes    [][]region
	// whole tells that a search that has seen every order proves something.
	whole bool
}

// New looks at a problem; nil means that this package has nothing to say
// about it: no pattern across, several open stretches or sheets, locked pieces,
// or pieces that follow different rules.
func New(p lay.Problem) *Model {
	last := p.Bins[len(p.Bins)-1]
	if len(p.Fixed) > 0 || last.Sheets != 1 || last.Length != 0 || last.Lattice.Across <= 0 {
		return nil
	}
	m := &Model{p: p, lattice: last.Lattice, whole: true, count: make([]int, len(p.Kinds))}
	for _, b := range p.Bins {
		if b.Lattice != m.lattice || b.Sheets != 1 {
			return nil
		}
		for _, f := range b.Flaws {
			if len(f) >= 3 && !convex(ccw(f)) {
				m.whole = false
			}
		}
	}
	first := -1
	for i, k := range p.Kinds {
		if k.Count == 0 {
			continue
		}
		if first < 0 {
			first = i
		}
		f := p.Kinds[first]
		alike := k.Along == lay.Alike && m.lattice.Along > 0 || k.Across == lay.Alike
		if k.Across == lay.Free || k.Across != f.Across || k.Along != f.Along && m.lattice.Along > 0 || alike && k.Group != f.Group {
			return nil
		}
		m.count[i] = k.Count
		m.n += k.Count
		m.addKind(i, k)
	}
	if first < 0 || m.n > maxPieces {
		return nil
	}
	f := p.Kinds[first]
	m.boundAlong = m.lattice.Along > 0 && f.Along != lay.Free
	m.alikeX = m.boundAlong && f.Along == lay.Alike
	m.alikeY = f.Across == lay.Alike
	if m.alikeY && m.flawed() && (p.Gap > 0 || !m.boxes()) {
		// What a setting across must be for a piece to touch a flaw then
		// depends on where it lies along.
		m.whole = false
	}
	m.setPeriod()
	if m.boundAlong && m.period == 0 {
		return nil
	}
	m.clashes = make([][]region, len(m.kinds))
	for a := range m.kinds {
		for b := range m.kinds {
			m.clashes[a] = append(m.clashes[a], clash(m.kinds[a].shape, m.kinds[b].shape))
		}
	}
	return m
}

func (m *Model) flawed() bool {
	for _, b := range m.p.Bins {
		if len(b.Flaws) > 0 {
			return true
		}
	}
	return false
}

func (m *Model) boxes() bool {
	for _, k := range m.p.Kinds {
		if k.Count > 0 && !k.Square {
			return false
		}
	}
	return true
}

// Whole tells that a run can prove something.
func (m *Model) Whole() bool { return m.whole }

func ccw(f geom.Polygon) geom.Polygon {
	if f.Area() < 0 {
		return f.Reverse()
	}
	return f
}

func (m *Model) addKind(i int, k lay.Kind) {
	for t := lay.Turn(0); t < 4; t++ {
		if !k.Turns.Has(t) {
			continue
		}
		shape := k.Shape.Turned(int(t))
		if !level(shape) {
			m.whole = false
			shape = shape.ConvexHull()
		}
		box := shape.Bounds()
		c := box.Center()
		n := kind{of: i, turn: t, shape: shape.Translate(geom.Pt{X: -c.X, Y: -c.Y}), l: box.W(), w: box.H(), motif: k.Motif.Turned(int(t)).Sub(c), low: c}
		same := false
		for _, o := range m.kinds {
			same = same || o.of == i && o.motif.Dist(n.motif) < 1e-9 && alikeShapes(o.shape, n.shape)
		}
		if !same {
			m.kinds = append(m.kinds, n)
		}
	}
}

// alikeShapes tells whether two polygons have the same corners.
func alikeShapes(a, b geom.Polygon) bool {
	if len(a) != len(b) {
		return false
	}
	for _, p := range a {
		if !slices.ContainsFunc(b, func(q geom.Pt) bool { return p.Dist(q) < 1e-7 }) {
			return false
		}
	}
	return true
}

// setPeriod finds after how many columns the drop is whole again.
func (m *Model) setPeriod() {
	m.period = 1
	if !m.boundAlong || m.lattice.Drop == 0 {
		return
	}
	for q := 1; q <= 12; q++ {
		if d := m.lattice.Drop * float64(q); math.Abs(d-math.Round(d)) < 1e-9 {
			m.period = q
			return
		}
	}
	m.period = 0
}

// phase is where the pattern lies on the pieces, from centred.
type phase struct{ along, across float64 }

// spot is a kind in a column: the place across is fixed, the one along open.
type spot struct {
	kind   int
	column float64
	y      float64 // of the middle of the box, mm
	base   float64 // places along are base + i·step, units; of the middle
	half   int64   // half the box's length, units, rounded down
	in     []bool  // which bins it fits
	taken  [][]gap // of each bin: where a flaw is in the way of the middle
}

// gap is an open stretch of forbidden places.
type gap struct{ lo, hi int64 }

// columnsOf gives the spots of a kind across goods of a width.
func (m *Model) columnsOf(k *kind, across, width float64) (first, last float64) {
	h := m.lattice.Across.MM()
	base := m.lattice.Phase.Y + across - k.motif.Y // middle of the box in column 0
	first = math.Ceil((k.w/2 - give - base) / h)
	last = math.Floor((width + give - k.w/2 - base) / h)
	return first, last
}

// acrossPhases lists the settings across that can be the best: pushed towards
// the near edge, some piece touches it, or a flaw.
func (m *Model) acrossPhases() []float64 {
	if !m.alikeY {
		return []float64{0}
	}
	h := m.lattice.Across.MM()
	var out []float64
	add := func(a float64) {
		a -= float64(h * math.Round(a/h))
		for _, o := range out {
			if math.Abs(o-a) < 1e-6 {
				return
			}
		}
		out = append(out, a)
		if h/2-math.Abs(a) < 1e-6 { // as near to one column as to the next
			out = append(out, -a)
		}
	}
	for i := range m.kinds {
		k := &m.kinds[i]
		down := m.lattice.Phase.Y - k.motif.Y
		add(k.w/2 - down)
		for _, b := range m.p.Bins {
			for _, f := range b.Flaws {
				if len(f) >= 3 && m.whole {
					add(f.Bounds().Max.Y + m.p.Gap.MM() + k.w/2 - down)
				}
			}
		}
	}
	return out
}

// spotsAt lists the spots of a setting across. The order is that of places
// across, so that equal lays are met in one order only.
func (m *Model) spotsAt(ph phase) []spot {
	var out []spot
	for i := range m.kinds {
		k := &m.kinds[i]
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, b := range m.p.Bins {
			f, l := m.columnsOf(k, ph.across, b.Width.MM())
			lo, hi = math.Min(lo, f), math.Max(hi, l)
		}
		for j := lo; j <= hi && len(out) <= maxSpots; j++ {
			s := spot{kind: i, column: j, half: int64(math.Floor(k.l / 2 * perMM))}
			s.y = m.lattice.Phase.Y + ph.across + float64(j*m.lattice.Across.MM()) - k.motif.Y
			if m.boundAlong {
				d := j * m.lattice.Drop
				s.base = (m.lattice.Phase.X + ph.along + float64((d-math.Floor(d))*m.lattice.Along.MM()) - k.motif.X) * perMM
			}
			for _, b := range m.p.Bins {
				f, l := m.columnsOf(k, ph.across, b.Width.MM())
				s.in = append(s.in, j >= f && j <= l)
				s.taken = append(s.taken, m.inTheWay(b, k, s.y))
			}
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b spot) int {
		switch {
		case a.y < b.y:
			return -1
		case a.y > b.y:
			return 1
		}
		return a.kind - b.kind
	})
	return out
}

// inTheWay lists where flaws keep the middle of a kind from lying at height y.
func (m *Model) inTheWay(b lay.Bin, k *kind, y float64) []gap {
	var out []gap
	for _, f := range b.Flaws {
		if len(f) < 3 {
			continue
		}
		f = ccw(f)
		if !convex(f) {
			f = f.ConvexHull()
		}
		if lo, hi, ok := forbidden(clash(f, k.shape), m.p.Gap.MM(), y); ok {
			out = append(out, gap{int64(math.Ceil(lo * perMM)), int64(math.Floor(hi * perMM))})
		}
	}
	return out
}

// alongPhases lists the settings along that can be the best for given spots:
// pushed towards the cut end, some piece touches it or a flaw.
func (m *Model) alongPhases(spots []spot) []float64 {
	if !m.alikeX {
		return []float64{0}
	}
	v := m.lattice.Along.MM()
	var out []float64
	add := func(a float64) {
		a -= float64(v * math.Floor(a/v))
		for _, o := range out {
			if d := math.Abs(o - a); d < 1e-6 || v-d < 1e-6 {
				return
			}
		}
		out = append(out, a)
	}
	for i := range spots {
		s := &spots[i]
		at := s.base / perMM // with phase 0
		add(m.kinds[s.kind].l/2 - at)
		for b := range s.taken {
			if !m.whole {
				break
			}
			for _, g := range s.taken[b] {
				add(float64(g.hi)/perMM - at)
			}
		}
	}
	slices.Sort(out)
	return out
}

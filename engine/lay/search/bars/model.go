package bars

import (
	"math"
	"slices"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
)

const (
	perMM = 20000
	// slack is what two sizes may overlap by, and goods be wider, in units:
	// rounding to units, and a little of what the judge lets pass.
	slack = 40
	// Beyond these a search over orders makes no sense.
	maxPieces  = 400
	maxOptions = 64
	maxPhases  = 200
)

// option is a kind in one of its turns, as a bar.
type option struct {
	kind int
	turn lay.Turn
	l, w int64
	// head and tail are what the piece has before and behind the bar.
	head, tail int64
	base       float64 // on a pattern the bar begins at base + i·repeat
	low        geom.Pt // corner of the turned shape's box, mm
}

// wall is an obstacle across: a flaw or a locked piece.
type wall struct{ x0, x1, y0, y1 int64 }

// bin is one stretch of goods.
type bin struct {
	l     int64 // with the gap; 0 for the open one
	w     int64
	walls []wall
}

// shape is a kind in a turn, before its bar is chosen.
type shape struct {
	kind   int
	turn   lay.Turn
	band   band // of the shape grown by half the gap; nil for boxes
	l, w   float64
	low    geom.Pt
	motif  geom.Pt // from the corner of the box
	levels []float64
}

// Model is a problem as this package sees it.
type Model struct {
	p      lay.Problem
	shapes []shape
	count  []int // by kind, locked pieces taken off
	n      int
	bins   []bin
	gap    float64
	// boxes tells that all pieces are squared: bars say everything about them
	// then but where they lie across.
	boxes bool
	step  float64 // repeat along, mm; 0 where the pattern does not bind along
	alike bool
	phase float64 // of the pattern, mm
	opts  []option
	fixed int64 // how far locked pieces reach on the open goods
	// partial tells that a lay must fulfil more than the bars know of, so that
	// it is not worth while to look for places across.
	partial bool
	noLays  bool
}

// New looks at a problem; nil means that this package has nothing to say about
// it: no open stretch of goods, a drop, or pieces that follow different rules.
func New(p lay.Problem) *Model {
	last := p.Bins[len(p.Bins)-1]
	if last.Sheets != 1 || last.Length != 0 {
		return nil
	}
	m := &Model{p: p, gap: p.Gap.MM(), boxes: true, count: make([]int, len(p.Kinds))}
	first := -1
	for i, k := range p.Kinds {
		m.count[i] = k.Count
		if k.Count == 0 {
			continue
		}
		if first < 0 {
			first = i
		}
		m.boxes = m.boxes && k.Square
	}
	for _, f := range p.Fixed {
		m.count[f.Kind]--
	}
	for _, n := range m.count {
		m.n += n
	}
	if first < 0 || m.n == 0 || m.n > maxPieces || !m.pattern(p.Kinds[first]) {
		return nil
	}
	for i, k := range p.Kinds {
		if m.count[i] > 0 && !m.addKind(i, k) {
			return nil
		}
	}
	if len(m.shapes) > maxOptions {
		return nil
	}
	for i, b := range p.Bins {
		m.bins = append(m.bins, m.bin(i, b))
	}
	m.noLays = !m.boxes || m.partial
	return m
}

// pattern reads the rules along the goods. A drop, a rule that differs from
// kind to kind or from bin to bin is left out of account: the bars then lie
// anywhere, which still bounds.
func (m *Model) pattern(f lay.Kind) bool {
	l := m.p.Bins[len(m.p.Bins)-1].Lattice
	if l.None() {
		return true
	}
	m.partial = m.partial || l.Across > 0 && f.Across != lay.Free
	same := l.Along > 0 && f.Along != lay.Free && (l.Across == 0 || l.Drop == 0)
	for _, k := range m.p.Kinds {
		same = same && (k.Count == 0 || k.Along == f.Along && (k.Along != lay.Alike || k.Group == f.Group))
	}
	for _, b := range m.p.Bins {
		same = same && b.Lattice == l
	}
	if f.Along == lay.Alike && len(m.p.Fixed) > 0 {
		same = false
	}
	if !same {
		for _, k := range m.p.Kinds {
			m.partial = m.partial || k.Along != lay.Free && l.Along > 0
		}
		return true
	}
	m.step, m.alike, m.phase = l.Along.MM(), f.Along == lay.Alike, l.Phase.X
	return true
}

func (m *Model) addKind(i int, k lay.Kind) bool {
	last := m.p.Bins[len(m.p.Bins)-1]
	some := false
	for t := lay.Turn(0); t < 4; t++ {
		if !k.Turns.Has(t) {
			continue
		}
		g := k.Shape.Turned(int(t))
		box := g.Bounds()
		s := shape{kind: i, turn: t, l: box.W(), w: box.H(), low: box.Min, motif: k.Motif.Turned(int(t)).Sub(box.Min)}
		fits := false
		for _, b := range m.p.Bins {
			fits = fits || box.H() <= (b.Width+lay.CheckTol).MM() && (b.Length == 0 || box.W() <= (b.Length+lay.CheckTol).MM())
		}
		if !fits {
			continue
		}
		if box.H() > (last.Width + lay.CheckTol).MM() {
			return false // only on a piece at hand: not reckoned with
		}
		if !m.boxes {
			in, ok := inside(g)
			if !ok {
				return false
			}
			s.band = bandOf(grown(in.Translate(geom.Pt{X: -box.Min.X, Y: -box.Min.Y}), m.gap/2))
		}
		same := false
		for _, o := range m.shapes {
			same = same || o.kind == i && o.alike(s, m.step > 0)
		}
		if !same {
			m.shapes = append(m.shapes, s)
		}
		some = true
	}
	return some
}

// alike tells whether two shapes of a kind give the same bars.
func (s shape) alike(o shape, patterned bool) bool {
	if math.Abs(s.l-o.l) > 1e-9 || math.Abs(s.w-o.w) > 1e-9 || patterned && math.Abs(s.motif.X-o.motif.X) > 1e-9 {
		return false
	}
	if len(s.band.xs) != len(o.band.xs) {
		return false
	}
	for i := range s.band.xs {
		if math.Abs(s.band.xs[i]-o.band.xs[i]) > 1e-9 || math.Abs(s.band.hi[i]-s.band.lo[i]-o.band.hi[i]+o.band.lo[i]) > 1e-9 {
			return false
		}
	}
	return true
}

// bin reads one stretch of goods. Boxes are bars longer by the gap and as wide
// as they are, on goods as wide as they are. Shapes are grown by half the gap
// all round, and so are the goods.
func (m *Model) bin(i int, b lay.Bin) bin {
	extra := 0.0
	if !m.boxes {
		extra = m.gap
	}
	out := bin{w: int64(math.Floor((b.Width.MM()+extra)*perMM)) + slack}
	if b.Length > 0 {
		out.l = int64(math.Floor((b.Length.MM()+m.gap)*perMM)) + slack
	}
	add := func(r geom.Rect) {
		w := wall{
			x0: int64(math.Ceil(r.Min.X*perMM)) + slack, x1: int64(math.Floor((r.Max.X+m.gap)*perMM)) - slack,
			y0: int64(math.Ceil((r.Min.Y+extra/2)*perMM)) + slack, y1: int64(math.Floor((r.Max.Y+extra/2)*perMM)) - slack,
		}
		if w.x0 < w.x1 && w.y0 < w.y1 {
			out.walls = append(out.walls, w)
		}
	}
	for _, f := range b.Flaws {
		if r := f.Bounds(); len(f) == 4 && math.Abs(math.Abs(f.Area())-r.W()*r.H()) < 1e-6 {
			add(r)
		}
	}
	for _, at := range m.p.Fixed {
		if at.Bin != i {
			continue
		}
		g := m.p.Placed(at)
		if i == len(m.p.Bins)-1 {
			m.fixed = max(m.fixed, int64(math.Floor(g.Bounds().Max.X*perMM)))
		}
		if m.p.Kinds[at.Kind].Square {
			add(g.Bounds())
			continue
		}
		in, ok := inside(g)
		if !ok {
			continue
		}
		// The largest of a few boxes in it.
		bd := bandOf(in)
		var best geom.Rect
		for _, share := range []float64{0.6, 0.75, 0.85, 0.92} {
			x0, x1, ok := bd.stretch(bd.widest() * share)
			if !ok {
				continue
			}
			lo, hi := math.Inf(-1), math.Inf(1)
			for j, x := range bd.xs {
				if x >= x0 && x <= x1 {
					lo, hi = math.Max(lo, bd.lo[j]), math.Min(hi, bd.hi[j])
				}
			}
			for _, x := range []float64{x0, x1} {
				l, h := bd.at(x)
				lo, hi = math.Max(lo, l), math.Min(hi, h)
			}
			if hi > lo && (x1-x0)*(hi-lo) > best.W()*best.H() {
				best = geom.Rect{Min: geom.P(x0, lo), Max: geom.P(x1, hi)}
			}
		}
		if best.W() > 0 {
			add(best)
		}
	}
	slices.SortFunc(out.walls, func(a, b wall) int { return sign(a.x0 - b.x0) })
	return out
}

// at is the chord on a line between the first and the last.
func (b band) at(x float64) (lo, hi float64) {
	for i := 1; i < len(b.xs); i++ {
		if x <= b.xs[i] {
			f := (x - b.xs[i-1]) / (b.xs[i] - b.xs[i-1])
			return b.lo[i-1] + f*(b.lo[i]-b.lo[i-1]), b.hi[i-1] + f*(b.hi[i]-b.hi[i-1])
		}
	}
	n := len(b.xs) - 1
	return b.lo[n], b.hi[n]
}

func sign(v int64) int {
	if v < 0 {
		return -1
	}
	if v > 0 {
		return 1
	}
	return 0
}

// bar is the option of a shape whose bar is c wide; boxes have one.
func (m *Model) bar(s *shape, c float64) (option, bool) {
	o := option{kind: s.kind, turn: s.turn, low: s.low}
	x0 := 0.0
	if m.boxes {
		o.l, o.w = int64(math.Floor((s.l+m.gap)*perMM)), int64(math.Floor(s.w*perMM))
	} else {
		var x1 float64
		var ok bool
		if x0, x1, ok = s.band.stretch(c); !ok {
			return o, false
		}
		from, to := s.band.xs[0], s.band.xs[len(s.band.xs)-1]
		o.l, o.w = int64(math.Floor((x1-x0)*perMM))-2, int64(math.Floor(c*perMM))
		o.head, o.tail = int64(math.Floor((x0-from)*perMM)), int64(math.Floor((to-x1)*perMM))
		x0 -= from
	}
	// The bar begins x0 behind the piece.
	o.base = (m.phase - s.motif.X + x0) * perMM
	return o, o.l > 0 && o.w > 0
}

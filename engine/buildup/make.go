package buildup

import (
	"math"

	"slipseat/engine/geom"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
)

// Make derives everything for one seat from its outline and its build-up.
// step is the job's marking step; 0 leaves sizes unrounded. With faults the
// result is empty. The same input gives the same result, bit for bit.
func Make(o seat.Outline, s Spec, step unit.Length) (Result, []unit.Fault) {
	faults := s.Check()
	if len(o.Filled) == 0 || len(o.Roles) != len(o.Filled) {
		faults = append(faults, unit.Fault{Code: CodeNoOutline})
	}
	if len(faults) > 0 {
		return Result{}, faults
	}
	m := &maker{o: o, s: s, step: step, box: o.Filled.Bounds()}
	m.out.Motif, m.out.Edge = o.MotifPoint(), o.Edge()
	if s.Kind == BoxedPad {
		m.pad()
	} else {
		m.stapled()
	}
	m.welt()
	m.out.Webbing, m.out.WebLength = s.webbing(o)
	if len(m.faults) > 0 {
		return Result{}, m.faults
	}
	return m.out, nil
}

// maker is one run of Make.
type maker struct {
	o      seat.Outline
	s      Spec
	step   unit.Length
	box    geom.Rect // of the notch-filled outline
	out    Result
	faults []unit.Fault
}

func (m *maker) fail(code, field string, args ...unit.Arg) {
	m.faults = append(m.faults, unit.Fault{Code: code, Where: unit.Where{Field: field}, Args: args})
}

// offset moves the notch-filled outline's edges out by their role's amount.
func (m *maker) offset(amount func(seat.Role) float64, field string) geom.Path {
	p, err := geom.Offset(m.o.Filled, func(i int) float64 { return amount(m.o.Roles[i]) })
	if err != nil {
		m.fail(CodeNoBlank, field)
		return nil
	}
	return p
}

func all(l unit.Length) func(seat.Role) float64 {
	return func(seat.Role) float64 { return l.MM() }
}

// stapled makes the pieces of a pulled-over seat, a drop-in seat or a stool.
func (m *maker) stapled() {
	s := m.s
	foam := m.foam()
	if len(m.faults) > 0 {
		return
	}
	fw, fd := unit.Length(m.box.W())+2*s.Oversize, unit.Length(m.box.H())+2*s.Oversize
	if most := min(fw, fd) / 8; s.Dome > most {
		m.fail(CodeDome, "dome", unit.A("got", s.Dome), unit.A("most", most))
		return
	}
	roles := rolesOf(m.o)
	for _, r := range roles {
		m.out.Wraps = append(m.out.Wraps, s.wrapAt(r, fw, fd, len(roles) == 1))
	}
	if s.Wadding.Thickness > 0 {
		m.wadding(foam)
	}
	if s.Barrier.Use {
		m.undercover(PartBarrier, s.Barrier)
	}
	if s.Lining.Use {
		m.undercover(PartLining, s.Lining)
	}
	m.cover()
	var dust unit.Length
	if !s.Dust.None {
		dust = m.dust()
	}
	m.out.Staples = s.countStaples(m.o, dust)
	m.out.Bite = s.bite()
	m.out.Gaps = s.gaps(m.o)
	m.out.First = s.firstRuns(m.o)
}

// foam adds a blank for every layer and gives the largest one's path, with the
// notches still filled.
func (m *maker) foam() geom.Path {
	s := m.s
	var whole geom.Path
	for i, l := range s.Foam {
		grow := s.Oversize - l.Inset
		if smaller := min(m.box.W(), m.box.H()); 2*l.Inset.MM() > smaller {
			m.fail(CodeInset, field("foam", i, "_inset"), unit.A("got", l.Inset), unit.A("most", unit.Length(smaller/2)))
			return nil
		}
		p := m.offset(all(grow), field("foam", i, ""))
		if p == nil {
			return nil
		}
		if i == 0 {
			whole = p
		}
		b := Blank{Part: PartFoam, Layer: i, Goods: l.Goods, Count: 1, Motif: m.out.Motif}
		b.W, b.D = m.sized(WhyBoard, m.box)
		add := func(w *unit.Why) {
			w.Add(WhyOversize, 2*s.Oversize.MM(), unit.A("side", s.Oversize))
			if l.Inset > 0 {
				w.Add(WhyInset, -2*l.Inset.MM(), unit.A("side", l.Inset))
			}
		}
		add(&b.W)
		add(&b.D)
		m.finish(&b, p, s.FoamSquared)
		m.cutNotches(&b)
		m.centreMarks(&b)
		m.out.Faces += unit.Area(math.Min(b.Path.Area(), m.o.Filled.Area()))
		m.out.Blanks = append(m.out.Blanks, b)
	}
	if whole == nil {
		whole = m.offset(all(s.Oversize), "oversize")
	}
	return whole
}

// sized starts the figures of a size with the box of a shape.
func (m *maker) sized(code string, b geom.Rect) (w, d unit.Why) {
	w.Add(code, b.W())
	d.Add(code, b.H())
	return w, d
}

// finish sets a blank's path: the rectangle of its size when it is cut square
// or is one anyway, rounded up to the marking step; else the path itself, its
// size completed by what slanted sides make.
func (m *maker) finish(b *Blank, p geom.Path, square bool) {
	bounds := p.Bounds()
	b.W, b.D = fitted(b.W, bounds.W()), fitted(b.D, bounds.H())
	if !square && !box(p) {
		b.Path = p
		return
	}
	var r geom.Rect
	r, b.W, b.D = grownRect(bounds, b.W, b.D, m.step)
	b.Path, b.Square = r.Path(), true
}

// cutNotches takes the posts' corners out of foam and wadding: the notch
// extended outwards past the blank's edge and widened by its clearance.
func (m *maker) cutNotches(b *Blank) {
	for _, n := range m.o.Notches {
		c := m.s.NotchClearance.MM()
		at := n.Inner.Add(geom.P(c, -c))
		if n.Right {
			at = n.Inner.Add(geom.P(-c, -c))
		}
		if b.Layer > 0 && !b.Path.Contains(at) {
			continue // a crown layer too small to reach the post
		}
		p, ok := notched(b.Path, at, n.Right)
		if !ok {
			m.fail(CodeNoBlank, "notch_clearance")
			return
		}
		b.Path, b.Square = p, false
	}
	if len(m.o.Notches) > 0 && !b.Square {
		// A cut corner may take the box's extreme with it.
		bounds := b.Path.Bounds()
		b.W, b.D = fitted(b.W, bounds.W()), fitted(b.D, bounds.H())
	}
}

func (m *maker) wadding(foam geom.Path) {
	s := m.s
	// The section is the same all round but for the overhang; the largest
	// drop is taken.
	var drop unit.Length
	for _, w := range m.out.Wraps {
		drop = max(drop, w.Section.Drop())
	}
	trim := s.Wadding.Trim.Or(UsualTrim)
	b := Blank{Part: PartWadding, Goods: s.Wadding.Goods, Count: 1, Motif: m.out.Motif}
	b.W, b.D = m.sized(WhyFoam, foam.Bounds())
	for _, w := range []*unit.Why{&b.W, &b.D} {
		w.Add(WhyDrop, 2*drop.MM(), unit.A("side", drop))
		w.Add(WhyTrim, 2*trim.MM(), unit.A("side", trim))
	}
	d := (drop + trim).MM()
	p, ok := unrolled(foam, d)
	if !ok {
		var err error
		if p, err = geom.Offset(foam, func(int) float64 { return d }); err != nil {
			m.fail(CodeNoBlank, "wadding")
			return
		}
	}
	if s.Wadding.Squared {
		p = p.Bounds().Path()
	}
	m.finish(&b, p, s.Wadding.Squared)
	if !s.Wadding.Squared {
		m.cutNotches(&b)
	} else {
		m.notchLines(&b)
	}
	m.boardLine(&b)
	m.centreMarks(&b)
	m.out.Blanks = append(m.out.Blanks, b)
}

// undercover adds a lining or a fire barrier, a rectangle that wraps like the
// cover with its own turn-under and pull.
func (m *maker) undercover(part Part, u Undercover) {
	c := m.s.Cover
	own := (u.TurnUnder.Or(c.TurnUnder) + u.Pull.Or(c.Pull)) - (c.TurnUnder + c.Pull)
	b := Blank{Part: part, Goods: u.Goods, Count: 1, Motif: m.out.Motif}
	r, w, d := squared(m.box, sides(m.o, func(r seat.Role) float64 {
		wrap, _ := m.out.Wrap(r)
		return math.Max(0, wrap.Computed.Value()+own.MM())
	}), m.step)
	b.W, b.D, b.Path, b.Square = w, d, r.Path(), true
	m.boardLine(&b)
	m.notchLines(&b)
	m.relief(&b)
	m.centreMarks(&b)
	m.out.Blanks = append(m.out.Blanks, b)
}

func (m *maker) cover() {
	s := m.s
	amount := func(r seat.Role) float64 {
		w, _ := m.out.Wrap(r)
		return w.Used.Value()
	}
	m.out.Shaped = m.offset(amount, "turn_under")
	a := sides(m.o, amount)
	b := Blank{Part: PartCover, Goods: s.Cover.Goods, Count: 1, Motif: m.out.Motif}
	m.out.Squared, b.W, b.D = squared(m.box, a, m.step)
	b.Path, b.Square = m.out.Squared.Path(), true
	if s.Cover.Shaped && m.out.Shaped != nil {
		_, b.W, b.D = squared(m.box, a, 0)
		b.Square = false
		m.finish(&b, m.out.Shaped, false)
	}
	m.boardLine(&b)
	m.notchLines(&b)
	m.relief(&b)
	m.centreMarks(&b)
	m.out.Blanks = append(m.out.Blanks, b)
}

// dust adds the dust cloth and gives the length round its finished edge.
func (m *maker) dust() unit.Length {
	s := m.s
	p, err := geom.Offset(m.o.Board, func(int) float64 { return (s.Dust.Hem - s.Dust.Inset).MM() })
	edge, err2 := geom.Offset(m.o.Board, func(int) float64 { return -s.Dust.Inset.MM() })
	if err != nil || err2 != nil {
		m.fail(CodeNoBlank, "dust_inset")
		return 0
	}
	b := Blank{Part: PartDust, Goods: s.Dust.Goods, Count: 1, Motif: m.out.Motif}
	b.W, b.D = m.sized(WhyBoard, m.o.Board.Bounds())
	for _, w := range []*unit.Why{&b.W, &b.D} {
		if s.Dust.Hem > 0 {
			w.Add(WhyHem, 2*s.Dust.Hem.MM(), unit.A("side", s.Dust.Hem))
		}
		w.Add(WhyInset, -2*s.Dust.Inset.MM(), unit.A("side", s.Dust.Inset))
	}
	if s.Dust.Squared {
		p = p.Bounds().Path()
	}
	m.finish(&b, p, s.Dust.Squared)
	m.boardLine(&b)
	m.holes(&b)
	m.centreMarks(&b)
	m.out.Blanks = append(m.out.Blanks, b)
	return unit.Length(edge.Length())
}

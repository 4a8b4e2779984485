// Package picture says what a plan looks like: it turns plans and words into
// the inputs of the drawings, the same for the window, for files and for the
// commands.
package picture

import (
	"strconv"
	"strings"

	"slipseat/app/words"
	"slipseat/engine/buildup"
	"slipseat/engine/cloth"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/plan"
	"slipseat/engine/seat"
	"slipseat/engine/swatch"
	"slipseat/engine/unit"
)

// Maker makes pictures of one plan in a job's units.
type Maker struct {
	Plan  *plan.Plan
	Words *words.Words
	Units unit.Units
	// Table is the longest stretch of cloth that can lie on the table, 0 for
	// any; chalk lists go by it.
	Table unit.Length
	// Tile gives what a cloth looks like, for the lays; nil for plain tints.
	Tile func(goods string) *swatch.Tile
}

func (m Maker) label(key string, args ...unit.Arg) string {
	return m.Words.LabelIn(key, m.Units, args...)
}

// Seat is a seat for the Outline stage (dims) or the Build-up stage
// (overlays). A seat that could not be worked out has no board.
func (m Maker) Seat(i int, dims, overlays bool) drawing.SeatIn {
	if i < 0 || i >= len(m.Plan.Seats) {
		return drawing.SeatIn{}
	}
	s := m.Plan.Seats[i]
	o := s.Outline
	if o.Empty() {
		return drawing.SeatIn{}
	}
	w, d := o.Size()
	in := drawing.SeatIn{Board: o.Board, Size: [2]unit.Length{w, d}, Dims: dims, Overlays: overlays}
	if ms := s.Shape.Measured; ms != nil && len(o.Corners) == 4 && dims {
		c := o.Corners
		in.Measures = &drawing.Measures{FrontLeft: c[0], FrontRight: c[1], BackRight: c[2], BackLeft: c[3],
			FrontWidth: ms.FrontWidth, BackWidth: ms.BackWidth, Depth: ms.Depth, Bow: ms.FrontBow}
		for _, h := range o.Handles() {
			in.Handles = append(in.Handles, drawing.Handle{ID: HandleID(h), At: h.At})
		}
		for _, n := range o.Notches {
			in.Notches = append(in.Notches, drawing.Notch{Inner: n.Inner, Width: ms.NotchWidth, Depth: ms.NotchDepth, Left: !n.Right})
		}
	}
	if s.Shape.Traced != nil && dims {
		for _, n := range o.Notches {
			in.Notches = append(in.Notches, drawing.Notch{Inner: n.Inner, Width: n.Width, Depth: n.Depth, Left: !n.Right})
		}
	}
	if overlays {
		blank := func(p buildup.Part) drawing.Blank {
			b, ok := s.Result.Blank(p)
			if !ok {
				return drawing.Blank{}
			}
			bw, bd := b.Size()
			return drawing.Blank{Path: b.Path, Width: bw, Depth: bd}
		}
		in.Foam, in.Wadding, in.DustCloth = blank(buildup.PartFoam), blank(buildup.PartWadding), blank(buildup.PartDust)
		in.Cover = blank(buildup.PartCover)
		if in.Cover.Path == nil {
			in.Cover = blank(buildup.PartTop)
		}
	}
	return in
}

// HandleID names a handle: its field, and its side for a width.
func HandleID(h seat.Handle) string {
	side := ""
	if h.Dir.X < 0 {
		side = ":left"
	} else if h.Dir.X > 0 {
		side = ":right"
	}
	return h.Field + side
}

// Drag gives the measurement that a handle dragged to a point asks for, and
// the field's name.
func (m Maker) Drag(i int, id string, to geom.Pt) (field string, l unit.Length, ok bool) {
	if i < 0 || i >= len(m.Plan.Seats) {
		return "", 0, false
	}
	s := m.Plan.Seats[i]
	ms := s.Shape.Measured
	if ms == nil {
		return "", 0, false
	}
	for _, h := range s.Outline.Handles() {
		if HandleID(h) != id {
			continue
		}
		now := map[string]unit.Length{"front_width": ms.FrontWidth, "back_width": ms.BackWidth, "depth": ms.Depth, "front_bow": ms.FrontBow}[h.Field]
		moved := to.Sub(h.At).Dot(h.Dir) * h.Per
		return h.Field, max(0, now+unit.Length(moved)), true
	}
	return "", 0, false
}

// Section is the front edge of a seat cut through.
func (m Maker) Section(i int) drawing.SectionIn {
	if i < 0 || i >= len(m.Plan.Seats) || !m.Plan.Seats[i].OK() {
		return drawing.SectionIn{}
	}
	s := m.Plan.Seats[i]
	in := drawing.SectionIn{Board: s.Build.Board, Wadding: s.Build.Wadding.Thickness, TurnUnder: s.Build.Cover.TurnUnder, Pull: s.Build.Cover.Pull}
	for _, l := range s.Build.Foam {
		if l.Inset > 0 {
			in.Crown += l.Thickness
			in.CrownIn = max(in.CrownIn, l.Inset)
		} else {
			in.Foams = append(in.Foams, l.Thickness)
		}
	}
	if w, ok := s.Result.Wrap(seat.Front); ok {
		in.Overhang, in.Radius, in.WaddingDown = w.Section.Overhang, w.Section.Radius, w.Section.OverBoard
		in.Wrap = w.Used.Length()
	}
	return in
}

// Goods gives the pictures of a lay: one of a roll, one a sheet of foam.
// stale shows it in grey, for a lay that belongs to earlier input.
func (m Maker) Goods(g *plan.GoodsPlan, stale bool, selected string) []drawing.LayIn {
	if g == nil || g.Lay == nil {
		return nil
	}
	var out []drawing.LayIn
	for bin, b := range g.Problem.Bins {
		sheets := max(1, b.Sheets)
		if b.Sheets == 0 {
			sheets = g.Lay.Sheets
		}
		for s := range sheets {
			in := m.ground(g, b, s, sheets)
			in.Stale, in.Step, in.Table = stale, m.Plan.In.Step, m.Table
			for _, at := range g.Lay.Places {
				if at.Bin == bin && at.Sheet == s {
					p := m.piece(g, at)
					p.Selected = p.ID == selected
					in.Pieces = append(in.Pieces, p)
				}
			}
			for _, o := range g.Offcuts {
				if o.Bin == bin && o.Sheet == s {
					in.Offcuts = append(in.Offcuts, drawing.Offcut{Rect: o.Rect, Length: unit.Length(o.Rect.W()), Width: unit.Length(o.Rect.H())})
				}
			}
			if len(in.Pieces) == 0 && len(g.Lay.Places) > 0 {
				continue // a piece of the shelf that nothing was cut from, or no roll needed besides
			}
			out = append(out, in)
		}
	}
	return out
}

// ground is the goods without pieces.
func (m Maker) ground(g *plan.GoodsPlan, b lay.Bin, sheet, of int) drawing.LayIn {
	if g.Sheet != nil {
		f := g.Sheet
		return drawing.LayIn{Sheet: true, Width: f.Width, Selvedge: f.Trim, Length: f.Length,
			Title: m.label("sheet.of", unit.A("number", strconv.Itoa(sheet+1)), unit.A("count", strconv.Itoa(of)),
				unit.A("size", m.Units.PairLabel(f.Width, f.Length)), unit.A("thickness", f.Thickness))}
	}
	r := g.Roll
	in := drawing.LayIn{Width: r.SelvedgeNear + r.UsableWidth() + r.SelvedgeFar, Selvedge: r.SelvedgeNear, SelvedgeFar: unit.Some(r.SelvedgeFar),
		Laid: g.Lay.Length, Length: g.Lay.Length, Lattice: b.Lattice, Flaws: b.Flaws,
		PhaseKnown: r.Pattern.FirstAlong.Set && r.Pattern.FirstAcross.Set}
	switch b.ID {
	case g.ID:
	case plan.HandBin(g.ID):
		in.Title, in.Length = m.label("sheet.at-hand", unit.A("length", b.Length)), b.Length
		return m.clothMarks(in, r)
	default: // from the shelf: a rectangle without selvedges
		in.Width, in.Selvedge, in.SelvedgeFar, in.Length = b.Width, 0, unit.Some(0), b.Length
		for _, o := range r.Offcuts {
			if o.ID == b.ID {
				in.Title = m.label("sheet.offcut", unit.A("name", o.Name), unit.A("size", m.Units.PairLabel(b.Length, b.Width)))
				in.PhaseKnown = o.FirstAlong.Set && o.FirstAcross.Set
			}
		}
		return m.clothMarks(in, r)
	}
	if m.Tile != nil {
		in.Tile = m.Tile(g.ID)
	}
	if buy := g.Buy.Length(); buy > 0 {
		in.Buy = buy
		in.BuyLabel = m.label("draw.buy", unit.A("length", m.Units.ClothLabel(buy)))
		// What is bought beyond the lay is drawn behind it, square-up and spare
		// included.
		in.Length = max(in.Length, buy)
	}
	return m.clothMarks(in, r)
}

// clothMarks says which way the cloth lies.
func (m Maker) clothMarks(in drawing.LayIn, r *plan.Roll) drawing.LayIn {
	if !r.Pattern.None() || r.Direction != cloth.Plain {
		in.Top = geom.P(0, 1).Turned(int(r.Lie.Base()))
	}
	if r.Direction == cloth.OneWay {
		in.Nap = geom.P(0, -1).Turned(int(r.Lie.Base()))
	}
	in.Foot = m.foot(r)
	return in
}

// foot is the line under the picture of a roll.
func (m Maker) foot(r *plan.Roll) string {
	parts := []string{m.label("roll.foot-width", unit.A("width", r.Width))}
	if r.SelvedgeNear > 0 {
		parts = append(parts, m.label("roll.foot-selvedge", unit.A("selvedge", r.SelvedgeNear)))
	}
	if r.Pattern.Along > 0 {
		parts = append(parts, m.label("roll.foot-repeat", unit.A("repeat", r.Pattern.Along)))
	}
	s := strings.Join(parts, ", ") + "."
	if cloth.Turns(r.Cloth) != lay.OneWay {
		return s // its pieces may be turned; each carries its own front
	}
	switch r.Lie {
	case cloth.UpTheRoll:
		s += " " + m.label("roll.foot-up")
	case cloth.TopAtCutEnd:
		s += " " + m.label("roll.foot-down")
	default:
		s += " " + m.label("roll.foot-railroaded")
	}
	return s
}

// piece is one piece as it lies.
func (m Maker) piece(g *plan.GoodsPlan, at lay.Place) drawing.Piece {
	k := g.Kinds[at.Kind]
	s := m.Plan.Seats[k.Seat]
	turn := int(k.Base) + int(at.Turn)
	onGoods := func(p geom.Path) geom.Path { return p.Turned(turn).Translate(at.At) }
	w, d := k.Blank.Size()
	p := drawing.Piece{
		ID: g.PieceName(at, m.Plan), Name: s.Name, For: s.Name + " " + strconv.Itoa(g.Number(at)), Seat: k.Seat,
		Shape: onGoods(k.Blank.Path), Width: w, Depth: d,
	}
	if s.Count == 1 {
		p.For = s.Name
	}
	switch k.Blank.Part {
	case buildup.PartWelt:
		p.Name, p.For = m.label("piece.welt"), m.label("piece.welt")
		p.Centre = p.Shape.Bounds().Center()
	case buildup.PartBand, buildup.PartZipBand, buildup.PartTie:
		// Strips have neither front nor board.
		p.Centre = p.Shape.Bounds().Center()
	default:
		p.Front = geom.P(0, -1).Turned(turn)
		p.Centre = s.Outline.Board.Bounds().Center().Turned(turn).Add(at.At)
		for _, l := range k.Blank.Lines {
			if l.Kind == buildup.LineBoard && l.Closed {
				p.Board = onGoods(l.Path)
			}
			if l.Kind == buildup.LineJoint {
				j := onGoods(l.Path)
				p.Joints = append(p.Joints, [2]geom.Pt{j[0].Pt, j[1].Pt})
			}
		}
		p.Marks = m.label("marks.centre")
		for _, l := range k.Blank.Lines {
			if l.Kind == buildup.LineRelief {
				p.Marks = m.label("marks.centre-relief")
				break
			}
		}
		if b := g.Problem.Bins[at.Bin].Lattice; !b.None() {
			p.Motif, p.HasMotif = g.Problem.MotifOf(at), true
			rules := g.Problem.Kinds[at.Kind]
			p.BoundAlong, p.BoundAcross = rules.Along != lay.Free, rules.Across != lay.Free
		}
	}
	if !k.Blank.Square && p.Front != (geom.Pt{}) {
		p.Template = m.label("template.short", unit.A("letter", s.Letter), unit.A("part", m.Words.Term(k.Blank.Part.Code())))
	}
	p.State = m.state(g, at)
	return p
}

// state is how far a piece has come.
func (m Maker) state(g *plan.GoodsPlan, at lay.Place) drawing.PieceState {
	if g.Kinds[at.Kind].Spoiled > 0 {
		return drawing.Spoiled
	}
	name := g.Held(m.Plan, at)
	for _, l := range m.Plan.In.Locked {
		switch {
		case !l.Same(name):
		case l.Cut:
			return drawing.IsCut
		default:
			return drawing.Locked
		}
	}
	return drawing.Planned
}

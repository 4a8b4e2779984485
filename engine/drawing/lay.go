package drawing

import (
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/swatch"
	"slipseat/engine/unit"
)

// LayIn is a lay to be drawn: one stretch of goods with its pieces. Shapes are
// in the frame of package lay: x along from the cut end, y across from the
// near edge of the usable width; on a sheet both from the corner of what is
// left when its edges are trimmed. The drawing's own frame has y = 0 at the
// near selvedge's outer edge, at the bottom of the picture, and on a sheet both
// at the sheet's own corner.
type LayIn struct {
	Sheet bool        // a sheet of foam instead of cloth from the roll
	Width unit.Length // across, selvedges (trimmed edges) included
	// Selvedge is the near one, and the far one too unless SelvedgeFar is set;
	// on a sheet what is trimmed off along all four edges.
	Selvedge unit.Length
	// SelvedgeFar is the far selvedge where it differs from the near one.
	SelvedgeFar unit.Opt
	// Length is how much is drawn; Buy, if set, is where the goods are cut
	// off; Laid is the length of the lay itself.
	Length, Buy, Laid unit.Length
	Title             string // over the picture, for example "Sheet 1 of 2"
	BuyLabel          string // at the cut line, for example "buy 4 yd"
	Foot              string // under the picture
	Pieces            []Piece
	Flaws             []geom.Polygon
	Offcuts           []Offcut
	Lattice           lay.Lattice
	Tile              *swatch.Tile // what the cloth looks like; nil for the plain tint
	PhaseKnown        bool         // the first motif was measured
	// Top is the direction in which the top of the pattern points, Nap that of
	// the stroke; zero for none. Both are unit vectors in the lay's frame.
	Top, Nap geom.Pt
	Stale    bool // the lay belongs to earlier input and is shown in grey
	NoRuler  bool
	// From is the tape's reading at the left edge of the picture, where only a
	// part of a long roll is drawn; Open tells which ends are broken off.
	From unit.Length
	Open [2]bool
	// Step is the marking step, which readings are rounded to; Table is the
	// longest stretch of cloth that can lie on the table, 0 for any. Both are
	// for the chalk list.
	Step, Table unit.Length

	buyShown unit.Length // what to buy, where Buy lies on a part
}

// Piece is one piece as laid.
type Piece struct {
	ID           string // "A1", "B2-1"
	Name         string // "Side chair"
	For          string // "Side chair 1", for lists
	Seat         int    // index of the seat, for the tint
	Shape        geom.Path
	Width, Depth unit.Length
	Board        geom.Path    // outline of the board inside, or nil
	Joints       [][2]geom.Pt // glued edges
	// Front points from the piece's centre to the front of the seat, a unit
	// vector in the lay's frame; zero for a piece without a front.
	Front  geom.Pt
	Centre geom.Pt // where the seat's centre line and its cross line meet
	// Motif is the motif point; HasMotif tells that there is one.
	Motif    geom.Pt
	HasMotif bool
	// BoundAlong and BoundAcross tell in which directions the pattern says
	// where the piece lies.
	BoundAlong, BoundAcross bool
	// Template names what a piece that is no rectangle is drawn round with.
	Template string
	State    PieceState
	Selected bool
	// Elsewhere tells that the piece is drawn whole on another part.
	Elsewhere bool
	Marks     string // what to mark on it beside its number, for lists
}

// PieceState is how far a piece has come.
type PieceState uint8

// States of pieces.
const (
	Planned PieceState = iota
	Locked
	IsCut
	Spoiled
	Misplaced // the check found fault with it
	Pushing   // it lies on pieces that would have to make way
)

// Offcut is a rest worth keeping.
type Offcut struct {
	Rect          geom.Rect
	Length, Width unit.Length // along and across, as it is written
}

// Lay draws one lay. The geometry is made once and kept; Labels is made again
// for every scale.
type Lay struct {
	in   LayIn
	up   geom.Pt // from the lay's frame to the drawing's
	geom Drawing
}

// shift takes points from the lay's frame to the drawing's.
func (in *LayIn) shift() geom.Pt {
	if in.Sheet {
		return geom.P(in.Selvedge.MM(), in.Selvedge.MM())
	}
	return geom.P(0, in.Selvedge.MM())
}

// NewLay makes the geometry of a lay.
func NewLay(in LayIn) *Lay {
	l := &Lay{in: in, up: in.shift()}
	w, length := in.Width.MM(), max(in.Length.MM(), in.Buy.MM())
	l.geom.Bounds = geom.Rect{Max: geom.P(length, w)}
	ground, rim := Roll, CoverLine
	if in.Sheet {
		ground, rim = SheetFill, FoamLine
	}
	l.add(Shape{Layer: "goods", Path: geom.Box(0, 0, length, w), Fill: ground})
	if in.Tile != nil {
		l.add(Ground{Layer: "cloth", Box: geom.Box(0, 0, length, w).Bounds(), Tile: in.Tile, Motif: in.Lattice.Phase.Add(l.up), Scale: 1})
	}
	strip := func(r geom.Rect, a, b geom.Pt) {
		if r.W() > 0 && r.H() > 0 {
			l.add(Shape{Layer: "selvedge", Path: r.Path(), Fill: Selvedge}, line("selvedge", a, b, Ink2, Hair, Dash))
		}
	}
	near, far := in.Selvedge.MM(), in.SelvedgeFar.Or(in.Selvedge).MM()
	strip(geom.Rect{Max: geom.P(length, near)}, geom.P(0, near), geom.P(length, near))
	strip(geom.Rect{Min: geom.P(0, w-far), Max: geom.P(length, w)}, geom.P(0, w-far), geom.P(length, w-far))
	if in.Sheet {
		strip(geom.Rect{Min: geom.P(0, near), Max: geom.P(near, w-far)}, geom.P(near, near), geom.P(near, w-far))
		strip(geom.Rect{Min: geom.P(length-near, near), Max: geom.P(length, w-far)}, geom.P(length-near, near), geom.P(length-near, w-far))
	}
	for _, o := range in.Offcuts {
		l.add(Shape{Layer: "offcut", Path: l.rect(o.Rect), Fill: OffcutFill, Stroke: Ink2, Width: Thin, Line: Dash})
	}
	for _, f := range in.Flaws {
		l.add(Shape{Layer: "flaw", Path: f.Translate(l.up).Path(), Fill: FlawFill, Hatch: Crossed, Stroke: Cut, Width: Thin})
	}
	l.add(line("edge", geom.P(0, 0), geom.P(length, 0), rim, Medium, Solid), line("edge", geom.P(0, w), geom.P(length, w), rim, Medium, Solid),
		l.end(0, w, rim, in.Open[0]))
	if in.Open[1] {
		l.add(l.end(length, w, rim, true))
	}
	if in.Sheet && !in.Open[1] {
		l.add(line("edge", geom.P(length, 0), geom.P(length, w), rim, Medium, Solid))
	}
	for i := range in.Pieces {
		l.piece(&in.Pieces[i])
	}
	l.lattice(length, w)
	return l
}

// end is an end of the goods, or the place where the picture breaks off.
func (l *Lay) end(x, w float64, rim Role, open bool) Item {
	if open {
		return line("break", geom.P(x, 0), geom.P(x, w), Ink2, Thin, Chain)
	}
	return line("cut-end", geom.P(x, 0), geom.P(x, w), rim, Medium, Solid)
}

func (l *Lay) add(items ...Item) { l.geom.Items = append(l.geom.Items, items...) }

func (l *Lay) rect(r geom.Rect) geom.Path {
	return geom.Rect{Min: r.Min.Add(l.up), Max: r.Max.Add(l.up)}.Path()
}

// lattice draws the lines on which the pattern begins again.
func (l *Lay) lattice(length, w float64) {
	lt := l.in.Lattice
	along, across := lt.Along.MM(), lt.Across.MM()
	// With a drop every column starts anew, so that lines right across would
	// tell an untruth; the motifs are marked one by one.
	if along > 0 && lt.Drop == 0 {
		for i := ceilDiv(-lt.Phase.X, along); lt.Phase.X+float64(i)*along < length; i++ {
			x := lt.Phase.X + float64(i)*along
			l.add(line("repeat", geom.P(x, 0), geom.P(x, w), Motif, Hair, Dot))
		}
	}
	if across > 0 {
		y0 := lt.Phase.Y + l.up.Y
		for j := ceilDiv(-y0, across); y0+float64(j)*across < w; j++ {
			y := y0 + float64(j)*across
			l.add(line("repeat", geom.P(0, y), geom.P(length, y), Motif, Hair, Dot))
		}
	}
}

// clothThrough is how much of a patterned cloth shows through a piece's tint.
const clothThrough = 0.4

func (l *Lay) piece(p *Piece) {
	rim, style := CoverLine, Solid
	if l.in.Sheet {
		rim, style = FoamLine, DashDot
	}
	fill := l.tint(p)
	s := Shape{Layer: "piece", Path: p.Shape.Translate(l.up), Fill: fill, Stroke: rim, Width: Medium, Line: style}
	if l.in.Tile != nil && fill != Table {
		s.Through = clothThrough
	}
	switch {
	case l.in.Stale, p.Elsewhere:
		s.Stroke, s.Line = Ink2, Dash
	case p.State == IsCut:
		s.Hatch = Rising
	case p.State == Spoiled, p.State == Misplaced:
		s.Hatch, s.Stroke = Crossed, Cut
	case p.State == Pushing:
		s.Hatch, s.Stroke, s.Line = Rising, Cut, Dash
	}
	if p.Selected {
		s.Width, s.Stroke = Thick*1.5, Action
	}
	l.add(s)
	if len(p.Board) > 1 {
		l.add(Shape{Layer: "board", Path: p.Board.Translate(l.up), Stroke: BoardLine, Width: Thin, Line: Dash})
	}
	for _, j := range p.Joints {
		l.add(line("joint", j[0].Add(l.up), j[1].Add(l.up), Cut, Medium, Dash))
	}
}

// tint is the fill of a piece.
func (l *Lay) tint(p *Piece) Role {
	switch {
	case l.in.Stale, p.Elsewhere:
		return Table
	case l.in.Sheet:
		return FoamTint(p.Seat)
	}
	return Tint(p.Seat)
}

// Frame is where the origin of the lay's frame lies in the drawing's.
func (l *Lay) Frame() geom.Pt { return l.up }

// Alone draws one piece without its goods, as it is carried about.
func Alone(in LayIn, p Piece, st Style) Drawing {
	l := &Lay{in: in, up: in.shift()}
	l.piece(&p)
	d := l.geom
	d.Bounds = p.Shape.Translate(l.up).Bounds()
	d.Add(l.onPiece(&p, st)...)
	return d
}

// Band draws a zone of the lay's frame as a flaw is drawn.
func Band(in LayIn, zone geom.Rect) Drawing {
	l := &Lay{in: in, up: in.shift()}
	l.add(Shape{Layer: "flaw", Path: l.rect(zone), Fill: FlawFill, Through: 0.5, Hatch: Crossed, Stroke: Cut, Width: Medium, Line: Dash})
	return l.geom
}

// Moved is the piece moved by a vector.
func (p Piece) Moved(by geom.Pt) Piece {
	p.Shape = p.Shape.Translate(by)
	if p.Board != nil {
		p.Board = p.Board.Translate(by)
	}
	joints := p.Joints
	p.Joints = nil
	for _, j := range joints {
		p.Joints = append(p.Joints, [2]geom.Pt{j[0].Add(by), j[1].Add(by)})
	}
	p.Centre, p.Motif = p.Centre.Add(by), p.Motif.Add(by)
	return p
}

// Geometry is the shapes alone; it does not depend on the scale.
func (l *Lay) Geometry() Drawing { return l.geom }

// Draw is geometry and labels together.
func (l *Lay) Draw(st Style) Drawing {
	var d Drawing
	d.Append(l.geom, l.Labels(st))
	return d
}

// PieceAt gives the index of the topmost piece at a point of the drawing, and
// -1 where there is none.
func (l *Lay) PieceAt(p geom.Pt) int {
	q := p.Sub(l.up)
	for i := len(l.in.Pieces) - 1; i >= 0; i-- {
		if l.in.Pieces[i].Shape.Contains(q) {
			return i
		}
	}
	return -1
}

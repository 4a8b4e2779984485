package drawing

import (
	"slipseat/engine/geom"
	"slipseat/engine/unit"
)

// SeatIn is a seat to be drawn, in the seat's frame: x to the right, y towards
// the back, seen from the top. Only Board is needed.
type SeatIn struct {
	Board geom.Path
	Size  [2]unit.Length // width and depth of the board, for its size label
	// Blanks of the layers over the board; an empty path is not drawn.
	Foam, Wadding, Cover, DustCloth Blank
	// Measures are the four measurements; nil takes the board's own extents.
	Measures *Measures
	Notches  []Notch
	Holes    []geom.Path // screw holes
	Handles  []Handle    // points that can be dragged
	Faults   []geom.Pt   // places to point at
	// Dims asks for dimension lines, Overlays for the blanks with their size
	// labels.
	Dims, Overlays bool
}

// Blank is a piece as it is cut, and its size to be shown.
type Blank struct {
	Path         geom.Path
	Width, Depth unit.Length
}

// Measures are the four measurements of a board with the points they were
// taken between: the corners where the extended edges meet.
type Measures struct {
	FrontLeft, FrontRight, BackRight, BackLeft geom.Pt
	FrontWidth, BackWidth, Depth, Bow          unit.Length
}

// Notch is a back-post notch: its inner corner and its size.
type Notch struct {
	Inner        geom.Pt
	Width, Depth unit.Length
	Left         bool
}

// Handle is a point of the outline that can be dragged.
type Handle struct {
	ID string
	At geom.Pt
}

// Seat draws one seat. The geometry is made once and kept; Labels is cheap and
// is made again for every scale.
type Seat struct {
	in   SeatIn
	geom Drawing
}

// boardThrough lets the grid be seen under the board.
const boardThrough = 0.55

// NewSeat makes the geometry of a seat.
func NewSeat(in SeatIn) *Seat {
	s := &Seat{in: in}
	d := &s.geom
	shape := func(layer string, p geom.Path, fill, rim Role, through, width float64, l Line) {
		if len(p) < 2 {
			return
		}
		d.Append(Drawing{Bounds: p.Bounds(), Items: []Item{
			Shape{Layer: layer, Path: p, Fill: fill, Through: through, Stroke: rim, Width: width, Line: l},
		}})
	}
	if in.Overlays {
		shape("cover", in.Cover.Path, CoverFill, CoverLine, 0.15, Medium, LongDash)
		shape("wadding", in.Wadding.Path, WaddingFill, WaddingLine, 0.35, Thin, Dot)
		shape("foam", in.Foam.Path, FoamFill, FoamLine, 0.25, Medium, DashDot)
	}
	shape("board", in.Board, BoardFill, BoardLine, boardThrough, Thick, Solid)
	if in.Overlays {
		shape("dust-cloth", in.DustCloth.Path, None, DustLine, 0, Thin, Dash)
	}
	for _, h := range in.Holes {
		shape("hole", h, Paper, BoardLine, 0, Thin, Solid)
	}
	return s
}

// Geometry is the shapes alone; it does not depend on the scale.
func (s *Seat) Geometry() Drawing { return s.geom }

// Handles are the points that can be dragged, in the seat's frame.
func (s *Seat) Handles() []Handle { return s.in.Handles }

// Draw is geometry and labels together.
func (s *Seat) Draw(st Style) Drawing {
	var d Drawing
	d.Append(s.geom, s.Labels(st))
	return d
}

// Labels draws the centre line, FRONT, dimension lines and size labels.
func (s *Seat) Labels(st Style) Drawing {
	d := Drawing{Bounds: s.geom.Bounds}
	if len(s.in.Board) < 2 {
		return d
	}
	d.Add(s.centre(st)...)
	if s.in.Overlays {
		d.Add(s.sizes(st)...)
	}
	if s.in.Dims {
		d.Add(s.dims(st)...)
	}
	for _, p := range s.in.Faults {
		d.Add(Mark{Layer: "fault", Kind: Disc, At: p, Size: 5, Role: Cut, Width: Thick},
			Mark{Layer: "fault", Kind: Cross, At: p, Size: 2.4, Turned: 45, Role: Cut, Width: Medium})
	}
	return d
}

// Grid draws lines every step over a part of the model, with a stronger one
// every fifth in the metric system and every twelfth in inches. Steps that
// would lie closer than 1.5 mm on paper are widened.
func Grid(view geom.Rect, step unit.Length, st Style) Drawing {
	d := Drawing{Bounds: view}
	strong := 12
	if st.Units.Size.Metric() {
		strong = 5
	}
	gap := step.MM()
	if !(gap > 0) || !(st.PaperPerModel > 0) || view.W() <= 0 || view.H() <= 0 {
		return d
	}
	for st.Paper(gap) < 1.5 {
		gap *= float64(strong)
	}
	draw := func(from, to float64, at func(v float64) (geom.Pt, geom.Pt)) {
		for i := ceilDiv(from, gap); float64(i)*gap <= to; i++ {
			a, b := at(float64(i) * gap)
			l := line("grid", a, b, Rule, Hair*0.7, Solid)
			if i%strong == 0 {
				l.Width = Hair * 1.4
			}
			d.Add(l)
		}
	}
	draw(view.Min.X, view.Max.X, func(x float64) (geom.Pt, geom.Pt) { return geom.P(x, view.Min.Y), geom.P(x, view.Max.Y) })
	draw(view.Min.Y, view.Max.Y, func(y float64) (geom.Pt, geom.Pt) { return geom.P(view.Min.X, y), geom.P(view.Max.X, y) })
	return d
}

// HandleMarks draws the handles, the hot one larger and filled.
func HandleMarks(handles []Handle, hot string) Drawing {
	var d Drawing
	for i, h := range handles {
		m := Mark{Layer: "handle", Kind: Disc, At: h.At, Size: 3.4, Fill: Paper, Role: Action, Width: 0.5}
		if h.ID == hot {
			m.Size, m.Fill = 4.4, Action
		}
		d.Add(m)
		if r := (geom.Rect{Min: h.At, Max: h.At}); i == 0 {
			d.Bounds = r
		} else {
			d.Bounds = d.Bounds.Union(r)
		}
	}
	return d
}

package board

import (
	"image"

	"fyne.io/fyne/v2/driver/desktop"

	"slipseat/engine/geom"
	"slipseat/views/kit"
)

// Frame tells a painter how the model maps to the pixels of an image.
type Frame struct {
	Scale float64 // pixels for a model millimetre
	X, Y  float64 // pixel at which the model's origin lies, y down
	Paper float64 // pixels for a paper millimetre
}

// Painter paints a scene into an image that holds the ground already.
type Painter func(dst *image.RGBA, f Frame)

// Way says which ways a handle can be moved; it chooses the cursor.
type Way uint8

// Ways a handle moves.
const (
	AnyWay Way = iota
	Across
	UpDown
)

// Handle is a point that can be dragged.
type Handle struct {
	ID  string
	At  geom.Pt
	Way Way
	// Small handles are drawn smaller, Held ones as chosen.
	Small, Held bool
}

// Piece is an area that can be pointed at, chosen and, if Loose, dragged.
type Piece struct {
	ID    string
	Ring  geom.Polygon
	Loose bool
	Value string // what scripts are told of it
}

// Act is something done by keyboard with the chosen piece.
type Act uint8

// Acts.
const (
	ActMain   Act = iota // Return or Space
	ActTurn              // T
	ActDelete            // Delete or Backspace
)

// Scene is all that a board shows. Scenes are replaced, never changed.
type Scene struct {
	Bounds geom.Rect // what Fit fits
	Paint  Painter
	// Fit, if set, fits the scene with its labels into w by h window units.
	Fit     func(w, h float64) Viewport
	Handles []Handle
	Pieces  []Piece
	// PaintPiece paints a piece that is being dragged, moved by a vector, on
	// clear ground.
	PaintPiece func(dst *image.RGBA, f Frame, id string, by geom.Pt)
	// PaintBand paints a box that is being drawn, on clear ground.
	PaintBand func(dst *image.RGBA, f Frame, box geom.Rect)
	// BandOf, if set, gives the box that a dragged handle makes: then no
	// previews are asked for, and the box alone follows the hand.
	BandOf func(handle string, to geom.Pt) geom.Rect
	// Grid are the steps of the grid in millimetres, ascending; none for no
	// grid.
	Grid []float64
	// Chosen is the ID of the piece that is shown as chosen.
	Chosen string
}

// Hit is what lies under the pointer.
type Hit struct {
	Handle string
	Piece  string
}

// handleReach is how near to a handle's middle the pointer takes it, window
// units: half the size of a finger's tip.
const handleReach = 16

// hit finds the handle, or else the topmost piece, at a place in the window.
func (s *Scene) hit(v Viewport, x, y float64) Hit {
	best := handleReach * handleReach * 1.0
	var h Hit
	for _, k := range s.Handles {
		hx, hy := v.At(k.At)
		if d := (hx-x)*(hx-x) + (hy-y)*(hy-y); d < best {
			best, h.Handle = d, k.ID
		}
	}
	if h.Handle != "" {
		return h
	}
	p := v.Model(x, y)
	for i := len(s.Pieces) - 1; i >= 0; i-- {
		if inside(s.Pieces[i].Ring, p) {
			h.Piece = s.Pieces[i].ID
			break
		}
	}
	return h
}

func (s *Scene) handle(id string) (Handle, bool) {
	for _, h := range s.Handles {
		if h.ID == id {
			return h, true
		}
	}
	return Handle{}, false
}

func (s *Scene) piece(id string) (Piece, bool) {
	for _, p := range s.Pieces {
		if p.ID == id {
			return p, true
		}
	}
	return Piece{}, false
}

// inside tells by crossings whether a point lies in a ring.
func inside(ring geom.Polygon, p geom.Pt) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

func (h Handle) cursor() desktop.Cursor {
	switch h.Way {
	case Across:
		return desktop.HResizeCursor
	case UpDown:
		return desktop.VResizeCursor
	}
	return desktop.CrosshairCursor
}

// ground is the role behind every drawing.
const ground = kit.Sheet

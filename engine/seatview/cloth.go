package seatview

import (
	"image/color"

	"slipseat/engine/geom"
	"slipseat/engine/swatch"
)

// Cloth is how a cloth lies on one seat.
type Cloth struct {
	Tile *swatch.Tile
	// Turn is by how many quarter turns counter-clockwise a point of the seat
	// is taken to the roll (DESIGN section 3).
	Turn int
	// Motif is the seat's motif point on the spread cover, and Phase where it
	// lies from a motif of the cloth, on the roll.
	Motif, Phase geom.Pt
}

// at is the colour of a point of the spread cover for a pixel of mm.
func (c Cloth) at(q geom.Pt, mm float64) color.RGBA {
	on := q.Sub(c.Motif).Turned(c.Turn).Add(c.Phase)
	return c.Tile.At(on.X, on.Y, mm)
}

package drawing

import (
	"slipseat/engine/geom"
	"slipseat/engine/swatch"
)

// Ground is patterned cloth that fills a box: the roll, u to the right. Only
// pictures show it; files of lines and texts leave it out, so that they print
// in black and white.
type Ground struct {
	Layer string
	Box   geom.Rect
	Tile  *swatch.Tile
	Motif geom.Pt // where one of its motifs lies
	Scale float64 // model millimetres for a millimetre of cloth
}

func (Ground) isItem() {}

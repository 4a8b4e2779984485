// Package look turns a job's swatches into cloth to paint with.
package look

import (
	"fmt"
	"image"
	"image/color"
	"sync"

	"slipseat/app/job"
	"slipseat/engine/cloth"
	"slipseat/engine/geom"
	"slipseat/engine/swatch"
	"slipseat/engine/unit"
)

// The colours of a drawing whose own are not chosen: a pale ground and a dark
// figure.
var (
	usualGround = color.RGBA{R: 0xd9, G: 0xe6, B: 0xe0, A: 255}
	usualFigure = color.RGBA{R: 0x2f, G: 0x6f, B: 0x69, A: 255}
)

// Shelf keeps the tiles that were made. It may be used by several goroutines.
type Shelf struct {
	// Picture gives a kept picture.
	Picture func(job.PictureID) (image.Image, error)

	mu    sync.Mutex
	tiles map[string]made
}

type made struct {
	tile  *swatch.Tile
	fault *unit.Fault
}

// keep is how many tiles are kept; a job has rarely more cloths.
const keep = 64

// Tile gives what a cloth looks like. A cloth without a swatch gets the drawing
// that goes with its repeat. The tile is nil only with a fault.
func (s *Shelf) Tile(c job.Cloth) (*swatch.Tile, *unit.Fault) {
	tile, fault, ready := s.Ready(c)
	if ready {
		return tile, fault
	}
	key := Key(c)
	var m made
	m.tile, m.fault = s.make(c.Swatch, c.Goods().Pattern)
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.tiles == nil || len(s.tiles) >= keep {
		s.tiles = map[string]made{}
	}
	s.tiles[key] = m
	return m.tile, m.fault
}

// Ready gives a tile that was made; false when it was not made yet.
func (s *Shelf) Ready(c job.Cloth) (*swatch.Tile, *unit.Fault, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	m, ok := s.tiles[Key(c)]
	return m.tile, m.fault, ok
}

// Key tells cloths apart that look different.
func Key(c job.Cloth) string {
	p, w := c.Goods().Pattern, c.Swatch
	return fmt.Sprint(w.Look, " ", w.Ground, " ", w.Figure, " ", w.Picture, " ", w.Corners, " ", w.Motif, p.Along, p.Across, p.AcrossIs, p.Drop)
}

// Shown tells whether the cloth has a look of its own, to be shown on the roll.
func Shown(c job.Cloth) bool { return c.Swatch.Look != job.LookTint && c.Swatch.Look != "" }

func (s *Shelf) make(w job.Swatch, p cloth.Pattern) (*swatch.Tile, *unit.Fault) {
	if w.Look == job.LookPicture {
		return s.picture(w, p)
	}
	stand := swatch.Stand{Ground: usualGround, Figure: usualFigure}
	if c, ok := w.Ground.RGBA(); ok {
		stand.Ground = c
	}
	if c, ok := w.Figure.RGBA(); ok {
		stand.Figure = c
	}
	switch w.Look {
	case job.LookPlain:
		stand.Kind = swatch.Plain
	case job.LookStripe:
		stand.Kind = swatch.Stripe
	case job.LookCheck:
		stand.Kind = swatch.Check
	default: // a sprig where the pattern repeats both ways, else what the repeat says
		stand.Kind = swatch.Sprig
	}
	return stand.Tile(p.Along, p.Columns(), p.Drop)
}

// photoRepeat is the side of what a picture of cloth without a repeat shows.
const photoRepeat = 200 * unit.MM

// picture makes a tile from a photograph on which one repeat is marked: as high
// as the repeat along and as wide as the one across, as it was measured.
func (s *Shelf) picture(w job.Swatch, p cloth.Pattern) (*swatch.Tile, *unit.Fault) {
	bad := func(err error) *unit.Fault {
		if f, ok := err.(unit.Fault); ok {
			return &f
		}
		return &unit.Fault{Code: swatch.CodeNoPicture}
	}
	if s.Picture == nil || w.Picture == "" {
		return nil, &unit.Fault{Code: swatch.CodeNoPicture}
	}
	pic, err := s.Picture(w.Picture)
	if err != nil {
		return nil, bad(err)
	}
	across, drop := p.Columns(), p.Drop
	if p.AcrossIs == cloth.OnOneLevel { // the marked stretch holds all columns of the level
		across, drop = p.Across, 0
	}
	along := p.Along
	// Where nothing repeats any length will do; it keeps the picture's shape.
	size := pic.Bounds().Size()
	switch {
	case along == 0 && across == 0:
		along, across = photoRepeat, photoRepeat*unit.Length(size.X)/unit.Length(max(1, size.Y))
	case along == 0:
		along, drop = across*unit.Length(size.Y)/unit.Length(max(1, size.X)), 0
	case across == 0:
		across, drop = along*unit.Length(size.X)/unit.Length(max(1, size.Y)), 0
	}
	corners, ok := w.Corners.List()
	if !ok || len(corners) != 0 && len(corners) != 4 {
		return nil, &unit.Fault{Code: swatch.CodeCorners}
	}
	motif := geom.P(0.5, 0.5)
	given, _ := w.Motif.List()
	if len(corners) == 4 {
		flat, to, f := swatch.Flatten(pic, [4]geom.Pt(corners), float64(across/along))
		if f != nil {
			return nil, f
		}
		pic = flat
		if len(given) == 1 {
			motif = to(given[0])
		}
	} else if len(given) == 1 {
		motif = given[0]
	}
	return swatch.New(pic, along, across, drop, motif.X, motif.Y)
}

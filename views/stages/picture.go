package stages

import (
	"image"
	"math"

	"slipseat/app/picture"
	"slipseat/app/raster"
	"slipseat/app/words"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
	"slipseat/views/board"
	"slipseat/views/kit"
)

// palette is the drawings' palette of the variant shown now.
func palette() *drawing.Palette {
	if kit.Dark() {
		return drawing.Dark()
	}
	return drawing.Light()
}

// paint makes a painter of a drawing that is built for each scale.
func paint(w *words.Words, u unit.Units, build func(st drawing.Style) drawing.Drawing) board.Painter {
	return func(dst *image.RGBA, f board.Frame) {
		t := transform(f)
		raster.Render(dst, build(style(w, u, t)), t, palette())
	}
}

func transform(f board.Frame) raster.Transform {
	return raster.Transform{Scale: f.Scale, X: f.X, Y: f.Y, Paper: f.Paper}
}

// fit makes the function that fits a drawing with its labels on a board.
func fit(w *words.Words, u unit.Units, build func(st drawing.Style) drawing.Drawing) func(wide, high float64) board.Viewport {
	return func(wide, high float64) board.Viewport {
		paper := drawing.PxPerPaper * float64(kit.Scale())
		st := drawing.Style{Metrics: raster.Metrics{}, Words: w, Units: u}
		t := raster.FitLabelled(int(wide), int(high), 4, paper, st, build)
		return board.Viewport{Scale: t.Scale, X: t.X, Y: t.Y}
	}
}

func style(w *words.Words, u unit.Units, t raster.Transform) drawing.Style {
	return drawing.Style{PaperPerModel: t.PaperPerModel(), Metrics: raster.Metrics{}, Words: w, Units: u}
}

// fitted makes the picture of a drawing for a card, as large as it goes, given
// the card's pixels and how many of them are a window unit. Margin is in window
// units.
func fitted(w *words.Words, u unit.Units, margin float64, build func(st drawing.Style) drawing.Drawing) cardPainter {
	return func(pw, ph int, px float64) image.Image {
		img := image.NewRGBA(image.Rect(0, 0, pw, ph))
		// A small card gets smaller words, so that the drawing keeps its room.
		px = math.Min(px*float64(kit.Scale()), math.Min(float64(pw)/270, float64(ph)/215))
		st := drawing.Style{Metrics: raster.Metrics{}, Words: w, Units: u}
		t := raster.FitLabelled(pw, ph, margin*px, drawing.PxPerPaper*px, st, build)
		raster.Render(img, build(style(w, u, t)), t, palette())
		return img
	}
}

// Thumb is the picture of a seat's card: its true shape, as large as it goes.
func Thumb(board geom.Path) kit.Picture {
	return func(w, h int) image.Image {
		img := image.NewRGBA(image.Rect(0, 0, w, h))
		if len(board) < 2 {
			return img
		}
		b := board.Bounds()
		t := raster.Fit(b, w, h, float64(w)/22, drawing.PxPerPaper*float64(w)/44)
		raster.Render(img, drawing.Drawing{Bounds: b, Items: []drawing.Item{
			drawing.Shape{Layer: "board", Path: board, Fill: drawing.BoardFill, Through: 0.25, Stroke: drawing.BoardLine, Width: 0.4},
		}}, t, palette())
		return img
	}
}

// SeatPicture is a seat with all that is cut for it, without words, as large as
// it goes.
func SeatPicture(w *words.Words, p *plan.Plan, i, pw, ph int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, pw, ph))
	d := drawing.NewSeat(picture.Maker{Plan: p, Words: w, Units: unit.UnitsFor(unit.Inches)}.Seat(i, false, true)).Geometry()
	px := float64(pw) / 420
	raster.Render(img, d, raster.Fit(d.Bounds, pw, ph, 30*px, drawing.PxPerPaper*px), palette())
	return img
}

// Shapes is the picture of the shapes of a drawing, one of them chosen, turned
// by quarters counter-clockwise and seen from the other face if asked.
func Shapes(all []geom.Path, chosen, turns int, flipped bool, pw, ph int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, pw, ph))
	var d drawing.Drawing
	for i, p := range all {
		if len(p) < 2 {
			continue
		}
		if p = p.Turned(turns & 3); flipped {
			p = p.Mirror(0)
		}
		s := drawing.Shape{Layer: "shape", Path: p, Stroke: drawing.Ink2, Width: drawing.Thin}
		if i == chosen {
			s.Fill, s.Through, s.Stroke, s.Width = drawing.BoardFill, 0.4, drawing.BoardLine, drawing.Thick
		}
		d.Append(drawing.Drawing{Bounds: p.Bounds(), Items: []drawing.Item{s}})
	}
	px := float64(pw) / 420
	raster.Render(img, d, raster.Fit(d.Bounds, pw, ph, 14*px, drawing.PxPerPaper*px), palette())
	return img
}

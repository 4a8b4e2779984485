package publish

import (
	"image"
	"io"

	"slipseat/app/export"
	"slipseat/app/job"
	"slipseat/app/look"
	"slipseat/app/portrait"
	"slipseat/engine/seatview"
	"slipseat/engine/swatch"
	"slipseat/engine/unit"
)

// portraitDPI is the print resolution of the customer's pictures.
const portraitDPI = 200

// portraits are the customer's pictures: all seats, and the first kind of seat
// from a slant. They have the size of the paper, lying on its long side.
func (k *maker) portraits() []export.File {
	o := portrait.Options{Plan: k.Plan, Job: k.Job, Words: k.Words, Units: k.Units, Tile: k.tile()}
	if !o.Any() {
		return nil
	}
	paper := k.reading()
	long, short := max(paper.W, paper.H), min(paper.W, paper.H)
	size := portrait.Print(unit.Length(long), unit.Length(short), portraitDPI)
	file := func(name string, make func() *image.RGBA) export.File {
		return export.File{Name: name, Write: func(w io.Writer) error { return export.Image(w, make(), portraitDPI) }}
	}
	seat, number := o.Best()
	return []export.File{
		file("customer-picture.png", func() *image.RGBA { return portrait.Seats(o, size) }),
		file("customer-slant.png", func() *image.RGBA { return portrait.Slant(o, seat, number, seatview.Usual, size) }),
	}
}

// tile gives the look of a cloth by its ID.
func (k *maker) tile() func(string) *swatch.Tile {
	shelf := &look.Shelf{Picture: k.Picture}
	return func(goods string) *swatch.Tile {
		c, ok := k.Job.Cloth(job.ID(goods))
		if !ok {
			return nil
		}
		t, fault := shelf.Tile(c)
		if fault != nil {
			// A swatch that cannot be shown does not keep the picture from the
			// customer: the drawing that goes with the repeat stands in.
			c.Swatch = job.Swatch{}
			t, _ = shelf.Tile(c)
		}
		return t
	}
}

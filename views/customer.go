package views

import (
	"context"
	"image"

	"fyne.io/fyne/v2"

	"slipseat/app/export"
	"slipseat/app/job"
	"slipseat/app/portrait"
	"slipseat/app/publish"
	"slipseat/engine/seatview"
	"slipseat/engine/swatch"
	"slipseat/views/kit"
)

// customerSize is the size of the pictures in the customer's view, in pixels
// of a sheet on its long side.
var customerSize = portrait.Print(297, 210, 110)

// customer shows the pictures that the customer gets. They are drawn beside
// the window; a sheet stands in until they are there.
func (v *Window) customer() {
	if !v.s.IsOpen() {
		return
	}
	var seats, slant *image.RGBA
	shown := 0
	box := kit.NewPictureBox(func(w, h int) image.Image {
		img := seats
		if shown == 1 {
			img = slant
		}
		return kit.Contained(img, w, h)
	})
	box.SetMinSize(fyne.NewSize(200, min(470, v.win.Canvas().Size().Height-230)))
	which := kit.NewSwitch([]string{"customer:all", "customer:one"}, []string{v.say("customer.all"), v.say("customer.one")}, 0, func(i int) {
		shown = i
		box.Refresh()
	}).Even()
	note := kit.NewPara(v.say("customer.drawing"), kit.Small, kit.Ink2)
	v.modal = kit.ShowModal(v.win.Canvas(), "ask:customer", v.say("customer.title"), kit.NewColumn(kit.Gap12, which, box, note), 760, nil,
		kit.Answer{Name: "button:cancel", Words: v.say("customer.close")},
		kit.Answer{Name: "button:customer-save", Words: v.say("customer.save"), Main: true, Do: func() bool {
			v.o.Runner.Post(v.saveCustomer)
			return true
		}})
	v.poke()
	o := portrait.Options{Plan: v.s.Plan(), Job: v.s.Job(), Words: v.w, Units: v.units(), Tile: v.anyTile(v.s.Job())}
	v.o.Runner.Start(func() {
		all := portrait.Seats(o, customerSize)
		seat, number := o.Best()
		one := portrait.Slant(o, seat, number, seatview.Usual, customerSize)
		v.o.Runner.Post(func() {
			seats, slant = all, one
			words := v.say("customer.note")
			if all == nil {
				words = v.say("customer.none")
			}
			note.SetText(words)
			box.Refresh()
			v.poke()
		})
	})
}

// anyTile gives the looks of a job's cloths, made when asked for; not for the
// goroutine of the window.
func (v *Window) anyTile(j job.Job) func(string) *swatch.Tile {
	shelf := v.looks.shelf
	return func(goods string) *swatch.Tile {
		c, ok := j.Cloth(job.ID(goods))
		if !ok {
			return nil
		}
		t, fault := shelf.Tile(c)
		if fault != nil {
			c.Swatch = job.Swatch{Look: job.LookTint}
			t, _ = shelf.Tile(c)
		}
		return t
	}
}

// saveCustomer asks where to and writes the customer's pictures.
func (v *Window) saveCustomer() {
	v.folder = v.exportFolder()
	v.place(placeIn{name: "customer", title: v.say("customer.save-title"), go_: v.say("customer.save-go"),
		write: func(folder, _ string, overwrite bool) error {
			files := publish.Files(publish.Options{Plan: v.s.Plan(), Words: v.w, Units: v.units(), Job: v.s.Job(), Picture: v.s.PictureSource(), Only: []string{"customer-"}})
			_, err := export.WriteAll(context.Background(), folder, files, export.Options{Overwrite: overwrite})
			return err
		}})
}

package views

import (
	"image"

	"slipseat/app/job"
	"slipseat/app/raster"
	"slipseat/app/session"
	"slipseat/assets"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
	"slipseat/views/kit"
	"slipseat/views/stages"
)

// makeJobs makes the start page.
func (v *Window) makeJobs() {
	v.jobs = newJobsPage(func(k string) string { return v.w.Label(k) }, v.menu, v.welcomePicture(), jobsActions{
		newJob: func() { v.s.NewJob(v.usualUnits()) }, openFile: v.openFile, demo: v.s.OpenDemo, menu: v.openMenu,
		open:      func(id string) { v.s.OpenJob(job.ID(id)) },
		rename:    v.renameJob,
		duplicate: func(id string) { v.s.Duplicate(job.ID(id)) },
		saveFile:  func(id string) { v.s.OpenJob(job.ID(id)); v.saveFile() },
		deleteJ:   func(id string) { v.s.Delete(job.ID(id)) },
	}, v.popUp)
}

// usualUnits are those of the last job, else those of the user's country.
func (v *Window) usualUnits() job.Units {
	if infos := v.s.Jobs(); len(infos) > 0 {
		if j, ok := v.s.Peek(infos[0].ID); ok {
			return j.Units
		}
	}
	return localeUnits()
}

func (v *Window) refreshJobs() {
	var cards []jobCard
	for _, i := range v.s.Jobs() {
		cards = append(cards, jobCard{id: string(i.ID), name: i.Name, customer: i.Customer,
			detail:  v.w.Label("jobs.detail", unit.A("seats", i.Seats), unit.A("day", v.day(i)), unit.A("time", i.Changed.Local().Format("15:04"))),
			picture: v.jobPicture(i)})
	}
	v.jobs.set(cards)
}

// day says when a job was changed.
func (v *Window) day(i session.JobInfo) string {
	now, then := v.o.Runner.Now().Local(), i.Changed.Local()
	days := func(y, m, d int) int { return y*372 + m*31 + d }
	y, m, d := now.Date()
	y2, m2, d2 := then.Date()
	switch days(y, int(m), d) - days(y2, int(m2), d2) {
	case 0:
		return v.w.Label("jobs.today")
	case 1:
		return v.w.Label("jobs.yesterday")
	}
	return then.Format("2006-01-02")
}

// jobPicture draws the seats of a stored job side by side. It is made when it
// is first seen and kept until the job changes.
func (v *Window) jobPicture(i session.JobInfo) kit.Picture {
	var seats []geom.Path
	read := false
	return func(w, h int) image.Image {
		if !read {
			read = true
			if j, ok := v.s.Peek(i.ID); ok {
				for _, s := range plan.Make(j.Input(), nil, noLays).Seats {
					if len(s.Outline.Board) > 1 {
						seats = append(seats, s.Outline.Board)
					}
				}
			}
		}
		return rowOfSeats(seats, w, h)
	}
}

// rowOfSeats draws up to four boards at one scale.
func rowOfSeats(seats []geom.Path, w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	ground := kit.Colour(kit.Table)
	for y := range h {
		for x := range w {
			img.Set(x, y, ground)
		}
	}
	var d drawing.Drawing
	x := 0.0
	for i, s := range seats {
		if i == 4 {
			break
		}
		b := s.Bounds()
		at := geom.P(x-b.Min.X, -b.Min.Y)
		x += b.W() + 90
		path := s.Translate(at)
		d.Append(drawing.Drawing{Bounds: path.Bounds(), Items: []drawing.Item{
			drawing.Shape{Layer: "board", Path: path, Fill: drawing.BoardFill, Through: 0.3, Stroke: drawing.BoardLine, Width: 0.45},
		}})
	}
	if len(d.Items) > 0 {
		// A job of one seat does not fill the card with it.
		px := float64(w) / 250
		box := d.Bounds
		if grow := 900 - box.W(); grow > 0 {
			box.Min.X, box.Max.X = box.Min.X-grow/2, box.Max.X+grow/2
		}
		t := raster.Fit(box, w, h, 18*px, drawing.PxPerPaper*px)
		raster.Render(img, d, t, palette())
	}
	kit.RoundCorners(img, 9*float64(w)/250)
	return img
}

func palette() *drawing.Palette {
	if kit.Dark() {
		return drawing.Dark()
	}
	return drawing.Light()
}

// welcomePicture is the first seat of the demo job with what is cut for it.
func (v *Window) welcomePicture() kit.Picture {
	var p *plan.Plan
	return func(w, h int) image.Image {
		if p == nil {
			f, err := job.Decode(assets.Demo)
			if err != nil {
				return nil
			}
			p = plan.Make(f.Input(), nil, noLays)
		}
		return stages.SeatPicture(v.w, p, 0, w, h)
	}
}

// noLays answers no problem: pictures of boards need no lays.
func noLays(lay.ProblemID) (lay.Lay, bool) { return lay.Lay{}, false }

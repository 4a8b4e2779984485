package views

import (
	"io"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/look"
	"slipseat/app/photo"
	"slipseat/app/session"
	"slipseat/engine/geom"
	"slipseat/engine/swatch"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// looks keeps what cloths look like. A tile takes a moment to make, so it is
// made beside the window, and the roll shown again when it is there.
type looks struct {
	shelf  *look.Shelf
	making map[string]bool
}

func (v *Window) newLooks() looks {
	return looks{shelf: &look.Shelf{Picture: v.s.PictureSource()}, making: map[string]bool{}}
}

// tile gives the look of a cloth to show on the roll; nil for a plain tint,
// and while it is being made.
func (v *Window) tile(goods string) *swatch.Tile {
	c, ok := v.s.Shown().Cloth(job.ID(goods))
	if !ok || !look.Shown(c) {
		return nil
	}
	t, _, ready := v.looks.shelf.Ready(c)
	if !ready {
		v.makeTile(c)
		t, _, _ = v.looks.shelf.Ready(c)
	}
	return t
}

// tileFault tells why a look cannot be shown.
func (v *Window) tileFault(goods string) *unit.Fault {
	c, ok := v.s.Shown().Cloth(job.ID(goods))
	if !ok || !look.Shown(c) {
		return nil
	}
	_, f, _ := v.looks.shelf.Ready(c)
	return f
}

func (v *Window) makeTile(c job.Cloth) {
	key := look.Key(c)
	if v.looks.making[key] {
		return
	}
	v.looks.making[key] = true
	v.o.Runner.Start(func() {
		v.looks.shelf.Tile(c)
		v.o.Runner.Post(func() {
			delete(v.looks.making, key)
			v.refreshStage()
			v.refreshLeft()
		})
	})
}

// pictureEndings are the pictures that can be opened.
var pictureEndings = []string{".jpg", ".jpeg", ".png", ".heic", ".heif", ".JPG", ".JPEG", ".PNG", ".HEIC", ".HEIF"}

// mostPicture bounds what is read of a picture's file.
const mostPicture = 64 << 20

// chooseSwatch asks for a picture of the chosen cloth.
func (v *Window) chooseSwatch() {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			v.tellError("file.unreadable", err)
			return
		}
		if r == nil {
			return
		}
		defer r.Close()
		data, err := io.ReadAll(io.LimitReader(r, mostPicture+1))
		if err != nil {
			v.tellError("file.unreadable", err)
			return
		}
		v.takeSwatch(data)
	}, v.win)
	d.SetFilter(storage.NewExtensionFileFilter(pictureEndings))
	d.SetConfirmText(v.say("file.open"))
	d.SetDismissText(v.say("cancel"))
	if l, err := storage.ListerForURI(storage.NewFileURI(v.home())); err == nil {
		d.SetLocation(l)
	}
	d.Resize(fyne.NewSize(min(860, v.win.Canvas().Size().Width-60), min(600, v.win.Canvas().Size().Height-60)))
	d.Show()
}

// takeSwatch takes the bytes of a picture as that of the chosen cloth, and asks
// to mark one repeat on it. Unpacking it is done beside the window.
func (v *Window) takeSwatch(data []byte) {
	goods := v.s.Goods(false)
	v.o.Runner.Start(func() {
		pic, err := photo.Decode(data)
		v.o.Runner.Post(func() {
			if err != nil {
				v.tellError("file.unreadable", err)
				return
			}
			id, err := v.s.AddPicture(pic.Image, session.SwatchSide)
			if err != nil {
				v.tellError("file.unreadable", err)
				return
			}
			if _, ok := v.s.Job().Cloth(goods); !ok {
				return // the job was closed meanwhile
			}
			set := func(field, text string) edit.Command { return edit.Set{Object: goods, Field: field, Text: text} }
			v.do(edit.Many{Name: edit.Label{Code: "swatch-picture"}, Commands: []edit.Command{
				set(edit.SwatchLook, string(job.LookPicture)), set(edit.SwatchPicture, string(id)), set(edit.SwatchCorners, ""), set(edit.SwatchMotif, "")}})
			v.markSwatch()
		})
	})
}

// markHeight is the height of the picture in the question for the repeat.
const markHeight = 420

// markSwatch asks for the four corners of one repeat, and the motif.
func (v *Window) markSwatch() {
	c, ok := v.s.Job().Cloth(v.s.Goods(false))
	if !ok || c.Swatch.Picture == "" {
		return
	}
	pic, err := v.s.Picture(c.Swatch.Picture)
	if err != nil {
		v.tellError("file.unreadable", err)
		return
	}
	pts := []kit.Point{{X: 0.2, Y: 0.2}, {X: 0.8, Y: 0.2}, {X: 0.8, Y: 0.8}, {X: 0.2, Y: 0.8}, {X: 0.5, Y: 0.5}}
	if had, ok := c.Swatch.Corners.List(); ok && len(had) == 4 {
		for i, p := range had {
			pts[i] = kit.Point{X: p.X, Y: p.Y}
		}
		pts[4] = kit.Point{X: (had[0].X + had[2].X) / 2, Y: (had[0].Y + had[2].Y) / 2}
	}
	if had, ok := c.Swatch.Motif.List(); ok && len(had) == 1 {
		pts[4] = kit.Point{X: had[0].X, Y: had[0].Y}
	}
	height := min(markHeight, v.win.Canvas().Size().Height-260)
	marks := kit.NewMarkPicture("mark:swatch", pic, pts, 4, height)
	size := v.say("look.repeat", unit.A("along", c.Goods().Pattern.Along), unit.A("across", c.Goods().Pattern.Across))
	if p := c.Goods().Pattern; p.Along == 0 || p.Across == 0 {
		size = v.say("look.no-repeat")
	}
	problem := kit.NewPara("", kit.Small, kit.Wrong)
	problem.Hide()
	body := kit.NewColumn(kit.Gap8, kit.NewPara(v.say("look.mark-how"), kit.Body, kit.Ink2), marks, kit.NewPara(size, kit.Small, kit.Ink2), problem)
	var m *kit.Modal
	m = kit.ShowModal(v.win.Canvas(), "ask:swatch", v.say("look.mark-title"), body, 620, marks,
		kit.Answer{Name: "button:cancel", Words: v.say("cancel")},
		kit.Answer{Name: "button:swatch-go", Words: v.say("look.mark-go"), Main: true, Do: func() bool {
			at := marks.Points()
			ring := make([]geom.Pt, 4)
			for i := range ring {
				ring[i] = geom.P(at[i].X, at[i].Y)
			}
			if !goesRound(ring) {
				problem.SetText(v.w.Fault(unit.Fault{Code: swatch.CodeCorners}, v.units()))
				problem.Show()
				m.Refit()
				v.poke()
				return false
			}
			set := func(field string, p job.Points) edit.Command {
				return edit.Set{Object: c.ID, Field: field, Text: string(p)}
			}
			v.do(edit.Many{Name: edit.Label{Code: "swatch-mark"}, Commands: []edit.Command{
				set(edit.SwatchCorners, job.PointsOf(ring)), set(edit.SwatchMotif, job.PointsOf([]geom.Pt{{X: at[4].X, Y: at[4].Y}}))}})
			return true
		}})
	v.modal = m
	v.poke()
}

// goesRound tells whether four corners go round an area without a dent.
func goesRound(ring []geom.Pt) bool {
	g := geom.Polygon(ring)
	return g.Validate() == nil && g.Convex()
}

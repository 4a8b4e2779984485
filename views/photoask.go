package views

import (
	"context"
	"errors"
	"image"
	"image/color"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"golang.org/x/image/draw"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/photo"
	"slipseat/app/session"
	"slipseat/engine/geom"
	"slipseat/engine/seat"
	"slipseat/engine/trace"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

func isPicture(ext string) bool {
	for _, e := range pictureEndings {
		if strings.EqualFold(ext, e) {
			return true
		}
	}
	return false
}

// openPhoto asks for a photo of a board.
func (v *Window) openPhoto() {
	if !v.s.IsOpen() {
		return
	}
	if v.folder == "" {
		v.folder = v.home()
	}
	file := kit.NewField("field:photo-file").SetMenu(v.menu)
	typed := ""
	file.OnType = func(s string) { typed = s }
	choose := kit.NewButton("button:photo-choose", "", v.say("file.choose"), func() {
		v.chooseFile(pictureEndings, func(path string) { file.SetText(path); typed = path })
	})
	body := kit.NewColumn(kit.Gap8, kit.NewPara(v.say("photo.what"), kit.Small, kit.Ink2), kit.NewBeside(file, choose))
	v.modal = kit.ShowModal(v.win.Canvas(), "ask:photo-file", v.say("photo.title"), body, 520, file,
		kit.Answer{Name: "button:cancel", Words: v.say("cancel")},
		kit.Answer{Name: "button:photo-open", Words: v.say("file.open"), Main: true, Do: func() bool {
			if path := strings.TrimSpace(typed); path != "" {
				v.closeModal()
				v.readPhoto(path)
			}
			return false
		}})
	v.poke()
}

// readPhoto reads a photo and looks for the sheet in it, beside the window.
func (v *Window) readPhoto(path string) {
	v.folder = filepath.Dir(path)
	a := &photoAsk{v: v, name: filepath.Base(path), ref: trace.A4()}
	if !v.s.Units().Size.Metric() {
		a.ref = trace.Letter()
	}
	a.work("photo.finding-sheet", func(ctx context.Context) error {
		f, err := os.Open(path)
		if err != nil {
			return err
		}
		defer f.Close()
		data, err := io.ReadAll(io.LimitReader(f, photo.MaxBytes+1))
		if err != nil {
			return err
		}
		pic, err := photo.Decode(data)
		if err != nil {
			return err
		}
		if a.p, err = trace.NewPhoto(pic.Image, pic.Focal35); err != nil {
			return err
		}
		return a.find(ctx)
	}, a.mark)
}

// photoAsk is the question where the sheet lies in a photo, and whether the
// outline that was found is right.
type photoAsk struct {
	v     *Window
	name  string
	ref   trace.Reference
	p     *trace.Photo
	sheet trace.Sheet
	found bool // the sheet was found by itself
	flat  *trace.Flat
	out   trace.Outline
	fault error // why there is no outline
	under bool
}

// work runs f beside the window behind a sheet with Cancel, then then.
func (a *photoAsk) work(words string, f func(context.Context) error, then func()) {
	v := a.v
	v.closeModal()
	ctx, stop := context.WithCancel(context.Background())
	v.modal = kit.ShowModal(v.win.Canvas(), "ask:photo-work", v.say("photo.title"), kit.NewPara(v.say(words), kit.Body, kit.Ink2), 420, nil,
		kit.Answer{Name: "button:photo-stop", Words: v.say("cancel"), Do: func() bool { stop(); return true }})
	of := v.s.Job().ID
	v.poke()
	v.o.Runner.Start(func() {
		err := f(ctx)
		v.o.Runner.Post(func() {
			gone := ctx.Err() != nil
			stop()
			if gone || !v.s.IsOpen() || v.s.Job().ID != of {
				return
			}
			v.closeModal()
			if err != nil {
				v.tellError("file.unreadable", err)
				return
			}
			then()
		})
	})
}

// find looks for the sheet; where none is found the corners are set by hand.
func (a *photoAsk) find(ctx context.Context) error {
	s, err := trace.FindSheet(ctx, a.p, a.ref, nil)
	a.found = err == nil
	if err == nil {
		a.sheet = s
		return nil
	}
	if ctx.Err() != nil || !isFault(err) {
		return err
	}
	w, h := a.p.Size()
	at := func(x, y float64) geom.Pt { return geom.P(x*float64(w), y*float64(h)) }
	a.sheet = trace.Sheet{Ref: a.ref, Corners: trace.Corners{at(0.35, 0.65), at(0.65, 0.65), at(0.65, 0.35), at(0.35, 0.35)}}
	return nil
}

func isFault(err error) bool {
	var p *unit.Fault
	var f unit.Fault
	return errors.As(err, &p) || errors.As(err, &f)
}

// mark asks whether the corners lie on the sheet.
func (a *photoAsk) mark() {
	v := a.v
	w, h := a.p.Size()
	pts := make([]kit.Point, 4)
	for i, c := range a.sheet.Corners {
		pts[i] = kit.Point{X: c.X / float64(w), Y: c.Y / float64(h)}
	}
	marks := kit.NewMarkPicture("mark:photo", a.p.Image(), pts, 4, min(markHeight, v.win.Canvas().Size().Height-300))
	marks.Settle = func(i int, p kit.Point) kit.Point {
		at, ok := trace.SnapCorner(a.p, a.sheet, i, geom.P(p.X*float64(w), p.Y*float64(h)))
		if !ok {
			return p
		}
		return kit.Point{X: at.X / float64(w), Y: at.Y / float64(h)}
	}
	at := 0
	switch a.ref.Kind {
	case trace.SheetLetter:
		at = 1
	case trace.AnyRect:
		at = 2
	}
	sheets := kit.NewSwitch([]string{"photo-sheet:a4", "photo-sheet:letter", "photo-sheet:other"},
		[]string{v.say("photo.sheet.a4"), v.say("photo.sheet.letter"), v.say("photo.sheet.other")}, at,
		func(i int) {
			if i < 2 { // the other paper has other sides: it is looked for again
				a.ref = []trace.Reference{trace.A4(), trace.Letter()}[i]
				a.work("photo.finding-sheet", a.find, a.mark)
				return
			}
			a.ref = trace.Rectangle(0, 0)
			a.mark()
		}).Even()
	sides := a.sides(func(wide, high unit.Length) { a.ref = trace.Rectangle(wide, high) })
	how := "photo.mark-how"
	if !a.found {
		how = "photo.mark-none"
	}
	wrong := kit.NewPara("", kit.Small, kit.Wrong)
	body := kit.NewColumn(kit.Gap8, kit.NewPara(v.say(how), kit.Body, kit.Ink2), marks, sheets)
	if at == 2 {
		body.Add(sides)
	}
	body.Add(wrong)
	v.closeModal()
	var m *kit.Modal
	m = kit.ShowModal(v.win.Canvas(), "ask:photo", a.name, body, 620, marks,
		kit.Answer{Name: "button:cancel", Words: v.say("cancel")},
		kit.Answer{Name: "button:photo-flat", Words: v.say("photo.flat"), Main: true, Do: func() bool {
			var pts [4]geom.Pt
			for i, p := range marks.Points() {
				pts[i] = geom.P(p.X*float64(w), p.Y*float64(h))
			}
			s, err := trace.SheetAt(a.p, a.ref, trace.Arranged(pts))
			if err != nil {
				wrong.SetText(a.words(err))
				m.Refit()
				return false
			}
			a.sheet = s
			a.work("photo.finding-outline", a.trace, a.show)
			return false
		}})
	v.modal = m
	v.poke()
}

// sides are two fields for the sides of a rectangle of the user's own.
func (a *photoAsk) sides(typed func(wide, high unit.Length)) fyne.CanvasObject {
	v := a.v
	u := v.units().Size
	var got [2]unit.Length
	field := func(i int, name string, now unit.Length) *kit.Field {
		f := kit.NewField("field:photo-" + name).SetMenu(v.menu).Right()
		if now > 0 {
			f.SetText(unit.Text(now, u))
			got[i] = now
		}
		f.OnType = func(s string) {
			l, err := unit.Parse(s, u)
			if got[i] = l; err != nil {
				got[i] = 0
			}
			typed(got[0], got[1])
		}
		return f
	}
	w, h := unit.Length(0), unit.Length(0)
	if a.ref.Kind == trace.AnyRect {
		w, h = a.ref.W, a.ref.H
	}
	return kit.NewColumn(kit.Gap6, kit.NewRowFor(v.say("photo.sheet.wide"), "", field(0, "wide", w)), kit.NewRowFor(v.say("photo.sheet.high"), "", field(1, "high", h)))
}

func (a *photoAsk) words(err error) string {
	s, _ := a.v.w.Error(err, a.v.units())
	return s
}

// trace makes the picture flat and looks for the board. That none is found is
// no error: the words for it are shown over the flat picture.
func (a *photoAsk) trace(ctx context.Context) (err error) {
	if a.flat, err = trace.Flatten(ctx, a.p, a.sheet, nil); err != nil {
		return err
	}
	a.out, a.fault = trace.FindOutline(ctx, a.flat, trace.FindOptions{}, nil)
	if a.fault != nil && !isFault(a.fault) {
		return a.fault
	}
	return ctx.Err()
}

// show shows the flat picture with the outline on it.
func (a *photoAsk) show() {
	v := a.v
	pic := canvas.NewImageFromImage(a.drawn())
	pic.FillMode = canvas.ImageFillContain
	pic.SetMinSize(fyne.NewSize(200, min(360, v.win.Canvas().Size().Height-360)))
	body := kit.NewColumn(kit.Gap8, container.NewStack(pic))
	answers := []kit.Answer{{Name: "button:cancel", Words: v.say("cancel")},
		{Name: "button:photo-back", Words: v.say("photo.back"), Do: func() bool { v.closeModal(); a.mark(); return false }}}
	advice := a.flat.Advice
	if a.fault != nil {
		body.Add(kit.NewPara(a.words(a.fault), kit.Body, kit.Wrong))
		body.Add(kit.NewPara(v.say("photo.by-hand"), kit.Small, kit.Ink2))
	} else {
		advice = a.out.Advice
		words := "photo.expected"
		if len(a.out.Unsure) > 0 {
			words = "photo.expected-unsure"
		}
		body.Add(kit.NewPara(v.say(words, unit.A("error", a.out.Expected)), kit.Body, kit.Ink))
		body.Add(kit.NewSwitch([]string{"photo-face:top", "photo-face:underside"}, []string{v.say("trace.face.top"), v.say("trace.face.underside")}, 0,
			func(i int) { a.under = i == 1 }).Even())
		answers = append(answers, kit.Answer{Name: "button:photo-use", Words: v.say("photo.use"), Main: true, Do: a.take})
	}
	for _, ad := range advice {
		body.Add(kit.NewPara(v.w.Text("advice."+ad.Code, v.units(), ad.Args...), kit.Small, kit.Ink2))
	}
	v.modal = kit.ShowModal(v.win.Canvas(), "ask:photo-outline", a.name, body, 620, nil, answers...)
	v.poke()
}

// drawnSide is the longer side of the flat picture as it is shown.
const drawnSide = 1200

// drawn is the flat picture with the outline; dashed where it is unsure.
func (a *photoAsk) drawn() image.Image {
	b := a.flat.Img.Bounds()
	if a.fault == nil { // the board, with some of what it lies on
		box := a.out.Path.Bounds()
		box = box.Grow(0.25 * max(box.W(), box.H()))
		x0, y1 := a.flat.Pixel(box.Min)
		x1, y0 := a.flat.Pixel(box.Max)
		b = image.Rect(int(x0), int(y0), int(x1), int(y1)).Intersect(b)
	}
	k := min(1, drawnSide/float64(max(b.Dx(), b.Dy())))
	out := image.NewRGBA(image.Rect(0, 0, max(1, int(float64(b.Dx())*k)), max(1, int(float64(b.Dy())*k))))
	draw.ApproxBiLinear.Scale(out, out.Rect, a.flat.Img, b, draw.Src, nil)
	if a.fault != nil {
		return out
	}
	line := color.RGBAModel.Convert(kit.Colour(kit.Action)).(color.RGBA)
	for pass, r := range []int{4, 2} {
		c := []color.RGBA{{R: 255, G: 255, B: 255, A: 255}, line}[pass]
		run := 0.0
		for i, e := range a.out.Path.Segments() {
			n := max(2, int(e.Length()/a.flat.MMPerPx*k*2))
			for j := range n {
				t := (float64(j) + 0.5) / float64(n)
				run += e.Length() / a.flat.MMPerPx * k / float64(n)
				if a.unsure(i, t) && math.Mod(run, 24) > 12 {
					continue
				}
				x, y := a.flat.Pixel(e.At(t))
				at := image.Pt(int((x-float64(b.Min.X))*k), int((y-float64(b.Min.Y))*k))
				draw.Draw(out, image.Rect(at.X-r/2, at.Y-r/2, at.X+r-r/2, at.Y+r-r/2), image.NewUniform(c), image.Point{}, draw.Src)
			}
		}
	}
	return out
}

func (a *photoAsk) unsure(edge int, t float64) bool {
	for _, s := range a.out.Unsure {
		if s.Edge == edge && t >= s.From && t <= s.To {
			return true
		}
	}
	return false
}

// take makes the outline that was found the seat's.
func (a *photoAsk) take() bool {
	v := a.v
	face := job.FaceTop
	if a.under {
		face = job.FaceUnderside
	}
	// The sheet hardly ever lies square on the board.
	t := seat.TraceOf(a.out.Path.Rotated(trace.Straight(a.out.Path)))
	c := t.Bounds().Center()
	t, _ = t.Moved(numbers(len(t.Points)), geom.P(-c.X, -t.Bounds().Min.Y))
	if faults := v.s.Do(edit.SetTrace{Seat: v.s.Seat(), Shape: t, Face: face, From: edit.TracedPhoto}); len(faults) > 0 {
		v.s.Tell(session.Notice{Fault: &faults[0]})
		return false
	}
	v.s.SetStage(session.Outline)
	return true
}

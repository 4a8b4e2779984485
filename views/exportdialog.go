package views

import (
	"context"
	"errors"
	"image"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"slipseat/app/export"
	"slipseat/app/publish"
	"slipseat/app/raster"
	"slipseat/engine/drawing"
	"slipseat/engine/geom"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// exportGroup is a line of the export dialog: files that are written together.
type exportGroup struct {
	name  string
	files []string // beginnings of their names
}

func exportGroups() []exportGroup {
	return []exportGroup{
		{"sheets", []string{"cut-sheet", "chalk-list"}},
		{"templates", []string{"templates"}},
		{"bench", []string{"bench-sheet"}},
		{"money", []string{"order", "quote", "bill"}},
		{"outlines", []string{"outline"}},
		{"pictures", []string{"customer"}},
		{"everything", []string{"everything"}},
	}
}

// exportPapers are the papers that cut sheets can be set on.
func exportPapers() []drawing.PageSize {
	return []drawing.PageSize{drawing.A4(), drawing.A3(), drawing.Letter(), drawing.Tabloid(), drawing.Long()}
}

// Settings that are remembered of exports.
const (
	keptPaper   = "export-paper"
	keptPlotter = "export-plotter"
	keptSquareX = "export-square-level"
	keptSquareY = "export-square-upright"
	keptFolder  = "export-folder"
	keptOff     = "export-left-out"
)

// exportAsk is the export dialog while it is open.
type exportAsk struct {
	v      *Window
	m      *kit.Modal
	folder *kit.Field
	checks []*kit.Check
	kind   int
	paper  int

	plotter, squareX, squareY *kit.Field

	problem   *kit.Text
	progress  *kit.Progress
	said      *kit.Text
	overwrite bool
	cancel    context.CancelFunc // while files are written

	papers  []publish.Paper
	at      int // index into papers
	page    int
	pages   []drawing.Drawing // of papers[at], nil while they are made
	round   int               // pages of an earlier round come too late
	preview *canvas.Raster
	caption *kit.Text
}

// export asks what to write and where to, with a preview, and writes it.
func (v *Window) export() {
	if !v.s.IsOpen() {
		return
	}
	v.s.Flush()
	a := &exportAsk{v: v}
	a.open()
}

func (a *exportAsk) open() {
	v := a.v
	name := func(s string) string { return "field:export-" + s }
	a.folder = kit.NewField(name("folder")).SetMenu(v.menu)
	a.folder.SetText(v.exportFolder())
	choose := kit.NewButton("button:export-choose", "", v.say("file.choose"), func() { v.chooseFolder(a.folder) })
	left := kit.NewColumn(kit.Gap8, kit.NewText(v.say("file.folder"), kit.Small, kit.Ink2), kit.NewBeside(a.folder, choose), kit.NewText(v.say("export.what"), kit.Small, kit.Ink2))

	off := strings.Fields(v.s.Remembered(keptOff))
	group := kit.NewColumn(0)
	for _, g := range exportGroups() {
		on := true
		for _, o := range off {
			on = on && o != g.name
		}
		c := kit.NewCheck("check:export-"+g.name, v.say("export.group."+g.name), on, func(bool) { a.changed() })
		a.checks = append(a.checks, c)
		group.Add(c)
	}
	left.Add(group)

	kinds := kit.NewSwitch([]string{"export-kind:all", "export-kind:png", "export-kind:pdf"}, []string{v.say("export.all"), v.say("export.png"), v.say("export.pdf")}, 0,
		func(i int) { a.kind = i; a.changed() }).Even()
	left.Add(kit.NewText(v.say("export.kinds"), kit.Small, kit.Ink2))
	left.Add(kinds)

	usual := v.s.Remembered(keptPaper)
	if usual == "" {
		usual = publish.UsualPaper(v.units()).Name
	}
	var words []string
	for i, p := range exportPapers() {
		words = append(words, v.w.Term("paper."+p.Name))
		if p.Name == usual {
			a.paper = i
		}
	}
	left.Add(kit.NewRowFor(v.say("cut-sheet.paper"), "", kit.NewChoice("choice:export-paper", words, a.paper, func(i int) { a.paper = i; a.changed() })))
	field := func(key, kept string) *kit.Field {
		f := kit.NewField(name(key)).SetMenu(v.menu).SetHint(v.say("export." + key + ".empty")).Right()
		f.SetText(v.s.Remembered(kept))
		f.OnCommit = func(string) string { a.changed(); return "" }
		return f
	}
	a.plotter = field("plotter", keptPlotter)
	a.squareX, a.squareY = field("square-level", keptSquareX), field("square-upright", keptSquareY)
	left.Add(kit.NewRowFor(v.say("export.plotter"), "", a.plotter))
	left.Add(kit.NewRowFor(v.say("export.square-level"), "", a.squareX))
	left.Add(kit.NewRowFor(v.say("export.square-upright"), v.say("export.hint"), a.squareY))

	a.problem = kit.NewPara("", kit.Small, kit.Wrong)
	a.problem.Hide()
	a.progress, a.said = kit.NewProgress(), kit.NewPara("", kit.Small, kit.Ink2)
	a.progress.Hide()
	a.said.Hide()
	left.Add(a.problem)
	left.Add(a.said)
	left.Add(a.progress.Container)

	a.preview = kit.NewPictureBox(a.paint)
	a.caption = kit.NewText("", kit.Small, kit.Ink2).Shrink()
	under := kit.NewRow(kit.Gap8,
		kit.NewButton("button:export-back", "back", "", func() { a.turn(-1) }).Tip(v.say("export.back")),
		kit.NewButton("button:export-on", "right", "", func() { a.turn(1) }).Tip(v.say("export.on")), a.caption)
	body := &fyne.Container{Layout: exportLayout{}, Objects: []fyne.CanvasObject{left, a.preview, under}}

	a.folder.OnType = func(string) { a.forget() }
	a.m = kit.ShowModal(v.win.Canvas(), "ask:export", v.say("export.title"), body, 940, nil,
		kit.Answer{Name: "button:cancel", Words: v.say("cancel"), Do: a.stop},
		kit.Answer{Name: "button:export-go", Words: v.say("export.go"), Main: true, Do: a.run})
	v.modal = a.m
	a.load()
	v.poke()
}

// exportFolder is where exports of the open job go unless another place is
// chosen: where this job's went last, else beside the last job's.
func (v *Window) exportFolder() string {
	if v.folder != "" {
		return v.folder
	}
	if d := v.s.Remembered(keptFolder + "-" + string(v.s.Job().ID)); d != "" {
		return d
	}
	if d := v.s.Remembered(keptFolder); d != "" {
		return filepath.Join(filepath.Dir(d), fileName(v.s.Job().Name))
	}
	return filepath.Join(v.home(), "Slipseat", fileName(v.s.Job().Name))
}

// forget takes back what was said of another place or other files.
func (a *exportAsk) forget() {
	a.overwrite = false
	a.problem.Hide()
}

// changed shows what would be written now.
func (a *exportAsk) changed() {
	a.forget()
	a.load()
	a.m.Refit()
	a.v.poke()
}

func (a *exportAsk) tell(words string) {
	a.problem.SetText(words)
	a.problem.Show()
	a.m.Refit()
	a.v.poke()
}

// options are what publish needs; ok is false when a field cannot be read,
// which is then said.
func (a *exportAsk) options() (o publish.Options, ok bool) {
	v := a.v
	kinds := [][]export.Kind{{export.KindPNG, export.KindPDF, export.KindSVG}, {export.KindPNG}, {export.KindPDF}}
	o = publish.Options{Plan: v.s.Plan(), Job: v.s.Job(), Picture: v.s.PictureSource(), Words: v.w, Units: v.units(), Stamp: v.stamp(), Day: v.o.Runner.Now().Format(time.DateOnly),
		Paper: exportPapers()[a.paper], Kinds: kinds[a.kind]}
	for i, g := range exportGroups() {
		if a.checks[i].On() {
			o.Only = append(o.Only, g.files...)
		}
	}
	for _, f := range []struct {
		field *kit.Field
		to    *unit.Length
		in    unit.Unit
	}{{a.plotter, &o.Plotter, v.units().Size}, {a.squareX, &o.SquareX, unit.Millimetres}, {a.squareY, &o.SquareY, unit.Millimetres}} {
		text := strings.TrimSpace(f.field.Text())
		if text == "" {
			continue
		}
		l, err := unit.Parse(text, f.in)
		if err != nil {
			words, known := v.w.Error(err, v.units())
			if !known {
				words = err.Error()
			}
			f.field.SetProblem(words)
			return o, false
		}
		f.field.SetProblem("")
		*f.to = l
	}
	if o.SquareX > 0 && o.SquareY == 0 {
		o.SquareY = o.SquareX
	}
	return o, true
}

// load lists the papers that would be written and shows the first.
func (a *exportAsk) load() {
	o, ok := a.options()
	if !ok {
		return
	}
	a.papers = nil
	for _, p := range publish.Papers(o) {
		for _, only := range o.Only {
			if strings.HasPrefix(p.Base, only) {
				a.papers = append(a.papers, p)
				break
			}
		}
	}
	a.at, a.page = min(a.at, max(0, len(a.papers)-1)), 0
	a.show(false)
}

// show makes the pages of the paper in sight, beside the window.
func (a *exportAsk) show(last bool) {
	a.round++
	a.pages = nil
	round := a.round
	if len(a.papers) == 0 {
		a.caption.SetText(a.v.say("export.nothing"))
		a.preview.Refresh()
		return
	}
	p := a.papers[a.at]
	a.caption.SetText(p.Title)
	a.v.o.Runner.Start(func() {
		pages := p.Pages()
		a.v.o.Runner.Post(func() {
			if round != a.round {
				return
			}
			a.pages, a.page = pages, 0
			if last {
				a.page = max(0, len(pages)-1)
			}
			a.shown()
		})
	})
}

func (a *exportAsk) shown() {
	if a.at < len(a.papers) {
		a.caption.SetText(a.v.say("export.page", unit.A("title", a.papers[a.at].Title), unit.A("page", a.page+1), unit.A("pages", len(a.pages))))
	}
	a.preview.Refresh()
	a.v.poke()
}

// turn goes to the page before or after.
func (a *exportAsk) turn(by int) {
	if len(a.papers) == 0 || a.pages == nil {
		return
	}
	if p := a.page + by; p >= 0 && p < len(a.pages) {
		a.page = p
		a.shown()
		return
	}
	a.at = (a.at + by + len(a.papers)) % len(a.papers)
	a.show(by < 0)
}

// paint draws the page in sight: white paper with a thin edge, whatever the
// window's variant.
func (a *exportAsk) paint(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	if a.page >= len(a.pages) {
		return img
	}
	d := a.pages[a.page]
	const edge = 3
	scale := min((float64(w)-2*edge)/d.Bounds.W(), (float64(h)-2*edge)/d.Bounds.H())
	pw, ph := d.Bounds.W()*scale, d.Bounds.H()*scale
	x, y := (float64(w)-pw)/2, (float64(h)-ph)/2
	r := image.Rect(int(x), int(y), int(x+pw), int(y+ph))
	frame := drawing.Drawing{Items: []drawing.Item{drawing.Shape{Path: geom.Box(0, 0, pw+2, ph+2), Fill: drawing.Rule}}}
	raster.Render(img, frame, raster.Transform{Scale: 1, X: x - 1, Y: y + ph + 1, Paper: 1}, drawing.Print())
	page, ok := img.SubImage(r).(*image.RGBA)
	if !ok || page.Rect.Empty() {
		return img
	}
	raster.Clear(page, drawing.Paper, drawing.Print())
	raster.Render(page, d, raster.Transform{Scale: scale, X: x - d.Bounds.Min.X*scale, Y: y + d.Bounds.Max.Y*scale, Paper: scale}, drawing.Print())
	return img
}

// stop gives the export up: between two files while they are written, else by
// closing the dialog.
func (a *exportAsk) stop() bool {
	if a.cancel == nil {
		a.round++ // pages still being made are for nobody
		return true
	}
	a.cancel()
	return false
}

// run writes the files beside the window; the dialog stays open until they are
// written.
func (a *exportAsk) run() bool {
	if a.cancel != nil {
		return false
	}
	v := a.v
	o, ok := a.options()
	if !ok {
		a.tell(v.say("export.field"))
		return false
	}
	if len(o.Only) == 0 {
		a.tell(v.say("export.nothing"))
		return false
	}
	dir := strings.TrimSpace(a.folder.Text())
	if dir == "" {
		dir = v.home()
	}
	a.problem.Hide()
	a.said.SetText(v.say("export.preparing"))
	a.said.Show()
	a.progress.Show()
	a.progress.Set(0)
	a.m.Refit()
	ctx, cancel := context.WithCancel(context.Background())
	a.cancel = cancel
	overwrite := a.overwrite
	v.o.Runner.Start(func() {
		done, err := export.WriteAll(ctx, dir, publish.Files(o), export.Options{Overwrite: overwrite, Report: func(n, total int, name string) {
			v.o.Runner.Post(func() {
				if a.cancel == nil || name == "" {
					return
				}
				a.said.SetText(v.say("export.writing", unit.A("file", name), unit.A("number", n+1), unit.A("count", total)))
				a.progress.Set(float32(n) / float32(total))
				v.poke()
			})
		}})
		v.o.Runner.Post(func() { a.written(dir, len(done), err) })
	})
	return false
}

// written ends an export: well, stopped, or with what stood in the way.
func (a *exportAsk) written(dir string, count int, err error) {
	v := a.v
	a.cancel()
	a.cancel = nil
	a.said.Hide()
	a.progress.Hide()
	var there *export.ExistsError
	switch {
	case err == nil, errors.Is(err, context.Canceled):
		v.folder = dir
		a.remember(dir)
		a.m.Close()
		words := v.say("export.done", unit.A("count", count), unit.A("folder", dir))
		if err != nil {
			words = v.say("export.stopped", unit.A("count", count), unit.A("folder", dir))
		}
		v.toast.Say(words, "", false, stay, nil)
		v.poke()
	case errors.As(err, &there):
		a.overwrite = true
		a.tell(v.say("file.exists", unit.A("files", strings.Join(first(there.Names, 4), ", "))))
	case errors.Is(err, os.ErrExist):
		a.overwrite = true
		a.tell(v.say("file.exists", unit.A("files", dir)))
	default:
		words, known := v.w.Error(err, v.units())
		if !known {
			words = v.say("file.unwritable", unit.A("detail", plainError(err)))
		}
		a.tell(words)
	}
}

// remember keeps what was chosen for the next time.
func (a *exportAsk) remember(dir string) {
	s := a.v.s
	var off []string
	for i, g := range exportGroups() {
		if !a.checks[i].On() {
			off = append(off, g.name)
		}
	}
	for _, kept := range [][2]string{
		{keptFolder, dir}, {keptFolder + "-" + string(s.Job().ID), dir}, {keptPaper, exportPapers()[a.paper].Name}, {keptOff, strings.Join(off, " ")},
		{keptPlotter, strings.TrimSpace(a.plotter.Text())}, {keptSquareX, strings.TrimSpace(a.squareX.Text())}, {keptSquareY, strings.TrimSpace(a.squareY.Text())},
	} {
		s.Remember(kept[0], kept[1])
	}
}

// exportLayout puts the questions at the left and the preview, with what stands
// under it, at the right.
type exportLayout struct{}

const (
	exportLeft  = 400
	exportGap   = 22
	exportUnder = 36
	exportLeast = 470
)

func (exportLayout) HeightFor(o []fyne.CanvasObject, _ float32) float32 {
	return max(kit.U(exportLeast), kit.HeightFor(o[0], kit.U(exportLeft)))
}

func (exportLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	w := min(kit.U(exportLeft), s.Width*0.5)
	o[0].Move(fyne.NewPos(0, 0))
	o[0].Resize(fyne.NewSize(w, s.Height))
	x := w + kit.U(exportGap)
	under := kit.U(exportUnder)
	o[1].Move(fyne.NewPos(x, 0))
	o[1].Resize(fyne.NewSize(max(0, s.Width-x), max(0, s.Height-under-kit.Gap8)))
	o[2].Move(fyne.NewPos(x, s.Height-under))
	o[2].Resize(fyne.NewSize(max(0, s.Width-x), under))
}

func (l exportLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(kit.U(600), l.HeightFor(o, 0))
}

// first shortens a list of names, saying how many more there are.
func first(s []string, n int) []string {
	if len(s) <= n {
		return s
	}
	return append(append([]string{}, s[:n]...), "… +"+strconv.Itoa(len(s)-n))
}

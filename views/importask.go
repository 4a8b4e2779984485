package views

import (
	"image"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/outlinefile"
	"slipseat/app/session"
	"slipseat/engine/geom"
	"slipseat/engine/seat"
	"slipseat/engine/unit"
	"slipseat/views/kit"
	"slipseat/views/stages"
)

// outlineEndings are the endings of files that an outline can be read from.
var outlineEndings = []string{".svg", ".svgz", ".dxf"}

func isOutlineFile(ext string) bool {
	for _, e := range outlineEndings {
		if strings.EqualFold(ext, e) {
			return true
		}
	}
	return false
}

// openOutline asks for a file with an outline.
func (v *Window) openOutline() {
	if !v.s.IsOpen() {
		return
	}
	if v.folder == "" {
		v.folder = v.home()
	}
	file := kit.NewField("field:import-file").SetMenu(v.menu)
	file.SetHint(v.say("import.file-hint"))
	typed := ""
	file.OnType = func(s string) { typed = s }
	choose := kit.NewButton("button:import-choose", "", v.say("file.choose"), func() {
		v.chooseFile(outlineEndings, func(path string) { file.SetText(path); typed = path })
	})
	body := kit.NewColumn(kit.Gap8, kit.NewPara(v.say("import.what"), kit.Small, kit.Ink2), kit.NewBeside(file, choose))
	v.modal = kit.ShowModal(v.win.Canvas(), "ask:import-file", v.say("import.title"), body, 520, file,
		kit.Answer{Name: "button:cancel", Words: v.say("cancel")},
		kit.Answer{Name: "button:import-open", Words: v.say("file.open"), Main: true, Do: func() bool {
			if path := strings.TrimSpace(typed); path != "" {
				v.closeModal()
				v.readOutline(path)
			}
			return false
		}})
	v.poke()
}

// chooseFile asks for a file with one of some endings.
func (v *Window) chooseFile(endings []string, took func(path string)) {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err == nil && r != nil {
			r.Close()
			took(filepath.FromSlash(r.URI().Path()))
		}
	}, v.win)
	d.SetFilter(storage.NewExtensionFileFilter(endings))
	d.SetConfirmText(v.say("file.choose-go"))
	d.SetDismissText(v.say("cancel"))
	if l, err := storage.ListerForURI(storage.NewFileURI(v.folder)); err == nil {
		d.SetLocation(l)
	}
	d.Resize(fyne.NewSize(min(860, v.win.Canvas().Size().Width-60), min(600, v.win.Canvas().Size().Height-60)))
	d.Show()
}

// readOutline reads a drawing beside the window and shows what is in it.
func (v *Window) readOutline(path string) {
	f, err := os.Open(path)
	if err != nil {
		v.tellError("file.unreadable", err)
		return
	}
	data, err := io.ReadAll(io.LimitReader(f, outlinefile.MaxBytes+1))
	f.Close()
	if err != nil {
		v.tellError("file.unreadable", err)
		return
	}
	v.folder = filepath.Dir(path)
	v.o.Runner.Start(func() {
		d, fault := outlinefile.Read(data, outlinefile.Options{})
		v.o.Runner.Post(func() {
			if fault != nil {
				v.s.Tell(session.Notice{Fault: fault})
				return
			}
			v.pickOutline(filepath.Base(path), data, d)
		})
	})
}

// picking is the question which outline of a drawing to take, and how.
type picking struct {
	v     *Window
	data  []byte
	d     outlinefile.Drawing
	at    int              // the shape
	unit  outlinefile.Unit // AsFile for what the file says
	join  unit.Length
	under bool
	turns int

	sheet  *canvas.Raster
	shapes *kit.Choice
	size   *kit.Text
	wrong  *kit.Text
	modal  *kit.Modal
}

// pickOutline shows a drawing's shapes; the user picks one.
func (v *Window) pickOutline(name string, data []byte, d outlinefile.Drawing) {
	if !v.s.IsOpen() {
		return
	}
	v.closeModal()
	p := &picking{v: v, data: data, d: d, join: outlinefile.DefaultJoin}
	p.sheet = canvas.NewRaster(p.paint)
	p.sheet.SetMinSize(fyne.NewSize(420, 250))
	p.shapes = kit.NewChoice("choice:import-shape", p.words(), p.at, func(i int) { p.at = i; p.show() })
	p.size, p.wrong = kit.NewPara("", kit.Strong, kit.Ink), kit.NewPara("", kit.Small, kit.Wrong)
	units, names := p.units()
	unitChoice := kit.NewChoice("choice:import-unit", names, 0, func(i int) { p.unit = units[i]; p.again() })
	face := kit.NewSwitch([]string{"import-face:top", "import-face:underside"}, []string{v.say("trace.face.top"), v.say("trace.face.underside")}, 0,
		func(i int) { p.under = i == 1; p.show() }).Even()
	join := kit.NewField("field:import-join").SetMenu(v.menu).Right()
	join.SetHint(string(job.Exactly(p.join)))
	join.OnCommit = func(text string) string {
		if strings.TrimSpace(text) == "" {
			p.join = outlinefile.DefaultJoin
			p.again()
			return ""
		}
		l, err := unit.Parse(text, v.units().Size)
		if err != nil {
			s, _ := v.w.Error(err, v.units())
			return s
		}
		p.join = min(l, mostJoin)
		p.again()
		return ""
	}
	hint := ""
	if !d.Said {
		hint = v.say("import.unit-hint")
	}
	body := kit.NewColumn(kit.Gap8,
		container.NewStack(p.sheet),
		kit.NewWideRow(v.say("import.shape"), "", p.shapes),
		p.size,
		kit.NewWideRow(v.say("import.unit"), hint, unitChoice),
		kit.NewRowFor(v.say("import.join"), v.say("import.join-hint"), join),
		kit.NewPara(v.say("trace.face"), kit.Body, kit.Ink), face,
		kit.NewRow(kit.Gap8, kit.NewButton("button:import-turn", "", v.say("import.turn"), func() { p.turns++; p.show() }).Tip(v.say("import.turn.tip"))),
		p.wrong,
	)
	if left := p.left(); left != "" {
		body.Add(kit.NewPara(left, kit.Small, kit.Ink2))
	}
	p.modal = kit.ShowModal(v.win.Canvas(), "ask:import", v.say("import.pick-title", unit.A("file", name)), body, 520, nil,
		kit.Answer{Name: "button:cancel", Words: v.say("cancel")},
		kit.Answer{Name: "button:import-go", Words: v.say("import.go"), Main: true, Do: p.take})
	v.modal = p.modal
	p.show()
}

// mostJoin is the largest gap that may be closed; more is a side of the board
// that is missing.
const mostJoin = 2 * unit.In

// units are the units that can be chosen, the file's own first where it names
// one, else the likely one.
func (p *picking) units() ([]outlinefile.Unit, []string) {
	var us []outlinefile.Unit
	var names []string
	if p.d.Said {
		us, names = append(us, outlinefile.AsFile), append(names, p.v.say("import.unit.as-file"))
	} else {
		us, names = append(us, p.d.Unit), append(names, p.v.say("import.unit."+p.d.Unit.Code()))
		p.unit = p.d.Unit
	}
	for _, u := range outlinefile.Units() {
		if p.d.Format == "dxf" && (u == outlinefile.Pixel || u == outlinefile.Point) || u == us[0] {
			continue
		}
		us, names = append(us, u), append(names, p.v.say("import.unit."+u.Code()))
	}
	return us, names
}

// words names the shapes: their number, size and name.
func (p *picking) words() []string {
	var out []string
	for i, s := range p.d.Shapes {
		b := s.Path.Bounds()
		key := "import.shape.named"
		if s.Name == "" {
			key = "import.shape.plain"
		}
		w := p.v.say(key, unit.A("number", strconv.Itoa(i+1)), unit.A("name", s.Name),
			unit.A("size", p.v.units().PairLabel(unit.Length(b.W()), unit.Length(b.H()))))
		out = append(out, w)
	}
	return out
}

// left says what was left out of the drawing.
func (p *picking) left() string {
	var parts []string
	for _, l := range p.d.Left {
		parts = append(parts, p.v.say("import.left."+l.Kind, unit.A("count", l.Count)))
	}
	if len(parts) == 0 {
		return ""
	}
	return p.v.say("import.left", unit.A("what", strings.Join(parts, ", ")))
}

// again reads the drawing in another unit or with another gap.
func (p *picking) again() {
	d, f := outlinefile.Read(p.data, outlinefile.Options{Unit: p.unit, Join: p.join})
	if f != nil {
		p.wrong.SetText(p.v.w.Fault(*f, p.v.units()))
		p.modal.Refit()
		return
	}
	p.d = d
	p.at = min(p.at, len(d.Shapes)-1)
	p.show()
}

// shape is the chosen shape as it will be traced.
func (p *picking) shape() seat.Traced {
	t := seat.TraceOf(p.d.Shapes[p.at].Path)
	for range p.turns % 4 {
		t = t.TurnedQuarter()
	}
	return t
}

// show puts the choice into the sheet.
func (p *picking) show() {
	s := p.d.Shapes[p.at]
	p.shapes.SetWords(p.words(), p.at)
	b := s.Path.Bounds()
	w, d := b.W(), b.H()
	if p.turns%2 == 1 {
		w, d = d, w
	}
	p.size.SetText(p.v.say("import.size", unit.A("size", p.v.units().PairLabel(unit.Length(w), unit.Length(d))), unit.A("points", len(s.Path))))
	wrong := ""
	if s.Fault != nil {
		wrong = p.v.w.Fault(*s.Fault, p.v.units())
	}
	p.wrong.SetText(wrong)
	p.sheet.Refresh()
	p.modal.Refit()
	p.v.poke()
}

// paint draws all shapes, the chosen one as a board, turned as chosen.
func (p *picking) paint(w, h int) image.Image {
	var all []geom.Path
	for _, s := range p.d.Shapes {
		all = append(all, s.Path)
	}
	return stages.Shapes(all, p.at, p.turns, p.under, w, h)
}

// take makes the chosen shape the seat's outline.
func (p *picking) take() bool {
	s := p.d.Shapes[p.at]
	if !s.Usable() {
		return false
	}
	face := job.FaceTop
	if p.under {
		face = job.FaceUnderside
	}
	t := p.shape()
	c := t.Bounds().Center()
	t, _ = t.Moved(numbers(len(t.Points)), geom.P(-c.X, -t.Bounds().Min.Y))
	faults := p.v.s.Do(edit.SetTrace{Seat: p.v.s.Seat(), Shape: t, Face: face, From: edit.TracedFile})
	if len(faults) > 0 {
		p.wrong.SetText(p.v.w.Fault(faults[0], p.v.units()))
		p.modal.Refit()
		return false
	}
	p.v.s.SetStage(session.Outline)
	return true
}

func numbers(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

package views

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"slipseat/app/edit"
	"slipseat/app/export"
	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// Ending is the ending of a job's file.
const Ending = ".slipseat"

// do commits a command; what is wrong is told as a message.
func (v *Window) do(c edit.Command) {
	if faults := v.s.Do(c); len(faults) > 0 {
		v.s.Tell(session.Notice{Fault: &faults[0]})
	}
}

// setJob gives the commit of a field of the job itself.
func (v *Window) setJob(field string) func(text string) string {
	return func(text string) string {
		if faults := v.s.Do(edit.Set{Object: v.s.Job().ID, Field: field, Text: text}); len(faults) > 0 {
			return v.w.Fault(faults[0], v.units())
		}
		return ""
	}
}

// undo takes the last change back; on a stage where something is under way,
// the last step of that.
func (v *Window) undo() {
	if st, ok := v.stages[v.s.Stage()].(interface{ TakeBack() bool }); ok && st.TakeBack() {
		v.poke()
		return
	}
	v.s.Undo()
}

func (v *Window) switchUnits(metric bool) {
	to := job.UnitsInches
	if metric {
		to = job.UnitsCM
	}
	v.do(edit.SwitchUnits{To: to})
}

func (v *Window) newID() job.ID { return job.NewID(v.o.Random) }

func (v *Window) addSeat() {
	j := v.s.Job()
	s := job.NewSeat(v.newID(), j, v.w.Label("new.seat"))
	v.do(edit.AddSeat{Seat: s})
	v.s.Select(s.ID)
	v.s.SetStage(session.Outline)
}

// addGoods asks what to add: a cloth of some use, or a foam.
func (v *Window) addGoods() {
	var items []kit.MenuEntry
	for _, use := range job.ClothUse("").Choices() {
		words := v.w.Term("cloth-use." + use)
		items = append(items, kit.MenuEntry{Name: "menu:add-" + use, Words: words, Do: func() {
			c := job.NewCloth(v.newID(), v.s.Job().Units, job.ClothUse(use), words)
			v.do(edit.AddCloth{Cloth: c})
			v.openGoods(string(c.ID))
		}})
	}
	foam := v.w.Label("new.foam")
	items = append(items, kit.MenuEntry{}, kit.MenuEntry{Name: "menu:add-foam", Words: foam, Do: func() {
		f := job.NewFoam(v.newID(), v.s.Job().Units, foam)
		v.do(edit.AddFoam{Foam: f})
		v.openGoods(string(f.ID))
	}})
	at := v.spot("button:add-goods")
	v.popUp(fyne.NewPos(at.X, at.Y+at.H), items...)
}

// openGoods shows a cloth or a foam on its stage.
func (v *Window) openGoods(id string) {
	v.s.SelectGoods(job.ID(id))
	if _, foam := v.s.Job().Foam(job.ID(id)); foam {
		v.s.SetStage(session.Foam)
	} else {
		v.s.SetStage(session.Roll)
	}
}

func (v *Window) seatMenu(id string, at fyne.Position) {
	seat := job.ID(id)
	_, i, ok := v.s.Job().Seat(seat)
	if !ok {
		return
	}
	item := func(key string, off bool, c func() edit.Command) kit.MenuEntry {
		return kit.MenuEntry{Name: "menu:" + key, Words: v.say(key), Off: off, Do: func() { v.do(c()) }}
	}
	n := len(v.s.Job().Seats)
	v.popUp(at,
		item("seat.duplicate", false, func() edit.Command { return edit.DuplicateSeat{Seat: seat, ID: v.newID()} }),
		item("seat.up", i == 0, func() edit.Command { return edit.MoveSeat{Seat: seat, To: i - 1} }),
		item("seat.down", i == n-1, func() edit.Command { return edit.MoveSeat{Seat: seat, To: i + 1} }),
		kit.MenuEntry{},
		item("seat.delete", n == 1, func() edit.Command { return edit.DeleteSeat{Seat: seat} }),
	)
}

func (v *Window) goodsMenu(id string, at fyne.Position) {
	g := job.ID(id)
	v.popUp(at,
		kit.MenuEntry{Name: "menu:goods.duplicate", Words: v.say("goods.duplicate"), Do: func() { v.do(edit.DuplicateGoods{Goods: g, ID: v.newID()}) }},
		kit.MenuEntry{},
		kit.MenuEntry{Name: "menu:goods.delete", Words: v.say("goods.delete"), Do: func() { v.do(edit.DeleteGoods{Goods: g}) }},
	)
}

// act is what stages ask of the window.
func (v *Window) act(what string) {
	switch what {
	case "export":
		v.export()
	case "outline-file":
		v.openOutline()
	case "outline-photo":
		v.openPhoto()
	case "swatch-picture":
		v.chooseSwatch()
	case "swatch-mark":
		v.markSwatch()
	case "customer":
		v.customer()
	}
}

// stamp is the foot of a cut sheet.
func (v *Window) stamp() string {
	return v.say("sheet.stamp", unit.A("day", v.o.Runner.Now().Format("2006-01-02")))
}

// openFile asks for a job file and opens it.
func (v *Window) openFile() {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			v.tellError("file.unreadable", err)
			return
		}
		if r == nil {
			return
		}
		defer r.Close()
		v.openReader(r, r.URI().Name())
	}, v.win)
	d.SetFilter(storage.NewExtensionFileFilter([]string{Ending}))
	d.SetConfirmText(v.say("file.open"))
	d.SetDismissText(v.say("cancel"))
	if l, err := storage.ListerForURI(storage.NewFileURI(v.home())); err == nil {
		d.SetLocation(l)
	}
	d.Resize(fyne.NewSize(min(860, v.win.Canvas().Size().Width-60), min(600, v.win.Canvas().Size().Height-60)))
	d.Show()
}

// mostFile bounds what is read of a file before its form is looked at: a job
// with its pictures (DESIGN section 8) and some room.
const mostFile = 100 << 20

func (v *Window) openReader(r io.Reader, name string) {
	data, err := io.ReadAll(io.LimitReader(r, mostFile+1))
	if err != nil {
		v.tellError("file.unreadable", err)
		return
	}
	v.s.OpenBytes(data)
}

// OpenPath opens a job file by its path, as given on the command line.
func (v *Window) OpenPath(path string) {
	f, err := os.Open(path)
	if err != nil {
		v.tellError("file.unreadable", err)
		return
	}
	defer f.Close()
	v.openReader(f, filepath.Base(path))
}

// dropped opens job files that are dropped on the window.
func (v *Window) dropped(_ fyne.Position, uris []fyne.URI) {
	for _, u := range uris {
		if u.Scheme() != "file" {
			continue
		}
		switch ext := strings.ToLower(filepath.Ext(u.Name())); {
		case ext == Ending:
			v.OpenPath(u.Path())
			return
		case isOutlineFile(ext) && v.s.IsOpen():
			v.readOutline(u.Path())
			return
		case isPicture(ext) && v.s.IsOpen():
			v.readPhoto(u.Path())
			return
		}
	}
	v.s.Tell(session.Notice{Code: "drop-unknown"})
}

func (v *Window) tellError(code string, err error) {
	var f unit.Fault
	if errors.As(err, &f) {
		v.s.Tell(session.Notice{Fault: &f})
		return
	}
	var at *unit.Fault
	if errors.As(err, &at) && at != nil {
		v.s.Tell(session.Notice{Fault: at})
		return
	}
	v.s.Tell(session.Notice{Code: code, Args: []unit.Arg{unit.A("detail", plainError(err))}})
}

// plainError is an error of the operating system without the name of the call
// and the path, which the words around it give.
func plainError(err error) string {
	var p *os.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

// saveFile asks where to and writes the open job as a file.
func (v *Window) saveFile() {
	if !v.s.IsOpen() {
		return
	}
	v.s.Flush()
	v.place(placeIn{
		name: "save", title: v.say("file.save-title"), file: fileName(v.s.Job().Name) + Ending, go_: v.say("file.save"),
		write: func(folder, file string, overwrite bool) error {
			if !strings.EqualFold(filepath.Ext(file), Ending) {
				file += Ending
			}
			data := v.s.Bytes()
			err := export.WriteFile(filepath.Join(folder, file), overwrite, func(w io.Writer) error { _, err := w.Write(data); return err })
			if err == nil {
				v.toast.Say(v.say("file.saved", unit.A("file", file)), "", false, stay, nil)
			}
			return err
		},
	})
}

// fileName makes a name of a job fit for a file.
func fileName(name string) string {
	out := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) || r < ' ' {
			return '-'
		}
		return r
	}, strings.TrimSpace(name))
	if out = strings.Trim(out, ". "); out == "" {
		return "job"
	}
	if rs := []rune(out); len(rs) > 80 {
		out = string(rs[:80])
	}
	return out
}

func (v *Window) home() string {
	if v.o.Home != "" {
		return v.o.Home
	}
	return "."
}

// renameJob asks for a new name of a stored job.
func (v *Window) renameJob(id string) {
	name := ""
	for _, i := range v.s.Jobs() {
		if string(i.ID) == id {
			name = i.Name
		}
	}
	f := kit.NewField("field:job-name").SetMenu(v.menu)
	f.SetText(name)
	typed := name
	f.OnType = func(s string) { typed = s }
	v.modal = kit.ShowModal(v.win.Canvas(), "ask:rename", v.say("jobs.rename-title"), f, 420, f,
		kit.Answer{Name: "button:cancel", Words: v.say("cancel")},
		kit.Answer{Name: "button:rename", Words: v.say("jobs.rename-go"), Main: true, Do: func() bool {
			v.s.Rename(job.ID(id), strings.TrimSpace(typed))
			return true
		}})
}

// ask shows a question with two answers, the first of which changes nothing.
func (v *Window) ask(name, title, words, no, yes string, do func()) {
	v.modal = kit.ShowModal(v.win.Canvas(), name, title, kit.NewPara(words, kit.Body, kit.Ink2), 440, nil,
		kit.Answer{Name: "button:no", Words: no},
		kit.Answer{Name: "button:yes", Words: yes, Main: true, Do: func() bool { do(); return true }})
}

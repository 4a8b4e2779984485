package views

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"slipseat/app/export"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// stay is how long a message that needs no answer stays.
const stay = 6 * time.Second

// placeIn is a question for a place to write to.
type placeIn struct {
	name, title, go_ string
	file             string // "" when a whole folder is written
	extra            fyne.CanvasObject
	write            func(folder, file string, overwrite bool) error
}

// place asks for a folder, and a file's name if one is written, and writes. A
// file that is there already is named, and only replaced when that is said.
func (v *Window) place(in placeIn) {
	if v.folder == "" {
		v.folder = v.home()
	}
	folder := kit.NewField("field:" + in.name + "-folder").SetMenu(v.menu)
	folder.SetText(v.folder)
	file := kit.NewField("field:" + in.name + "-file").SetMenu(v.menu)
	file.SetText(in.file)
	problem := kit.NewPara("", kit.Small, kit.Wrong)
	problem.Hide()
	choose := kit.NewButton("button:"+in.name+"-choose", "", v.say("file.choose"), func() { v.chooseFolder(folder) })
	objs := []fyne.CanvasObject{kit.NewText(v.say("file.folder"), kit.Small, kit.Ink2), kit.NewBeside(folder, choose)}
	if in.file != "" {
		objs = append(objs, kit.NewText(v.say("file.name"), kit.Small, kit.Ink2), file)
	}
	if in.extra != nil {
		objs = append(objs, in.extra)
	}
	objs = append(objs, problem)
	overwrite := false
	var m *kit.Modal
	run := func() bool {
		dir := strings.TrimSpace(folder.Text())
		if dir == "" {
			dir = v.home()
		}
		err := in.write(dir, strings.TrimSpace(file.Text()), overwrite)
		if err == nil {
			v.folder = dir
			return true
		}
		words := v.say("file.unwritable", unit.A("detail", plainError(err)))
		var there *export.ExistsError
		switch {
		case errors.As(err, &there):
			overwrite = true
			words = v.say("file.exists", unit.A("files", strings.Join(there.Names, ", ")))
		case errors.Is(err, os.ErrExist):
			overwrite = true
			words = v.say("file.exists", unit.A("files", strings.TrimSpace(file.Text())))
		default:
			if s, ok := v.w.Error(err, v.units()); ok {
				words = s
			}
		}
		problem.SetText(words)
		problem.Show()
		m.Refit()
		v.poke()
		return false
	}
	forget := func(string) {
		// Another place: what was said of the last one no longer holds.
		overwrite = false
		problem.Hide()
	}
	folder.OnType, file.OnType = forget, forget
	m = kit.ShowModal(v.win.Canvas(), "ask:"+in.name, in.title, kit.NewColumn(kit.Gap8, objs...), 520, nil,
		kit.Answer{Name: "button:cancel", Words: v.say("cancel")},
		kit.Answer{Name: "button:" + in.name + "-go", Words: in.go_, Main: true, Do: run})
	v.modal = m
	v.poke()
}

func (v *Window) chooseFolder(into *kit.Field) {
	d := dialog.NewFolderOpen(func(l fyne.ListableURI, err error) {
		if err == nil && l != nil {
			into.SetText(filepath.FromSlash(l.Path()))
		}
	}, v.win)
	d.SetConfirmText(v.say("file.choose-go"))
	d.SetDismissText(v.say("cancel"))
	if l, err := storage.ListerForURI(storage.NewFileURI(v.home())); err == nil {
		d.SetLocation(l)
	}
	d.Resize(fyne.NewSize(min(860, v.win.Canvas().Size().Width-60), min(600, v.win.Canvas().Size().Height-60)))
	d.Show()
}

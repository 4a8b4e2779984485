package views

import (
	"flag"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/app/session/sessiontest"
	"slipseat/app/words"
	"slipseat/assets"
	"slipseat/views/kit"
)

// lookDir, if given, is where the tests leave pictures of what they show.
var lookDir = flag.String("look", "", "folder for pictures of the window")

func saveLook(t *testing.T, name string, win fyne.Window) {
	t.Helper()
	img := win.Canvas().Capture()
	f, err := os.Create(filepath.Join(*lookDir, name+".png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}

func loadWords(t testing.TB) *words.Words {
	t.Helper()
	w, err := words.New(assets.WordsEN)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// room is a window of the test driver on a session with a store in memory.
type room struct {
	*Window
	win    fyne.Window
	store  *sessiontest.Store
	runner *sessiontest.Runner
}

func newRoom(t testing.TB, mode kit.Mode, w, h float32) *room {
	t.Helper()
	a := test.NewTempApp(t)
	a.Settings().SetTheme(kit.NewTheme(mode, 1))
	r := &room{store: sessiontest.NewStore(), runner: sessiontest.NewRunner()}
	s := session.New(session.Options{Store: r.store, Runner: r.runner, Random: sessiontest.Random(), Words: loadWords(t), Demo: assets.Demo})
	r.win = test.NewTempWindow(t, nil)
	r.Window = New(r.win, Options{Session: s, Runner: r.runner, Random: sessiontest.Random(), Home: t.TempDir()})
	r.win.Resize(fyne.NewSize(w, h))
	return r
}

func TestLook(t *testing.T) {
	if *lookDir == "" {
		t.Skip("no folder for the pictures was given (-look)")
	}
	for _, c := range []struct {
		name string
		mode kit.Mode
		w, h float32
		u    job.Units
	}{
		{"light", kit.LightMode, 1440, 900, job.UnitsInches},
		{"dark", kit.DarkMode, 1440, 900, job.UnitsInches},
		{"small-cm", kit.LightMode, 1100, 700, job.UnitsCM},
	} {
		r := newRoom(t, c.mode, c.w, c.h)
		saveLook(t, c.name+"-start", r.win)
		r.s.OpenDemo()
		if c.u != job.UnitsInches {
			r.switchUnits(true)
		}
		for _, st := range session.Stages() {
			r.s.SetStage(st)
			saveLook(t, c.name+"-"+st.Code(), r.win)
		}
		r.s.SetStage(session.Outline)
		for _, d := range []struct {
			name string
			open func()
		}{{"cautions", r.openCautions}, {"keys", r.showKeys}, {"export", func() {
			r.s.StopSearch()
			r.runner.Background = true // the preview is made beside the window
			r.export()
			r.runner.Background = false
		}}, {"save", r.saveFile}, {"past", r.openPast}, {"recover", r.openRecover}} {
			d.open()
			saveLook(t, c.name+"-"+d.name, r.win)
			r.closeModal()
		}
		r.openMenu()
		saveLook(t, c.name+"-menu", r.win)
		r.win.Canvas().Overlays().Top().(*kit.Menu).Close()
		r.s.CloseJob()
		saveLook(t, c.name+"-jobs", r.win)
	}
}

// texts collects every word that is in sight.
func texts(o fyne.CanvasObject, out *[]string) {
	if o == nil || !o.Visible() {
		return
	}
	switch v := o.(type) {
	case *kit.Text:
		*out = append(*out, v.Text())
	case *kit.Field:
		*out = append(*out, v.Text())
	}
	for _, k := range kit.Kids(o) {
		texts(k, out)
	}
}

// No label may be without words on any stage of any kind of seat.
func TestEveryLabelHasWords(t *testing.T) {
	r := newRoom(t, kit.LightMode, 1440, 900)
	look := func(where string) {
		t.Helper()
		root := fyne.CanvasObject(r.root)
		if top := r.win.Canvas().Overlays().Top(); top != nil {
			root = top
		}
		var all []string
		texts(root, &all)
		if len(all) < 2 {
			t.Fatalf("%s: only %d texts in sight", where, len(all))
		}
		for _, s := range all {
			if strings.ContainsAny(s, "‹›") {
				t.Errorf("%s: %s", where, s)
			}
		}
	}
	look("start page")
	r.s.OpenDemo()
	for _, units := range []bool{false, true} {
		r.switchUnits(units)
		for i, seat := range r.s.Job().Seats {
			r.s.Select(seat.ID)
			kinds := []string{"pulled-over", "drop-in", "stool", "boxed-pad"}
			if i > 0 || units {
				kinds = kinds[:1]
			}
			for _, kind := range kinds {
				r.do(edit.Set{Object: seat.ID, Field: edit.SeatKind, Text: kind})
				for _, st := range session.Stages() {
					r.s.SetStage(st)
					look(fmt.Sprintf("seat %d, %s, %s", i, kind, st.Code()))
				}
				r.s.Undo()
			}
		}
	}
	r.openCautions()
	look("cautions")
	r.closeModal()
	r.showKeys()
	look("keys")
	r.closeModal()
	r.export()
	look("export")
	r.closeModal()
	r.saveFile()
	look("save")
	r.closeModal()
	r.s.CloseJob()
	look("jobs")
}

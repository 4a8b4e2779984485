package views

import (
	"flag"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"slipseat/app/words"
	"slipseat/assets"
	"slipseat/views/kit"
)

// lookDir, if given, is where the tests leave pictures of what they show.
var lookDir = flag.String("look", "", "folder for pictures of the window")

func snap(t *testing.T, name string, o fyne.CanvasObject, w, h float32, mode kit.Mode, scale float32) {
	t.Helper()
	a := test.NewTempApp(t)
	a.Settings().SetTheme(kit.NewTheme(mode, scale))
	win := test.NewTempWindow(t, o)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(w, h))
	img := win.Canvas().Capture()
	if *lookDir == "" {
		return
	}
	f, err := os.Create(filepath.Join(*lookDir, name+".png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}

func loadWords(t *testing.T) *words.Words {
	t.Helper()
	w, err := words.New(assets.WordsEN)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func TestJobsPageLook(t *testing.T) {
	w := loadWords(t)
	say := func(k string) string { return w.Label(k) }
	for _, mode := range []kit.Mode{kit.LightMode, kit.DarkMode} {
		test.NewTempApp(t).Settings().SetTheme(kit.NewTheme(mode, 1))
		p := newJobsPage(say, kit.FieldMenu{}, nil, jobsActions{}, nil)
		p.set(nil, false)
		name := map[kit.Mode]string{kit.LightMode: "light", kit.DarkMode: "dark"}[mode]
		snap(t, "jobs-none-"+name, p.content, 1440, 900, mode, 1)
		p = newJobsPage(say, kit.FieldMenu{}, nil, jobsActions{}, nil)
		p.set([]jobCard{{id: "1", name: "Reading room", customer: "for the Mill Lane committee", detail: "9 seats, changed today 10:42"}, {id: "2", name: "Vestry stools", detail: "4 seats, changed yesterday"}}, true)
		snap(t, "jobs-some-"+name, p.content, 1440, 900, mode, 1)
	}
}

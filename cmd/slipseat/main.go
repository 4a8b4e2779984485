// Command slipseat opens the window.
//
//	slipseat        on the start page
//	slipseat demo   on the demo job
//	slipseat FILE   on a job file
//
// With SLIPSEAT_PROBE=FILE it appends JSON lines for scripts. SLIPSEAT_HOME is
// the folder of the store, SLIPSEAT_WINDOW=1440x900 the size of the window,
// SLIPSEAT_VARIANT=light or dark the variant.
package main

import (
	"crypto/rand"
	"fmt"
	"os"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"

	"slipseat/app/words"
	"slipseat/assets"
	"slipseat/views"
	"slipseat/views/kit"
)

// appID names the program to the system, for its settings.
const appID = "net.slipseat.app"

func main() { os.Exit(run(os.Args[1:])) }

// run gives the exit status: 0 done, 1 the store could not be opened or the
// program failed, 2 wrong use.
func run(args []string) (status int) {
	if len(args) > 1 {
		fmt.Fprintln(os.Stderr, "usage: slipseat [demo | FILE]")
		return 2
	}
	catalogue, err := words.New(assets.WordsEN)
	if err != nil {
		fmt.Fprintln(os.Stderr, "slipseat:", err)
		return 1
	}
	a := app.NewWithID(appID)
	a.SetIcon(kit.AppIcon)
	p := &program{app: a, words: catalogue, args: args, size: size(os.Getenv("SLIPSEAT_WINDOW"))}
	p.theme(kit.LightMode, 1)
	if path := os.Getenv("SLIPSEAT_PROBE"); path != "" {
		f, err := os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o644)
		if err != nil {
			fmt.Fprintln(os.Stderr, "slipseat:", err)
			return 1
		}
		defer f.Close()
		p.probe = views.NewProbe(f)
	}
	p.win = a.NewWindow(catalogue.Label("app-name"))
	p.win.SetMaster()
	p.win.Resize(p.size)
	p.win.CenterOnScreen()
	a.Lifecycle().SetOnStarted(func() {
		p.started = true
		p.watch()
	})
	defer func() {
		if v := recover(); v != nil {
			p.crashed(v)
			status = 1
		}
	}()
	p.open()
	p.win.ShowAndRun()
	if p.s == nil {
		return 1
	}
	return 0
}

// theme shows a variant; the environment has the last word.
func (p *program) theme(m kit.Mode, scale float32) {
	switch os.Getenv("SLIPSEAT_VARIANT") {
	case "light":
		m = kit.LightMode
	case "dark":
		m = kit.DarkMode
	}
	p.app.Settings().SetTheme(kit.NewTheme(m, scale))
}

// random fills b from the system's source; the program cannot go on without.
func random(b []byte) { rand.Read(b) }

// size reads a size such as 1440x900.
func size(text string) fyne.Size {
	w, h := 1440, 900
	if _, err := fmt.Sscanf(text, "%dx%d", &w, &h); err != nil || w < 200 || h < 200 || w > 10000 || h > 10000 {
		w, h = 1440, 900
	}
	return fyne.NewSize(float32(w), float32(h))
}

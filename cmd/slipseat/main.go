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
	"runtime"
	"runtime/debug"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"

	"slipseat/app/session"
	"slipseat/app/store"
	"slipseat/app/words"
	"slipseat/assets"
	"slipseat/views"
	"slipseat/views/kit"
)

// appID names the program to the system, for its settings.
const appID = "net.slipseat.app"

func main() { os.Exit(run(os.Args[1:])) }

// run gives the exit status: 0 done, 1 the store could not be opened, 2 wrong
// use.
func run(args []string) int {
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
	theme := func(m kit.Mode, scale float32) {
		switch os.Getenv("SLIPSEAT_VARIANT") {
		case "light":
			m = kit.LightMode
		case "dark":
			m = kit.DarkMode
		}
		a.Settings().SetTheme(kit.NewTheme(m, scale))
	}
	theme(kit.LightMode, 1)
	win := a.NewWindow(catalogue.Label("app-name"))
	win.SetMaster()
	win.Resize(size(os.Getenv("SLIPSEAT_WINDOW")))
	win.CenterOnScreen()

	st, err := store.Open(store.Options{})
	if err != nil {
		views.ShowStoreFault(win, catalogue, err)
		win.ShowAndRun()
		return 1
	}
	s := session.New(session.Options{Store: st, Runner: views.Runner{}, Random: random, Words: catalogue, Demo: assets.Demo, Pictures: store.PicturesIn(st.Home()),
		Workers: max(1, runtime.NumCPU()-1), SaveBeside: true})
	if notes := st.Notes(); len(notes) > 0 {
		s.Tell(session.Notice{Fault: &notes[0]})
	}
	defer func() {
		// A fault of the program itself: what is not saved yet is saved first.
		if r := recover(); r != nil {
			s.Flush()
			fmt.Fprintf(os.Stderr, "slipseat: panic: %v\n%s", r, debug.Stack())
			os.Exit(1)
		}
	}()
	var probe *views.Probe
	if path := os.Getenv("SLIPSEAT_PROBE"); path != "" {
		f, err := os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o644)
		if err != nil {
			fmt.Fprintln(os.Stderr, "slipseat:", err)
			return 1
		}
		defer f.Close()
		probe = views.NewProbe(f)
	}
	home, _ := os.UserHomeDir()
	w := views.New(win, views.Options{Session: s, Runner: views.Runner{}, Random: random, Probe: probe, Home: home, SetTheme: theme})
	if len(args) == 1 {
		if args[0] == "demo" {
			s.OpenDemo()
		} else {
			w.OpenPath(args[0])
		}
	}
	a.Lifecycle().SetOnStarted(w.Watch)
	win.ShowAndRun()
	return 0
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

package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"time"

	"fyne.io/fyne/v2"

	"slipseat/app/crash"
	"slipseat/app/session"
	"slipseat/app/store"
	"slipseat/app/words"
	"slipseat/assets"
	"slipseat/engine/unit"
	"slipseat/views"
)

// program is the running program: first, perhaps, a page that says why the
// jobs cannot be opened, then the window proper.
type program struct {
	app     fyne.App
	win     fyne.Window
	words   *words.Words
	args    []string
	size    fyne.Size
	probe   *views.Probe
	started bool

	st   store.Store
	s    *session.Session // nil until the jobs are open
	w    *views.Window
	asIs bool // a damaged part was accepted
}

// open opens the jobs, or says what is in the way.
func (p *program) open() {
	st, err := store.Open(store.Options{})
	if err != nil {
		p.trouble(err, nil)
		return
	}
	for _, n := range st.Notes() {
		if n.Code == store.CodeValue && !p.asIs {
			st.Close()
			p.trouble(n, func() { p.asIs = true; p.open() })
			return
		}
	}
	p.start(st)
}

// trouble shows why the jobs cannot be opened and what can be done.
func (p *program) trouble(err error, asIs func()) {
	t := views.Trouble{Err: err, Again: p.open, AsIs: asIs}
	var f unit.Fault
	dir, dirErr := store.Folder()
	if dirErr == nil && errors.As(err, &f) && (f.Code == store.CodeDamaged || f.Code == store.CodeValue || f.Code == store.CodeStrange) {
		path := filepath.Join(dir, store.FileName)
		if h, err := store.Check(store.Options{}, path); err == nil {
			t.Found = session.HealthLines(p.words, h)
		}
		t.Recover = func() ([]string, error) {
			h, err := store.Salvage(store.Options{}, path)
			if err != nil {
				return nil, err
			}
			return session.HealthLines(p.words, h), nil
		}
	}
	views.ShowTrouble(p.win, p.words, t)
}

// start fills the window with the jobs.
func (p *program) start(st store.Store) {
	p.st = st
	report := func(value any, stack []byte, steps []string) (string, error) {
		fmt.Fprintf(os.Stderr, "slipseat: a fault of the program: %v\n%s", value, stack)
		return crash.Write(st.Home(), crash.Report{At: time.Now(), Value: value, Stack: stack, Steps: steps})
	}
	p.s = session.New(session.Options{Store: st, Runner: views.Runner{}, Random: random, Words: p.words, Demo: assets.Demo, Pictures: store.PicturesIn(st.Home()),
		Report: report, Workers: max(1, runtime.NumCPU()-1), SaveBeside: true})
	if notes := st.Notes(); len(notes) > 0 {
		p.s.Tell(session.Notice{Fault: &notes[0]})
	}
	home, _ := os.UserHomeDir()
	p.w = views.New(p.win, views.Options{Session: p.s, Runner: views.Runner{}, Random: random, Probe: p.probe, Home: home,
		Backups: filepath.Join(st.Home(), store.BackupsName), SetTheme: p.theme})
	switch fault := os.Getenv(afterFault); {
	case fault != "":
		os.Unsetenv(afterFault)
		if id := p.s.Last(); id != "" {
			p.s.OpenJob(id)
		}
		p.s.Tell(session.Notice{Fault: &unit.Fault{Code: session.CodeOwn, Args: []unit.Arg{unit.A("path", fault)}}})
	case len(p.args) == 1 && p.args[0] == "demo":
		p.s.OpenDemo()
	case len(p.args) == 1:
		p.w.OpenPath(p.args[0])
	}
	p.watch()
	go p.keepBackups()
}

// watch lets the probe follow once both the window and the jobs are there.
func (p *program) watch() {
	if p.started && p.w != nil {
		p.w.Watch()
	}
}

// How often a backup is thought of, and how long after the start first.
const (
	backupFirst = 15 * time.Second
	backupThen  = 5 * time.Minute
)

// keepBackups makes a backup whenever one is due, until the store is closed.
// The first that cannot be made is told of.
func (p *program) keepBackups() {
	told := false
	for wait := backupFirst; ; wait = backupThen {
		time.Sleep(wait)
		_, err := p.st.BackUp(false)
		var f unit.Fault
		switch {
		case err == nil:
			told = false
		case errors.As(err, &f) && f.Code == store.CodeClosed:
			return
		case !told:
			told = true
			if errors.As(err, &f) {
				fyne.Do(func() { p.s.Tell(session.Notice{Fault: &f}) })
			}
		}
	}
}

// afterFault names, for the program started anew, the report of why the last
// one ended.
const afterFault = "SLIPSEAT_AFTER_FAULT"

// oldEnough keeps a program that fails at once from starting itself for ever.
const oldEnough = 20 * time.Second

var began = time.Now()

// crashed follows a panic that ended the toolkit's own loop: the job is saved,
// a report is written, and the program starts anew where it was.
func (p *program) crashed(value any) {
	stack := debug.Stack()
	if p.s == nil {
		fmt.Fprintf(os.Stderr, "slipseat: panic: %v\n%s", value, stack)
		return
	}
	p.s.Crashed(value, stack)
	path := ""
	if n := p.s.Notice(); n != nil && n.Fault != nil {
		for _, a := range n.Fault.Args {
			if s, ok := a.Value.(string); ok && a.Name == "path" {
				path = s
			}
		}
	}
	p.s.Guard(func() { p.s.Close() })
	if path == "" || time.Since(began) < oldEnough {
		return
	}
	self, err := os.Executable()
	if err != nil {
		return
	}
	if child, err := os.StartProcess(self, []string{self}, &os.ProcAttr{Env: append(os.Environ(), afterFault+"="+path), Files: []*os.File{os.Stdin, os.Stdout, os.Stderr}}); err == nil {
		child.Release()
	}
}

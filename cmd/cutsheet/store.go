package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"slipseat/app/session"
	"slipseat/app/store"
	"slipseat/app/words"
	"slipseat/engine/unit"
)

// storeCommand looks after a file of jobs: the user's own when none is named.
// Status 1 says that the file is damaged, or that something was lost; the
// reason is on standard output.
func storeCommand(args []string, out, errw io.Writer, w *words.Words) int {
	if len(args) == 0 || len(args) > 2 || args[0] != "check" && args[0] != "salvage" && args[0] != "backup" {
		fmt.Fprint(errw, usage)
		return wrongUse
	}
	path := ""
	if len(args) == 2 {
		path = args[1]
	} else {
		dir, err := store.Folder()
		if err != nil {
			return fail(errw, w, err)
		}
		path = filepath.Join(dir, store.FileName)
	}
	if info, err := os.Stat(path); err != nil || info.IsDir() {
		fmt.Fprintln(errw, "cutsheet:", w.Label("store.no-file", unit.A("path", path)))
		return faulty
	}
	if args[0] == "backup" {
		b, err := store.BackUpFile(store.Options{}, path)
		if err != nil {
			return fail(out, w, err)
		}
		fmt.Fprintln(out, w.Label("store.backup-made", unit.A("path", b.Path)))
		return done
	}
	look := store.Check
	if args[0] == "salvage" {
		look = store.Salvage
	}
	h, err := look(store.Options{}, path)
	if err != nil {
		return fail(out, w, err)
	}
	for _, line := range session.HealthLines(w, h) {
		fmt.Fprintln(out, line)
	}
	switch {
	case h.Whole():
		return done
	case h.SetAside == "":
		fmt.Fprintln(out, w.Label("store.advice"))
		return faulty
	case h.Count(store.Lost) > 0:
		return faulty
	}
	return done
}

func fail(to io.Writer, w *words.Words, err error) int {
	if s, ok := w.Error(err, unit.UnitsFor(unit.Inches)); ok {
		fmt.Fprintln(to, "cutsheet:", s)
	} else {
		fmt.Fprintln(to, "cutsheet:", err)
	}
	return faulty
}

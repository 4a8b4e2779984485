// Package export writes what leaves the program: pictures, PDF, SVG, outlines
// for cutters and lists. Every file is written beside its final name and then
// renamed, so that no half-written file ever stands under a final name.
package export

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// File is one file to be written.
type File struct {
	Name  string // without a folder
	Write func(w io.Writer) error
}

// ExistsError says which files stand in the way, in the order they were asked
// for. Nothing has been written then.
type ExistsError struct{ Names []string }

func (e *ExistsError) Error() string { return "already there: " + strings.Join(e.Names, ", ") }

// Options are for WriteAll.
type Options struct {
	Overwrite bool // replace files that are there; otherwise an ExistsError
	// Report is called before each file and once at the end, from the calling
	// goroutine; nil means silent.
	Report func(done, total int, name string)
}

// WriteAll writes files into a folder, which it makes if it is missing, and
// returns the names it wrote. A cancelled context stops between two files and
// within the writing of one; what was renamed before stays.
func WriteAll(ctx context.Context, dir string, files []File, o Options) ([]string, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("make the folder: %w", err)
	}
	if !o.Overwrite {
		var there []string
		for _, f := range files {
			if _, err := os.Lstat(filepath.Join(dir, f.Name)); err == nil {
				there = append(there, f.Name)
			}
		}
		if len(there) > 0 {
			return nil, &ExistsError{there}
		}
	}
	report := o.Report
	if report == nil {
		report = func(int, int, string) {}
	}
	var done []string
	for i, f := range files {
		if err := ctx.Err(); err != nil {
			return done, err
		}
		report(i, len(files), f.Name)
		err := WriteFile(filepath.Join(dir, f.Name), o.Overwrite, func(w io.Writer) error {
			return f.Write(&stopping{ctx, w})
		})
		if err != nil {
			return done, fmt.Errorf("%s: %w", f.Name, err)
		}
		done = append(done, f.Name)
	}
	report(len(files), len(files), "")
	return done, nil
}

// stopping is a writer that fails once its context is cancelled.
type stopping struct {
	ctx context.Context
	w   io.Writer
}

func (s *stopping) Write(p []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	return s.w.Write(p)
}

// WriteFile writes one file beside its name, brings it to the disk and then
// renames it. Without overwrite it returns an ExistsError when the name is
// taken, also when somebody takes it while the file is being written.
func WriteFile(path string, overwrite bool, write func(w io.Writer) error) (err error) {
	dir, name := filepath.Split(path)
	if dir == "" {
		dir = "."
	}
	if !overwrite {
		if _, err := os.Lstat(path); err == nil {
			return &ExistsError{[]string{name}}
		}
	}
	sweep(dir, name)
	f, err := os.CreateTemp(dir, "."+name+".*.part")
	if err != nil {
		return err
	}
	part := f.Name()
	defer func() {
		f.Close()
		os.Remove(part) // fails after the rename, which is as it should be
	}()
	if err := write(f); err != nil {
		return err
	}
	// CreateTemp makes files that only the owner may read; an export is meant
	// to be passed on.
	if err := f.Chmod(0o644); err != nil && !errors.Is(err, errors.ErrUnsupported) {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	if overwrite {
		return os.Rename(part, path)
	}
	// A hard link fails when the name is taken, a rename would replace it.
	switch err := os.Link(part, path); {
	case err == nil:
		return nil
	case errors.Is(err, fs.ErrExist):
		return &ExistsError{[]string{name}}
	}
	// Some file systems know no links; the name was free a moment ago.
	if _, err := os.Lstat(path); err == nil {
		return &ExistsError{[]string{name}}
	}
	return os.Rename(part, path)
}

// staleAfter is the age at which a half-written file is certainly nobody's any
// more; the longest export takes seconds.
const staleAfter = time.Hour

// sweep takes away what a killed program has left of a file. What cannot be
// taken away does no harm.
func sweep(dir, name string) {
	parts, _ := filepath.Glob(filepath.Join(globQuote(dir), "."+globQuote(name)+".*.part"))
	for _, p := range parts {
		if info, err := os.Lstat(p); err == nil && time.Since(info.ModTime()) > staleAfter {
			os.Remove(p)
		}
	}
}

// globQuote takes a name literally in a pattern. On Windows a backslash parts
// folders and quotes nothing; names with brackets are then simply not found.
func globQuote(s string) string {
	if os.PathSeparator == '\\' {
		return s
	}
	return strings.NewReplacer("\\", "\\\\", "*", "\\*", "?", "\\?", "[", "\\[").Replace(s)
}

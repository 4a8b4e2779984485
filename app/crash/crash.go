// Package crash writes a report of a fault of the program itself, where the
// user can find it and pass it on. It holds what a developer needs and nothing
// of the user's work: no names, no figures, no drawing.
package crash

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"time"
)

// FolderName is the folder of the reports, in the folder of the store.
const FolderName = "reports"

// keepReports is how many are kept.
const keepReports = 20

// Report is what is written.
type Report struct {
	At    time.Time
	Value any    // of the panic
	Stack []byte // from debug.Stack
	// Steps are the codes of what was done before, the latest last.
	Steps []string
}

// Write writes a report into the folder of reports in home, and gives its
// path. Only the user may read it.
func Write(home string, r Report) (string, error) {
	dir := filepath.Join(home, FolderName)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", err
	}
	stem := filepath.Join(dir, "fault-"+r.At.UTC().Format("20060102T150405Z"))
	path := stem + ".txt"
	for n := 2; n < 100; n++ {
		f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if errors.Is(err, os.ErrExist) {
			path = fmt.Sprintf("%s-%d.txt", stem, n)
			continue
		}
		if err != nil {
			return "", err
		}
		_, err = f.WriteString(r.text())
		if cerr := f.Close(); err == nil {
			err = cerr
		}
		dropOld(dir)
		return path, err
	}
	return "", os.ErrExist
}

func (r Report) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Slipseat: a fault of the program itself\n\nwhen      %s\nversion   %s\nbuilt by  %s for %s/%s\nfault     %s\n",
		r.At.UTC().Format(time.RFC3339), Version(), runtime.Version(), runtime.GOOS, runtime.GOARCH, r.fault())
	b.WriteString("\nWhat was done before, by code (nothing of the job itself is in this file):\n")
	for _, s := range r.Steps {
		fmt.Fprintf(&b, "  %s\n", s)
	}
	if len(r.Steps) == 0 {
		b.WriteString("  nothing\n")
	}
	b.WriteString("\nWhere:\n")
	b.WriteString(plain(string(r.Stack)))
	return b.String()
}

// fault names the panic. The words of the runtime's own errors hold numbers
// and types only; of others, texts in quotes are left out, for they may be the
// user's.
func (r Report) fault() string {
	var own runtime.Error
	if err, ok := r.Value.(error); ok && errors.As(err, &own) {
		return plain(own.Error())
	}
	return fmt.Sprintf("%T: %s", r.Value, plain(quoted.ReplaceAllString(firstLine(fmt.Sprint(r.Value)), "“…”")))
}

var quoted = regexp.MustCompile("\"[^\"]*\"|'[^']*'|`[^`]*`|“[^”]*”")

func firstLine(s string) string {
	s, _, _ = strings.Cut(s, "\n")
	if r := []rune(s); len(r) > 300 {
		s = string(r[:300])
	}
	return s
}

// plain takes the name of the user's folder out.
func plain(s string) string {
	if home, err := os.UserHomeDir(); err == nil && len(home) > 1 {
		s = strings.ReplaceAll(s, home, "~")
	}
	return s
}

// Version is the program's version as the build knows it.
func Version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	v := cmp.Or(info.Main.Version, "(devel)")
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" {
			v += " " + s.Value
		}
	}
	return v
}

// dropOld keeps the latest reports; their names sort by time.
func dropOld(dir string) {
	names, _ := filepath.Glob(filepath.Join(dir, "fault-*.txt"))
	slices.Sort(names)
	for i := 0; i < len(names)-keepReports; i++ {
		os.Remove(names[i])
	}
}

// Latest gives the latest report that was written after a time; "" for none.
func Latest(home string, after time.Time) string {
	names, _ := filepath.Glob(filepath.Join(home, FolderName, "fault-*.txt"))
	slices.Sort(names)
	if len(names) == 0 {
		return ""
	}
	last := names[len(names)-1]
	if info, err := os.Stat(last); err != nil || !info.ModTime().After(after) {
		return ""
	}
	return last
}

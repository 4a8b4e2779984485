package crash

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"testing"
	"time"
)

func caught(f func()) (v any, stack []byte) {
	defer func() { v, stack = recover(), debug.Stack() }()
	f()
	return nil, nil
}

// TestReport: it has what a developer needs, and nothing of the user's.
func TestReport(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", "/home/somebody")
	at := time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)
	v, stack := caught(func() {
		var list []int
		_ = list[len(os.Args)+7]
	})
	path, err := Write(home, Report{At: at, Value: v, Stack: append(stack, "/home/somebody/src/x.go:1"...), Steps: []string{"do set", "undo"}})
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"index out of range", "2026-03-01", "do set", "undo", "crash_test.go", "version", "~/src/x.go"} {
		if !strings.Contains(string(data), want) {
			t.Errorf("the report lacks %q:\n%s", want, data)
		}
	}
	if strings.Contains(string(data), "somebody") {
		t.Errorf("the report names the user:\n%s", data)
	}
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o600 {
		t.Errorf("rights %v", info.Mode())
	}
	other, err := Write(home, Report{At: at, Value: fmt.Errorf(`cannot read "Mrs Smith's chairs": %w`, errors.New("no"))})
	if err != nil || other == path {
		t.Fatalf("a second one in the same second: %s %v", other, err)
	}
	if data, _ := os.ReadFile(other); strings.Contains(string(data), "Smith") {
		t.Errorf("the report has the name of a job:\n%s", data)
	}
	for i := range 30 {
		if _, err := Write(home, Report{At: at.Add(time.Duration(i) * time.Minute), Value: "x"}); err != nil {
			t.Fatal(err)
		}
	}
	if names, _ := filepath.Glob(filepath.Join(home, FolderName, "*")); len(names) != keepReports {
		t.Errorf("%d reports are kept", len(names))
	}
	if last := Latest(home, time.Now().Add(-time.Hour)); !strings.Contains(last, "20260301T092900Z") {
		t.Errorf("the latest is %s", last)
	}
	if last := Latest(home, time.Now().Add(time.Hour)); last != "" {
		t.Errorf("later than now there is %s", last)
	}
}

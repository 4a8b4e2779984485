package wordstest

import (
	"os"
	"path/filepath"
	"testing"
)

// TestPlanted: what must be found in a source is found, and what is for
// programmers is let be.
func TestPlanted(t *testing.T) {
	root := t.TempDir()
	src := `package v

import "fmt"

const CodeBad = "thing.bad"

type T struct {
	A int ` + "`json:\"Some Name\"`" + `
}

func f(w W, y Y) {
	g("Plain button")
	g("Wide")
	g("wide")
	g("some.key")
	g("two words")
	g("%d of %d")
	g("Not For People") // not shown
	panic("Never Here")
	_ = fmt.Errorf("Some Error: %w", nil)
	w.Label("front")
	y.Add("foam", 3)
	_ = Fault{Code: "seat.odd"}
	_ = unit.A("given", 1)
}
`
	if err := os.WriteFile(filepath.Join(root, "v.go"), []byte(src), 0o644); err != nil {
		t.Fatal(err)
	}
	found, err := LiteralLabels(root, ".")
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"Plain button", "Wide", "two words"}
	if len(found) != len(want) {
		t.Fatalf("found %v, want %v", found, want)
	}
	for i, w := range want {
		if found[i].Value != w {
			t.Errorf("found %q, want %q", found[i].Value, w)
		}
	}
	s, err := Read(root, ".")
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Codes[""]) != 1 || s.Codes["fault"][0].Value != "seat.odd" || s.Codes["why"][0].Value != "foam" || s.Labels[0].Value != "front" || !s.Args["given"] {
		t.Errorf("read %+v", s)
	}
}

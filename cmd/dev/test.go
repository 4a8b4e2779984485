package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// boltFlag turns one pointer check off in one module: the race detector's
// check stops at bolt's nested buckets. Nothing else is built differently.
const boltFlag = "-gcflags=github.com/boltdb/bolt=-d=checkptr=0"

// step is one part of the whole test, in the order of how soon it fails.
type step struct {
	name string
	run  func(root string) error
}

func testSteps() []step {
	goTest := func(args ...string) func(string) error {
		return func(root string) error {
			return run(root, environment(), "go", append([]string{"test"}, args...)...)
		}
	}
	return []step{
		{"formatting", gofmt},
		{"top level", topLevel},
		{"vet", func(root string) error {
			return run(root, environment(), "go", "vet", "./engine/...", "./app/...", "./assets/...", "./cmd/cutsheet", "./cmd/laybench", "./cmd/dev")
		}},
		{"engine and app", goTest("./engine/...", "./app/...", "./assets/...", "./cmd/cutsheet", "./cmd/laybench", "./cmd/dev")},
		{"fuzz, a few seconds each", fuzzSample},
		{"window builds", buildWindow},
		{"views", goTest("./views/...", "./cmd/slipseat")},
		{"scripted user in the real window", func(root string) error { return windowOnly(root, nil) }},
		{"race detector", goTest("-race", boltFlag, "./engine/...", "./app/...", "./views/...")},
	}
}

// testAll is what CI runs.
func testAll(root string, args []string) error {
	if err := install(append(buildNeeds(), testNeeds()...)); err != nil {
		return err
	}
	for _, s := range testSteps() {
		fmt.Printf("\n== %s\n", s.name)
		if err := s.run(root); err != nil {
			return fmt.Errorf("%s: %w", s.name, err)
		}
	}
	return nil
}

func gofmt(root string) error {
	cmd := exec.Command("gofmt", "-l", "app", "assets", "cmd", "engine", "views")
	cmd.Dir = root
	out, err := cmd.CombinedOutput()
	if err != nil {
		return fmt.Errorf("gofmt: %v %s", err, out)
	}
	if list := strings.Fields(string(out)); len(list) > 0 {
		return fmt.Errorf("not formatted: %s. Run gofmt -w on them", strings.Join(list, " "))
	}
	return nil
}

// topLevel holds the list of what stands at the top of the source.
func topLevel(root string) error {
	fixed := " cmd app views engine assets testdata go.mod go.sum FyneApp.toml README.md DEVELOPERS.md "
	out, err := exec.Command("git", "-C", root, "ls-tree", "--name-only", "HEAD").Output()
	if err != nil {
		// Without git the folder itself is read.
		out = nil
		entries, err := os.ReadDir(root)
		if err != nil {
			return err
		}
		for _, e := range entries {
			if e.Name() != "bin" {
				out = append(out, e.Name()+"\n"...)
			}
		}
	}
	for _, name := range bytes.Fields(out) {
		if n := string(name); !strings.HasPrefix(n, ".") && !strings.Contains(fixed, " "+n+" ") {
			return fmt.Errorf("%s does not belong at the top level", filepath.Join(root, n))
		}
	}
	return nil
}

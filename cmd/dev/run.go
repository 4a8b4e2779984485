package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

// environment adds what the steps rely on: a UTF-8 locale, since the toolkit
// complains about the plain C one.
func environment(extra ...string) []string {
	env := os.Environ()
	if !strings.Contains(strings.ToUpper(os.Getenv("LANG")), "UTF") || strings.HasPrefix(os.Getenv("LANG"), "C.") {
		env = append(env, "LANG=en_US.UTF-8")
	}
	return append(env, extra...)
}

// run shows a command, runs it in the module's root and streams its output.
func run(root string, env []string, name string, args ...string) error {
	fmt.Println("+", name, strings.Join(args, " "))
	began := time.Now()
	cmd := exec.Command(name, args...)
	cmd.Dir, cmd.Env, cmd.Stdout, cmd.Stderr = root, env, os.Stdout, os.Stderr
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	fmt.Printf("  %s\n", time.Since(began).Round(100*time.Millisecond))
	return nil
}

// program is the path of the built window program.
func program(root string) string {
	name := "slipseat"
	if runtime.GOOS == "windows" {
		name += ".exe"
	}
	return filepath.Join(root, "bin", name)
}

func buildWindow(root string) error {
	return run(root, environment(), "go", "build", "-o", program(root), "./cmd/slipseat")
}

// start is the first of the two commands a newcomer needs.
func start(root string, args []string) error {
	if err := install(buildNeeds()); err != nil {
		return err
	}
	if err := buildWindow(root); err != nil {
		return err
	}
	if runtime.GOOS == "linux" && os.Getenv("DISPLAY") == "" && os.Getenv("WAYLAND_DISPLAY") == "" {
		dir := filepath.Join(root, "bin", "demo-sheets")
		fmt.Println("dev: no display here, so the demo's sheets are written instead of opening the window")
		return run(root, environment(), "go", "run", "./cmd/cutsheet", "make", "demo", "-o", dir)
	}
	return run(root, environment(), program(root), "demo")
}

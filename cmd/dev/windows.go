package main

import (
	"debug/pe"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// windows builds the programs for 64-bit Windows and looks at what came out.
func windows(root string, args []string) error {
	const gcc = "x86_64-w64-mingw32-gcc"
	if err := install([]need{{"gcc-mingw-w64-x86-64", tool(gcc)}}); err != nil {
		return err
	}
	if _, err := exec.LookPath(gcc); err != nil {
		return fmt.Errorf("%s is needed: a C compiler for Windows (Debian: gcc-mingw-w64-x86-64)", gcc)
	}
	dir := filepath.Join(root, "bin", "windows")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	env := environment("GOOS=windows", "GOARCH=amd64", "CGO_ENABLED=1", "CC="+gcc)
	for _, p := range []struct {
		name, flags string
		window      bool
	}{
		{"slipseat", "-s -w -H=windowsgui", true},
		{"cutsheet", "-s -w", false},
	} {
		exe := filepath.Join(dir, p.name+".exe")
		if err := run(root, env, "go", "build", "-ldflags", p.flags, "-o", exe, "./cmd/"+p.name); err != nil {
			return err
		}
		if err := isWindows(exe, p.window); err != nil {
			return fmt.Errorf("%s: %w", exe, err)
		}
		info, err := os.Stat(exe)
		if err != nil {
			return err
		}
		fmt.Printf("dev: %s, %.1f MB\n", exe, float64(info.Size())/1e6)
	}
	return nil
}

// inWindows are the libraries that every Windows has.
const inWindows = " gdi32.dll kernel32.dll msvcrt.dll opengl32.dll shell32.dll user32.dll ole32.dll advapi32.dll "

// isWindows checks that a program is one for Windows with or without a console
// and needs no library that Windows does not have.
func isWindows(path string, window bool) error {
	f, err := pe.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	head, ok := f.OptionalHeader.(*pe.OptionalHeader64)
	if !ok || f.Machine != pe.IMAGE_FILE_MACHINE_AMD64 {
		return fmt.Errorf("not for 64-bit Windows")
	}
	want := uint16(pe.IMAGE_SUBSYSTEM_WINDOWS_CUI)
	if window {
		want = pe.IMAGE_SUBSYSTEM_WINDOWS_GUI
	}
	if head.Subsystem != want {
		return fmt.Errorf("subsystem %d, want %d", head.Subsystem, want)
	}
	libs, err := f.ImportedLibraries()
	if err != nil {
		return err
	}
	for _, l := range libs {
		if !strings.Contains(inWindows, " "+strings.ToLower(l)+" ") {
			return fmt.Errorf("needs %s, which not every Windows has", l)
		}
	}
	return nil
}

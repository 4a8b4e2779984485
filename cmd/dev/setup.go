package main

import (
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"strings"
)

// need is a program or header that a step uses and the Debian package that
// brings it.
type need struct {
	pkg   string
	probe func() bool
}

func tool(name string) func() bool {
	return func() bool { _, err := exec.LookPath(name); return err == nil }
}

func file(paths ...string) func() bool {
	return func() bool {
		for _, p := range paths {
			if _, err := os.Stat(p); err == nil {
				return true
			}
		}
		return false
	}
}

// buildNeeds is what the window's OpenGL binding compiles against.
func buildNeeds() []need {
	return []need{
		{"gcc", tool("gcc")},
		{"libc6-dev", file("/usr/include/stdlib.h")},
		{"pkg-config", tool("pkg-config")},
		{"libgl-dev", file("/usr/include/GL/gl.h")},
		{"libx11-dev", file("/usr/include/X11/Xlib.h")},
		{"libxcursor-dev", file("/usr/include/X11/Xcursor/Xcursor.h")},
		{"libxrandr-dev", file("/usr/include/X11/extensions/Xrandr.h")},
		{"libxinerama-dev", file("/usr/include/X11/extensions/Xinerama.h")},
		{"libxi-dev", file("/usr/include/X11/extensions/XInput2.h")},
		{"libxxf86vm-dev", file("/usr/include/X11/extensions/xf86vmode.h")},
	}
}

// testNeeds is what the tests use besides: a window server and hands to click
// with, and programs of other authors that read what we write.
func testNeeds() []need {
	return []need{
		{"xvfb", tool("Xvfb")},
		{"xdotool", tool("xdotool")},
		{"openbox", tool("openbox")},
		{"imagemagick", tool("import")},
		{"libgl1-mesa-dri", file("/usr/lib/x86_64-linux-gnu/dri/swrast_dri.so", "/usr/lib/aarch64-linux-gnu/dri/swrast_dri.so")},
		{"libgeos-dev", file("/usr/include/geos_c.h")},
		{"poppler-utils", tool("pdfinfo")},
		{"qpdf", tool("qpdf")},
		{"librsvg2-bin", tool("rsvg-convert")},
		{"python3-ezdxf", file("/usr/lib/python3/dist-packages/ezdxf/__init__.py")},
	}
}

// install brings the Debian packages that are missing. On other systems it
// says what is needed and goes on, since the build itself will tell.
func install(needs []need) error {
	if runtime.GOOS != "linux" {
		fmt.Println("dev: on this system a C compiler must be there already (see README)")
		return nil
	}
	var missing []string
	for _, n := range needs {
		if !n.probe() {
			missing = append(missing, n.pkg)
		}
	}
	if len(missing) == 0 {
		return nil
	}
	if _, err := exec.LookPath("apt-get"); err != nil {
		return fmt.Errorf("missing: %s. Install these (Debian's names) with your system's package manager, then run this again", strings.Join(missing, " "))
	}
	fmt.Println("dev: installing", strings.Join(missing, " "))
	var as []string
	if os.Geteuid() != 0 {
		if _, err := exec.LookPath("sudo"); err != nil {
			return fmt.Errorf("missing: %s. Install them as root: apt-get install %s", strings.Join(missing, " "), strings.Join(missing, " "))
		}
		as = []string{"sudo"}
	}
	update := append(append([]string{}, as...), "apt-get", "update", "-qq")
	get := append(append([]string{}, as...), "apt-get", "install", "-y", "-qq", "--no-install-recommends")
	for _, line := range [][]string{update, append(get, missing...)} {
		cmd := exec.Command(line[0], line[1:]...)
		cmd.Env = append(os.Environ(), "DEBIAN_FRONTEND=noninteractive")
		if out, err := cmd.CombinedOutput(); err != nil {
			return fmt.Errorf("%s: %v\n%s", strings.Join(line, " "), err, out)
		}
	}
	for _, n := range needs {
		if !n.probe() {
			return fmt.Errorf("%s was installed, but what it should bring is still not found", n.pkg)
		}
	}
	return nil
}

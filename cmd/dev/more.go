package main

import (
	"fmt"
	"os"
	"path/filepath"
)

// look takes pictures of the start page and of every stage of the demo, light
// and dark, in two sizes, into a folder.
func look(root string, args []string) error {
	dir := filepath.Join(root, "bin", "look")
	if len(args) > 0 {
		dir = args[0]
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	if err := install(append(buildNeeds(), testNeeds()...)); err != nil {
		return err
	}
	if err := buildWindow(root); err != nil {
		return err
	}
	for _, size := range [][2]int{{1440, 900}, {1100, 700}} {
		for _, variant := range []string{"light", "dark"} {
			if err := lookAt(root, dir, size, variant); err != nil {
				return err
			}
		}
	}
	fmt.Println("dev: pictures are in", dir)
	return nil
}

func lookAt(root, dir string, size [2]int, variant string) error {
	tmp, err := os.MkdirTemp("", "slipseat-look-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(tmp)
	d, err := openDesktop(size[0], size[1])
	if err != nil {
		return err
	}
	defer d.close()
	home := filepath.Join(tmp, "home")
	if err := os.MkdirAll(home, 0o755); err != nil {
		return err
	}
	os.Setenv("SLIPSEAT_VARIANT", variant)
	defer os.Unsetenv("SLIPSEAT_VARIANT")
	w, err := openWindow(d, program(root), home, tmp, fmt.Sprintf("%dx%d", size[0], size[1]), "demo")
	if err != nil {
		return err
	}
	defer w.kill()
	for _, units := range []string{"in", "cm"} {
		if units == "cm" {
			if err := w.click("units:cm"); err != nil {
				return err
			}
		}
		for _, stage := range []string{"outline", "build-up", "roll", "foam", "order", "cut-sheet"} {
			if err := w.click("stage:" + stage); err != nil {
				return err
			}
			if err := w.until("the stage is "+stage, func(s *state) bool { return s.stage == stage }); err != nil {
				return err
			}
			name := fmt.Sprintf("%s-%s-%s-%d.png", stage, variant, units, size[0])
			if _, err := d.settled(filepath.Join(dir, name)); err != nil {
				return err
			}
		}
	}
	return nil
}

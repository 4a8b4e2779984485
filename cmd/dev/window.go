package main

import (
	"fmt"
	"image"
	"os"
	"path/filepath"
	"sort"
	"strings"
)

// windowOnly builds the program and runs the scripted user in the real window.
func windowOnly(root string, args []string) error {
	if err := install(append(buildNeeds(), testNeeds()...)); err != nil {
		return err
	}
	if err := buildWindow(root); err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "slipseat-window-")
	if err != nil {
		return err
	}
	keep := false
	for _, a := range args {
		keep = keep || a == "-keep"
	}
	if !keep {
		defer os.RemoveAll(dir)
	} else {
		fmt.Println("dev: pictures and logs stay in", dir)
	}
	d, err := openDesktop(1440, 900)
	if err != nil {
		return err
	}
	defer d.close()
	s := &script{d: d, bin: program(root), dir: dir, home: filepath.Join(dir, "home")}
	if err := os.MkdirAll(s.home, 0o755); err != nil {
		return err
	}
	defer func() {
		if s.w != nil {
			s.w.kill()
		}
	}()
	if err := s.run(); err != nil {
		if s.w != nil {
			if _, perr := d.photograph(filepath.Join(os.TempDir(), "slipseat-window-failed.png")); perr == nil {
				err = fmt.Errorf("%w\n(a picture of the screen is in %s)\n%s", err, filepath.Join(os.TempDir(), "slipseat-window-failed.png"), s.w.logText())
			}
		}
		return err
	}
	return nil
}

// script is a user who makes a job from nothing and comes back to it.
type script struct {
	d              *desktop
	w              *window
	bin, dir, home string
	retries        int
	drags          []float64 // intervals of frames while dragging, in ms
	put            string    // where the piece was laid by hand
}

// open starts the program. A launch that dies in the toolkit's known start-up
// panic (fyne issue 5981) is started once more and counted.
func (s *script) open(args ...string) error {
	w, err := openWindow(s.d, s.bin, s.home, s.dir, "1208x825", args...)
	if err != nil && s.retries == 0 && strings.Contains(err.Error(), "panic") && strings.Contains(err.Error(), "fyne.io") {
		s.retries++
		fmt.Println("dev: the window died while starting and was started once more")
		w, err = openWindow(s.d, s.bin, s.home, s.dir, "1208x825", args...)
	}
	s.w = w
	return err
}

func (s *script) value(key, want string) error {
	got := ""
	err := s.w.until(key+" reads "+want, func(st *state) bool { got = st.values[key]; return got == want })
	if err != nil {
		return fmt.Errorf("%w (it reads %q)", err, got)
	}
	return nil
}

func (s *script) read(key string) string {
	out := ""
	s.w.until("something", func(st *state) bool { out = st.values[key]; return true })
	return out
}

// shows takes a picture and refuses one that is all one colour.
func (s *script) shows(name string) error {
	img, err := s.d.photograph(filepath.Join(s.dir, name+".png"))
	if err != nil {
		return err
	}
	if n := colours(img); n < 8 {
		return fmt.Errorf("%s: the window is blank (%d colours)", name, n)
	}
	return nil
}

func colours(img image.Image) int {
	seen := map[[3]uint32]bool{}
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y += 3 {
		for x := b.Min.X; x < b.Max.X; x += 3 {
			r, g, bl, _ := img.At(x, y).RGBA()
			seen[[3]uint32{r >> 12, g >> 12, bl >> 12}] = true
		}
	}
	return len(seen)
}

func (s *script) saved() error {
	return s.w.until("everything is saved", func(st *state) bool { return st.saved })
}

func (s *script) stage(code string) error {
	if err := s.w.click("stage:" + code); err != nil {
		return err
	}
	if err := s.w.until("the stage is "+code, func(st *state) bool { return st.stage == code }); err != nil {
		return err
	}
	return s.shows("stage-" + code)
}

// measurements are what the script types and what the fields must then hold.
var measurements = []struct{ field, typed, want string }{
	{"field:outline.front_width", "18 1/2", "18 1/2"},
	{"field:outline.back_width", "40.64 cm", "40.64 cm"}, // another unit stays as typed
	{"field:outline.depth", "17-1/4", "17-1/4"},
	{"field:outline.front_bow", "¾", "¾"},
}

func (s *script) run() error {
	steps := []struct {
		what string
		do   func() error
	}{
		{"open on an empty profile", func() error {
			if err := s.open(); err != nil {
				return err
			}
			return s.w.until("the start page shows", func(st *state) bool { return st.page == "start" })
		}},
		{"make a new job", func() error {
			if err := s.shows("start"); err != nil {
				return err
			}
			if err := s.w.click("button:new-job"); err != nil {
				return err
			}
			return s.w.until("a job is open", func(st *state) bool { return st.page == "job" })
		}},
		{"type four measurements", func() error {
			for _, m := range measurements {
				typed := m.typed
				if typed == "¾" {
					typed = "3/4" // the keyboard of the test has no fractions
				}
				if err := s.w.retype(m.field, typed); err != nil {
					return err
				}
				if err := s.value(m.field, strings.ReplaceAll(m.want, "¾", "3/4")); err != nil {
					return err
				}
			}
			return nil
		}},
		{"see what is wrong with a bad one", func() error {
			// A new job's foam has no sheet size yet, which is told from the start.
			before := ""
			s.w.until("something", func(st *state) bool { before = st.fault; return true })
			if err := s.w.retype("field:outline.front_bow", "15"); err != nil {
				return err
			}
			if err := s.w.until("the bad bow is told", func(st *state) bool { return st.fault != "" && st.fault != before }); err != nil {
				return err
			}
			if err := s.w.retype("field:outline.front_bow", "3/4"); err != nil {
				return err
			}
			return s.w.until("the fault is gone", func(st *state) bool { return st.fault == before })
		}},
		{"set a count of 6", func() error {
			if err := s.w.retype("field:count", "6"); err != nil {
				return err
			}
			return s.value("field:count", "6")
		}},
		{"visit all stages", func() error {
			for _, code := range []string{"build-up", "roll", "foam", "order", "cut-sheet", "outline"} {
				if err := s.stage(code); err != nil {
					return err
				}
			}
			if s.read("total:cloth") == "" {
				return fmt.Errorf("the running totals say nothing of the cloth")
			}
			return nil
		}},
		{"drag a handle", func() error {
			if err := s.w.drag("handle:front_width:right", 60, 0, 90); err != nil {
				return err
			}
			err := s.w.until("the width has followed", func(st *state) bool {
				v := st.values["field:outline.front_width"]
				return v != "" && v != "18 1/2"
			})
			s.drags = append(s.drags, s.w.state.frames...)
			return err
		}},
		{"undo it", func() error {
			if err := s.w.click("button:undo"); err != nil {
				return err
			}
			return s.value("field:outline.front_width", "18 1/2")
		}},
		{"lay a piece by hand", s.layByHand},
		{"see it stay after the search", s.stays},
		{"mark a flaw and see the lay avoid it", s.markFlaw},
		{"undo the hand work", func() error {
			for range 2 {
				if err := s.w.click("button:undo"); err != nil {
					return err
				}
			}
			return s.w.until("nothing is locked and no flaw is left", func(st *state) bool {
				for name, v := range st.values {
					if strings.HasPrefix(name, "flaw:") || strings.HasPrefix(name, "piece:") && strings.HasSuffix(v, "locked") {
						return false
					}
				}
				return true
			})
		}},
		{"trace a notched seat by clicking", s.trace},
		{"make it symmetric, undo and redo", s.symmetric},
		{"open an SVG and a DXF", s.outlines},
		{"undo the tracing", func() error {
			for range 4 {
				if err := s.w.click("button:undo"); err != nil {
					return err
				}
			}
			return s.value("field:outline.front_width", "18 1/2")
		}},
		{"export the cut sheet", func() error {
			if err := s.saved(); err != nil {
				return err
			}
			return s.export()
		}},
		{"quit", func() error {
			if err := s.saved(); err != nil {
				return err
			}
			return s.w.quit()
		}},
		{"start again and find everything", func() error {
			if err := s.open(); err != nil {
				return err
			}
			page := ""
			if err := s.w.until("a page shows", func(st *state) bool { page = st.page; return page != "" }); err != nil {
				return err
			}
			if page == "start" {
				if err := s.w.click("job:0"); err != nil {
					return err
				}
			}
			if err := s.w.until("the job is open", func(st *state) bool { return st.page == "job" }); err != nil {
				return err
			}
			if err := s.stage("outline"); err != nil {
				return err
			}
			for _, m := range measurements {
				if err := s.value(m.field, strings.ReplaceAll(m.want, "¾", "3/4")); err != nil {
					return err
				}
			}
			return s.value("field:count", "6")
		}},
		{"quit again", func() error { return s.w.quit() }},
	}
	for _, st := range steps {
		fmt.Println("  ", st.what)
		if err := st.do(); err != nil {
			return fmt.Errorf("%s: %w", st.what, err)
		}
	}
	s.frames()
	fmt.Printf("  scripted user: %d passed, 0 failed\n", len(steps))
	return nil
}

// export writes the cut sheets by the button and looks at a file.
func (s *script) export() error {
	dir := filepath.Join(s.dir, "out")
	if err := s.w.click("button:export"); err != nil {
		return err
	}
	if err := s.w.retype("field:export-folder", dir); err != nil {
		return err
	}
	if err := s.w.click("button:export-go"); err != nil {
		return err
	}
	path := filepath.Join(dir, "cut-sheet-cloth-1.png")
	if err := poll(func() bool { _, err := os.Stat(path); return err == nil }); err != nil {
		return fmt.Errorf("no %s: %w", path, err)
	}
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	img, _, err := image.Decode(f)
	if err != nil {
		return err
	}
	if colours(img) < 8 {
		return fmt.Errorf("%s is blank", path)
	}
	return nil
}

// frames prints how the window kept up with the drag.
func (s *script) frames() {
	f := append([]float64(nil), s.drags...)
	if len(f) == 0 {
		return
	}
	sort.Float64s(f)
	sum := 0.0
	for _, v := range f {
		sum += v
	}
	fmt.Printf("  dragging: %d frames, %.1f a second, 95th percentile %.0f ms\n", len(f), 1000*float64(len(f))/sum, f[len(f)*95/100])
}

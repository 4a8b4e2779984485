package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"
)

// waitFor is the longest a script waits for a condition.
const waitFor = 20 * time.Second

// desktop is a screen of our own with a window manager, invisible to the user.
type desktop struct {
	display  string
	xvfb, wm *exec.Cmd
}

// openDesktop starts Xvfb on a display number that it picks itself, so that
// two runs never fight over one.
func openDesktop(width, height int) (*desktop, error) {
	r, w, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	x := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", fmt.Sprintf("%dx%dx24", width, height), "-nolisten", "tcp", "-noreset")
	x.ExtraFiles = []*os.File{w}
	if err := x.Start(); err != nil {
		w.Close()
		return nil, fmt.Errorf("Xvfb: %w", err)
	}
	w.Close()
	number := make(chan string, 1)
	go func() { line, _ := bufio.NewReader(r).ReadString('\n'); number <- strings.TrimSpace(line) }()
	d := &desktop{xvfb: x}
	select {
	case n := <-number:
		if n == "" {
			d.close()
			return nil, errors.New("Xvfb did not start")
		}
		d.display = ":" + n
	case <-time.After(waitFor):
		d.close()
		return nil, errors.New("Xvfb gave no display number")
	}
	d.wm = exec.Command("openbox")
	d.wm.Env = append(os.Environ(), "DISPLAY="+d.display)
	if err := d.wm.Start(); err != nil {
		d.close()
		return nil, fmt.Errorf("openbox: %w", err)
	}
	return d, nil
}

func (d *desktop) close() {
	for _, c := range []*exec.Cmd{d.wm, d.xvfb} {
		if c != nil && c.Process != nil {
			c.Process.Kill()
			c.Wait()
		}
	}
}

// hand runs xdotool with the words of one action.
func (d *desktop) hand(args ...string) (string, error) {
	cmd := exec.Command("xdotool", args...)
	cmd.Env = append(os.Environ(), "DISPLAY="+d.display)
	out, err := cmd.CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("xdotool %s: %v %s", strings.Join(args, " "), err, bytes.TrimSpace(out))
	}
	return strings.TrimSpace(string(out)), nil
}

// photograph takes a picture of the whole screen.
func (d *desktop) photograph(path string) (image.Image, error) {
	cmd := exec.Command("import", "-window", "root", path)
	cmd.Env = append(os.Environ(), "DISPLAY="+d.display)
	if out, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("import: %v %s", err, out)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return png.Decode(f)
}

// settled photographs the screen until two pictures in a row are alike, so
// that nothing half-drawn is taken.
func (d *desktop) settled(path string) (image.Image, error) {
	var last image.Image
	for range 20 {
		img, err := d.photograph(path)
		if err != nil {
			return nil, err
		}
		if last != nil && alike(last, img) {
			return img, nil
		}
		last = img
	}
	return last, nil
}

func alike(a, b image.Image) bool {
	r := a.Bounds()
	if r != b.Bounds() {
		return false
	}
	for y := r.Min.Y; y < r.Max.Y; y += 2 {
		for x := r.Min.X; x < r.Max.X; x += 2 {
			if a.At(x, y) != b.At(x, y) {
				return false
			}
		}
	}
	return true
}

// spot is where a named widget is, in pixels of the window's contents.
type spot struct {
	Name       string  `json:"name"`
	X, Y, W, H float64 `json:"-"`
}

// event is one line of the probe file.
type event struct {
	Ready   bool              `json:"ready"`
	Stage   string            `json:"stage"`
	Rev     *int64            `json:"rev"`
	Saved   *bool             `json:"saved"`
	Fault   *string           `json:"fault"`
	Widgets []json.RawMessage `json:"widgets"`
	Page    string            `json:"page"`
	Values  map[string]string `json:"values"`
	Frames  []float64         `json:"frames"`
}

// window is the running program with its probe.
type window struct {
	d      *desktop
	cmd    *exec.Cmd
	log    *os.File
	probe  string
	id     string
	exited chan error

	mu     sync.Mutex
	offset int64
	state  state
}

// state is what the probe file has said so far.
type state struct {
	ready  bool
	page   string
	stage  string
	rev    int64
	saved  bool
	fault  string
	spots  map[string]spot
	values map[string]string
	frames []float64
}

// openWindow starts the program with its own empty home and waits until it
// says that it is ready.
func openWindow(d *desktop, bin, home, dir string, size string, args ...string) (*window, error) {
	n := strconv.FormatInt(time.Now().UnixNano(), 36)
	w := &window{d: d, probe: filepath.Join(dir, "probe-"+n+".jsonl"), exited: make(chan error, 1)}
	var err error
	if w.log, err = os.Create(filepath.Join(dir, "window-"+n+".log")); err != nil {
		return nil, err
	}
	w.cmd = exec.Command(bin, args...)
	w.cmd.Stdout, w.cmd.Stderr = w.log, w.log
	w.cmd.Env = append(environment(), "DISPLAY="+d.display, "LIBGL_ALWAYS_SOFTWARE=1", "HOME="+home,
		"XDG_CONFIG_HOME="+filepath.Join(home, ".config"), "SLIPSEAT_HOME="+filepath.Join(home, "store"),
		"SLIPSEAT_PROBE="+w.probe, "SLIPSEAT_WINDOW="+size)
	if err := w.cmd.Start(); err != nil {
		return nil, err
	}
	go func() { w.exited <- w.cmd.Wait() }()
	if err := w.until("the window says it is ready", func(s *state) bool { return s.ready }); err != nil {
		w.kill()
		return nil, fmt.Errorf("%w\n%s", err, w.logText())
	}
	err = poll(func() bool {
		w.id, err = d.hand("search", "--onlyvisible", "--pid", strconv.Itoa(w.cmd.Process.Pid), "--name", "Slipseat")
		if i := strings.LastIndex(w.id, "\n"); i >= 0 {
			w.id = w.id[i+1:]
		}
		return err == nil && w.id != ""
	})
	if err != nil {
		w.kill()
		return nil, fmt.Errorf("no window on the screen: %w", err)
	}
	d.hand("windowactivate", "--sync", w.id)
	return w, nil
}

func poll(done func() bool) error {
	end := time.Now().Add(waitFor)
	for !done() {
		if time.Now().After(end) {
			return fmt.Errorf("not within %s", waitFor)
		}
		time.Sleep(20 * time.Millisecond)
	}
	return nil
}

func (w *window) logText() string {
	b, _ := os.ReadFile(w.log.Name())
	return string(b)
}

// read takes in what the probe file has gained.
func (w *window) read() {
	f, err := os.Open(w.probe)
	if err != nil {
		return
	}
	defer f.Close()
	if _, err := f.Seek(w.offset, 0); err != nil {
		return
	}
	r := bufio.NewReader(f)
	for {
		line, err := r.ReadBytes('\n')
		if err != nil {
			return // a line that is still being written is read next time
		}
		w.offset += int64(len(line))
		var e event
		if json.Unmarshal(line, &e) != nil {
			continue
		}
		s := &w.state
		s.ready = s.ready || e.Ready
		if e.Page != "" {
			s.page = e.Page
		}
		if e.Stage != "" {
			s.stage = e.Stage
		}
		if e.Rev != nil {
			s.rev = *e.Rev
		}
		if e.Saved != nil {
			s.saved = *e.Saved
		}
		if e.Fault != nil {
			s.fault = *e.Fault
		}
		if len(e.Widgets) > 0 {
			s.spots = map[string]spot{}
			for _, raw := range e.Widgets {
				var at struct {
					Name       string
					X, Y, W, H float64
				}
				if json.Unmarshal(raw, &at) == nil {
					s.spots[at.Name] = spot{at.Name, at.X, at.Y, at.W, at.H}
				}
			}
		}
		if e.Values != nil {
			s.values = e.Values
		}
		s.frames = append(s.frames, e.Frames...)
	}
}

// until waits for a condition on what the probe has said.
func (w *window) until(what string, done func(*state) bool) error {
	var died error
	err := poll(func() bool {
		w.mu.Lock()
		defer w.mu.Unlock()
		w.read()
		if done(&w.state) {
			return true
		}
		select {
		case e := <-w.exited:
			w.exited <- e
			died = fmt.Errorf("the program ended while waiting until %s: %v", what, e)
			return true
		default:
			return false
		}
	})
	if died != nil {
		return died
	}
	if err != nil {
		return fmt.Errorf("waiting until %s: %w", what, err)
	}
	return nil
}

// find waits for a named widget and gives its place.
func (w *window) find(name string) (spot, error) {
	var at spot
	err := w.until("there is a "+name, func(s *state) bool { p, ok := s.spots[name]; at = p; return ok })
	return at, err
}

func (w *window) move(x, y float64) error {
	_, err := w.d.hand("mousemove", "--window", w.id, strconv.Itoa(int(x)), strconv.Itoa(int(y)))
	time.Sleep(20 * time.Millisecond) // the toolkit samples the pointer
	return err
}

// click presses the left button in the middle of a named widget.
func (w *window) click(name string) error {
	at, err := w.find(name)
	if err != nil {
		return err
	}
	if err := w.move(at.X+at.W/2, at.Y+at.H/2); err != nil {
		return err
	}
	_, err = w.d.hand("click", "1")
	return err
}

// drag pulls a named widget by so many pixels in small steps.
func (w *window) drag(name string, dx, dy float64, steps int) error {
	at, err := w.find(name)
	if err != nil {
		return err
	}
	x, y := at.X+at.W/2, at.Y+at.H/2
	if err := w.move(x, y); err != nil {
		return err
	}
	if _, err := w.d.hand("mousedown", "1"); err != nil {
		return err
	}
	// One process makes all the moves, about as fast as a hand's mouse reports
	// them: a process for each would keep the machine busier than the window.
	var moves []string
	for i := 1; i <= steps; i++ {
		f := float64(i) / float64(steps)
		moves = append(moves, "mousemove", "--window", w.id, strconv.Itoa(int(x+dx*f)), strconv.Itoa(int(y+dy*f)), "sleep", "0.015")
	}
	if _, err := w.d.hand(moves...); err != nil {
		return err
	}
	_, err = w.d.hand("mouseup", "1")
	return err
}

func (w *window) key(keys ...string) error {
	_, err := w.d.hand(append([]string{"key", "--clearmodifiers"}, keys...)...)
	return err
}

func (w *window) text(s string) error {
	_, err := w.d.hand("type", "--delay", "15", s)
	return err
}

// retype replaces what a field holds and commits it with Return.
func (w *window) retype(name, text string) error {
	if err := w.click(name); err != nil {
		return err
	}
	if err := w.key("ctrl+a"); err != nil {
		return err
	}
	if err := w.text(text); err != nil {
		return err
	}
	return w.key("Return")
}

// quit closes the window as a user does and waits for a clean end.
func (w *window) quit() error {
	if err := w.key("alt+F4"); err != nil {
		return err
	}
	select {
	case err := <-w.exited:
		w.exited <- err
		w.log.Close()
		if err != nil {
			return fmt.Errorf("the program ended with %v\n%s", err, w.logText())
		}
	case <-time.After(waitFor):
		w.kill()
		return fmt.Errorf("the program did not end within %s of being closed", waitFor)
	}
	return w.cleanLog()
}

// cleanLog refuses a run in which the toolkit complained.
func (w *window) cleanLog() error {
	// While it ends, the toolkit writes its own preferences file and its watcher
	// may read the file half written. Slipseat keeps nothing there.
	text := strings.ReplaceAll(w.logText(), "Fyne error:  Preferences load error", "Preferences load error")
	for _, bad := range []string{"Error in Fyne call thread", "panic", "Fyne error"} {
		if strings.Contains(text, bad) {
			return fmt.Errorf("the program's log says %q:\n%s", bad, text)
		}
	}
	return nil
}

func (w *window) kill() {
	if w.cmd != nil && w.cmd.Process != nil {
		w.cmd.Process.Kill()
		e := <-w.exited
		w.exited <- e
	}
	w.log.Close()
}

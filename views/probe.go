package views

import (
	"encoding/json"
	"io"
	"math"
	"reflect"
	"time"

	"fyne.io/fyne/v2"

	"slipseat/views/kit"
)

// Probe tells scripts what the window shows: one JSON object a line, each key
// only when it changed. Positions are window pixels.
type Probe struct {
	w       io.Writer
	ready   bool
	last    map[string]any
	pending bool
}

// NewProbe writes to w.
func NewProbe(w io.Writer) *Probe { return &Probe{w: w, last: map[string]any{}} }

// say writes a key if its value is new.
func (p *Probe) say(key string, value any) {
	if old, ok := p.last[key]; ok && reflect.DeepEqual(old, value) {
		return
	}
	p.last[key] = value
	line, err := json.Marshal(map[string]any{key: value})
	if err == nil {
		p.w.Write(append(line, '\n'))
	}
}

// probeDelay lets a change settle before it is told.
const probeDelay = 40 * time.Millisecond

// poke tells the probe, a little later, what the window shows.
func (v *Window) poke() {
	p := v.o.Probe
	if p == nil || p.pending {
		return
	}
	p.pending = true
	v.o.Runner.After(probeDelay, func() {
		p.pending = false
		v.report(p)
	})
}

// Watch keeps the probe informed of what changes without the session: focus,
// scrolling, typing.
func (v *Window) Watch() {
	if v.o.Probe == nil {
		return
	}
	var again func()
	again = func() {
		v.report(v.o.Probe)
		v.o.Runner.After(4*probeDelay, again)
	}
	v.o.Runner.After(probeDelay, again)
}

type probeSpot struct {
	Name string `json:"name"`
	X    int    `json:"x"`
	Y    int    `json:"y"`
	W    int    `json:"w"`
	H    int    `json:"h"`
}

func (v *Window) report(p *Probe) {
	c := v.win.Canvas()
	if c.Size().Width < 10 {
		return
	}
	px := float64(c.Scale())
	at := func(x float32) int { return int(math.Round(float64(x) * px)) }
	var spots []probeSpot
	values := map[string]string{}
	fault := ""
	for _, s := range v.spots() {
		spots = append(spots, probeSpot{s.Name, at(s.X), at(s.Y), at(s.W), at(s.H)})
		if s.Value != "" {
			values[s.Name] = s.Value
		}
		if s.Problem != "" && fault == "" {
			fault = s.Problem
		}
	}
	if n := v.s.Notice(); n != nil && n.Fault != nil && fault == "" {
		fault = v.w.Fault(*n.Fault, v.units())
	}
	page := "start"
	if v.s.IsOpen() {
		page = "job"
		p.say("stage", v.s.Stage().Code())
	}
	p.say("widgets", spots)
	p.say("values", values)
	p.say("fault", fault)
	p.say("saved", !v.s.IsOpen() || !v.s.Saved().Dirty)
	p.say("rev", v.s.Rev())
	p.say("page", page)
	for _, st := range v.stages {
		if f := st.Frames(); len(f) > 0 {
			p.last["frames"] = nil
			p.say("frames", f)
		}
	}
	if !p.ready {
		p.ready = true
		p.say("ready", true)
	}
}

// spots are the named widgets in sight; while something lies over the window,
// only those on top.
func (v *Window) spots() []kit.Spot {
	c := v.win.Canvas()
	var root fyne.CanvasObject = v.root
	if top := c.Overlays().Top(); top != nil {
		root = top
	}
	return kit.Spots(root, root.Position())
}

// spot finds a named widget.
func (v *Window) spot(name string) kit.Spot {
	for _, s := range v.spots() {
		if s.Name == name {
			return s
		}
	}
	return kit.Spot{}
}

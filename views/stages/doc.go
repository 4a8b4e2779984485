// Package stages holds the six stages of a job, each a drawing in the middle
// and a form at the right. A stage reads the job and its plan, builds the
// drawing and the form anew after every change, and hands commands on; it
// reckons nothing.
package stages

import (
	"strconv"
	"time"

	"fyne.io/fyne/v2"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/picture"
	"slipseat/app/session"
	"slipseat/app/words"
	"slipseat/engine/plan"
	"slipseat/engine/swatch"
	"slipseat/engine/unit"
	"slipseat/views/kit"
)

// Bench is what a stage works at: the open job, its plan and what is chosen.
// The session is one.
type Bench interface {
	Job() job.Job   // as it was last committed
	Shown() job.Job // with the preview of a drag
	Plan() *plan.Plan
	Units() unit.Units
	Seat() job.ID
	Goods(foam bool) job.ID
	Do(edit.Command) []unit.Fault
	Preview(edit.Command) []unit.Fault
	CancelPreview()
	LastLay(goods string) *session.Laid
	OldLay(goods string) *session.Laid
	Keeping(goods string, old bool) (edit.KeepLay, int)
	CutCommand(goods job.ID) (edit.MarkCut, bool)
	HoldSearch()
	LetSearch()
	Tell(session.Notice)
	Searching(goods string) bool
	Finished(goods string) bool
	StopSearch()
	GoOn()
}

// Stage is one of the six. Middle and Form are made once; Refresh puts the
// present state into them.
type Stage interface {
	Middle() fyne.CanvasObject
	Form() *kit.Form
	Refresh()
	// OwnSheet tells that the middle paints the sheet it lies on itself: a
	// picture on top of a sheet would be painted twice.
	OwnSheet() bool
	// Frames gives the times between the pictures of the last drags.
	Frames() []float64
}

// Desk is what all stages share.
type Desk struct {
	Bench
	Words *words.Words
	Menu  kit.FieldMenu
	// Stamp is the foot of a cut sheet: the job's revision and the day.
	Stamp func() string
	// Cautions are what to look out for on a stage.
	Cautions func(stage string) []Note
	// Act starts what the window does itself, by name: an export, a dialog.
	Act func(action string)
	// NewID draws the ID of a new thing.
	NewID func() job.ID
	// After runs a function when a time has passed.
	After func(d time.Duration, f func()) (stop func())
	// Tile gives what a cloth looks like on the roll, nil for its plain tint, and
	// TileFault why that cannot be shown.
	Tile      func(goods string) *swatch.Tile
	TileFault func(goods string) *unit.Fault
	// PopUp shows a menu at a place in the window.
	PopUp func(at fyne.Position, entries ...kit.MenuEntry)
}

// Note is a caution in words, for a seat or goods or the whole job.
type Note struct{ Title, Words, Seat, Goods string }

// cautions makes boxes of a stage's cautions for what is shown: those of other
// seats and goods are left to when they are shown.
func (d *Desk) cautions(stage, seat, goods string) kit.Group {
	var g kit.Group
	for i, n := range d.Cautions(stage) {
		if n.Seat != "" && n.Seat != seat || n.Goods != "" && n.Goods != goods {
			continue
		}
		g.Entries = append(g.Entries, kit.Entry{Kind: kit.ACaution, Name: "caution:" + stage + ":" + strconv.Itoa(i), Label: n.Title, Hint: n.Words})
	}
	return g
}

// withCautions puts cautions at the end of a form, or leaves it as it is.
func (d *Desk) withCautions(groups []kit.Group, stage, seat, goods string) []kit.Group {
	if g := d.cautions(stage, seat, goods); len(g.Entries) > 0 {
		return append(groups, g)
	}
	return groups
}

// maker makes entries of forms from the present job.
func (d *Desk) maker() maker {
	return maker{ed: d.Bench, w: d.Words, u: d.Units(), j: d.Shown()}
}

// pictures makes pictures of the present plan.
func (d *Desk) pictures() picture.Maker {
	return picture.Maker{Plan: d.Plan(), Words: d.Words, Units: d.Units(), Table: d.Shown().Table.Or(0), Tile: d.Tile}
}

func (d *Desk) say(key string, args ...unit.Arg) string {
	return d.Words.LabelIn(key, d.Units(), args...)
}

// jobSeat gives the chosen seat as it was last committed: a drag starts from
// there.
func (d *Desk) jobSeat() (job.Seat, int, bool) { return d.Job().Seat(d.Seat()) }

// seat gives the chosen seat, its plan and its index; ok is false while there
// is none.
func (d *Desk) seat() (job.Seat, *plan.SeatPlan, int, bool) {
	s, i, ok := d.Shown().Seat(d.Seat())
	p := d.Plan()
	if !ok || p == nil || i >= len(p.Seats) {
		return s, nil, i, false
	}
	return s, &p.Seats[i], i, true
}

package views

import (
	"time"

	"fyne.io/fyne/v2"

	"slipseat/app/session"
)

// Runner runs work beside the window and brings results back to the
// toolkit's goroutine.
type Runner struct{}

var _ session.Runner = Runner{}

// Start runs f on a goroutine of its own.
func (Runner) Start(f func()) { go f() }

// Post hands f to the toolkit's goroutine.
func (Runner) Post(f func()) { fyne.Do(f) }

// After posts f when a time has passed, unless it is stopped before. Stopping
// from the toolkit's goroutine is final: f does not run even if the time has
// just passed.
func (Runner) After(d time.Duration, f func()) (stop func()) {
	stopped := false // only touched on the toolkit's goroutine
	t := time.AfterFunc(d, func() {
		fyne.Do(func() {
			if !stopped {
				f()
			}
		})
	})
	return func() { stopped = true; t.Stop() }
}

// Now is the time of day.
func (Runner) Now() time.Time { return time.Now() }

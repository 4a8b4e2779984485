package task

import "time"

// When a change is saved: SaveAfter it, and at the latest SaveWithin the first
// one that is not saved yet. A save that failed is tried again after
// RetryFirst, then each time after twice as long, up to RetryMost.
const (
	SaveAfter  = 250 * time.Millisecond
	SaveWithin = 700 * time.Millisecond
	RetryFirst = 1 * time.Second
	RetryMost  = 30 * time.Second
)

// Autosave decides when to save. It is a state machine without a clock: every
// method is told the time. The zero value has nothing to save.
type Autosave struct {
	unsaved     bool
	first, last time.Time // of the changes not saved yet
	saving      bool
	during      bool // a change came while saving
	failures    int
	failed      time.Time // when the last save failed
}

// Changed says that there is something new to save.
func (a *Autosave) Changed(now time.Time) {
	if a.saving {
		if !a.during {
			a.during, a.first = true, now
		}
		a.last = now
		return
	}
	if !a.unsaved {
		a.unsaved, a.first = true, now
	}
	a.last = now
}

// Due tells how long to wait for the next save: 0 or less when it is time.
// ok is false when there is nothing to save or a save is under way.
func (a *Autosave) Due(now time.Time) (wait time.Duration, ok bool) {
	if !a.unsaved || a.saving {
		return 0, false
	}
	at := a.last.Add(SaveAfter)
	if latest := a.first.Add(SaveWithin); latest.Before(at) {
		at = latest
	}
	wait = at.Sub(now)
	if a.failures > 0 {
		wait = max(wait, a.failed.Add(a.retry()).Sub(now))
	}
	if now.Before(a.first) || now.Before(a.failed) {
		wait = 0 // the clock was set back; that must not hold a save up
	}
	return wait, true
}

func (a *Autosave) retry() time.Duration {
	d := RetryFirst
	for i := 1; i < a.failures && d < RetryMost; i++ {
		d *= 2
	}
	return min(d, RetryMost)
}

// Begin says that a save of all changes up to now has begun.
func (a *Autosave) Begin() { a.saving, a.during = true, false }

// Done says how the save ended. After a failure everything counts as not saved
// again.
func (a *Autosave) Done(now time.Time, ok bool) {
	if !a.saving {
		return
	}
	a.saving = false
	if ok {
		a.unsaved, a.failures = a.during, 0
		return
	}
	a.unsaved = true
	if !a.during {
		a.first, a.last = now, now
	}
	a.failures++
	a.failed = now
}

// Unsaved tells whether something is not saved yet, or is just being saved.
func (a *Autosave) Unsaved() bool { return a.unsaved || a.saving }

// Saving tells whether a save is under way.
func (a *Autosave) Saving() bool { return a.saving }

// Failures counts the saves that failed since the last that did not.
func (a *Autosave) Failures() int { return a.failures }

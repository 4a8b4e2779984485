// Package task runs work beside the window: one piece at a time, the latest
// wins; its reports are paced and handed over on the window's own goroutine;
// and it says when a changed job is to be saved. Clock, goroutines and the way
// back to the window are injected, so that tests run without either.
package task

import (
	"slices"
	"sync"
	"time"
)

// Clock tells the time and wakes somebody later.
type Clock interface {
	Now() time.Time
	// AfterFunc calls f once d has passed, on any goroutine, unless stop is
	// called first.
	AfterFunc(d time.Duration, f func()) (stop func())
}

// System is the computer's own clock.
type System struct{}

// Now is the time.
func (System) Now() time.Time { return time.Now() }

// AfterFunc is time.AfterFunc.
func (System) AfterFunc(d time.Duration, f func()) (stop func()) {
	t := time.AfterFunc(d, f)
	return func() { t.Stop() }
}

// Manual is a clock that moves only when it is told to. It may be used by
// several goroutines.
type Manual struct {
	mu     sync.Mutex
	now    time.Time
	alarms []*alarm
}

type alarm struct {
	at time.Time
	f  func()
}

// NewManual gives a clock that shows the given time.
func NewManual(now time.Time) *Manual { return &Manual{now: now} }

// Now is the time it shows.
func (m *Manual) Now() time.Time {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.now
}

// AfterFunc calls f, on the goroutine of Advance, when the time comes.
func (m *Manual) AfterFunc(d time.Duration, f func()) (stop func()) {
	m.mu.Lock()
	defer m.mu.Unlock()
	a := &alarm{m.now.Add(d), f}
	m.alarms = append(m.alarms, a)
	return func() {
		m.mu.Lock()
		defer m.mu.Unlock()
		m.alarms = slices.DeleteFunc(m.alarms, func(b *alarm) bool { return b == a })
	}
}

// Advance moves the clock on and calls what was due on the way, in the order
// of time.
func (m *Manual) Advance(d time.Duration) {
	m.mu.Lock()
	end := m.now.Add(d)
	for {
		var next *alarm
		for _, a := range m.alarms {
			if !a.at.After(end) && (next == nil || a.at.Before(next.at)) {
				next = a
			}
		}
		if next == nil {
			break
		}
		m.alarms = slices.DeleteFunc(m.alarms, func(b *alarm) bool { return b == next })
		if next.at.After(m.now) {
			m.now = next.at
		}
		m.mu.Unlock()
		next.f()
		m.mu.Lock()
	}
	m.now = end
	m.mu.Unlock()
}

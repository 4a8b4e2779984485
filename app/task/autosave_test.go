package task

import (
	"math/rand/v2"
	"testing"
	"time"
)

var nine = time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)

func at(ms int) time.Time { return nine.Add(time.Duration(ms) * time.Millisecond) }

func TestAutosaveTimes(t *testing.T) {
	for _, c := range []struct {
		name    string
		changes []int
		want    int // when the save is due
	}{
		{"one change", []int{0}, 250},
		{"two changes", []int{0, 200}, 450},
		{"typing on and on", []int{0, 100, 200, 300, 400, 500, 600}, 700},
		{"the last just in time", []int{0, 240, 449}, 699},
	} {
		var a Autosave
		now := 0
		for _, ms := range c.changes {
			now = ms
			a.Changed(at(ms))
		}
		wait, ok := a.Due(at(now))
		if got := now + int(wait/time.Millisecond); !ok || got != c.want {
			t.Errorf("%s: due at %d ms, want %d ms", c.name, got, c.want)
		}
	}
	var a Autosave
	if _, ok := a.Due(at(0)); ok {
		t.Error("due with nothing to save")
	}
}

func TestAutosaveRetries(t *testing.T) {
	var a Autosave
	a.Changed(at(0))
	now := 250
	var waits []int
	for range 8 {
		a.Begin()
		a.Done(at(now), false)
		wait, ok := a.Due(at(now))
		if !ok || !a.Unsaved() {
			t.Fatal("a failed save is to be tried again")
		}
		waits = append(waits, int(wait/time.Second))
		now += int(wait / time.Millisecond)
	}
	for i, want := range []int{1, 2, 4, 8, 16, 30, 30, 30} {
		if waits[i] != want {
			t.Errorf("waits %v s, want 1 2 4 8 16 30 30 30", waits)
			break
		}
	}
	a.Begin()
	a.Done(at(now), true)
	if a.Unsaved() || a.Failures() != 0 {
		t.Error("saved, but not so")
	}
}

func TestAutosaveClockSetBack(t *testing.T) {
	var a Autosave
	a.Changed(at(3_600_000))
	if wait, ok := a.Due(at(0)); !ok || wait > 0 {
		t.Errorf("an hour back: waits %v", wait)
	}
}

// TestAutosaveNeverLate plays random changes and saves: what is saved was
// never unsaved for longer than SaveWithin before its save began, and no save
// begins before SaveAfter has passed since the last change, but for that.
func TestAutosaveNeverLate(t *testing.T) {
	for seed := range uint64(50) {
		r := rand.New(rand.NewPCG(seed, 3))
		var a Autosave
		first, last := -1, -1 // of the changes that no save has begun for
		ends := -1
		for ms := 0; ms < 20_000; ms += 1 + r.IntN(7) {
			if ends >= 0 && ms >= ends {
				a.Done(at(ms), true)
				ends = -1
				if first >= 0 {
					first = max(first, ms-int(SaveWithin/time.Millisecond)) // it could not begin before
				}
			}
			if r.IntN(40) == 0 {
				a.Changed(at(ms))
				last = ms
				if first < 0 {
					first = ms
				}
			}
			wait, ok := a.Due(at(ms))
			if ok != (first >= 0 && ends < 0) {
				t.Fatalf("seed %d at %d ms: due %v", seed, ms, ok)
			}
			if ok && wait <= 0 {
				if late := ms - first - 7; late > 700 {
					t.Fatalf("seed %d: saved at %d ms, the first change was at %d ms", seed, ms, first)
				}
				if ms-last < 250 && ms-first < 700 {
					t.Fatalf("seed %d: saved at %d ms, too soon after %d ms", seed, ms, last)
				}
				a.Begin()
				first, last, ends = -1, -1, ms+r.IntN(400)
			}
		}
	}
}

func TestSaver(t *testing.T) {
	clock := NewManual(nine)
	value, saved, saves := 0, 0, 0
	var fail error
	var last SaveState
	s := NewSaver(SaverOptions{Clock: clock, Post: func(f func()) { f() }, Take: func() func() error {
		v := value
		return func() error {
			saves++
			if fail == nil {
				saved = v
			}
			return fail
		}
	}, Notify: func(st SaveState) { last = st }})
	change := func() { value++; s.Changed() }
	change()
	clock.Advance(200 * time.Millisecond)
	change()
	if !last.Unsaved || saves != 0 {
		t.Fatalf("state %+v after %d saves", last, saves)
	}
	clock.Advance(249 * time.Millisecond)
	if saves != 0 {
		t.Fatal("saved too soon")
	}
	clock.Advance(time.Millisecond)
	if saves != 1 || saved != 2 || last != (SaveState{}) {
		t.Fatalf("%d saves, saved %d, state %+v", saves, saved, last)
	}
	for range 30 { // a change every 50 ms
		change()
		clock.Advance(50 * time.Millisecond)
	}
	if saves < 3 {
		t.Errorf("%d saves in 1.5 s of changes", saves)
	}
	clock.Advance(time.Second)

	fail = errTest
	change()
	clock.Advance(250 * time.Millisecond)
	if last.Err != errTest || !last.Unsaved {
		t.Errorf("after a failure: %+v", last)
	}
	before := saves
	clock.Advance(time.Second)
	if saves != before+1 {
		t.Errorf("not tried again after a second")
	}
	if err := s.Flush(); err != errTest {
		t.Errorf("flush: %v", err)
	}
	fail = nil
	if err := s.Flush(); err != nil || saved != value || s.State() != (SaveState{}) {
		t.Errorf("flush: %v, saved %d of %d, %+v", err, saved, value, s.State())
	}
	before = saves
	if err := s.Flush(); err != nil || saves != before {
		t.Errorf("saved without need")
	}
	clock.Advance(time.Hour)
	if saves != before {
		t.Errorf("%d saves with nothing to save", saves-before)
	}
}

// TestSaverFlushWaits: a save under way ends before Flush writes what came
// after it, so that an older snapshot never overwrites a newer one.
func TestSaverFlushWaits(t *testing.T) {
	clock := NewManual(nine)
	posts := make(chan func(), 10)
	started, proceed := make(chan bool), make(chan bool)
	value := 0
	var order []int
	first := true
	s := NewSaver(SaverOptions{Clock: clock, Post: func(f func()) { posts <- f }, Start: func(f func()) { go f() }, Take: func() func() error {
		v, hold := value, first
		first = false
		return func() error {
			if hold {
				started <- true
				<-proceed
			}
			order = append(order, v)
			return nil
		}
	}})
	value = 1
	s.Changed()
	clock.Advance(SaveAfter)
	(<-posts)()
	<-started
	value = 2
	s.Changed()
	go func() { proceed <- true }()
	if err := s.Flush(); err != nil {
		t.Fatal(err)
	}
	if len(order) != 2 || order[1] != 2 || s.State().Unsaved {
		t.Errorf("wrote %v, state %+v", order, s.State())
	}
	for len(posts) > 0 {
		(<-posts)()
	}
	if s.State().Unsaved || s.State().Saving {
		t.Errorf("state %+v", s.State())
	}
}

func TestSaverSurvivesAPanic(t *testing.T) {
	clock := NewManual(nine)
	s := NewSaver(SaverOptions{Clock: clock, Post: func(f func()) { f() }, Take: func() func() error { return func() error { panic("disk on fire") } }})
	s.Changed()
	clock.Advance(SaveAfter)
	if c, ok := s.State().Err.(*Crash); !ok || len(c.Stack) == 0 || !s.State().Unsaved {
		t.Errorf("state %+v", s.State())
	}
}

package task

import (
	"context"
	"errors"
	"slices"
	"sync"
	"testing"
	"time"
)

var errTest = errors.New("the disk is full")

// loop is a window's goroutine: functions are queued and called by the test.
type loop struct {
	mu    sync.Mutex
	queue []func()
	bell  chan bool
}

func newLoop() *loop { return &loop{bell: make(chan bool, 1000)} }

func (l *loop) post(f func()) {
	l.mu.Lock()
	l.queue = append(l.queue, f)
	l.mu.Unlock()
	l.bell <- true
}

// until calls what is posted until done holds.
func (l *loop) until(t *testing.T, done func() bool) {
	t.Helper()
	limit := time.After(20 * time.Second)
	for !done() {
		select {
		case <-l.bell:
			l.mu.Lock()
			f := l.queue[0]
			l.queue = l.queue[1:]
			l.mu.Unlock()
			f()
		case <-limit:
			t.Fatal("nothing came")
		}
	}
}

func TestLatestWins(t *testing.T) {
	l := newLoop()
	b := New(Options{Post: l.post, Clock: System{}})
	var began, finished []uint64
	var mu sync.Mutex
	late := map[uint64]bool{}
	work := func(rev uint64, wait bool) Work {
		return func(ctx context.Context, report func(func())) func(bool) {
			mu.Lock()
			began = append(began, rev)
			mu.Unlock()
			if wait {
				<-ctx.Done()
			}
			return func(isLate bool) { finished = append(finished, rev); late[rev] = isLate }
		}
	}
	b.Start(1, work(1, true))
	b.Start(2, work(2, true)) // waits for 1, and is overtaken
	b.Start(3, work(3, false))
	if rev, ok := b.Running(); rev != 3 || !ok {
		t.Errorf("running %d %v, want 3", rev, ok)
	}
	l.until(t, func() bool { return len(finished) == 2 })
	if !slices.Equal(began, []uint64{1, 3}) || !slices.Equal(finished, []uint64{1, 3}) || !late[1] || late[3] {
		t.Errorf("began %v, finished %v, late %v", began, finished, late)
	}
	if _, ok := b.Running(); ok {
		t.Error("still running")
	}
	b.Start(4, work(4, true))
	b.Cancel()
	l.until(t, func() bool { return len(finished) == 3 })
	if !late[4] {
		t.Error("cancelled work is not late")
	}
	b.Close()
	b.Start(5, work(5, false))
	if len(began) != 3 {
		t.Error("started after closing")
	}
}

func TestCloseWaits(t *testing.T) {
	l := newLoop()
	b := New(Options{Post: l.post, Clock: System{}})
	ended := false
	shown := false
	b.Start(1, func(ctx context.Context, report func(func())) func(bool) {
		<-ctx.Done()
		report(func() { shown = true })
		ended = true
		return func(bool) { shown = true }
	})
	b.Close()
	if !ended {
		t.Error("closed while work ran on")
	}
	for len(l.bell) > 0 {
		l.until(t, func() bool { return len(l.bell) == 0 })
	}
	if shown {
		t.Error("shown after closing")
	}
}

func TestPanicIsReported(t *testing.T) {
	l := newLoop()
	var crash *Crash
	b := New(Options{Post: l.post, Clock: System{}, Crashed: func(rev uint64, c *Crash) { crash = c }})
	b.Start(7, func(context.Context, func(func())) func(bool) { panic("no lay") })
	l.until(t, func() bool { return crash != nil })
	if crash.Value != "no lay" || len(crash.Stack) == 0 {
		t.Errorf("got %v", crash)
	}
	done := false
	b.Start(8, func(context.Context, func(func())) func(bool) { return func(bool) { done = true } })
	l.until(t, func() bool { return done })
}

// TestPace plays reports on a clock by hand: at most ten a second, the first at
// once, the last always.
func TestPace(t *testing.T) {
	clock := NewManual(nine)
	var shown []int
	var when []time.Time
	p := &pacer{clock: clock, send: func(show func()) { show(); when = append(when, clock.Now()) }}
	for i := range 1000 { // a report every millisecond
		p.report(func() { shown = append(shown, i) })
		if i == 0 && len(shown) != 1 {
			t.Fatal("the first is held back")
		}
		clock.Advance(time.Millisecond)
	}
	if n := len(shown); n < 10 || n > 11 {
		t.Errorf("%d reports in a second", n)
	}
	p.report(func() { shown = append(shown, 1000) })
	p.flush()
	if shown[len(shown)-1] != 1000 || !slices.IsSorted(shown) {
		t.Errorf("reports %v", shown)
	}
	for i := 1; i < len(when)-1; i++ {
		if d := when[i].Sub(when[i-1]); d < ReportEvery {
			t.Errorf("reports %v apart", d)
		}
	}
	n := len(shown)
	p.report(func() { shown = append(shown, 1001) })
	clock.Advance(time.Second)
	if len(shown) != n {
		t.Error("a report after the end")
	}
}

// TestPaceOfOne: a report that is held back comes after the pause even when no
// other follows.
func TestPaceOfOne(t *testing.T) {
	clock := NewManual(nine)
	var shown []int
	p := &pacer{clock: clock, send: func(show func()) { show() }}
	p.report(func() { shown = append(shown, 1) })
	p.report(func() { shown = append(shown, 2) })
	p.report(func() { shown = append(shown, 3) })
	clock.Advance(ReportEvery)
	if !slices.Equal(shown, []int{1, 3}) {
		t.Errorf("shown %v, want 1 and 3", shown)
	}
}

func TestReportsAreDroppedWhenLate(t *testing.T) {
	l := newLoop()
	b := New(Options{Post: l.post, Clock: System{}})
	shown, finished := 0, 0
	var once sync.WaitGroup
	once.Add(1)
	b.Start(1, func(ctx context.Context, report func(func())) func(bool) {
		report(func() { shown++ })
		once.Done()
		<-ctx.Done()
		return func(bool) { finished++ }
	})
	once.Wait()
	b.Start(2, func(context.Context, func(func())) func(bool) { return func(bool) { finished++ } })
	l.until(t, func() bool { return finished == 2 })
	if shown != 0 {
		t.Error("a report of work that is no longer the latest was shown")
	}
}

func TestInline(t *testing.T) {
	var got []string
	Inline{}.Start(1, func(ctx context.Context, report func(func())) func(bool) {
		report(func() { got = append(got, "half") })
		report(nil)
		return func(late bool) {
			if !late {
				got = append(got, "done")
			}
		}
	})
	if !slices.Equal(got, []string{"half", "done"}) {
		t.Errorf("got %v", got)
	}
	Inline{}.Start(2, func(context.Context, func(func())) func(bool) { return nil })
}

func TestManualClock(t *testing.T) {
	m := NewManual(nine)
	var got []int
	m.AfterFunc(20*time.Millisecond, func() { got = append(got, 2) })
	m.AfterFunc(10*time.Millisecond, func() {
		got = append(got, 1)
		m.AfterFunc(5*time.Millisecond, func() { got = append(got, 15) })
	})
	stop := m.AfterFunc(15*time.Millisecond, func() { got = append(got, 99) })
	stop()
	m.Advance(30 * time.Millisecond)
	if !slices.Equal(got, []int{1, 15, 2}) || !m.Now().Equal(at(30)) {
		t.Errorf("got %v at %v", got, m.Now())
	}
}

package task

import (
	"context"
	"fmt"
	"runtime/debug"
	"sync"
	"time"
)

// Work is something that takes a while. It stops soon after ctx is cancelled
// and then still gives what it has. What it hands to report is called on the
// window's goroutine, at most ten times a second and always the last; what it
// returns is called there at the end, after every report. A nil function says
// nothing.
type Work func(ctx context.Context, report func(show func())) (finish func(late bool))

// Runner runs one piece of work at a time. Its methods are called on the
// window's goroutine.
type Runner interface {
	// Start cancels what runs and starts w once that has stopped. Of several
	// started meanwhile only the latest begins. Reports of work that is no
	// longer the latest are dropped; its finish is called with late true.
	Start(rev uint64, w Work)
	// Cancel stops what runs; its finish is called with late true.
	Cancel()
	// Running gives the revision of the latest work that has not finished.
	Running() (rev uint64, ok bool)
	// Close cancels what runs and waits until it has stopped, unless it runs on
	// a goroutine of somebody else's. Nothing of it is shown any more, and
	// nothing can be started.
	Close()
}

// Crash is a panic in some work.
type Crash struct {
	Value any
	Stack []byte
}

// Error says what happened; the stack is for the report file.
func (c *Crash) Error() string { return fmt.Sprintf("background work stopped: %v", c.Value) }

// ReportEvery is the least time between two reports.
const ReportEvery = 100 * time.Millisecond

// Options are what a Background works with.
type Options struct {
	// Post hands a function to the window's goroutine, in order.
	Post  func(f func())
	Clock Clock
	// Start runs f on a goroutine of its own; nil is the go statement.
	Start func(f func())
	// Crashed, which may be nil, is called on the window's goroutine when some
	// work panics, instead of its finish.
	Crashed func(rev uint64, c *Crash)
}

// Background runs work on goroutines of its own.
type Background struct {
	o       Options
	current *run
	waiting *run // starts when current has stopped
	closed  bool
}

var _ Runner = (*Background)(nil)

// New gives a Runner.
func New(o Options) *Background { return &Background{o: o} }

// run is one piece of work from its start to its end.
type run struct {
	rev     uint64
	work    Work
	cancel  context.CancelFunc
	stopped chan struct{} // closed when the work has returned
	late    bool          // touched on the window's goroutine only
}

// Start implements Runner.
func (b *Background) Start(rev uint64, w Work) {
	if b.closed {
		return
	}
	r := &run{rev: rev, work: w, stopped: make(chan struct{})}
	if b.current != nil {
		b.Cancel()
		b.waiting = r
		return
	}
	b.begin(r)
}

// Cancel implements Runner.
func (b *Background) Cancel() {
	b.waiting = nil
	if b.current != nil {
		b.current.late = true
		b.current.cancel()
	}
}

// Running implements Runner.
func (b *Background) Running() (uint64, bool) {
	switch {
	case b.waiting != nil:
		return b.waiting.rev, true
	case b.current != nil && !b.current.late:
		return b.current.rev, true
	}
	return 0, false
}

// Close implements Runner.
func (b *Background) Close() {
	b.closed = true
	b.Cancel()
	if b.current != nil && b.o.Start == nil {
		<-b.current.stopped
	}
}

func (b *Background) begin(r *run) {
	ctx, cancel := context.WithCancel(context.Background())
	r.cancel = cancel
	b.current = r
	p := &pacer{clock: b.o.Clock, send: func(show func()) {
		b.o.Post(func() {
			if !b.closed && b.current == r && !r.late {
				show()
			}
		})
	}}
	do := func() {
		finish, crash := guarded(ctx, r.work, p.report)
		p.flush()
		cancel()
		close(r.stopped)
		b.o.Post(func() { b.end(r, finish, crash) })
	}
	if b.o.Start != nil {
		b.o.Start(do)
	} else {
		go do()
	}
}

// end shows the result and starts what waited.
func (b *Background) end(r *run, finish func(bool), crash *Crash) {
	b.current = nil
	if b.closed {
		return
	}
	next := b.waiting
	b.waiting = nil
	if next != nil {
		b.begin(next)
	}
	switch {
	case crash != nil && b.o.Crashed != nil:
		b.o.Crashed(r.rev, crash)
	case crash == nil && finish != nil:
		finish(r.late)
	}
}

func guarded(ctx context.Context, w Work, report func(func())) (finish func(bool), crash *Crash) {
	defer func() {
		if v := recover(); v != nil {
			finish, crash = nil, &Crash{Value: v, Stack: debug.Stack()}
		}
	}()
	return w(ctx, report), nil
}

// pacer passes on at most one report in ReportEvery: the first at once, then
// the latest of each stretch at its end.
type pacer struct {
	clock Clock
	send  func(func())

	mu      sync.Mutex
	last    time.Time
	pending func()
	stop    func() // of the alarm that sends pending
	ended   bool
}

func (p *pacer) report(show func()) {
	if show == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.ended {
		return // work that reports after it returned is not listened to
	}
	now := p.clock.Now()
	p.pending = show
	// A clock that was set back must not hold reports up.
	if wait := p.last.Add(ReportEvery).Sub(now); wait > 0 && wait <= ReportEvery && !p.last.IsZero() {
		if p.stop == nil {
			p.stop = p.clock.AfterFunc(wait, p.alarm)
		}
		return
	}
	p.pass(now)
}

// pass sends what is pending; the lock is held, so that the order holds.
func (p *pacer) pass(now time.Time) {
	if p.stop != nil {
		p.stop()
		p.stop = nil
	}
	if p.pending != nil {
		p.send(p.pending)
		p.pending, p.last = nil, now
	}
}

func (p *pacer) alarm() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.stop == nil { // sent meanwhile
		return
	}
	p.stop = nil
	if !p.ended {
		p.pass(p.clock.Now())
	}
}

// flush sends the last report, however soon it comes.
func (p *pacer) flush() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.pass(p.clock.Now())
	p.ended = true
}

// Inline runs work to its end at once, on the caller's goroutine, with every
// report. It is for tests and for commands without a window; work that goes on
// until it is cancelled needs a limit of its own there.
type Inline struct{}

var _ Runner = Inline{}

// Start implements Runner.
func (Inline) Start(_ uint64, w Work) {
	finish := w(context.Background(), func(show func()) {
		if show != nil {
			show()
		}
	})
	if finish != nil {
		finish(false)
	}
}

// Cancel implements Runner; nothing ever runs on.
func (Inline) Cancel() {}

// Running implements Runner.
func (Inline) Running() (uint64, bool) { return 0, false }

// Close implements Runner.
func (Inline) Close() {}

package session

import (
	"fmt"
	"runtime/debug"
	"time"

	"slipseat/engine/unit"
)

// CodeOwn is the fault of a mistake in the program itself.
const (
	CodeOwn      = "session.own-fault"
	CodeOwnLost  = "session.own-fault-unsaved" // and the job could not be saved
	CodeOwnQuiet = "session.own-fault-no-report"
)

// mostSteps is how many steps a report of a fault names.
const mostSteps = 40

// step notes what is done, by its code alone, for a report.
func (s *Session) step(code string) {
	if len(s.steps) == mostSteps {
		s.steps = s.steps[1:]
	}
	s.steps = append(s.steps[:len(s.steps):len(s.steps)], fmt.Sprintf("%8.1f s  %s", s.o.Runner.Now().Sub(s.began).Seconds(), code))
}

// Guard runs f. A panic out of it does not end the program: the job is saved,
// a report is written, and a message says so. What f had half done is the
// caller's to take back.
func (s *Session) Guard(f func()) {
	defer func() {
		if v := recover(); v != nil {
			s.Crashed(v, debug.Stack())
		}
	}()
	f()
}

// safely is Guard for a change of the open job: after a panic the job stands
// where it stood before. It tells whether f went through.
func (s *Session) safely(f func()) (ok bool) {
	h, p, cursor, rev := s.history, s.plan, 0, uint64(0)
	if h != nil {
		cursor, rev = h.Log().Cursor, h.Rev()
	}
	defer func() {
		v := recover()
		if v == nil {
			return
		}
		stack := debug.Stack()
		ok = false
		s.preview, s.faults = nil, nil
		if s.history == h && h != nil {
			if h.Rev() != rev {
				h.Go(cursor) // what was undone stays to be redone
			}
			s.plan = p
		} else { // a job that cannot be shown is not open
			s.history, s.plan, s.open = nil, nil, false
		}
		s.Crashed(v, stack)
		defer func() { _ = recover() }() // as in Crashed
		s.tell(TopicJob | TopicHistory | TopicLays | TopicSaved | TopicPage)
	}()
	f()
	return true
}

// Crashed says that the program itself failed. The job is saved first.
func (s *Session) Crashed(value any, stack []byte) {
	if s.crashing {
		return // one at a time: the message of the first stands
	}
	s.crashing = true
	defer func() { s.crashing = false }()
	saved := s.saveAfterCrash()
	path, err := "", error(nil)
	if s.o.Report != nil {
		path, err = s.o.Report(value, stack, s.steps)
	}
	f := unit.Fault{Code: CodeOwn, Args: []unit.Arg{unit.A("path", path)}}
	switch {
	case !saved:
		f.Code = CodeOwnLost
	case path == "" || err != nil:
		f = unit.Fault{Code: CodeOwnQuiet}
	}
	s.notice = &Notice{Fault: &f}
	defer func() { _ = recover() }() // a view that fails again must not hide the message
	s.tell(TopicNotice)
}

// saveAfterCrash saves, whatever state the rest is in.
func (s *Session) saveAfterCrash() (saved bool) {
	defer func() {
		if recover() != nil {
			saved = false
		}
	}()
	return s.Flush()
}

// guardedRunner keeps panics of whatever runs beside or later from ending the
// program.
type guardedRunner struct {
	r Runner
	s *Session
}

func (g guardedRunner) Start(f func()) {
	g.r.Start(func() {
		defer func() {
			if v := recover(); v != nil {
				stack := debug.Stack()
				g.r.Post(func() { g.s.Crashed(v, stack) })
			}
		}()
		f()
	})
}

func (g guardedRunner) Post(f func()) { g.r.Post(func() { g.s.Guard(f) }) }

func (g guardedRunner) After(d time.Duration, f func()) (stop func()) {
	return g.r.After(d, func() { g.s.Guard(f) })
}

func (g guardedRunner) Now() time.Time { return g.r.Now() }

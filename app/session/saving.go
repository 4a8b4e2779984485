package session

import (
	"errors"
	"time"

	"slipseat/app/store"
	"slipseat/app/task"
	"slipseat/engine/unit"
)

// clock is the runner as the saver wants it.
type clock struct{ r Runner }

func (c clock) Now() time.Time { return c.r.Now() }

func (c clock) AfterFunc(d time.Duration, f func()) (stop func()) { return c.r.After(d, f) }

// newSaver makes the saver of the open job.
func (s *Session) newSaver() *task.Saver {
	o := task.SaverOptions{Clock: clock{s.o.Runner}, Post: s.o.Runner.Post, Take: s.takeSave, Notify: s.noteSave}
	if s.o.SaveBeside {
		o.Start = s.o.Runner.Start
	}
	return task.NewSaver(o)
}

// takeSave takes the snapshot that is written.
func (s *Session) takeSave() func() error {
	r := Record{Log: s.history.Log(), Info: store.InfoOf(s.Job(), s.o.Runner.Now())}
	s.taken = s.history.Rev()
	st := s.o.Store
	return func() error { return st.Save(r) }
}

// noteSave follows the saver. Changes are told by whoever made them.
func (s *Session) noteSave(st task.SaveState) {
	saving := s.saving
	s.saving = st.Saving
	s.save.Dirty = st.Unsaved
	if !saving || st.Saving {
		return
	}
	s.save.Fault = nil
	if st.Err != nil {
		f := asFault(st.Err)
		s.save.Fault = &f
		var c *task.Crash
		if errors.As(st.Err, &c) && s.o.Report != nil {
			// The store is not told of by a message: the saved state says it.
			if path, err := s.o.Report(c.Value, c.Stack, s.steps); err == nil {
				s.save.Fault = &unit.Fault{Code: CodeOwnLost, Args: []unit.Arg{unit.A("path", path)}}
			}
		}
	} else {
		s.save.At = s.o.Runner.Now()
		if s.history != nil {
			s.history.Saved(s.taken)
		}
		s.refreshJobs()
	}
	s.tell(TopicSaved | TopicJobs)
}

// Saved says how the job stands to the disk.
func (s *Session) Saved() SaveState { return s.save }

// Flush saves now what is not saved yet, and tells whether all is in the
// store. A failure leaves the job in memory, says what to do and tries again
// by itself.
func (s *Session) Flush() bool { return !s.open || s.saver.Flush() == nil }

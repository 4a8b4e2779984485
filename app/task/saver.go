package task

import "runtime/debug"

// Saver saves by itself: it follows Autosave, takes the snapshot on the
// window's goroutine and writes it on another. Its methods are called on the
// window's goroutine.
type Saver struct {
	clock  Clock
	post   func(func())
	start  func(func())
	take   func() (write func() error)
	notify func(SaveState)

	policy  Autosave
	stop    func() // of the alarm
	running chan error
	err     error // of the last save, nil when it went well
	seq     int   // of the save under way, so that a flushed one is not counted twice
}

// SaveState is what the window shows.
type SaveState struct {
	Unsaved bool  // something is not in the store yet
	Saving  bool  // it is being written just now
	Err     error // why the last save failed; nil when it did not
}

// NewSaver gives a Saver. take is called on the window's goroutine and gives
// what is to be written; that is called on a goroutine of its own. post hands
// a function to the window's goroutine; notify, which may be nil, is told on
// it when the state changes.
func NewSaver(clock Clock, post func(func()), take func() (write func() error), notify func(SaveState)) *Saver {
	return &Saver{clock: clock, post: post, take: take, notify: notify, start: func(f func()) { go f() }}
}

// Inline makes the saver write on the window's own goroutine, for tests.
func (s *Saver) Inline() *Saver {
	s.start = func(f func()) { f() }
	return s
}

// State is the state to show.
func (s *Saver) State() SaveState {
	return SaveState{Unsaved: s.policy.Unsaved(), Saving: s.policy.Saving(), Err: s.err}
}

// Changed says that there is something new to save.
func (s *Saver) Changed() {
	s.policy.Changed(s.clock.Now())
	s.arm()
	s.tell()
}

// arm sets the alarm for the next save.
func (s *Saver) arm() {
	if s.stop != nil {
		s.stop()
		s.stop = nil
	}
	wait, ok := s.policy.Due(s.clock.Now())
	if !ok {
		return
	}
	s.stop = s.clock.AfterFunc(max(wait, 0), func() { s.post(s.ring) })
}

// ring saves if it is time; the alarm may be an old one.
func (s *Saver) ring() {
	if wait, ok := s.policy.Due(s.clock.Now()); ok && wait <= 0 {
		s.save()
	} else if ok {
		s.arm()
	}
}

func (s *Saver) save() {
	write := s.take()
	s.policy.Begin()
	s.seq++
	seq, done := s.seq, make(chan error, 1)
	s.running = done
	s.tell()
	s.start(func() {
		err := guardedWrite(write)
		done <- err
		s.post(func() { s.ended(seq, err) })
	})
}

// guardedWrite turns a panic into an error, so that it does not take the
// window along.
func guardedWrite(write func() error) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err = &Crash{Value: v, Stack: debug.Stack()}
		}
	}()
	return write()
}

func (s *Saver) ended(seq int, err error) {
	if seq != s.seq || !s.policy.Saving() {
		return // Flush has seen to it
	}
	s.running = nil
	s.err = err
	s.policy.Done(s.clock.Now(), err == nil)
	s.arm()
	s.tell()
}

// Flush saves at once whatever is not saved, on the caller's goroutine, after
// a save under way has ended: on closing and before an export. It gives the
// error of the save; nil when all is in the store.
func (s *Saver) Flush() error {
	if s.running != nil {
		err := <-s.running
		s.ended(s.seq, err)
	}
	if !s.policy.Unsaved() {
		return nil
	}
	if s.stop != nil {
		s.stop()
		s.stop = nil
	}
	write := s.take()
	s.policy.Begin()
	s.seq++
	s.ended(s.seq, guardedWrite(write))
	return s.err
}

func (s *Saver) tell() {
	if s.notify != nil {
		s.notify(s.State())
	}
}

package task

import "runtime/debug"

// SaverOptions are what a Saver works with. All are called on the window's
// goroutine.
type SaverOptions struct {
	Clock Clock
	// Post hands a function to the window's goroutine.
	Post func(f func())
	// Start runs f on a goroutine of its own; nil writes on the window's own,
	// for tests.
	Start func(f func())
	// Take gives what is to be written; that is called where Start runs it.
	Take func() (write func() error)
	// Notify, which may be nil, is told when the state changes.
	Notify func(SaveState)
}

// Saver saves by itself: it follows Autosave, takes the snapshot on the
// window's goroutine and writes it on another. Its methods are called on the
// window's goroutine.
type Saver struct {
	o       SaverOptions
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

// NewSaver gives a Saver with nothing to save.
func NewSaver(o SaverOptions) *Saver {
	if o.Start == nil {
		o.Start = func(f func()) { f() }
	}
	return &Saver{o: o}
}

// State is the state to show.
func (s *Saver) State() SaveState {
	return SaveState{Unsaved: s.policy.Unsaved(), Saving: s.policy.Saving(), Err: s.err}
}

// Changed says that there is something new to save.
func (s *Saver) Changed() {
	s.policy.Changed(s.o.Clock.Now())
	s.arm()
	s.tell()
}

// arm sets the alarm for the next save.
func (s *Saver) arm() {
	if s.stop != nil {
		s.stop()
		s.stop = nil
	}
	wait, ok := s.policy.Due(s.o.Clock.Now())
	if !ok {
		return
	}
	s.stop = s.o.Clock.AfterFunc(max(wait, 0), func() { s.o.Post(s.ring) })
}

// ring saves if it is time; the alarm may be an old one.
func (s *Saver) ring() {
	if wait, ok := s.policy.Due(s.o.Clock.Now()); ok && wait <= 0 {
		s.save()
	} else if ok {
		s.arm()
	}
}

func (s *Saver) save() {
	write := s.o.Take()
	s.policy.Begin()
	s.seq++
	seq, done := s.seq, make(chan error, 1)
	s.running = done
	s.tell()
	s.o.Start(func() {
		err := guardedWrite(write)
		done <- err
		s.o.Post(func() { s.ended(seq, err) })
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
	s.policy.Done(s.o.Clock.Now(), err == nil)
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
	write := s.o.Take()
	s.policy.Begin()
	s.seq++
	s.tell()
	s.ended(s.seq, guardedWrite(write))
	return s.err
}

func (s *Saver) tell() {
	if s.o.Notify != nil {
		s.o.Notify(s.State())
	}
}

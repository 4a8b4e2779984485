// Package session is the only thing that views talk to: the current job, what
// is selected, the preview of a drag, the plan that follows, and the news of
// every change. It lives on the goroutine of the user interface and holds no
// locks; work of its own comes back through Post.
package session

import (
	"time"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/task"
	"slipseat/app/words"
	"slipseat/engine/lay"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

// Topic says what a change touched; topics are bits and come together.
type Topic uint32

// Topics.
const (
	TopicJob       Topic = 1 << iota // the job's data, and with it the plan
	TopicLays                        // lays or figures that hang on them
	TopicSelection                   // selected seat, goods or stage
	TopicSaved                       // saved state
	TopicHistory                     // what can be undone and redone
	TopicJobs                        // the list of jobs
	TopicPage                        // start page or job
	TopicNotice                      // a message for the user
	TopicView                        // light or dark, units
	TopicAnswers                     // what would be if, and glue-ups that would save
)

// Change is one piece of news.
type Change struct {
	Rev    int64
	Topics Topic
}

// Has tells whether any of the topics was touched.
func (c Change) Has(t Topic) bool { return c.Topics&t != 0 }

// Stage is one of the six stages, left to right in the order of the work.
type Stage int

// Stages.
const (
	Outline Stage = iota
	BuildUp
	Roll
	Foam
	Order
	CutSheet
)

// Stages lists all stages in order.
func Stages() [6]Stage { return [6]Stage{Outline, BuildUp, Roll, Foam, Order, CutSheet} }

// Code names the stage in words and files.
func (s Stage) Code() string {
	return [...]string{"outline", "build-up", "roll", "foam", "order", "cut-sheet"}[s]
}

// SaveState says how the job on screen stands to the one on disk.
type SaveState struct {
	Dirty bool
	At    time.Time   // of the last save, zero when there was none yet
	Fault *unit.Fault // why the last try failed; the job is safe in memory
}

// Notice is a message for the user that stays until it is dismissed or
// replaced.
type Notice struct {
	Fault *unit.Fault // what went wrong, or
	Code  string      // words under "notice.<code>"
	Args  []unit.Arg
	// Undo, when set, is offered with the message.
	Undo func()
}

// Runner runs work away from the user interface. Start runs f on a goroutine
// of its own (or at once, in tests); Post brings a function back to the user
// interface's goroutine; After posts f when a time has passed.
type Runner interface {
	Start(f func())
	Post(f func())
	After(d time.Duration, f func()) (stop func())
	Now() time.Time
}

// Options are what a session needs from outside.
type Options struct {
	Store Store
	// Pictures keeps pictures; nil keeps them in memory.
	Pictures Pictures
	Runner   Runner
	Random   func([]byte)
	Words    *words.Words
	Demo     []byte // the demo job's file
	Workers  int    // for the search; at least 1
	// SearchFor bounds the search of one lay in the window.
	SearchFor time.Duration
	// Report writes a report of a fault of the program itself and gives its
	// path; nil writes none.
	Report func(value any, stack []byte, steps []string) (path string, err error)
	// SaveBeside writes saves on a goroutine of the runner's own, so that a
	// slow disk does not hold the window up; otherwise, as in tests, on the
	// user interface's.
	SaveBeside bool
}

// Session is the state of one window.
type Session struct {
	o    Options
	rev  int64
	subs map[int]func(Change)
	next int

	open     bool
	history  *edit.History
	preview  *job.Job
	faults   []unit.Fault // of the preview
	plan     *plan.Plan
	seat     job.ID
	goods    job.ID
	stage    Stage
	save     SaveState
	saver    *task.Saver
	taken    uint64 // revision of the history that is being saved
	saving   bool
	notice   *Notice
	infos    []JobInfo
	dark     string
	began    time.Time
	steps    []string // of what was done, for a report
	crashing bool

	lays    map[lay.ProblemID]lay.Lay
	best    map[lay.ProblemID]bool // searched to the end of the budget
	last    map[string]*Laid       // by goods, the lay that was shown last
	old     map[string]*Laid       // the lay before an input changed that matters
	refused map[lay.ProblemID][]unit.Fault
	tasks   task.Runner
	working map[lay.ProblemID]bool
	paused  bool

	shownPictures []shownPicture // unpacked, last used first
	asked         askState
}

// New makes a session on the start page.
func New(o Options) *Session {
	if o.Pictures == nil {
		o.Pictures = &memory{}
	}
	if o.Workers < 1 {
		o.Workers = 1
	}
	if o.SearchFor == 0 {
		o.SearchFor = 10 * time.Second
	}
	s := &Session{o: o, subs: map[int]func(Change){}, lays: map[lay.ProblemID]lay.Lay{}, best: map[lay.ProblemID]bool{},
		last: map[string]*Laid{}, old: map[string]*Laid{}, refused: map[lay.ProblemID][]unit.Fault{}, working: map[lay.ProblemID]bool{}}
	s.o.Runner, s.began = guardedRunner{o.Runner, s}, o.Runner.Now()
	s.saver, s.tasks = s.newSaver(), s.newTasks()
	s.dark, _ = o.Store.Setting("variant")
	s.refreshJobs()
	return s
}

// OnChange calls f after every change until stop is called.
func (s *Session) OnChange(f func(Change)) (stop func()) {
	id := s.next
	s.next++
	s.subs[id] = f
	return func() { delete(s.subs, id) }
}

func (s *Session) tell(t Topic) {
	s.rev++
	for id := range s.next {
		if f := s.subs[id]; f != nil {
			f(Change{s.rev, t})
		}
	}
}

// Rev counts the changes.
func (s *Session) Rev() int64 { return s.rev }

// Words is the catalogue.
func (s *Session) Words() *words.Words { return s.o.Words }

// IsOpen tells whether a job is open; otherwise the start page is shown.
func (s *Session) IsOpen() bool { return s.open }

// Job is the last committed snapshot.
func (s *Session) Job() job.Job {
	if s.history == nil {
		return job.Job{}
	}
	return s.history.Job()
}

// Shown is the job as it is on screen: with the preview of a drag.
func (s *Session) Shown() job.Job {
	if s.preview != nil {
		return *s.preview
	}
	return s.Job()
}

// Plan is what follows from the job on screen.
func (s *Session) Plan() *plan.Plan { return s.plan }

// PreviewFaults are what is wrong with the drag that is going on.
func (s *Session) PreviewFaults() []unit.Fault { return s.faults }

// Units are the job's units.
func (s *Session) Units() unit.Units { return s.Shown().Shown() }

// Seat is the selected seat.
func (s *Session) Seat() job.ID { return s.seat }

// Goods is the selected cloth or foam of the Roll and Foam stages; the first
// one of its kind when none was chosen.
func (s *Session) Goods(foam bool) job.ID {
	j := s.Shown()
	if foam {
		if f, ok := j.Foam(s.goods); ok {
			return f.ID
		}
		for _, f := range j.Foams {
			if s.plan != nil && s.plan.Find(string(f.ID)) != nil {
				return f.ID
			}
		}
		if len(j.Foams) > 0 {
			return j.Foams[0].ID
		}
		return ""
	}
	if c, ok := j.Cloth(s.goods); ok {
		return c.ID
	}
	if len(j.Cloths) > 0 {
		return j.Cloths[0].ID
	}
	return ""
}

// Select chooses a seat.
func (s *Session) Select(seat job.ID) {
	if seat != s.seat {
		s.seat = seat
		s.tell(TopicSelection)
	}
}

// SelectGoods chooses a cloth or foam.
func (s *Session) SelectGoods(id job.ID) {
	if id != s.goods {
		s.goods = id
		s.tell(TopicSelection)
	}
}

// Stage is the stage on screen.
func (s *Session) Stage() Stage { return s.stage }

// SetStage shows a stage.
func (s *Session) SetStage(st Stage) {
	if st != s.stage && st >= Outline && st <= CutSheet {
		s.step("stage " + st.Code())
		s.stage = st
		s.tell(TopicSelection)
		s.keepPlace()
	}
}

// Variant is "light", "dark" or "" for the system's choice.
func (s *Session) Variant() string { return s.dark }

// SetVariant chooses light, dark or the system's choice and keeps it.
func (s *Session) SetVariant(v string) {
	s.dark = v
	s.report(s.o.Store.SetSetting("variant", v))
	s.tell(TopicView)
}

// Notice is the message on screen; nil for none.
func (s *Session) Notice() *Notice { return s.notice }

// Dismiss takes the message away.
func (s *Session) Dismiss() {
	s.notice = nil
	s.tell(TopicNotice)
}

// Tell shows a message.
func (s *Session) Tell(n Notice) {
	s.notice = &n
	s.tell(TopicNotice)
}

// report shows an error as a message.
func (s *Session) report(err error) bool {
	if err == nil {
		return false
	}
	f := asFault(err)
	s.Tell(Notice{Fault: &f})
	return true
}

// CodeUnexpected is the fault of an error that has no words of its own.
const CodeUnexpected = "session.unexpected"

func asFault(err error) unit.Fault {
	switch f := err.(type) {
	case unit.Fault:
		return f
	case *unit.Fault:
		return *f
	case interface{ Unwrap() error }:
		if inner := f.Unwrap(); inner != nil {
			return asFault(inner)
		}
	}
	return unit.Fault{Code: CodeUnexpected, Args: []unit.Arg{unit.A("detail", err.Error())}}
}

// Do applies a command and makes it an entry of the history. The faults, if
// any, say why nothing was changed.
func (s *Session) Do(c edit.Command) (faults []unit.Fault) {
	s.safely(func() {
		if s.open {
			s.step("do " + c.Label(s.Job()).Code)
		}
		faults = s.do(c)
	})
	return faults
}

func (s *Session) do(c edit.Command) []unit.Fault {
	if !s.open {
		return nil
	}
	before := s.Job()
	next, faults := c.Apply(before)
	if len(faults) > 0 {
		return faults
	}
	s.preview, s.faults = nil, nil
	if !s.history.Commit(c.Label(before), next, s.o.Runner.Now()) {
		s.replan(true)
		s.tell(TopicJob | TopicLays)
		return nil
	}
	s.changed()
	return nil
}

// Preview shows what a command would do, without keeping it. It always starts
// from the last committed job, never from the preview before.
func (s *Session) Preview(c edit.Command) (faults []unit.Fault) {
	s.safely(func() { faults = s.showPreview(c) })
	return faults
}

func (s *Session) showPreview(c edit.Command) []unit.Fault {
	if !s.open {
		return nil
	}
	// The hand goes first: a search in the background would take the time that
	// the pictures of the drag need. It goes on after the drag.
	s.stopSearch()
	next, faults := c.Apply(s.Job())
	if len(faults) > 0 {
		s.faults = faults
	} else {
		s.preview, s.faults = &next, nil
		s.replan(false)
	}
	s.tell(TopicJob)
	return faults
}

// CancelPreview goes back to the last committed job.
func (s *Session) CancelPreview() {
	if s.preview == nil && s.faults == nil {
		return
	}
	s.preview, s.faults = nil, nil
	s.replan(true)
	s.tell(TopicJob | TopicLays)
}

// CanUndo gives the label of what Undo would take back.
func (s *Session) CanUndo() (edit.Label, bool) {
	if s.history == nil {
		return edit.Label{}, false
	}
	return s.history.CanUndo()
}

// CanRedo gives the label of what Redo would do again.
func (s *Session) CanRedo() (edit.Label, bool) {
	if s.history == nil {
		return edit.Label{}, false
	}
	return s.history.CanRedo()
}

// Undo takes the last change back.
func (s *Session) Undo() {
	s.step("undo")
	s.safely(func() {
		if s.history != nil && s.history.Undo() {
			s.preview, s.faults = nil, nil
			s.changed()
		}
	})
}

// Redo does the change that was taken back again.
func (s *Session) Redo() {
	s.step("redo")
	s.safely(func() {
		if s.history != nil && s.history.Redo() {
			s.preview, s.faults = nil, nil
			s.changed()
		}
	})
}

// changed follows a commit, an undo or a redo.
func (s *Session) changed() {
	if _, _, ok := s.Job().Seat(s.seat); !ok && len(s.Job().Seats) > 0 {
		s.seat = s.Job().Seats[0].ID
	}
	s.replan(true)
	s.forget()
	s.saver.Changed()
	s.save.Dirty = true
	s.tell(TopicJob | TopicHistory | TopicLays | TopicSaved)
}

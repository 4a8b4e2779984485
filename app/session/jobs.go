package session

import (
	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/store"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// JobInfo is what the list of jobs shows of one, Record a job with its history.
type (
	JobInfo = store.Info
	Record  = store.Record
)

// Store is what the session needs of a store; store.Store is one. Errors are
// unit.Faults.
type Store interface {
	Jobs() ([]JobInfo, error) // last changed first
	Load(id job.ID) (Record, error)
	Save(r Record) error
	Delete(id job.ID) error // into the trash
	Restore(id job.ID) error
	Duplicate(id, as job.ID, name string, label edit.Label) error
	Lays(id job.ID) (map[lay.ProblemID]lay.Lay, error)
	SaveLay(id job.ID, pid lay.ProblemID, l lay.Lay) error
	Trash() ([]JobInfo, error) // last deleted first
	Versions(id job.ID) ([]store.Version, error)
	Version(id job.ID, no uint64) (job.Job, error)
	KeepVersion(id job.ID, name string) error
	DropVersion(id job.ID, no uint64) error
	BackUp(always bool) (store.Backup, error)
	Backups() ([]store.Backup, error)
	Setting(key string) (string, error) // "" when not set
	SetSetting(key, value string) error
	Close() error
}

// CodeNoHistory is the fault of a stored job whose history cannot be read.
const CodeNoHistory = "session.no-history"

// Jobs lists the stored jobs, last changed first.
func (s *Session) Jobs() []JobInfo { return s.infos }

func (s *Session) refreshJobs() {
	infos, err := s.o.Store.Jobs()
	if s.report(err) {
		return
	}
	s.infos = infos
}

// NewJob makes a job in the given units and opens it.
func (s *Session) NewJob(units job.Units) {
	w := s.o.Words
	names := job.Names{Job: w.Label("new.job"), Seat: w.Label("new.seat"), Cover: w.Label("new.cover"), DustCloth: w.Label("new.dust-cloth"), Foam: w.Label("new.foam")}
	s.show(edit.NewHistory(job.New(s.o.Random, names, units), edit.Label{Code: "new-job"}, s.o.Runner.Now()), true)
}

// OpenDemo opens the demo job: the stored copy when there is one already.
func (s *Session) OpenDemo() {
	j, err := job.Decode(s.o.Demo)
	if s.report(err) {
		return
	}
	for _, info := range s.infos {
		if info.ID == j.ID {
			s.OpenJob(j.ID)
			return
		}
	}
	s.show(edit.NewHistory(j, edit.Label{Code: "open-job"}, s.o.Runner.Now()), true)
}

// OpenJob opens a stored job.
func (s *Session) OpenJob(id job.ID) {
	r, err := s.o.Store.Load(id)
	if s.report(err) {
		return
	}
	h, ok := edit.Resume(r.Log)
	if !ok {
		s.report(unit.Fault{Code: CodeNoHistory})
		return
	}
	s.step("open")
	if !s.safely(func() { s.show(h, false) }) {
		return
	}
	if f := r.Loss(); f != nil && s.open && s.Job().ID == id {
		s.Tell(Notice{Fault: f})
	}
}

// Delete takes a stored job away; the message offers it back.
func (s *Session) Delete(id job.ID) {
	var name string
	for _, info := range s.infos {
		if info.ID == id {
			name = info.Name
		}
	}
	if s.open && s.Job().ID == id {
		s.CloseJob()
	}
	if s.report(s.o.Store.Delete(id)) {
		return
	}
	s.refreshJobs()
	s.Tell(Notice{Code: "job-deleted", Args: []unit.Arg{unit.A("name", name)}, Undo: func() {
		s.report(s.o.Store.Restore(id))
		s.notice = nil
		s.refreshJobs()
		s.tell(TopicJobs | TopicNotice)
	}})
	s.tell(TopicJobs)
}

// show puts a history on screen; fresh asks for a first save.
func (s *Session) show(h *edit.History, fresh bool) {
	if !s.Flush() {
		return // the job that is open is nowhere but here
	}
	s.stopSearch()
	s.askNothing()
	s.history, s.open = h, true
	s.preview, s.faults, s.notice = nil, nil, nil
	s.save = SaveState{At: s.o.Runner.Now()}
	s.lays, s.best, s.refused = map[lay.ProblemID]lay.Lay{}, map[lay.ProblemID]bool{}, map[lay.ProblemID][]unit.Fault{}
	s.last, s.old = map[string]*Laid{}, map[string]*Laid{}
	j := s.Job()
	if stored, err := s.o.Store.Lays(j.ID); err == nil {
		for id, l := range stored {
			s.lays[id] = l
		}
	}
	s.seat, s.goods, s.stage = "", "", Outline
	if len(j.Seats) > 0 {
		s.seat = j.Seats[0].ID
	}
	s.findPlace()
	s.replan(true)
	s.findOld()
	if fresh {
		s.saver.Changed()
		s.Flush()
	}
	s.report(s.o.Store.SetSetting("last-job", string(j.ID)))
	s.tell(TopicPage | TopicJob | TopicLays | TopicSelection | TopicHistory | TopicSaved | TopicNotice)
}

// CloseJob saves and goes back to the start page. A job that cannot be saved
// stays open.
func (s *Session) CloseJob() {
	if !s.Flush() {
		return
	}
	s.stopSearch()
	s.askNothing()
	s.history, s.open, s.plan, s.preview = nil, false, nil, nil
	s.refreshJobs()
	s.tell(TopicPage | TopicJobs)
}

// keepPlace remembers the stage and the seat, so that the job opens where it
// was left.
func (s *Session) keepPlace() {
	if s.open {
		s.report(s.o.Store.SetSetting("place-"+string(s.Job().ID), s.stage.Code()+" "+string(s.seat)))
	}
}

func (s *Session) findPlace() {
	text, _ := s.o.Store.Setting("place-" + string(s.Job().ID))
	for _, st := range Stages() {
		code := st.Code() + " "
		if len(text) > len(code) && text[:len(code)] == code {
			s.stage = st
			if _, _, ok := s.Job().Seat(job.ID(text[len(code):])); ok {
				s.seat = job.ID(text[len(code):])
			}
		}
	}
}

// Last is the job that was open last, empty when there was none or it is gone.
func (s *Session) Last() job.ID {
	id, _ := s.o.Store.Setting("last-job")
	for _, info := range s.infos {
		if string(info.ID) == id {
			return info.ID
		}
	}
	return ""
}

// Close saves and lets go of the store.
func (s *Session) Close() error {
	s.Flush()
	s.keepPlace()
	s.stopSearch()
	if s.save.Fault != nil {
		return *s.save.Fault
	}
	s.tasks.Close()
	if s.asked.run != nil {
		s.asked.run.Close()
	}
	return s.o.Store.Close()
}

package session

import (
	"slipseat/app/edit"
	"slipseat/app/job"
)

// Peek reads a stored job without opening it, for its picture in the list.
func (s *Session) Peek(id job.ID) (job.Job, bool) {
	if s.open && s.Job().ID == id {
		return s.Job(), true
	}
	r, err := s.o.Store.Load(id)
	if err != nil || !r.Log.Valid() {
		return job.Job{}, false
	}
	return r.Log.Job(), true
}

// Rename gives a stored job another name; the change can be undone when the
// job is opened. An empty name changes nothing.
func (s *Session) Rename(id job.ID, name string) {
	if name == "" {
		return
	}
	if s.open && s.Job().ID == id {
		if faults := s.Do(edit.Rename(id, name)); len(faults) > 0 {
			s.Tell(Notice{Fault: &faults[0]})
		}
		return
	}
	r, err := s.o.Store.Load(id)
	if s.report(err) {
		return
	}
	h, ok := edit.Resume(r.Log)
	if !ok {
		return
	}
	c := edit.Rename(id, name)
	next, faults := c.Apply(h.Job())
	if len(faults) > 0 {
		s.Tell(Notice{Fault: &faults[0]})
		return
	}
	now := s.o.Runner.Now()
	h.Commit(c.Label(h.Job()), next, now)
	r.Log, r.Info.Name, r.Info.Changed = h.Log(), next.Name, now
	s.report(s.o.Store.Save(r))
	s.refreshJobs()
	s.tell(TopicJobs)
}

package session

import (
	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/engine/lay"
	"slipseat/engine/plan"
	"slipseat/engine/unit"
)

// OpenBytes opens a job file with the lays that travel in it. A stored job
// with its ID is not overwritten: the opened one becomes a copy with an ID of
// its own.
func (s *Session) OpenBytes(data []byte) {
	f, err := job.DecodeFile(data)
	if s.report(err) {
		return
	}
	for _, info := range s.infos {
		if info.ID == f.Job.ID {
			f.Job.ID = job.NewID(s.o.Random)
		}
	}
	s.takePictures(f.Pictures)
	s.show(edit.NewHistory(f.Job, edit.Label{Code: "open-job"}, s.o.Runner.Now()), true)
	if s.open && s.Job().ID == f.Job.ID {
		s.takeIn(f.Lays)
	}
}

// takeIn takes in lays from elsewhere: those that answer a problem of the job
// on screen, pass the judge, and are better than what is there.
func (s *Session) takeIn(lays []job.SavedLay) {
	var list []finding
	for _, g := range s.plan.Goods {
		for _, l := range lays {
			for _, a := range g.Searches() {
				if l.Problem == a.PID && len(lay.Check(a.Problem, l.Lay)) == 0 {
					list = append(list, finding{p: a.Problem, id: a.PID, l: l.Lay})
				}
			}
		}
	}
	if len(list) == 0 {
		return
	}
	s.found(list)
	for _, f := range list {
		s.keepLay(s.Job().ID, f)
	}
	if s.plan.Pending {
		return
	}
	s.improve() // from the lays that came
}

// Bytes is the open job as a file, with the lays that are on screen.
func (s *Session) Bytes() []byte {
	f := job.File{Job: s.Job(), Pictures: s.picturesOf(s.Job())}
	p := s.plan
	if s.preview != nil { // the lays of a drag are not those of the job
		p = plan.Make(f.Job.Input(), nil, s.layOf)
	}
	for _, g := range p.Goods {
		if g.Lay != nil {
			f.Lays = append(f.Lays, job.SavedLay{Problem: g.PID, Lay: *g.Lay})
		}
	}
	return job.EncodeFile(f)
}

// Duplicate makes a copy of a stored job, with its lays, and opens it.
func (s *Session) Duplicate(id job.ID) {
	if !s.Flush() {
		return
	}
	name := ""
	for _, info := range s.infos {
		if info.ID == id {
			name = info.Name
		}
	}
	as := job.NewID(s.o.Random)
	if s.report(s.o.Store.Duplicate(id, as, s.o.Words.Label("job.copy-of", unit.A("name", name)), edit.Label{Code: "open-job"})) {
		return
	}
	s.refreshJobs()
	s.OpenJob(as)
}

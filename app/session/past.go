package session

import (
	"cmp"
	"slices"
	"time"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/store"
	"slipseat/engine/unit"
)

// Past is a state of the open job that can be looked at and brought back: a
// version that was kept, or an entry of its history.
type Past struct {
	At    time.Time
	Name  string // that the user gave it
	Auto  bool   // kept by the program after a pause
	Label edit.Label
	// Kept tells a version from an entry; No is its number, or the entry's.
	Kept    bool
	No      uint64
	Current bool // the state the job is in
}

// Past lists the states of the open job, the latest first; a version stands
// before an entry of the same time.
func (s *Session) Past() []Past {
	if s.history == nil {
		return nil
	}
	var list []Past
	l := s.history.Log()
	for i, e := range l.Entries {
		list = append(list, Past{At: e.At, Label: e.Label, No: e.Seq, Current: i == l.Cursor})
	}
	kept, err := s.o.Store.Versions(s.Job().ID)
	s.report(err)
	for _, v := range kept {
		list = append(list, Past{At: v.At, Name: v.Name, Auto: v.Auto, Kept: true, No: v.No})
	}
	slices.SortStableFunc(list, func(a, b Past) int {
		return cmp.Or(b.At.Compare(a.At), cmp.Compare(rank(a), rank(b)), cmp.Compare(b.No, a.No))
	})
	return list
}

func rank(p Past) int {
	if p.Kept {
		return 0
	}
	return 1
}

// PastJob gives the job as it was. A version that cannot be read is told as a
// message.
func (s *Session) PastJob(p Past) (job.Job, bool) {
	if s.history == nil {
		return job.Job{}, false
	}
	if p.Kept {
		j, err := s.o.Store.Version(s.Job().ID, p.No)
		return j, !s.report(err)
	}
	for _, e := range s.history.Log().Entries {
		if e.Seq == p.No {
			return e.Job, true
		}
	}
	return job.Job{}, false
}

// BringBack makes the job again what it was. That is a change like any other
// and can be undone.
func (s *Session) BringBack(p Past) {
	if j, ok := s.PastJob(p); ok {
		if faults := s.Do(edit.BringBack{To: j, Time: p.At.Local().Format("2006-01-02 15:04")}); len(faults) > 0 {
			s.Tell(Notice{Fault: &faults[0]})
		}
	}
}

// KeepVersion keeps the job as it is under a name.
func (s *Session) KeepVersion(name string) bool {
	if !s.open || !s.Flush() {
		return false
	}
	return !s.report(s.o.Store.KeepVersion(s.Job().ID, name))
}

// DropVersion lets go of a version that was kept.
func (s *Session) DropVersion(p Past) {
	if s.open && p.Kept {
		s.report(s.o.Store.DropVersion(s.Job().ID, p.No))
	}
}

// Deleted lists the deleted jobs, last deleted first.
func (s *Session) Deleted() []JobInfo {
	list, err := s.o.Store.Trash()
	s.report(err)
	return list
}

// Restore brings a deleted job back and opens it.
func (s *Session) Restore(id job.ID) {
	if s.report(s.o.Store.Restore(id)) {
		return
	}
	s.refreshJobs()
	s.tell(TopicJobs)
	s.OpenJob(id)
}

// Backups lists the backups of all jobs, the latest first.
func (s *Session) Backups() []store.Backup {
	list, err := s.o.Store.Backups()
	s.report(err)
	return list
}

// BackUpNow makes a backup and tells whether that went well.
func (s *Session) BackUpNow() bool {
	if !s.Flush() {
		return false
	}
	_, err := s.o.Store.BackUp(true)
	return !s.report(err)
}

// InBackup lists the jobs of a backup.
func (s *Session) InBackup(b store.Backup) []JobInfo {
	list, _, err := store.InBackup(b.Path)
	s.report(err)
	return list
}

// FromBackup opens a job of a backup. One that is still there is left alone:
// the other becomes a copy with the day in its name.
func (s *Session) FromBackup(b store.Backup, id job.ID) {
	_, load, err := store.InBackup(b.Path)
	if s.report(err) || !s.Flush() {
		return
	}
	r, ok := load(id)
	if !ok {
		s.report(unit.Fault{Code: CodeNoHistory})
		return
	}
	there := false
	for _, info := range s.infos {
		there = there || info.ID == id
	}
	if there {
		j := r.Log.Job()
		j.ID = job.NewID(s.o.Random)
		name := []rune(s.o.Words.Label("job.from-backup", unit.A("name", j.Name), unit.A("time", b.At.Local().Format("2006-01-02 15:04"))))
		j.Name = string(name[:min(len(name), 200)])
		s.show(edit.NewHistory(j, edit.Label{Code: "open-job"}, s.o.Runner.Now()), true)
		return
	}
	if s.report(s.o.Store.Save(r)) {
		return
	}
	s.refreshJobs()
	s.OpenJob(id)
}

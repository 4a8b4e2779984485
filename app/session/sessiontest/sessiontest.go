// Package sessiontest has what tests of the session and of the views need: a
// store in memory and a runner that does everything at once.
package sessiontest

import (
	"maps"
	"sort"
	"time"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/app/store"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// Store keeps everything in memory.
type Store struct {
	Records  map[job.ID]session.Record
	Bin      map[job.ID]session.Record
	Kept     map[job.ID][]Kept
	Made     []store.Backup // by BackUp
	LayMap   map[job.ID]map[lay.ProblemID]lay.Lay
	Settings map[string]string
	Fail     *unit.Fault // returned by Save when set
	Saves    int
}

// NewStore is an empty store.
func NewStore() *Store {
	return &Store{Records: map[job.ID]session.Record{}, Bin: map[job.ID]session.Record{}, LayMap: map[job.ID]map[lay.ProblemID]lay.Lay{}, Settings: map[string]string{}}
}

// Jobs lists the jobs, last changed first.
func (s *Store) Jobs() ([]session.JobInfo, error) {
	var out []session.JobInfo
	for _, r := range s.Records {
		out = append(out, r.Info)
	}
	sort.Slice(out, func(i, j int) bool {
		if !out[i].Changed.Equal(out[j].Changed) {
			return out[i].Changed.After(out[j].Changed)
		}
		return out[i].ID < out[j].ID
	})
	return out, nil
}

// Load gives a stored job.
func (s *Store) Load(id job.ID) (session.Record, error) {
	r, ok := s.Records[id]
	if !ok {
		return r, unit.Fault{Code: "store.no-job"}
	}
	return r, nil
}

// Save stores a job, or fails with Fail.
func (s *Store) Save(r session.Record) error {
	if s.Fail != nil {
		return *s.Fail
	}
	s.Saves++
	s.Records[r.Info.ID] = r
	return nil
}

// Delete moves a job to the bin.
func (s *Store) Delete(id job.ID) error {
	s.Bin[id] = s.Records[id]
	delete(s.Records, id)
	return nil
}

// Restore brings a job back from the bin.
func (s *Store) Restore(id job.ID) error {
	s.Records[id] = s.Bin[id]
	delete(s.Bin, id)
	return nil
}

// Duplicate stores a copy of a job with its lays.
func (s *Store) Duplicate(id, as job.ID, name string, label edit.Label) error {
	r, ok := s.Records[id]
	if !ok {
		return unit.Fault{Code: "store.no-job"}
	}
	j := r.Log.Job()
	j.ID, j.Name = as, name
	s.Records[as] = session.Record{Log: edit.NewHistory(j, label, r.Info.Changed).Log(), Info: store.InfoOf(j, r.Info.Changed)}
	s.LayMap[as] = maps.Clone(s.LayMap[id])
	return nil
}

// Lays gives the lays of a job.
func (s *Store) Lays(id job.ID) (map[lay.ProblemID]lay.Lay, error) { return s.LayMap[id], nil }

// SaveLay keeps a lay.
func (s *Store) SaveLay(id job.ID, pid lay.ProblemID, l lay.Lay) error {
	if s.LayMap[id] == nil {
		s.LayMap[id] = map[lay.ProblemID]lay.Lay{}
	}
	s.LayMap[id][pid] = l
	return nil
}

// Kept is a version that was kept.
type Kept struct {
	store.Version
	Job job.Job
}

// Trash lists the bin.
func (s *Store) Trash() ([]session.JobInfo, error) {
	var out []session.JobInfo
	for _, r := range s.Bin {
		out = append(out, r.Info)
	}
	sort.Slice(out, func(i, j int) bool { return out[i].ID < out[j].ID })
	return out, nil
}

// Versions lists the versions of a job, the latest first.
func (s *Store) Versions(id job.ID) ([]store.Version, error) {
	var out []store.Version
	for _, k := range s.Kept[id] {
		out = append([]store.Version{k.Version}, out...)
	}
	return out, nil
}

// Version gives one.
func (s *Store) Version(id job.ID, no uint64) (job.Job, error) {
	for _, k := range s.Kept[id] {
		if k.No == no {
			return k.Job, nil
		}
	}
	return job.Job{}, unit.Fault{Code: store.CodeNoJob}
}

// KeepVersion keeps a job as it is stored.
func (s *Store) KeepVersion(id job.ID, name string) error {
	r, ok := s.Records[id]
	if !ok {
		return unit.Fault{Code: store.CodeNoJob}
	}
	if s.Kept == nil {
		s.Kept = map[job.ID][]Kept{}
	}
	s.Kept[id] = append(s.Kept[id], Kept{store.Version{No: uint64(len(s.Kept[id]) + 1), At: r.Info.Changed, Name: name, Seats: r.Info.Seats}, r.Log.Job()})
	return nil
}

// DropVersion lets go of one.
func (s *Store) DropVersion(id job.ID, no uint64) error {
	var rest []Kept
	for _, k := range s.Kept[id] {
		if k.No != no {
			rest = append(rest, k)
		}
	}
	s.Kept[id] = rest
	return nil
}

// BackUp notes that a backup was asked for; nothing is written.
func (s *Store) BackUp(bool) (store.Backup, error) {
	b := store.Backup{Path: "backup", At: time.Date(2026, 11, 24, 10, 0, 0, 0, time.UTC)}
	s.Made = append(s.Made, b)
	return b, nil
}

// Backups lists those.
func (s *Store) Backups() ([]store.Backup, error) { return s.Made, nil }

// Setting reads a setting.
func (s *Store) Setting(key string) (string, error) { return s.Settings[key], nil }

// SetSetting keeps a setting.
func (s *Store) SetSetting(key, value string) error { s.Settings[key] = value; return nil }

// Close does nothing.
func (s *Store) Close() error { return nil }

// Runner runs posted work at once and timers when the test moves the clock.
// Work that would run in the background is dropped unless Background is set.
type Runner struct {
	Clock      time.Time
	Background bool
	timers     []*timer
}

type timer struct {
	at   time.Time
	f    func()
	done bool
}

// NewRunner starts at a fixed time.
func NewRunner() *Runner {
	return &Runner{Clock: time.Date(2026, 11, 24, 10, 42, 0, 0, time.UTC)}
}

// Start runs f at once if Background is set.
func (r *Runner) Start(f func()) {
	if r.Background {
		f()
	}
}

// Post runs f at once.
func (r *Runner) Post(f func()) { f() }

// After notes f for Advance.
func (r *Runner) After(d time.Duration, f func()) (stop func()) {
	t := &timer{at: r.Clock.Add(d), f: f}
	r.timers = append(r.timers, t)
	return func() { t.done = true }
}

// Now is the test's clock.
func (r *Runner) Now() time.Time { return r.Clock }

// Advance moves the clock and runs what has come due.
func (r *Runner) Advance(d time.Duration) {
	r.Clock = r.Clock.Add(d)
	due := r.timers
	r.timers = nil
	for _, t := range due {
		switch {
		case t.done:
		case t.at.After(r.Clock):
			r.timers = append(r.timers, t)
		default:
			t.f()
		}
	}
}

// Random is a source of bytes that is the same in every test.
func Random() func([]byte) {
	n := byte(0)
	return func(b []byte) {
		for i := range b {
			n = n*73 + 41
			b[i] = n
		}
	}
}

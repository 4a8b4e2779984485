// Package store keeps the user's jobs: in one bolt file, in a folder of the
// user's own. It is the only package that knows bolt.
//
// The folder holds slipseat.bolt, slipseat.lock, which one window holds at a
// time, and the folders pictures, backups, set-aside (damaged files that were
// recovered from) and reports (of faults of the program itself). The file has the buckets
//
//	meta                     version of the buckets' layout
//	jobs/<id>                job, info; history: log, e<seq>, c<chunk>; lays: <problem>; versions: v<no>
//	trash/<id>               the same, of deleted jobs
//	shelf, cloths, foams     the user's own libraries
//	settings                 texts by name
//
// Every value is framed with a checksum (frame.go). A file is examined page by
// page before bolt is let near it (pages.go), and whatever bolt still panics
// about becomes an error here (guard.go). All errors are unit.Faults.
package store

import (
	"errors"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/boltdb/bolt"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// Info is what a list of jobs shows of one.
type Info struct {
	ID       job.ID    `json:"id"`
	Name     string    `json:"name"`
	Customer string    `json:"customer"`
	Changed  time.Time `json:"changed"`
	Seats    int       `json:"seats"` // chairs in all
	Kinds    int       `json:"kinds"`
	// Status is where the job stands, one of job.Status's words.
	Status job.Status `json:"status"`
	// Damaged: nothing of the job can be read.
	Damaged bool `json:"-"`
}

// InfoOf gives the facts of a job that was changed at a time.
func InfoOf(j job.Job, changed time.Time) Info {
	info := Info{ID: j.ID, Name: j.Name, Customer: j.Customer, Changed: changed, Kinds: len(j.Seats), Status: j.Status}
	for _, s := range j.Seats {
		info.Seats += s.Count
	}
	return info
}

// Record is a job with its history, as it is stored in one transaction.
type Record struct {
	Log  edit.Log // valid
	Info Info
	// Lost counts the versions that could not be read back. The job itself is
	// there, from its own place or from its history.
	Lost int
}

// Loss says that versions were lost; nil when none was.
func (r Record) Loss() *unit.Fault {
	if r.Lost == 0 {
		return nil
	}
	return &unit.Fault{Code: CodeLost, Args: []unit.Arg{unit.A("versions", r.Lost)}}
}

// Store keeps jobs. It may be used by several goroutines.
type Store interface {
	// Jobs lists the stored jobs, last changed first.
	Jobs() ([]Info, error)
	// Load gives a job with its history.
	Load(id job.ID) (Record, error)
	// Save stores a job with its history in one transaction: all of it or
	// nothing.
	Save(r Record) error
	// Delete moves a job into the trash, Restore brings it back. The trash
	// keeps jobs for KeepTrash.
	Delete(id job.ID) error
	Restore(id job.ID) error
	// Trash lists the deleted jobs, last deleted first; Changed is when they
	// were.
	Trash() ([]Info, error)
	// Duplicate stores a copy of a job under another ID and name, with a
	// history of its own that starts with label, and its lays.
	Duplicate(id, as job.ID, name string, label edit.Label) error
	// Lays gives the lays of a job.
	Lays(id job.ID) (map[lay.ProblemID]lay.Lay, error)
	// SaveLay keeps a lay of a stored job if it is better than the one that is
	// there; the KeepLays latest are kept.
	SaveLay(id job.ID, pid lay.ProblemID, l lay.Lay) error
	// Items lists what is in a library, the latest first, and counts what cannot
	// be read. PutItem puts one in, in place of what was there under its ID;
	// whether it is reserved stays as it was. DropItem takes one out, unless it
	// is reserved.
	Items(of Library) (items []Item, lost int, err error)
	PutItem(of Library, it Item) error
	DropItem(of Library, id job.ID) error
	// SaveWith stores a job and changes the shelf in the same transaction.
	// Deleting a job frees what it had reserved.
	SaveWith(r Record, c ShelfChange) error
	// Versions lists the versions that are kept of a job, the latest first;
	// Version gives one. KeepVersion keeps the job as it is stored under a name,
	// DropVersion lets go of one.
	Versions(id job.ID) ([]Version, error)
	Version(id job.ID, no uint64) (job.Job, error)
	KeepVersion(id job.ID, name string) error
	DropVersion(id job.ID, no uint64) error
	// Setting gives the text of a setting, "" when it is not set.
	Setting(key string) (string, error)
	// SetSetting sets it; "" takes it away.
	SetSetting(key, value string) error
	// BackUp makes a backup when one is due, or always; the zero Backup says
	// that none was. Backups lists what there is.
	BackUp(always bool) (Backup, error)
	Backups() ([]Backup, error)
	// Home is the folder that the store is in.
	Home() string
	// Notes are faults that were noticed on opening and did not stop it.
	Notes() []unit.Fault
	// Close lets go of the file. Nothing can be done with the store after.
	Close() error
}

// How much is kept.
const (
	KeepLays  = 50
	KeepTrash = 30 * 24 * time.Hour
)

// Names of the files in the folder.
const (
	FileName     = "slipseat.bolt"
	lockName     = "slipseat.lock"
	PicturesName = "pictures"
)

// Options say where the store is and what it runs on. The zero value is the
// user's own store.
type Options struct {
	Folder string           // Folder() when empty
	Now    func() time.Time // time.Now when nil
	// Wait is how long to wait for another window to let go; 1 s when 0.
	Wait time.Duration
	// Hook, for tests, is asked before a step and can make it fail. The steps
	// are "folder", "lock", "examine", "open" and "commit", and of files that
	// the store writes besides bolt "create", "write", "sync" and "rename".
	Hook func(step string) error
}

// Folder is the folder of the user's own store: SLIPSEAT_HOME, else slipseat
// in the user's configuration folder.
func Folder() (string, error) {
	if home := os.Getenv("SLIPSEAT_HOME"); home != "" {
		return home, nil
	}
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", unit.Fault{Code: CodeFolder, Args: []unit.Arg{unit.A("path", "~"), unit.A("detail", err.Error())}}
	}
	return filepath.Join(dir, "slipseat"), nil
}

// file is a Store in a bolt file.
type file struct {
	path  string
	now   func() time.Time
	hook  func(string) error
	lock  *lock
	db    *bolt.DB
	peek  *os.File    // the file that was opened, to see whether it is still there
	id    os.FileInfo // of it
	notes []unit.Fault

	use    sync.RWMutex // held for reading while bolt is used; closing waits
	mu     sync.Mutex   // of what follows, and held through every write
	broken *unit.Fault
	closed bool
	cached cachedLog
}

var _ Store = (*file)(nil)

// Open opens the store and makes it when there is none. A file that is damaged
// is refused and left as it is.
func Open(o Options) (Store, error) {
	s, err := open(o)
	if err != nil {
		return nil, err
	}
	return s, nil
}

func open(o Options) (_ *file, err error) {
	if o.Folder == "" {
		if o.Folder, err = Folder(); err != nil {
			return nil, err
		}
	}
	o = o.filled()
	s := &file{path: filepath.Join(o.Folder, FileName), now: o.Now, hook: o.Hook}
	if err := s.step("folder", func() error { return os.MkdirAll(filepath.Join(o.Folder, PicturesName), 0o700) }); err != nil {
		return nil, s.fault(err, CodeFolder)
	}
	if err := s.step("lock", func() (err error) {
		s.lock, err = takeLock(filepath.Join(o.Folder, lockName), o.Wait)
		return err
	}); err != nil {
		return nil, s.fault(err, CodeFolder)
	}
	defer func() {
		if err != nil {
			s.lock.release()
		}
	}()
	if err := s.step("examine", s.examineOrMake); err != nil {
		return nil, s.fault(err, CodeRead)
	}
	if err := s.step("open", func() error { return s.openBolt(o.Wait) }); err != nil {
		return nil, s.fault(err, CodeRead)
	}
	if err := s.setUp(); err != nil {
		s.db.Close()
		return nil, err
	}
	return s, nil
}

// step asks the hook, then does the step.
func (s *file) step(name string, do func() error) error {
	if err := s.hook(name); err != nil {
		return err
	}
	return do()
}

// examineOrMake looks a file over page by page before bolt opens it. A new one
// is made beside its place and moved there whole, so that an empty file in its
// place is always damage.
func (s *file) examineOrMake() error {
	r, err := Examine(s.path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return s.make()
	case err != nil:
		return err
	case r.Fault != nil:
		return *r.Fault
	}
	if r.OneHeader {
		s.notes = append(s.notes, s.named(CodeOneHeader))
	}
	for _, at := range r.Damaged {
		s.notes = append(s.notes, unit.Fault{Code: CodeValue, Args: []unit.Arg{unit.A("key", at)}})
	}
	_ = s.compact(r) // a file that stays large does no harm
	return nil
}

func (s *file) openBolt(wait time.Duration) error {
	return guarded(func() (err error) {
		if s.db, err = bolt.Open(s.path, 0o600, &bolt.Options{Timeout: wait}); err != nil {
			return err
		}
		if s.peek, err = os.Open(s.path); err != nil {
			return err
		}
		s.id, err = s.peek.Stat()
		return err
	})
}

// Backups implements Store.
func (s *file) Backups() ([]Backup, error) {
	list, err := Backups(s.path)
	if err != nil {
		return nil, s.fault(err, CodeRead)
	}
	return list, nil
}

// Home implements Store.
func (s *file) Home() string { return filepath.Dir(s.path) }

// Notes implements Store.
func (s *file) Notes() []unit.Fault { return append([]unit.Fault(nil), s.notes...) }

// Close implements Store.
func (s *file) Close() error {
	s.use.Lock()
	defer s.use.Unlock()
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closed {
		return nil
	}
	s.closed = true
	defer s.lock.release()
	if s.peek != nil {
		defer s.peek.Close()
	}
	if s.broken != nil {
		return nil // bolt's own locks may never open again; the file is whole up to its last commit
	}
	if err := guarded(s.db.Close); err != nil {
		return s.fault(err, CodeWrite)
	}
	return nil
}

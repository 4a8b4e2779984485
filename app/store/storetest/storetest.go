// Package storetest opens stores for tests and looks them over when the test
// ends: the file's structure, every checksum, and every job.
package storetest

import (
	"path/filepath"
	"sync"
	"testing"
	"time"

	"slipseat/app/store"
)

// Store is a store in a folder of its own, with a clock by hand and commits
// that can be made to fail. It passes itself off as the store that is open.
type Store struct {
	store.Store
	Folder string

	t    testing.TB
	mu   sync.Mutex
	now  time.Time
	fail []error
}

// Start is what the clock of a new Store shows.
var Start = time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)

// Open opens a new store. At the end of the test it is closed and checked.
func Open(t testing.TB) *Store {
	t.Helper()
	s := &Store{t: t, Folder: t.TempDir(), now: Start}
	s.open()
	t.Cleanup(func() {
		s.Check()
		if err := s.Store.Close(); err != nil {
			t.Errorf("store: closing: %v", err)
		}
	})
	return s
}

func (s *Store) open() {
	s.t.Helper()
	st, err := store.Open(store.Options{Folder: s.Folder, Now: s.Now, Hook: s.hook})
	if err != nil {
		s.t.Fatalf("store: %v", err)
	}
	s.Store = st
}

// Reopen closes and opens the store, as a restart does.
func (s *Store) Reopen() {
	s.t.Helper()
	if err := s.Store.Close(); err != nil {
		s.t.Fatalf("store: closing: %v", err)
	}
	s.open()
	if notes := s.Notes(); len(notes) > 0 {
		s.t.Errorf("store: noticed on opening: %v", notes)
	}
}

// Path is the store's file.
func (s *Store) Path() string { return filepath.Join(s.Folder, store.FileName) }

// Check looks the store over: the structure of the file, every checksum, and
// that every job listed can be loaded with its whole history.
func (s *Store) Check() {
	s.t.Helper()
	r, err := store.Examine(s.Path())
	if err != nil || r.Fault != nil || r.OneHeader || len(r.Damaged) > 0 {
		s.t.Errorf("store: examined: %v %+v", err, r)
		return
	}
	infos, err := s.Jobs()
	if err != nil {
		s.t.Errorf("store: %v", err)
	}
	for _, info := range infos {
		rec, err := s.Load(info.ID)
		if err != nil || rec.Lost > 0 || info.Damaged {
			s.t.Errorf("store: job %s: %v, %d versions lost", info.ID, err, rec.Lost)
		}
	}
}

// Now is the store's clock; Advance moves it.
func (s *Store) Now() time.Time {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.now
}

// Advance moves the store's clock, back when d is negative.
func (s *Store) Advance(d time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.now = s.now.Add(d)
}

// FailNextCommit makes the next commit of s fail with err.
func FailNextCommit(s *Store, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.fail = append(s.fail, err)
}

func (s *Store) hook(step string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if step != "commit" || len(s.fail) == 0 {
		return nil
	}
	err := s.fail[0]
	s.fail = s.fail[1:]
	return err
}

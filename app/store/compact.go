package store

import (
	"errors"
	"os"
	"path/filepath"
	"time"

	"github.com/boltdb/bolt"
)

// compact copies a file without the room that deleted things left in it, when
// that is worth it.
func (s *file) compact(r Report) error {
	if r.Free*r.Size < compactAbove || r.Free*2 < r.Pages || len(r.Damaged) > 0 {
		return nil
	}
	fresh := s.path + ".new"
	defer os.Remove(fresh)
	// The old file is closed only after the new one is: until its transaction is
	// through, bolt holds on to the memory of the values it was given.
	db, err := bolt.Open(s.path, 0o600, &bolt.Options{Timeout: time.Second, ReadOnly: true})
	if err != nil {
		return err
	}
	defer db.Close()
	err = db.View(func(from *bolt.Tx) error {
		return s.makeAt(fresh, func(to *bolt.Tx) error { return copyAll(to, from) })
	})
	if err != nil {
		return err
	}
	after, err := Examine(fresh)
	if err != nil || after.Fault != nil || len(after.Damaged) > 0 || after.Values != r.Values {
		return errors.Join(err, damaged("the smaller copy is not whole"))
	}
	if err := db.Close(); err != nil { // some systems rename no open file
		return err
	}
	return moveTo(fresh, s.path, s.hook)
}

// compactAbove is how many bytes must be free before a file is made smaller.
const compactAbove = 4 << 20

// revive makes the file again from what is still open, when it was removed
// while the program runs. (One that was only moved elsewhere is left to whoever
// did that.) It stays away when the folder above is gone as well:
// then a disk was taken out, and what is made in its place would be found by
// nobody. The caller holds mu.
func (s *file) revive() error {
	dir := filepath.Dir(s.path)
	if _, err := os.Stat(filepath.Dir(dir)); err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Join(dir, PicturesName), 0o700); err != nil {
		return err
	}
	// The lock that is held may be on a file that is gone.
	fresh, err := takeLock(filepath.Join(dir, lockName), 0)
	if err == nil {
		s.lock.release()
		s.lock = fresh
	} else if f := s.fault(err, CodeFolder); f.Code != CodeOther || !s.lock.holds(filepath.Join(dir, lockName)) {
		return err
	}
	part := s.path + ".new"
	defer os.Remove(part)
	err = guarded(func() error {
		return s.db.View(func(from *bolt.Tx) error {
			return s.makeAt(part, func(to *bolt.Tx) error { return copyAll(to, from) })
		})
	})
	if err != nil {
		return err
	}
	if err := moveTo(part, s.path, s.hook); err != nil {
		return err
	}
	old, peek := s.db, s.peek
	if err := s.openBolt(time.Second); err != nil {
		s.db, s.peek = old, peek
		return err
	}
	peek.Close()
	s.cached = cachedLog{}
	// Others may be reading in the old one; closing waits for them.
	go guarded(old.Close)
	return nil
}

func copyAll(to, from *bolt.Tx) error {
	return from.ForEach(func(name []byte, b *bolt.Bucket) error {
		t, err := to.CreateBucketIfNotExists(name)
		if err != nil {
			return err
		}
		return copyInto(t, b)
	})
}

package store

import (
	"errors"
	"os"
	"time"

	"github.com/boltdb/bolt"
)

func (s *file) make() error {
	fresh := s.path + ".new"
	if err := s.makeAt(fresh, nil); err != nil {
		return err
	}
	return moveTo(fresh, s.path, s.hook)
}

// makeAt makes a file with the buckets of the top, fills it, if fill is not
// nil, in the same transaction, and brings it to the disk.
func (s *file) makeAt(path string, fill func(*bolt.Tx) error) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	db, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: time.Second})
	if err != nil {
		return err
	}
	err = guarded(func() error {
		return db.Update(func(tx *bolt.Tx) error {
			for _, name := range topBuckets() {
				if _, err := tx.CreateBucket(name); err != nil {
					return err
				}
			}
			if fill != nil {
				if err := fill(tx); err != nil {
					return err
				}
			}
			if err := s.hook("sync"); err != nil {
				return err
			}
			return put(tx.Bucket(inMeta), "schema", []byte{'0' + schema})
		})
	})
	if cerr := db.Close(); err == nil {
		err = cerr
	}
	return err
}

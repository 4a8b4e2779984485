package store

import (
	"fmt"
	"io"

	"github.com/boltdb/bolt"

	"slipseat/app/job"
	"slipseat/engine/unit"
)

// topBuckets are all made with the file, so that a missing one is damage.
func topBuckets() [][]byte {
	return [][]byte{inMeta, inJobs, inTrash, inShelf, inCloths, inFoams, inSettings}
}

// schema is the version of the buckets' layout.
const schema = 1

// Buckets at the top of the file.
var (
	inMeta     = []byte("meta")
	inJobs     = []byte("jobs")
	inTrash    = []byte("trash")
	inShelf    = []byte("shelf")
	inCloths   = []byte("cloths")
	inFoams    = []byte("foams")
	inSettings = []byte("settings")
)

// setUp refuses a newer layout and one that lacks a bucket or has an unknown
// one, brings an older one up to date, and empties the trash of what has been
// there long enough.
func (s *file) setUp() error {
	var old []job.ID
	version := 0
	err := s.view(func(tx *bolt.Tx) (err error) {
		if version, err = s.layoutOf(tx); err != nil {
			return err
		}
		if version == schema {
			if err := s.checkLayout(tx); err != nil {
				return err
			}
		}
		old = s.expired(tx)
		return nil
	})
	if err == nil && version < schema {
		err = s.migrate(version)
	}
	if err != nil || len(old) == 0 {
		return err
	}
	return s.update(func(tx *bolt.Tx) error {
		for _, id := range old {
			if err := tx.Bucket(inTrash).DeleteBucket([]byte(id)); err != nil {
				return err
			}
		}
		return nil
	})
}

// layoutOf gives the version of the layout and refuses a newer one.
func (s *file) layoutOf(tx *bolt.Tx) (int, error) {
	meta := tx.Bucket(inMeta)
	if meta == nil {
		return 0, s.named(CodeStrange)
	}
	v, err := get(meta, "schema")
	if err != nil {
		return 0, err
	}
	if len(v) != 1 || v[0] < '0' || v[0] > '9' {
		return 0, s.named(CodeStrange)
	}
	n := int(v[0] - '0')
	if n > schema {
		return n, unit.Fault{Code: CodeNewer, Args: []unit.Arg{unit.A("version", n), unit.A("known", schema)}}
	}
	return n, nil
}

// migrate brings an older layout up to date, version by version in one
// transaction, after a backup that is kept for good. When a step fails the file
// stays as it was.
func (s *file) migrate(version int) error {
	err := s.view(func(tx *bolt.Tx) error {
		_, err := writeBackup(s.path, s.now(), fmt.Sprint("-layout", version), s.hook, func(w io.Writer) error {
			_, err := tx.WriteTo(w)
			return err
		})
		return err
	})
	if err != nil {
		return backupFault(s.path, err)
	}
	return s.update(func(tx *bolt.Tx) error {
		for v := version; v < schema; v++ {
			step := migrations[v]
			if step == nil {
				return s.named(CodeStrange)
			}
			if err := step(tx); err != nil {
				return err
			}
		}
		if err := put(tx.Bucket(inMeta), "schema", []byte{'0' + schema}); err != nil {
			return err
		}
		return s.checkLayout(tx)
	})
}

// migrations holds, under each older version of the layout, the step to the
// next. Version 0 was never shipped: it is 1 without the libraries, and a test
// keeps the way from it open.
var migrations = map[int]func(tx *bolt.Tx) error{
	0: func(tx *bolt.Tx) error {
		for _, name := range [][]byte{inShelf, inCloths, inFoams} {
			if _, err := tx.CreateBucketIfNotExists(name); err != nil {
				return err
			}
		}
		return nil
	},
}

func (s *file) checkLayout(tx *bolt.Tx) error {
	known := 0
	err := tx.ForEach(func(name []byte, _ *bolt.Bucket) error {
		for _, b := range topBuckets() {
			if string(b) == string(name) {
				known++
				return nil
			}
		}
		return damaged("there is a bucket %s", printable(name))
	})
	if err == nil && known != len(topBuckets()) {
		err = damaged("%d buckets of %d are there", known, len(topBuckets()))
	}
	return err
}

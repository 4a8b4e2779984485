package store

import (
	"errors"
	"os"
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
		return s.makeAt(fresh, func(to *bolt.Tx) error {
			return from.ForEach(func(name []byte, b *bolt.Bucket) error {
				t, err := to.CreateBucketIfNotExists(name)
				if err != nil {
					return err
				}
				return copyInto(t, b)
			})
		})
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

package store

import (
	"encoding/binary"
	"slices"
	"time"

	"github.com/boltdb/bolt"

	"slipseat/app/job"
	"slipseat/engine/unit"
)

// Delete implements Store.
func (s *file) Delete(id job.ID) error {
	return s.update(func(tx *bolt.Tx) error {
		b := jobBucket(tx, id)
		if b == nil {
			return noJob(id)
		}
		trash := tx.Bucket(inTrash)
		if trash.Bucket([]byte(id)) != nil { // an earlier one with this ID
			if err := trash.DeleteBucket([]byte(id)); err != nil {
				return err
			}
		}
		to, err := trash.CreateBucket([]byte(id))
		if err != nil {
			return err
		}
		if err := copyInto(to, b); err != nil {
			return err
		}
		if err := put(to, keyDeleted, stamp(s.now())); err != nil {
			return err
		}
		if err := freeAll(tx, id); err != nil {
			return err
		}
		s.cached = cachedLog{}
		return tx.Bucket(inJobs).DeleteBucket([]byte(id))
	})
}

// Restore implements Store.
func (s *file) Restore(id job.ID) error {
	return s.update(func(tx *bolt.Tx) error {
		trash, jobs := tx.Bucket(inTrash), tx.Bucket(inJobs)
		b := trash.Bucket([]byte(id))
		if b == nil {
			return noJob(id)
		}
		if jobs.Bucket([]byte(id)) != nil {
			return unit.Fault{Code: CodeTaken, Args: []unit.Arg{unit.A("id", string(id))}}
		}
		to, err := jobs.CreateBucket([]byte(id))
		if err != nil {
			return err
		}
		if err := copyInto(to, b); err != nil {
			return err
		}
		if err := to.Delete([]byte(keyDeleted)); err != nil {
			return err
		}
		return trash.DeleteBucket([]byte(id))
	})
}

// Trash implements Store.
func (s *file) Trash() ([]Info, error) {
	var list []Info
	err := s.view(func(tx *bolt.Tx) error {
		trash := tx.Bucket(inTrash)
		return trash.ForEach(func(id, value []byte) error {
			b := trash.Bucket(id)
			if value != nil || b == nil {
				return nil
			}
			info := infoIn(b, job.ID(id))
			info.Changed, _ = deletedAt(b)
			list = append(list, info)
			return nil
		})
	})
	slices.SortFunc(list, latestFirst)
	return list, err
}

// copyInto copies values and buckets. The frames stay right, for they hold the
// key alone.
func copyInto(to, from *bolt.Bucket) error {
	return from.ForEach(func(key, value []byte) error {
		if value != nil {
			return to.Put(key, value)
		}
		b, err := to.CreateBucket(key)
		if err != nil {
			return err
		}
		return copyInto(b, from.Bucket(key))
	})
}

// stamp is a time as eight bytes, nanoseconds since 1970.
func stamp(t time.Time) []byte {
	return binary.BigEndian.AppendUint64(nil, uint64(t.UnixNano()))
}

func stamped(b []byte) (time.Time, bool) {
	if len(b) != 8 {
		return time.Time{}, false
	}
	return time.Unix(0, int64(binary.BigEndian.Uint64(b))), true
}

func deletedAt(b *bolt.Bucket) (time.Time, bool) {
	raw, err := get(b, keyDeleted)
	if err != nil {
		return time.Time{}, false
	}
	return stamped(raw)
}

// expired lists what has been in the trash long enough. Something without a
// readable time stays.
func (s *file) expired(tx *bolt.Tx) []job.ID {
	trash := tx.Bucket(inTrash)
	if trash == nil {
		return nil
	}
	var ids []job.ID
	now := s.now()
	_ = trash.ForEach(func(id, value []byte) error {
		if b := trash.Bucket(id); value == nil && b != nil {
			if at, ok := deletedAt(b); ok && now.Sub(at) > KeepTrash {
				ids = append(ids, job.ID(id))
			}
		}
		return nil
	})
	return ids
}

package store

import (
	"cmp"
	"slices"

	"github.com/boltdb/bolt"

	"slipseat/app/job"
	"slipseat/engine/lay"
)

// A lay is stored under its problem: eight bytes for when, then its JSON.

// Lays implements Store. A lay that cannot be read is left out: it can be
// found again.
func (s *file) Lays(id job.ID) (map[lay.ProblemID]lay.Lay, error) {
	all := map[lay.ProblemID]lay.Lay{}
	err := s.view(func(tx *bolt.Tx) error {
		b := jobBucket(tx, id)
		if b == nil || b.Bucket(inLays) == nil {
			return nil
		}
		lays := b.Bucket(inLays)
		return lays.ForEach(func(key, _ []byte) error {
			if l, ok := layIn(lays, key); ok {
				all[l.Problem] = l.Lay
			}
			return nil
		})
	})
	return all, err
}

func layIn(b *bolt.Bucket, key []byte) (job.SavedLay, bool) {
	raw, err := get(b, string(key))
	if err != nil || len(raw) < 8 {
		return job.SavedLay{}, false
	}
	l, err := job.DecodeLay(raw[8:])
	return l, err == nil && string(l.Problem[:]) == string(key)
}

// SaveLay implements Store.
func (s *file) SaveLay(id job.ID, pid lay.ProblemID, l lay.Lay) error {
	rec := job.SavedLay{Problem: pid, Lay: l}
	if f := rec.Check(); f != nil {
		return *f
	}
	return s.update(func(tx *bolt.Tx) error {
		b := jobBucket(tx, id)
		if b == nil {
			return noJob(id)
		}
		lays, err := b.CreateBucketIfNotExists(inLays)
		if err != nil {
			return err
		}
		if old, ok := layIn(lays, pid[:]); ok {
			rec.Lay = Better(old.Lay, l)
		}
		if err := put(lays, string(pid[:]), append(stamp(s.now()), job.EncodeLay(rec)...)); err != nil {
			return err
		}
		return dropOldest(lays, KeepLays, pid)
	})
}

// Better gives the better of two lays for one problem: fewer sheets, then
// shorter, then more surely so; with what is known of the bound from both.
func Better(a, b lay.Lay) lay.Lay {
	best := a
	c := cmp.Or(cmp.Compare(b.Sheets, a.Sheets), cmp.Compare(b.Length, a.Length))
	if c < 0 || c == 0 && b.Evaluations > a.Evaluations {
		best = b
	}
	best.Bound = max(a.Bound, b.Bound)
	best.SheetBound = max(a.SheetBound, b.SheetBound)
	if c == 0 {
		best.Proved = a.Proved || b.Proved
	}
	return best
}

// dropOldest keeps the latest lays, and the one that was just written.
func dropOldest(b *bolt.Bucket, keep int, always lay.ProblemID) error {
	type aged struct {
		key []byte
		at  int64
	}
	var all []aged
	err := b.ForEach(func(key, _ []byte) error {
		a := aged{key: append([]byte(nil), key...)}
		if raw, err := get(b, string(key)); err == nil && len(raw) >= 8 {
			t, _ := stamped(raw[:8])
			a.at = t.UnixNano()
		}
		if string(key) != string(always[:]) {
			all = append(all, a)
		}
		return nil
	})
	if err != nil {
		return err
	}
	slices.SortStableFunc(all, func(a, b aged) int { return cmp.Compare(b.at, a.at) })
	for i := max(keep-1, 0); i < len(all); i++ {
		if err := b.Delete(all[i].key); err != nil {
			return err
		}
	}
	return nil
}

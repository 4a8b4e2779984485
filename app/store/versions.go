package store

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"slices"
	"time"

	"github.com/boltdb/bolt"

	"slipseat/app/job"
	"slipseat/engine/unit"
)

// Besides its history, which ends at edit.MaxEntries entries, a job keeps
// whole versions of itself: those that the user named, and automatic ones.
// Before the first save after a pause of AutoPause, the job as it was stored
// becomes an automatic version, so that yesterday's state is there however
// many changes today brings. A clock that was set back counts as a pause.

// How many versions are kept of a job, and the pause that makes one.
const (
	MaxNamed  = 200
	MaxAuto   = 30
	AutoPause = 8 * time.Hour
	maxTitle  = 200
)

// Version is a state of a job that was kept.
type Version struct {
	No    uint64    `json:"-"`
	At    time.Time `json:"at"`
	Name  string    `json:"name,omitempty"` // empty for an automatic one
	Auto  bool      `json:"auto,omitempty"`
	Seats int       `json:"seats"`
}

var inVersions = []byte("versions")

func versionKey(no uint64) string {
	return "v" + string(binary.BigEndian.AppendUint64(nil, no))
}

// A version's value is its facts as JSON in one line, then the job's file.
func (v Version) value(j []byte) ([]byte, error) {
	head, err := json.Marshal(v)
	return append(append(head, '\n'), j...), err
}

func readVersion(key string, raw []byte) (v Version, j []byte, ok bool) {
	head, j, cut := bytes.Cut(raw, []byte{'\n'})
	if !cut || len(key) != 9 || key[0] != 'v' || json.Unmarshal(head, &v) != nil {
		return v, nil, false
	}
	v.No = binary.BigEndian.Uint64([]byte(key[1:]))
	return v, j, true
}

// versionsIn lists the versions that can be read, the oldest first.
func versionsIn(b *bolt.Bucket) []Version {
	var list []Version
	if b == nil {
		return nil
	}
	_ = b.ForEach(func(key, _ []byte) error {
		if raw, err := get(b, string(key)); err == nil {
			if v, _, ok := readVersion(string(key), raw); ok {
				list = append(list, v)
			}
		}
		return nil
	})
	return list
}

// Versions implements Store.
func (s *file) Versions(id job.ID) ([]Version, error) {
	var list []Version
	err := s.view(func(tx *bolt.Tx) error {
		b := jobBucket(tx, id)
		if b == nil {
			return noJob(id)
		}
		list = versionsIn(b.Bucket(inVersions))
		return nil
	})
	slices.Reverse(list)
	return list, err
}

// Version implements Store.
func (s *file) Version(id job.ID, no uint64) (job.Job, error) {
	var j job.Job
	err := s.view(func(tx *bolt.Tx) error {
		b := jobBucket(tx, id)
		if b == nil || b.Bucket(inVersions) == nil {
			return noJob(id)
		}
		key := versionKey(no)
		raw, err := get(b.Bucket(inVersions), key)
		if err != nil {
			return err
		}
		_, data, ok := readVersion(key, raw)
		if !ok {
			return valueFault(key)
		}
		if j, err = job.Decode(data); err == nil && j.ID != id {
			err = valueFault(key)
		}
		return err
	})
	return j, err
}

// KeepVersion implements Store.
func (s *file) KeepVersion(id job.ID, name string) error {
	if name == "" || len([]rune(name)) > maxTitle {
		return unit.Fault{Code: CodeVersionName, Args: []unit.Arg{unit.A("limit", maxTitle)}}
	}
	return s.update(func(tx *bolt.Tx) error {
		b := jobBucket(tx, id)
		if b == nil {
			return noJob(id)
		}
		j, err := jobIn(b, id)
		if err != nil {
			return err
		}
		named := 0
		for _, v := range versionsIn(b.Bucket(inVersions)) {
			if !v.Auto {
				named++
			}
		}
		if named >= MaxNamed {
			return unit.Fault{Code: CodeVersions, Args: []unit.Arg{unit.A("limit", MaxNamed)}}
		}
		return addVersion(b, Version{At: s.now(), Name: name}, j)
	})
}

func addVersion(b *bolt.Bucket, v Version, j job.Job) error {
	all, err := b.CreateBucketIfNotExists(inVersions)
	if err != nil {
		return err
	}
	no, err := all.NextSequence()
	if err != nil {
		return err
	}
	// A bucket that was copied or recovered counts from the start again.
	if last, _ := all.Cursor().Last(); len(last) == 9 {
		no = max(no, binary.BigEndian.Uint64(last[1:])+1)
	}
	for _, s := range j.Seats {
		v.Seats += s.Count
	}
	raw, err := v.value(job.Encode(j))
	if err != nil {
		return err
	}
	return put(all, versionKey(no), raw)
}

// DropVersion implements Store.
func (s *file) DropVersion(id job.ID, no uint64) error {
	return s.update(func(tx *bolt.Tx) error {
		b := jobBucket(tx, id)
		if b == nil || b.Bucket(inVersions) == nil {
			return noJob(id)
		}
		return b.Bucket(inVersions).Delete([]byte(versionKey(no)))
	})
}

// keepAuto makes an automatic version of what is stored when the save that
// follows comes after a pause, and drops the oldest of too many.
func keepAuto(b *bolt.Bucket, r Record) error {
	raw, err := get(b, keyInfo)
	var info Info
	if err != nil || raw == nil || json.Unmarshal(raw, &info) != nil {
		return nil
	}
	if pause := r.Info.Changed.Sub(info.Changed); pause < AutoPause && pause >= 0 {
		return nil
	}
	j, err := jobIn(b, r.Info.ID)
	if err != nil || sameJob(j, r.Log.Job()) {
		return nil
	}
	if err := addVersion(b, Version{At: info.Changed, Auto: true}, j); err != nil {
		return err
	}
	all := b.Bucket(inVersions)
	autos := slices.DeleteFunc(versionsIn(all), func(v Version) bool { return !v.Auto })
	for i := 0; i < len(autos)-MaxAuto; i++ {
		if err := all.Delete([]byte(versionKey(autos[i].No))); err != nil {
			return err
		}
	}
	return nil
}

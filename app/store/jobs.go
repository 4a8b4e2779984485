package store

import (
	"cmp"
	"encoding/json"
	"slices"

	"github.com/boltdb/bolt"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/engine/unit"
)

// Keys and buckets of one job.
var (
	keyJob     = "job"
	keyInfo    = "info"
	keyDeleted = "deleted"
	inHistory  = []byte("history")
	inLays     = []byte("lays")
)

// Jobs implements Store. A job whose facts cannot be read is listed by what
// can.
func (s *file) Jobs() ([]Info, error) {
	var list []Info
	err := s.view(func(tx *bolt.Tx) error {
		jobs := tx.Bucket(inJobs)
		return jobs.ForEach(func(id, value []byte) error {
			if b := jobs.Bucket(id); value == nil && b != nil {
				list = append(list, infoIn(b, job.ID(id)))
			}
			return nil
		})
	})
	slices.SortFunc(list, latestFirst)
	return list, err
}

func latestFirst(a, b Info) int {
	if c := b.Changed.Compare(a.Changed); c != 0 {
		return c
	}
	return cmp.Compare(a.ID, b.ID)
}

// infoIn reads a job's facts, or makes them from the job.
func infoIn(b *bolt.Bucket, id job.ID) Info {
	var info Info
	if raw, err := get(b, keyInfo); err == nil && raw != nil && json.Unmarshal(raw, &info) == nil && info.ID == id {
		return info
	}
	if j, err := jobIn(b, id); err == nil {
		return InfoOf(j, info.Changed)
	}
	return Info{ID: id, Damaged: true}
}

// jobIn reads a job from its own place.
func jobIn(b *bolt.Bucket, id job.ID) (job.Job, error) {
	return readJob(from(b), id)
}

func readJob(get getter, id job.ID) (job.Job, error) {
	raw, err := get(keyJob)
	if err != nil {
		return job.Job{}, err
	}
	if raw == nil {
		return job.Job{}, valueFault(keyJob)
	}
	j, err := job.Decode(raw)
	if err != nil {
		return job.Job{}, err
	}
	if j.ID != id {
		return job.Job{}, valueFault(keyJob) // a page of another job
	}
	return j, nil
}

func jobBucket(tx *bolt.Tx, id job.ID) *bolt.Bucket {
	return tx.Bucket(inJobs).Bucket([]byte(id))
}

func noJob(id job.ID) error {
	return unit.Fault{Code: CodeNoJob, Args: []unit.Arg{unit.A("id", string(id))}}
}

// Load implements Store. When the job's own place is damaged, it comes from
// its history; when the history is, what of it can be read stays.
func (s *file) Load(id job.ID) (Record, error) {
	var r Record
	err := s.view(func(tx *bolt.Tx) error {
		b := jobBucket(tx, id)
		if b == nil {
			return noJob(id)
		}
		r = Record{Info: infoIn(b, id)}
		j, jerr := readJob(from(b), id)
		log, lost := edit.Log{}, 1
		if h := b.Bucket(inHistory); h != nil {
			log, lost = readLog(from(h), id)
		}
		switch {
		case jerr == nil && len(log.Entries) > 0 && sameJob(log.Job(), j):
			r.Log, r.Lost = log, lost
		case jerr == nil:
			// The job as it is counts; what is left of its history comes before.
			r.Log, r.Lost = onTop(log, j, r.Info), max(lost, 1)
		case len(log.Entries) > 0:
			r.Log, r.Lost = log, max(lost, 1)
		default:
			return jerr
		}
		r.Info.Damaged = false
		return nil
	})
	if err != nil {
		return Record{}, err
	}
	return r, nil
}

func sameJob(a, b job.Job) bool { return slices.Equal(job.Encode(a), job.Encode(b)) }

// onTop puts the job behind the entries that could be read.
func onTop(l edit.Log, j job.Job, info Info) edit.Log {
	l.Next = max(l.Next, 1)
	if len(l.Entries) == edit.MaxEntries {
		l.Entries = l.Entries[1:]
	}
	l.Entries = append(l.Entries, edit.Entry{Seq: l.Next, Label: edit.Label{Code: LabelRecovered}, At: info.Changed, Job: j})
	l.Next++
	l.Cursor = len(l.Entries) - 1
	return l
}

// LabelRecovered names an entry that stands in for one that was lost.
const LabelRecovered = "recovered"

// Save implements Store.
func (s *file) Save(r Record) error {
	if err := r.check(); err != nil {
		return err
	}
	return s.update(func(tx *bolt.Tx) error { return s.save(tx, r) })
}

// check tests that a record is of one job, with a history that can be gone on
// with.
func (r Record) check() error {
	if !r.Log.Valid() {
		return unit.Fault{Code: CodeBadLog}
	}
	j := r.Log.Job()
	if !j.ID.Valid() || r.Info.ID != j.ID {
		return unit.Fault{Code: CodeBadLog}
	}
	for _, e := range r.Log.Entries {
		if e.Job.ID != j.ID {
			return unit.Fault{Code: CodeBadLog}
		}
	}
	return nil
}

func (s *file) save(tx *bolt.Tx, r Record) error {
	b, err := tx.Bucket(inJobs).CreateBucketIfNotExists([]byte(r.Info.ID))
	if err != nil {
		return err
	}
	if err := keepAuto(b, r); err != nil {
		return err
	}
	return s.write(b, r)
}

// write stores a record in its bucket.
func (s *file) write(b *bolt.Bucket, r Record) error {
	j := r.Log.Job()
	if err := put(b, keyJob, job.Encode(j)); err != nil {
		return err
	}
	info, err := json.Marshal(r.Info)
	if err != nil {
		return err
	}
	if err := put(b, keyInfo, info); err != nil {
		return err
	}
	h, err := b.CreateBucketIfNotExists(inHistory)
	if err != nil {
		return err
	}
	return s.writeLog(h, r.Log)
}

// Duplicate implements Store.
func (s *file) Duplicate(id, as job.ID, name string, label edit.Label) error {
	r, err := s.Load(id)
	if err != nil {
		return err
	}
	j := r.Log.Job()
	j.ID, j.Name = as, name
	if faults := j.Check(); len(faults) > 0 {
		return faults[0]
	}
	now := s.now()
	l := edit.NewHistory(j, label, now).Log()
	return s.update(func(tx *bolt.Tx) error {
		jobs := tx.Bucket(inJobs)
		from := jobs.Bucket([]byte(id))
		if from == nil {
			return noJob(id)
		}
		b, err := jobs.CreateBucket([]byte(as))
		if err != nil {
			return unit.Fault{Code: CodeTaken, Args: []unit.Arg{unit.A("id", string(as))}}
		}
		if lays := from.Bucket(inLays); lays != nil {
			to, err := b.CreateBucket(inLays)
			if err != nil {
				return err
			}
			if err := copyInto(to, lays); err != nil {
				return err
			}
		}
		return s.write(b, Record{Log: l, Info: InfoOf(j, now)})
	})
}

package store

import (
	"cmp"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/boltdb/bolt"

	"slipseat/app/job"
	"slipseat/engine/unit"
)

// Outcome says what became of a job.
type Outcome string

// Outcomes.
const (
	Whole      Outcome = "whole"       // as it was saved last
	Partly     Outcome = "partly"      // the job, but not all of its history or lays
	FromBackup Outcome = "from-backup" // as it was when a backup was made
	Lost       Outcome = "lost"        // nothing of it can be read
)

// JobOutcome is what became of one job.
type JobOutcome struct {
	Info    Info
	Outcome Outcome
	// Versions of its history that could not be read; at least 1 when it is
	// not known how many there were.
	Versions int
	Backup   time.Time // when the backup was made that it, or a part, came from
	Trash    bool      // it is among the deleted jobs
}

// Health is what a file is found to hold, and, after Salvage, what was made of
// it.
type Health struct {
	Path   string
	Report Report
	// Jobs by outcome: the worst first, then by name.
	Jobs []JobOutcome
	// Other are values of libraries and settings that are damaged or missing;
	// OtherBack of those came from a backup.
	Other, OtherBack int
	// Backups that were there and could be read, the latest first.
	Backups []Backup
	// SetAside is where the damaged file was put; empty when nothing was done.
	SetAside string
}

// Whole tells that nothing is wrong with the file.
func (h Health) Whole() bool {
	return h.Report.Fault == nil && len(h.Report.Damaged) == 0 && h.Count(Whole) == len(h.Jobs) && h.Other == 0
}

// Count is how many jobs came out so.
func (h Health) Count(o Outcome) int {
	n := 0
	for _, j := range h.Jobs {
		if j.Outcome == o {
			n++
		}
	}
	return n
}

func (o Options) filled() Options {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Hook == nil {
		o.Hook = func(string) error { return nil }
	}
	if o.Wait == 0 {
		o.Wait = time.Second
	}
	return o
}

func fileFault(path string, err error) unit.Fault { return (&file{path: path}).fault(err, CodeRead) }

// Check looks a file over without changing anything, and says what Salvage
// would make of it.
func Check(o Options, path string) (Health, error) {
	o = o.filled()
	done, err := lockOf(path, o.Wait)
	if err != nil {
		return Health{}, err
	}
	defer done()
	h, _, err := look(path)
	if err != nil {
		return h, fileFault(path, err)
	}
	return h, nil
}

// Salvage makes a whole file out of a damaged one: everything that can be read
// of it, job by job, and what is missing from the newest backups that have it.
// The damaged file is set aside untouched. A file that is whole is left alone.
func Salvage(o Options, path string) (Health, error) {
	o = o.filled()
	done, err := lockOf(path, o.Wait)
	if err != nil {
		return Health{}, err
	}
	defer done()
	h, m, err := look(path)
	if err != nil {
		return h, fileFault(path, err)
	}
	if h.Whole() {
		return h, nil
	}
	fresh := path + ".new"
	if err := m.write(fresh, o); err != nil {
		os.Remove(fresh)
		return h, (&file{path: path}).fault(err, CodeWrite)
	}
	aside, err := setAside(path, o)
	if err == nil {
		h.SetAside = aside
		err = moveTo(fresh, path, o.Hook)
	}
	if err != nil {
		os.Remove(fresh)
		if h.SetAside != "" { // nothing is done by halves
			if back := os.Rename(h.SetAside, path); back == nil {
				h.SetAside = ""
			}
		}
		return h, (&file{path: path}).fault(err, CodeWrite)
	}
	return h, nil
}

// AsideName is the folder of the files that were set aside.
const AsideName = "set-aside"

func setAside(path string, o Options) (string, error) {
	dir := filepath.Join(filepath.Dir(path), AsideName)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", err
	}
	stem := filepath.Join(dir, baseOf(path)+"-"+o.Now().UTC().Format(backupTime))
	to := stem + ".bolt"
	for n := 'b'; n <= 'z'; n++ {
		if _, err := os.Lstat(to); errors.Is(err, os.ErrNotExist) {
			break
		}
		to = stem + string(n) + ".bolt"
	}
	if err := o.Hook("rename"); err != nil {
		return "", err
	}
	if err := os.Rename(path, to); err != nil {
		return "", err
	}
	return to, syncFolder(dir)
}

// made is what the new file will hold.
type made struct {
	jobs []*jobFound
	flat map[string]map[string][]byte
}

// look reads a file and its backups and decides what each job is taken from.
func look(path string) (Health, made, error) {
	h := Health{Path: path}
	r, err := Examine(path)
	if err != nil {
		return h, made{}, err
	}
	h.Report = r
	c, err := readContents(path)
	if err != nil {
		return h, made{}, err
	}
	m := made{flat: map[string]map[string][]byte{}}
	var old []contents
	if r.Fault != nil || len(r.Damaged) > 0 || !c.whole || c.lacking() {
		old = h.readBackups(path)
	}
	ids := map[job.ID]bool{}
	for id := range c.jobs {
		ids[id] = true
	}
	if !c.sure {
		for _, b := range old {
			for id := range b.jobs {
				ids[id] = true
			}
		}
	}
	for _, id := range slices.Sorted(maps.Keys(ids)) {
		one, out := choose(c.jobs[id], id, old, h.Backups)
		h.Jobs = append(h.Jobs, out)
		if one != nil {
			m.jobs = append(m.jobs, one)
		}
	}
	rank := map[Outcome]int{Lost: 0, FromBackup: 1, Partly: 2, Whole: 3}
	slices.SortStableFunc(h.Jobs, func(a, b JobOutcome) int {
		return cmp.Or(rank[a.Outcome]-rank[b.Outcome], cmp.Compare(a.Info.Name, b.Info.Name))
	})
	for _, name := range flatBuckets {
		h.fillFlat(m, name, c.flat[name], old)
	}
	return h, m, nil
}

// lacking tells whether a job is not as it should be.
func (c contents) lacking() bool {
	for _, j := range c.jobs {
		if j.damaged {
			return true
		}
	}
	return false
}

// readBackups reads the backups whose structure is whole, the latest first.
func (h *Health) readBackups(path string) []contents {
	var all []contents
	list, _ := Backups(path)
	for _, b := range list {
		if r, err := Examine(b.Path); err != nil || r.Fault != nil {
			continue
		}
		c, err := readContents(b.Path)
		if err != nil {
			continue
		}
		h.Backups = append(h.Backups, b)
		all = append(all, c)
	}
	return all
}

// write makes the new file, and reads it back.
func (m made) write(path string, o Options) error {
	if err := o.Hook("create"); err != nil {
		return err
	}
	s := &file{path: path, now: o.Now, hook: o.Hook}
	if err := s.makeAt(path, func(tx *bolt.Tx) error { return m.fill(s, tx) }); err != nil {
		return err
	}
	r, err := Examine(path)
	switch {
	case err != nil:
		return err
	case r.Fault != nil:
		return *r.Fault
	case len(r.Damaged) > 0:
		return damaged("%d values of the new file are damaged", len(r.Damaged))
	}
	c, err := readContents(path)
	if err != nil {
		return err
	}
	for _, j := range m.jobs {
		if !c.jobs[j.id].readable() {
			return damaged("job %s is not in the new file", j.id)
		}
	}
	return nil
}

func (m made) fill(s *file, tx *bolt.Tx) error {
	for _, j := range m.jobs {
		top := tx.Bucket(inJobs)
		if j.trash {
			top = tx.Bucket(inTrash)
		}
		b, err := top.CreateBucketIfNotExists([]byte(j.id))
		if err != nil {
			return err
		}
		info := j.known()
		l := j.log
		if j.job != nil && (len(l.Entries) == 0 || !sameJob(l.Job(), *j.job)) {
			l = onTop(l, *j.job, info)
		}
		info.ID = j.id
		if err := s.write(b, Record{Log: l, Info: info}); err != nil {
			return err
		}
		for _, name := range [][]byte{inLays, inVersions} {
			from := j.box.buckets[string(name)]
			if from == nil || len(from.values) == 0 {
				continue
			}
			to, err := b.CreateBucketIfNotExists(name)
			if err != nil {
				return err
			}
			if err := (&found{values: from.values}).fill(to); err != nil {
				return err
			}
		}
		if j.trash {
			at, _ := j.box.get(keyDeleted)
			if at == nil {
				at = stamp(s.now())
			}
			if err := put(b, keyDeleted, at); err != nil {
				return err
			}
		}
	}
	for name, values := range m.flat {
		if err := (&found{values: values}).fill(tx.Bucket([]byte(name))); err != nil {
			return err
		}
	}
	return nil
}

// InBackup lists the jobs of a backup, the last changed first, and gives one
// with its history. The error is that of reading the file.
func InBackup(path string) ([]Info, func(job.ID) (Record, bool), error) {
	c, err := readContents(path)
	if err != nil {
		return nil, nil, fileFault(path, err)
	}
	var list []Info
	for _, j := range c.jobs {
		if j.readable() && !j.trash {
			list = append(list, j.known())
		}
	}
	slices.SortFunc(list, latestFirst)
	return list, func(id job.ID) (Record, bool) {
		j := c.jobs[id]
		if !j.readable() {
			return Record{}, false
		}
		info := j.known()
		l := j.log
		if j.job != nil && (len(l.Entries) == 0 || !sameJob(l.Job(), *j.job)) {
			l = onTop(l, *j.job, info)
		}
		return Record{Log: l, Info: info, Lost: j.lost}, l.Valid()
	}, nil
}

package store

import (
	"encoding/json"
	"io"
	"maps"
	"os"
	"slices"
	"time"

	"slipseat/app/edit"
	"slipseat/app/job"
)

// jobFound is a job as far as a file has it.
type jobFound struct {
	id      job.ID
	info    Info
	job     *job.Job // nil when its own place cannot be read
	log     edit.Log // what can be read of its history
	lost    int      // entries that cannot
	damaged bool     // something of it is missing
	box     *found   // all its values
	trash   bool
}

// known is a name to tell the user of.
func (j *jobFound) known() Info {
	info := j.info
	info.ID = j.id
	switch {
	case j.job != nil:
		return InfoOf(*j.job, info.Changed)
	case len(j.log.Entries) > 0:
		e := j.log.Entries[j.log.Cursor]
		return InfoOf(e.Job, e.At)
	}
	info.Damaged = true
	return info
}

// readable tells whether the job itself is there in some state.
func (j *jobFound) readable() bool { return j != nil && (j.job != nil || len(j.log.Entries) > 0) }

// contents is what a file holds, as far as it can be read.
type contents struct {
	jobs map[job.ID]*jobFound
	// flat are the buckets of plain values: settings and libraries.
	flat map[string]*found
	// sure: the list of jobs is whole, so that a job that is not on it was
	// deleted.
	sure   bool
	whole  bool // nothing at all is missing
	schema []byte
}

var flatBuckets = []string{"settings", "shelf", "cloths", "foams"}

// readContents reads a file that may be damaged.
func readContents(path string) (contents, error) {
	f, err := os.Open(path)
	if err != nil {
		return contents{}, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return contents{}, err
	}
	return contentsOf(f, info.Size()), nil
}

func contentsOf(f io.ReaderAt, size int64) contents {
	root, loose := glean(f, size)
	guessed := false
	if root == nil || len(root.buckets) == 0 {
		if r := likeliestRoot(loose); r != nil {
			root, guessed = r, true
		} else if root == nil {
			root = &found{broken: true}
		}
	}
	c := contents{jobs: map[job.ID]*jobFound{}, flat: map[string]*found{}}
	jobs, trash := root.at("jobs"), root.at("trash")
	c.sure = !root.broken && hasTops(root) && !jobs.broken && !trash.broken
	c.whole = c.sure && root.whole()
	c.schema, _ = root.at("meta").get("schema")
	for _, name := range flatBuckets {
		c.flat[name] = root.at(name)
	}
	pool := poolOf(root, loose)
	for key, box := range jobs.buckets {
		c.take(key, box, jobs.buckets, pool, false)
	}
	for key, box := range trash.buckets {
		c.take(key, box, trash.buckets, pool, true)
	}
	// Jobs of pages that nothing names count where the list is not whole.
	for _, l := range append(loose, unknownBuckets(root)...) {
		c.takeLoose(l, pool)
	}
	if guessed {
		for _, j := range c.jobs { // each may be an older one than there was
			j.damaged, j.lost = true, max(j.lost, 1)
		}
	}
	return c
}

// unknownBuckets are those whose name cannot be right, such as one with a
// flipped bit.
func unknownBuckets(root *found) []*found {
	var list []*found
	for name, b := range root.buckets {
		if !slices.ContainsFunc(topBuckets(), func(t []byte) bool { return string(t) == name }) {
			list = append(list, b)
		}
	}
	return list
}

// likeliestRoot picks, of the pages that nothing names, the list of the top
// buckets with the job that was changed last.
func likeliestRoot(loose []*found) *found {
	var best *found
	var latest time.Time
	for _, l := range loose {
		n := 0
		for _, name := range topBuckets() {
			if l.buckets[string(name)] != nil {
				n++
			}
		}
		if n < 3 {
			continue
		}
		var at time.Time
		for key, box := range l.at("jobs").buckets {
			if info, ok := infoFrom(box, job.ID(key)); ok && info.Changed.After(at) {
				at = info.Changed
			}
		}
		if best == nil || at.After(latest) {
			best, latest = l, at
		}
	}
	if best != nil {
		best.broken = true // it may be an older one
	}
	return best
}

func infoFrom(box *found, id job.ID) (Info, bool) {
	var info Info
	raw, err := box.get(keyInfo)
	return info, err == nil && raw != nil && json.Unmarshal(raw, &info) == nil && (id == "" || info.ID == id)
}

// poolOf collects the chunks of all histories: they are named by their own
// content, so that one found anywhere is the right one.
func poolOf(root *found, loose []*found) map[string][]byte {
	pool := map[string][]byte{}
	var walk func(f *found)
	walk = func(f *found) {
		for key, v := range f.values {
			if len(key) == 33 && key[0] == 'c' {
				pool[key] = v
			}
		}
		for _, b := range f.buckets {
			walk(b)
		}
	}
	walk(root)
	for _, l := range loose {
		walk(l)
	}
	return pool
}

// take reads one job out of its bucket.
func (c *contents) take(key string, box *found, beside map[string]*found, pool map[string][]byte, trash bool) {
	id := job.ID(key)
	j := &jobFound{id: id, box: box, trash: trash, damaged: !box.whole()}
	j.info, _ = infoFrom(box, id)
	one, err := readJob(box.get, id)
	if err != nil {
		// The key itself may be what is wrong: a job knows its own ID. But a
		// page of a job that stands beside it is only a way gone wrong.
		if raw, e := box.get(keyJob); e == nil && raw != nil {
			if other, e := job.Decode(raw); e == nil && other.ID != id {
				if c.jobs[other.ID] == nil && beside[string(other.ID)] == nil {
					j.id, id, one, err = other.ID, other.ID, other, nil
					j.info, _ = infoFrom(box, id)
				}
			}
		}
		j.damaged = true
	}
	if err == nil {
		j.job = &one
	}
	history := box.buckets["history"]
	j.log, j.lost = readLog(func(key string) ([]byte, error) {
		raw, err := history.get(key)
		if raw == nil && pool[key] != nil {
			return pool[key], nil
		}
		return raw, err
	}, id)
	if j.lost > 0 || j.job != nil && (len(j.log.Entries) == 0 || !sameJob(j.log.Job(), one)) {
		j.damaged = true
	}
	if old := c.jobs[id]; old == nil || !old.readable() && j.readable() {
		c.jobs[id] = j
	}
}

// takeLoose looks for jobs in a bucket that nothing names. The latest state
// of each counts.
func (c *contents) takeLoose(f *found, pool map[string][]byte) {
	if raw, err := f.get(keyJob); err == nil && raw != nil {
		if one, err := job.Decode(raw); err == nil {
			other := contents{jobs: map[job.ID]*jobFound{}}
			_, deleted := f.values[keyDeleted]
			other.take(string(one.ID), f, nil, pool, deleted)
			j := other.jobs[one.ID]
			if j == nil {
				return
			}
			j.damaged = true
			old := c.jobs[one.ID]
			switch {
			case old == nil && !c.sure, old != nil && !old.readable(),
				old != nil && old.damaged && old.job == nil && j.known().Changed.After(old.known().Changed):
				c.jobs[one.ID] = j
			}
		}
	}
	for _, key := range slices.Sorted(maps.Keys(f.buckets)) {
		c.takeLoose(f.buckets[key], pool)
	}
}

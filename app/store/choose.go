package store

import (
	"cmp"
	"maps"
	"slices"
	"time"

	"slipseat/app/edit"
	"slipseat/app/job"
)

// choose takes a job from the file as far as it has it, else from the newest
// backup that has it.
func choose(j *jobFound, id job.ID, old []contents, backups []Backup) (*jobFound, JobOutcome) {
	var back *jobFound
	var when time.Time
	for i, c := range old {
		if b := c.jobs[id]; b.readable() {
			back, when = b, backups[i].At
			break
		}
	}
	switch {
	case j == nil && back == nil:
		return nil, JobOutcome{Info: Info{ID: id, Damaged: true}, Outcome: Lost, Versions: 1}
	case !j.readable() && back == nil:
		return nil, JobOutcome{Info: j.known(), Outcome: Lost, Versions: 1, Trash: j.trash}
	case !j.readable(), j.job == nil && back.readable() && back.known().Changed.After(j.known().Changed):
		return back, JobOutcome{Info: back.known(), Outcome: FromBackup, Versions: max(back.lost, 1), Backup: when, Trash: back.trash}
	}
	out := JobOutcome{Info: j.known(), Outcome: Whole, Trash: j.trash}
	if !j.damaged {
		return j, out
	}
	out.Outcome, out.Versions = Partly, j.lost
	if back != nil {
		if n := j.fillFrom(back); n > 0 {
			out.Backup = when
			out.Versions = max(0, out.Versions-n)
		}
	}
	if j.job == nil { // an entry of its history stands for it
		out.Versions = max(out.Versions, 1)
	}
	return j, out
}

// fillFrom takes entries, lays and versions that are missing from an older
// state of the job, and counts the entries.
func (j *jobFound) fillFrom(b *jobFound) int {
	n := 0
	have := map[uint64]bool{}
	cur := edit.Entry{}
	if len(j.log.Entries) > 0 {
		cur = j.log.Entries[j.log.Cursor]
	}
	for _, e := range j.log.Entries {
		have[e.Seq] = true
	}
	most := uint64(0)
	for _, e := range j.log.Entries {
		most = max(most, e.Seq)
	}
	for _, e := range b.log.Entries {
		if !have[e.Seq] && (most == 0 || e.Seq < most) {
			j.log.Entries = append(j.log.Entries, e)
			n++
		}
	}
	slices.SortFunc(j.log.Entries, func(a, b edit.Entry) int { return cmp.Compare(a.Seq, b.Seq) })
	if extra := len(j.log.Entries) - edit.MaxEntries; extra > 0 {
		j.log.Entries = j.log.Entries[extra:]
	}
	for i, e := range j.log.Entries {
		if e.Seq == cur.Seq || cur.Seq == 0 {
			j.log.Cursor = i
		}
		j.log.Next = max(j.log.Next, e.Seq+1)
	}
	for _, name := range []string{"lays", "versions"} {
		from := b.box.buckets[name]
		if from == nil {
			continue
		}
		if j.box.buckets[name] == nil {
			j.box.buckets[name] = newFound()
		}
		for key, v := range from.values {
			if _, there := j.box.buckets[name].values[key]; !there {
				j.box.buckets[name].values[key] = v
			}
		}
	}
	return n
}

// fillFlat takes a bucket of plain values, and what is missing of it from the
// newest backup.
func (h *Health) fillFlat(m made, name string, f *found, old []contents) {
	values := map[string][]byte{}
	maps.Copy(values, f.values)
	missing := len(f.bad)
	h.Other += missing
	if f.broken || missing > 0 {
		for _, c := range old {
			b := c.flat[name]
			if b == nil || b.broken {
				continue
			}
			for key, v := range b.values {
				if _, there := values[key]; there {
					continue
				}
				if !f.broken && !slices.Contains(f.bad, key) {
					continue // it was taken out since
				}
				values[key] = v
				h.OtherBack++
			}
			break
		}
		if f.broken {
			h.Other = max(h.Other, h.OtherBack, 1)
		}
	}
	m.flat[name] = values
}

package edit

import (
	"reflect"
	"slices"
	"time"

	"slipseat/app/job"
)

// MaxEntries is how many snapshots a history keeps; the oldest go first.
const MaxEntries = 200

// Entry is one snapshot: the job after a change, the change's label and when
// it was made. Seq numbers the entries of a history from 1 and is never used
// again, also not when an entry is dropped.
type Entry struct {
	Seq   uint64
	Label Label
	At    time.Time
	Job   job.Job
}

// Log is a history at one moment, as it is stored. Nobody changes a Log that
// was handed out.
type Log struct {
	Entries []Entry // the oldest first
	Cursor  int     // index of the current entry
	Next    uint64  // the Seq that comes next
}

// Job is the current snapshot.
func (l Log) Job() job.Job { return l.Entries[l.Cursor].Job }

// Valid tells whether a log can be gone on with: it has entries with rising
// numbers, and the cursor stands on one.
func (l Log) Valid() bool {
	if len(l.Entries) == 0 || l.Cursor < 0 || l.Cursor >= len(l.Entries) || len(l.Entries) > MaxEntries {
		return false
	}
	for i, e := range l.Entries {
		if e.Seq == 0 || i > 0 && e.Seq <= l.Entries[i-1].Seq || e.Seq >= l.Next {
			return false
		}
	}
	return true
}

// History is the list of snapshots of a job, with a cursor that undo and redo
// move. It is not safe for use by several goroutines; Log gives what can be
// handed to another.
type History struct {
	log   Log
	rev   uint64 // counts every move and change
	saved uint64 // the rev that was saved last
}

// NewHistory starts the history of a job that was made or opened. It is not
// saved yet.
func NewHistory(j job.Job, l Label, at time.Time) *History {
	return &History{log: Log{Entries: []Entry{{Seq: 1, Label: l, At: at, Job: j}}, Next: 2}, rev: 1}
}

// Resume goes on with a stored history, which counts as saved. It reports
// false for a log that cannot be gone on with.
func Resume(l Log) (*History, bool) {
	if !l.Valid() {
		return nil, false
	}
	l.Entries = slices.Clone(l.Entries)
	return &History{log: l, rev: 1, saved: 1}, true
}

// Job is the current snapshot.
func (h *History) Job() job.Job { return h.log.Job() }

// Log gives the history as it stands, sharing the snapshots.
func (h *History) Log() Log {
	l := h.log
	l.Entries = slices.Clone(l.Entries)
	return l
}

// Commit puts a new snapshot behind the current one and drops what was undone.
// A job equal to the current one is no change; Commit then reports false.
func (h *History) Commit(l Label, j job.Job, at time.Time) bool {
	if reflect.DeepEqual(j, h.Job()) {
		return false
	}
	kept := h.log.Entries[:h.log.Cursor+1]
	if len(kept) == MaxEntries {
		kept = kept[1:]
	}
	h.log.Entries = append(slices.Clone(kept), Entry{Seq: h.log.Next, Label: l, At: at, Job: j})
	h.log.Next++
	h.log.Cursor = len(h.log.Entries) - 1
	h.rev++
	return true
}

// CanUndo gives the label of the change that Undo would take back.
func (h *History) CanUndo() (Label, bool) {
	if h.log.Cursor == 0 {
		return Label{}, false
	}
	return h.log.Entries[h.log.Cursor].Label, true
}

// CanRedo gives the label of the change that Redo would make again.
func (h *History) CanRedo() (Label, bool) {
	if h.log.Cursor+1 == len(h.log.Entries) {
		return Label{}, false
	}
	return h.log.Entries[h.log.Cursor+1].Label, true
}

// Undo moves to the snapshot before; false at the first.
func (h *History) Undo() bool { return h.Go(h.log.Cursor - 1) }

// Redo moves to the snapshot after; false at the last.
func (h *History) Redo() bool { return h.Go(h.log.Cursor + 1) }

// Go moves to the entry with the given index, as Undo and Redo do many times;
// false when there is none.
func (h *History) Go(i int) bool {
	if i < 0 || i >= len(h.log.Entries) {
		return false
	}
	if i != h.log.Cursor {
		h.log.Cursor = i
		h.rev++
	}
	return true
}

// Rev numbers the states of the history: every change and every move gives a
// new one.
func (h *History) Rev() uint64 { return h.rev }

// Saved tells the history that its state at rev is in the store.
func (h *History) Saved(rev uint64) { h.saved = max(h.saved, min(rev, h.rev)) }

// Dirty tells whether something is not in the store yet: a change, or a move
// of the cursor, which is stored as well so that undo goes on after a restart.
func (h *History) Dirty() bool { return h.rev != h.saved }

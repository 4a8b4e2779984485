package session

import (
	"time"

	"slipseat/app/edit"
	"slipseat/app/job"
)

// MaxHistory is the number of snapshots that are kept.
const MaxHistory = 200

// Entry is one snapshot of a history: the job after a change.
type Entry struct {
	Job   job.Job
	Label edit.Label
	At    time.Time
}

// History is a list of immutable snapshots with a cursor. Undo and redo move
// the cursor; a new change drops what could be redone. The oldest entry is the
// job as it was first opened and cannot be undone.
type History struct {
	entries []Entry
	cursor  int
	base    int // number of entries dropped at the old end, so that keys stay
}

// NewHistory starts with a job.
func NewHistory(j job.Job, at time.Time) *History {
	return &History{entries: []Entry{{Job: j, Label: edit.Label{Code: "open"}, At: at}}}
}

// RestoreHistory brings a stored history back; the cursor is an index into
// entries, base the number of the first one.
func RestoreHistory(entries []Entry, cursor, base int) *History {
	return &History{entries: entries, cursor: max(0, min(cursor, len(entries)-1)), base: base}
}

// Job is the snapshot at the cursor.
func (h *History) Job() job.Job { return h.entries[h.cursor].Job }

// Commit adds a snapshot behind the cursor and drops what could be redone.
func (h *History) Commit(j job.Job, l edit.Label, at time.Time) {
	h.entries = append(h.entries[:h.cursor+1:h.cursor+1], Entry{j, l, at})
	if drop := len(h.entries) - MaxHistory; drop > 0 {
		h.entries = append([]Entry(nil), h.entries[drop:]...)
		h.base += drop
	}
	h.cursor = len(h.entries) - 1
}

// Undo moves to the snapshot before; false at the oldest.
func (h *History) Undo() bool {
	if h.cursor == 0 {
		return false
	}
	h.cursor--
	return true
}

// Redo moves to the snapshot after; false at the newest.
func (h *History) Redo() bool {
	if h.cursor == len(h.entries)-1 {
		return false
	}
	h.cursor++
	return true
}

// CanUndo gives the label of what Undo would take back.
func (h *History) CanUndo() (edit.Label, bool) {
	return h.entries[h.cursor].Label, h.cursor > 0
}

// CanRedo gives the label of what Redo would do again.
func (h *History) CanRedo() (edit.Label, bool) {
	if h.cursor+1 >= len(h.entries) {
		return edit.Label{}, false
	}
	return h.entries[h.cursor+1].Label, true
}

// Entries gives the snapshots, the cursor among them and the number of the
// first one.
func (h *History) Entries() (entries []Entry, cursor, base int) { return h.entries, h.cursor, h.base }

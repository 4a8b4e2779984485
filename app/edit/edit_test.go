package edit_test

import (
	"bytes"
	"flag"
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"
	"time"

	"slipseat/app/edit"
	"slipseat/app/edit/edittest"
	"slipseat/app/job"
	"slipseat/engine/unit"
)

var seedFlag = flag.Uint64("seed", 0, "seed of the random trials; 0 for the usual ones")

// seeds prints the seed of a trial that fails.
func seeds(t *testing.T, n int, f func(t *testing.T, r *rand.Rand)) {
	for i := range n {
		seed := uint64(i + 1)
		if *seedFlag != 0 {
			seed, n = *seedFlag, 1
		}
		t.Run(fmt.Sprintf("seed=%d", seed), func(t *testing.T) { f(t, rand.New(rand.NewPCG(seed, 7))) })
		if *seedFlag != 0 {
			return
		}
	}
}

func clock(n int) time.Time { return time.Date(2026, 3, 1, 9, 0, n, 0, time.UTC) }

// TestUndoAllRedoAll: after any changes, undoing all gives the first job's
// bytes, redoing all the last one's, and every state on the way is the same as
// it was on the way there.
func TestUndoAllRedoAll(t *testing.T) {
	seeds(t, 2, func(t *testing.T, r *rand.Rand) {
		j := edittest.Job(r, 6)
		h := edit.NewHistory(j, edit.Label{Code: "new"}, clock(0))
		states := [][]byte{job.Encode(j)}
		for i := range 100 {
			c := edittest.Command(r, h.Job())
			before := job.Encode(h.Job())
			next, faults := c.Apply(h.Job())
			if !bytes.Equal(job.Encode(h.Job()), before) {
				t.Fatalf("%#v changed a job that was handed out", c)
			}
			if len(faults) > 0 {
				if !reflect.DeepEqual(next, h.Job()) {
					t.Fatalf("%#v was refused (%v), but changed the job", c, faults)
				}
				continue
			}
			if again, _ := c.Apply(h.Job()); !bytes.Equal(job.Encode(again), job.Encode(next)) {
				t.Fatalf("%#v gives another job the second time", c)
			}
			if bad := next.Check(); len(bad) > 0 {
				t.Fatalf("%#v makes a job that cannot be kept: %v", c, bad[0])
			}
			if h.Commit(c.Label(h.Job()), next, clock(i)) {
				states = append(states, job.Encode(next))
			}
		}
		if len(states) < 25 {
			t.Fatalf("only %d changes went through", len(states))
		}
		for i := len(states) - 1; i > 0; i-- {
			if !h.Undo() || !bytes.Equal(job.Encode(h.Job()), states[i-1]) {
				t.Fatalf("undo to %d gives another job", i-1)
			}
		}
		if h.Undo() {
			t.Error("undo beyond the first")
		}
		for i := 1; i < len(states); i++ {
			if !h.Redo() || !bytes.Equal(job.Encode(h.Job()), states[i]) {
				t.Fatalf("redo to %d gives another job", i)
			}
		}
		if h.Redo() {
			t.Error("redo beyond the last")
		}
		// What is kept reads back the same.
		for _, s := range states {
			k, err := job.Decode(s)
			if err != nil || !bytes.Equal(job.Encode(k), s) {
				t.Fatalf("a state does not read back: %v", err)
			}
		}
	})
}

// TestPackedHistory: a history read back from its records is the same, and its
// chunks are few.
func TestPackedHistory(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 7))
	j := edittest.Job(r, 1)
	for len(j.Seats) < 24 {
		j, _ = edit.DuplicateSeat{Seat: j.Seats[0].ID, ID: job.NewID(edittest.Bytes(r))}.Apply(j)
	}
	h := edit.NewHistory(j, edit.Label{Code: "new"}, clock(0))
	for i := range edit.MaxEntries + 30 {
		c := edit.Handle{Seat: j.Seats[i%24].ID, Field: edit.OutlineDepth, To: unit.Length(300 + i)}
		next, faults := c.Apply(h.Job())
		if len(faults) > 0 {
			t.Fatal(faults[0])
		}
		h.Commit(c.Label(h.Job()), next, clock(i))
	}
	l := h.Log()
	if len(l.Entries) != edit.MaxEntries {
		t.Fatalf("%d entries kept, want %d", len(l.Entries), edit.MaxEntries)
	}
	chunks := map[job.ChunkID][]byte{}
	g := &job.Joiner{Get: func(id job.ChunkID) ([]byte, error) { return chunks[id], nil }}
	var recs [][]byte
	size := 0
	for _, e := range l.Entries {
		rec, parts := e.Pack()
		for _, c := range parts {
			if _, ok := chunks[c.ID]; !ok {
				size += len(c.Data)
			}
			chunks[c.ID] = c.Data
		}
		size += len(rec)
		recs = append(recs, rec)
	}
	whole := len(job.Encode(l.Job()))
	t.Logf("one snapshot %d bytes, %d snapshots %d bytes", whole, len(recs), size)
	if size > 25*whole {
		t.Errorf("%d snapshots take %d bytes, one takes %d", len(recs), size, whole)
	}
	for i, rec := range recs {
		e, err := edit.Unpack(rec, g)
		want := l.Entries[i]
		if err != nil || e.Seq != want.Seq || !e.At.Equal(want.At) || !reflect.DeepEqual(e.Label, want.Label) || !reflect.DeepEqual(e.Job, want.Job) {
			t.Fatalf("entry %d: got %+v %v, want %+v", i, e.Label, err, want.Label)
		}
	}
	// Every part of a record is in its list.
	for _, id := range edit.ChunksOf(recs[7]) {
		if chunks[id] == nil {
			t.Errorf("chunk %s is not there", id)
		}
	}
	// A chunk that is not what its name says is refused.
	var id job.ChunkID
	for id = range chunks {
		break
	}
	bad := &job.Joiner{Get: func(want job.ChunkID) ([]byte, error) {
		return append([]byte(" "), chunks[want]...), nil
	}}
	if _, err := edit.Unpack(recs[0], bad); err == nil {
		t.Errorf("chunks with a byte more pass (%s)", id)
	}
	// The stored history can be gone on with.
	k, ok := edit.Resume(l)
	if !ok || k.Dirty() {
		t.Fatal("the log cannot be gone on with")
	}
	k.Undo()
	if !k.Dirty() {
		t.Error("a move of the cursor is to be saved")
	}
	k.Saved(k.Rev())
	if k.Dirty() {
		t.Error("saved, but dirty")
	}
	if len(h.Log().Entries) != len(l.Entries) || h.Log().Cursor != l.Cursor {
		t.Error("the log that was handed out is shared")
	}
}

func TestHistoryDropsWhatWasUndone(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 7))
	j := job.New(edittest.Bytes(r), edittest.Names, job.UnitsInches)
	h := edit.NewHistory(j, edit.Label{Code: "new"}, clock(0))
	do := func(text string) {
		c := edit.Set{Object: j.Seats[0].ID, Field: edit.OutlineDepth, Text: text}
		next, faults := c.Apply(h.Job())
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		h.Commit(c.Label(h.Job()), next, clock(1))
	}
	depth := func() string { s, _ := h.Job().Get(j.Seats[0].ID, edit.OutlineDepth); return s }
	do("18")
	do("19")
	if h.Commit(edit.Label{}, h.Job(), clock(2)) {
		t.Error("an equal job is an entry")
	}
	h.Undo()
	if l, ok := h.CanRedo(); !ok || l.Code != "set" {
		t.Errorf("redo: got %v %v", l, ok)
	}
	do("20")
	if _, ok := h.CanRedo(); ok || depth() != "20 in" {
		t.Errorf("after a new change: depth %s, redo %v", depth(), ok)
	}
	h.Undo()
	if depth() != "18 in" {
		t.Errorf("got %s, want 18 in", depth())
	}
	seqs := []uint64{}
	for _, e := range h.Log().Entries {
		seqs = append(seqs, e.Seq)
	}
	if want := []uint64{1, 2, 4}; !reflect.DeepEqual(seqs, want) {
		t.Errorf("numbers %v, want %v", seqs, want)
	}
	for name, l := range map[string]edit.Log{
		"empty":          {},
		"cursor beyond":  {Entries: h.Log().Entries, Cursor: 9, Next: 9},
		"number twice":   {Entries: append(h.Log().Entries, h.Log().Entries[2]), Next: 9},
		"number too big": {Entries: h.Log().Entries, Next: 3},
	} {
		if _, ok := edit.Resume(l); ok {
			t.Errorf("%s: gone on with", name)
		}
	}
}

package store_test

import (
	"syscall"
	"testing"

	"slipseat/app/edit"
	"slipseat/app/edit/edittest"
	"slipseat/app/store"
	"slipseat/app/store/storetest"
)

// TestEveryWriteAndSyncFails lets, one after the other, every write and every
// sync of a save fail. The store then has the job as it was or as it should
// be, never a mixture; the save that failed says so; the next one goes through,
// and so it is after a restart.
func TestEveryWriteAndSyncFails(t *testing.T) {
	writes := 0
	for n := 1; ; n++ {
		for _, what := range []string{"write", "sync"} {
			st := storetest.Open(t)
			r, h := newJob(7)
			change := func() {
				for range 3 {
					c := edittest.Command(r, h.Job())
					if next, faults := c.Apply(h.Job()); len(faults) == 0 && len(next.Seats) < 5 {
						h.Commit(c.Label(h.Job()), next, st.Now())
					}
				}
			}
			must(t, st.Save(record(h, st.Now())))
			before := h.Log()
			change()
			left, reached := n, false
			mend := store.BreakDisk(st.Store, func(int64) error {
				if left--; left == 0 && what == "write" {
					reached = true
					return &os1{syscall.EIO}
				}
				return nil
			}, func() bool {
				if left == 0 && what == "sync" {
					reached = true
					return false
				}
				return true
			})
			err := st.Save(record(h, st.Now()))
			mend()
			if !reached {
				if err != nil {
					t.Fatalf("nothing failed, and yet: %v", err)
				}
				if writes < 3 {
					t.Errorf("only %d writes could fail", writes)
				}
				return
			}
			writes = max(writes, n)
			rec, lerr := st.Load(h.Job().ID)
			if lerr != nil || rec.Lost > 0 {
				t.Fatalf("%s %d failed; loading: %v, %d lost", what, n, lerr, rec.Lost)
			}
			was, is := same(rec.Log, before) == nil, same(rec.Log, h.Log()) == nil
			// A sync is called for after the last write of the pages and after
			// that of the header; between other writes a broken one is not noticed.
			if err != nil && code(err) != store.CodeWrite || err == nil && (what == "write" || !is) || !was && !is {
				t.Errorf("%s %d failed: saving said %v, and the job is as before %v, as after %v", what, n, err, was, is)
			}
			change()
			must(t, st.Save(record(h, st.Now())))
			st.Reopen()
			if rec, err := st.Load(h.Job().ID); err != nil || same(rec.Log, h.Log()) != nil {
				t.Errorf("%s %d failed; after the next save and a restart: %v", what, n, err)
			}
		}
	}
}

// os1 is an error of the operating system as bolt hands it on.
type os1 struct{ errno syscall.Errno }

func (e *os1) Error() string { return "write: " + e.errno.Error() }
func (e *os1) Unwrap() error { return e.errno }

// TestUndoAfterRestart: what was undone can be done again after a restart, and
// the other way round.
func TestUndoAfterRestart(t *testing.T) {
	st := storetest.Open(t)
	r, h := newJob(9)
	for range 12 {
		c := edittest.Command(r, h.Job())
		if next, faults := c.Apply(h.Job()); len(faults) == 0 {
			h.Commit(c.Label(h.Job()), next, st.Now())
		}
	}
	for range 3 {
		h.Undo()
	}
	must(t, st.Save(record(h, st.Now())))
	st.Reopen()
	rec, err := st.Load(h.Job().ID)
	must(t, err)
	back, ok := edit.Resume(rec.Log)
	if !ok || same(back.Log(), h.Log()) != nil {
		t.Fatal("the history is another")
	}
	for h.Redo() {
		if !back.Redo() || same(back.Log(), h.Log()) != nil {
			t.Fatal("redo gives another job after a restart")
		}
	}
	for h.Undo() {
		if !back.Undo() || same(back.Log(), h.Log()) != nil {
			t.Fatal("undo gives another job after a restart")
		}
	}
}

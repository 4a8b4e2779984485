package store_test

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"syscall"
	"testing"
	"time"

	"slipseat/app/edit"
	"slipseat/app/edit/edittest"
	"slipseat/app/job"
	"slipseat/app/store"
	"slipseat/app/store/storetest"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

var seedFlag = flag.Uint64("seed", 0, "seed of the random trials; 0 for the usual ones")

func code(err error) string {
	var f unit.Fault
	if errors.As(err, &f) {
		return f.Code
	}
	return fmt.Sprint(err)
}

func record(h *edit.History, at time.Time) store.Record {
	return store.Record{Log: h.Log(), Info: store.InfoOf(h.Job(), at)}
}

func newJob(seed uint64) (*rand.Rand, *edit.History) {
	r := rand.New(rand.NewPCG(seed, 11))
	j := job.New(edittest.Bytes(r), edittest.Names, job.UnitsInches)
	return r, edit.NewHistory(j, edit.Label{Code: "new"}, storetest.Start)
}

// same tells whether two logs are the same to the last byte of every job.
func same(a, b edit.Log) error {
	if a.Cursor != b.Cursor || a.Next != b.Next || len(a.Entries) != len(b.Entries) {
		return fmt.Errorf("cursor %d of %d, next %d; want %d of %d, %d", a.Cursor, len(a.Entries), a.Next, b.Cursor, len(b.Entries), b.Next)
	}
	for i, e := range a.Entries {
		f := b.Entries[i]
		if e.Seq != f.Seq || !e.At.Equal(f.At) || e.Label.Code != f.Label.Code || !bytes.Equal(job.Encode(e.Job), job.Encode(f.Job)) {
			return fmt.Errorf("entry %d: %d %s %s, want %d %s %s", i, e.Seq, e.At, e.Label.Code, f.Seq, f.At, f.Label.Code)
		}
	}
	return nil
}

// TestModel plays random work on a store and on a map beside it: edits, undo,
// saves that fail, deleting, restoring, copying, lays, settings and restarts.
// After every step the store says the same.
func TestModel(t *testing.T) {
	seeds := []uint64{1}
	if *seedFlag != 0 {
		seeds = []uint64{*seedFlag}
	}
	for _, seed := range seeds {
		t.Run(fmt.Sprintf("seed=%d", seed), func(t *testing.T) { model(t, seed) })
	}
}

func model(t *testing.T, seed uint64) {
	r := rand.New(rand.NewPCG(seed, 11))
	st := storetest.Open(t)
	jobs, trash := map[job.ID]edit.Log{}, map[job.ID]edit.Log{}
	lays := map[job.ID]map[lay.ProblemID]lay.Lay{}
	open := map[job.ID]*edit.History{}
	settings := map[string]string{}
	ids := func(m map[job.ID]edit.Log) (list []job.ID) {
		for id := range m {
			list = append(list, id)
		}
		slices.Sort(list)
		return list
	}
	anyOf := func(m map[job.ID]edit.Log) (job.ID, bool) {
		list := ids(m)
		if len(list) == 0 {
			return "", false
		}
		return list[r.IntN(len(list))], true
	}
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatalf("%v", err)
		}
	}
	for step := range 80 {
		st.Advance(time.Duration(r.IntN(3000)) * time.Millisecond)
		id, some := anyOf(jobs)
		switch what := r.IntN(20); {
		case !some || what == 0:
			h := edit.NewHistory(edittest.Job(r, 2), edit.Label{Code: "new"}, st.Now())
			must(st.Save(record(h, st.Now())))
			jobs[h.Job().ID], open[h.Job().ID] = h.Log(), h
		case what < 11: // some edits, then a save that may fail
			h := open[id]
			for range 1 + r.IntN(4) {
				if r.IntN(4) == 0 {
					h.Go(r.IntN(len(h.Log().Entries)))
				}
				c := edittest.Command(r, h.Job())
				next, faults := c.Apply(h.Job())
				if len(faults) == 0 {
					h.Commit(c.Label(h.Job()), next, st.Now())
				}
			}
			if r.IntN(4) == 0 {
				storetest.FailNextCommit(st, syscall.ENOSPC)
				if err := st.Save(record(h, st.Now())); code(err) != store.CodeFull {
					t.Fatalf("a full disk: %v", err)
				}
				break
			}
			must(st.Save(record(h, st.Now())))
			jobs[id] = h.Log()
		case what == 11:
			must(st.Delete(id))
			trash[id] = jobs[id]
			delete(jobs, id)
		case what == 12:
			id, ok := anyOf(trash)
			if !ok {
				break
			}
			must(st.Restore(id))
			jobs[id] = trash[id]
			delete(trash, id)
			open[id], _ = edit.Resume(jobs[id])
		case what == 13:
			as := job.NewID(edittest.Bytes(r))
			must(st.Duplicate(id, as, "A copy", edit.Label{Code: "copy"}))
			rec, err := st.Load(as)
			must(err)
			want := jobs[id].Job()
			want.ID, want.Name = as, "A copy"
			if !bytes.Equal(job.Encode(rec.Log.Job()), job.Encode(want)) || len(rec.Log.Entries) != 1 {
				t.Fatal("the copy is another job")
			}
			jobs[as] = rec.Log
			open[as], _ = edit.Resume(rec.Log)
			lays[as] = map[lay.ProblemID]lay.Lay{}
			for p, l := range lays[id] {
				lays[as][p] = l
			}
		case what < 17:
			var p lay.ProblemID
			p[0] = byte(r.IntN(5))
			l := lay.Lay{Length: unit.Length(1000 + r.IntN(100)), Seed: r.Uint64(), Evaluations: r.Int64N(1000), Bound: 900,
				Places: []lay.Place{{Kind: 1, Turn: 2, At: geom.P(r.Float64()*100, 1/3.0)}}}
			must(st.SaveLay(id, p, l))
			if lays[id] == nil {
				lays[id] = map[lay.ProblemID]lay.Lay{}
			}
			if old, ok := lays[id][p]; ok {
				l = store.Better(old, l)
			}
			lays[id][p] = l
		case what == 17:
			k, v := fmt.Sprint("k", r.IntN(5)), fmt.Sprint(r.IntN(3))
			if v == "0" {
				v = ""
			}
			must(st.SetSetting(k, v))
			settings[k] = v
		default:
			st.Reopen()
		}
		look := ids(jobs)
		if step%25 != 24 { // all of them now and then, else the one that was worked on
			look = slices.DeleteFunc(look, func(other job.ID) bool { return other != id })
		}
		for _, id := range look {
			rec, err := st.Load(id)
			must(err)
			if err := same(rec.Log, jobs[id]); err != nil || rec.Lost != 0 {
				t.Fatalf("job %s: %v, %d lost", id, err, rec.Lost)
			}
			got, err := st.Lays(id)
			must(err)
			if len(got) != len(lays[id]) {
				t.Fatalf("job %s: %d lays, want %d", id, len(got), len(lays[id]))
			}
			for p, l := range lays[id] {
				if fmt.Sprint(got[p]) != fmt.Sprint(l) {
					t.Fatalf("lay: got %v, want %v", got[p], l)
				}
			}
		}
		infos, err := st.Jobs()
		must(err)
		if len(infos) != len(jobs) || !slices.IsSortedFunc(infos, func(a, b store.Info) int { return b.Changed.Compare(a.Changed) }) {
			t.Fatalf("%d jobs listed, want %d: %v", len(infos), len(jobs), infos)
		}
		for _, info := range infos {
			if j := jobs[info.ID].Job(); info.Name != j.Name || info.Kinds != len(j.Seats) || info.Status != j.Status {
				t.Fatalf("facts %+v", info)
			}
		}
		bin, err := st.Trash()
		must(err)
		if len(bin) != len(trash) {
			t.Fatalf("%d jobs in the trash, want %d", len(bin), len(trash))
		}
		for k, v := range settings {
			if got, err := st.Setting(k); err != nil || got != v {
				t.Fatalf("setting %s: %q %v, want %q", k, got, err, v)
			}
		}
	}
}

func TestLaysAreKeptAndDropped(t *testing.T) {
	st := storetest.Open(t)
	_, h := newJob(1)
	id := h.Job().ID
	if err := st.Save(record(h, storetest.Start)); err != nil {
		t.Fatal(err)
	}
	pid := func(i int) (p lay.ProblemID) { p[0], p[31] = byte(i), 0xFF; return p }
	for i := range store.KeepLays + 7 {
		st.Advance(time.Second)
		if err := st.SaveLay(id, pid(i), lay.Lay{Length: 1000}); err != nil {
			t.Fatal(err)
		}
	}
	all, _ := st.Lays(id)
	if _, old := all[pid(6)]; len(all) != store.KeepLays || old {
		t.Errorf("%d lays kept, an old one among them: %v", len(all), old)
	}
	last := pid(store.KeepLays)
	for _, c := range []struct {
		name string
		l    lay.Lay
		want lay.Lay
	}{
		{"longer", lay.Lay{Length: 1001, Evaluations: 9}, lay.Lay{Length: 1000}},
		{"longer with a bound", lay.Lay{Length: 1001, Bound: 990}, lay.Lay{Length: 1000, Bound: 990}},
		{"shorter", lay.Lay{Length: 995}, lay.Lay{Length: 995, Bound: 990}},
		{"as long, further on", lay.Lay{Length: 995, Evaluations: 5}, lay.Lay{Length: 995, Bound: 990, Evaluations: 5}},
		{"as long, proved", lay.Lay{Length: 995, Proved: true}, lay.Lay{Length: 995, Bound: 990, Evaluations: 5, Proved: true}},
		{"more sheets", lay.Lay{Length: 1, Sheets: 1}, lay.Lay{Length: 995, Bound: 990, Evaluations: 5, Proved: true}},
	} {
		if err := st.SaveLay(id, last, c.l); err != nil {
			t.Fatal(err)
		}
		all, _ := st.Lays(id)
		if fmt.Sprint(all[last]) != fmt.Sprint(c.want) {
			t.Errorf("%s: got %+v, want %+v", c.name, all[last], c.want)
		}
	}
	if err := st.SaveLay(id, last, lay.Lay{Length: unit.Length(1e300)}); code(err) != job.CodeBadLay {
		t.Errorf("an absurd lay: %v", err)
	}
	if err := st.SaveLay("nobody0000", last, lay.Lay{}); code(err) != store.CodeNoJob {
		t.Errorf("a lay of no job: %v", err)
	}
}

func TestTrashIsEmptied(t *testing.T) {
	st := storetest.Open(t)
	_, h := newJob(1)
	id := h.Job().ID
	if err := errors.Join(st.Save(record(h, storetest.Start)), st.Delete(id)); err != nil {
		t.Fatal(err)
	}
	st.Advance(store.KeepTrash)
	st.Reopen()
	if bin, _ := st.Trash(); len(bin) != 1 || bin[0].Name != "Reading room" || !bin[0].Changed.Equal(storetest.Start) {
		t.Fatalf("trash after 30 days: %v", bin)
	}
	st.Advance(time.Second)
	st.Reopen()
	if bin, _ := st.Trash(); len(bin) != 0 {
		t.Errorf("trash after 30 days and a second: %v", bin)
	}
	if err := st.Restore(id); code(err) != store.CodeNoJob {
		t.Errorf("restored from nothing: %v", err)
	}
	if _, err := st.Load(id); code(err) != store.CodeNoJob {
		t.Errorf("loaded from nothing: %v", err)
	}
}

func TestRestoreDoesNotOverwrite(t *testing.T) {
	st := storetest.Open(t)
	_, h := newJob(1)
	id := h.Job().ID
	if err := errors.Join(st.Save(record(h, storetest.Start)), st.Delete(id), st.Save(record(h, storetest.Start))); err != nil {
		t.Fatal(err)
	}
	if err := st.Restore(id); code(err) != store.CodeTaken {
		t.Errorf("got %v", err)
	}
	if err := st.Duplicate(id, id, "x", edit.Label{}); code(err) != store.CodeTaken {
		t.Errorf("copied over itself: %v", err)
	}
}

func TestSaveRefusesNonsense(t *testing.T) {
	st := storetest.Open(t)
	_, h := newJob(1)
	_, other := newJob(2)
	good := record(h, storetest.Start)
	for name, r := range map[string]store.Record{
		"no log":        {Info: good.Info},
		"another's":     {Log: good.Log, Info: store.InfoOf(other.Job(), storetest.Start)},
		"no ID":         {Log: edit.NewHistory(job.Job{}, edit.Label{}, storetest.Start).Log()},
		"mixed entries": {Log: edit.Log{Entries: append(other.Log().Entries, edit.Entry{Seq: 2, Job: h.Job()}), Cursor: 1, Next: 3}, Info: good.Info},
	} {
		if err := st.Save(r); code(err) != store.CodeBadLog {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := st.SetSetting("", "x"); code(err) != store.CodeKey {
		t.Errorf("a setting without a name: %v", err)
	}
}

// TestAFailedCommitChangesNothing: the save fails, the store still has what it
// had, and the next save goes through.
func TestAFailedCommitChangesNothing(t *testing.T) {
	for _, c := range []struct {
		err  error
		code string
	}{
		{syscall.ENOSPC, store.CodeFull},
		{&os.PathError{Op: "write", Path: "x", Err: syscall.EROFS}, store.CodeReadOnly},
		{os.ErrPermission, store.CodeReadOnly},
		{errors.New("file resize error: no space left on device"), store.CodeFull},
		{errors.New("the disk is on fire"), store.CodeWrite},
	} {
		st := storetest.Open(t)
		r, h := newJob(4)
		if err := st.Save(record(h, storetest.Start)); err != nil {
			t.Fatal(err)
		}
		before := h.Log()
		for range 20 {
			cmd := edittest.Command(r, h.Job())
			if next, faults := cmd.Apply(h.Job()); len(faults) == 0 {
				h.Commit(cmd.Label(h.Job()), next, storetest.Start)
			}
		}
		storetest.FailNextCommit(st, c.err)
		if err := st.Save(record(h, storetest.Start)); code(err) != c.code {
			t.Errorf("%v: got %v, want %s", c.err, err, c.code)
		}
		rec, err := st.Load(h.Job().ID)
		if err != nil || same(rec.Log, before) != nil {
			t.Errorf("%v: after a failed save: %v %v", c.err, err, same(rec.Log, before))
		}
		if err := st.Save(record(h, storetest.Start)); err != nil {
			t.Errorf("%v: the next save: %v", c.err, err)
		}
		rec, err = st.Load(h.Job().ID)
		if err != nil || same(rec.Log, h.Log()) != nil {
			t.Errorf("%v: %v %v", c.err, err, same(rec.Log, h.Log()))
		}
	}
}

func TestHeldByAnotherWindow(t *testing.T) {
	st := storetest.Open(t)
	begin := time.Now()
	_, err := store.Open(store.Options{Folder: st.Folder, Wait: 100 * time.Millisecond})
	if code(err) != store.CodeOther {
		t.Errorf("got %v", err)
	}
	if d := time.Since(begin); d > 5*time.Second {
		t.Errorf("took %v", d)
	}
}

func TestClosedStore(t *testing.T) {
	st, err := store.Open(store.Options{Folder: t.TempDir()})
	if err != nil {
		t.Fatal(err)
	}
	_, h := newJob(1)
	if err := errors.Join(st.Close(), st.Close()); err != nil {
		t.Fatal(err)
	}
	if err := st.Save(record(h, storetest.Start)); code(err) != store.CodeClosed {
		t.Errorf("saved into a closed store: %v", err)
	}
	if _, err := st.Jobs(); code(err) != store.CodeClosed {
		t.Errorf("listed a closed store: %v", err)
	}
}

func TestFileTakenAway(t *testing.T) {
	dir := t.TempDir()
	st, err := store.Open(store.Options{Folder: dir})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	if err := os.Rename(filepath.Join(dir, store.FileName), filepath.Join(dir, "elsewhere")); err != nil {
		t.Fatal(err)
	}
	_, h := newJob(1)
	if err := st.Save(record(h, storetest.Start)); code(err) != store.CodeGone {
		t.Errorf("saved into a file that is gone: %v", err)
	}
	if err := os.Rename(filepath.Join(dir, "elsewhere"), filepath.Join(dir, store.FileName)); err != nil {
		t.Fatal(err)
	}
	if err := st.Save(record(h, storetest.Start)); err != nil {
		t.Errorf("the file is back: %v", err)
	}
}

func TestFolder(t *testing.T) {
	t.Setenv("SLIPSEAT_HOME", "/some/where")
	if dir, err := store.Folder(); err != nil || dir != "/some/where" {
		t.Errorf("got %s %v", dir, err)
	}
	t.Setenv("SLIPSEAT_HOME", "")
	t.Setenv("XDG_CONFIG_HOME", "/conf")
	if dir, err := store.Folder(); err != nil || filepath.Base(dir) != "slipseat" {
		t.Errorf("got %s %v", dir, err)
	}
	// A file where the folder should be.
	path := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Open(store.Options{Folder: path}); code(err) != store.CodeFolder {
		t.Errorf("a file for a folder: %v", err)
	}
	for _, step := range []string{"folder", "lock", "examine", "open"} {
		dir := t.TempDir()
		_, err := store.Open(store.Options{Folder: dir, Hook: func(s string) error {
			if s == step {
				return os.ErrPermission
			}
			return nil
		}})
		if code(err) != store.CodeReadOnly {
			t.Errorf("no permission at %s: %v", step, err)
		}
		// Nothing is held after a failure.
		st, err := store.Open(store.Options{Folder: dir})
		if err != nil {
			t.Errorf("after a failure at %s: %v", step, err)
			continue
		}
		st.Close()
	}
}

func BenchmarkSave(b *testing.B) {
	st := storetest.Open(b)
	r, h := newJob(1)
	for len(h.Job().Seats) < 24 {
		next, _ := edit.DuplicateSeat{Seat: h.Job().Seats[0].ID, ID: job.NewID(edittest.Bytes(r))}.Apply(h.Job())
		h.Commit(edit.Label{}, next, storetest.Start)
	}
	i := 0
	for b.Loop() {
		i++
		c := edit.Handle{Seat: h.Job().Seats[i%24].ID, Field: edit.OutlineDepth, To: unit.Length(300 + i%200)}
		next, _ := c.Apply(h.Job())
		h.Commit(c.Label(h.Job()), next, storetest.Start)
		if err := st.Save(record(h, storetest.Start)); err != nil {
			b.Fatal(err)
		}
	}
}

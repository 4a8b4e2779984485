package store_test

import (
	"bytes"
	"flag"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"slipseat/app/edit"
	"slipseat/app/edit/edittest"
	"slipseat/app/job"
	"slipseat/app/store"
	"slipseat/app/store/storetest"
	"slipseat/engine/geom"
	"slipseat/engine/lay"
)

var flipsFlag = flag.Int("flips", 60, "how many damaged files the trial makes")

// sample makes a store with some jobs and gives its bytes and what is in it.
func sample(t *testing.T) ([]byte, map[job.ID]edit.Log) {
	t.Helper()
	st := storetest.Open(t)
	want := map[job.ID]edit.Log{}
	for n := range uint64(2) {
		r, h := newJob(n + 1)
		for range 20 {
			c := edittest.Command(r, h.Job())
			if next, faults := c.Apply(h.Job()); len(faults) == 0 {
				h.Commit(c.Label(h.Job()), next, storetest.Start)
			}
			if r.IntN(6) == 0 {
				if err := st.Save(record(h, storetest.Start)); err != nil {
					t.Fatal(err)
				}
			}
		}
		if err := st.Save(record(h, storetest.Start)); err != nil {
			t.Fatal(err)
		}
		if err := st.SaveLay(h.Job().ID, lay.ProblemID{1}, lay.Lay{Length: 1000, Places: []lay.Place{{At: geom.P(1, 2)}}}); err != nil {
			t.Fatal(err)
		}
		want[h.Job().ID] = h.Log()
	}
	st.Reopen() // all is written
	data, err := os.ReadFile(st.Path())
	if err != nil {
		t.Fatal(err)
	}
	return data, want
}

func place(t *testing.T, data []byte) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, store.FileName), data, 0o600); err != nil {
		t.Fatal(err)
	}
	return dir
}

// TestDamagedFilesAreRefused: the store says that the file is damaged and
// leaves it as it is, byte for byte.
func TestDamagedFilesAreRefused(t *testing.T) {
	data, _ := sample(t)
	r := rand.New(rand.NewPCG(1, 13))
	noise := make([]byte, 64<<10)
	for i := range noise {
		noise[i] = byte(r.Uint32())
	}
	cases := map[string][]byte{
		"empty":             {},
		"one byte":          {7},
		"noise":             noise,
		"zeros":             make([]byte, 32<<10),
		"text":              bytes.Repeat([]byte("This is not a store.\n"), 1000),
		"half a page":       data[:2048],
		"both headers gone": append(make([]byte, 8192), data[8192:]...),
		"half the file":     data[:len(data)/2],
		"cut off a page":    data[:len(data)/3+17],
		"last byte gone":    trimZeroPages(data),
	}
	for _, pages := range []int{1, 2, 3, 4, 5, 8, 13, 21} {
		if n := pages * 4096; n < len(data)/2 {
			cases["cut after page "+string(rune('0'+pages%10))+"/"+string(rune('0'+pages/10))] = data[:n]
		}
	}
	for name, bad := range cases {
		dir := place(t, bad)
		if _, err := store.Open(store.Options{Folder: dir}); code(err) != store.CodeDamaged {
			t.Errorf("%s: got %v, want %s", name, err, store.CodeDamaged)
		}
		after, err := os.ReadFile(filepath.Join(dir, store.FileName))
		if err != nil || !bytes.Equal(after, bad) {
			t.Errorf("%s: the file was changed", name)
		}
	}
}

// trimZeroPages cuts a file one byte short of its last page in use.
func trimZeroPages(data []byte) []byte {
	n := len(bytes.TrimRight(data, "\x00"))
	return data[:(n-1)/4096*4096+4095]
}

// TestFlippedBits: whatever bit of the file is wrong, the store either refuses
// the file, or says what it lost, or gives every job as it was. It never
// panics, and never gives a wrong job as a right one.
func TestFlippedBits(t *testing.T) {
	data, want := sample(t)
	r := rand.New(rand.NewPCG(2, 13))
	if *seedFlag != 0 {
		r = rand.New(rand.NewPCG(*seedFlag, 13))
	}
	var refused, said, whole int
	for i := range *flipsFlag {
		bad := bytes.Clone(data)
		at := r.IntN(len(bad))
		if i%4 == 0 { // a good share of them in the headers of pages and values
			at = at/4096*4096 + r.IntN(96)
		}
		bad[at] ^= 1 << r.IntN(8)
		if i%10 == 9 { // and some whole runs of bytes
			for k := range 16 {
				bad[min(at+k, len(bad)-1)] = byte(r.Uint32())
			}
		}
		st, err := store.Open(store.Options{Folder: place(t, bad)})
		if err != nil {
			refused++
			continue
		}
		lost := len(st.Notes()) > 0
		infos, err := st.Jobs()
		if err != nil {
			t.Fatalf("flip at %d: %v", at, err)
		}
		seen := 0
		for _, info := range infos {
			rec, err := st.Load(info.ID)
			if err != nil || rec.Lost > 0 {
				lost = true
			}
			if err != nil {
				continue
			}
			w, known := want[info.ID]
			switch {
			case !known:
				t.Errorf("flip at %d: a job %s that never was", at, info.ID)
			case rec.Lost == 0 && len(st.Notes()) == 0 && same(rec.Log, w) != nil:
				t.Errorf("flip at %d: job %s silently differs: %v", at, info.ID, same(rec.Log, w))
			case !bytes.Equal(job.Encode(rec.Log.Job()), job.Encode(w.Job())) && !lost:
				t.Errorf("flip at %d: job %s silently is another", at, info.ID)
			}
			seen++
		}
		if seen < len(want) && !lost {
			t.Errorf("flip at %d: %d jobs of %d, and nothing said", at, seen, len(want))
		}
		if lost {
			said++
		} else {
			whole++
		}
		st.Close()
	}
	t.Logf("%d flips in %d bytes: %d refused, %d opened and said what was lost, %d whole", *flipsFlag, len(data), refused, said, whole)
	if refused == 0 || said == 0 || whole == 0 {
		t.Error("a kind of outcome never came: the trial is too tame")
	}
}

// TestOneDamagedValue: a flipped byte in the job's own place or in its history
// costs the least that it can.
func TestOneDamagedValue(t *testing.T) {
	data, want := sample(t)
	for _, id := range slices.Sorted(maps.Keys(want)) {
		w := want[id]
		// The job's own value is one that begins with its file. Pages that were
		// given up hold older copies: damage to those is not noticed, nor need
		// it be, and the next copy is tried.
		text := job.Encode(w.Job())
		for from := 0; ; {
			at := bytes.Index(data[from:], text)
			if at < 0 {
				break // the rest lies across pages that are not neighbours
			}
			at += from
			from = at + 1
			if oneDamagedValue(t, data, at+len(text)/2, id, w, text) {
				return
			}
		}
	}
	t.Error("no job's value found in one piece")
}

// oneDamagedValue flips a bit at a place of the file; false when that lies in a
// page that is not in use.
func oneDamagedValue(t *testing.T, data []byte, at int, id job.ID, w edit.Log, text []byte) bool {
	t.Helper()
	bad := bytes.Clone(data)
	bad[at] ^= 4
	st, err := store.Open(store.Options{Folder: place(t, bad)})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	rec, err := st.Load(id)
	if err != nil || !bytes.Equal(job.Encode(rec.Log.Job()), text) || len(rec.Log.Entries) != len(w.Entries) {
		t.Errorf("job %s damaged in its own place: %v, %d of %d versions", id, err, len(rec.Log.Entries), len(w.Entries))
	}
	if rec.Lost == 0 && len(st.Notes()) == 0 {
		return false
	}
	if rec.Lost == 0 || len(st.Notes()) == 0 {
		t.Errorf("job %s: %d lost, but %d notes on opening", id, rec.Lost, len(st.Notes()))
	}
	// The next save mends it.
	if err := st.Save(store.Record{Log: rec.Log, Info: rec.Info}); err != nil {
		t.Fatal(err)
	}
	if rec, err := st.Load(id); err != nil || rec.Lost != 0 {
		t.Errorf("after saving again: %v, %d lost", err, rec.Lost)
	}
	return true
}

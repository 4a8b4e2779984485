package store_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
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

// shop is a store with jobs, a deleted one, libraries, settings and versions,
// a backup of an earlier state, and what it all holds.
type shop struct {
	data   []byte // of the file
	backup []byte // of the backup, made before the last changes
	now    map[job.ID]edit.Log
	then   map[job.ID]edit.Log
}

func newShop(t *testing.T, jobs int) shop {
	t.Helper()
	st := storetest.Open(t)
	s := shop{now: map[job.ID]edit.Log{}, then: map[job.ID]edit.Log{}}
	var all []*edit.History
	work := func(r *rand.Rand, h *edit.History, n int) {
		for range n {
			c := edittest.Command(r, h.Job())
			if next, faults := c.Apply(h.Job()); len(faults) == 0 {
				h.Commit(c.Label(h.Job()), next, st.Now())
			}
		}
		must(t, st.Save(record(h, st.Now())))
	}
	for n := range jobs {
		r, h := newJob(uint64(n) + 1)
		work(r, h, 6)
		all = append(all, h)
		must(t, st.SaveLay(h.Job().ID, [32]byte{byte(n)}, layOf(float64(1000+n))), st.KeepVersion(h.Job().ID, "as quoted"))
	}
	for i := range 20 {
		must(t, store.Keep(st, store.Shelf, job.ID(fmt.Sprintf("shelf%05d", i)), offcut{"Moss", float64(i), 300}),
			st.SetSetting(fmt.Sprint("setting-", i), "on"))
	}
	for _, h := range all {
		s.then[h.Job().ID] = h.Log()
	}
	b, err := st.BackUp(true)
	must(t, err)
	s.backup, err = os.ReadFile(b.Path)
	must(t, err)
	st.Advance(30 * time.Minute)
	for n, h := range all {
		work(rand.New(rand.NewPCG(uint64(n), 23)), h, 4)
		s.now[h.Job().ID] = h.Log()
	}
	must(t, st.Delete(all[0].Job().ID))
	st.Reopen()
	s.data, err = os.ReadFile(st.Path())
	must(t, err)
	return s
}

// open puts a damaged file of the shop into a new folder.
func (s shop) put(t testing.TB, data []byte, withBackup bool) string {
	t.Helper()
	dir := t.TempDir()
	path := filepath.Join(dir, store.FileName)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if withBackup {
		name := filepath.Join(dir, store.BackupsName, "slipseat-20260301T090000Z.bolt")
		if err := errors.Join(os.Mkdir(filepath.Dir(name), 0o700), os.WriteFile(name, s.backup, 0o600)); err != nil {
			t.Fatal(err)
		}
	}
	return path
}

// verdict recovers a damaged file and holds what comes out against the truth.
// The outcome of the worst job counts. An error is a broken promise: a job that
// is silently another, a loss that was not said, a file that cannot be opened.
func (s shop) verdict(path string) (store.Outcome, error) {
	before, err := os.ReadFile(path)
	if err != nil {
		return "", err
	}
	h, err := store.Salvage(store.Options{}, path)
	if err != nil {
		return "", fmt.Errorf("salvage: %w", err)
	}
	if h.SetAside != "" {
		if kept, err := os.ReadFile(h.SetAside); err != nil || !bytes.Equal(kept, before) {
			return "", fmt.Errorf("the damaged file was not set aside as it was: %v", err)
		}
	}
	st, err := store.Open(store.Options{Folder: filepath.Dir(path), Now: func() time.Time { return storetest.Start.Add(time.Hour) }})
	if err != nil {
		return "", fmt.Errorf("opening what was recovered: %w", err)
	}
	defer st.Close()
	if notes := st.Notes(); len(notes) > 0 && h.SetAside != "" {
		return "", fmt.Errorf("what was recovered is damaged: %v", notes)
	}
	if h.SetAside == "" && len(st.Notes()) == 1 && st.Notes()[0].Code == store.CodeOneHeader {
		return store.Partly, nil // opened at the other header, and said so
	}
	said := map[job.ID]store.JobOutcome{}
	for _, j := range h.Jobs {
		said[j.Info.ID] = j
	}
	worst := store.Whole
	rank := map[store.Outcome]int{store.Whole: 0, store.Partly: 1, store.FromBackup: 2, store.Lost: 3}
	bin, err := st.Trash()
	if err != nil {
		return "", err
	}
	binned := map[job.ID]bool{}
	for _, i := range bin {
		binned[i.ID] = true
	}
	for id, want := range s.now {
		o, ok := said[id]
		if !ok {
			o.Outcome = store.Lost
			if len(h.Jobs) > 0 && allWhole(h.Jobs) {
				return "", fmt.Errorf("job %s is gone and every job is said to be whole", id)
			}
		}
		if binned[id] {
			if err := st.Restore(id); err != nil && !o.Trash {
				return "", err
			}
		}
		rec, err := st.Load(id)
		if err != nil {
			if o.Outcome != store.Lost {
				return "", fmt.Errorf("job %s is said to be %s, and cannot be loaded: %w", id, o.Outcome, err)
			}
			worst = store.Lost
			continue
		}
		got := job.Encode(rec.Log.Job())
		switch o.Outcome {
		case store.Whole:
			if err := same(rec.Log, want); err != nil {
				return "", fmt.Errorf("job %s is said to be whole: %w", id, err)
			}
		case store.Partly:
			if !inLog(got, want) {
				return "", fmt.Errorf("job %s is said to be partly there, and is one that never was", id)
			}
			if !bytes.Equal(got, job.Encode(want.Job())) && o.Versions == 0 {
				return "", fmt.Errorf("job %s is an older one, and no version is said to be lost", id)
			}
		case store.FromBackup:
			if !inLog(got, s.then[id]) {
				return "", fmt.Errorf("job %s is said to come from the backup, and is another", id)
			}
		}
		if rank[o.Outcome] > rank[worst] {
			worst = o.Outcome
		}
	}
	if worst == store.Whole && h.Other > 0 {
		worst = store.Partly
	}
	return worst, nil
}

func allWhole(jobs []store.JobOutcome) bool {
	for _, j := range jobs {
		if j.Outcome != store.Whole {
			return false
		}
	}
	return true
}

func inLog(data []byte, l edit.Log) bool {
	for _, e := range l.Entries {
		if bytes.Equal(data, job.Encode(e.Job)) {
			return true
		}
	}
	return false
}

// TestSalvage damages a file in known ways and looks at what comes out.
func TestSalvage(t *testing.T) {
	s := newShop(t, 4)
	size := pageSize(s.data)
	cut := func(n int) []byte { return bytes.Clone(s.data[:n]) }
	with := func(f func(b []byte)) []byte { b := bytes.Clone(s.data); f(b); return b }
	text := oneInPlace(s)
	for _, c := range []struct {
		name          string
		data          []byte
		alone, backed string // outcomes that may be, without and with the backup
	}{
		{"whole", s.data, "whole", "whole"},
		{"empty", nil, "lost", "from-backup"},
		{"zeros", make([]byte, len(s.data)), "lost", "from-backup"},
		{"text", bytes.Repeat([]byte("not a store\n"), 9999), "lost", "from-backup"},
		{"wrong magic", with(func(b []byte) { b[16] ^= 1; b[size+16] ^= 1 }), "partly", "partly"},
		{"both headers gone", with(func(b []byte) { clear(b[:2*size]) }), "partly lost", "partly from-backup"},
		{"half the file", cut(len(s.data) / 2), "partly lost", "partly from-backup"},
		{"cut in a page", cut(len(s.data)/3 + 100), "lost partly", "partly from-backup"},
		{"a job's page", with(func(b []byte) {
			// Pages that were given up hold copies of it as well.
			for at := bytes.Index(b, text); at >= 0; at = bytes.Index(b, text) {
				b[at+50] ^= 1
			}
		}), "partly", "partly from-backup"},
		{"the list of free pages", with(func(b []byte) {
			h := header(b)
			b[int(binary.LittleEndian.Uint64(b[h+32:]))*size+8] ^= 0x40
		}), "whole partly", "whole partly"},
		{"the root", with(func(b []byte) {
			h := header(b)
			b[int(binary.LittleEndian.Uint64(b[h+16:]))*size+8] ^= 0x40
		}), "partly lost", "partly from-backup"},
	} {
		for _, backed := range []bool{false, true} {
			want := c.alone
			if backed {
				want = c.backed
			}
			out, err := s.verdict(s.put(t, c.data, backed))
			if err != nil || !strings.Contains(want, string(out)) {
				t.Errorf("%s, with a backup %v: %s %v, want %s", c.name, backed, out, err, want)
			}
		}
	}
}

func pageSize(data []byte) int { return int(binary.LittleEndian.Uint32(data[24:])) }

// header is where the header that counts has its fields.
func header(b []byte) int {
	le := binary.LittleEndian
	if size := pageSize(b); le.Uint64(b[size+16+48:]) > le.Uint64(b[16+48:]) {
		return size + 16
	}
	return 16
}

func layOf(length float64) lay.Lay {
	return lay.Lay{Length: unit.Length(length), Places: []lay.Place{{At: geom.P(1, 2)}}}
}

// oneInPlace is the file of a job that stands in the store in one piece.
func oneInPlace(s shop) []byte {
	for _, id := range slices.Sorted(maps.Keys(s.now)) {
		if text := job.Encode(s.now[id].Job()); bytes.Contains(s.data, text) {
			return text
		}
	}
	panic("no job's value is in one piece")
}

// TestSalvageLeavesNothingHalfDone: whatever step fails, the damaged file is
// still where it was, byte for byte, and the next attempt goes through.
func TestSalvageLeavesNothingHalfDone(t *testing.T) {
	s := newShop(t, 2)
	bad := bytes.Clone(s.data)
	clear(bad[:2*pageSize(bad)])
	for n := 1; ; n++ {
		path := s.put(t, bad, true)
		left := n
		_, err := store.Salvage(store.Options{Hook: func(step string) error {
			if left--; left == 0 {
				return fmt.Errorf("the disk fails at %s", step)
			}
			return nil
		}}, path)
		if left > 0 {
			if err != nil {
				t.Fatal(err)
			}
			if n < 4 {
				t.Errorf("only %d steps can fail", n)
			}
			return
		}
		if err == nil {
			t.Errorf("step %d failed and nobody said so", n)
		}
		if after, err := os.ReadFile(path); err != nil || !bytes.Equal(after, bad) {
			t.Errorf("step %d failed and the file was changed: %v", n, err)
		}
		if out, err := s.verdict(path); err != nil || out == store.Lost {
			t.Errorf("after step %d had failed: %s %v", n, out, err)
		}
	}
}

// TestBackups: hourly, daily and weekly ones are kept, each is whole, and a
// clock that is set back does not stop them.
func TestBackups(t *testing.T) {
	st := storetest.Open(t)
	r, h := newJob(1)
	must(t, st.Save(record(h, st.Now())))
	made := 0
	step := func(d time.Duration) {
		t.Helper()
		st.Advance(d)
		c := edittest.Command(r, h.Job())
		if next, faults := c.Apply(h.Job()); len(faults) == 0 && len(next.Seats) < 4 {
			h.Commit(c.Label(h.Job()), next, st.Now())
		}
		must(t, st.Save(record(h, st.Now())), st.SetSetting("tick", fmt.Sprint(st.Now())))
		b, err := st.BackUp(false)
		must(t, err)
		if b.Path != "" {
			made++
		}
	}
	for range 24 * 3 * 2 {
		step(30 * time.Minute)
	}
	if made != 24*3 {
		t.Errorf("%d backups in 72 hours", made)
	}
	for range 120 {
		step(24 * time.Hour)
	}
	list, err := st.Backups()
	must(t, err)
	if len(list) < store.KeepHourly || len(list) > store.KeepHourly+store.KeepDaily+store.KeepWeekly {
		t.Errorf("%d backups are kept", len(list))
	}
	if oldest := st.Now().Sub(list[len(list)-1].At); oldest < 10*7*24*time.Hour {
		t.Errorf("the oldest is %s old", oldest)
	}
	for _, b := range list {
		rep, err := store.Examine(b.Path)
		if err != nil || rep.Fault != nil || len(rep.Damaged) > 0 || b.Partly || b.Size == 0 {
			t.Errorf("%s: %v %+v", b.Path, err, rep)
		}
		if info, err := os.Stat(b.Path); err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("%s: %v", b.Path, info.Mode())
		}
	}
	if b, err := st.BackUp(false); err != nil || b.Path != "" {
		t.Errorf("a backup although nothing was saved since: %+v %v", b, err)
	}
	made = 0
	step(-1000 * time.Hour)
	step(10 * time.Minute)
	step(60 * time.Minute)
	if made != 2 {
		t.Errorf("%d backups after the clock was set back", made)
	}
	newest, err := st.BackUp(true)
	must(t, err)
	if list, _ := st.Backups(); len(list) == 0 || !has(list, newest.Path) {
		t.Error("the backup that was just made is not there")
	}
	infos, load, err := store.InBackup(newest.Path)
	must(t, err)
	rec, ok := load(h.Job().ID)
	if len(infos) != 1 || !ok || same(rec.Log, h.Log()) != nil {
		t.Errorf("the backup holds another job: %v", same(rec.Log, h.Log()))
	}
}

func has(list []store.Backup, path string) bool {
	for _, b := range list {
		if b.Path == path {
			return true
		}
	}
	return false
}

// TestBackupFails: a backup that cannot be written leaves nothing behind and
// takes nothing away.
func TestBackupFails(t *testing.T) {
	fail := ""
	dir := t.TempDir()
	now := storetest.Start
	st, err := store.Open(store.Options{Folder: dir, Now: func() time.Time { return now }, Hook: func(step string) error {
		if step == fail {
			return errors.New("no room")
		}
		return nil
	}})
	must(t, err)
	defer st.Close()
	_, h := newJob(1)
	must(t, st.Save(record(h, now)))
	_, err = st.BackUp(true)
	must(t, err)
	for _, step := range []string{"create", "write", "sync", "rename"} {
		now = now.Add(2 * time.Hour)
		fail = step
		if _, err := st.BackUp(true); code(err) != store.CodeBackup {
			t.Errorf("%s fails: %v", step, err)
		}
		fail = ""
		files, _ := filepath.Glob(filepath.Join(dir, store.BackupsName, "*"))
		if len(files) != 1 {
			t.Errorf("%s fails: %v are left", step, files)
		}
	}
	if _, err := st.BackUp(false); err != nil {
		t.Error(err)
	}
}

// TestCompaction: a file shrinks after much was deleted, and holds the same.
func TestCompaction(t *testing.T) {
	st := storetest.Open(t)
	_, h := newJob(1)
	must(t, st.Save(record(h, storetest.Start)), st.SetSetting("kept", "yes"))
	for i := range 12 {
		must(t, st.SetSetting(fmt.Sprint("large-", i), strings.Repeat("x", 1<<20)))
	}
	for i := range 12 {
		must(t, st.SetSetting(fmt.Sprint("large-", i), ""))
	}
	before, _ := os.Stat(st.Path())
	st.Reopen()
	after, err := os.Stat(st.Path())
	must(t, err)
	if after.Size()*4 > before.Size() {
		t.Errorf("%d bytes before, %d after", before.Size(), after.Size())
	}
	rec, err := st.Load(h.Job().ID)
	if v, _ := st.Setting("kept"); err != nil || same(rec.Log, h.Log()) != nil || v != "yes" {
		t.Errorf("after compaction: %v %v %q", err, same(rec.Log, h.Log()), v)
	}
	if info, _ := os.Stat(st.Path()); info.Mode().Perm() != 0o600 {
		t.Errorf("rights %v", info.Mode())
	}
}

// TestCheckChangesNothing also while the file is damaged.
func TestCheckChangesNothing(t *testing.T) {
	s := newShop(t, 2)
	bad := bytes.Clone(s.data)
	clear(bad[:2*pageSize(bad)])
	path := s.put(t, bad, false)
	h, err := store.Check(store.Options{}, path)
	must(t, err)
	if h.Whole() || h.SetAside != "" {
		t.Errorf("a file without headers: %+v", h)
	}
	after, _ := os.ReadFile(path)
	if sha256.Sum256(after) != sha256.Sum256(bad) {
		t.Error("checking changed the file")
	}
	if list, _ := os.ReadDir(filepath.Dir(path)); len(list) != 1 {
		t.Errorf("checking left %v", list)
	}
	if h, err := store.Check(store.Options{}, s.put(t, s.data, false)); err != nil || !h.Whole() || h.Count(store.Whole) != 2 {
		t.Errorf("a whole file: %+v %v", h, err)
	}
	if _, err := store.BackUpFile(store.Options{}, path); code(err) != store.CodeDamaged {
		t.Errorf("a backup of a damaged file: %v", err)
	}
	if b, err := store.BackUpFile(store.Options{}, s.put(t, s.data, false)); err != nil || b.Size != int64(len(s.data)) {
		t.Errorf("a backup of a file: %+v %v", b, err)
	}
}

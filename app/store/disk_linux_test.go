package store_test

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"slipseat/app/edit"
	"slipseat/app/edit/edittest"
	"slipseat/app/job"
	"slipseat/app/store"
	"slipseat/app/store/storetest"
)

// mounted gives a small disk of its own; the test is skipped where mounting is
// not allowed.
func mounted(t *testing.T, options string) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, options); err != nil {
		t.Skipf("no disk can be mounted here: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, 0); err != nil {
			t.Errorf("unmount: %v", err)
			syscall.Unmount(dir, syscall.MNT_DETACH)
		}
	})
	return dir
}

// TestSmallDisk fills a real small disk up while a job is edited: saving fails
// with words, what was saved stays, and all is saved once there is room.
func TestSmallDisk(t *testing.T) {
	disk := mounted(t, "size=600k,mode=700")
	st, err := store.Open(store.Options{Folder: filepath.Join(disk, "jobs")})
	must(t, err)
	defer st.Close()
	r, h := newJob(1)
	must(t, st.Save(record(h, storetest.Start)))
	ballast := filepath.Join(disk, "ballast")
	if err := os.WriteFile(ballast, make([]byte, 1<<20), 0o600); !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("the disk is not full: %v", err)
	}
	safe, full := h.Log(), 0
	for range 400 {
		next, _ := edit.DuplicateSeat{Seat: h.Job().Seats[0].ID, ID: job.NewID(edittest.Bytes(r))}.Apply(h.Job())
		h.Commit(edit.Label{Code: "duplicate-seat"}, next, storetest.Start)
		err := st.Save(record(h, storetest.Start))
		if err == nil {
			safe = h.Log()
		} else if code(err) != store.CodeFull {
			t.Fatalf("a full disk: %v", err)
		} else if full++; full == 5 {
			break
		}
		if rec, err := st.Load(h.Job().ID); err != nil || same(rec.Log, safe) != nil {
			t.Fatalf("what was saved is not there: %v %v", err, same(rec.Log, safe))
		}
	}
	if full == 0 {
		t.Fatal("the disk never was full")
	}
	if _, err := st.BackUp(true); code(err) != store.CodeFull && code(err) != store.CodeBackup {
		t.Errorf("a backup on a full disk: %v", err)
	}
	must(t, os.Remove(ballast), st.Save(record(h, storetest.Start)))
	if rec, err := st.Load(h.Job().ID); err != nil || same(rec.Log, h.Log()) != nil {
		t.Errorf("with room again: %v", err)
	}
	rep, err := store.Examine(filepath.Join(disk, "jobs", store.FileName))
	if err != nil || rep.Fault != nil || len(rep.Damaged) > 0 {
		t.Errorf("examined: %v %+v", err, rep)
	}
}

// TestDiskMountedReadOnly: a disk that became read-only while the program was
// closed is told of, and works again once it may be written to.
func TestDiskMountedReadOnly(t *testing.T) {
	disk := mounted(t, "size=2m,mode=700")
	dir := filepath.Join(disk, "jobs")
	st, err := store.Open(store.Options{Folder: dir})
	must(t, err)
	_, h := newJob(1)
	must(t, st.Save(record(h, storetest.Start)), st.Close())
	must(t, syscall.Mount("tmpfs", disk, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""))
	if _, err := store.Open(store.Options{Folder: dir}); code(err) != store.CodeReadOnly {
		t.Errorf("a read-only disk: %v", err)
	}
	if _, err := store.Salvage(store.Options{}, filepath.Join(dir, store.FileName)); err != nil && code(err) != store.CodeReadOnly {
		t.Errorf("recovering there: %v", err)
	}
	must(t, syscall.Mount("tmpfs", disk, "tmpfs", syscall.MS_REMOUNT, ""))
	st, err = store.Open(store.Options{Folder: dir})
	must(t, err)
	defer st.Close()
	if rec, err := st.Load(h.Job().ID); err != nil || same(rec.Log, h.Log()) != nil {
		t.Errorf("after it may be written to: %v", err)
	}
}

// TestFolderRemovedWhileRunning: the store makes its folder again from what it
// has open, with everything that was in it.
func TestFolderRemovedWhileRunning(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "jobs")
	st, err := store.Open(store.Options{Folder: dir})
	must(t, err)
	defer st.Close()
	r, h := newJob(1)
	_, other := newJob(2)
	must(t, st.Save(record(h, storetest.Start)), st.Save(record(other, storetest.Start)), st.SetSetting("kept", "yes"))
	must(t, os.RemoveAll(dir))
	for range 5 {
		c := edittest.Command(r, h.Job())
		if next, faults := c.Apply(h.Job()); len(faults) == 0 {
			h.Commit(c.Label(h.Job()), next, storetest.Start)
		}
	}
	must(t, st.Save(record(h, storetest.Start)))
	// A second window does not get in.
	if _, err := store.Open(store.Options{Folder: dir, Wait: 50 * time.Millisecond}); code(err) != store.CodeOther {
		t.Errorf("a second window: %v", err)
	}
	must(t, st.Close())
	st, err = store.Open(store.Options{Folder: dir})
	must(t, err)
	defer st.Close()
	a, err1 := st.Load(h.Job().ID)
	b, err2 := st.Load(other.Job().ID)
	must(t, err1, err2)
	if v, _ := st.Setting("kept"); same(a.Log, h.Log()) != nil || same(b.Log, other.Log()) != nil || v != "yes" {
		t.Errorf("not all came back: %v %v %q", same(a.Log, h.Log()), same(b.Log, other.Log()), v)
	}
	// With the folder above gone as well, as when a disk is taken out, nothing
	// is made anywhere.
	up := filepath.Join(t.TempDir(), "stick")
	must(t, os.Mkdir(up, 0o700))
	gone, err := store.Open(store.Options{Folder: filepath.Join(up, "jobs")})
	must(t, err)
	defer gone.Close()
	must(t, os.Rename(up, up+"-out"))
	if err := gone.Save(record(h, storetest.Start)); code(err) != store.CodeGone {
		t.Errorf("the disk was taken out: %v", err)
	}
	if _, err := os.Stat(up); err == nil {
		t.Error("something was made in its place")
	}
	must(t, os.Rename(up+"-out", up), gone.Save(record(h, storetest.Start)))
}

// TestRights: everything in the folder is for the user alone.
func TestRights(t *testing.T) {
	old := syscall.Umask(0)
	defer syscall.Umask(old)
	dir := filepath.Join(t.TempDir(), "jobs")
	st, err := store.Open(store.Options{Folder: dir})
	must(t, err)
	_, h := newJob(1)
	must(t, st.Save(record(h, storetest.Start)))
	_, err = st.BackUp(true)
	must(t, err, st.Close())
	path := filepath.Join(dir, store.FileName)
	must(t, os.Truncate(path, 5000))
	_, err = store.Salvage(store.Options{}, path)
	must(t, err)
	seen := 0
	must(t, filepath.Walk(dir, func(p string, info os.FileInfo, err error) error {
		seen++
		want := os.FileMode(0o600)
		if info.IsDir() {
			want = 0o700
		}
		if info.Mode().Perm() != want {
			t.Errorf("%s: %v", p, info.Mode())
		}
		return err
	}))
	if seen < 8 {
		t.Errorf("only %d files and folders", seen)
	}
}

package store_test

import (
	"bytes"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"

	"slipseat/app/store"
)

// asNobody runs f with the rights of the user nobody as far as files go. The
// superuser may write anywhere, so that a read-only folder is none for it.
func asNobody(t *testing.T, f func()) {
	t.Helper()
	if os.Geteuid() != 0 {
		f()
		return
	}
	done := make(chan bool)
	go func() {
		defer close(done)
		runtime.LockOSThread() // and never unlocked: the thread ends with the goroutine
		if err := syscall.Setfsuid(65534); err != nil {
			t.Error(err)
			return
		}
		f()
	}()
	<-done
}

func TestReadOnlyFolder(t *testing.T) {
	data, _ := sample(t)
	dir := place(t, data)
	path := filepath.Join(dir, store.FileName)
	for _, c := range []struct {
		name         string
		folder, file os.FileMode
	}{
		{"folder and file read-only", 0o555, 0o444},
		{"file read-only", 0o777, 0o444},
		{"file not even readable", 0o777, 0o000},
	} {
		os.Remove(filepath.Join(dir, "slipseat.lock"))
		os.Mkdir(filepath.Join(dir, store.PicturesName), 0o777)
		if err := os.Chmod(path, c.file); err != nil {
			t.Fatal(err)
		}
		if err := os.Chmod(dir, c.folder); err != nil {
			t.Fatal(err)
		}
		asNobody(t, func() {
			if _, err := store.Open(store.Options{Folder: dir}); code(err) != store.CodeReadOnly {
				t.Errorf("%s: got %v", c.name, err)
			}
		})
		os.Chmod(dir, 0o777)
		os.Chmod(path, 0o600)
		if after, err := os.ReadFile(path); err != nil || !bytes.Equal(after, data) {
			t.Errorf("%s: the file was changed", c.name)
		}
	}
	asNobody(t, func() {
		if _, err := store.Open(store.Options{Folder: "/proc/slipseat"}); code(err) != store.CodeFolder && code(err) != store.CodeReadOnly {
			t.Errorf("a folder that cannot be made: %v", err)
		}
	})
}

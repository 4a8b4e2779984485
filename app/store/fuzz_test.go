package store_test

import (
	"os"
	"path/filepath"
	"testing"

	"slipseat/app/store"
)

// FuzzExamine: whatever the bytes, the examination ends with an answer, and a
// file that it lets through is opened by bolt without a panic.
func FuzzExamine(f *testing.F) {
	dir := f.TempDir()
	st, err := store.Open(store.Options{Folder: dir})
	if err != nil {
		f.Fatal(err)
	}
	st.Close()
	whole, err := os.ReadFile(filepath.Join(dir, store.FileName))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(0, []byte{1}, 1<<20)
	f.Add(4096*2+10, []byte{0xFF, 0xFF}, 1<<20)
	f.Add(4096*3+16, []byte{9, 0, 0, 0}, 4096*4)
	f.Fuzz(func(t *testing.T, at int, patch []byte, keep int) {
		data := append([]byte(nil), whole...)
		if at < 0 || at > len(data) {
			return
		}
		copy(data[at:], patch)
		if keep >= 0 && keep < len(data) {
			data = data[:keep]
		}
		path := filepath.Join(t.TempDir(), store.FileName)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		r, err := store.Examine(path)
		if err != nil {
			t.Fatal(err)
		}
		st, err := store.Open(store.Options{Folder: filepath.Dir(path)})
		if err != nil {
			return
		}
		if r.Fault != nil {
			t.Errorf("opened in spite of %v", r.Fault)
		}
		if _, err := st.Jobs(); err != nil {
			t.Errorf("jobs: %v", err)
		}
		st.Close()
	})
}

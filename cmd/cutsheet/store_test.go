package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/store"
	"slipseat/assets"
)

// TestStoreCommand: checking says what is wrong, salvaging mends it and says
// what was lost, a backup fills the gaps.
func TestStoreCommand(t *testing.T) {
	dir := t.TempDir()
	st, err := store.Open(store.Options{Folder: dir})
	if err != nil {
		t.Fatal(err)
	}
	j, err := job.Decode(assets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	h := edit.NewHistory(j, edit.Label{Code: "open-job"}, noon)
	if err := st.Save(store.Record{Log: h.Log(), Info: store.InfoOf(j, noon)}); err != nil {
		t.Fatal(err)
	}
	t.Setenv("SLIPSEAT_HOME", dir)
	do := func(want int, says string, args ...string) {
		t.Helper()
		var out, errs bytes.Buffer
		if got := run(append([]string{"store"}, args...), &out, &errs); got != want || !strings.Contains(out.String()+errs.String(), says) {
			t.Errorf("store %v: status %d, want %d\n%s%s", args, got, want, &out, &errs)
		}
	}
	do(1, "another Slipseat window", "check") // while it is open
	if err := st.Close(); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, store.FileName)
	do(0, "one job", "check")
	do(0, "one job", "salvage", path)
	do(0, "Backup made", "backup")
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data[:5000], 0o600); err != nil {
		t.Fatal(err)
	}
	do(1, "damaged", "backup")
	do(1, j.Name, "check")
	do(0, "set aside", "salvage")
	do(0, "one job", "check", path)
	if err := os.RemoveAll(filepath.Join(dir, store.BackupsName)); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data[:9000], 0o600); err != nil {
		t.Fatal(err)
	}
	do(0, "no backup", "salvage") // nothing of it can be read, not even that there was a job
	do(1, "There is no file", "check", filepath.Join(dir, "nothing"))
	do(2, "usage", "frob")
	do(2, "usage")
}

var noon = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)

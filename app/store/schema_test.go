package store_test

import (
	"bytes"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/store"
	"slipseat/app/store/storetest"
)

var writeSchema = flag.Bool("write-schema", false, "write the files of the present schema anew; only before it is shipped")

const schemaFolder = "../../testdata/schema"

// TestOldFilesOpenForEver opens a job file and a store of every version that
// was ever shipped. They are never written anew.
func TestOldFilesOpenForEver(t *testing.T) {
	jobFile, storeFile := filepath.Join(schemaFolder, "1.slipseat"), filepath.Join(schemaFolder, "1.bolt")
	if *writeSchema {
		st := storetest.Open(t)
		_, h := newJob(1)
		c := edit.SetCount(h.Job().Seats[0].ID, "6")
		next, _ := c.Apply(h.Job())
		h.Commit(c.Label(h.Job()), next, storetest.Start)
		if err := errors.Join(st.Save(record(h, storetest.Start)), st.SetSetting("variant", "dark")); err != nil {
			t.Fatal(err)
		}
		st.Reopen()
		data, err := os.ReadFile(st.Path())
		if err := errors.Join(err, os.WriteFile(storeFile, data, 0o644), os.WriteFile(jobFile, job.Encode(next), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(jobFile)
	if err != nil {
		t.Fatal(err)
	}
	j, err := job.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(storeFile)
	if err != nil {
		t.Fatal(err)
	}
	st, err := store.Open(store.Options{Folder: place(t, data)})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	rec, err := st.Load(j.ID)
	if err != nil || rec.Lost != 0 || len(rec.Log.Entries) != 2 {
		t.Fatalf("%v, %d lost of %d", err, rec.Lost, len(rec.Log.Entries))
	}
	if !bytes.Equal(job.Encode(rec.Log.Job()), job.Encode(j)) || j.Seats[0].Count != 6 || j.Name != "Reading room" {
		t.Error("the job in the store is not the one in the file")
	}
	if e := rec.Log.Entries[1]; e.Label.Code != "set" || !e.At.Equal(storetest.Start) {
		t.Errorf("its history: %+v at %v", e.Label, e.At)
	}
	if v, err := st.Setting("variant"); v != "dark" || err != nil {
		t.Errorf("setting: %q %v", v, err)
	}
}

package store

import (
	"bytes"
	"os"
	"testing"

	"slipseat/app/edit"
	"slipseat/app/job"
)

// FuzzContents: whatever the bytes of a file, what can be read of it is read
// without a panic and ends, and what is recovered is a file that opens.
func FuzzContents(f *testing.F) {
	data, err := os.ReadFile("../../testdata/schema/1.bolt")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(0, []byte{1}, 1<<20)
	f.Add(16, []byte{0, 0, 0, 0}, 1<<20)
	f.Add(4096*3+10, []byte{0xFF, 0xFF}, 1<<20)
	f.Add(4096*2+24, []byte{9, 0, 0, 0, 1}, 4096*9)
	f.Fuzz(func(t *testing.T, at int, patch []byte, keep int) {
		bad := bytes.Clone(data)
		if at < 0 || at > len(bad) {
			return
		}
		copy(bad[at:], patch)
		if keep >= 0 && keep < len(bad) {
			bad = bad[:keep]
		}
		path := t.TempDir() + "/" + FileName
		if err := os.WriteFile(path, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		h, err := Salvage(Options{}, path)
		if err != nil {
			t.Fatal(err)
		}
		r, err := Examine(path)
		if h.SetAside != "" && (err != nil || r.Fault != nil || len(r.Damaged) > 0) {
			t.Fatalf("what was recovered is damaged: %v %+v", err, r)
		}
	})
}

// FuzzValues: what stands in a value may be anything, also under a right
// checksum; reading it gives a fault, not a panic.
func FuzzValues(f *testing.F) {
	j := job.New(func(b []byte) { copy(b, "0123456789") }, job.Names{Job: "Job", Seat: "Seat", Cover: "Cover", DustCloth: "Dust", Foam: "Foam"}, job.UnitsInches)
	e := edit.NewHistory(j, edit.Label{Code: "new"}, edit.Entry{}.At).Log().Entries[0]
	rec, chunks := e.Pack()
	f.Add("log", rec)
	f.Add(entryKey(1), rec)
	f.Add(chunkKey(chunks[0].ID), chunks[0].Data)
	f.Add("info", []byte(`{"id":"aaaaaaaaaa","name":"x"}`))
	f.Add(versionKey(1), append([]byte("{}\n"), job.Encode(j)...))
	f.Add("aaaaaaaaaa", []byte(`{"id":"aaaaaaaaaa","data":1}`))
	f.Add("log", []byte(`{"cursor":0,"next":2,"entries":[{"seq":1,"at":0}]}`))
	f.Fuzz(func(t *testing.T, key string, value []byte) {
		history := map[string][]byte{"log": []byte(`{"cursor":0,"next":2,"entries":[{"seq":1,"at":-6795364578871345152}]}`), entryKey(1): rec}
		for _, c := range chunks {
			history[chunkKey(c.ID)] = c.Data
		}
		history[key] = value
		box := newFound()
		box.values["job"], box.values[key] = job.Encode(j), value
		box.buckets["history"] = &found{values: history, buckets: map[string]*found{}}
		box.buckets["versions"] = &found{values: map[string][]byte{key: value}, buckets: map[string]*found{}}
		box.buckets["lays"] = box.buckets["versions"]
		c := contents{jobs: map[job.ID]*jobFound{}}
		c.take(string(j.ID), box, nil, nil, false)
		for _, one := range c.jobs {
			one.known()
			one.fillFrom(one)
			if len(one.log.Entries) > 0 && !one.log.Valid() {
				t.Fatalf("a history that cannot be gone on with: %+v", one.log)
			}
		}
		readVersion(key, value)
		readItem(key, value)
		if l, err := job.DecodeLay(value); err == nil {
			l.Check()
		}
	})
}

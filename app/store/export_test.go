package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"os"
	"reflect"
	"slices"
	"unsafe"

	"slipseat/app/job"
)

// ExamineBytes is Examine of a file in memory.
func ExamineBytes(data []byte) (Report, error) {
	return examine(bytes.NewReader(data), int64(len(data)), "memory")
}

// Print is a fingerprint of all that a file in memory holds, read without
// bolt.
func Print(data []byte) string {
	c := contentsOf(bytes.NewReader(data), int64(len(data)))
	h := sha256.New()
	fmt.Fprintln(h, c.sure, c.whole)
	for _, id := range slices.Sorted(maps.Keys(c.jobs)) {
		j := c.jobs[id]
		fmt.Fprintln(h, id, j.trash, j.damaged, j.lost, j.log.Cursor, j.log.Next)
		for _, e := range j.log.Entries {
			fmt.Fprintln(h, e.Seq, e.At.UnixNano())
			h.Write(job.Encode(e.Job))
		}
	}
	for _, name := range flatBuckets {
		for _, key := range slices.Sorted(maps.Keys(c.flat[name].values)) {
			fmt.Fprintf(h, "%s %q %q\n", name, key, c.flat[name].values[key])
		}
	}
	return hex.EncodeToString(h.Sum(nil))
}

// BreakDisk makes bolt's writes of an open store fail: before is asked before
// every write with its place in the file; after a write that syncs is false
// the next sync fails. It gives back a function that mends the disk.
func BreakDisk(st Store, before func(at int64) error, syncs func() bool) (mend func()) {
	db := st.(*file).db
	writeAt := field[func([]byte, int64) (int, error)](db, "ops", "writeAt")
	handle := field[*os.File](db, "file")
	real, whole := *writeAt, *handle
	noSync, other, err := os.Pipe() // a pipe cannot be synced
	if err != nil {
		panic(err)
	}
	*writeAt = func(b []byte, at int64) (int, error) {
		*handle = whole
		if err := before(at); err != nil {
			return 0, err
		}
		n, err := real(b, at)
		if !syncs() {
			*handle = noSync
		}
		return n, err
	}
	return func() {
		*writeAt, *handle = real, whole
		noSync.Close()
		other.Close()
	}
}

// field gives a pointer to a field of bolt's that it does not export.
func field[T any](of any, path ...string) *T {
	v := reflect.ValueOf(of).Elem()
	for _, name := range path {
		v = v.FieldByName(name)
	}
	return (*T)(unsafe.Pointer(v.UnsafeAddr()))
}

package store

import (
	"os"
	"path/filepath"
)

// outFile is a file that the store writes by itself: backups, and files made
// anew. It is written beside its place and moved there whole; every step asks
// the hook first, so that tests can make each of them fail.
type outFile struct {
	f    *os.File
	path string
	hook func(string) error
}

// partName is the name of a file that is not whole yet.
func partName(path string) string { return path + ".part" }

func createOut(path string, hook func(string) error) (*outFile, error) {
	if err := hook("create"); err != nil {
		return nil, err
	}
	f, err := os.OpenFile(partName(path), os.O_RDWR|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return nil, err
	}
	return &outFile{f, path, hook}, nil
}

// Write implements io.Writer.
func (o *outFile) Write(b []byte) (int, error) {
	if err := o.hook("write"); err != nil {
		return 0, err
	}
	return o.f.Write(b)
}

// finish brings the file to the disk, has it looked over and moves it to its
// place. Whatever fails, nothing is left behind.
func (o *outFile) finish(look func(part string) error) error {
	err := o.hook("sync")
	if err == nil {
		err = o.f.Sync()
	}
	if cerr := o.f.Close(); err == nil {
		err = cerr
	}
	if err == nil && look != nil {
		err = look(partName(o.path))
	}
	if err == nil {
		err = moveTo(partName(o.path), o.path, o.hook)
	}
	if err != nil {
		os.Remove(partName(o.path))
	}
	return err
}

func (o *outFile) giveUp() {
	o.f.Close()
	os.Remove(partName(o.path))
}

// moveTo renames and makes the new name last through a power cut.
func moveTo(from, to string, hook func(string) error) error {
	if err := hook("rename"); err != nil {
		return err
	}
	if err := os.Rename(from, to); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(to))
}

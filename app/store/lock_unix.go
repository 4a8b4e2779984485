//go:build unix

package store

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"slipseat/engine/unit"
)

// errDiskFull is the system's own word for it.
const errDiskFull = syscall.ENOSPC

// lock is the lock on the folder. The system lets go of it when the process
// ends, however it ends.
type lock struct{ f *os.File }

// takeLock waits for the lock for a while.
func takeLock(path string, wait time.Duration) (*lock, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	for end := time.Now().Add(wait); ; time.Sleep(20 * time.Millisecond) {
		err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		if err == nil {
			return &lock{f}, nil
		}
		if !errors.Is(err, syscall.EWOULDBLOCK) && !errors.Is(err, syscall.EINTR) {
			f.Close()
			return nil, err
		}
		if time.Now().After(end) {
			f.Close()
			return nil, unit.Fault{Code: CodeOther, Args: []unit.Arg{unit.A("path", filepath.Dir(path))}}
		}
	}
}

func (l *lock) release() {
	if l != nil && l.f != nil {
		l.f.Close()
		l.f = nil
	}
}

// holds tells whether the lock is on the file that is at a path now.
func (l *lock) holds(path string) bool {
	if l == nil || l.f == nil {
		return false
	}
	mine, err1 := l.f.Stat()
	there, err2 := os.Stat(path)
	return err1 == nil && err2 == nil && os.SameFile(mine, there)
}

// removed tells whether an open file has no name any more.
func removed(f *os.File) bool {
	info, err := f.Stat()
	if err != nil {
		return false
	}
	st, ok := info.Sys().(*syscall.Stat_t)
	return ok && st.Nlink == 0
}

// syncFolder makes a new name in a folder last through a power cut.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) {
		return err
	}
	return nil
}

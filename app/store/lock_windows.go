package store

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"slipseat/engine/unit"
)

// errDiskFull is ERROR_DISK_FULL.
const errDiskFull = syscall.Errno(112)

// lock is the lock on the folder: a file that is open for nobody else. The
// system closes it when the process ends, however it ends.
type lock struct{ h syscall.Handle }

// errSharing is ERROR_SHARING_VIOLATION.
const errSharing = syscall.Errno(32)

// takeLock waits for the lock for a while.
func takeLock(path string, wait time.Duration) (*lock, error) {
	name, err := syscall.UTF16PtrFromString(path)
	if err != nil {
		return nil, err
	}
	for end := time.Now().Add(wait); ; time.Sleep(20 * time.Millisecond) {
		h, err := syscall.CreateFile(name, syscall.GENERIC_READ|syscall.GENERIC_WRITE, 0, nil, syscall.OPEN_ALWAYS, syscall.FILE_ATTRIBUTE_NORMAL, 0)
		if err == nil {
			return &lock{h}, nil
		}
		if !errors.Is(err, errSharing) {
			return nil, err
		}
		if time.Now().After(end) {
			return nil, unit.Fault{Code: CodeOther, Args: []unit.Arg{unit.A("path", filepath.Dir(path))}}
		}
	}
}

func (l *lock) release() {
	if l != nil && l.h != 0 {
		syscall.CloseHandle(l.h)
		l.h = 0
	}
}

// holds tells whether the lock is on the file at a path: one that is open
// cannot be removed here.
func (l *lock) holds(string) bool { return l != nil && l.h != 0 }

// removed is never so: a file that is open cannot be removed here.
func removed(*os.File) bool { return false }

// syncFolder does nothing: the system keeps names in order by itself.
func syncFolder(string) error { return nil }

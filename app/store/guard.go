package store

import (
	"errors"
	"fmt"
	"os"
	"runtime/debug"
	"strings"
	"syscall"

	"github.com/boltdb/bolt"

	"slipseat/engine/unit"
)

// Codes of the store's faults. Those of a value, an entry or a chunk that is
// damaged concern one thing; the others the whole store.
const (
	CodeOther     = "store.other-window" // another window holds the store
	CodeFolder    = "store.folder"       // the folder cannot be made or used
	CodeReadOnly  = "store.read-only"    // nothing may be written there
	CodeFull      = "store.full"         // the disk is full
	CodeDamaged   = "store.damaged"      // the file is damaged and was left alone
	CodeStrange   = "store.strange"      // a bolt file, but not one of ours
	CodeNewer     = "store.newer"        // made by a newer version
	CodeOneHeader = "store.one-header"   // one of the two headers is damaged; opened at the other
	CodeGone      = "store.gone"         // the file was taken away while open
	CodeRead      = "store.read"         // reading failed
	CodeWrite     = "store.write"        // writing failed
	CodeClosed    = "store.closed"
	CodeNoJob     = "store.no-job" // no job with this ID
	CodeTaken     = "store.id-taken"
	CodeValue     = "store.value-damaged"
	CodeLost      = "store.versions-lost" // some of a job's history could not be read
	CodeBadLog    = "store.bad-log"       // a history that cannot be stored
	CodeKey       = "store.key"           // a setting's name or text that cannot be stored

	CodeItem        = "store.item"         // something that a library cannot keep
	CodeItems       = "store.too-many"     // a library is full
	CodeHeld        = "store.held"         // a piece of the shelf is reserved for another job
	CodeShelfGone   = "store.shelf-gone"   // a piece is not on the shelf any more
	CodeVersionName = "store.version-name" // a version without a name, or a long one
	CodeVersions    = "store.versions"     // too many named versions
	CodeBackup      = "store.backup"       // a backup could not be made
)

// crash is a panic that came out of bolt.
type crash struct{ value any }

func (c crash) Error() string { return fmt.Sprintf("damaged: %v", c.value) }

// guarded turns a panic, or a fault of memory behind which the file has been
// cut off, into an error.
func guarded(f func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if v := recover(); v != nil {
			err = crash{v}
		}
	}()
	return f()
}

// named is a fault of the whole file.
func (s *file) named(code string) unit.Fault {
	return unit.Fault{Code: code, Args: []unit.Arg{unit.A("path", s.path)}}
}

// fault turns any error into a Fault: its own code where the cause is known,
// else the one given.
func (s *file) fault(err error, code string) unit.Fault {
	var f unit.Fault
	var c crash
	var d damage
	switch {
	case errors.As(err, &f):
		return f
	case errors.As(err, &c), errors.As(err, &d):
		code = CodeDamaged
	case errors.Is(err, bolt.ErrTimeout):
		code = CodeOther
	case errors.Is(err, bolt.ErrInvalid), errors.Is(err, bolt.ErrVersionMismatch), errors.Is(err, bolt.ErrChecksum):
		code = CodeDamaged
	case errors.Is(err, bolt.ErrDatabaseNotOpen), errors.Is(err, bolt.ErrTxClosed):
		code = CodeClosed
	case isFull(err):
		code = CodeFull
	case errors.Is(err, os.ErrPermission), errors.Is(err, syscall.EROFS):
		code = CodeReadOnly
	}
	return unit.Fault{Code: code, Args: []unit.Arg{unit.A("path", s.path), unit.A("detail", err.Error())}}
}

// isFull also knows the text, for bolt wraps some errors as text only.
func isFull(err error) bool {
	for _, e := range [...]syscall.Errno{errDiskFull, syscall.EDQUOT, syscall.EFBIG} {
		if errors.Is(err, e) || strings.Contains(err.Error(), e.Error()) {
			return true
		}
	}
	return false
}

// view runs f in a reading transaction.
func (s *file) view(f func(tx *bolt.Tx) error) error {
	s.use.RLock()
	defer s.use.RUnlock()
	db, err := s.usable()
	if err != nil {
		return err
	}
	if err := guarded(func() error { return db.View(f) }); err != nil {
		return s.fault(err, CodeRead)
	}
	return nil
}

func (s *file) usable() (*bolt.DB, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.db, s.usableLocked()
}

func (s *file) usableLocked() error {
	switch {
	case s.closed:
		return s.named(CodeClosed)
	case s.broken != nil:
		return *s.broken
	}
	return nil
}

// update runs f in a writing transaction: all of it is stored, or nothing. A
// panic out of it leaves the store unusable, for bolt's locks may be held for
// ever; what was stored before is not touched.
func (s *file) update(f func(tx *bolt.Tx) error) error {
	s.use.RLock()
	defer s.use.RUnlock()
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.usableLocked(); err != nil {
		return err
	}
	if info, err := os.Stat(s.path); err != nil || !os.SameFile(info, s.id) {
		// What is written now would go to a file that nobody finds again.
		if !errors.Is(err, os.ErrNotExist) || !removed(s.peek) || s.revive() != nil {
			return s.named(CodeGone)
		}
	}
	err := guarded(func() error {
		return s.db.Update(func(tx *bolt.Tx) error {
			if err := f(tx); err != nil {
				return err
			}
			return s.hook("commit")
		})
	})
	if err == nil {
		return nil
	}
	s.cached = cachedLog{}
	flt := s.fault(err, CodeWrite)
	var c crash
	if errors.As(err, &c) {
		s.broken = &flt
	}
	return flt
}

package store

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/boltdb/bolt"

	"slipseat/engine/unit"
)

// Backups stand in a folder beside the file, one whole file each, named by
// when they were made in UTC: slipseat-20261125T040000Z.bolt. One that was
// made of a file with damaged values says so in its name and never takes the
// place of a whole one; one made before a change of layout is kept for good.

// BackupsName is the folder of the backups.
const BackupsName = "backups"

// How many backups are kept: the latest of each of so many hours, days and
// weeks that have one.
const (
	KeepHourly = 12
	KeepDaily  = 10
	KeepWeekly = 12
	keepPartly = 3

	BackupEvery = time.Hour
)

// Backup is one backup.
type Backup struct {
	Path   string
	At     time.Time
	Partly bool // values of it were damaged when it was made
	Kept   bool // made before a change of layout; never dropped
	Size   int64
}

const backupTime = "20060102T150405Z"

func backupFolder(path string) string { return filepath.Join(filepath.Dir(path), BackupsName) }

func baseOf(path string) string {
	return strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
}

func backupName(path string, at time.Time, mark string) string {
	return filepath.Join(backupFolder(path), baseOf(path)+"-"+at.UTC().Format(backupTime)+mark+".bolt")
}

// Backups lists the backups of a file, the latest first. No folder is no
// backups.
func Backups(path string) ([]Backup, error) {
	entries, err := os.ReadDir(backupFolder(path))
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var list []Backup
	for _, e := range entries {
		rest, ours := strings.CutPrefix(e.Name(), baseOf(path)+"-")
		rest, bolt := strings.CutSuffix(rest, ".bolt")
		if !ours || !bolt || len(rest) < len(backupTime) || !e.Type().IsRegular() {
			continue
		}
		at, err := time.Parse(backupTime, rest[:len(backupTime)])
		if err != nil {
			continue
		}
		b := Backup{Path: filepath.Join(backupFolder(path), e.Name()), At: at}
		mark := rest[len(backupTime):]
		b.Partly, b.Kept = strings.HasPrefix(mark, "-partly"), strings.HasPrefix(mark, "-layout")
		if info, err := e.Info(); err == nil {
			b.Size = info.Size()
		}
		list = append(list, b)
	}
	slices.SortFunc(list, func(a, b Backup) int { return cmp.Or(b.At.Compare(a.At), cmp.Compare(b.Path, a.Path)) })
	return list, nil
}

// surplus picks, from a list with the latest first, what need not be kept.
// The one made at now stays whatever the clock says.
func surplus(list []Backup, now time.Time) []Backup {
	keep := map[string]bool{}
	slots := func(most int, slot func(time.Time) string) {
		seen := map[string]bool{}
		for _, b := range list {
			if s := slot(b.At); !b.Partly && !b.Kept && !seen[s] && len(seen) < most {
				seen[s], keep[b.Path] = true, true
			}
		}
	}
	slots(KeepHourly, func(t time.Time) string { return t.Format("2006010215") })
	slots(KeepDaily, func(t time.Time) string { return t.Format("20060102") })
	slots(KeepWeekly, func(t time.Time) string { y, w := t.ISOWeek(); return fmt.Sprint(y, "-", w) })
	partly := 0
	var drop []Backup
	for _, b := range list {
		if b.Partly && partly < keepPartly {
			partly++
			continue
		}
		if !keep[b.Path] && !b.Kept && !b.At.Equal(now.UTC().Truncate(time.Second)) {
			drop = append(drop, b)
		}
	}
	return drop
}

// BackUp implements Store.
func (s *file) BackUp(always bool) (Backup, error) {
	var b Backup
	err := s.view(func(tx *bolt.Tx) (err error) {
		now := s.now()
		if !always && !due(s.path, now, uint64(tx.ID())) {
			return nil
		}
		b, err = writeBackup(s.path, now, "", s.hook, func(w io.Writer) error {
			_, err := tx.WriteTo(w)
			return err
		})
		return err
	})
	if err != nil {
		return Backup{}, backupFault(s.path, err)
	}
	return b, nil
}

func backupFault(path string, err error) unit.Fault {
	var f unit.Fault
	if !errors.As(err, &f) || f.Code == CodeRead {
		detail := err.Error()
		if f.Code == CodeRead {
			detail, _ = argText(f, "detail")
		}
		f = unit.Fault{Code: CodeBackup, Args: []unit.Arg{unit.A("path", backupFolder(path)), unit.A("detail", detail)}}
	}
	return f
}

func argText(f unit.Fault, name string) (string, bool) {
	for _, a := range f.Args {
		if s, ok := a.Value.(string); ok && a.Name == name {
			return s, true
		}
	}
	return "", false
}

// due tells whether a backup is called for: none was made within the last
// hour, and something was saved since the latest. A backup that seems to come
// from the future, after the clock was set back, does not hold one up.
func due(path string, now time.Time, saves uint64) bool {
	list, _ := Backups(path)
	for _, b := range list {
		if b.Partly || b.At.After(now) {
			continue
		}
		if now.Sub(b.At) < BackupEvery {
			return false
		}
		r, err := Examine(b.Path)
		return err != nil || r.Fault != nil || r.Saves != saves
	}
	return true
}

// writeBackup writes a backup, reads it back, and drops what need not be kept.
// A copy that is damaged is not kept.
func writeBackup(path string, now time.Time, mark string, hook func(string) error, write func(io.Writer) error) (Backup, error) {
	if err := os.MkdirAll(backupFolder(path), 0o700); err != nil {
		return Backup{}, err
	}
	b := Backup{Path: backupName(path, now, mark), At: now.UTC().Truncate(time.Second), Kept: mark != ""}
	o, err := createOut(b.Path, hook)
	if err != nil {
		return Backup{}, err
	}
	if err := write(o); err != nil {
		o.giveUp()
		return Backup{}, err
	}
	err = o.finish(func(part string) error {
		r, err := Examine(part)
		switch {
		case err != nil:
			return err
		case r.Fault != nil:
			return *r.Fault
		case len(r.Damaged) > 0:
			b.Partly = true
			b.Path = backupName(path, now, mark+"-partly")
			o.path = b.Path
			return moveTo(part, partName(b.Path), hook)
		}
		return nil
	})
	if err != nil {
		return Backup{}, err
	}
	if info, err := os.Stat(b.Path); err == nil {
		b.Size = info.Size()
	}
	list, err := Backups(path)
	if err == nil {
		for _, old := range surplus(list, now) {
			os.Remove(old.Path) // one that stays does no harm
		}
	}
	return b, nil
}

// BackUpFile makes a backup of a file that no window has open. A damaged file
// is refused: its copy would be no help.
func BackUpFile(o Options, path string) (Backup, error) {
	o = o.filled()
	done, err := lockOf(path, o.Wait)
	if err != nil {
		return Backup{}, err
	}
	defer done()
	r, err := Examine(path)
	if err != nil {
		return Backup{}, fileFault(path, err)
	}
	if r.Fault != nil {
		return Backup{}, *r.Fault
	}
	b, err := writeBackup(path, o.Now(), "", o.Hook, func(w io.Writer) error {
		f, err := os.Open(path)
		if err != nil {
			return err
		}
		defer f.Close()
		_, err = io.Copy(w, f)
		return err
	})
	if err != nil {
		return Backup{}, backupFault(path, err)
	}
	return b, nil
}

// lockOf takes the lock of the folder that a file stands in, where there is
// one: no lock file is made in other folders.
func lockOf(path string, wait time.Duration) (done func(), err error) {
	name := filepath.Join(filepath.Dir(path), lockName)
	if _, err := os.Stat(name); err != nil {
		return func() {}, nil
	}
	l, err := takeLock(name, wait)
	if err != nil {
		return nil, fileFault(path, err)
	}
	return l.release, nil
}

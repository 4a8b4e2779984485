package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"slipseat/app/job"
	"slipseat/engine/unit"
)

// KeepPicture is how long a picture is kept that no job refers to.
const KeepPicture = 30 * 24 * time.Hour

// MaxPicture is the largest picture that is kept, in bytes; pictures are
// shrunk before they come here.
const MaxPicture = 32 << 20

// CodeNoPicture is the fault of a picture that is not there, or is not what its
// name says any more.
const CodeNoPicture = "store.no-picture"

// Pictures is the folder of pictures beside a store: each a file of its own,
// named by its own bytes, so that it is never changed and damage shows.
type Pictures struct{ folder string }

// PicturesIn gives the pictures of the store in a folder (Store.Home).
func PicturesIn(home string) Pictures { return Pictures{filepath.Join(home, PicturesName)} }

// ending tells a JPEG from a PNG by its first bytes.
func ending(data []byte) string {
	if strings.HasPrefix(string(data), "\x89PNG") {
		return ".png"
	}
	return ".jpg"
}

// Put keeps a picture, a JPEG or PNG, and gives its name. It is written beside
// its place and moved there whole.
func (p Pictures) Put(data []byte) (job.PictureID, error) {
	id := job.PictureIDOf(data)
	path := filepath.Join(p.folder, string(id)+ending(data))
	if len(data) == 0 || len(data) > MaxPicture {
		return "", unit.Fault{Code: job.CodeTooBig, Args: []unit.Arg{unit.A("limit", MaxPicture>>20)}}
	}
	if _, err := p.Get(id); err == nil {
		now := time.Now()
		_ = os.Chtimes(path, now, now) // its thirty days begin anew
		return id, nil
	}
	if err := os.MkdirAll(p.folder, 0o700); err != nil {
		return "", writeFault(p.folder)
	}
	f, err := os.CreateTemp(p.folder, ".new-*")
	if err != nil {
		return "", writeFault(p.folder)
	}
	defer os.Remove(f.Name()) // in vain once it was moved
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return "", writeFault(p.folder)
	}
	return id, nil
}

func writeFault(folder string) unit.Fault {
	return unit.Fault{Code: CodeFolder, Args: []unit.Arg{unit.A("path", folder)}}
}

// Get gives the bytes of a picture.
func (p Pictures) Get(id job.PictureID) ([]byte, error) {
	missing := unit.Fault{Code: CodeNoPicture, Args: []unit.Arg{unit.A("path", p.folder)}}
	if !id.Valid() {
		return nil, missing
	}
	for _, end := range []string{".jpg", ".png"} {
		path := filepath.Join(p.folder, string(id)+end)
		if info, err := os.Stat(path); err != nil || info.Size() > MaxPicture {
			continue
		}
		if data, err := os.ReadFile(path); err == nil && job.PictureIDOf(data) == id {
			return data, nil
		}
	}
	return nil, missing
}

// Sweep removes the pictures that are not used and are older than KeepPicture,
// and what a power cut left half written. It gives how many it removed.
func (p Pictures) Sweep(used map[job.PictureID]bool, now time.Time) (int, error) {
	entries, err := os.ReadDir(p.folder)
	if errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	n := 0
	for _, e := range entries {
		id := job.PictureID(strings.TrimSuffix(e.Name(), filepath.Ext(e.Name())))
		half := strings.HasPrefix(e.Name(), ".new-")
		if !e.Type().IsRegular() || !half && (!id.Valid() || used[id]) {
			continue
		}
		// A clock that was set back makes a file look younger than it is, which
		// only keeps it longer.
		if info, err := e.Info(); err != nil || now.Sub(info.ModTime()) < KeepPicture {
			continue
		}
		if os.Remove(filepath.Join(p.folder, e.Name())) == nil {
			n++
		}
	}
	return n, err
}

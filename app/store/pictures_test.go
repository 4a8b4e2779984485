package store_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"time"

	"slipseat/app/job"
	"slipseat/app/store"
)

func TestPictures(t *testing.T) {
	home := t.TempDir()
	p := store.PicturesIn(home)
	jpg, png := []byte("\xff\xd8 a photograph"), []byte("\x89PNG a drawing")
	a, err := p.Put(jpg)
	if err != nil {
		t.Fatal(err)
	}
	b, err := p.Put(png)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := p.Put(jpg); err != nil || again != a {
		t.Errorf("put in again it is %v, %v", again, err)
	}
	for id, want := range map[job.PictureID][]byte{a: jpg, b: png} {
		if got, err := p.Get(id); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s came back as %q, %v", id, got, err)
		}
	}
	files, err := os.ReadDir(filepath.Join(home, store.PicturesName))
	if err != nil || len(files) != 2 {
		t.Fatalf("%d files for two pictures, %v", len(files), err)
	}
	info, _ := files[0].Info()
	if info.Mode().Perm()&0o077 != 0 {
		t.Errorf("others may read the pictures: %v", info.Mode())
	}
	// Damage shows.
	path := filepath.Join(home, store.PicturesName, string(b)+".png")
	if err := os.WriteFile(path, []byte("\x89PNG something else"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := p.Get(b); err == nil {
		t.Error("a picture that was changed was taken for the old one")
	}
	for _, id := range []job.PictureID{"", "../../etc/passwd", job.PictureIDOf([]byte("nowhere"))} {
		if _, err := p.Get(id); err == nil {
			t.Errorf("%q was found", id)
		}
	}
	if _, err := p.Put(nil); err == nil {
		t.Error("an empty picture was kept")
	}
	// Nothing is removed before its time, nor what is used.
	month := time.Now().Add(store.KeepPicture + time.Hour)
	if n, err := p.Sweep(nil, time.Now()); n != 0 || err != nil {
		t.Errorf("%d fresh pictures were removed, %v", n, err)
	}
	if n, err := p.Sweep(map[job.PictureID]bool{a: true}, month); n != 1 || err != nil {
		t.Errorf("%d pictures were removed, %v, want the unused one", n, err)
	}
	if _, err := p.Get(a); err != nil {
		t.Error("a picture in use was removed")
	}
}

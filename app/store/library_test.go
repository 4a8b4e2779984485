package store_test

import (
	"errors"
	"fmt"
	"syscall"
	"testing"
	"time"

	"slipseat/app/edit"
	"slipseat/app/job"
	"slipseat/app/store"
	"slipseat/app/store/storetest"
)

// offcut stands for what a caller keeps on the shelf.
type offcut struct {
	Name          string
	Length, Width float64
}

func must(t *testing.T, errs ...error) {
	t.Helper()
	if err := errors.Join(errs...); err != nil {
		t.Fatal(err)
	}
}

func piece(t *testing.T, id job.ID, name string) store.Item {
	t.Helper()
	it, err := store.NewItem(id, offcut{name, 900, 400})
	must(t, err)
	return it
}

func TestLibrary(t *testing.T) {
	st := storetest.Open(t)
	must(t, store.Keep(st, store.Cloths, "aaaaaaaaaa", offcut{"Moss", 1, 2}))
	st.Advance(time.Second)
	must(t, store.Keep(st, store.Cloths, "bbbbbbbbbb", offcut{"Slate", 3, 4}), store.Keep(st, store.Foams, "aaaaaaaaaa", offcut{Name: "Foam"}))
	st.Reopen()
	list, lost, err := store.ReadAll[offcut](st, store.Cloths)
	must(t, err)
	if lost != 0 || len(list) != 2 || list[0].Value != (offcut{"Slate", 3, 4}) || list[1].ID != "aaaaaaaaaa" || !list[1].Changed.Equal(storetest.Start) {
		t.Errorf("cloths: %+v, %d lost", list, lost)
	}
	if other, lost, _ := store.ReadAll[[]int](st, store.Cloths); len(other) != 0 || lost != 2 {
		t.Errorf("read as another type: %v, %d lost", other, lost)
	}
	must(t, st.DropItem(store.Cloths, "aaaaaaaaaa"), st.DropItem(store.Cloths, "cccccccccc"))
	if list, _, _ := store.ReadAll[offcut](st, store.Cloths); len(list) != 1 {
		t.Errorf("after dropping one: %v", list)
	}
	for _, it := range []store.Item{{ID: "short", Data: []byte("1")}, {ID: "dddddddddd", Data: []byte("{")}, {ID: "dddddddddd", Data: fmt.Appendf(nil, "%q", make([]byte, 2<<20))}} {
		if err := st.PutItem(store.Foams, it); code(err) != store.CodeItem {
			t.Errorf("kept %s: %v", it.ID, err)
		}
	}
	if err := st.PutItem("jobs", store.Item{ID: "dddddddddd"}); code(err) != store.CodeKey {
		t.Errorf("a library that is none: %v", err)
	}
}

// TestShelf: a piece is reserved for one job at a time, and a job is saved
// with its change of the shelf or not at all.
func TestShelf(t *testing.T) {
	st := storetest.Open(t)
	_, h1 := newJob(1)
	_, h2 := newJob(2)
	one, two := record(h1, storetest.Start), record(h2, storetest.Start)
	must(t, st.Save(one), st.Save(two), st.PutItem(store.Shelf, piece(t, "pppppppppp", "moss")), st.PutItem(store.Shelf, piece(t, "qqqqqqqqqq", "slate")))
	by := func() string {
		items, _, err := st.Items(store.Shelf)
		must(t, err)
		s := ""
		for _, it := range items {
			owner := "-"
			switch it.By {
			case h1.Job().ID:
				owner = "1"
			case h2.Job().ID:
				owner = "2"
			}
			s += string(it.ID[:1]) + owner + " "
		}
		return s
	}
	want := func(what, s string) {
		t.Helper()
		if got := by(); got != s {
			t.Errorf("%s: shelf %q, want %q", what, got, s)
		}
	}
	must(t, st.SaveWith(one, store.ShelfChange{Reserve: []job.ID{"pppppppppp"}}))
	want("reserved", "p1 q- ")
	changed, _ := edit.SetCount(h2.Job().Seats[0].ID, "9").Apply(h2.Job())
	h2.Commit(edit.Label{}, changed, storetest.Start)
	if err := st.SaveWith(record(h2, storetest.Start), store.ShelfChange{Reserve: []job.ID{"qqqqqqqqqq", "pppppppppp"}}); code(err) != store.CodeHeld {
		t.Errorf("reserved twice: %v", err)
	}
	if rec, err := st.Load(h2.Job().ID); err != nil || rec.Log.Job().Seats[0].Count == 9 {
		t.Errorf("the job was saved although the shelf was refused: %v", err)
	}
	want("refused", "p1 q- ")
	must(t, st.SaveWith(two, store.ShelfChange{Free: []job.ID{"pppppppppp"}})) // not its own
	want("freed by another", "p1 q- ")
	if err := st.DropItem(store.Shelf, "pppppppppp"); code(err) != store.CodeHeld {
		t.Errorf("dropped a reserved piece: %v", err)
	}
	// Cut up: the piece goes, an offcut of it comes; and back again.
	cut := store.ShelfChange{Take: []job.ID{"pppppppppp"}, Put: []store.Item{piece(t, "rrrrrrrrrr", "rest")}}
	items, _, _ := st.Items(store.Shelf)
	taken := items[:1]
	storetest.FailNextCommit(st, syscall.ENOSPC)
	if err := st.SaveWith(one, cut); code(err) != store.CodeFull {
		t.Errorf("a full disk: %v", err)
	}
	want("a full disk", "p1 q- ")
	st.Advance(time.Second)
	must(t, st.SaveWith(one, cut))
	want("cut", "r- q- ")
	if err := st.SaveWith(one, cut); code(err) != store.CodeShelfGone {
		t.Errorf("cut twice: %v", err)
	}
	must(t, st.SaveWith(one, cut.Inverse(taken)))
	want("taken back", "p1 q- ")
	must(t, st.SaveWith(one, cut), st.SaveWith(two, store.ShelfChange{Reserve: []job.ID{"rrrrrrrrrr"}}))
	if err := st.SaveWith(one, cut.Inverse(taken)); code(err) != store.CodeHeld {
		t.Errorf("taken back although the offcut is used elsewhere: %v", err)
	}
	want("still", "r2 q- ")
	if err := st.SaveWith(two, store.ShelfChange{Put: []store.Item{piece(t, "qqqqqqqqqq", "again")}}); code(err) != store.CodeTaken {
		t.Errorf("put over another: %v", err)
	}
	must(t, st.Delete(h2.Job().ID))
	want("job deleted", "r- q- ")
}

func TestVersions(t *testing.T) {
	st := storetest.Open(t)
	_, h := newJob(3)
	id, seat := h.Job().ID, h.Job().Seats[0].ID
	count := func(n int) {
		t.Helper()
		next, faults := edit.SetCount(seat, fmt.Sprint(n)).Apply(h.Job())
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		h.Commit(edit.Label{Code: "set"}, next, st.Now())
		must(t, st.Save(record(h, st.Now())))
	}
	list := func() string {
		t.Helper()
		vs, err := st.Versions(id)
		must(t, err)
		s := ""
		for _, v := range vs {
			j, err := st.Version(id, v.No)
			must(t, err)
			if j.Seats[0].Count != v.Seats {
				t.Errorf("version %d has %d seats, and says %d", v.No, j.Seats[0].Count, v.Seats)
			}
			if v.Auto != (v.Name == "") {
				t.Errorf("version %+v", v)
			}
			s += fmt.Sprint(v.Name, v.Seats, " ")
		}
		return s
	}
	count(2)
	st.Advance(time.Hour)
	count(3)
	if got := list(); got != "" {
		t.Errorf("after an hour: %q", got)
	}
	st.Advance(store.AutoPause)
	count(4)
	must(t, st.KeepVersion(id, "as quoted"))
	count(5)
	st.Advance(-48 * time.Hour) // the clock is set back
	count(6)
	st.Reopen()
	if got := list(); got != "5 as quoted4 3 " {
		t.Errorf("versions %q", got)
	}
	vs, _ := st.Versions(id)
	if vs[1].Name != "as quoted" {
		t.Fatalf("versions %+v", vs)
	}
	must(t, st.DropVersion(id, vs[1].No))
	for i := range store.MaxAuto + 5 {
		st.Advance(store.AutoPause)
		count(10 + i)
	}
	if vs, _ := st.Versions(id); len(vs) != store.MaxAuto || vs[0].Seats != 10+store.MaxAuto+3 {
		t.Errorf("%d automatic versions, the latest of %d seats", len(vs), vs[0].Seats)
	}
	must(t, st.Delete(id), st.Restore(id))
	if vs, err := st.Versions(id); err != nil || len(vs) != store.MaxAuto {
		t.Errorf("after the trash: %d versions, %v", len(vs), err)
	}
	for _, name := range []string{"", string(make([]byte, 300))} {
		if err := st.KeepVersion(id, name); code(err) != store.CodeVersionName {
			t.Errorf("name of %d: %v", len(name), err)
		}
	}
	if _, err := st.Version(id, 99999); code(err) != store.CodeValue {
		t.Errorf("a version that is not there: %v", err)
	}
}

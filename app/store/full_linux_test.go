package store_test

import (
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"strings"
	"syscall"
	"testing"

	"slipseat/app/edit"
	"slipseat/app/edit/edittest"
	"slipseat/app/job"
	"slipseat/app/store"
	"slipseat/app/store/storetest"
)

// fillUp is the process of TestDiskFull: it lets no file grow beyond what it
// is, saves more and more until that fails, and goes on when there is room.
func fillUp(dir string) {
	signal.Ignore(syscall.SIGXFSZ)
	fail := func(what string, v any) {
		fmt.Println(what, v)
		os.Exit(1)
	}
	st, err := store.Open(store.Options{Folder: dir})
	if err != nil {
		fail("open:", err)
	}
	r, h := newJob(1)
	if err := st.Save(record(h, storetest.Start)); err != nil {
		fail("first save:", err)
	}
	info, err := os.Stat(dir + "/" + store.FileName)
	if err != nil {
		fail("stat:", err)
	}
	var old syscall.Rlimit
	syscall.Getrlimit(syscall.RLIMIT_FSIZE, &old)
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: uint64(info.Size()), Max: old.Max}); err != nil {
		fail("limit:", err)
	}
	safe := h.Log()
	full := 0
	for i := 0; full < 5; i++ {
		if i > 2000 {
			fail("saves never failed", i)
		}
		next, _ := edit.DuplicateSeat{Seat: h.Job().Seats[0].ID, ID: job.NewID(edittest.Bytes(r))}.Apply(h.Job())
		h.Commit(edit.Label{}, next, storetest.Start)
		switch err := st.Save(record(h, storetest.Start)); {
		case err == nil:
			safe = h.Log()
		case code(err) == store.CodeFull:
			full++
		default:
			fail("a full disk:", err)
		}
		rec, err := st.Load(h.Job().ID)
		if err != nil || rec.Lost > 0 || same(rec.Log, safe) != nil {
			fail("after a full disk:", fmt.Sprint(err, rec.Lost, same(rec.Log, safe)))
		}
	}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &old); err != nil {
		fail("limit:", err)
	}
	if err := st.Save(record(h, storetest.Start)); err != nil {
		fail("with room again:", err)
	}
	rec, err := st.Load(h.Job().ID)
	if err != nil || same(rec.Log, h.Log()) != nil {
		fail("with room again:", fmt.Sprint(err, same(rec.Log, h.Log())))
	}
	if err := st.Close(); err != nil {
		fail("close:", err)
	}
	rep, err := store.Examine(dir + "/" + store.FileName)
	if err != nil || rep.Fault != nil || rep.OneHeader || len(rep.Damaged) > 0 {
		fail("examined:", fmt.Sprint(err, rep))
	}
	fmt.Println("ok", len(rec.Log.Entries))
}

// TestDiskFull lets real writes of bolt fail: nothing that was stored is lost,
// the store says that the disk is full, and goes on when there is room.
func TestDiskFull(t *testing.T) {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "SLIPSEAT_TEST_FULL="+t.TempDir())
	out, err := cmd.CombinedOutput()
	if err != nil || !strings.HasPrefix(string(out), "ok ") {
		t.Errorf("%v: %s", err, out)
	}
}

func init() {
	children["SLIPSEAT_TEST_FULL"] = fillUp
}

package store_test

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"slipseat/app/edit"
	"slipseat/app/edit/edittest"
	"slipseat/app/job"
	"slipseat/app/store"
	"slipseat/app/store/storetest"
)

var killsFlag = flag.Int("kills", 4, "how often the trial kills a process that saves")

// children are what the test binary does instead of testing when an
// environment variable names a folder.
var children = map[string]func(dir string){"SLIPSEAT_TEST_SAVER": saveForEver}

func TestMain(m *testing.M) {
	for name, run := range children {
		if dir := os.Getenv(name); dir != "" {
			run(dir)
			return
		}
	}
	os.Exit(m.Run())
}

// saveForEver edits a job and saves it, and says on standard output which
// entry is safe. It never ends by itself.
func saveForEver(dir string) {
	seed, _ := strconv.ParseUint(os.Getenv("SLIPSEAT_TEST_SEED"), 10, 64)
	st, err := store.Open(store.Options{Folder: dir, Wait: 10 * time.Second})
	if err != nil {
		fmt.Println("open:", err)
		os.Exit(1)
	}
	_, h := newJob(1) // the same job every time
	if rec, err := st.Load(h.Job().ID); err == nil {
		h, _ = edit.Resume(rec.Log)
	}
	r := rand.New(rand.NewPCG(seed, 17))
	for {
		c := edittest.Command(r, h.Job())
		next, faults := c.Apply(h.Job())
		if len(faults) > 0 || len(next.Seats) > 8 || !h.Commit(c.Label(h.Job()), next, storetest.Start) {
			continue
		}
		l := h.Log()
		fmt.Println("try", l.Entries[l.Cursor].Seq)
		if err := st.Save(record(h, storetest.Start)); err != nil {
			fmt.Println("save:", err)
			os.Exit(1)
		}
		fmt.Println("safe", l.Entries[l.Cursor].Seq, len(job.Encode(h.Job())))
	}
}

// TestKilledWhileSaving kills a process that saves all the time, at random
// moments. The store always opens, is whole, and has every save that was
// said to be safe; the one under way is there or not, but not half of it.
func TestKilledWhileSaving(t *testing.T) {
	st := storetest.Open(t)
	_, h := newJob(1)
	id := h.Job().ID
	if err := st.Save(record(h, storetest.Start)); err != nil {
		t.Fatal(err)
	}
	if err := st.Store.Close(); err != nil {
		t.Fatal(err)
	}
	seed := *seedFlag + 1
	r := rand.New(rand.NewPCG(seed, 19))
	saves := 0
	for kill := range *killsFlag {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), "SLIPSEAT_TEST_SAVER="+st.Folder, "SLIPSEAT_TEST_SEED="+strconv.FormatUint(seed+uint64(kill), 10))
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		lines := bufio.NewScanner(out)
		safe, tried, size := uint64(0), uint64(0), 0
		var alarm *time.Timer
		for lines.Scan() {
			f := strings.Fields(lines.Text())
			if len(f) < 2 || f[0] != "try" && f[0] != "safe" {
				t.Fatalf("the saving process says %q", lines.Text())
			}
			if alarm == nil { // it saves: let it go on for a moment
				alarm = time.AfterFunc(time.Duration(20+r.IntN(150))*time.Millisecond, func() { cmd.Process.Kill() })
			}
			n, _ := strconv.ParseUint(f[1], 10, 64)
			if f[0] == "try" {
				tried = n
			} else {
				safe = n
				size, _ = strconv.Atoi(f[2])
				saves++
			}
		}
		cmd.Wait()
		rep, err := store.Examine(st.Path())
		if err != nil || rep.Fault != nil || rep.OneHeader || len(rep.Damaged) > 0 {
			t.Fatalf("kill %d: the file is damaged: %v %+v", kill, err, rep)
		}
		again, err := store.Open(store.Options{Folder: st.Folder})
		if err != nil {
			t.Fatalf("kill %d: %v", kill, err)
		}
		rec, err := again.Load(id)
		if err != nil || rec.Lost > 0 {
			t.Fatalf("kill %d: %v, %d versions lost", kill, err, rec.Lost)
		}
		got := rec.Log.Entries[rec.Log.Cursor].Seq
		if got != safe && got != tried && safe != 0 {
			t.Errorf("kill %d: the job is at %d; %d was safe, %d was tried", kill, got, safe, tried)
		}
		if data := job.Encode(rec.Log.Job()); got == safe && size > 0 && len(data) != size {
			t.Errorf("kill %d: %d bytes of %d", kill, len(data), size)
		}
		for _, e := range rec.Log.Entries {
			if back, err := job.Decode(job.Encode(e.Job)); err != nil || !bytes.Equal(job.Encode(back), job.Encode(e.Job)) {
				t.Fatalf("kill %d: version %d does not read back: %v", kill, e.Seq, err)
			}
		}
		again.Close()
	}
	t.Logf("%d kills, %d saves", *killsFlag, saves)
	if saves < *killsFlag {
		t.Error("too few saves to mean anything")
	}
	st2, err := store.Open(store.Options{Folder: st.Folder})
	if err != nil {
		t.Fatal(err)
	}
	st.Store = st2 // for the check at the end
}

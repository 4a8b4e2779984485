package session_test

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"slipseat/app/edit"
	"slipseat/app/edit/edittest"
	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/app/store"
	"slipseat/app/words"
	"slipseat/assets"
)

var (
	seedFlag  = flag.Uint64("seed", 1, "seed of the random trials")
	killsFlag = flag.Int("kills", 2, "how often the trial kills a user at work")
	strict    = flag.Bool("strict", false, "refuse a kill that costs more than the last second; a machine that is too busy to save in time fails it")
)

// userHome tells this test program that it is the user of TestKilledAtWork.
const userHome = "SLIPSEAT_TEST_USER"

func TestMain(m *testing.M) {
	flag.Parse()
	if dir := os.Getenv(userHome); dir != "" {
		work(dir)
		return
	}
	os.Exit(m.Run())
}

// loop is the goroutine of a window, with the real clock.
type loop chan func()

func (l loop) Start(f func()) { go f() }
func (l loop) Post(f func())  { l <- f }
func (l loop) Now() time.Time { return time.Now() }
func (l loop) After(d time.Duration, f func()) (stop func()) {
	stopped := false
	t := time.AfterFunc(d, func() {
		l <- func() {
			if !stopped {
				f()
			}
		}
	})
	return func() { stopped = true; t.Stop() }
}

// work is a user who edits without end. Every edit names the job by its
// number, and is told of on standard output once it is made.
func work(dir string) {
	fail := func(what string, v any) {
		fmt.Println("fail", what, v)
		os.Exit(1)
	}
	st, err := store.Open(store.Options{Folder: dir, Wait: 10 * time.Second})
	if err != nil {
		fail("open", err)
	}
	w, err := words.New(assets.WordsEN)
	if err != nil {
		fail("words", err)
	}
	r := rand.New(rand.NewPCG(*seedFlag, 31))
	l := make(loop, 1000)
	s := session.New(session.Options{Store: st, Runner: l, Random: edittest.Bytes(r), Words: w, SaveBeside: true, SearchFor: 20 * time.Millisecond})
	n := 0
	if id := s.Last(); id != "" {
		s.OpenJob(id)
		fmt.Sscanf(s.Job().Name, "edit %d", &n)
	} else {
		s.NewJob(job.UnitsInches)
	}
	if !s.IsOpen() {
		fail("nothing is open", s.Notice())
	}
	s.StopSearch()
	var edits func()
	edits = func() {
		n++
		switch r.IntN(12) {
		case 0:
			s.Undo() // and the name with it: the next edit counts
		case 1:
			go st.BackUp(true)
		}
		name := edit.Set{Object: s.Job().ID, Field: "name", Text: fmt.Sprint("edit ", n)}
		c := edittest.Command(r, s.Job())
		next, faults := c.Apply(s.Job())
		var many edit.Many
		if len(faults) == 0 && len(next.Seats) <= 3 && len(next.Cloths) <= 5 && chairs(next) < 20 {
			many.Commands = append(many.Commands, c)
		}
		many.Commands = append(many.Commands, name) // last, for c may name the job too
		if f := s.Do(many); len(f) > 0 {
			fail("edit", f)
		}
		if f := s.Saved().Fault; f != nil {
			fail("save", f)
		}
		fmt.Println("edit", n, time.Now().UnixNano())
		l.After(time.Duration(1+r.IntN(120))*time.Millisecond, edits)
	}
	fmt.Println("ready", n, 0)
	edits()
	for f := range l {
		f()
	}
}

func chairs(j job.Job) int {
	n := 0
	for _, s := range j.Seats {
		n += s.Count
	}
	return n
}

// TestKilledAtWork kills the user's process at random moments. The store opens
// every time, whole, with all that was done up to a second before.
func TestKilledAtWork(t *testing.T) {
	dir := t.TempDir()
	r := rand.New(rand.NewPCG(*seedFlag, 37))
	edits, lost, worst := 0, 0, time.Duration(0)
	over := 0
	for kill := range *killsFlag {
		cmd := exec.Command(os.Args[0], "-seed", fmt.Sprint(*seedFlag+uint64(kill)*7919))
		cmd.Env = append(os.Environ(), userHome+"="+dir)
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		var errs bytes.Buffer
		cmd.Stderr = &errs
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		type edited struct {
			n  int
			at time.Time
		}
		var done []edited
		began := -1
		killed := make(chan time.Time, 1)
		lines := bufio.NewScanner(out)
		for lines.Scan() {
			f := strings.Fields(lines.Text())
			if len(f) != 3 || f[0] != "edit" && f[0] != "ready" {
				t.Fatalf("kill %d: the user says %q\n%s", kill, lines.Text(), &errs)
			}
			n, _ := strconv.Atoi(f[1])
			if f[0] == "ready" {
				began = n
				time.AfterFunc(time.Duration(r.IntN(1600))*time.Millisecond, func() {
					killed <- time.Now()
					cmd.Process.Kill()
				})
				continue
			}
			ns, _ := strconv.ParseInt(f[2], 10, 64)
			done = append(done, edited{n, time.Unix(0, ns)})
		}
		cmd.Wait() // it was killed; there is nothing to learn from that
		if began < 0 {
			t.Fatalf("kill %d: the user never began\n%s", kill, &errs)
		}
		at := <-killed
		path := filepath.Join(dir, store.FileName)
		rep, err := store.Examine(path)
		if err != nil || rep.Fault != nil || rep.OneHeader || len(rep.Damaged) > 0 {
			t.Fatalf("kill %d: the file is damaged: %v %+v", kill, err, rep)
		}
		st, err := store.Open(store.Options{Folder: dir})
		if err != nil {
			t.Fatalf("kill %d: %v", kill, err)
		}
		infos, err := st.Jobs()
		if err != nil || len(infos) != 1 {
			t.Fatalf("kill %d: %d jobs, %v", kill, len(infos), err)
		}
		rec, err := st.Load(infos[0].ID)
		if err != nil || rec.Lost > 0 {
			t.Fatalf("kill %d: %v, %d versions lost", kill, err, rec.Lost)
		}
		st.Close()
		has := -1
		if _, err := fmt.Sscanf(rec.Log.Job().Name, "edit %d", &has); err != nil {
			has = 0
		}
		edits += len(done)
		var oldest time.Duration
		for _, e := range done {
			if e.n > has {
				lost++
				oldest = max(oldest, at.Sub(e.at))
			}
		}
		worst = max(worst, oldest)
		if oldest > time.Second {
			over++
			if *strict {
				t.Errorf("kill %d cost what was done %s before", kill, oldest)
			}
		}
		// What was there at the start is there in any case.
		if has < began {
			t.Errorf("kill %d: the job is at %q, it was at edit %d when it was opened", kill, rec.Log.Job().Name, began)
		}
	}
	t.Logf("figures: kills=%d edits=%d lost_edits=%d over_a_second=%d max_oldest_lost_ms=%d", *killsFlag, edits, lost, over, worst.Milliseconds())
}

package session_test

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"runtime"
	"testing"
	"time"

	"slipseat/app/edit"
	"slipseat/app/edit/edittest"
	"slipseat/app/job"
	"slipseat/app/session"
	"slipseat/app/session/sessiontest"
	"slipseat/app/store/storetest"
	"slipseat/app/words"
	"slipseat/assets"
)

var editsFlag = flag.Int("edits", 400, "how many edits the trial of memory makes in one process")

// TestMemoryIsFlat edits on and on in one process, with saves, undo and
// restarts of the job. Once the history is full, neither memory nor goroutines
// grow any more.
func TestMemoryIsFlat(t *testing.T) {
	w, err := words.New(assets.WordsEN)
	if err != nil {
		t.Fatal(err)
	}
	st, run := storetest.Open(t), sessiontest.NewRunner()
	r := rand.New(rand.NewPCG(*seedFlag, 41))
	s := session.New(session.Options{Store: st, Runner: run, Random: edittest.Bytes(r), Words: w})
	s.NewJob(job.UnitsInches)
	s.StopSearch()
	measure := func() (heap uint64, goroutines int) {
		runtime.GC()
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc, runtime.NumGoroutine()
	}
	var heaps []uint64
	var first int
	warm := min(*editsFlag/2, 1000)
	for n := range *editsFlag {
		switch c := edittest.Command(r, s.Job()); {
		case n%50 == 49:
			id := s.Job().ID
			s.CloseJob()
			s.OpenJob(id)
		case n%7 == 6:
			s.Undo()
		default:
			next, faults := c.Apply(s.Job())
			if len(faults) > 0 || len(next.Seats) > 3 || len(next.Cloths) > 4 || len(next.Foams) > 3 || chairs(next) > 12 {
				c = edit.Set{Object: s.Job().ID, Field: "name", Text: fmt.Sprint("edit ", n)}
			}
			s.Do(c)
		}
		run.Advance(time.Duration(r.IntN(400)) * time.Millisecond)
		if n >= warm && (n-warm)%max(1, (*editsFlag-warm)/8) == 0 {
			heap, g := measure()
			heaps = append(heaps, heap)
			if first == 0 {
				first = g
			} else if g > first+2 {
				t.Errorf("after %d edits there are %d goroutines, %d before", n, g, first)
			}
		}
	}
	// The later half must not need more than the earlier, but for the jobs
	// being larger or smaller by chance.
	half := len(heaps) / 2
	var early, late uint64
	for i, h := range heaps {
		if i < half {
			early = max(early, h)
		} else {
			late = max(late, h)
		}
	}
	t.Logf("figures: edits=%d max_heap_early_kib=%d max_heap_late_kib=%d max_goroutines=%d", *editsFlag, early>>10, late>>10, first)
	if *editsFlag >= 2000 && late > early+early/4+(4<<20) {
		t.Errorf("the heap grows: %d KiB early, %d KiB late (%v)", early>>10, late>>10, heaps)
	}
}

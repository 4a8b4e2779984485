package store_test

import (
	"bytes"
	"flag"
	"math/rand/v2"
	"testing"
	"time"

	"slipseat/app/edit"
	"slipseat/app/edit/edittest"
	"slipseat/app/job"
	"slipseat/app/store/storetest"
)

var sequences = flag.Int("sequences", 3, "how many random sequences of commands are played")

// TestCommands plays random sequences of commands, undo, redo and restarts
// beside the simplest model there is: a list of files and a place in it. Undo
// to the end gives the first, redo the last, what is loaded is what was saved,
// and every state is written and read back the same.
func TestCommands(t *testing.T) {
	commands, refused, restarts := 0, 0, 0
	for n := range *sequences {
		st := storetest.Open(t)
		seed := *seedFlag*1_000_003 + uint64(n)
		r := rand.New(rand.NewPCG(seed, 29))
		j := edittest.Job(r, 3)
		h := edit.NewHistory(j, edit.Label{Code: "new"}, st.Now())
		model, at := [][]byte{job.Encode(j)}, 0
		compare := func(what string) {
			t.Helper()
			got := job.Encode(h.Job())
			if !bytes.Equal(got, model[at]) {
				t.Fatalf("seed %d: after %s the job is another", seed, what)
			}
			back, err := job.Decode(got)
			if err != nil || !bytes.Equal(job.Encode(back), got) {
				t.Fatalf("seed %d: after %s the job does not read back: %v", seed, what, err)
			}
		}
		for range 60 {
			switch what := r.IntN(10); {
			case what < 6:
				before := job.Encode(h.Job())
				c := edittest.Command(r, h.Job())
				next, faults := c.Apply(h.Job())
				commands++
				if len(faults) > 0 {
					refused++
					if !bytes.Equal(job.Encode(next), before) {
						t.Fatalf("seed %d: a refused command changed the job: %v", seed, faults)
					}
				} else if h.Commit(c.Label(h.Job()), next, st.Now()) {
					model, at = append(model[:at+1], job.Encode(next)), at+1
					if len(model) > edit.MaxEntries {
						model, at = model[1:], at-1
					}
				}
				if again := job.Encode(h.Job()); len(faults) > 0 && !bytes.Equal(again, before) {
					t.Fatalf("seed %d: Apply changed its argument", seed)
				}
				compare("a command")
			case what == 6:
				if h.Undo() != (at > 0) {
					t.Fatalf("seed %d: undo at %d of %d", seed, at, len(model))
				}
				at = max(0, at-1)
				compare("undo")
			case what == 7:
				if h.Redo() != (at < len(model)-1) {
					t.Fatalf("seed %d: redo at %d of %d", seed, at, len(model))
				}
				at = min(len(model)-1, at+1)
				compare("redo")
			case what == 8:
				st.Advance(time.Duration(r.IntN(100)-20) * time.Minute) // also backwards
			default:
				restarts++
				must(t, st.Save(record(h, st.Now())))
				st.Reopen()
				rec, err := st.Load(j.ID)
				must(t, err)
				if err := same(rec.Log, h.Log()); err != nil {
					t.Fatalf("seed %d: loaded another than saved: %v", seed, err)
				}
				h, _ = edit.Resume(rec.Log)
				compare("a restart")
			}
		}
		for h.Undo() {
		}
		at = 0
		compare("undoing all")
		for h.Redo() {
		}
		at = len(model) - 1
		compare("redoing all")
	}
	t.Logf("figures: sequences=%d commands=%d refused=%d restarts=%d", *sequences, commands, refused, restarts)
	if refused == 0 || restarts == 0 {
		t.Error("a kind of step never came: the trial is too tame")
	}
}

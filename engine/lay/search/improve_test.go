package search

import (
	"context"
	"math/rand/v2"
	"testing"
	"time"

	"slipseat/engine/lay"
)

// TestImproveIsValidAndNeverLonger on problems with every rule there is.
func TestImproveIsValidAndNeverLonger(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 11))
	better := 0
	for range 40 {
		p := randomProblem(r, 14)
		start, faults := First(p)
		if len(faults) > 0 {
			continue
		}
		var seen []lay.Lay
		l := Improve(context.Background(), p, start, Options{Seed: 5, Evaluations: 60_000, Workers: 2, Report: func(l lay.Lay) { seen = append(seen, l) }})
		for _, l := range append(seen, l) {
			if f := lay.Check(p, l); len(f) > 0 {
				t.Fatalf("seed %d: %v\n%+v", *seed, f, p)
			}
		}
		a, b := scoreOf(p, start), scoreOf(p, l)
		if a.Less(b) {
			t.Fatalf("seed %d: got %+v from %+v", *seed, b, a)
		}
		if b.Less(a) {
			better++
			if n := len(seen); n == 0 || seen[n-1].Length != l.Length {
				t.Errorf("the best lay was not reported")
			}
		}
	}
	if better < 4 {
		t.Errorf("only %d of 40 lays became shorter", better)
	}
}

// TestImproveSameLay: the same lay at any number of workers, and again.
func TestImproveSameLay(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 12))
	for range 6 {
		p := randomProblem(r, 20)
		start, faults := First(p)
		if len(faults) > 0 {
			continue
		}
		var first lay.Lay
		for i, workers := range []int{1, 2, 3, 8, 1} {
			l := Improve(context.Background(), p, start, Options{Seed: 5, Evaluations: 500_000, Workers: workers})
			if i == 0 {
				first = l
				continue
			}
			if l.Length != first.Length || l.Evaluations != first.Evaluations || len(l.Places) != len(first.Places) {
				t.Fatalf("%d workers: %v after %d, one worker %v after %d", workers, l.Length, l.Evaluations, first.Length, first.Evaluations)
			}
			for j := range l.Places {
				if l.Places[j] != first.Places[j] {
					t.Fatalf("%d workers: place %d is %v, with one worker %v", workers, j, l.Places[j], first.Places[j])
				}
			}
		}
	}
}

// TestImproveStops when it is told to, with a valid lay.
func TestImproveStops(t *testing.T) {
	p := sixty()
	start, _ := First(p)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if l := Improve(ctx, p, start, Options{Seed: 1}); l.Length != start.Length {
		t.Error("a cancelled search changed the lay")
	}
	ctx, cancel = context.WithTimeout(context.Background(), 100*time.Millisecond)
	defer cancel()
	began := time.Now()
	l := Improve(ctx, p, start, Options{Seed: 1, Workers: 2})
	if d := time.Since(began); d > 2*time.Second {
		t.Errorf("stopped after %v", d)
	}
	if f := lay.Check(p, l); len(f) > 0 {
		t.Error(f)
	}
}

// TestImproveWithoutALay gives back what it was given.
func TestImproveWithoutALay(t *testing.T) {
	p := lay.Problem{Kinds: []lay.Kind{blank(1500, 1600, 1, lay.AnyTurn)}, Bins: []lay.Bin{roll(1400)}}
	if l := Improve(context.Background(), p, lay.Lay{}, Options{Evaluations: 1000}); len(l.Places) != 0 {
		t.Errorf("got %v", l)
	}
	if l := Improve(context.Background(), lay.Problem{}, lay.Lay{}, Options{}); len(l.Places) != 0 {
		t.Errorf("got %v", l)
	}
}

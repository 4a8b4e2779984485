package separate

import (
	"context"
	"reflect"
	"testing"
	"time"

	"slipseat/engine/geom"
	"slipseat/engine/lay"
	"slipseat/engine/unit"
)

// strict takes a lay into a fresh state and demands that it is complete and
// free of overlap to the grid unit.
func strict(t *testing.T, p lay.Problem, l lay.Lay) {
	t.Helper()
	s := newState(newModel(p, 1))
	if !s.take(l) {
		t.Fatal("the lay is not complete or not legal")
	}
	if got := unit.Length(fromGrid(s.used())); got != l.Length {
		t.Fatalf("length: got %v, want %v", l.Length, got)
	}
}

func TestImproveSameLayAtAnyNumberOfWorkers(t *testing.T) {
	_, p := readInstance(t, "shapes0")
	var want lay.Lay
	for _, w := range []int{1, 2, 3, 8} {
		n := 0
		got := Improve(context.Background(), p, lay.Lay{}, Options{Seed: 5, Evaluations: 800_000, Workers: w, Report: func(l lay.Lay) {
			strict(t, p, l)
			n++
		}})
		strict(t, p, got)
		if w == 1 {
			want = got
			if n < 2 {
				t.Errorf("reports: got %d, want several", n)
			}
		} else if !reflect.DeepEqual(got, want) {
			t.Errorf("%d workers: length %v, want %v as with 1", w, got.Length, want.Length)
		}
	}
}

func TestImproveStopsWithItsContext(t *testing.T) {
	_, p := readInstance(t, "shirts")
	ctx, cancel := context.WithCancel(context.Background())
	var at time.Time
	got := Improve(ctx, p, lay.Lay{}, Options{Seed: 1, Workers: 2, Report: func(lay.Lay) {
		if at.IsZero() {
			at = time.Now()
			time.AfterFunc(20*time.Millisecond, cancel)
		}
	}})
	if d := time.Since(at); d > time.Second {
		t.Errorf("stopped %v after the first lay, want soon", d)
	}
	strict(t, p, got)
}

// Twelve squares of 100 mm on a roll of 400 mm: three columns of four touch
// exactly.
func TestSquaresTouch(t *testing.T) {
	p := lay.Problem{Bins: []lay.Bin{{Width: 400, Sheets: 1}}, Kinds: []lay.Kind{{
		Shape: geom.Polygon{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 100}, {X: 0, Y: 100}}, Count: 12, Turns: lay.OneWay,
	}}}
	got := Improve(context.Background(), p, lay.Lay{}, Options{Seed: 1, Evaluations: 200_000, Workers: 1})
	strict(t, p, got)
	if got.Length != 300 {
		t.Errorf("length: got %v, want 300", got.Length)
	}
}

// Ten trapezoids 55 cm long, 60 cm narrowing to 52 across, on 116 cm: head to
// tail two of them fill the width exactly, 60 + 60 − 4 cm, and five such rows
// are the shortest possible since no three pass one line across.
func TestTrapezoidsInterlockAtOnce(t *testing.T) {
	p := lay.Problem{Bins: []lay.Bin{{Width: 1160, Sheets: 1}}, Kinds: []lay.Kind{{
		Shape: geom.Polygon{{X: 0, Y: 0}, {X: 550, Y: 40}, {X: 550, Y: 560}, {X: 0, Y: 600}}, Count: 10, Turns: lay.EitherWay,
	}}}
	var first unit.Length
	got := Improve(context.Background(), p, lay.Lay{}, Options{Seed: 1, Evaluations: 200_000, Workers: 1, Report: func(l lay.Lay) {
		if first == 0 {
			first = l.Length
		}
	}})
	strict(t, p, got)
	if first != 2750 || got.Length != 2750 {
		t.Errorf("length: got %v, then %v, want 2750", first, got.Length)
	}
}

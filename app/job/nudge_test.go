package job_test

import (
	"testing"

	"slipseat/app/job"
	"slipseat/engine/unit"
)

func TestNudged(t *testing.T) {
	for _, c := range []struct {
		step  job.Step
		from  unit.Length
		steps int
		want  unit.Length
	}{
		{"1/16 in", 18.5 * unit.In, 1, 18.5625 * unit.In},
		{"1/16 in", 18.5 * unit.In, -8, 18 * unit.In},
		{"1/16 in", 18.52 * unit.In, 1, 18.5625 * unit.In}, // from off the step onto the next
		{"1 mm", 445 * unit.MM, 8, 453 * unit.MM},
		{"1 mm", 2 * unit.MM, -8, 0}, // never below nothing
	} {
		got := job.Job{Step: c.step}.Nudged(c.from, c.steps)
		if d := got - c.want; d > 1e-9 || d < -1e-9 {
			t.Errorf("%v in steps of %s by %d: got %v mm, want %v mm", c.from, c.step, c.steps, got, c.want)
		}
	}
}

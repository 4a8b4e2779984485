//go:build cgo

package chain

import (
	"fmt"
	"math/rand/v2"

	"slipseat/app/edit"
	"slipseat/app/edit/edittest"
	"slipseat/app/job"
)

// randomJob is a job that could be somebody's: sizes of chairs, one to four
// kinds, plain and patterned cloths, foam in sheets. Every third one is then
// changed at random, so that much in it does not go together.
func randomJob(r *rand.Rand) job.Job {
	units := []job.Units{job.UnitsInches, job.UnitsDecimal, job.UnitsCM, job.UnitsMM}[r.IntN(4)]
	j := job.New(edittest.Bytes(r), edittest.Names, units)
	for range r.IntN(4) {
		j = apply(j, edit.AddSeat{Seat: job.NewSeat(job.NewID(edittest.Bytes(r)), j, "Chair")})
	}
	set := func(object job.ID, field string, format string, args ...any) {
		j = apply(j, edit.Set{Object: object, Field: field, Text: fmt.Sprintf(format, args...)})
	}
	between := func(a, b int) int { return a + r.IntN(b-a+1) }
	maybe := func(n int) bool { return r.IntN(n) == 0 }
	for _, s := range j.Seats {
		front := between(330, 560)
		set(s.ID, "outline.front_width", "%d mm", front)
		set(s.ID, "outline.back_width", "%d mm", front-between(0, 90))
		set(s.ID, "outline.depth", "%d mm", between(330, 500))
		set(s.ID, "outline.front_bow", "%d mm", between(0, 30))
		if maybe(2) {
			set(s.ID, "outline.front_radius", "%d mm", between(5, 60))
		}
		if maybe(3) {
			set(s.ID, "outline.notch_width", "%d mm", between(20, 45))
			set(s.ID, "outline.notch_depth", "%d mm", between(20, 45))
		}
		if maybe(6) {
			set(s.ID, "outline.from", "round")
			set(s.ID, "outline.front_width", "%d mm", between(300, 450))
			set(s.ID, "outline.depth", "%d mm", between(300, 450))
		}
		set(s.ID, "kind", "%s", job.SeatKind("").Choices()[r.IntN(4)])
		set(s.ID, "count", "%d", between(1, 8))
		if maybe(2) {
			set(s.ID, "build_up.cut_as", "%s", job.CutAs("").Choices()[r.IntN(2)])
		}
	}
	for _, c := range j.Cloths {
		set(c.ID, "width", "%d mm", between(1100, 1500))
		if maybe(2) {
			set(c.ID, "repeat_along", "%d mm", between(40, 640))
			set(c.ID, "repeat_across", "%d mm", between(40, 640))
			set(c.ID, "drop", "%s", job.Drop("").Choices()[r.IntN(3)])
			for _, f := range []string{"rule_along", "rule_across"} {
				set(c.ID, f, "%s", job.PhaseRule("").Choices()[r.IntN(3)])
			}
			if maybe(2) {
				set(c.ID, "first_along", "%d mm", between(0, 600))
				set(c.ID, "first_across", "%d mm", between(0, 600))
			}
		}
		set(c.ID, "direction", "%s", job.Direction("").Choices()[r.IntN(3)])
		set(c.ID, "lay_direction", "%s", job.Lie("").Choices()[r.IntN(4)])
		set(c.ID, "gap", "%d mm", between(0, 6))
		set(c.ID, "price", "%d.%02d", between(5, 90), between(0, 99))
		if maybe(4) {
			set(c.ID, "rows_only", "true")
		}
		if maybe(4) {
			at := between(0, 2000)
			j = apply(j, edit.SetFlaws{Cloth: c.ID, Flaws: []job.Flaw{{ID: job.NewID(edittest.Bytes(r)), From: mm(at), To: mm(at + between(5, 80)), Near: mm(between(0, 300)), Far: mm(between(301, 700))}}})
		}
	}
	for _, f := range j.Foams {
		set(f.ID, "sheet_length", "%d mm", between(1500, 2100))
		set(f.ID, "sheet_width", "%d mm", between(800, 1400))
		set(f.ID, "thickness", "%d mm", between(10, 80))
		set(f.ID, "saw_cut", "%d mm", between(0, 4))
	}
	if r.IntN(3) == 0 {
		for range 8 {
			c := edittest.Command(r, j)
			if next, faults := c.Apply(j); len(faults) == 0 && chairs(next) < 40 {
				j = next
			}
		}
	}
	return j
}

func mm(n int) job.Measure { return job.Measure(fmt.Sprintf("%d mm", n)) }

func chairs(j job.Job) int {
	n := 0
	for _, s := range j.Seats {
		n += s.Count
	}
	return n
}

func apply(j job.Job, c edit.Command) job.Job {
	next, _ := c.Apply(j)
	return next
}

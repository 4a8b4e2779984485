package edit

import (
	"slipseat/app/job"
	"slipseat/engine/unit"
)

// BringBack makes the job again what it was at some time.
type BringBack struct {
	To   job.Job
	Time string // for the label
}

// Label names the time.
func (c BringBack) Label(job.Job) Label { return label("bring-back", unit.A("time", c.Time)) }

// Apply gives the job as it was; another job is refused.
func (c BringBack) Apply(j job.Job) (job.Job, []unit.Fault) {
	if c.To.ID != j.ID {
		return gone(j)
	}
	return formed(j, c.To)
}

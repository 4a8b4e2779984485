package session

import (
	"strconv"

	"slipseat/app/store"
	"slipseat/app/words"
	"slipseat/engine/unit"
)

// HealthLines says in words what a file of jobs was found to hold and what was
// or would be recovered, one line for each thing.
func HealthLines(w *words.Words, h store.Health) []string {
	if h.Whole() {
		return []string{w.Label("store.whole-file", unit.A("path", h.Path), unit.A("jobs", len(h.Jobs)))}
	}
	lines := []string{w.Label("store.damaged-file", unit.A("path", h.Path))}
	if f := h.Report.Fault; f != nil {
		for _, a := range f.Args {
			if a.Name == "detail" {
				lines = append(lines, w.Label("store.found", a))
			}
		}
	}
	if n := len(h.Report.Damaged); n > 0 {
		lines = append(lines, w.Label("store.damaged-values", unit.A("values", n)))
	}
	for _, j := range h.Jobs {
		if j.Outcome != store.Whole {
			lines = append(lines, JobLine(w, j))
		}
	}
	if n := h.Count(store.Whole); n > 0 {
		lines = append(lines, w.Label("store.jobs-whole", unit.A("jobs", n)))
	}
	if h.Other > 0 {
		lines = append(lines, w.Label("store.other", unit.A("lost", h.Other), unit.A("back", strconv.Itoa(h.OtherBack))))
	}
	if len(h.Backups) == 0 {
		lines = append(lines, w.Label("store.no-backups"))
	}
	if h.SetAside != "" {
		lines = append(lines, w.Label("store.set-aside", unit.A("path", h.SetAside)))
	}
	return lines
}

// JobLine says what became of one job.
func JobLine(w *words.Words, j store.JobOutcome) string {
	name := j.Info.Name
	if name == "" {
		name = w.Label("store.unnamed", unit.A("id", string(j.Info.ID)))
	}
	at := ""
	if !j.Backup.IsZero() {
		at = j.Backup.Local().Format("2006-01-02 15:04")
	}
	args := []unit.Arg{unit.A("name", name), unit.A("versions", j.Versions), unit.A("time", at)}
	switch {
	case j.Outcome == store.FromBackup:
		return w.Label("store.job-backup", args...)
	case j.Outcome == store.Lost:
		return w.Label("store.job-lost", args...)
	case j.Outcome == store.Partly && j.Versions > 0:
		return w.Label("store.job-versions", args...)
	case j.Outcome == store.Partly:
		return w.Label("store.job-partly", args...)
	}
	return w.Label("store.job-whole", args...)
}
